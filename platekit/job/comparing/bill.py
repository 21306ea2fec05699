"""What is to be bought otherwise, by designation, and what took the place of what."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping

from platekit.export.bill import BillKind, BillLine
from platekit.job.comparing.values import BillChange

_FIGURE = re.compile(r"\d+(?:\.\d+)?")


def changed_hardware(old: Iterable[BillLine], new: Iterable[BillLine]) -> tuple[BillChange, ...]:
    """Return how the bought things of two bills differ.

    The places where a thing goes are added up; what replaced what is told as `changed_counts` has
    it.
    """
    return changed_counts(_counted(old), _counted(new))


def changed_counts(were: Counter[str], are: Counter[str]) -> tuple[BillChange, ...]:
    """Return how two counts of things by designation differ.

    Where one designation is gone and another is new that differs from it in a single figure
    (M5x20 and M5x25), the one replaced the other.
    """
    gone = [name for name in were if name not in are]
    added = [name for name in are if name not in were]
    pairs = _replaced({name: were[name] for name in gone}, {name: are[name] for name in added})
    changes = []
    for name, count in were.items():
        if name in pairs:
            after = pairs[name]
            changes.append(BillChange(name=name, old=count, new=are[after], replaced_by=after))
        elif are[name] != count:
            changes.append(BillChange(name=name, old=count, new=are[name]))
    taken = set(pairs.values())
    changes += [BillChange(name=name, old=0, new=are[name]) for name in added if name not in taken]
    return tuple(changes)


def _counted(lines: Iterable[BillLine]) -> Counter[str]:
    counts: Counter[str] = Counter()
    for line in lines:
        if line.kind is BillKind.HARDWARE:
            counts[line.name] += line.quantity
    return counts


def _replaced(gone: Mapping[str, int], added: Mapping[str, int]) -> dict[str, str]:
    """Return which designation took the place of which.

    A figure further back goes first, then as many of it, then the nearest: M5x20 gives way to
    M5x25 rather than to M5x40, and to either rather than to M4x20; but 7 of M3x8 to 7 of M3x16 and
    not to 4 of M3x12, which then stand for something else.
    """
    near: list[tuple[int, bool, float, int, int]] = []
    for i, (old, count) in enumerate(gone.items()):
        for j, (new, now) in enumerate(added.items()):
            step = _step(old, new)
            if step is not None:
                place, by = step
                near.append((place, count != now, by, i, j))
    old_names, new_names = list(gone), list(added)
    pairs: dict[int, int] = {}
    for *_, i, j in sorted(near):
        if i not in pairs and j not in pairs.values():
            pairs[i] = j
    return {old_names[i]: new_names[j] for i, j in pairs.items()}


def _step(old: str, new: str) -> tuple[int, float] | None:
    """Return where from the end, and by what, the one figure differs that does; else None."""
    if _FIGURE.sub("#", old) != _FIGURE.sub("#", new):
        return None
    figures = list(zip(_FIGURE.findall(old), _FIGURE.findall(new), strict=True))
    steps = [(k, abs(float(a) - float(b))) for k, (a, b) in enumerate(reversed(figures)) if a != b]
    return steps[0] if len(steps) == 1 else None
