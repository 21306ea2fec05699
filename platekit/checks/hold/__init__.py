"""The family "hold"."""

from platekit.checks.check import Check
from platekit.checks.hold import joints, plates, screws

CHECKS: tuple[Check, ...] = (screws.CHECK, joints.CHECK, plates.CHECK)
