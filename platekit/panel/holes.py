"""Round holes and bores: by diameter, by screw, on a circle, on a rectangle, for a shaft."""

from __future__ import annotations

from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Point
from platekit.geometry.shapes import d_shape, double_d, keyed_circle
from platekit.hardware.faces.bearings import bearing
from platekit.hardware.faces.hubs import hub_pattern
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.keys import key_for
from platekit.hardware.patterns import bolt_circle_points, rectangle_points
from platekit.hardware.play import PILOT_CLEARANCE_MM
from platekit.panel.feature import Feature
from platekit.panel.measures import require_angle, require_count, require_length
from platekit.panel.places import MIDDLE, PlaceOrPoint

ORIGIN = Point(0.0, 0.0)


def hole_diameter_mm(size: float | str, *, fit: str = "medium") -> float:
    """Return a hole's diameter: `size` itself in mm, or the clearance hole of a screw size.

    Raises:
        UnknownNameError: No such screw size or fit; the message lists the known ones.
        PartError: A diameter that cannot be.

    Source:
        ISO 273:1979 for screw sizes.
    """
    if isinstance(size, str):
        return clearance_hole_mm(size, fit=fit)
    return require_length(size, "diameter")


def hole_kind(size: float | str) -> str:
    """Return what a hole is called: "M5 hole", "6.6 mm hole"."""
    return f"{size} hole" if isinstance(size, str) else f"{size:g} mm hole"


def _circles(points: tuple[Point, ...], diameter_mm: float) -> tuple[Contour, ...]:
    return tuple(circle(point, diameter_mm=diameter_mm) for point in points)


def hole(
    size: float | str, *, at: PlaceOrPoint = MIDDLE, fit: str = "medium", name: str = ""
) -> Feature:
    """Return a round hole.

    Args:
        size: Diameter, mm, or a screw size: "M5" is the hole that lets an M5 screw pass.
        at: Where; several places give several numbered holes.
        fit: "fine", "medium" or "coarse", for a screw size.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown screw size or fit.
        PartError: A diameter that cannot be.
    """
    diameter = hole_diameter_mm(size, fit=fit)
    return Feature(kind=hole_kind(size), name=name, cuts=_circles((ORIGIN,), diameter), at=at)


def bolt_circle(
    count: int,
    size: float | str,
    *,
    pcd_mm: float,
    start_deg: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    fit: str = "medium",
    name: str = "",
) -> Feature:
    """Return equally spaced holes on a circle.

    Args:
        count: How many holes.
        size: Diameter of each, mm, or a screw size.
        pcd_mm: Pitch circle diameter, mm.
        start_deg: Angle of the first hole, counter-clockwise from +x.
        at: Centre of the circle.
        fit: "fine", "medium" or "coarse", for a screw size.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown screw size or fit.
        PartError: A size or count that cannot be.

    Source:
        Coordinates as in the hole-circle tables of machinery handbooks; ISO 273:1979.
    """
    require_count(count, "count")
    require_length(pcd_mm, "pcd_mm")
    require_angle(start_deg, "start_deg")
    points = bolt_circle_points(count, pcd_mm=pcd_mm, start_deg=start_deg)
    cuts = _circles(points, hole_diameter_mm(size, fit=fit))
    return Feature(kind="bolt circle", name=name, cuts=cuts, at=at)


def bolt_rectangle(
    width_mm: float,
    height_mm: float,
    size: float | str,
    *,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    fit: str = "medium",
    name: str = "",
) -> Feature:
    """Return four holes on the corners of a rectangle; two where one side is 0.

    Args:
        width_mm: Distance between holes along x, mm.
        height_mm: Distance between holes along y, mm.
        size: Diameter of each, mm, or a screw size.
        at: Middle of the rectangle.
        turn_deg: Turned by this much, counter-clockwise.
        fit: "fine", "medium" or "coarse", for a screw size.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown screw size or fit.
        PartError: A size that cannot be.
    """
    width = require_length(width_mm, "width_mm", zero=True)
    height = require_length(height_mm, "height_mm", zero=True)
    points = rectangle_points(width_mm=width, height_mm=height)
    cuts = _circles(points, hole_diameter_mm(size, fit=fit))
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="bolt rectangle", name=name, cuts=cuts, at=at, turn_deg=turn)


def hub_face(
    designation: str,
    *,
    at: PlaceOrPoint = MIDDLE,
    start_deg: float = 0.0,
    fit: str = "medium",
    pilot: bool = True,
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
    name: str = "",
) -> Feature:
    """Return the holes for a hub or tool flange: its bolt circle and, if it has one, its pilot.

    Args:
        designation: ``"ISO 9409-1-80-6-M8"``.
        at: Axis of the hub.
        start_deg: Angle of the first hole, counter-clockwise from +x.
        fit: "fine", "medium" or "coarse".
        pilot: Whether to cut the pilot's bore.
        pilot_clearance_mm: How much larger than the pilot its bore is, on diameter.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown pattern or fit; the message lists the known ones.
    """
    hub = hub_pattern(designation)
    points = hub.hole_points(start_deg=require_angle(start_deg, "start_deg"))
    cuts = _circles(points, hole_diameter_mm(hub.screw, fit=fit))
    if pilot and hub.pilot_diameter_mm is not None:
        play = require_length(pilot_clearance_mm, "pilot_clearance_mm", zero=True)
        cuts = (circle(ORIGIN, diameter_mm=hub.pilot_diameter_mm + play), *cuts)
    return Feature(kind=f"hub {hub.designation}", name=name, cuts=cuts, at=at)


