"""Webs: how much material a panel keeps between the openings of its joints."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

from platekit.assembly.fitting import Opening
from platekit.findings import Finding, Severity
from platekit.geometry.chains import Contour
from platekit.geometry.distance import distance
from platekit.geometry.points import SAME_POINT_MM
from platekit.panel.feature import Placed
from platekit.panel.plate import Plate

# Openings nearer than this have run into one: there is no web between them.
RUN_TOGETHER_MM = 0.01
# Both sides of such a web are filled by the panels that go in: half of what a web beside an empty
# hole needs (common practice, no source).
WEB_THICKNESSES = 0.5


def web_findings(
    plate: Plate, openings: Sequence[Opening], hardware: Sequence[Placed]
) -> tuple[Finding, ...]:
    """Return a finding for every web between openings of different joints that is too thin.

    Webs beside features are the plate's own to judge; these lie between two joints, or between a
    joint and another's screw slot.
    """
    own = plate.least_web_mm
    stock = plate.sheet
    usual = max(stock.material.least_web_mm, WEB_THICKNESSES * stock.thickness_mm)
    least = usual if own is None else own
    shapes: list[tuple[str, Contour]] = [
        (opening.cession.joint.label, opening.shape) for opening in openings
    ]
    shapes += [(slot.name, cut) for slot in hardware if slot.opens_edge for cut in slot.cuts]
    thinnest: dict[tuple[str, str], float] = {}
    for (name, one), (other_name, other) in combinations(shapes, 2):
        if name == other_name or _far(one, other, least):
            continue
        web = distance(one, other)
        if RUN_TOGETHER_MM < web < least - SAME_POINT_MM:
            pair = (name, other_name)
            thinnest[pair] = min(web, thinnest.get(pair, web))
    source = "common practice, no source" if own is None else "asked for on the plate"
    return tuple(
        Finding(
            severity=Severity.WARNING,
            part=plate.name,
            feature=f"{name} + {other_name}",
            measure="web between the openings of two joints",
            value=round(web, 4),
            limit=least,
            unit="mm",
            source=source,
            remedy="move one of the panels or screws, or give the joints another count",
            check="made.web",
            margin=web / least,
        )
        for (name, other_name), web in thinnest.items()
    )


def _far(one: Contour, other: Contour, within_mm: float) -> bool:
    a, b = one.bounds, other.bounds
    return (
        max(a.left, b.left) - min(a.right, b.right) >= within_mm
        or max(a.bottom, b.bottom) - min(a.top, b.top) >= within_mm
    )
