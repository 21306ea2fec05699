"""The family "fit"."""

from platekit.checks.check import Check

CHECKS: tuple[Check, ...] = ()
