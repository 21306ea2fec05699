"""Plates: a sheet, an outline, and the features in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.findings import Finding
from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.hardware import Item
from platekit.materials import Sheet
from platekit.panel.feature import Feature, Fitted, Placed, placed
from platekit.panel.part import Grain, Mark, Part, require_quantity, require_safe_name
from platekit.panel.places import Frame, spots_at

Outline = Contour | Profile | tuple[Profile, ...]


@dataclass(frozen=True)
class Plate:
    """A plate cut from one sheet.

    Attributes:
        name: What files and lists call it; safe as a file name.
        sheet: What it is cut from.
        outline: Its shape before features: exact, y up. A contour, a profile, or what a boolean
            gave back, which must be one piece.
        features: What is cut into it or marked on it, in place.
        quantity: How many are needed.
        grain: How the stock's face grain must lie.
        least_web_mm: Thinnest web of material worth a finding; left out, half the sheet's
            thickness and no less than 1 mm (common practice, no source).
        lettered: Whether its name is scored on it.

    Raises:
        PartError: Name, quantity or outline cannot be.
    """

    name: str
    sheet: Sheet
    outline: Profile
    features: tuple[Placed, ...] = field(default=(), kw_only=True)
    quantity: int = field(default=1, kw_only=True)
    grain: Grain = field(default=Grain.ANY, kw_only=True)
    least_web_mm: float | None = field(default=None, kw_only=True)
    lettered: bool = field(default=True, kw_only=True)

    def __post_init__(self) -> None:
        require_safe_name(self.name)
        require_quantity(self.quantity, part=self.name)
        object.__setattr__(self, "outline", _one_piece(self.outline, part=self.name))

    def with_features(self, *features: Feature | Fitted) -> Plate:
        """Return the plate with further features, each placed and checked.

        Raises:
            PartError: A feature lies off the plate, across its edge or over another.
            UnknownNameError: A place names a feature that is not there.
        """
        plate = self
        for feature in features:
            plate = plate._with(feature)
        return plate

    def _with(self, asked: Feature | Fitted) -> Plate:
        with concerning(part=self.name):
            feature = asked if isinstance(asked, Feature) else asked.fitted_to(self)
            with concerning(feature=feature.label):
                spots = spots_at(feature.at, self.frame)
            names = self._names_for(feature, len(spots))
            new = tuple(
                placed(feature, motion=spot, name=name)
                for spot, name in zip(spots, names, strict=True)
            )
            return replace(self, features=(*self.features, *new))

    def _names_for(self, feature: Feature, count: int) -> list[str]:
        if feature.name:
            several = [f"{feature.name} {k + 1}" for k in range(count)]
            names = [feature.name] if count == 1 else several
            taken = set(names) & {old.name for old in self.features}
            if taken:
                raise PartError(
                    f"there is a feature named {min(taken)!r} already",
                    remedy="give each feature a name of its own",
                )
            return names
        before = sum(old.kind == feature.kind for old in self.features)
        numbers = range(before + 1, before + count + 1)
        if before == 0 and count == 1:
            return [feature.kind]
        return [feature.kind if n == 1 else f"{feature.kind} {n}" for n in numbers]

    def feature(self, name: str) -> Placed:
        """Return the feature called `name`.

        Raises:
            UnknownNameError: There is none; the message lists those there are.
        """
        for one in self.features:
            if one.name == name:
                return one
        raise UnknownNameError.among("feature", name, [one.name for one in self.features])

    @property
    def frame(self) -> Frame:
        """What places see: the outline's bounds and the features by name."""
        return Frame(self.bounds, {one.name: one.motion for one in self.features})

    @property
    def bounds(self) -> Bounds:
        """Bounds of the outline."""
        return self.outline.bounds

    @cached_property
    def profile(self) -> Profile:
        """Exact nominal shape with every feature cut."""
        cuts: Iterable[Contour] = (cut for one in self.features for cut in one.cuts)
        return self.outline.with_holes(cuts)

    @cached_property
    def marks(self) -> tuple[Mark, ...]:
        """Every feature's marks."""
        return tuple(mark for one in self.features for mark in one.marks)

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """Every bought thing the features ask for."""
        return tuple(item for one in self.features for item in one.items)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is worth a look before cutting: thin webs."""
        return ()

    def part(self) -> Part:
        """Return the finished part: exact profile, marks with its name, items, findings."""
        return Part(
            self.name,
            self.sheet,
            self.profile,
            marks=self.marks,
            quantity=self.quantity,
            grain=self.grain,
            items=self.items,
            findings=self.findings,
        )


def _one_piece(outline: Outline, *, part: str) -> Profile:
    if isinstance(outline, Contour):
        return Profile(outline)
    if isinstance(outline, Profile):
        return outline
    if isinstance(outline, tuple) and len(outline) == 1 and isinstance(outline[0], Profile):
        return outline[0]
    if isinstance(outline, tuple):
        raise PartError(
            f"the outline is in {len(outline)} pieces",
            part=part,
            remedy="make one plate of each piece, or let them overlap",
        )
    raise PartError(
        f"the outline is a {type(outline).__name__}", part=part, remedy="give a contour or a profile"
    )


__all__ = ["Motion", "Plate"]
