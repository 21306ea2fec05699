"""The family "hold"."""

from platekit.checks.check import Check
from platekit.checks.hold import (
    adapters,
    bearings,
    edges,
    grips,
    held,
    joints,
    laminates,
    motors,
    plates,
    screws,
    shafts,
    torques,
)

CHECKS: tuple[Check, ...] = (
    screws.CHECK,
    edges.EDGE_CHECK,
    edges.NET_CHECK,
    joints.CHECK,
    plates.CHECK,
    laminates.CHECK,
    torques.CHECK,
    held.CHECK,
    grips.CHECK,
    adapters.CHECK,
    shafts.CHECK,
    bearings.CHECK,
    motors.CHECK,
)
