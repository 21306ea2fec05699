"""Shapes twice over: as profiles for the nesting, as plain shapely polygons for the judge."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely import affinity

from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.profile import Profile
from platekit.nesting import Nest, NestedSheet, NestPart, Placement, Stock, nest

# An inscribed polygon of 1024 sides to a disc of 40 mm misses the true edge by 2e-4 mm.
DISC_ERROR_MM = 2e-4
DISC_QUARTER = 256


@dataclass(frozen=True)
class Shape:
    """A shape as both sides know it."""

    profile: Profile
    polygon: shapely.Polygon
    error_mm: float = 0.0


def polygon(points, holes=()) -> Shape:
    """Return the shape of straight edges."""
    rings = tuple(closed_polyline(hole) for hole in holes)
    return Shape(Profile(closed_polyline(points), rings), shapely.Polygon(points, holes))


def rectangle(width, height, *, at=(0.0, 0.0)) -> Shape:
    """Return a rectangle with its lower left corner at `at`."""
    x, y = at
    return polygon([(x, y), (x + width, y), (x + width, y + height), (x, y + height)])


def angle_piece(width, height, web) -> Shape:
    """Return an L."""
    return polygon([(0, 0), (width, 0), (width, web), (web, web), (web, height), (0, height)])


def disc(diameter, *, at=(0.0, 0.0)) -> Shape:
    """Return a disc."""
    return Shape(
        Profile(circle(at, diameter_mm=diameter)),
        shapely.Point(at).buffer(diameter / 2, quad_segs=DISC_QUARTER),
        DISC_ERROR_MM,
    )


def ring(outer, inner) -> Shape:
    """Return a ring about the origin."""
    return Shape(
        Profile(circle((0, 0), diameter_mm=outer), (circle((0, 0), diameter_mm=inner),)),
        disc(outer).polygon.difference(disc(inner).polygon),
        DISC_ERROR_MM,
    )


def offcut(shape: Shape, name: str, *, count: int | None = 1) -> tuple[Stock, Shape]:
    """Return an offcut as stock, and its shape moved to where that has it."""
    left, bottom, *_ = shape.polygon.bounds
    moved = affinity.translate(shape.polygon, -left, -bottom)
    return Stock.of_shape(shape.profile, count=count, name=name), replace(shape, polygon=moved)


def faults(
    nest: Nest, wanted: list[tuple[NestPart, Shape]], *, gap_mm, margin_mm, offcuts=()
) -> list[str]:
    """Return what is wrong with a nesting, judged by shapely alone from the contract's words.

    A placed outline is the given one, mirrored in its y axis where so said, turned
    counter-clockwise about its own origin, then moved.
    `offcuts` are the odd ones as `offcut` returns them.
    """
    shapes = {part.name: (part, shape) for part, shape in wanted}
    found = []
    seen = Counter((entry.part, entry.copy) for entry in nest.unplaced)
    for sheet in nest.sheets:
        room = shapely.box(0, 0, sheet.width_mm, sheet.height_mm).buffer(
            -margin_mm + 1e-5, join_style="mitre"
        )
        laid = []
        for place in sheet.placements:
            seen[place.part, place.copy] += 1
            part, shape = shapes[place.part]
            found.extend(_unlike(place, part, sheet))
            found.extend(_forbidden(place, part, sheet))
            moved = _moved(shape.polygon, place)
            if not room.covers(moved):
                found.append(f"{place}: off the sheet")
            for ground in (shape for stock, shape in offcuts if stock.name == str(sheet.stock)):
                slack = 1e-5 + ground.error_mm + shape.error_mm
                if not ground.polygon.buffer(slack).covers(moved):
                    found.append(f"{place}: off the offcut")
                if moved.distance(ground.polygon.boundary) < margin_mm - slack:
                    found.append(f"{place}: too near the offcut's edge")
            laid.append((place, moved, shape.error_mm))
        for k, (place, moved, error) in enumerate(laid):
            for other_place, other, other_error in laid[:k]:
                slack = 1e-5 + error + other_error
                if moved.intersection(other).area > slack * moved.length:
                    found.append(f"{place} lies on {other_place}")
                if moved.distance(other) < gap_mm - slack:
                    found.append(f"{place} too near {other_place}")
    expected = {(p.name, k) for p, _ in wanted for k in range(1, p.quantity + 1)}
    if set(seen) != expected or any(count != 1 for count in seen.values()):
        found.append(f"copies do not add up: {seen} for {sorted(expected)}")
    found.extend(_parted(nest, [part for part, _ in wanted]))
    return found


def _moved(polygon: shapely.Polygon, place: Placement) -> shapely.Polygon:
    """Return a shape in its place."""
    faced = affinity.scale(polygon, -1, 1, origin=(0, 0)) if place.mirrored else polygon
    turned = affinity.rotate(faced, place.rotation_deg, origin=(0, 0))
    return affinity.translate(turned, place.x_mm, place.y_mm)


def _forbidden(place: Placement, part: NestPart, sheet: NestedSheet) -> Iterator[str]:
    """Yield what the part does not allow."""
    if part.rotations_deg is not None and place.rotation_deg not in part.rotations_deg:
        yield f"{place}: turn not allowed"
    if part.on and part.on not in str(sheet.stock):
        yield f"{place}: not on {part.on}"
    if place.mirrored and not part.mirror:
        yield f"{place}: may not lie face down"


def _parted(nest: Nest, parts: list[NestPart]) -> Iterator[str]:
    """Yield the words whose parts lie on several sheets, or only some of them on one."""
    lots = [{p.part for p in sheet.placements} for sheet in nest.sheets]
    lots.append({entry.part for entry in nest.unplaced})
    for word in {part.together for part in parts} - {""}:
        members = {part.name for part in parts if part.together == word}
        if sum(not lot.isdisjoint(members) for lot in lots) != 1:
            yield f"{word}: not together"


def _unlike(place: Placement, part: NestPart, sheet: NestedSheet) -> Iterator[str]:
    """Yield what of the part's material is not the sheet's, and of the sheet's not its stock's."""
    stock = sheet.stock
    if _said(part.material) != _said(sheet.material):
        yield f"{place}: of {part.material} on a sheet of {sheet.material}"
    if not _near(part.thickness_mm, sheet.thickness_mm):
        yield f"{place}: {part.thickness_mm} thick on {sheet.thickness_mm}"
    if not isinstance(stock, Stock):
        return
    if stock.material and _said(stock.material) != _said(part.material):
        yield f"{place}: of {part.material} from stock of {stock.material}"
    if stock.thickness_mm is not None and not _near(stock.thickness_mm, part.thickness_mm):
        yield f"{place}: {part.thickness_mm} thick from stock {stock.thickness_mm} thick"


def _near(one: float | None, other: float | None) -> bool:
    return one is other if one is None or other is None else abs(one - other) < 1e-5


def _said(material: str) -> str:
    return material.replace(" ", "").lower()


def laid(wanted, stock, **asked):
    """Return the nesting, judged to be sound and the same when asked for again."""
    parts = [part for part, _ in wanted]
    done = nest(parts, stock=stock, **asked)
    gap, margin = asked.get("gap_mm", 0.0), asked.get("margin_mm", 0.0)
    assert faults(done, wanted, gap_mm=gap, margin_mm=margin) == []
    assert nest(parts, stock=stock, **asked) == done
    return done
