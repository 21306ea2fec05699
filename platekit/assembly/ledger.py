"""The ledger: what each panel has given away so far, and what it still claims.

Pairs are dealt one after the other against what is still claimed, so a corner where three panels
meet is dealt twice at most and owned once.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from platekit.assembly.claims import LOOK_BEYOND_MM, Claim, Meeting, common, less
from platekit.assembly.joints import Joint
from platekit.geometry.points import SAME_POINT_MM, Point
from platekit.geometry.strips import Band, Interval, merged

# Bands whose directions are further from parallel or square than this lie askew: their panels do
# not share volume, or they would have been refused.
ASKEW = 1e-9


@dataclass(frozen=True)
class Cession:
    """A stretch of its band that a panel has given away.

    Attributes:
        loser: Claim of the panel that gives it away.
        owner: Name of the panel that has it now.
        meeting: Where the two meet.
        joint: The joint that dealt it.
        start_mm: Where it begins along the band.
        end_mm: Where it ends.
    """

    loser: Claim
    owner: str
    meeting: Meeting
    joint: Joint
    start_mm: float
    end_mm: float

    @cached_property
    def corners(self) -> tuple[Point, Point]:
        """Return two opposite corners in the loser's plane, at nominal size."""
        band = self.loser.band
        return (
            band.point(self.start_mm, band.low_mm),
            band.point(self.end_mm, band.high_mm),
        )


@dataclass(frozen=True)
class Box:
    """A cession as another band of the same panel sees it: a range along it and across it."""

    along: Interval
    across: Interval


def seen_from(band: Band, cession: Cession) -> Box | None:
    """Return a cession in the coordinates of `band`, in the same panel's plane; None if askew."""
    own = cession.loser.band
    turned = abs(own.along[0] * band.along[0] + own.along[1] * band.along[1])
    if min(turned, abs(turned - 1.0)) > ASKEW:
        return None
    (s0, b0), (s1, b1) = (band.coordinates(corner) for corner in cession.corners)
    return Box((min(s0, s1), max(s0, s1)), (min(b0, b1), max(b0, b1)))


def still_claimed(claim: Claim, cessions: Iterable[Cession]) -> Claim:
    """Return `claim` without what its panel has given away."""
    full, partial = claim.full, claim.partial
    low, high = claim.band.low_mm, claim.band.high_mm
    below, above = claim.below, claim.above
    for cession in cessions:
        box = seen_from(claim.band, cession)
        if box is None:
            continue
        gone = (box.along,)
        b0, b1 = box.across
        if b0 < low - SAME_POINT_MM and b1 > low - LOOK_BEYOND_MM / 2:
            below = less(below, gone)
        if b1 > high + SAME_POINT_MM and b0 < high + LOOK_BEYOND_MM / 2:
            above = less(above, gone)
        if b1 <= low + SAME_POINT_MM or b0 >= high - SAME_POINT_MM:
            continue
        if b0 <= low + SAME_POINT_MM and b1 >= high - SAME_POINT_MM:
            full, partial = less(full, gone), less(partial, gone)
        else:
            partial = merged((*partial, *common(full, gone)))
            full = less(full, gone)
    return replace(claim, full=full, partial=partial, below=below, above=above)


def joined_up(cessions: Iterable[Cession]) -> tuple[Cession, ...]:
    """Return the cessions of one panel with neighbours of one meeting made one."""
    whole: list[Cession] = []
    order = sorted(cessions, key=lambda c: (sorted(c.meeting.names), c.start_mm))
    for cession in order:
        last = whole[-1] if whole else None
        if (
            last is not None
            and last.meeting.names == cession.meeting.names
            and cession.start_mm <= last.end_mm + SAME_POINT_MM
        ):
            whole[-1] = replace(last, end_mm=max(last.end_mm, cession.end_mm))
        else:
            whole.append(cession)
    return tuple(whole)
