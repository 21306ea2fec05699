"""Screws of two builds, place by place."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable

from platekit.export.build_assembly import FastenerRecord
from platekit.job.comparing.bill import changed_counts
from platekit.job.comparing.values import BillChange, ScrewChange

_PAIR = " + "
_NUMBER = re.compile(r"(?: screw)? \d+$")


def changed_screws(
    old: Iterable[FastenerRecord], new: Iterable[FastenerRecord]
) -> tuple[ScrewChange, ...]:
    """Return how the screws of two builds differ, counted in each place by designation.

    Where a place has one designation and had one other, the one replaced the other.
    """
    were, are = _by_place(old), _by_place(new)
    return tuple(
        ScrewChange(place=place, screws=change)
        for place in dict.fromkeys([*were, *are])
        for change in _in_place(were.get(place, Counter()), are.get(place, Counter()))
    )


def _in_place(were: Counter[str], are: Counter[str]) -> tuple[BillChange, ...]:
    if len(were) == len(are) == 1 and were.keys() != are.keys():
        ((old, count),), ((new, counts),) = were.items(), are.items()
        return (BillChange(name=old, old=count, new=counts, replaced_by=new),)
    return changed_counts(were, are)


def place_of(name: str) -> str:
    """Return where a screw goes: its name without its number, two panels by the alphabet.

    Example:
        >>> place_of("motor screw 2"), place_of("tension bolt 1"), place_of("lid + base screw 1")
        ('motor', 'tension bolt', 'base + lid')
    """
    return _PAIR.join(sorted(_NUMBER.sub("", name).split(_PAIR)))


def _by_place(screws: Iterable[FastenerRecord]) -> dict[str, Counter[str]]:
    places: dict[str, Counter[str]] = {}
    for screw in screws:
        places.setdefault(place_of(screw.name), Counter())[screw.designation] += 1
    return places
