"""Bodies of rotary encoders."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read, read_file, require_columns
from platekit.hardware.faces.checks import require_face
from platekit.hardware.items import Item
from platekit.hardware.patterns import bolt_circle_points

# What a table of encoders has; a cell of some may stay empty.
ENCODER_COLUMNS = (
    "designation",
    "body_mm",
    "pilot_diameter_mm",
    "pilot_height_mm",
    "hole_count",
    "pcd_mm",
    "first_hole_deg",
    "screw",
    "thread_depth_mm",
    "shaft_diameter_mm",
    "shaft_length_mm",
    "doubt",
    "known",
    "source",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class EncoderBody:
    """The fixing face of an encoder with a solid shaft. All lengths in mm.

    Attributes:
        designation: "58 mm clamping flange".
        body_mm: Diameter of the body.
        pilot_diameter_mm: Diameter of the spigot that centres it.
        pilot_height_mm: How far the spigot stands out.
        hole_count: How many tapped holes.
        pcd_mm: Diameter of the circle they stand on.
        first_hole_deg: Where the first one stands, counter-clockwise from +x.
        screw: Thread of the holes.
        thread_depth_mm: Usable depth of the holes; None when the source gives none.
        shaft_diameter_mm: Diameter of the shaft; makers vary.
        shaft_length_mm: How far the shaft stands out from the face; None when the source gives
            none.
        doubt: What to check on the encoder in hand.
        source: Where the figures come from.
    """

    designation: str
    body_mm: float
    pilot_diameter_mm: float
    pilot_height_mm: float
    hole_count: int
    pcd_mm: float
    first_hole_deg: float
    screw: str
    thread_depth_mm: float | None
    shaft_diameter_mm: float
    shaft_length_mm: float | None
    doubt: str
    source: str

    @property
    def hole_points(self) -> tuple[Point, ...]:
        """Where the tapped holes stand about the shaft."""
        return bolt_circle_points(
            self.hole_count, pcd_mm=self.pcd_mm, start_deg=self.first_hole_deg
        )

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the encoder."""
        return Item(f"encoder, {self.designation}", quantity, note)


def _body(row: Row) -> EncoderBody:
    require_face(row, body_mm=row.length_mm("body_mm"))
    return EncoderBody(
        designation=row.text("designation"),
        body_mm=row.length_mm("body_mm"),
        pilot_diameter_mm=row.length_mm("pilot_diameter_mm"),
        pilot_height_mm=row.length_mm("pilot_height_mm"),
        hole_count=row.count("hole_count"),
        pcd_mm=row.length_mm("pcd_mm"),
        first_hole_deg=row.angle_deg("first_hole_deg"),
        screw=row.text("screw"),
        thread_depth_mm=row.optional_mm("thread_depth_mm"),
        shaft_diameter_mm=row.length_mm("shaft_diameter_mm"),
        shaft_length_mm=row.optional_mm("shaft_length_mm"),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


def _catalogue(rows: tuple[Row, ...]) -> Catalogue[EncoderBody]:
    require_columns(rows, ENCODER_COLUMNS)
    return Catalogue.of("encoder body", map(_body, rows), name=lambda body: body.designation)


@cache
def _bodies() -> Catalogue[EncoderBody]:
    return _catalogue(read("platekit.hardware", "tables/encoders.csv"))


def encoder_body(designation: str) -> EncoderBody:
    """Return an encoder's body: ``encoder_body("58 mm clamping flange")``.

    Raises:
        UnknownNameError: The table has no such body; the message lists those it has.
    """
    return _bodies()[designation]


def known_encoder_bodies() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_bodies())


def own_encoder_bodies(path: str | Path) -> Catalogue[EncoderBody]:
    """Return the encoders of a CSV file of your own, its columns `ENCODER_COLUMNS`.

    Raises:
        TableError: The file cannot be read, or a value is missing or absurd: the message names
            file, line, column, value and what to give.
    """
    return _catalogue(read_file(path))
