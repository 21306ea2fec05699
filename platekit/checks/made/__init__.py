"""The family "made": can it be cut as drawn."""

from platekit.checks.check import Check
from platekit.checks.made.drawn import DRAWN

CHECKS: tuple[Check, ...] = DRAWN
