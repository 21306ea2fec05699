"""The family "hold"."""

from platekit.checks.check import Check

CHECKS: tuple[Check, ...] = ()
