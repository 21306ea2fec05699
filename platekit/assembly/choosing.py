"""Choosing: which joint a pair of panels gets, and whether the one asked for can work."""

from __future__ import annotations

from platekit.assembly.claims import LOOK_BEYOND_MM, Claim, Meeting, total
from platekit.assembly.joints import (
    Butted,
    Fingers,
    Halving,
    Joint,
    Passing,
    Screwed,
    Tabs,
    Tongue,
)
from platekit.errors import PartError
from platekit.geometry.strips import Interval


def passes_over(claim: Claim, bars: tuple[Interval, ...]) -> bool:
    """Return whether a panel goes on beyond both faces of the other, judged along most of it."""
    over = sum(end - start for start, end in bars if claim.passes_over(start, end))
    return over > total(bars) / 2


def ends_at(claim: Claim, s_mm: float, *, outward: float) -> bool:
    """Return whether a panel has no material in the band just beyond one end of a bar."""
    look = s_mm + outward * LOOK_BEYOND_MM
    return not any(a < look < b for a, b in claim.held)


def halving_owners(met: Meeting, bar: Interval) -> tuple[tuple[str, str], ...]:
    """Return the ways two crossing panels slide together along a bar.

    Each is (owner of the lower half, owner of the upper half). A panel's slot lies where the
    other owns, and must be open at that end, or the two never meet.
    """
    start, end = bar
    ways = []
    for lower, upper in ((met.one, met.other), (met.other, met.one)):
        if ends_at(upper, start, outward=-1.0) and ends_at(lower, end, outward=1.0):
            ways.append((lower.name, upper.name))
    return tuple(ways)


def chosen(met: Meeting, bars: tuple[Interval, ...]) -> Joint:
    """Return the joint a pair gets when the recipe says nothing.

    Fingers where both end, tabs where one ends in the other, a halving where they cross; where
    they cross and no halving slides together, the one whose edges lie within passes through.
    """
    one, other = met.one.name, met.other.name
    over = [claim.name for claim in (met.one, met.other) if passes_over(claim, bars)]
    if not over:
        return Fingers(one=one, other=other)
    if len(over) == 1:
        return Tabs(one=other if over == [one] else one, other=over[0])
    if len(bars) == 1 and halving_owners(met, bars[0]):
        return Halving(one=one, other=other)
    narrow = narrower(met, bars)
    if narrow is not None:
        return Passing(one=narrow, other=other if narrow == one else one)
    return Halving(one=one, other=other)


def narrower(met: Meeting, bars: tuple[Interval, ...]) -> str | None:
    """Return the panel that ends at both ends of the only bar, and so can pass; None if none."""
    if len(bars) != 1:
        return None
    for claim in (met.one, met.other):
        if ends_at(claim, bars[0][0], outward=-1.0) and ends_at(claim, bars[0][1], outward=1.0):
            return claim.name
    return None


def require_workable(joint: Joint, met: Meeting, bars: tuple[Interval, ...]) -> None:
    """Raise when a joint asked for cannot work where the two panels meet.

    Raises:
        PartError: Names both panels, the place, why, and what would work.
    """
    if not bars:
        return
    over = [claim.name for claim in (met.one, met.other) if passes_over(claim, bars)]
    where = met.where((bars[0][0] + bars[0][1]) / 2)
    problem = remedy = ""
    if isinstance(joint, Fingers) and len(over) == 2:
        problem = "the two cross, and fingers would be caged in slots"
        remedy = "use halving(), or end one of them at the other's face"
    elif isinstance(joint, (Tabs, Tongue, Screwed)) and joint.one in over:
        problem = f"{joint.one} goes on beyond {joint.other}, and its tabs would be caged"
        remedy = f"end {joint.one} at the far face of {joint.other}, or use passing() or halving()"
    elif isinstance(joint, Butted) and joint.one in over:
        problem = f"{joint.one} goes on beyond {joint.other} and would be cut in two"
        remedy = f"end {joint.one} at {joint.other}, or use passing() or halving()"
    elif isinstance(joint, Halving):
        problem, remedy = _halving_problem(joint, met, bars)
    if problem:
        raise PartError(
            f"{problem}, around {where}",
            part=f"{joint.one} + {joint.other}",
            feature=joint.kind,
            remedy=remedy,
        )


def _halving_problem(joint: Halving, met: Meeting, bars: tuple[Interval, ...]) -> tuple[str, str]:
    over = [claim.name for claim in (met.one, met.other) if passes_over(claim, bars)]
    if len(over) < 2:
        ends = ({joint.one, joint.other} - set(over)).pop()
        return (f"the two do not cross: {ends} ends there", "use fingers() or tabs()")
    if len(bars) > 1:
        return (
            f"they cross in {len(bars)} separate bars and never slide together",
            "close the window between the bars, or let one panel end",
        )
    ways = halving_owners(met, bars[0])
    if not ways:
        return (
            "no slot would open at an edge, and they never slide together",
            "let one of them end where the other goes on, or use passing()",
        )
    slotted = joint.slotted_first
    if slotted is not None and all(upper != slotted for _, upper in ways):
        return (
            f"the slot of {slotted} would not open at an edge",
            f"give slotted_first={ways[0][1]!r} or leave it out",
        )
    return "", ""
