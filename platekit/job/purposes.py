"""What every cut is for: features that were asked for, and what joints cut by themselves."""

from __future__ import annotations

from platekit.job.beams import Named
from platekit.job.resolving import Given


def purposes_of(given: Given) -> Named:
    """Return by part name, in the part's coordinates, what it is cut for.

    What was asked for comes first, joints' own slots and screw holes after it.
    """
    dealt = {} if given.whole is None else given.whole[1].cuts
    return {
        name: (*given.named.get(name, ()), *dealt.get(name, ()))
        for name in (*given.named, *(name for name in dealt if name not in given.named))
    }
