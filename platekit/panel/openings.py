"""Openings: slots, windows, vents, notches and the pocket for a nut."""

from __future__ import annotations

import math

from platekit.errors import GeometryError, PartError
from platekit.geometry import shapes
from platekit.geometry.chains import Contour, closed_polyline
from platekit.geometry.corners import fillet
from platekit.geometry.points import Point
from platekit.hardware.fasteners.screws import screw
from platekit.panel.feature import Feature
from platekit.panel.holes import ORIGIN
from platekit.panel.measures import require_angle, require_length, require_shift
from platekit.panel.places import MIDDLE, PlaceOrPoint, on_edge

# How far an opening cut runs out over the edge, so that edge and cut never lie on one line.
OVERRUN_MM = 1.0
# All round a nut in its pocket: it drops in by hand and does not turn; common practice, no source.
NUT_CLEARANCE_MM = 0.3


def slot(
    length_mm: float,
    width_mm: float,
    *,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a straight slot with round ends.

    Args:
        length_mm: Overall length, ends included; above the width.
        width_mm: Width.
        at: Middle of the slot.
        turn_deg: Direction of its length, counter-clockwise from +x.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be.
        GeometryError: A length not above the width.
    """
    length = require_length(length_mm, "length_mm")
    width = require_length(width_mm, "width_mm")
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="slot", name=name, cuts=(shapes.slot(length, width),), at=at, turn_deg=turn)


def arc_slot(
    *,
    radius_mm: float,
    sweep_deg: float,
    width_mm: float,
    start_deg: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    name: str = "",
) -> Feature:
    """Return a slot bent along an arc about its place, with round ends.

    Args:
        radius_mm: Radius of its centre line.
        sweep_deg: Angle from the centre of one end to the centre of the other.
        width_mm: Width.
        start_deg: Angle of the first end, counter-clockwise from +x.
        at: Centre of the arc.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be.
        GeometryError: The slot is wider than its radius allows, or its ends meet.
    """
    require_length(radius_mm, "radius_mm")
    require_length(width_mm, "width_mm")
    require_angle(start_deg, "start_deg")
    cut = shapes.arc_slot(
        radius_mm=radius_mm, sweep_deg=sweep_deg, width_mm=width_mm, start_deg=start_deg
    )
    return Feature(kind="arc slot", name=name, cuts=(cut,), at=at)


def window(
    width_mm: float,
    height_mm: float,
    *,
    fillet_mm: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a rectangular opening.

    Args:
        width_mm: Extent along x.
        height_mm: Extent along y.
        fillet_mm: Radius of its corners; 0 for sharp ones.
        at: Its middle.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be.
        GeometryError: The radius does not fit.
    """
    width = require_length(width_mm, "width_mm")
    height = require_length(height_mm, "height_mm")
    radius = require_length(fillet_mm, "fillet_mm", zero=True)
    cut = shapes.rectangle(width, height, fillet_mm=radius, centre=ORIGIN)
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="window", name=name, cuts=(cut,), at=at, turn_deg=turn)


def opening(
    shape: Contour, *, at: PlaceOrPoint = (0.0, 0.0), turn_deg: float = 0.0, name: str = ""
) -> Feature:
    """Return an opening of any shape.

    Args:
        shape: Any contour; its own (0, 0) goes to the place, so that at the default one it lies
            on the plate as drawn.
        at: Where.
        turn_deg: Turned by this much about its own (0, 0), counter-clockwise.
        name: Name of its own.
    """
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="opening", name=name, cuts=(shape,), at=at, turn_deg=turn)