def d_bore(
    diameter_mm: float,
    across_flat_mm: float,
    *,
    clearance_mm: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a bore with one flat, for a D-shaft; the flat lies at the top.

    Args:
        diameter_mm: Diameter of the shaft.
        across_flat_mm: From the flat to the far side, as a caliper measures the shaft.
        clearance_mm: How much both are enlarged.
        at: Axis of the shaft.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be.
        GeometryError: The flat does not cut the circle.
    """
    play = require_length(clearance_mm, "clearance_mm", zero=True)
    diameter = require_length(diameter_mm, "diameter_mm") + play
    across = require_length(across_flat_mm, "across_flat_mm") + play
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(
        kind="D-bore", name=name, cuts=(d_shape(diameter, across),), at=at, turn_deg=turn
    )


def double_d_bore(
    diameter_mm: float,
    across_flats_mm: float,
    *,
    clearance_mm: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a bore with two flats, at top and bottom.

    Args:
        diameter_mm: Diameter of the shaft.
        across_flats_mm: From flat to flat.
        clearance_mm: How much both are enlarged.
        at: Axis of the shaft.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be.
        GeometryError: The flats do not cut the circle.
    """
    play = require_length(clearance_mm, "clearance_mm", zero=True)
    diameter = require_length(diameter_mm, "diameter_mm") + play
    across = require_length(across_flats_mm, "across_flats_mm") + play
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(
        kind="double-D bore", name=name, cuts=(double_d(diameter, across),), at=at, turn_deg=turn
    )


def keyed_bore(
    shaft_mm: float,
    *,
    key_width_mm: float | None = None,
    key_depth_mm: float | None = None,
    clearance_mm: float = 0.0,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    name: str = "",
) -> Feature:
    """Return a round bore with a keyway at the top.

    Args:
        shaft_mm: Diameter of the shaft.
        key_width_mm: Width of the keyway; left out, that of the standard key for the shaft.
        key_depth_mm: Depth of the keyway beyond the bore; left out, the standard's.
        clearance_mm: How much larger than the shaft the bore is, on diameter; the keyway keeps
            its size.
        at: Axis of the shaft.
        turn_deg: Turned by this much, counter-clockwise.
        name: Name of its own.

    Raises:
        PartError: A size that cannot be, or a shaft beyond the table of keys.
        GeometryError: The keyway is wider than the bore.

    Source:
        DIN 6885-1 for the keyway.
    """
    shaft = require_length(shaft_mm, "shaft_mm")
    play = require_length(clearance_mm, "clearance_mm", zero=True)
    if key_width_mm is None or key_depth_mm is None:
        key = key_for(shaft)
        key_width_mm = key.width_mm if key_width_mm is None else key_width_mm
        key_depth_mm = key.hub_depth_mm if key_depth_mm is None else key_depth_mm
    width = require_length(key_width_mm, "key_width_mm")
    # The keyway's floor stands where the shaft's key needs it, whatever play the bore has.
    depth = require_length(key_depth_mm, "key_depth_mm") - play / 2
    require_length(depth, "key depth left beside the clearance")
    bore = keyed_circle(shaft + play, key_width_mm=width, key_depth_mm=depth)
    turn = require_angle(turn_deg, "turn_deg")
    return Feature(kind="keyed bore", name=name, cuts=(bore,), at=at, turn_deg=turn)


def bearing_seat(
    designation: str,
    *,
    fit: str = "H7",
    at: PlaceOrPoint = MIDDLE,
    bought: bool = True,
    name: str = "",
) -> Feature:
    """Return the hole a ball bearing sits in.

    The hole is cut to the middle of the fit's limits: outer diameter plus half of lower and
    upper deviation. H7 is a slide fit for the outer ring, N7 or P7 a press fit in metal; in
    plywood press fits creep, so secure the bearing by plates. A laser holds a tenth of a
    millimetre, not an ISO grade: cut a test piece first.

    Args:
        designation: ``"6004"``; seals and shields as in "6004-2RS" change nothing.
        fit: Tolerance class of the hole, ISO 286: "H7", "N7", "G7"...
        at: Axis of the bearing.
        bought: Whether to put the bearing on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown bearing or fit.
        PartError: The fit is not tabulated at that diameter.

    Source:
        ISO 15 for the bearing, ISO 286-1 for the limits.
    """
    ball = bearing(designation)
    seat = circle(ORIGIN, diameter_mm=ball.seat_mm(fit))
    items = (ball.item(),) if bought else ()
    return Feature(
        kind=f"bearing seat {ball.designation}", name=name, cuts=(seat,), items=items, at=at
    )


__all__ = [
    "bearing_seat",
    "bolt_circle",
    "bolt_rectangle",
    "d_bore",
    "double_d_bore",
    "hole",
    "hole_diameter_mm",
    "hub_face",
    "keyed_bore",
]
