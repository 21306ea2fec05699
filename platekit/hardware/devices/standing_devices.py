"""Parts that simply stand on a plate: switches, boards, supplies, feet, and what users describe."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from itertools import combinations

from platekit.errors import PartError, concerning
from platekit.geometry.booleans import difference
from platekit.geometry.chains import circle
from platekit.geometry.points import Pair, Point
from platekit.geometry.shapes import rectangle
from platekit.hardware.blocks import ORIGIN, Block
from platekit.hardware.devices.device import Device, points_of
from platekit.hardware.devices.standing import Held, standing
from platekit.hardware.hazards import Hazard, as_hazards
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal

# More holes than this in one part is a slip, not a part.
MOST_HOLES = 64
# An opening below a part reaches into the plate it stands on, and into no other.
OPENING_REACH_MM = 1.0


def rectangular_device(
    name: str,
    *,
    width_mm: float,
    depth_mm: float,
    height_mm: float,
    holes: Iterable[Pair] = (),
    thread: str = "",
    flange_mm: float | None = None,
    tapped_mm: float | None = None,
    spacer_mm: float = 0.0,
    metal: Metal = "steel",
    opening_mm: float = 0.0,
    opening_reach_mm: float = OPENING_REACH_MM,
    bore_mm: float = 0.0,
    room_mm: float = 0.0,
    hazards: tuple[str | Hazard, ...] = (),
    doubt: str = "",
    source: str = "as the recipe says",
) -> Device:
    """Return a part with a rectangular base that stands on a plate and is screwed to it.

    Args:
        name: What it is, for the bill and messages.
        width_mm: Extent along x, ears included.
        depth_mm: Extent along y.
        height_mm: How far it stands up, from its own underside.
        holes: Where its fixing holes stand, from the middle of its base; none without.
        thread: Thread of its screws: "M3"; empty without any.
        flange_mm: Thickness of what screws pass through: a board, an ear, the whole part.
        tapped_mm: Usable depth of its own threaded holes instead.
        spacer_mm: Length of the spacers it stands on, one at every hole; 0 for none. Screws pass
            through them.
        metal: What its threads are cut in.
        opening_mm: Diameter of a round opening in the plate below its middle: air, cables; 0 for
            none.
        opening_reach_mm: How deep that goes: every layer it enters is opened.
        bore_mm: Diameter of a bore right through its middle: the hollow shaft of a gearbox; 0 for
            none.
        room_mm: Diameter about its middle to keep clear of other holes; 0 for none.
        hazards: How it can hurt once switched on: "motion", "draw-in", "mains".
        doubt: What to check on the part in hand.
        source: Where the figures come from.

    Raises:
        UnknownNameError: An unknown thread or hazard.
        PartError: A size that cannot be, a hole off the base or twice in one place, holes without
            screws or screws without holes.
    """
    with concerning(part=name):
        width = require_part_mm(width_mm, "width_mm")
        depth = require_part_mm(depth_mm, "depth_mm")
        points = _points(holes)
        for point in points:
            if abs(point.x) > width / 2 or abs(point.y) > depth / 2:
                raise _off_base(point, f"{width:g} x {depth:g} mm")
        made = standing(
            name,
            rectangle(width, depth, centre=ORIGIN),
            height_mm=height_mm,
            held=Held(
                points=points,
                thread=thread,
                flange_mm=flange_mm,
                tapped_mm=tapped_mm,
                spacer_mm=spacer_mm,
                metal=metal,
            ),
            opening_mm=opening_mm,
            opening_reach_mm=opening_reach_mm,
            room_mm=room_mm,
            doubt=doubt,
            source=source,
        )
        return replace(_bored(made, bore_mm), hazards=as_hazards(hazards))


def round_device(
    name: str,
    *,
    diameter_mm: float,
    height_mm: float,
    holes: Iterable[Pair] = (),
    thread: str = "",
    flange_mm: float | None = None,
    tapped_mm: float | None = None,
    spacer_mm: float = 0.0,
    metal: Metal = "steel",
    opening_mm: float = 0.0,
    opening_reach_mm: float = OPENING_REACH_MM,
    bore_mm: float = 0.0,
    room_mm: float = 0.0,
    hazards: tuple[str | Hazard, ...] = (),
    doubt: str = "",
    source: str = "as the recipe says",
) -> Device:
    """Return a part with a round base that stands on a plate and is screwed to it.

    Args:
        name: What it is, for the bill and messages.
        diameter_mm: Diameter of its base.
        height_mm: How far it stands up, from its own underside.
        holes: Where its fixing holes stand, from the middle of its base: `bolt_circle_points` of
            equally spaced ones; none without.
        thread: Thread of its screws; empty without any.
        flange_mm: Thickness of what screws pass through.
        tapped_mm: Usable depth of its own threaded holes instead.
        spacer_mm: Length of the spacers it stands on; 0 for none.
        metal: What its threads are cut in.
        opening_mm: Diameter of a round opening in the plate below its middle: air, cables; 0 for
            none.
        opening_reach_mm: How deep that goes: every layer it enters is opened.
        bore_mm: Diameter of a bore right through its middle: the hollow shaft of a gearbox; 0 for
            none.
        room_mm: Diameter about its middle to keep clear of other holes; 0 for none.
        hazards: How it can hurt once switched on: "motion", "draw-in", "mains".
        doubt: What to check on the part in hand.
        source: Where the figures come from.

    Raises:
        UnknownNameError: An unknown thread or hazard.
        PartError: A size that cannot be, a hole off the base or twice in one place, holes without
            screws or screws without holes.
    """
    with concerning(part=name):
        diameter = require_part_mm(diameter_mm, "diameter_mm")
        points = _points(holes)
        for point in points:
            if math.hypot(*point) > diameter / 2:
                raise _off_base(point, f"{diameter:g} mm")
        made = standing(
            name,
            circle(ORIGIN, diameter_mm=diameter),
            height_mm=height_mm,
            held=Held(
                points=points,
                thread=thread,
                flange_mm=flange_mm,
                tapped_mm=tapped_mm,
                spacer_mm=spacer_mm,
                metal=metal,
            ),
            opening_mm=opening_mm,
            opening_reach_mm=opening_reach_mm,
            room_mm=room_mm,
            doubt=doubt,
            source=source,
        )
        return replace(_bored(made, bore_mm), hazards=as_hazards(hazards))


def _bored(made: Device, bore_mm: float) -> Device:
    """Return the part with a bore right through its middle."""
    bore = require_part_mm(bore_mm, "bore_mm", zero=True)
    if not bore:
        return made
    tool = circle(ORIGIN, diameter_mm=bore)
    blocks = tuple(
        Block(block.name, piece, block.low_mm, block.high_mm)
        for block in made.blocks
        for piece in difference(block.profile, tool)
    )
    if not blocks:
        raise PartError(
            f"its bore of {bore:g} mm leaves nothing of it",
            feature="bore_mm",
            remedy="give a bore smaller than the part",
        )
    return replace(made, blocks=blocks)


def _points(holes: Iterable[Pair]) -> tuple[Point, ...]:
    try:
        points = points_of(holes)
    except (TypeError, ValueError) as err:
        raise PartError(
            f"holes are {holes!r}", remedy="give pairs of mm: [(-10, 0), (10, 0)]"
        ) from err
    if len(points) > MOST_HOLES:
        raise PartError(
            f"it has {len(points)} holes", feature="holes", remedy=f"give at most {MOST_HOLES}"
        )
    for point in points:
        if not (math.isfinite(point.x) and math.isfinite(point.y)):
            raise PartError(f"a hole stands at ({point.x}, {point.y})", remedy="give finite mm")
    for one, other in combinations(points, 2):
        if math.dist(one, other) < 1.0:
            raise PartError(
                f"two holes stand at ({one.x:g}, {one.y:g})",
                feature="holes",
                remedy="give each hole once",
            )
    return points


def _off_base(point: Point, size: str) -> PartError:
    return PartError(
        f"its hole at ({point.x:g}, {point.y:g}) lies off its base of {size}",
        feature="holes",
        remedy="measure holes from the middle of the base, and give its size with its ears",
    )
