"""Bodies of rotary encoders."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.items import Item
from platekit.hardware.patterns import bolt_circle_points


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
        shaft_diameter_mm: Diameter of the shaft; makers vary.
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
    shaft_diameter_mm: float
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
    return EncoderBody(
        designation=row.text("designation"),
        body_mm=row.length_mm("body_mm"),
        pilot_diameter_mm=row.length_mm("pilot_diameter_mm"),
        pilot_height_mm=row.length_mm("pilot_height_mm"),
        hole_count=row.count("hole_count"),
        pcd_mm=row.length_mm("pcd_mm"),
        first_hole_deg=row.number("first_hole_deg"),
        screw=row.text("screw"),
        shaft_diameter_mm=row.length_mm("shaft_diameter_mm"),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


@cache
def _bodies() -> Catalogue[EncoderBody]:
    rows = read("platekit.hardware", "tables/encoders.csv")
    return Catalogue.of("encoder body", map(_body, rows), name=lambda body: body.designation)


def encoder_body(designation: str) -> EncoderBody:
    """Return an encoder's body: ``encoder_body("58 mm clamping flange")``.

    Raises:
        UnknownNameError: The table has no such body; the message lists those it has.
    """
    return _bodies()[designation]


def known_encoder_bodies() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_bodies())
