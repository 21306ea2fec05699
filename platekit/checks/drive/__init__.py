"""The family "drive"."""

from platekit.checks.check import Check

CHECKS: tuple[Check, ...] = ()
