"""Whole rigs under load: what was designed to hold is passed, one change for the worse is seen."""

from __future__ import annotations

import runpy
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from platekit import birch_plywood, load
from platekit.assembly.loads import Use
from platekit.checks.hold import edges, joints, laminates, plates, screws
from platekit.findings import Severity
from tests.checks.hold.loaded_rigs import subject

RECIPES = Path(__file__).parents[3] / "recipes"
OURS = (
    screws.CHECK,
    edges.EDGE_CHECK,
    edges.NET_CHECK,
    joints.CHECK,
    plates.CHECK,
    laminates.CHECK,
)


@cache
def recipe(name):
    """Return a recipe's function."""
    return runpy.run_path(str(RECIPES / f"{name}.py"))[name]


def bare(name, **changed):
    """Return a recipe's rig without what it says of its use itself."""
    return replace(recipe(name)(**changed), use=Use())


def told(assembly):
    """Return what our checks found, by check."""
    job = subject(assembly)
    return {check.name: list(check.run(job)) for check in OURS}


def rotator(*given, **changed):
    """Return the dish rotator in a gust, and nothing else acting on it."""
    acts = given or (
        load("hub", name="gust", torque_nm=35.0, mass_kg=12.0, radial_n=100.0, at_mm=60.0),
    )
    return bare("dish_rotator", **changed).with_loads(*acts, held=("mast flange",))


def test_the_dish_rotator_stands_a_gust():
    """Every check weighs something, and all of it passes."""
    found = told(rotator())
    assert all(found.values())
    grave = [one for each in found.values() for one in each if one.severity > Severity.NOTE]
    assert grave == []
    assert all(one.margin > 1.0 for each in found.values() for one in each if one.margin)


def test_a_storm_stops_it_and_names_what_breaks_first():
    """Ten times the gust: plates, screws and joints of base and motor plate are named."""
    storm = load("hub", name="storm", torque_nm=350.0, mass_kg=12.0, radial_n=1200.0, at_mm=60.0)
    found = told(rotator(storm))
    stopped = {
        (check, one.part.partition(" + ")[0])
        for check, each in found.items()
        for one in each
        if one.severity is Severity.STOP and "storm" in one.measure
    }
    assert ("hold.screws", "motor plate") in stopped
    assert ("hold.screws", "base") in stopped
    assert ("hold.plate", "base") in stopped


def test_a_thinner_sheet_is_seen():
    """One change, 4 mm for 6 mm: the plates over the bearings no longer do."""
    thin = told(rotator(sheet=birch_plywood(nominal_mm=4.0)))
    grave = {one.part for one in thin["hold.plate"] if one.severity is Severity.STOP}
    assert "head" in grave
    usual = told(rotator())
    for check in ("hold.screws", "hold.joints", "hold.plate"):
        assert min(one.margin for one in thin[check]) < min(one.margin for one in usual[check])


@pytest.mark.parametrize("name", ["belt_turntable", "motor_stand"])
def test_other_rigs_under_a_light_load(name):
    """What a hand gives: nothing to say but what is missing."""
    rig = bare(name).with_loads(load("hub", torque_nm=4.0, mass_kg=2.0, radial_n=20.0))
    found = told(rig)
    assert [one for each in found.values() for one in each if one.severity > Severity.NOTE] == []
    assert len([one for each in found.values() for one in each if one.margin is None]) <= 3


@pytest.mark.parametrize("name", ["belt_turntable", "instrument_case", "rib_table"])
def test_without_loads_all_are_silent(name):
    """A job nobody loads is not weighed."""
    assert not any(told(bare(name)).values())
