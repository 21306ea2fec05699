"""What the screws of a clamp pull with, and what that holds."""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.checks.hold.turning import Stuff
from platekit.formulas.bolt_preload import standard_preload_n
from platekit.formulas.clamping import clamp_torque_two_lines_nmm
from platekit.hardware import metric_thread, screw

# Steel on metal as it comes: common practice, no source.
FRICTION = 0.15
# ISO 898-1, class 8.8 (from memory); what clamps are sold with.
ULTIMATE_MPA = 800.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Clamped:
    """What a clamp holds.

    Attributes:
        torque_nmm: Torque, on two lines.
        said: How it was worked out, numbers put in.
        by: What keeps it from holding more.
    """

    torque_nmm: float
    said: str
    by: str


def clamped(*, thread: str, screws: int, shaft_mm: float, hub: Stuff | None) -> Clamped:
    """Return what a clamp's screws hold on a shaft.

    Each pulls with 0.7 of what would break it, or with what its head may press into the hub.

    Raises:
        UnknownNameError: There is no such thread.
        PartError: A number cannot be.

    Source:
        EN 1993-1-8 3.9.1 for the pull (from memory); pressure under the head against the hub's
        yield, and friction of 0.15, by common practice, no source.
    """
    full = standard_preload_n(ULTIMATE_MPA, metric_thread(thread).stress_area_mm2)
    pull, by = full, "the pull of its screws"
    if hub is not None:
        sunk = hub.yield_mpa * _head_mm2(thread)
        if sunk < full:
            pull, by = sunk, f"the {hub.solid.name} under the heads of its screws"
    torque = clamp_torque_two_lines_nmm(
        clamp_force_n=screws * pull, friction=FRICTION, shaft_mm=shaft_mm
    )
    said = f"mu n F D = {FRICTION:g} x {screws} x {pull:.0f} N x {shaft_mm:g} mm"
    return Clamped(torque_nmm=torque, said=said, by=by)


def _head_mm2(thread: str) -> float:
    kind = screw(thread)
    return math.pi / 4 * (kind.kind.head_diameter_mm**2 - kind.clearance_mm() ** 2)
