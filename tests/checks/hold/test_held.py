"""Where a rig is held: what is said once where a recipe leaves it out."""

from __future__ import annotations

from dataclasses import replace

from platekit import load
from platekit.assembly.loads import Use
from platekit.checks.hold.held import held
from platekit.checks.subject import Subject
from platekit.findings import Severity
from tests.checks.hold.loaded_rigs import case, subject, turret


def test_a_loaded_rig_that_is_held_nowhere_is_told_once():
    """Two loads, one note, which names the rig and says what to give."""
    loads = load("turret", torque_nm=5, name="one"), load("turret", axial_n=9, name="two")
    (note,) = held(subject(case(turret(), *loads)))
    assert (note.severity, note.part) == (Severity.NOTE, "case")
    assert "base and mounting are not weighed" in note.measure
    assert "held=" in note.remedy


def test_a_held_or_unloaded_rig_is_not_asked():
    """Said by device or by panel; and without loads there is nothing to hold."""
    loads = (load("turret", torque_nm=5),)
    for name in ("turret", "bottom"):
        assert not list(held(subject(case(turret(), *loads, held=name))))
    unloaded = case(turret())
    unloaded = replace(unloaded, use=Use())
    assert not list(held(subject(unloaded)))
    assert not list(held(Subject(pieces=())))
