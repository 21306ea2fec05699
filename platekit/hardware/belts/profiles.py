"""Synchronous belts: their profiles, and the lengths and widths they are made in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError
from platekit.handbook import Catalogue, Row, read
from platekit.hardware.items import Item

# Widths are printed to a tenth, in millimetres that were inches: 9.5 is also written 9.53.
SAME_WIDTH_MM = 0.1
# Common practice, no source; ISO 12100 asks to guard points where something is drawn in.
CAUTION = "cover it: it draws fingers, hair and cloth in where it runs onto a pulley"


@dataclass(frozen=True, slots=True, kw_only=True)
class BeltProfile:
    """The toothed section of a synchronous belt. All lengths in mm.

    Attributes:
        designation: "curvilinear 3 mm".
        pitch_mm: From tooth to tooth along the pitch line, which keeps its length when bent.
        tooth_height_mm: From the land between the belt's teeth to their tips.
        thickness_mm: Of the whole belt, tip to back.
        offset_mm: From a pulley's outside, where the belt's lands lie, out to the pitch line.
        least_teeth: Fewest teeth of a pulley it may run on.
        widths_mm: Widths it is sold in.
        lengths: Teeth of the closed belts that are known, rising; empty when none are.
        doubt: What to check on the belt in hand; empty when nothing.
        source: Where the figures come from.
        lengths_source: Where the lengths come from; empty when none are known.
    """

    designation: str
    pitch_mm: float
    tooth_height_mm: float
    thickness_mm: float
    offset_mm: float
    least_teeth: int
    widths_mm: tuple[float, ...]
    lengths: tuple[int, ...]
    doubt: str
    source: str
    lengths_source: str

    def pitch_diameter_mm(self, teeth: int) -> float:
        """Return the diameter of the pitch line around a pulley: pitch times teeth over pi.

        Raises:
            PartError: The pulley has fewer teeth than the belt may run on.

        Source:
            Definition of the pitch circle: ISO 5294.
        """
        return self.pitch_mm * self.pulley_teeth(teeth) / math.pi

    def outside_diameter_mm(self, teeth: int) -> float:
        """Return the outside diameter of a pulley: that of the pitch line less two offsets.

        Raises:
            PartError: The pulley has fewer teeth than the belt may run on.

        Source:
            ISO 5294, from memory.
        """
        return self.pitch_diameter_mm(teeth) - 2 * self.offset_mm

    @property
    def back_mm(self) -> float:
        """Thickness without the teeth: from a pulley's outside to the belt's back."""
        return self.thickness_mm - self.tooth_height_mm

    @property
    def flange_height_mm(self) -> float:
        """How far a pulley's flange stands out beyond its teeth: as far as the belt is thick.

        Common practice, no source; pulleys on the market stand out about as far or less.
        """
        return self.thickness_mm

    def pulley_teeth(self, teeth: int) -> int:
        """Return `teeth` where a pulley of this profile may have so many.

        Raises:
            PartError: It is no whole number, or below the least; the message names that.
        """
        if type(teeth) is not int:
            raise PartError(
                f"pulley {self.designation} has {teeth!r} teeth", remedy="give a whole number"
            )
        if teeth < self.least_teeth:
            raise PartError(
                f"pulley {self.designation} has {teeth} teeth, below its least teeth",
                remedy=f"give at least {self.least_teeth}, or a belt of smaller pitch",
            )
        return teeth

    def has_width(self, width_mm: float) -> bool:
        """Return whether the belt is sold `width_mm` wide."""
        return any(abs(width_mm - one) < SAME_WIDTH_MM for one in self.widths_mm)

    def item(self, teeth: int, *, width_mm: float, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for a closed belt, its caution behind `note`.

        ``belt curvilinear 3 mm, 120 teeth (360 mm), 9 mm wide``
        """
        length_mm = round(teeth * self.pitch_mm, 3)
        size = f"{teeth} teeth ({length_mm:.10g} mm), {width_mm:.10g} mm wide"
        said = f"{note}; {CAUTION}" if note else CAUTION
        return Item(f"belt {self.designation}, {size}", quantity, said)


@dataclass(frozen=True, slots=True)
class _Lengths:
    teeth: tuple[int, ...] = ()
    source: str = ""


def _lengths() -> dict[str, _Lengths]:
    """Return what lengths are known, by profile; rows of one profile add up."""
    found: dict[str, _Lengths] = {}
    for row in read("platekit.hardware", "tables/belt_lengths.csv"):
        name = row.text("profile")
        words = [Row(row.file, row.line, {"teeth": word}) for word in row.words("teeth")]
        teeth = {word.count("teeth") for word in words}
        before = found.get(name, _Lengths())
        source = "; ".join(filter(None, (before.source, row.source)))
        found[name] = _Lengths(tuple(sorted(teeth.union(before.teeth))), source)
    return found


@cache
def _profiles() -> Catalogue[BeltProfile]:
    lengths = _lengths()

    def profile(row: Row) -> BeltProfile:
        known = lengths.get(row.text("designation"), _Lengths())
        return BeltProfile(
            designation=row.text("designation"),
            pitch_mm=row.length_mm("pitch_mm"),
            tooth_height_mm=row.length_mm("tooth_height_mm"),
            thickness_mm=row.length_mm("thickness_mm"),
            offset_mm=row.length_mm("offset_mm"),
            least_teeth=row.count("least_teeth"),
            widths_mm=row.lengths_mm("widths_mm"),
            lengths=known.teeth,
            doubt=row.optional_text("doubt"),
            source=row.source,
            lengths_source=known.source,
        )

    rows = read("platekit.hardware", "tables/belt_profiles.csv")
    return Catalogue.of("belt profile", map(profile, rows), name=lambda one: one.designation)


def belt_profile(designation: str) -> BeltProfile:
    """Return a belt's profile: ``belt_profile("curvilinear 3 mm")``, ``belt_profile("T5")``.

    Raises:
        UnknownNameError: The table has no such profile; the message lists those it has.
    """
    return _profiles()[designation]


def known_belt_profiles() -> tuple[str, ...]:
    """Return the designations of the table."""
    return tuple(_profiles())
