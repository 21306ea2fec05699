"""Bolt patterns of hubs and tool flanges."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.patterns import bolt_circle_points


@dataclass(frozen=True, slots=True, kw_only=True)
class HubPattern:
    """Holes on a circle about a shaft, with a pilot where there is one. All lengths in mm.

    Attributes:
        designation: "ISO 9409-1-80-6-M8".
        hole_count: How many holes.
        pcd_mm: Diameter of the circle they stand on.
        screw: Thread of the screws.
        pilot_diameter_mm: Centring recess or spigot; None when the pattern has none.
        pilot_depth_mm: Depth of it; None when the source gives none.
        outer_diameter_mm: Outer diameter of the flange; None when the pattern has none.
        dowel_mm: Diameter of the dowel that fixes the angle; None when there is none. Its place
            among the holes stands in the standard's drawing and is not given here.
        doubt: What to check on the hub in hand; empty when nothing.
        source: Where the figures come from.
    """

    designation: str
    hole_count: int
    pcd_mm: float
    screw: str
    pilot_diameter_mm: float | None
    pilot_depth_mm: float | None
    outer_diameter_mm: float | None
    dowel_mm: float | None
    doubt: str
    source: str

    def hole_points(self, *, start_deg: float = 0.0) -> tuple[Point, ...]:
        """Return where the holes stand about the shaft, the first at `start_deg`."""
        return bolt_circle_points(self.hole_count, pcd_mm=self.pcd_mm, start_deg=start_deg)


def _hub(row: Row) -> HubPattern:
    return HubPattern(
        designation=row.text("designation"),
        hole_count=row.count("hole_count"),
        pcd_mm=row.length_mm("pcd_mm"),
        screw=row.text("screw"),
        pilot_diameter_mm=row.optional_mm("pilot_diameter_mm"),
        pilot_depth_mm=row.optional_mm("pilot_depth_mm"),
        outer_diameter_mm=row.optional_mm("outer_diameter_mm"),
        dowel_mm=row.optional_mm("dowel_mm"),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


@cache
def _hubs() -> Catalogue[HubPattern]:
    rows = read("platekit.hardware", "tables/hubs.csv")
    return Catalogue.of("hub pattern", map(_hub, rows), name=lambda hub: hub.designation)


def hub_pattern(designation: str) -> HubPattern:
    """Return a hub's bolt pattern: ``hub_pattern("ISO 9409-1-80-6-M8")``.

    Raises:
        UnknownNameError: The table has no such pattern; the message lists those it has.
    """
    return _hubs()[designation]


def known_hub_patterns() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_hubs())
