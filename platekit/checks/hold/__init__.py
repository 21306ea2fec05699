"""The family "hold"."""

from platekit.checks.check import Check
from platekit.checks.hold import edges, joints, laminates, plates, screws

CHECKS: tuple[Check, ...] = (
    screws.CHECK,
    edges.EDGE_CHECK,
    edges.NET_CHECK,
    joints.CHECK,
    plates.CHECK,
    laminates.CHECK,
)
