"""Shapes in JSON: an outline and its holes as rings of points."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NoReturn

from platekit.geometry.chains import Contour, closed_polyline
from platekit.geometry.faults import Fault, Rule, find_faults
from platekit.geometry.points import Pair, near
from platekit.geometry.profile import Profile
from platekit.nesting.json_entry import SMALLEST_MM, Entry, kind, short


def profile_of(entry: Entry) -> Profile:
    """Return the shape in an entry's fields ``outline`` and ``holes``, which may be absent.

    Raises:
        NestingError: A ring is open, tiny, huge or crosses itself, or holes do not lie apart and
            inside the outline; names the ring.
    """
    outline = _ring(entry, "outline", entry.listed("outline"))
    holes = entry.listed("holes") if entry.says("holes") else []
    rings = [_ring(entry, f"holes[{k}]", hole) for k, hole in enumerate(holes)]
    profile = Profile(outline, tuple(rings))
    faults = find_faults(profile)
    if faults:
        # A crossed ring may enclose nothing as well: the crossing says more.
        _fail_for(entry, min(faults, key=lambda fault: fault.rule is Rule.AREA))
    return profile


def _fail_for(entry: Entry, fault: Fault) -> NoReturn:
    field = "outline" if fault.ring == 0 else f"holes[{fault.ring - 1}]"
    other = ""
    if fault.other is not None:
        other = ", the outline," if fault.other == 0 else f", holes[{fault.other - 1}],"
    entry.fail(
        field,
        f"{fault.rule.value}{other} at ({fault.at.x:g}, {fault.at.y:g})",
        "give rings that go once around one area, holes apart and inside the outline",
    )


def _ring(entry: Entry, field: str, said: object) -> Contour:
    if not isinstance(said, list):
        entry.fail(field, f"is {kind(said)}", "give a list of [x, y] points")
    points: list[Pair] = []
    for k, point in enumerate(said):
        if not isinstance(point, list) or len(point) != 2:
            entry.fail(f"{field}[{k}]", f"is {short(point)}", "give a point [x, y]")
        x, y = (entry.number(f"{field}[{k}]", value) for value in point)
        points.append((x, y))
    ring = _without_doubled(points)
    if len(ring) < 3:
        entry.fail(field, f"has {len(ring)} different points", "give a closed ring of at least 3")
    xs, ys = zip(*ring, strict=True)
    least = min(max(xs) - min(xs), max(ys) - min(ys))
    if least < SMALLEST_MM:
        entry.fail(
            field,
            f"is only {least:.3g} mm across",
            f"give at least {SMALLEST_MM:g} mm: lists are in millimetres",
        )
    return closed_polyline(ring)


def _without_doubled(ring: Sequence[Pair]) -> list[Pair]:
    """Return the ring's points without any that repeats the one before it, the last included."""
    kept: list[Pair] = []
    for point in ring:
        if not kept or not near(kept[-1], point):
            kept.append(point)
    while len(kept) > 1 and near(kept[0], kept[-1]):
        kept.pop()
    return kept
