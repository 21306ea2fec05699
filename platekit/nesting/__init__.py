"""Placing parts on stock sheets: correct first, and proven by exact distances."""

from platekit.nesting.nester import nest
from platekit.nesting.report import report, sheets_report
from platekit.nesting.values import (
    QUARTER_TURNS,
    Nest,
    NestedSheet,
    NestPart,
    Placement,
    Roll,
    Stock,
    Unplaced,
)
from platekit.nesting.verify import Violation, verify

__all__ = [
    "QUARTER_TURNS",
    "Nest",
    "NestPart",
    "NestedSheet",
    "Placement",
    "Roll",
    "Stock",
    "Unplaced",
    "Violation",
    "nest",
    "report",
    "sheets_report",
    "verify",
]
