"""Faces of bought parts: what a motor, an encoder, a gland or a switch needs cut."""

from __future__ import annotations

from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Point
from platekit.geometry.shapes import slot
from platekit.hardware.faces import cutouts, encoders, motor_faces
from platekit.hardware.faces.openings import opening_of
from platekit.hardware.items import Item
from platekit.hardware.play import PILOT_CLEARANCE_MM
from platekit.panel.feature import Feature
from platekit.panel.holes import ORIGIN, hole_diameter_mm
from platekit.panel.measures import require_angle, require_length
from platekit.panel.places import MIDDLE, PlaceOrPoint


def _moving_hole(at: Point, diameter_mm: float, *, travel_mm: float, along_deg: float) -> Contour:
    """Return a hole, or the slot in which what passes it can move by `travel_mm`."""
    if travel_mm == 0.0:
        return circle(at, diameter_mm=diameter_mm)
    return slot(diameter_mm + travel_mm, diameter_mm, centre=at, angle_deg=along_deg)


def _face(
    points: tuple[Point, ...],
    *,
    kind: str,
    screw: str,
    fit: str,
    pilot_mm: float,
    pilot_clearance_mm: float,
    turn_deg: float,
    travel_mm: float,
    travel_deg: float,
    item: Item | None,
    at: PlaceOrPoint,
    name: str,
) -> Feature:
    """Return the pilot bore and screw holes of a bought part's face, slotted if it must move."""
    turn = require_angle(turn_deg, "turn_deg")
    play = require_length(pilot_clearance_mm, "pilot_clearance_mm", zero=True)
    hole_mm = hole_diameter_mm(screw, fit=fit)
    travel = require_length(travel_mm, "travel_mm", zero=True)
    # The feature is turned later; the travel is meant on the plate.
    along = require_angle(travel_deg, "travel_deg") - turn
    cuts = [_moving_hole(ORIGIN, pilot_mm + play, travel_mm=travel, along_deg=along)]
    cuts += [_moving_hole(point, hole_mm, travel_mm=travel, along_deg=along) for point in points]
    return Feature(
        kind=kind,
        name=name,
        cuts=tuple(cuts),
        items=(item,) if item is not None else (),
        at=at,
        turn_deg=turn,
    )


def motor_face(
    designation: str,
    *,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    fit: str = "medium",
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
    travel_mm: float = 0.0,
    travel_deg: float = 0.0,
    bought: bool = True,
    name: str = "",
) -> Feature:
    """Return the pilot bore and fixing holes for a motor or gearbox, slotted if it must move.

    The screws' clearance holes come from the thread that holds the face. With a travel every
    hole becomes a slot, so that a belt can be tensioned; `at` is the middle of the travel.

    Args:
        designation: ``"NEMA 34"``, ``"IEC 63 B14"``...
        at: Axis of the motor.
        turn_deg: Turned by this much, counter-clockwise.
        fit: "fine", "medium" or "coarse" holes.
        pilot_clearance_mm: How much larger than the pilot its bore is, on diameter; the default
            slides in by hand (common practice, no source).
        travel_mm: How far the motor can be moved in all; 0 for none.
        travel_deg: Direction of the travel on the plate, counter-clockwise from +x.
        bought: Whether to put the motor on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown face or fit; the message lists the known ones.
        PartError: A size that cannot be.
    """
    face = motor_faces.motor_face(designation)
    return _face(
        face.hole_points,
        kind=f"motor face {face.designation}",
        screw=face.screw,
        fit=fit,
        pilot_mm=face.pilot_diameter_mm,
        pilot_clearance_mm=pilot_clearance_mm,
        turn_deg=turn_deg,
        travel_mm=travel_mm,
        travel_deg=travel_deg,
        item=face.item() if bought else None,
        at=at,
        name=name,
    )


def encoder_face(
    designation: str,
    *,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    fit: str = "medium",
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
    travel_mm: float = 0.0,
    travel_deg: float = 0.0,
    bought: bool = True,
    name: str = "",
) -> Feature:
    """Return the pilot bore and fixing holes for an encoder, slotted if it must move.

    Args:
        designation: ``"58 mm clamping flange"``.
        at: Axis of the encoder.
        turn_deg: Turned by this much, counter-clockwise.
        fit: "fine", "medium" or "coarse" holes.
        pilot_clearance_mm: How much larger than the pilot its bore is, on diameter.
        travel_mm: How far it can be moved in all, for belt tension; 0 for none.
        travel_deg: Direction of the travel on the plate, counter-clockwise from +x.
        bought: Whether to put the encoder on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown body or fit; the message lists the known ones.
        PartError: A size that cannot be.
    """
    body = encoders.encoder_body(designation)
    return _face(
        body.hole_points,
        kind=f"encoder face {body.designation}",
        screw=body.screw,
        fit=fit,
        pilot_mm=body.pilot_diameter_mm,
        pilot_clearance_mm=pilot_clearance_mm,
        turn_deg=turn_deg,
        travel_mm=travel_mm,
        travel_deg=travel_deg,
        item=body.item() if bought else None,
        at=at,
        name=name,
    )


def cable_gland(
    thread: str, *, at: PlaceOrPoint = MIDDLE, bought: bool = True, name: str = ""
) -> Feature:
    """Return the hole for a cable gland; its lock nut's room is watched.

    Args:
        thread: ``"M20"``.
        at: Where; several places give several numbered holes.
        bought: Whether to put the gland on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown gland; the message lists the known ones.
    """
    gland = cutouts.cable_gland(thread)
    return Feature(
        kind=f"cable gland {gland.thread}",
        name=name,
        cuts=(circle(ORIGIN, diameter_mm=gland.hole_diameter_mm),),
        items=(gland.item(),) if bought else (),
        rooms=(circle(ORIGIN, diameter_mm=gland.room_mm),),
        at=at,
    )


def panel_cutout(
    designation: str,
    *,
    at: PlaceOrPoint = MIDDLE,
    turn_deg: float = 0.0,
    fit: str = "medium",
    bought: bool = True,
    name: str = "",
) -> Feature:
    """Return the opening for a switch, socket or other panel device; its room is watched.

    Args:
        designation: ``"emergency stop 22 mm"``.
        at: Where; several places give several numbered openings.
        turn_deg: Turned by this much, counter-clockwise; a key notch lies at the top.
        fit: "fine", "medium" or "coarse", for fixing holes.
        bought: Whether to put the device on the bill.
        name: Name of its own.

    Raises:
        UnknownNameError: An unknown device; the message lists the known ones.
    """
    device = cutouts.panel_cutout(designation)
    cuts = [opening_of(device)]
    if device.screw:
        screw_mm = hole_diameter_mm(device.screw, fit=fit)
        cuts += [circle(point, diameter_mm=screw_mm) for point in device.screw_points]
    return Feature(
        kind=device.designation,
        name=name,
        cuts=tuple(cuts),
        items=(device.item(),) if bought else (),
        rooms=(circle(ORIGIN, diameter_mm=device.room_mm),),
        most_panel_mm=device.most_panel_mm,
        at=at,
        turn_deg=require_angle(turn_deg, "turn_deg"),
    )
