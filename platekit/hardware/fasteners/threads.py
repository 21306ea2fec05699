"""Metric screw threads of the coarse series."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.handbook import Catalogue, Row, read


@dataclass(frozen=True, slots=True, kw_only=True)
class Thread:
    """One thread of the coarse series.

    Attributes:
        thread: "M5".
        nominal_mm: Outside diameter of the screw, mm.
        pitch_mm: From one turn to the next, mm, ISO 261.
        stress_area_mm2: Area that carries tension, mm2, ISO 898-1.
        tapping_drill_mm: Drill before the tap, mm, ISO 2306.
        source: Where the figures come from.
    """

    thread: str
    nominal_mm: float
    pitch_mm: float
    stress_area_mm2: float
    tapping_drill_mm: float
    source: str


def _thread(row: Row) -> Thread:
    return Thread(
        thread=row.text("thread"),
        nominal_mm=row.length_mm("nominal_mm"),
        pitch_mm=row.length_mm("pitch_mm"),
        stress_area_mm2=row.positive("stress_area_mm2"),
        tapping_drill_mm=row.length_mm("tapping_drill_mm"),
        source=row.source,
    )


@cache
def _threads() -> Catalogue[Thread]:
    rows = read("platekit.hardware", "tables/threads.csv")
    return Catalogue.of("thread", map(_thread, rows), name=lambda entry: entry.thread)


def metric_thread(thread: str) -> Thread:
    """Return a thread of the coarse series: ``metric_thread("M5")``.

    Raises:
        UnknownNameError: The table has no such thread; the message lists those it has.
    """
    return _threads()[thread]


def known_threads() -> tuple[str, ...]:
    """Return the threads of the table, rising."""
    return tuple(_threads())
