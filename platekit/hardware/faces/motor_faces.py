"""Faces that motors and gearboxes are bolted on by."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read, read_file, require_columns
from platekit.hardware.faces.checks import require_face
from platekit.hardware.items import Item
from platekit.hardware.patterns import bolt_circle_points

# What a table of faces has; a cell of some may stay empty.
MOTOR_FACE_COLUMNS = (
    "designation",
    "body_mm",
    "square",
    "hole_count",
    "pcd_mm",
    "first_hole_deg",
    "screw",
    "hole_diameter_mm",
    "thread_depth_mm",
    "flange_thickness_mm",
    "pilot_diameter_mm",
    "pilot_height_mm",
    "shaft_diameter_mm",
    "shaft_length_mm",
    "doubt",
    "known",
    "source",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorFace:
    """The face of a motor or gearbox. All lengths in mm.

    Attributes:
        designation: "NEMA 34".
        body_mm: Side of a square face, diameter of a round one.
        square: Whether the face is square.
        hole_count: How many fixing holes.
        pcd_mm: Diameter of the circle they stand on.
        first_hole_deg: Where the first one stands, counter-clockwise from +x.
        screw: Thread that holds the face.
        tapped: Whether the motor's own holes are threaded; else screws pass through them.
        hole_diameter_mm: Diameter of the motor's own through holes; None when tapped.
        thread_depth_mm: Usable depth of its tapped holes; None when the source gives none.
        flange_thickness_mm: Thickness of the flange that screws pass through; None when the
            source gives none.
        pilot_diameter_mm: Diameter of the raised spigot that centres the motor.
        pilot_height_mm: How far it stands out.
        shaft_diameter_mm: Diameter of the shaft; makers vary.
        shaft_length_mm: How far the shaft stands out; None when the source gives none.
        doubt: What to check on the motor in hand; empty when nothing.
        source: Where the figures come from.
    """

    designation: str
    body_mm: float
    square: bool
    hole_count: int
    pcd_mm: float
    first_hole_deg: float
    screw: str
    tapped: bool
    hole_diameter_mm: float | None
    thread_depth_mm: float | None
    flange_thickness_mm: float | None
    pilot_diameter_mm: float
    pilot_height_mm: float
    shaft_diameter_mm: float
    shaft_length_mm: float | None
    doubt: str
    source: str

    @property
    def hole_points(self) -> tuple[Point, ...]:
        """Where the fixing holes stand about the shaft."""
        return bolt_circle_points(
            self.hole_count, pcd_mm=self.pcd_mm, start_deg=self.first_hole_deg
        )

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the motor or gearbox."""
        return Item(f"motor or gearbox, face {self.designation}", quantity, note)


def _face(row: Row) -> MotorFace:
    hole_diameter_mm = row.optional_mm("hole_diameter_mm")
    square, body_mm = row.flag("square"), row.length_mm("body_mm")
    require_face(row, body_mm=body_mm * (math.sqrt(2) if square else 1.0))
    return MotorFace(
        designation=row.text("designation"),
        body_mm=body_mm,
        square=square,
        hole_count=row.count("hole_count"),
        pcd_mm=row.length_mm("pcd_mm"),
        first_hole_deg=row.angle_deg("first_hole_deg"),
        screw=row.text("screw"),
        tapped=hole_diameter_mm is None,
        hole_diameter_mm=hole_diameter_mm,
        thread_depth_mm=row.optional_mm("thread_depth_mm"),
        flange_thickness_mm=row.optional_mm("flange_thickness_mm"),
        pilot_diameter_mm=row.length_mm("pilot_diameter_mm"),
        pilot_height_mm=row.length_mm("pilot_height_mm"),
        shaft_diameter_mm=row.length_mm("shaft_diameter_mm"),
        shaft_length_mm=row.optional_mm("shaft_length_mm"),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


def _catalogue(rows: tuple[Row, ...]) -> Catalogue[MotorFace]:
    require_columns(rows, MOTOR_FACE_COLUMNS)
    return Catalogue.of("motor face", map(_face, rows), name=lambda face: face.designation)


@cache
def _faces() -> Catalogue[MotorFace]:
    return _catalogue(read("platekit.hardware", "tables/motor_faces.csv"))


def motor_face(designation: str) -> MotorFace:
    """Return a motor's face: ``motor_face("NEMA 34")``.

    Raises:
        UnknownNameError: The table has no such face; the message lists those it has.
    """
    return _faces()[designation]


def known_motor_faces() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_faces())


def own_motor_faces(path: str | Path) -> Catalogue[MotorFace]:
    """Return the faces of a CSV file of your own: ``motor(own_motor_faces("faces.csv")["mine"])``.

    Its columns are `MOTOR_FACE_COLUMNS`, those of the table that ships: hole_diameter_mm and
    flange_thickness_mm where screws pass through its flange, thread_depth_mm where it is tapped;
    lengths of spigot and shaft from the mounting face; known says "measured" for a part in hand.

    Raises:
        TableError: The file cannot be read, or a value is missing or absurd: the message names
            file, line, column, value and what to give.
    """
    return _catalogue(read_file(path))
