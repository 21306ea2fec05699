"""Belts in reach: whether a belt's travel takes up how its shafts' distance scatters."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from platekit.assembly.frames import Vector
from platekit.assembly.mounting import Belted, Bolted, Mounted, Standing
from platekit.assembly.mounting.asked import Travel
from platekit.assembly.panels import Panel
from platekit.checks.fit.chains import (
    Joined,
    Size,
    chain,
    position_mm,
    squares,
    stack_of,
    worst_words,
)
from platekit.checks.fit.lines import bearer
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding


def belts_in_reach(subject: Subject, links: Joined) -> Iterator[Finding]:
    """Weigh what is left of every belt's travel against how its shafts' distance scatters.

    Belts whose travel is short as drawn are left out: that was said where they were mounted.

    Args:
        subject: The job.
        links: Which panels are joined to which.
    """
    if subject.whole is None:
        return
    assembly, done = subject.whole
    standing = {one.name: one for one in done.standing}
    panels = {one.name: one for one in done.panels}
    for belt in assembly.hardware:
        if not isinstance(belt, Belted) or not all(name in standing for name in belt.between):
            continue
        one, other = (standing[name] for name in belt.between)
        way = other.frame.origin.plus(one.frame.origin, times=-1.0)
        across = way.plus(one.frame.n, times=-way.dot(one.frame.n))
        travel = _travel_mm(across, _travels(assembly.hardware, (one, other)), panels)
        beyond = across.length - belt.drive.centres_mm
        left = travel / 2 - max(beyond + belt.drive.fitting_mm, belt.drive.tension_mm - beyond)
        if left < 0.0:
            continue
        ends = [
            bearer(end, done.standing, beside=panels[belt.on].frame.origin) for end in (one, other)
        ]
        yield _weighed(belt, ends, links, panels, travel=travel, left=left)


def _weighed(
    belt: Belted,
    ends: list[Standing],
    links: Joined,
    panels: Mapping[str, Panel],
    *,
    travel: float,
    left: float,
) -> Finding:
    # A panel moved on its bolts is joined by nothing and set by hand: only the holes count.
    between = chain(links, ends[0].panel, ends[1].panel) or ()
    sizes = (*between, *(Size(f"hole of {e.name}", position_mm(panels[e.panel])) for e in ends))
    stack = stack_of(dict.fromkeys(sizes, 1.0))
    short = math.sqrt(squares(sizes)) - left
    return weighed(
        "fit.stack",
        part=" + ".join(belt.between),
        feature=belt.name,
        measure="scatter of the shafts' distance",
        value=stack.rss_half_mm,
        most=left,
        unit="mm",
        source="what its travel leaves beyond fitting and tension",
        remedy=f"give {math.ceil(2 * short):g} mm more travel_mm"
        if short > 0
        else "its travel takes that up",
        formula=f"root of the squares of {len(stack.shares)} sizes; {worst_words(stack)}; travel "
        f"{travel:.3g} / 2 leaves {left:.2g}",
        scale=ADVICE,
    )


def _travel_mm(
    across: Vector, travels: Iterable[tuple[str, Travel]], panels: Mapping[str, Panel]
) -> float:
    """Return the greatest travel along the line of the shafts."""
    most = 0.0
    for name, travel in travels:
        if across.length and name in panels:
            along = panels[name].frame.turned_in_plane(travel.along_deg).u
            most = max(most, travel.length_mm * abs(along.dot(across)) / across.length)
    return most


def _travels(
    hardware: Iterable[Mounted | Bolted | Belted], ends: tuple[Standing, Standing]
) -> Iterator[tuple[str, Travel]]:
    """Yield what can be moved of a belt's two ends: themselves, or their panels on bolts."""
    apart = ends[0].panel != ends[1].panel
    carriers = {end.panel for end in ends} if apart else set()
    for one in hardware:
        itself = isinstance(one, Mounted) and any(end.asked is one for end in ends)
        carrier = isinstance(one, Bolted) and one.on in carriers
        if not isinstance(one, Belted) and (itself or carrier):
            yield one.on, one.travel
