"""Plates: a sheet, an outline, and the features in it."""

from __future__ import annotations

from dataclasses import dataclass, field, fields
from functools import cached_property
from typing import Protocol, TypeGuard

from platekit.errors import PartError, UnknownNameError, concerning
from platekit.findings import Finding
from platekit.geometry.booleans import difference
from platekit.geometry.chains import Bounds, Contour
from platekit.geometry.gaps import gaps_between
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.profile import Profile
from platekit.hardware.items import Item
from platekit.materials.sheets import Sheet
from platekit.panel.checking import (
    crowded_rooms,
    require_clear,
    require_outline,
    stray_marks,
    thick_panels,
    thin_webs,
)
from platekit.panel.feature import Feature, Placed, placed
from platekit.panel.measures import require_length
from platekit.panel.naming import name_marks
from platekit.panel.part import (
    USUAL_LAYING,
    Grain,
    Laying,
    Mark,
    Part,
    require_quantity,
    require_safe_name,
)
from platekit.panel.places import Frame, spots_at
from platekit.showing import Shows

Outline = Contour | Profile | tuple[Profile, ...]


class Fitted(Protocol):
    """A feature that looks at the plate before it takes shape: lightening pockets, say."""

    def fitted_to(self, plate: Plate) -> Feature:
        """Return the feature as it fits into `plate`, all earlier features respected."""


