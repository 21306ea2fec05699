"""Sharing: the time and the progress of a nesting, divided among its groups by their area."""

from __future__ import annotations

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.nesting.groups import Group
from platekit.nesting.values import Progress


@dataclass(frozen=True, slots=True)
class Share:
    """What one group gets.

    Attributes:
        group: The group.
        seconds: Its time, above 0; None for as long as it takes.
        progress: To be called with the share of the group's own work that is done, 0 to 1.
    """

    group: Group
    seconds: float | None
    progress: Progress | None


def shares(
    groups: Sequence[Group], *, seconds: float | None, progress: Progress | None
) -> Iterator[Share]:
    """Yield what each group gets, when its turn comes: time that was left over goes to the rest.

    Args:
        groups: Who shares.
        seconds: Time for all of them; None for as long as it takes.
        progress: Hears of all of them together.
    """
    whole = left = sum(group.area_mm2 for group in groups)
    ends = None if seconds is None else time.monotonic() + seconds
    for group in groups:
        time_left = None if ends is None else max(ends - time.monotonic(), 1e-3)
        yield Share(
            group,
            None if time_left is None else time_left * group.area_mm2 / left,
            _part_of(
                progress,
                begins=1.0 - left / whole,
                share=group.area_mm2 / whole,
                of=f"{group}: " if len(groups) > 1 else "",
            ),
        )
        left = max(left - group.area_mm2, 0.0)


def _part_of(progress: Progress | None, *, begins: float, share: float, of: str) -> Progress | None:
    if progress is None:
        return None

    def tell(done: float, said: str) -> None:
        progress(min(begins + share * done, 1.0), of + said)

    return tell
