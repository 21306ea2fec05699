"""Rules: by which rule each kind of joint deals, and with what widths."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.assembly.choosing import halving_owners
from platekit.assembly.claims import Meeting
from platekit.assembly.dealing import (
    Deal,
    Run,
    blocks_within,
    deal_fingers,
    deal_halves,
    deal_screwed,
    deal_tabs,
    deal_tongue,
    deal_whole,
)
from platekit.assembly.joints import (
    Fingers,
    Halving,
    Joint,
    Passing,
    Practice,
    Screwed,
    Tabs,
    Tongue,
)
from platekit.errors import PartError
from platekit.geometry.strips import Interval


def run_along(
    met: Meeting,
    joint: Joint,
    practice: Practice,
    *,
    blocks: Sequence[Interval],
    bar: Interval,
) -> Run:
    """Return a bar as a run to be dealt out, with the widths that sheets and joint allow.

    Args:
        met: Where the two panels meet.
        joint: The joint, which may name a width.
        practice: Where the joint names none.
        blocks: Where third panels claim the bar too.
        bar: The length to be dealt.

    Raises:
        PartError: The joint names a width that its sheets do not allow or the bar does not hold.
    """
    sheets = [plate.sheet for side in (met.one, met.other) for plate in side.panel.layers]
    thickest = max(met.one.panel.thickness_mm, met.other.panel.thickness_mm)
    limit = max(sheet.least_finger_mm for sheet in sheets)
    asked = getattr(joint, "width_mm", None) or practice.finger_width_mm
    named = getattr(joint, "width_mm", None)
    length = bar[1] - bar[0]
    if named is not None and not limit <= named <= length:
        raise PartError(
            f"a width of {named:g} mm is asked for around {met.where(sum(bar) / 2)}",
            part=met.label,
            feature=joint.kind,
            remedy=f"give {limit:g} mm, the least of the sheet, to {length:.6g} mm, all they share",
        )
    aim = asked if asked is not None else max(3.0 * thickest, limit)
    return Run(
        start_mm=bar[0],
        end_mm=bar[1],
        blocks=blocks_within(blocks, *bar),
        least_mm=max(min(2.0 * thickest, aim), limit),
        limit_mm=limit,
        aim_mm=aim,
        thickness_mm=thickest,
        exact=getattr(joint, "width_mm", None) is not None,
    )


def dealt(run: Run, joint: Joint, met: Meeting) -> Deal:
    """Return the run dealt by the joint's rule."""
    one, other = joint.one, joint.other
    match joint:
        case Fingers():
            first = joint.first or met.one.name
            second = met.mate_of(first).name
            deal = deal_fingers(run, first=first, second=second, count=joint.count)
        case Tabs():
            deal = deal_tabs(run, tabbed=one, slotted=other, count=joint.count)
        case Screwed():
            deal = deal_screwed(run, tabbed=one, slotted=other, screws=joint.screws)
        case Tongue():
            deal = deal_tongue(run, tabbed=one, slotted=other, shoulder_mm=joint.shoulder_mm)
        case Halving():
            lower, upper = _halves(run, joint, met)
            deal = deal_halves(run, lower=lower, upper=upper)
        case Passing():
            deal = deal_whole(run, owner=one)
        case _:
            deal = deal_whole(run, owner=other)
    return deal


def _halves(run: Run, joint: Halving, met: Meeting) -> tuple[str, str]:
    """Return who owns the lower and who the upper half: a way that slides together, as asked."""
    ways = halving_owners(met, (run.start_mm, run.end_mm))
    fitting = [way for way in ways if joint.slotted_first in (None, way[1])]
    return fitting[0] if fitting else (met.other.name, met.one.name)
