"""Checks on a plate: nothing off it, nothing over another, no web thinner than asked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import GeometryError, PartError
from platekit.findings import Finding, Severity
from platekit.geometry.chains import Contour
from platekit.geometry.faults import find_crossed, find_faults
from platekit.geometry.gaps import Gap, gaps_between, gaps_within, nested
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.profile import Profile
from platekit.panel.feature import Placed
from platekit.panel.measures import LARGEST_LENGTH_MM

EDGE = ""  # stands for the plate's own edge where features are named


@dataclass(frozen=True, slots=True)
class _Ring:
    """One ring of a plate and whose it is."""

    owner: str
    contour: Contour


def require_outline(outline: Profile) -> None:
    """Raise unless an outline is sound and of a size anyone cuts.

    Raises:
        PartError: It crosses itself, its holes lie astray, or it is absurdly large.
    """
    box = outline.bounds
    largest = max(box.width_mm, box.height_mm)
    if largest > LARGEST_LENGTH_MM:
        raise PartError(
            f"the outline is {box.width_mm:g} x {box.height_mm:g} mm",
            remedy=f"give at most {LARGEST_LENGTH_MM:g} mm, and check the unit",
        )
    try:
        faults = find_faults(outline)
    except GeometryError as err:
        raise PartError(err.problem, remedy=err.remedy) from err
    if faults:
        more = f", and {len(faults) - 1} more" if len(faults) > 1 else ""
        raise PartError(
            f"{faults[0]}{more}",
            remedy="draw the outline so that no side crosses another and holes lie inside it",
        )


def require_clear(edge: Profile, new: Sequence[Placed], before: Sequence[Placed]) -> None:
    """Raise unless every new cut lies inside the plate and apart from every other.

    Raises:
        PartError: One does not; the message names it and what it runs into.
    """
    added = [_Ring(one.name, cut) for one in new if not one.opens_edge for cut in one.cuts]
    if not added:
        return
    cuts = [ring.contour for ring in added]
    _require_simple(added)
    for gap in gaps_between(cuts, edge.rings, within_mm=SAME_POINT_MM):
        raise _across_edge(added[gap.first], edge)
    for ring in added:
        if not edge.contains(ring.contour.start):
            raise _off_plate(ring, edge)
    holes = [*edge.inners]
    for inner, outer in nested([*cuts, *holes]):
        if inner >= len(cuts) and outer < len(cuts):
            raise PartError(
                "lies over an opening of the outline",
                feature=added[outer].owner,
                remedy="move it, make it smaller, or leave it out",
            )
    others = [_Ring(one.name, cut) for one in before if not one.opens_edge for cut in one.cuts]
    _require_apart(added, others)


def _require_simple(rings: Sequence[_Ring]) -> None:
    drawn = [ring for ring in rings if not ring.contour.is_circle]
    if not drawn:
        return
    for fault in find_crossed([ring.contour for ring in drawn]):
        raise PartError(
            f"its cut crosses or touches itself at ({fault.at.x:g}, {fault.at.y:g})",
            feature=drawn[fault.ring].owner,
            remedy="change its sizes",
        )


def _require_apart(added: Sequence[_Ring], others: Sequence[_Ring]) -> None:
    rings = [*added, *others]
    cuts = [ring.contour for ring in rings]
    meeting = gaps_within(cuts[: len(added)], within_mm=SAME_POINT_MM) + tuple(
        Gap(gap.width_mm, gap.first, gap.second + len(added))
        for gap in gaps_between(cuts[: len(added)], cuts[len(added) :], within_mm=SAME_POINT_MM)
    )
    for gap in meeting:
        raise _overlap(rings[gap.first], rings[gap.second])
    for inner, outer in nested(cuts):
        if min(inner, outer) < len(added):
            raise _overlap(*sorted((rings[inner], rings[outer]), key=lambda r: r.owner))


def _overlap(one: _Ring, other: _Ring) -> PartError:
    at = one.contour.bounds.centre
    where = f"at ({at.x:.6g}, {at.y:.6g})"
    if one.owner == other.owner:
        return PartError(
            f"its own cuts touch or overlap {where}",
            feature=one.owner,
            remedy="make them smaller, fewer or further apart",
        )
    return PartError(
        f"touches or overlaps {other.owner!r} {where}",
        feature=one.owner,
        remedy="move one of them or make it smaller",
    )


def _across_edge(ring: _Ring, edge: Profile) -> PartError:
    box, plate = ring.contour.bounds, edge.bounds
    return PartError(
        f"lies across the plate's edge: it spans {_span(box.left, box.right)} by "
        f"{_span(box.bottom, box.top)} mm on a plate of {_span(plate.left, plate.right)} by "
        f"{_span(plate.bottom, plate.top)} mm",
        feature=ring.owner,
        remedy="move it inwards or make it smaller, or use a notch to open the edge on purpose",
    )


def _off_plate(ring: _Ring, edge: Profile) -> PartError:
    at, plate = ring.contour.bounds.centre, edge.bounds
    return PartError(
        f"lies off the plate, at ({at.x:.6g}, {at.y:.6g}) on a plate of "
        f"{_span(plate.left, plate.right)} by {_span(plate.bottom, plate.top)} mm",
        feature=ring.owner,
        remedy="move it onto the material",
    )


def _span(low: float, high: float) -> str:
    return f"{low:.6g}..{high:.6g}"


def thin_webs(
    edge: Profile, features: Sequence[Placed], *, part: str, least_mm: float, source: str
) -> tuple[Finding, ...]:
    """Return a finding for each pair of features, or feature and edge, with too thin a web.

    A feature that states the web it leaves is held to that where it asks for less.
    """
    rings = [_Ring(EDGE, ring) for ring in edge.rings]
    rings += [_Ring(one.name, cut) for one in features if not one.opens_edge for cut in one.cuts]
    stated = {one.name: one.web_mm for one in features if one.web_mm is not None}
    told: set[tuple[str, str]] = set()
    serves = {one.name: one.of for one in features}
    found: list[Finding] = []
    for gap in gaps_within([ring.contour for ring in rings], within_mm=least_mm):
        first, second = sorted((rings[gap.first].owner, rings[gap.second].owner))
        limit = min([least_mm, *(stated[name] for name in (first, second) if name in stated)])
        if gap.width_mm >= limit - SAME_POINT_MM or (first, second) in told:
            continue
        told.add((first, second))
        found.append(
            Finding(
                severity=Severity.WARNING,
                part=part,
                feature=_pair_name((first, second)),
                measure=_pair_measure((first, second)),
                value=gap.width_mm,
                limit=limit,
                unit="mm",
                source=source,
                remedy=_web_remedy(serves.get(first, ""), serves.get(second, "")),
                check="made.web",
                margin=gap.width_mm / limit,
            )
        )
    return tuple(found)


def _web_remedy(first: str, second: str) -> str:
    if first and first == second:
        return (
            "its own pattern sets this: take a thinner sheet, or give least_web_mm= of the plate "
            "if the part lies against the web and carries it"
        )
    return "move them apart, make them smaller, or take a thinner sheet"


def _pair_name(pair: tuple[str, str]) -> str:
    names = [name for name in dict.fromkeys(pair) if name != EDGE]
    return " + ".join(names) or "outline"


def _pair_measure(pair: tuple[str, str]) -> str:
    if pair[0] == EDGE:
        return "web to the edge" if pair[1] != EDGE else "web within the outline"
    return "web within it" if pair[0] == pair[1] else "web between them"


def _company(one: Placed, features: Sequence[Placed]) -> set[str]:
    """Return the names of the features that serve the same bought part, its own among them."""
    return {one.name, *(other.name for other in features if one.of and other.of == one.of)}


def crowded_rooms(edge: Profile, features: Sequence[Placed], *, part: str) -> tuple[Finding, ...]:
    """Return a finding where a cut of one feature enters the room another one needs."""
    cuts = [_Ring(one.name, cut) for one in features if not one.opens_edge for cut in one.cuts]
    company = {one.name: _company(one, features) for one in features}
    found: list[Finding] = []
    for one in features:
        for room in one.rooms:
            others = [ring for ring in cuts if ring.owner not in company[one.name]]
            entered = {
                others[gap.second].owner
                for gap in gaps_between([room], [r.contour for r in others], within_mm=0.0)
            }
            entered |= {r.owner for r in others if room.encloses(r.contour.start)}
            if gaps_between([room], edge.rings, within_mm=0.0):
                entered.add("the edge")
            found += [
                Finding(
                    severity=Severity.WARNING,
                    part=part,
                    feature=f"{one.name} + {name}" if name != "the edge" else one.name,
                    measure=f"room for {one.kind} is not clear of {name}",
                    source="catalogue of the part",
                    remedy="move one of them",
                    check="made.room",
                )
                for name in sorted(entered)
            ]
    return tuple(found)


def stray_marks(profile: Profile, features: Sequence[Placed], *, part: str) -> tuple[Finding, ...]:
    """Return a finding for each feature whose scored marks run off the material or over a cut."""
    owners: list[str] = []
    paths = []
    for one in features:
        for mark in one.marks:
            if mark.layer == "score":
                owners.append(one.name)
                paths.append(mark.path)
    astray = {
        owners[gap.first] for gap in gaps_between(paths, profile.rings, within_mm=SAME_POINT_MM)
    }
    astray |= {
        owner for owner, path in zip(owners, paths, strict=True) if not profile.contains(path.start)
    }
    return tuple(
        Finding(
            severity=Severity.WARNING,
            part=part,
            feature=name,
            measure="a scored mark runs over an edge or a hole",
            remedy="move it, make it smaller, or leave it out",
            check="made.text",
        )
        for name in sorted(astray)
    )


def thick_panels(
    features: Sequence[Placed], *, part: str, thickness_mm: float
) -> tuple[Finding, ...]:
    """Return a finding for each device that cannot clamp a plate of this thickness."""
    return tuple(
        Finding(
            severity=Severity.WARNING,
            part=part,
            feature=one.name,
            measure=f"thickness of the plate that the {one.kind} must clamp",
            value=thickness_mm,
            limit=one.most_panel_mm,
            unit="mm",
            source="table of panel cut-outs",
            remedy="mount it in a thinner plate over a larger hole, or take another device",
            check="made.clamped",
        )
        for one in features
        if one.most_panel_mm is not None and thickness_mm > one.most_panel_mm
    )
