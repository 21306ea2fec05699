"""What changed in joints, screws and the order of assembly, as rows of a name and what is said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from platekit.cli.compare_words import told_bought, told_change
from platekit.export.picture import together
from platekit.job.comparing.order import WAY
from platekit.job.comparing.values import (
    BillChange,
    Change,
    JointChange,
    MovedStep,
    OrderChange,
    ScrewChange,
)

Row = tuple[str, str]

# Of more steps than this it is not said what each comes after: nobody could follow.
MOST_PLACES = 4


def told_joints(joints: Iterable[JointChange]) -> Iterator[Row]:
    """Yield a row for everything that became of joints, with the pairs it became of."""
    pairs: dict[str, list[str]] = {}
    for joint in joints:
        what = "; ".join(map(_said, joint.changes))
        pair = together(" + ".join(joint.between))
        if joint.fate != "changed":
            what, pair = joint.fate, f"{pair} ({joint.kind})"
        pairs.setdefault(what, []).append(pair)
    for what, those in pairs.items():
        yield what, ", ".join(those)


def told_screws(screws: Iterable[ScrewChange]) -> Iterator[Row]:
    """Yield a row for every place whose screws changed."""
    for one in screws:
        yield one.place, _driven(one.screws)


def told_order(order: OrderChange) -> Iterator[Row]:
    """Yield what changed in the order of assembly: a line a kind of change."""
    for fate, those in (("gone", order.gone), ("new", order.new)):
        if those:
            yield fate, ", ".join(map(_brought, those))
    if order.moved:
        yield "order changed", _moved(order.moved)
    ways = [
        f"{_brought(step.brings)} {together(told_change(one))}"
        for step in order.changed
        for one in step.changes
        if one.name == WAY
    ]
    if ways:
        yield "another way", ", ".join(ways)
    others = [step for step in order.changed if any(one.name != WAY for one in step.changes)]
    if others:
        said = ", ".join(_brought(step.brings) for step in others)
        yield "other screws, belts", said


def _said(change: Change) -> str:
    said = told_change(change)
    return said if change.name == "kind" else f"{change.name} {said}"


def _moved(steps: Sequence[MovedStep]) -> str:
    if len(steps) > MOST_PLACES:
        return f"{len(steps)} steps moved: " + ", ".join(_brought(one.brings) for one in steps)
    places = (
        f"{_brought(one.brings)} now after {_brought(one.after)}"
        if one.after
        else f"{_brought(one.brings)} now first"
        for one in steps
    )
    return ", ".join(places)


def _brought(names: Iterable[str]) -> str:
    return together(" + ".join(names))


def _driven(change: BillChange) -> str:
    """Return what became of screws; of a designation that replaced another the word that differs.

    ``4 ISO 4762 M5x25 8.8 -> M5x30``
    """
    if not change.replaced_by:
        return told_bought(change)
    old, new = change.name.split(), change.replaced_by.split()
    words = [b for a, b in zip(old, new, strict=False) if a != b]
    if len(old) != len(new) or len(words) != 1 or change.old != change.new:
        return f"{change.old} {change.name} -> {change.new} {change.replaced_by}"
    return f"{change.old} {change.name} -> {words[0]}"
