"""Threads that engage too little have a check of their own: named, explained, left out."""

from __future__ import annotations

from platekit.checks.check import FAMILIES
from platekit.checks.examine import CHECKS
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from tests.recipes.builds import FLAGSHIP, recipe


def test_a_short_thread_is_told_under_its_own_name():
    """The rotator's M3 screws in aluminium: 5.5 mm of the 6 that handbooks ask for, two diameters.

    Rule of thumb of workshop handbooks for class 8.8, from memory.
    """
    report = draw_up(recipe(FLAGSHIP), Options())
    (short,) = [one for one in report.findings if "engaged in" in one.measure]
    assert short.check == "made.thread"
    assert (short.value, short.limit) == (5.5, 2 * 3.0)
    (check,) = [one for one in CHECKS if one.name == short.check]
    assert check.family in FAMILIES
    without = draw_up(recipe(FLAGSHIP), Options(skip=("made.thread",)))
    assert not [one for one in without.findings if "engaged in" in one.measure]
