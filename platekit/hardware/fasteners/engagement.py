"""How far a screw must reach into a tapped hole."""

from __future__ import annotations

from functools import cache

from platekit.handbook import Catalogue, Row, read
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.metals import Metal


@cache
def _rules() -> Catalogue[Row]:
    rows = read("platekit.hardware", "tables/thread_engagement.csv")
    return Catalogue.of("metal of a tapped hole", rows, name=lambda row: row.text("metal"))


def engagement_diameters(metal: Metal) -> float:
    """Return the least length of thread in `metal`, in diameters of the screw.

    An estimate: what makes a screw of class 8.8 break before its hole strips. In plastic the
    thread strips first whatever its length; use an insert where it must be undone often.

    Raises:
        UnknownNameError: No rule for such a metal.

    Source:
        Workshop handbooks' rule of thumb, from memory: 1 in steel, 1.5 in brass, 2 in aluminium;
        2.5 in plastic is common practice, no source.
    """
    return _rules()[metal].positive("diameters")


def least_engagement_mm(thread: str, metal: Metal) -> float:
    """Return how much of the thread of ``"M5"`` must sit in a hole tapped in `metal`, mm.

    See `engagement_diameters` for the rule and what it is worth.

    Raises:
        UnknownNameError: No such thread, or no rule for such a metal.
    """
    return engagement_diameters(metal) * metric_thread(thread).nominal_mm
