"""What differs between two builds, as values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from platekit.export.picture_overlay import Overlay
from platekit.findings import Finding

Fate = Literal["changed", "new", "gone"]
Trend = Literal["worse", "better", "changed"]

# Figures in a record are rounded to a nanometre, and noise may tip them over: what lies within
# ten of them is the same.
SAME_MM = 1e-5


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that one build says otherwise than the other.

    Attributes:
        name: What it is: "kerf", "width_mm", "thickness".
        old: What the old build says; None where it says nothing.
        new: What the new build says; None where it says nothing.
        unit: "mm", "mm2", "%" or "" for a plain count, a text, a list.
        fate: Whether the thing itself is new or gone.
    """

    name: str
    old: object = None
    new: object = None
    unit: str = ""
    fate: Fate = "changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class PartChange:
    """A part that both builds have and that is not the same in both.

    Attributes:
        name: Its name.
        changes: What differs in figures.
        shape: The two outlines, where they differ.
    """

    name: str
    changes: tuple[Change, ...]
    shape: Overlay | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BillChange:
    """A bought thing of which more, fewer or others are needed.

    Attributes:
        name: Its designation in the old build, or in the new one where it is new.
        old: How many there were; 0 where it is new.
        new: How many there are; 0 where it is gone.
        replaced_by: Designation of what stands in its place, "" where nothing does.
    """

    name: str
    old: int
    new: int
    replaced_by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointChange:
    """A joint that is new, gone, or made otherwise.

    Attributes:
        between: Names of both panels; where one has the tabs, it stands first.
        kind: What it is, or was where it is gone: "fingers", "tabs".
        changes: What differs, where both builds have it.
        fate: Whether the joint itself is new or gone.
    """

    between: tuple[str, str]
    kind: str
    changes: tuple[Change, ...] = ()
    fate: Fate = "changed"


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewChange:
    """Screws of one place of which more, fewer or others are driven.

    Attributes:
        place: The device, the bolt or the pair of panels they belong to.
        screws: What became of them.
    """

    place: str
    screws: BillChange


@dataclass(frozen=True, slots=True, kw_only=True)
class MovedStep:
    """A step of assembly that comes earlier or later than it did.

    Attributes:
        brings: What is brought in.
        old: Its number in the old order, from 1.
        new: Its number in the new one.
        after: What comes in just before it now, on the same heap; nothing where it is the first.
    """

    brings: tuple[str, ...]
    old: int
    new: int
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StepChange:
    """A step of assembly that is done otherwise: another way in, other belts or screws then."""

    brings: tuple[str, ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderChange:
    """How the order of assembly differs.

    Attributes:
        gone: What the old order brings in and the new one does not.
        new: What the new order brings in and the old one does not.
        moved: As few steps as can be that come at another time, seen from all the others.
        changed: Steps done otherwise.
    """

    gone: tuple[tuple[str, ...], ...] = ()
    new: tuple[tuple[str, ...], ...] = ()
    moved: tuple[MovedStep, ...] = ()
    changed: tuple[StepChange, ...] = ()

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not (self.gone or self.new or self.moved or self.changed)


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingChange:
    """A finding that both builds have, with other figures or of another weight."""

    old: Finding
    new: Finding
    trend: Trend


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of the two builds.

    Attributes:
        label: What tells it from the other one: the end of its path.
        recipe: Name of its recipe.
        platekit: Version that made it.
    """

    label: str
    recipe: str
    platekit: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """All that differs between two builds, each group in the order of the builds.

    Attributes:
        old: The one build.
        new: The other.
        inputs: What went in otherwise.
        gone_parts: Names of parts that the new build lacks.
        new_parts: Names of parts that the old build lacked.
        changed_parts: Parts that are not the same.
        joints: Joints that are not the same.
        screws: Screws that are not the same, by place.
        order: How the order of assembly differs.
        hardware: What is to be bought otherwise.
        sheets: How the nested sheets differ.
        prices: How the sums of the bills differ.
        gone_findings: What the checks say no longer.
        new_findings: What the checks did not say before.
        changed_findings: What they say otherwise.
    """

    old: Side
    new: Side
    inputs: tuple[Change, ...] = ()
    gone_parts: tuple[str, ...] = ()
    new_parts: tuple[str, ...] = ()
    changed_parts: tuple[PartChange, ...] = ()
    joints: tuple[JointChange, ...] = ()
    screws: tuple[ScrewChange, ...] = ()
    order: OrderChange = OrderChange()
    hardware: tuple[BillChange, ...] = ()
    sheets: tuple[Change, ...] = ()
    prices: tuple[Change, ...] = ()
    gone_findings: tuple[Finding, ...] = ()
    new_findings: tuple[Finding, ...] = ()
    changed_findings: tuple[FindingChange, ...] = ()

    @property
    def same(self) -> bool:
        """Whether nothing differs."""
        return not any(
            (
                self.inputs,
                self.gone_parts,
                self.new_parts,
                self.changed_parts,
                self.joints,
                self.screws,
                not self.order.same,
                self.hardware,
                self.sheets,
                self.prices,
                self.gone_findings,
                self.new_findings,
                self.changed_findings,
            )
        )


def changes_between(
    old: Mapping[str, object], new: Mapping[str, object], *, before: str = ""
) -> Iterator[Change]:
    """Yield how two sets of plain values differ: first what the old one has, then what is new.

    Args:
        old: Values by name; an object among them is gone into.
        new: The same.
        before: What is put before every name.
    """
    for name, value in old.items():
        said = f"{before}{name}"
        if name not in new:
            yield Change(name=said, old=value, fate="gone")
            continue
        other = new[name]
        if isinstance(value, Mapping) and isinstance(other, Mapping):
            yield from changes_between(value, other, before=f"{said} / ")
        elif value != other:
            yield Change(name=said, old=value, new=other)
    for name, value in new.items():
        if name not in old:
            yield Change(name=f"{before}{name}", new=value, fate="new")


def trend_of(old: Finding, new: Finding) -> Trend:
    """Return whether a finding is worse or better than it was.

    A graver one is worse. Of two as grave as each other the one with less margin is worse, or
    the one further beyond its limit; where there is no limit, or one lies on its other side,
    nobody can say.
    """
    if old.severity != new.severity:
        return "worse" if new.severity > old.severity else "better"
    if old.margin is not None and new.margin is not None and old.margin != new.margin:
        return "worse" if new.margin < old.margin else "better"
    if None in (old.value, old.limit, new.value, new.limit):
        return "changed"
    was, now = (float(one.value or 0) - float(one.limit or 0) for one in (old, new))
    if was * now < 0 or abs(was) == abs(now):
        return "changed"
    return "worse" if abs(now) > abs(was) else "better"