def vent_slots(
    width_mm: float,
    height_mm: float,
    *,
    slot_mm: float = 4.0,
    web_mm: float = 5.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return level slots that fill a rectangle, evenly spaced.

    As many as fit; what is left over widens the webs.

    Args:
        width_mm: Extent of the field along the slots.
        height_mm: Extent of the field across them.
        slot_mm: Width of one slot.
        web_mm: Least material between two.
        at: Middle of the field.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be, or a field too small for one slot.
    """
    width = require_length(width_mm, "width_mm")
    height = require_length(height_mm, "height_mm")
    opened = require_length(slot_mm, "slot_mm")
    web = require_length(web_mm, "web_mm")
    turn = require_angle(turn_deg, "turn_deg")
    count = math.floor((height + web) / (opened + web) + 1e-9)
    if count < 1 or width <= opened:
        raise PartError(
            f"no vent slot of {opened:g} mm fits a field of {width:g} x {height:g} mm",
            remedy="enlarge the field or narrow the slots",
        )
    pitch = (height - opened) / (count - 1) if count > 1 else 0.0
    low = -(count - 1) / 2 * pitch
    cuts = tuple(
        shapes.slot(width, opened, centre=Point(0.0, low + k * pitch)) for k in range(count)
    )
    return Feature(kind="vent", name=name, cuts=cuts, at=at, turn_deg=turn, web_mm=web)


def vent_honeycomb(
    width_mm: float | None = None,
    height_mm: float | None = None,
    *,
    diameter_mm: float | None = None,
    across_flats_mm: float = 8.0,
    web_mm: float = 3.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return whole hexagons that fill a rectangle or a circle, webs of one width between them.

    Args:
        width_mm: Extent of a rectangular field along x.
        height_mm: Extent of a rectangular field along y.
        diameter_mm: Diameter of a round field, for a fan, instead.
        across_flats_mm: Size of one hexagon, from flat to flat.
        web_mm: Material between neighbours.
        at: Middle of the field.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be, both kinds of field or neither, or a field too small for
            one hexagon.
    """
    round_field = diameter_mm is not None
    if round_field == (width_mm is not None and height_mm is not None):
        raise PartError(
            "a honeycomb has no single field", remedy="give width_mm and height_mm, or diameter_mm"
        )
    if diameter_mm is not None:
        width = height = require_length(diameter_mm, "diameter_mm")
    else:
        width = require_length(width_mm or 0.0, "width_mm")
        height = require_length(height_mm or 0.0, "height_mm")
    flats = require_length(across_flats_mm, "across_flats_mm")
    web = require_length(web_mm, "web_mm")
    turn = require_angle(turn_deg, "turn_deg")
    corner = flats / math.sqrt(3)  # from centre to corner, corners up and down
    pitch, row = flats + web, (flats + web) * math.sqrt(3) / 2
    rows = math.floor((height / 2 - corner) / row + 1e-9)
    columns = math.floor(width / pitch) + 1
    cuts = []
    for j in range(-rows, rows + 1):
        shift = pitch / 2 if j % 2 else 0.0
        for i in range(-columns, columns + 1):
            at_cell = Point(i * pitch + shift, j * row)
            if round_field:
                fits = math.hypot(*at_cell) + corner <= width / 2 + 1e-9
            else:
                fits = abs(at_cell.x) + flats / 2 <= width / 2 + 1e-9
            if fits:
                cuts.append(
                    shapes.regular_polygon(6, across_flats_mm=flats, centre=at_cell, start_deg=30)
                )
    if not cuts:
        raise PartError(f"no hexagon of {flats:g} mm fits the field", remedy="enlarge the field")
    return Feature(kind="vent", name=name, cuts=tuple(cuts), at=at, turn_deg=turn, web_mm=web)


def notch(
    width_mm: float,
    depth_mm: float,
    *,
    fillet_mm: float = 0.0,
    at: PlaceOrPoint | None = None,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a rectangular notch that opens the edge.

    Args:
        width_mm: Extent along the edge.
        depth_mm: How far it reaches into the plate.
        fillet_mm: Radius of its two inner corners.
        at: Where its middle meets the edge: ``on_edge("top", along_mm=40)``. Left out, the middle
            of the lower edge.
        turn_deg: Turned by this much further, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be; or, when placed, it misses the edge or cuts the plate
            in two.
        GeometryError: The radius does not fit.
    """
    half = require_length(width_mm, "width_mm") / 2
    depth = require_length(depth_mm, "depth_mm")
    radius = require_length(fillet_mm, "fillet_mm", zero=True)
    cut = closed_polyline(
        [(-half, -OVERRUN_MM), (half, -OVERRUN_MM), (half, depth), (-half, depth)]
    )
    if radius:
        if radius > depth:
            raise GeometryError(
                f"a fillet of radius {radius:g} mm does not fit a notch {depth:g} mm deep",
                remedy=f"give at most {min(depth, half):g} mm",
            )
        cut = fillet(cut, radius_mm=radius, corners=(2, 3))
    return Feature(
        kind="notch",
        name=name,
        cuts=(cut,),
        at=on_edge("bottom") if at is None else at,
        turn_deg=require_angle(turn_deg, "turn_deg"),
        opens_edge=True,
    )


def nut_pocket_contour(
    thread: str,
    *,
    reach_mm: float,
    nut_at_mm: float | None = None,
    clearance_mm: float = NUT_CLEARANCE_MM,
    fit: str = "medium",
) -> Contour:
    """Return the cross-shaped cut for a screw that enters an edge and the nut that waits for it.

    The edge is y = 0 and the plate lies above it. A slot for the shank runs up from the edge; a
    wider one across it takes the nut, its axis along the screw.

    Args:
        thread: ``"M5"``.
        reach_mm: How far the screw's end comes into the plate.
        nut_at_mm: From the edge to the nut's near face; left out, so that the screw shows two
            pitches beyond the nut.
        clearance_mm: All round the nut, on width and on height.
        fit: "fine", "medium" or "coarse" slot for the shank.

    Raises:
        UnknownNameError: An unknown screw size or fit.
        PartError: The nut would stand at the edge or beyond the screw's end.

    Source:
        ISO 4032 for the nut, ISO 273 for the slot; two pitches beyond the nut are common
        practice, no source.
    """
    bolt = screw(thread)
    reach = require_length(reach_mm, "reach_mm")
    play = require_length(clearance_mm, "clearance_mm", zero=True)
    shows = 2 * bolt.pitch_mm
    if nut_at_mm is None:
        near = reach - shows - bolt.nut_height_mm
    else:
        near = require_shift(nut_at_mm, "nut_at_mm")
    far = near + bolt.nut_height_mm + play
    if near <= 0:
        raise PartError(
            f"an {thread} screw that reaches {reach:g} mm into the plate leaves {near:.4g} mm "
            "before its nut",
            remedy=f"let it reach more than {shows + bolt.nut_height_mm:.4g} mm",
        )
    if far - play > reach:
        raise PartError(
            f"the nut ends {far - play:.4g} mm from the edge, the {thread} screw at {reach:g} mm",
            remedy="bring the nut nearer to the edge, or take a longer screw",
        )
    shank = bolt.clearance_mm(fit) / 2
    across = (bolt.nut_across_flats_mm + play) / 2
    end = max(reach + play, far)
    right = [(shank, -OVERRUN_MM), (shank, near), (across, near), (across, far)]
    if end - far > 1e-6:
        right += [(shank, far), (shank, end)]
    return closed_polyline([*right, *((-x, y) for x, y in reversed(right))])


def nut_pocket(
    thread: str,
    *,
    reach_mm: float,
    at: PlaceOrPoint,
    nut_at_mm: float | None = None,
    clearance_mm: float = NUT_CLEARANCE_MM,
    fit: str = "medium",
    bought: bool = True,
    name: str = "",
) -> Feature:
    """Return the pocket for a screw that enters the plate's edge and for its nut.

    Args:
        thread: ``"M5"``.
        reach_mm: How far the screw's end comes into the plate.
        at: Where the screw enters: ``on_edge("top", along_mm=30)``.
        nut_at_mm: From the edge to the nut's near face; left out, so that the screw shows two
            pitches beyond the nut.
        clearance_mm: All round the nut, on width and on height.
        fit: "fine", "medium" or "coarse" slot for the shank.
        bought: Whether to put the nut on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown screw size or fit.
        PartError: The nut does not fit, or, when placed, the pocket misses the edge.
    """
    cut = nut_pocket_contour(
        thread, reach_mm=reach_mm, nut_at_mm=nut_at_mm, clearance_mm=clearance_mm, fit=fit
    )
    return Feature(
        kind=f"{thread} nut pocket",
        name=name,
        cuts=(cut,),
        items=(screw(thread).nut_item(),) if bought else (),
        at=at,
        opens_edge=True,
    )
