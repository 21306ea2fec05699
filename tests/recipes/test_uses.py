"""Recipes that say how they are used: they bear it as designed, and too much of it is seen."""

from __future__ import annotations

import pytest

from platekit.checks.check import FAMILIES
from platekit.checks.examine import Report
from platekit.findings import Severity
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from tests.recipes.builds import FLAGSHIP, NAMES, assembly, recipe

SERIOUS = (Severity.STOP, Severity.WARNING)
# What acts on the two beside the flagship, which has tests of its own.
ACTING = {"belt_turntable": "hand_n", "motor_stand": "held_nm"}


def report(name: str, **chosen: float) -> Report:
    """Return what the checks say of a recipe with these parameters."""
    given = tuple((parameter, str(value)) for parameter, value in chosen.items())
    return draw_up(recipe(name), Options(chosen=given)).report


def usual(name: str) -> float:
    """Return what the recipe itself takes to act."""
    (value,) = (one.default for one in recipe(name).parameters if one.name == ACTING[name])
    return value


@pytest.fixture(scope="module", params=ACTING)
def designed(request) -> tuple[str, Report]:
    """A recipe and what the checks say of it as it stands."""
    return request.param, report(request.param)


def test_whatever_is_driven_says_its_use():
    """A motor in a rig without loads would leave strength and drive unweighed."""
    driven = [name for name in NAMES if any(one.name == "motor" for one in assembly(name).hardware)]
    assert {*ACTING, FLAGSHIP} <= set(driven)
    for name in driven:
        use = assembly(name).use
        assert use.loads, name
        assert use.held, name
        assert use.drives, name


def test_it_bears_its_use_as_designed(designed):
    """All four questions are asked, nothing says stop or warns, every margin is above 1."""
    name, found = designed
    assert [one for one in found.weighed if one.severity in SERIOUS] == [], name
    for family in FAMILIES:
        assert len(found.of(family)) >= 10, family
        assert found.weakest(family).margin > 1.0


def test_three_times_its_use_is_seen(designed):
    """The drive is named, and its margin is a third, less what friction took.

    Torques of the loads are proportional to what acts (statics), those of the motor stay.
    """
    name, found = designed
    blown = report(name, **{ACTING[name]: 3 * usual(name)})
    was, now = (
        next(one for one in each.weighed if one.measure == "torque for seconds")
        for each in (found, blown)
    )
    assert was.severity is Severity.PASSED
    assert now.severity is Severity.STOP
    assert now.part == was.part == "motor + hub"
    assert was.margin / 3 <= now.margin < was.margin / 2
