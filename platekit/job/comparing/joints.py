"""Joints of two builds: of each pair of panels the one it had and the one it has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from platekit.export.build_assembly import JointRecord
from platekit.job.comparing.values import SAME_MM, Change, JointChange

# Which of the two panels is meant where it matters: of fingers and halvings both have the same.
_FIRST = {
    "tabs": "tabs of",
    "tongue": "tongue of",
    "screwed": "tabs of",
    "passing": "what passes",
    "butted": "what ends",
}


def changed_joints(
    old: Iterable[JointRecord], new: Iterable[JointRecord]
) -> tuple[JointChange, ...]:
    """Return the joints that are gone, those that are new, and what changed in others.

    A joint is known by its two panels. Its length is not compared: that is the size of parts.
    """
    were, are = _by_pair(old), _by_pair(new)
    changes: list[JointChange] = []
    for pair in dict.fromkeys([*were, *are]):
        changes += _of_pair(were.get(pair, []), are.get(pair, []))
    return tuple(changes)


def _by_pair(joints: Iterable[JointRecord]) -> dict[frozenset[str], list[JointRecord]]:
    pairs: dict[frozenset[str], list[JointRecord]] = {}
    for joint in joints:
        pairs.setdefault(frozenset(joint.between), []).append(joint)
    return pairs


def _of_pair(old: Sequence[JointRecord], new: Sequence[JointRecord]) -> Iterator[JointChange]:
    """Yield what became of a pair's joints: one, but for laminates with several."""
    gone, added = list(old), list(new)
    for was in old:  # of the same kind first: the rest is paired as it comes
        match = next((one for one in added if one.kind == was.kind), None)
        if match is not None:
            gone.remove(was)
            added.remove(match)
            yield from _change(was, match)
    for was, now in zip(gone, added, strict=False):
        yield from _change(was, now)
    for was in gone[len(added) :]:
        yield JointChange(between=was.between, kind=was.kind, fate="gone")
    for now in added[len(gone) :]:
        yield JointChange(between=now.between, kind=now.kind, fate="new")


def _change(old: JointRecord, new: JointRecord) -> Iterator[JointChange]:
    changes = tuple(_changes(old, new))
    if changes:
        yield JointChange(between=new.between, kind=new.kind, changes=changes)


def _changes(old: JointRecord, new: JointRecord) -> Iterator[Change]:
    if old.kind != new.kind:
        yield Change(name="kind", old=old.kind, new=new.kind)
    elif old.kind in _FIRST and old.between[0] != new.between[0]:
        yield Change(name=_FIRST[old.kind], old=old.between[0], new=new.between[0])
    if old.tabs != new.tabs:
        kinds = {old.kind, new.kind}
        name = "count" if len(kinds) > 1 else "fingers" if kinds == {"fingers"} else "tabs"
        yield Change(name=name, old=old.tabs, new=new.tabs)
    if old.screws != new.screws:
        yield Change(name="screws", old=old.screws, new=new.screws)
    if old.hold != new.hold:
        yield Change(name="hold", old=old.hold, new=new.hold)
    if _differ(old.clearance_mm, new.clearance_mm):
        yield Change(name="clearance", old=old.clearance_mm, new=new.clearance_mm, unit="mm")


def _differ(old: float | None, new: float | None) -> bool:
    if old is None or new is None:
        return old is not new
    return abs(old - new) > SAME_MM
