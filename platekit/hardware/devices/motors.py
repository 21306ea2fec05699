"""Motors, gearboxes and encoders as they are mounted: body above, spigot and shaft below."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar

from platekit.errors import PartError, concerning
from platekit.geometry.chains import circle
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.hardware.blocks import ORIGIN, Block, cylinder
from platekit.hardware.devices.device import Device, Fixing, Passage, ShaftEnd, round_passage
from platekit.hardware.devices.ratings import EncoderRating, MotorRating
from platekit.hardware.faces.encoders import EncoderBody, encoder_body
from platekit.hardware.faces.motor_faces import MotorFace, motor_face
from platekit.hardware.fasteners.screws import screw
from platekit.hardware.hazards import Hazard
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal
from platekit.hardware.play import PILOT_CLEARANCE_MM, SHAFT_CLEARANCE_MM

# How deep a tapped hole is taken to be, in thread diameters, where no table and no recipe says.
# Common practice, no source: most are deeper, so a screw chosen for it does not run aground.
USUAL_DEPTH_DIAMETERS = 1.5

Rated = TypeVar("Rated", MotorRating, EncoderRating)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Face:
    """What motors' and encoders' faces have in common. All lengths in mm."""

    pilot_mm: float
    pilot_height_mm: float
    points: tuple[Point, ...]
    screw: str
    shaft_mm: float
    shaft_length_mm: float


def motor(
    face: str | MotorFace,
    *,
    body_length_mm: float,
    body_mm: float | None = None,
    shaft_mm: float | None = None,
    shaft_length_mm: float | None = None,
    depth_mm: float | None = None,
    flange_mm: float | None = None,
    metal: Metal = "aluminium",
    shaft_kind: str = "",
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
    shaft_clearance_mm: float = SHAFT_CLEARANCE_MM,
    rating: MotorRating | None = None,
) -> Device:
    """Return a motor or gearbox as it is mounted on its face; its shaft points into the plate.

    Args:
        face: ``"NEMA 34"``, or a face of your own table.
        body_length_mm: From the mounting face to the far end, gearbox, brake, plugs included.
        body_mm: Side or diameter of the body; left out, that of the face where the face is
            tapped. Behind a flange that screws pass through it is a round body as wide as a square
            face, or as the spigot of a round one, so that nuts and washers find room.
        shaft_mm: Diameter of the shaft; left out, that of the table.
        shaft_length_mm: How far it stands out, measured from the mounting face; left out, that of
            the table.
        depth_mm: Usable depth of the face's tapped holes; left out, that of the table, else 1.5
            thread diameters (common practice, no source): measure it.
        flange_mm: Thickness of the flange where screws pass through it; left out, the table's.
        metal: What the tapped holes are cut in.
        shaft_kind: Words for the bill: "with a 5 mm key", "with a flat".
        pilot_clearance_mm: How much wider than the spigot its hole is, on diameter.
        shaft_clearance_mm: How much wider than the shaft its hole is, on diameter.
        rating: What it can do, for the checks: see `motor_rating`.

    Raises:
        UnknownNameError: An unknown face; the message lists the known ones.
        PartError: A size that cannot be, or one that neither table nor recipe gives.
    """
    given = motor_face(face) if isinstance(face, str) else face
    label = f"motor {given.designation}"
    with concerning(part=label):
        length = require_part_mm(body_length_mm, "body_length_mm")
        common = _face_of(given, shaft_mm=shaft_mm, shaft_length_mm=shaft_length_mm)
        if given.tapped:
            if flange_mm is not None:
                raise PartError(
                    f"flange_mm is {flange_mm} and its face is tapped", remedy="leave flange_mm out"
                )
            fixing, doubts = _tapped(common, depth_mm, given.thread_depth_mm, metal)
            blocks = _tapped_body(given, length, body_mm)
        else:
            if depth_mm is not None:
                raise PartError(
                    f"depth_mm is {depth_mm} and screws pass through its flange",
                    remedy="give flange_mm",
                )
            thick = _flange_mm(flange_mm, given.flange_thickness_mm)
            fixing, doubts = (
                Fixing(thread=given.screw, points=given.hole_points, flange_mm=thick),
                (),
            )
            blocks = _flanged_body(given, length, body_mm, thick)
        below, passages, shaft = _shaft_side(common, pilot_clearance_mm, shaft_clearance_mm)
        words = f"motor or gearbox, face {given.designation}, shaft {shaft.diameter_mm:g} mm"
        return Device(
            designation=f"{words} {shaft_kind}".strip(),
            blocks=(*blocks, *below),
            passages=passages,
            fixing=fixing,
            shaft=shaft,
            items=(given.item(note=_note(shaft, shaft_kind)),),
            hazards=(Hazard.MOTION,),
            rating=_require_rating(rating, MotorRating, "motor_rating(...)"),
            doubt="; ".join(filter(None, (given.doubt, *doubts))),
            source=given.source,
        )


def encoder(
    body: str | EncoderBody,
    *,
    body_length_mm: float,
    shaft_mm: float | None = None,
    shaft_length_mm: float | None = None,
    depth_mm: float | None = None,
    metal: Metal = "aluminium",
    shaft_kind: str = "",
    pilot_clearance_mm: float = PILOT_CLEARANCE_MM,
    shaft_clearance_mm: float = SHAFT_CLEARANCE_MM,
    rating: EncoderRating | None = None,
) -> Device:
    """Return an encoder as it is mounted on its face; its shaft points into the plate.

    Args:
        body: ``"58 mm clamping flange"``, or a body of your own.
        body_length_mm: From the mounting face to the far end, plug included.
        shaft_mm: Diameter of the shaft; left out, that of the table.
        shaft_length_mm: How far it stands out, measured from the mounting face; left out, that of
            the table.
        depth_mm: Usable depth of its tapped holes; left out, that of the table, else 1.5 thread
            diameters (common practice, no source): measure it.
        metal: What the tapped holes are cut in.
        shaft_kind: Words for the bill: "with a flat".
        pilot_clearance_mm: How much wider than the spigot its hole is, on diameter.
        shaft_clearance_mm: How much wider than the shaft its hole is, on diameter.
        rating: What it tells, for the checks: see `encoder_rating`.

    Raises:
        UnknownNameError: An unknown body; the message lists the known ones.
        PartError: A size that cannot be, or one that neither table nor recipe gives.
    """
    given = encoder_body(body) if isinstance(body, str) else body
    label = f"encoder {given.designation}"
    with concerning(part=label):
        length = require_part_mm(body_length_mm, "body_length_mm")
        common = _face_of(given, shaft_mm=shaft_mm, shaft_length_mm=shaft_length_mm)
        fixing, doubts = _tapped(common, depth_mm, given.thread_depth_mm, metal)
        below, passages, shaft = _shaft_side(common, pilot_clearance_mm, shaft_clearance_mm)
        return Device(
            designation=f"{label}, shaft {shaft.diameter_mm:g} mm {shaft_kind}".strip(),
            blocks=(cylinder("body", given.body_mm, low_mm=0.0, high_mm=length), *below),
            passages=passages,
            fixing=fixing,
            shaft=shaft,
            items=(given.item(note=_note(shaft, shaft_kind)),),
            rating=_require_rating(rating, EncoderRating, "encoder_rating(...)"),
            doubt="; ".join(filter(None, (given.doubt, *doubts))),
            source=given.source,
        )


def _require_rating(rating: Rated | None, kind: type[Rated], wanted: str) -> Rated | None:
    """Return a rating if it is of the kind wanted.

    Raises:
        PartError: It is not.
    """
    given: object = rating
    if given is None or isinstance(given, kind):
        return rating
    raise PartError(f"rating is {repr(rating)[:64]}", remedy=f"give rating={wanted}")


def _face_of(
    given: MotorFace | EncoderBody, *, shaft_mm: float | None, shaft_length_mm: float | None
) -> _Face:
    """Return what a table says of a face, the recipe's own shaft before the table's."""
    return _Face(
        pilot_mm=given.pilot_diameter_mm,
        pilot_height_mm=given.pilot_height_mm,
        points=given.hole_points,
        screw=given.screw,
        shaft_mm=given.shaft_diameter_mm if shaft_mm is None else shaft_mm,
        shaft_length_mm=_shaft_length_mm(shaft_length_mm, given.shaft_length_mm),
    )


def _note(shaft: ShaftEnd, kind: str) -> str:
    said = (f"shaft {shaft.diameter_mm:g} mm", kind, f"{-shaft.low_mm:g} mm from the face")
    return ", ".join(filter(None, said))


def _shaft_length_mm(asked: float | None, tabulated: float | None) -> float:
    length = tabulated if asked is None else asked
    if length is None:
        raise PartError(
            "the length of its shaft is not known",
            remedy="give shaft_length_mm, measured from the mounting face",
        )
    return require_part_mm(length, "shaft_length_mm")


def _flange_mm(asked: float | None, tabulated: float | None) -> float:
    thick = tabulated if asked is None else asked
    if thick is None:
        raise PartError(
            "the thickness of its flange is not known",
            remedy="give flange_mm, what its screws pass through",
        )
    return require_part_mm(thick, "flange_mm")


def _tapped(
    face: _Face, asked: float | None, tabulated: float | None, metal: Metal
) -> tuple[Fixing, tuple[str, ...]]:
    """Return how a tapped face is held, and what is doubtful about it."""
    depth = tabulated if asked is None else asked
    doubts: tuple[str, ...] = ()
    if depth is None:
        depth = USUAL_DEPTH_DIAMETERS * screw(face.screw).nominal_mm
        doubts = (f"tapped holes taken as {depth:g} mm deep: measure them",)
    deep = require_part_mm(depth, "depth_mm")
    return Fixing(thread=face.screw, points=face.points, depth_mm=deep, metal=metal), doubts


def _tapped_body(face: MotorFace, length_mm: float, body_mm: float | None) -> tuple[Block, ...]:
    size = face.body_mm if body_mm is None else require_part_mm(body_mm, "body_mm")
    outer = (
        rectangle(size, size, centre=ORIGIN) if face.square else circle(ORIGIN, diameter_mm=size)
    )
    return (Block("body", Profile(outer), 0.0, length_mm),)


def _flanged_body(
    face: MotorFace, length_mm: float, body_mm: float | None, flange_mm: float
) -> tuple[Block, ...]:
    """Return the flange with its holes and the body behind it."""
    if flange_mm >= length_mm:
        raise PartError(
            f"its flange is {flange_mm:g} mm thick and the body {length_mm:g} mm long",
            remedy="give body_length_mm from the mounting face to the far end",
        )
    side = face.body_mm
    outer = (
        rectangle(side, side, centre=ORIGIN) if face.square else circle(ORIGIN, diameter_mm=side)
    )
    bore_mm = face.hole_diameter_mm or 0.0
    holes = tuple(circle(point, diameter_mm=bore_mm) for point in face.hole_points)
    usual = face.body_mm if face.square else face.pilot_diameter_mm
    behind = usual if body_mm is None else require_part_mm(body_mm, "body_mm")
    return (
        Block("flange", Profile(outer, holes), 0.0, flange_mm),
        cylinder("body", behind, low_mm=flange_mm, high_mm=length_mm),
    )


def _shaft_side(
    face: _Face, pilot_play_mm: float, shaft_play_mm: float
) -> tuple[tuple[Block, ...], tuple[Passage, ...], ShaftEnd]:
    """Return spigot and shaft, their passages, and the shaft offered beyond the spigot."""
    diameter = require_part_mm(face.shaft_mm, "shaft_mm")
    if diameter > face.pilot_mm:
        raise PartError(
            f"its shaft of {diameter:g} mm is thicker than its spigot of {face.pilot_mm:g} mm",
            remedy="check shaft_mm",
        )
    spigot_end, end = -face.pilot_height_mm, -face.shaft_length_mm
    if not end < spigot_end:
        raise PartError(
            f"its shaft of {-end:g} mm ends inside its spigot of {-spigot_end:g} mm",
            remedy="give shaft_length_mm from the mounting face to the end of the shaft",
        )
    blocks = (
        cylinder("spigot", face.pilot_mm, low_mm=spigot_end, high_mm=0.0),
        cylinder("shaft", diameter, low_mm=end, high_mm=spigot_end),
    )
    passages = (
        round_passage(
            "spigot",
            face.pilot_mm,
            low_mm=spigot_end,
            high_mm=0.0,
            play_mm=require_part_mm(pilot_play_mm, "pilot_clearance_mm", zero=True),
        ),
        round_passage(
            "shaft",
            diameter,
            low_mm=end,
            high_mm=spigot_end,
            play_mm=require_part_mm(shaft_play_mm, "shaft_clearance_mm", zero=True),
        ),
    )
    return blocks, passages, ShaftEnd(diameter_mm=diameter, low_mm=end, high_mm=spigot_end)
