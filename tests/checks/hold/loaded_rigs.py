"""Small rigs that loads are put on, and what the checks say of them."""

from __future__ import annotations

from platekit import (
    Assembly,
    birch_plywood,
    bolt_circle_points,
    box,
    load,
    mounted,
    round_device,
)
from platekit.checks.subject import Subject

PLY = birch_plywood(6.0)


def turret(bolts=6, pcd_mm=60.0, thread="M5", diameter_mm=90.0, **held):
    """Return a round thing with a bolt circle, tapped unless told otherwise."""
    held = held or {"tapped_mm": 12.0}
    return round_device(
        "turret",
        diameter_mm=diameter_mm,
        height_mm=20.0,
        holes=bolt_circle_points(bolts, pcd_mm=pcd_mm),
        thread=thread,
        **held,
    )


def case(device=None, *loads, sheet=PLY, side="up", width_mm=200.0, held=(), **asked):
    """Return an open box with a thing in the middle of its bottom, and loads on that."""
    given = loads or (
        load("turret", torque_nm=20.0, radial_n=100.0, axial_n=50.0, at_mm=50.0, name="push"),
    )
    return (
        box("case", sheet, width_mm=width_mm, depth_mm=150.0, height_mm=100.0)
        .with_hardware(mounted(device or turret(), on="bottom", side=side, name="turret", **asked))
        .with_loads(*given, held=held)
    )


def subject(assembly: Assembly) -> Subject:
    """Return a job of one assembly."""
    return Subject(pieces=(), whole=(assembly, assembly.resolve()))


def weighed(check, assembly):
    """Return the findings of a check that have a margin."""
    return [one for one in check(subject(assembly)) if one.margin is not None]


def least(check, assembly):
    """Return the least margin of a check."""
    return min(one.margin for one in weighed(check, assembly))
