"""What a part that stands on a plate fills, and how it is held."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.geometry.booleans import difference
from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.hardware.blocks import LEAST_HEIGHT_MM, Block, cylinder
from platekit.hardware.devices.device import Device, Fixing, Passage, round_passage
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.fasteners.threads import metric_thread
from platekit.hardware.fasteners.washers import washer
from platekit.hardware.items import Item
from platekit.hardware.lengths import require_part_mm
from platekit.hardware.metals import Metal
from platekit.hardware.play import ACCESS_CLEARANCE_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """How a standing part is held, as a recipe or a table says it.

    Attributes:
        points: Where its holes stand; none where it needs no screws.
        thread: Thread of its screws; empty without any.
        flange_mm: Thickness of what they pass through; None where it is tapped.
        tapped_mm: Usable depth of its own threads; None where screws pass through.
        spacer_mm: Length of the spacers below it; 0 for none.
        metal: What its threads are cut in.
    """

    points: tuple[Point, ...]
    thread: str
    flange_mm: float | None
    tapped_mm: float | None
    spacer_mm: float
    metal: Metal

    def fixing(self) -> Fixing | None:
        """Return its screws; None where it has none.

        Raises:
            PartError: Holes without screws, screws without holes, or a thread that spacers hide.
        """
        if bool(self.points) != bool(self.thread):
            lacking = "thread" if self.points else "holes"
            raise PartError(
                f"it has no {lacking}", feature=lacking, remedy="give both holes and thread"
            )
        spacer = require_part_mm(self.spacer_mm, "spacer_mm", zero=True)
        if not self.points:
            if spacer or self.flange_mm is not None or self.tapped_mm is not None:
                raise PartError(
                    "it has nothing to be screwed by", feature="holes", remedy="give holes, thread"
                )
            return None
        metric_thread(self.thread)  # one that no screw has is refused here
        if (self.tapped_mm is None) == (self.flange_mm is None):
            raise PartError(
                "it is both tapped and screwed through, or neither",
                feature="flange_mm",
                remedy="give flange_mm that screws pass through, or tapped_mm of its own threads",
            )
        if self.tapped_mm is not None and spacer:
            raise PartError(
                "it is tapped and stands on spacers",
                feature="spacer_mm",
                remedy="give flange_mm, or leave spacer_mm out",
            )
        thick = self.flange_mm
        return Fixing(
            thread=self.thread,
            points=self.points,
            depth_mm=None
            if self.tapped_mm is None
            else require_part_mm(self.tapped_mm, "tapped_mm"),
            flange_mm=None if thick is None else require_part_mm(thick, "flange_mm") + spacer,
            metal=self.metal,
        )

    def spacers(self) -> tuple[Block, ...]:
        """Return a spacer at every hole: twice the thread wide, common practice, no source."""
        if not (self.spacer_mm and self.points):
            return ()
        bore = clearance_hole_mm(self.thread)
        outer = 2 * metric_thread(self.thread).nominal_mm
        return tuple(
            cylinder("spacer", outer, low_mm=0.0, high_mm=self.spacer_mm, bore_mm=bore, at=point)
            for point in self.points
        )


def standing(
    name: str,
    base: Contour,
    *,
    height_mm: float,
    held: Held,
    opening_mm: float,
    opening_reach_mm: float,
    room_mm: float,
    doubt: str,
    source: str,
) -> Device:
    """Return the part `name` on `base`, held so; `opening_mm` is a round hole below its middle.

    Raises:
        UnknownNameError: An unknown thread.
        PartError: A size that cannot be, or a way to hold it that is none.
    """
    height = require_part_mm(height_mm, "height_mm")
    fixing = held.fixing()
    spacers = held.spacers()
    words = f"spacer for {held.thread}, {held.spacer_mm:g} mm long"
    return Device(
        designation=name,
        blocks=(*spacers, *_bodies(base, height, held)),
        passages=_opening(opening_mm, opening_reach_mm),
        fixing=fixing,
        items=(Item(name, 1), *([Item(words, len(spacers), name)] if spacers else ())),
        room_mm=require_part_mm(room_mm, "room_mm", zero=True),
        doubt=doubt,
        source=source,
    )


def _bodies(base: Contour, height_mm: float, held: Held) -> Iterator[Block]:
    """Yield what stands on the plate: a flange with its holes, above it room for the washers."""
    low, high = held.spacer_mm, held.spacer_mm + height_mm
    if held.flange_mm is None or not held.points:
        yield Block("body", Profile(base), low, high)
        return
    if held.flange_mm > height_mm:
        raise PartError(
            f"its flange is {held.flange_mm:g} mm thick and it is {height_mm:g} mm high",
            feature="flange_mm",
            remedy="give the thickness of what screws pass through",
        )
    seat = low + held.flange_mm
    for piece in _open_at(base, held.points, clearance_hole_mm(held.thread)):
        yield Block("flange" if seat < high else "body", piece, low, seat)
    if high - seat > LEAST_HEIGHT_MM:
        wide = washer("ISO 7089", held.thread).outer_mm + ACCESS_CLEARANCE_MM
        for piece in _open_at(base, held.points, wide):
            yield Block("body", piece, seat, high)


def _opening(diameter_mm: float, reach_mm: float) -> tuple[Passage, ...]:
    diameter = require_part_mm(diameter_mm, "opening_mm", zero=True)
    reach = require_part_mm(reach_mm, "opening_reach_mm")
    if not diameter:
        return ()
    return (round_passage("opening", diameter, low_mm=-reach, high_mm=0.0, play_mm=0.0),)


def _open_at(base: Contour, points: Iterable[Point], diameter_mm: float) -> tuple[Profile, ...]:
    return difference(base, *(circle(point, diameter_mm=diameter_mm) for point in points))