@dataclass(frozen=True)
class Plate(Shows):
    """A plate cut from one sheet.

    Attributes:
        name: What files and lists call it; safe as a file name.
        sheet: What it is cut from.
        outline: Its shape before features: exact, y up. Given as a contour, a profile, or what a
            boolean gave back, which must be one piece.
        features: What is cut into it or marked on it, in place; add with `with_features`.
        quantity: How many are needed.
        grain: How the stock's face grain must lie.
        laying: What it asks of the sheets it is laid on: whether it may be cut face down, with
            which other plates, from which stock.
        least_web_mm: Thinnest web of material that is no finding; left out, what the sheet says.
        lettered: Whether its name is scored on it.

    Raises:
        PartError: Name, quantity, outline or web cannot be.
    """

    name: str
    sheet: Sheet
    outline: Profile
    features: tuple[Placed, ...] = field(default=(), kw_only=True)
    quantity: int = field(default=1, kw_only=True)
    grain: Grain = field(default=Grain.ANY, kw_only=True)
    laying: Laying = field(default=USUAL_LAYING, kw_only=True)
    least_web_mm: float | None = field(default=None, kw_only=True)
    lettered: bool = field(default=True, kw_only=True)

    def __init__(
        self,
        name: str,
        sheet: Sheet,
        outline: Outline,
        *,
        features: tuple[Placed, ...] = (),
        quantity: int = 1,
        grain: Grain = Grain.ANY,
        laying: Laying = USUAL_LAYING,
        least_web_mm: float | None = None,
        lettered: bool = True,
    ) -> None:
        require_safe_name(name)
        require_quantity(quantity, part=name)
        with concerning(part=name):
            shape = _one_piece(outline)
            require_outline(shape)
            if least_web_mm is not None:
                require_length(least_web_mm, "least_web_mm", zero=True)
        self._set(
            name=name,
            sheet=sheet,
            outline=shape,
            features=features,
            quantity=quantity,
            grain=grain,
            laying=laying,
            least_web_mm=least_web_mm,
            lettered=lettered,
        )
        with concerning(part=name):
            require_clear(self.edge, features, ())

    def _set(self, **values: object) -> None:
        for name, value in values.items():
            object.__setattr__(self, name, value)

    def _changed(self, **values: object) -> Plate:
        """Return a copy with values already known to be sound."""
        copy = object.__new__(Plate)
        copy._set(**{one.name: getattr(self, one.name) for one in fields(self)} | values)
        return copy

    def with_features(self, *features: Feature | Fitted) -> Plate:
        """Return the plate with further features, each placed and checked.

        Raises:
            PartError: A feature lies off the plate, across its edge or over another, or a name
                is taken.
            UnknownNameError: A place names a feature that is not there.
        """
        plate = self
        with concerning(part=self.name):
            for feature in features:
                plate = plate._with(feature)
            new = plate.features[len(self.features) :]
            opened = any(one.opens_edge for one in new)
            if opened:  # everything must be seen against the new edge
                require_clear(plate.edge, plate.features, ())
            else:
                plate.__dict__["edge"] = self.edge
                require_clear(plate.edge, new, self.features)
        return plate

    def cut_away(self, *cutters: Contour | Profile) -> Plate:
        """Return the plate with shapes, in plate coordinates, cut from its outline.

        Raises:
            PartError: Nothing or several pieces would be left, or a feature would lie off what
                is left.
        """
        with concerning(part=self.name):
            tools = [c if isinstance(c, Profile) else Profile(c) for c in cutters]
            left = difference(self.outline, *tools)
            shape = _one_piece(left)
            plate = self._changed(outline=shape)
            require_clear(plate.edge, plate.features, ())
        return plate

    def _with(self, asked: Feature | Fitted) -> Plate:
        if isinstance(asked, Feature):
            feature = asked
        elif hasattr(asked, "fitted_to"):
            feature = asked.fitted_to(self)
        else:
            raise PartError(
                f"a {type(asked).__name__} is no feature", remedy="give holes, slots, marks..."
            )
        with concerning(feature=feature.label):
            spots = spots_at(feature.at, self.frame)
            names = self._names_for(feature, len(spots))
        new = tuple(
            placed(feature, motion=spot, name=name) for spot, name in zip(spots, names, strict=True)
        )
        return self._changed(features=(*self.features, *new))

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
        if before == 0 and count == 1:
            return [feature.kind]
        numbers = range(before + 1, before + count + 1)
        return [feature.kind if n == 1 and count == 1 else f"{feature.kind} {n}" for n in numbers]

    def feature(self, name: str) -> Placed:
        """Return the feature called `name`.

        Raises:
            UnknownNameError: There is none; the message lists those there are.
        """
        for one in self.features:
            if one.name == name:
                return one
        with concerning(part=self.name):
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
    def edge(self) -> Profile:
        """The outline with notches and other cuts that open it taken away.

        Raises:
            PartError: A notch does not reach the edge, or cuts the plate in two.
        """
        openers = [one for one in self.features if one.opens_edge]
        shape = self.outline
        for one in openers:
            for cut in one.cuts:
                meets = gaps_between([cut], shape.rings, within_mm=SAME_POINT_MM)
                if not meets and not cut.encloses(shape.outer.start):
                    raise PartError(
                        "does not reach the plate's edge",
                        part=self.name,
                        feature=one.name,
                        remedy="move it to the edge, or make it a hole",
                    )
            with concerning(part=self.name, feature=one.name):
                shape = _one_piece(difference(shape, *(Profile(cut) for cut in one.cuts)))
        return shape

    @cached_property
    def profile(self) -> Profile:
        """Exact nominal shape with every feature cut."""
        return self.edge.with_holes(
            cut for one in self.features if not one.opens_edge for cut in one.cuts
        )

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Every feature's marks."""
        return tuple(mark for one in self.features for mark in one.marks)

    @property
    def items(self) -> tuple[Item, ...]:
        """Every bought thing the features ask for."""
        return tuple(item for one in self.features for item in one.items)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What is worth a look before cutting: thick plates, thin webs, crowded parts, marks."""
        own = self.least_web_mm is not None
        least = self.least_web_mm if self.least_web_mm is not None else self.sheet.least_web_mm
        source = "asked for on the plate" if own else "common practice, no source"
        webs = thin_webs(self.edge, self.features, part=self.name, least_mm=least, source=source)
        rooms = crowded_rooms(self.edge, self.features, part=self.name)
        thick = thick_panels(self.features, part=self.name, thickness_mm=self.sheet.thickness_mm)
        marks = stray_marks(self.profile, self.features, part=self.name)
        return thick + webs + rooms + marks

    def part(self) -> Part:
        """Return the finished part: exact profile, marks with its name, items, findings.

        Raises:
            PartError: It may be cut face down, but something is scored on its face.
        """
        self._require_flippable()
        marks, said = name_marks(
            self.profile,
            self.name if self.lettered else "",
            marks=self.marks,
            grain=self.grain if self.sheet.grain else Grain.ANY,
        )
        return Part(
            self.name,
            self.sheet,
            self.profile,
            marks=(*self.marks, *marks),
            quantity=self.quantity,
            grain=self.grain,
            laying=self.laying,
            items=self.items,
            findings=self.findings + said,
        )

    def _require_flippable(self) -> None:
        # What is scored belongs on the good face, and the beam only reaches the upper one: cut
        # face down, the lines would come out on the back and the wrong way round.
        scored = [f for f in self.features if any(mark.layer == "score" for mark in f.marks)]
        if self.laying.may_flip and scored:
            raise PartError(
                "it is scored on the good face, so the plate cannot be cut face down",
                part=self.name,
                feature=scored[0].name,
                remedy='leave may_flip out, or make the mark a note: layer="note"',
            )


def _all_profiles(outline: object) -> TypeGuard[tuple[Profile, ...]]:
    return isinstance(outline, tuple) and all(isinstance(piece, Profile) for piece in outline)


def _one_piece(outline: Outline) -> Profile:
    if isinstance(outline, Contour):
        return Profile(outline)
    if isinstance(outline, Profile):
        return outline
    if _all_profiles(outline):
        if len(outline) == 1:
            return outline[0]
        if not outline:
            raise PartError("nothing of the plate is left", remedy="cut less away")
        raise PartError(
            f"the plate falls into {len(outline)} pieces",
            remedy="cut less away, let the pieces overlap, or make a plate of each",
        )
    raise PartError(
        f"the outline is a {type(outline).__name__}", remedy="give a contour or a profile"
    )
