"""Threads that engage too little have a check of their own: named, explained, left out."""

from __future__ import annotations

import pytest

from platekit.checks.check import FAMILIES
from platekit.checks.examine import CHECKS
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from tests.recipes.builds import recipe


def test_a_short_thread_is_told_under_its_own_name():
    """The motor stand's M6 screws in aluminium: 10.4 mm of the 12 handbooks ask for, two diameters.

    Rule of thumb of workshop handbooks for class 8.8, from memory. By hand: 30 mm of screw (ISO
    4762) less a washer of 1.6 (ISO 7089) and three layers of 6.
    """
    report = draw_up(recipe("motor_stand"), Options())
    (short,) = [one for one in report.findings if "engaged in" in one.measure]
    assert short.check == "made.thread"
    assert short.value == pytest.approx(30 - 1.6 - 3 * 6)
    assert short.limit == 2 * 6.0
    (check,) = [one for one in CHECKS if one.name == short.check]
    assert check.family in FAMILIES
    without = draw_up(recipe("motor_stand"), Options(skip=("made.thread",)))
    assert not [one for one in without.findings if "engaged in" in one.measure]
