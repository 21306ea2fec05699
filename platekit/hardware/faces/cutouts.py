"""Openings for control devices, mains inlets and cable glands."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.geometry.points import Point
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.hazards import Hazard, as_hazards
from platekit.hardware.items import Item


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelCutout:
    """An opening in a panel: a circle with or without a key notch, or a rectangle. All in mm.

    Attributes:
        designation: "emergency stop 22 mm".
        diameter_mm: Diameter of a round opening; None for a rectangle.
        notch_width_mm: Width of the notch that keeps a device from turning; None without one.
        notch_height_mm: From the far side of the circle to the bottom of the notch.
        width_mm: Width of a rectangle; None for a round opening.
        height_mm: Height of a rectangle; None for a round opening.
        corner_mm: Corner radius of a rectangle; None for a round opening.
        screw: Thread of the fixing screws; empty without any.
        screw_spacing_mm: Distance of two fixing screws along x; None without any.
        screw_rise_mm: How far the left one stands above the right one; 0 where they lie level.
        flange_mm: Thickness of the flange they pass through; None without any.
        front_width_mm: Width, or diameter, of what stands in front of the panel.
        front_height_mm: Its height across; None where it is round.
        front_reach_mm: How far it stands out.
        behind_width_mm: Diameter of what lies behind the panel.
        behind_reach_mm: How far the device reaches behind the panel's face, tags and plugs
            included; None when the source gives none.
        room_mm: Diameter of the circle about the centre to keep clear of other things.
        most_panel_mm: Thickest panel the device clamps; None when the source gives none.
        hazards: How it can hurt someone once the rig is switched on.
        doubt: What to check on the device in hand; empty when nothing.
        source: Where the figures come from.
    """

    designation: str
    diameter_mm: float | None
    notch_width_mm: float | None
    notch_height_mm: float | None
    width_mm: float | None
    height_mm: float | None
    corner_mm: float | None
    screw: str
    screw_spacing_mm: float | None
    screw_rise_mm: float
    flange_mm: float | None
    front_width_mm: float
    front_height_mm: float | None
    front_reach_mm: float
    behind_width_mm: float
    behind_reach_mm: float | None
    room_mm: float
    most_panel_mm: float | None
    hazards: tuple[Hazard, ...]
    doubt: str
    source: str

    @property
    def screw_points(self) -> tuple[Point, ...]:
        """Where the fixing screws stand about the centre; none when nothing is screwed."""
        if self.screw_spacing_mm is None:
            return ()
        x, y = self.screw_spacing_mm / 2, self.screw_rise_mm / 2
        return (Point(-x, y), Point(x, -y))

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the device."""
        return Item(self.designation, quantity, note)


@dataclass(frozen=True, slots=True, kw_only=True)
class CableGland:
    """A metric cable gland held by a lock nut. All in mm.

    Attributes:
        thread: "M20".
        hole_diameter_mm: Hole in the panel.
        cable_least_mm: Thinnest cable it seals; makers vary.
        cable_most_mm: Thickest cable it seals; makers vary.
        room_mm: Diameter of the circle the lock nut needs.
        source: Where the figures come from.
    """

    thread: str
    hole_diameter_mm: float
    cable_least_mm: float
    cable_most_mm: float
    room_mm: float
    source: str

    def item(self, *, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the gland and its lock nut."""
        return Item(f"cable gland {self.thread}x1.5 with lock nut", quantity, note)


def _cutout(row: Row) -> PanelCutout:
    diameter_mm, width_mm = row.optional_mm("diameter_mm"), row.optional_mm("width_mm")
    if (diameter_mm is None) == (width_mm is None):
        raise row.fault("diameter_mm", "and width_mm are both given or both empty", remedy="one")
    if (row.optional_mm("notch_width_mm") is None) != (row.optional_mm("notch_height_mm") is None):
        raise row.fault("notch_width_mm", "stands without its height", remedy="give both")
    spacing_mm = row.optional_mm("screw_spacing_mm")
    if (spacing_mm is None) == bool(row.optional_text("screw")):
        raise row.fault("screw", "and screw_spacing_mm go together", remedy="give both or neither")
    return PanelCutout(
        designation=row.text("designation"),
        diameter_mm=diameter_mm,
        notch_width_mm=row.optional_mm("notch_width_mm"),
        notch_height_mm=row.optional_mm("notch_height_mm"),
        width_mm=width_mm,
        height_mm=None if width_mm is None else row.length_mm("height_mm"),
        corner_mm=None if width_mm is None else row.length_mm("corner_mm"),
        screw=row.optional_text("screw"),
        screw_spacing_mm=spacing_mm,
        screw_rise_mm=row.optional_mm("screw_rise_mm") or 0.0,
        flange_mm=None if spacing_mm is None else row.length_mm("flange_mm"),
        front_width_mm=row.length_mm("front_width_mm"),
        front_height_mm=row.optional_mm("front_height_mm"),
        front_reach_mm=row.length_mm("front_reach_mm"),
        behind_width_mm=row.length_mm("behind_width_mm"),
        behind_reach_mm=row.optional_mm("behind_reach_mm"),
        room_mm=row.length_mm("room_mm"),
        most_panel_mm=row.optional_mm("most_panel_mm"),
        hazards=as_hazards(row.words("hazards")),
        doubt=row.optional_text("doubt"),
        source=row.source,
    )


def _gland(row: Row) -> CableGland:
    return CableGland(
        thread=row.text("thread"),
        hole_diameter_mm=row.length_mm("hole_diameter_mm"),
        cable_least_mm=row.length_mm("cable_least_mm"),
        cable_most_mm=row.length_mm("cable_most_mm"),
        room_mm=row.length_mm("room_mm"),
        source=row.source,
    )


@cache
def _cutouts() -> Catalogue[PanelCutout]:
    rows = read("platekit.hardware", "tables/cutouts.csv")
    return Catalogue.of("panel cut-out", map(_cutout, rows), name=lambda cut: cut.designation)


@cache
def _glands() -> Catalogue[CableGland]:
    rows = read("platekit.hardware", "tables/cable_glands.csv")
    return Catalogue.of("cable gland", map(_gland, rows), name=lambda gland: gland.thread)


def panel_cutout(designation: str) -> PanelCutout:
    """Return the opening for a device: ``panel_cutout("emergency stop 22 mm")``.

    Raises:
        UnknownNameError: The table has no such device; the message lists those it has.
    """
    return _cutouts()[designation]


def known_panel_cutouts() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_cutouts())


def cable_gland(thread: str) -> CableGland:
    """Return a cable gland: ``cable_gland("M20")``.

    Raises:
        UnknownNameError: The table has no such gland; the message lists those it has.
    """
    return _glands()[thread]


def known_cable_glands() -> tuple[str, ...]:
    """Return the threads of the table, rising."""
    return tuple(_glands())
