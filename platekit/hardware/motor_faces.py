"""Faces that motors and gearboxes are bolted on by."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.items import Item
from platekit.hardware.patterns import bolt_circle_points


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
    return MotorFace(
        designation=row.text("designation"),
        body_mm=row.length_mm("body_mm"),
        square=row.flag("square"),
        hole_count=row.count("hole_count"),
        pcd_mm=row.length_mm("pcd_mm"),
        first_hole_deg=row.number("first_hole_deg"),
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


@cache
def _faces() -> Catalogue[MotorFace]:
    rows = read("platekit.hardware", "tables/motor_faces.csv")
    return Catalogue.of("motor face", map(_face, rows), name=lambda face: face.designation)


def motor_face(designation: str) -> MotorFace:
    """Return a motor's face: ``motor_face("NEMA 34")``.

    Raises:
        UnknownNameError: The table has no such face; the message lists those it has.
    """
    return _faces()[designation]


def known_motor_faces() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_faces())
