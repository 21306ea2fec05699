"""Patterns: parts that differ in nothing but their names are drawn once and sawn several times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from platekit.export.plans.alike import alike
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.panel.part import Grain, Part

TIMES = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """One shape to saw by, for every part that has it.

    Attributes:
        parts: The parts; of several, none differs from the first but in name and place.
    """

    parts: tuple[Part, ...]

    @property
    def part(self) -> Part:
        """The part that is drawn."""
        return self.parts[0]

    @property
    def profile(self) -> Profile:
        """Its shape."""
        return self.part.profile

    @property
    def quantity(self) -> int:
        """How many are to be made."""
        return sum(part.quantity for part in self.parts)

    @property
    def name(self) -> str:
        """Every name, what they begin with said once: "lower ring 1, 2, 3"."""
        told: list[str] = []
        before = ""
        for part in self.parts:
            stem, _, number = part.name.rpartition(" ")
            told.append(number if stem and stem == before and number.isdecimal() else part.name)
            before = stem if number.isdecimal() else ""
        return ", ".join(told)

    def turned(self) -> Pattern:
        """Return it turned by a quarter: for pages that have more room the other way."""
        quarter = Motion(turn_deg=90.0)
        across = {Grain.ALONG_X: Grain.ALONG_Y, Grain.ALONG_Y: Grain.ALONG_X}
        return Pattern(
            parts=tuple(
                replace(
                    part,
                    profile=part.profile.moved(quarter),
                    marks=tuple(mark.moved(quarter) for mark in part.marks),
                    grain=across.get(part.grain, part.grain),
                )
                for part in self.parts
            )
        )

    def words(self, *, turned: bool = False) -> str:
        """Return what it is cut from, how often and how the grain runs.

        As in "birch plywood 6 mm, make 3, one of each name, grain left to right".
        """
        part = self.part
        said = f"{part.sheet.name}, make {self.quantity}"
        if len(self.parts) > 1:
            each = {one.quantity for one in self.parts}
            said += ", one of each name" if each == {1} else f" ({', '.join(self._shares())})"
        if part.sheet.grain and part.grain is not Grain.ANY:
            level = (part.grain is Grain.ALONG_X) != turned
            said += ", grain left to right" if level else ", grain up and down"
        return said

    def _shares(self) -> Iterator[str]:
        return (f"{one.quantity} {TIMES} {one.name}" for one in self.parts)


def patterns_of(parts: Iterable[Part]) -> tuple[Pattern, ...]:
    """Return parts by what there is to saw: the name scored on a face does not count."""
    return tuple(Pattern(parts=group) for group in alike(parts, {}))
