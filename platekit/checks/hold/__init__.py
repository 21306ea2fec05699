"""The family "hold"."""

from platekit.checks.check import Check
from platekit.checks.hold import screws

CHECKS: tuple[Check, ...] = (screws.CHECK,)
