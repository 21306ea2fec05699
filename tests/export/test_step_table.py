"""The steps as a table: what a builder reads at the bench, line by line."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

from platekit.export.build_assembly import AssemblyRecord, FastenerRecord, JointRecord, StepRecord
from platekit.export.step_table import COLUMNS, steps_csv

DOWN, LEFT = (0.0, 0.0, -1.0), (-1.0, 0.0, 0.0)


def joint(one: str, other: str, *, kind: str = "fingers", hold: str = "glued") -> JointRecord:
    """Return a joint of which only partners, kind and hold matter here."""
    return JointRecord(
        between=(one, other), kind=kind, hold=hold, clearance_mm=0.0, tabs=3, screws=0, length_mm=90
    )


def screws(place: str, count: int, designation: str) -> tuple[FastenerRecord, ...]:
    """Return numbered screws of one place."""
    return tuple(
        FastenerRecord(name=f"{place} screw {k}", designation=designation, holds=(place,))
        for k in range(1, count + 1)
    )


def rig() -> AssemblyRecord:
    """A base, a hooked pair that goes in as one, a lid with a button held by five screws."""
    held = (*screws("lid", 4, "ISO 4762 M4x16 8.8"), *screws("clip", 1, "ISO 4762 M3x10 8.8"))
    return AssemblyRecord(
        joints=(
            joint("hook", "base"),
            joint("hook", "eye", kind="halving"),
            joint("eye", "base"),
            joint("lid", "base", kind="tabs", hold="slip"),
        ),
        fasteners=held,
        steps=(
            StepRecord(bring_in=("base",), direction="down", way=DOWN),
            StepRecord(bring_in=("hook",), direction="down", way=DOWN, heap="A"),
            StepRecord(bring_in=("eye",), direction="to the left", way=LEFT, heap="A"),
            StepRecord(bring_in=("hook", "eye"), direction="down", way=DOWN, brings="A"),
            StepRecord(
                bring_in=("lid",),
                direction="down",
                way=DOWN,
                fasteners=tuple(one.name for one in held),
                fitted=("stop",),
                belts=("belt",),
            ),
        ),
    )


def lines() -> list[dict[str, str]]:
    """Return the table as the standard library reads it."""
    return list(csv.DictReader(io.StringIO(steps_csv(rig()))))


def test_every_step_has_its_line():
    """One header, one line a step, numbered from 1."""
    found = lines()
    assert tuple(found[0]) == COLUMNS
    assert [line["step"] for line in found] == ["1", "2", "3", "4", "5"]


def test_what_is_first_is_set_down():
    """The first of the rig and of a group move nowhere and join nothing."""
    found = lines()
    assert (found[0]["moves"], found[0]["joins"]) == ("set down", "")
    assert (found[1]["group"], found[1]["moves"], found[1]["joins"]) == ("A", "set down apart", "")


def test_glue_is_said_where_it_closes():
    """Inside the group its own joint; to the base only when the group comes there."""
    found = lines()
    assert found[2]["joins"] == "glued to hook"
    assert found[3]["bring_in"] == "group A: hook, eye"
    assert found[3]["joins"] == "glued to base"
    assert found[4]["joins"] == "tabs, no glue, to base"


def test_screws_are_counted_and_named_by_their_standard():
    """Four of one, one of another; button and belt stand beside."""
    last = lines()[-1]
    assert last["screws"] == "1 ISO 4762 M3x10 8.8; 4 ISO 4762 M4x16 8.8"
    assert (last["already_on_it"], last["belts"]) == ("stop clamped in", "belt")


def test_a_laminate_is_glued_before_it_is_brought_in():
    """Its plates stand beside what was clamped into it."""
    whole = rig()
    lid = replace(whole.steps[-1], layers=("lid lower", "lid upper"))
    text = steps_csv(replace(whole, steps=(*whole.steps[:-1], lid)))
    last = list(csv.DictReader(io.StringIO(text)))[-1]
    assert last["already_on_it"] == "glued of lid lower, lid upper; stop clamped in"
