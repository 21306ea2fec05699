"""Reports: what joints have to say about themselves, as findings."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.assembly.claims import Claim, Meeting, common
from platekit.assembly.dealing import Deal
from platekit.assembly.joints import Butted, Fingers, Halving, Joint, Passing
from platekit.findings import Finding, Severity
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.strips import Interval

# A part-way edge shorter than this is a step of an outline, not a panel drawn to the wrong length.
LEAST_PART_WAY_MM = 1.0


def part_way_findings(met: Meeting, joint: Joint) -> tuple[Finding, ...]:
    """Return a finding for every edge that ends inside the other panel: a blind pocket.

    Judged on the panels as drawn, before anything was dealt. A butted joint that says the panel
    stops at the face has said it all already.
    """
    found = []
    for claim, mate in ((met.one, met.other), (met.other, met.one)):
        if isinstance(joint, Butted) and joint.one == claim.name and met.bars:
            continue
        for ledge in claim.ledges:
            along = common([(ledge.start_mm, ledge.end_mm)], mate.held)
            for start, end in along:
                if end - start >= LEAST_PART_WAY_MM:
                    found.append(_part_way(met, claim, mate, (start, end), ledge.across_mm))
    return tuple(found)


def _part_way(met: Meeting, claim: Claim, mate: Claim, run: Interval, across_mm: float) -> Finding:
    low, high = claim.band.low_mm, claim.band.high_mm
    middle = (run[0] + run[1]) / 2
    below = any(
        plate.outline.contains(claim.band.point(middle, across_mm - 10 * SAME_POINT_MM))
        for plate in claim.panel.layers
    )
    reach = across_mm - low if below else high - across_mm
    thickness = high - low
    return Finding(
        severity=Severity.STOP,
        part=met.label,
        feature=f"edge of {claim.name} around {met.where(middle)}",
        measure=f"reach of {claim.name} into {mate.name}",
        value=reach,
        limit=thickness,
        unit="mm",
        source="a laser cuts right through: no pocket is blind",
        remedy=f"end {claim.name} at the face of {mate.name} ({reach:.4g} mm shorter), or let it "
        f"pass right through ({thickness - reach:.4g} mm longer)",
        check="made.pocket",
    )


def dealt_findings(
    met: Meeting, joint: Joint, bars: Sequence[Interval], deals: Sequence[Deal]
) -> tuple[Finding, ...]:
    """Return what is wrong with a joint as dealt: too thin, or nothing interlocks."""
    if isinstance(joint, (Butted, Passing)):
        return ()
    limit = max(
        plate.sheet.least_finger_mm for side in (met.one, met.other) for plate in side.panel.layers
    )
    what = "finger" if isinstance(joint, Fingers) else "tab"
    if isinstance(joint, Halving):
        what = "half"
    found = []
    for (start, end), deal in zip(bars, deals, strict=True):
        thinnest = deal.thinnest_mm
        if (deal.interlocks or deal.most) and thinnest < limit - SAME_POINT_MM:
            asked = "screws" if getattr(joint, "screws", None) else f"{what}s"
            fewer = f"use at most {deal.most} {asked}" if deal.most > 1 else "lengthen the edge"
            found.append(
                Finding(
                    severity=Severity.STOP,
                    part=met.label,
                    feature=f"{joint.label} around {met.where((start + end) / 2)}",
                    measure=f"{what} width",
                    value=round(thinnest, 4),
                    limit=limit,
                    unit="mm",
                    source="least finger of the material, common practice, no source",
                    remedy=f"{fewer}, or choose a thinner sheet",
                    check="made.finger",
                    margin=thinnest / limit,
                )
            )
    if bars and not any(deal.interlocks for deal in deals):
        start, end = max(bars, key=lambda bar: bar[1] - bar[0])
        found.append(
            Finding(
                severity=Severity.WARNING,
                part=met.label,
                feature=f"{joint.label} around {met.where((start + end) / 2)}",
                measure=f"length of the joint, too short for {what}s: the two only butt",
                value=round(end - start, 4),
                limit=2 * limit if isinstance(joint, Fingers) else 3 * limit,
                unit="mm",
                source="least finger of the material, common practice, no source",
                remedy="lengthen the edge, choose a thinner sheet, or say butted()",
                check="made.finger",
            )
        )
    return tuple(found)
