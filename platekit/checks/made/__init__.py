"""The family "made"."""

from platekit.checks.check import Check

CHECKS: tuple[Check, ...] = ()
