"""Order of assembly of two builds: what comes in at another time or another way."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from platekit.export.build_assembly import StepRecord
from platekit.job.comparing.screws import place_of
from platekit.job.comparing.values import Change, MovedStep, OrderChange, StepChange

WAY = "comes in"

# A step is known by what it brings in; the number tells steps apart that bring in the same.
Key = tuple[tuple[str, ...], int]


def changed_order(old: Sequence[StepRecord], new: Sequence[StepRecord]) -> OrderChange:
    """Return how two orders of assembly differ.

    Moved are the fewest steps without which both orders are the same: what merely has another
    number since something came in before it has not moved.
    """
    were, are = _keyed(old), _keyed(new)
    before = {key: place for place, key in enumerate(were)}
    places = {key: place for place, key in enumerate(are)}
    shared = [key for key in were if key in places]
    stay = {shared[k] for k in _longest_rising([places[key] for key in shared])}
    return OrderChange(
        gone=tuple(old[before[key]].bring_in for key in were if key not in places),
        new=tuple(new[places[key]].bring_in for key in are if key not in before),
        moved=tuple(
            MovedStep(
                brings=new[places[key]].bring_in,
                old=before[key] + 1,
                new=places[key] + 1,
                after=_before(new, places[key]),
            )
            for key in are
            if key in before and key not in stay
        ),
        changed=tuple(
            StepChange(brings=new[places[key]].bring_in, changes=changes)
            for key in shared
            if (changes := tuple(_changes(old[before[key]], new[places[key]])))
        ),
    )


def _keyed(steps: Iterable[StepRecord]) -> list[Key]:
    seen: Counter[tuple[str, ...]] = Counter()
    keys = []
    for step in steps:
        brings = tuple(sorted(step.bring_in))
        keys.append((brings, seen[brings]))
        seen[brings] += 1
    return keys


def _before(steps: Sequence[StepRecord], place: int) -> tuple[str, ...]:
    """Return what comes in just before a step on the same heap; nothing where it is the first."""
    heap = steps[place].heap
    earlier = (step.bring_in for step in reversed(steps[:place]) if step.heap == heap)
    return next(earlier, ())


def _changes(old: StepRecord, new: StepRecord) -> Iterator[Change]:
    if old.direction != new.direction:
        yield Change(name=WAY, old=old.direction, new=new.direction)
    # By place: how many screws a place has is told with the screws.
    for name, was, now in (
        ("screws then", _places(old.fasteners), _places(new.fasteners)),
        ("belts then", list(old.belts), list(new.belts)),
        ("fitted before", list(old.fitted), list(new.fitted)),
    ):
        if was != now:
            yield Change(name=name, old=was or None, new=now or None)


def _places(screws: Iterable[str]) -> list[str]:
    return sorted({place_of(name) for name in screws})


def _longest_rising(numbers: Sequence[int]) -> list[int]:
    """Return the places of a longest rising subsequence.

    Source:
        Fredman, "On computing the length of longest increasing subsequences", Discrete
        Mathematics 11 (1975), 29-35 (from memory).
    """
    ends: list[int] = []  # the least number on which a run of each length ends
    at: list[int] = []  # where that number stands
    back: list[int] = []  # what stands before each number in its run
    for place, number in enumerate(numbers):
        length = bisect_left(ends, number)
        back.append(at[length - 1] if length else -1)
        ends[length : length + 1] = [number]
        at[length : length + 1] = [place]
    run = []
    place = at[-1] if at else -1
    while place >= 0:
        run.append(place)
        place = back[place]
    return run[::-1]
