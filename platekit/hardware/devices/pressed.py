"""Parallel pins and round magnets, pressed into pockets of a plate."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.geometry.chains import circle
from platekit.handbook import Row, read
from platekit.hardware.blocks import ORIGIN, cylinder
from platekit.hardware.devices.device import Device, Passage, round_passage
from platekit.hardware.fits import middle_mm
from platekit.hardware.items import Item
from platekit.hardware.lengths import require_part_mm

# Preferred lengths of ISO 8734 and ISO 2338 over the range of the table; from memory.
PIN_LENGTHS_MM = (
    3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 35, 40, 45, 50, 55, 60, 65,
    70, 75, 80, 85, 90, 95, 100, 120, 140,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ParallelPin:
    """A parallel pin of one diameter. All lengths in mm.

    Attributes:
        standard: "ISO 8734" hardened, "ISO 2338" soft.
        diameter_mm: Diameter.
        shortest_mm: Shortest length made.
        longest_mm: Longest length made.
        tolerance: Tolerance class of its diameter.
        source: Where the figures come from.
    """

    standard: str
    diameter_mm: float
    shortest_mm: float
    longest_mm: float
    tolerance: str
    source: str

    @property
    def lengths_mm(self) -> tuple[float, ...]:
        """Preferred lengths of this pin, rising."""
        return tuple(n for n in PIN_LENGTHS_MM if self.shortest_mm <= n <= self.longest_mm)


def _pin(row: Row) -> ParallelPin:
    return ParallelPin(
        standard=row.text("standard"),
        diameter_mm=row.length_mm("diameter_mm"),
        shortest_mm=row.length_mm("shortest_mm"),
        longest_mm=row.length_mm("longest_mm"),
        tolerance=row.text("tolerance"),
        source=row.source,
    )


@cache
def known_pins() -> tuple[ParallelPin, ...]:
    """Return the pins of the table, by standard and rising diameter."""
    return tuple(map(_pin, read("platekit.hardware", "tables/pins.csv")))


def parallel_pin(diameter_mm: float, *, standard: str = "ISO 8734") -> ParallelPin:
    """Return the pin of that diameter.

    Raises:
        UnknownNameError: An unknown standard.
        PartError: The standard has no such diameter; the message lists those it has.
    """
    pins = [pin for pin in known_pins() if pin.standard == standard]
    if not pins:
        standards = {pin.standard for pin in known_pins()}
        raise UnknownNameError.among("standard of pins", standard, standards)
    for pin in pins:
        if pin.diameter_mm == diameter_mm:
            return pin
    listed = ", ".join(f"{pin.diameter_mm:g}" for pin in pins)
    raise PartError(f"no pin {standard} is {diameter_mm} mm thick", remedy=f"take one of {listed}")


def dowel_pin(
    diameter_mm: float,
    length_mm: float,
    *,
    proud_mm: float = 0.0,
    fit: str = "H7",
    standard: str = "ISO 8734",
) -> Device:
    """Return a parallel pin pressed into the plate, standing `proud_mm` out of its face.

    Its hole is cut to the middle of the fit. A laser holds a tenth of a millimetre, not an ISO
    grade: cut a test piece first.

    Args:
        diameter_mm: Diameter, one of the standard's.
        length_mm: Length, one of the standard's.
        proud_mm: How much of it stands above the face; below its length.
        fit: Tolerance class of the hole, ISO 286.
        standard: "ISO 8734" hardened, "ISO 2338" soft.

    Raises:
        UnknownNameError: An unknown standard or fit.
        PartError: A size that is not made, or a pin that does not reach the plate.

    Source:
        ISO 8734, ISO 2338; limits of ISO 286-1.
    """
    with concerning(part="parallel pin"):
        pin = parallel_pin(diameter_mm, standard=standard)
        if length_mm not in pin.lengths_mm:
            listed = ", ".join(f"{n:g}" for n in pin.lengths_mm)
            raise PartError(
                f"{standard} {diameter_mm:g} mm is not made {length_mm} mm long",
                remedy=f"take one of {listed} mm",
            )
        proud = require_part_mm(proud_mm, "proud_mm", zero=True)
        if proud >= length_mm:
            raise PartError(
                f"proud_mm is {proud:g} of {length_mm:g} mm", remedy="leave some of it in the plate"
            )
        low = proud - length_mm
        words = f"parallel pin {standard} {diameter_mm:g} {pin.tolerance} x {length_mm:g}"
        return Device(
            designation=words,
            blocks=(cylinder("pin", diameter_mm, low_mm=low, high_mm=proud),),
            passages=(
                Passage(
                    "pocket",
                    circle(ORIGIN, diameter_mm=diameter_mm),
                    circle(ORIGIN, diameter_mm=middle_mm(fit, diameter_mm)),
                    low,
                    0.0,
                ),
            ),
            items=(Item(words, 1),),
            doubt="cut a test piece: a press fit hangs on the kerf",
            source=pin.source,
        )


def magnet(diameter_mm: float, height_mm: float, *, play_mm: float = 0.0) -> Device:
    """Return a round magnet let into the plate, flush with its face.

    Args:
        diameter_mm: Diameter.
        height_mm: Height; a plate thinner than this lets it stand out behind.
        play_mm: How much wider its pocket is, on diameter: 0 to press it in, 0.1 or 0.2 to glue
            it (common practice, no source).

    Raises:
        PartError: A size that cannot be.
    """
    with concerning(part="magnet"):
        diameter = require_part_mm(diameter_mm, "diameter_mm")
        height = require_part_mm(height_mm, "height_mm")
        words = f"round magnet {diameter:g} x {height:g} mm"
        return Device(
            designation=words,
            blocks=(cylinder("magnet", diameter, low_mm=-height, high_mm=0.0),),
            passages=(
                round_passage(
                    "pocket",
                    diameter,
                    low_mm=-height,
                    high_mm=0.0,
                    play_mm=require_part_mm(play_mm, "play_mm", zero=True),
                ),
            ),
            items=(Item(words, 1),),
            doubt="mark its poles before pressing it in; strong magnets pinch: keep them apart",
            source="as the recipe says",
        )
