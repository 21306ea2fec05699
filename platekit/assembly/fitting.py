"""Fitting: the openings that a panel is cut to, its joints' clearances in them.

The rule stands with `Joint`: across the thickness the opening takes the whole clearance where it
grips on both sides and none where it is open on one; along the joint half of it lies at either
end, shared between two cut faces, or taken by the one face that is cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from platekit.assembly.claims import LOOK_BEYOND_MM, Claim, common
from platekit.assembly.joints import Joint, Practice
from platekit.assembly.ledger import Cession, joined_up, still_claimed
from platekit.errors import concerning
from platekit.geometry.chains import Contour, closed_polyline
from platekit.geometry.chords import ROUNDING_DIGITS
from platekit.geometry.points import SAME_POINT_MM
from platekit.geometry.strips import Interval
from platekit.materials import Hold

# Where nothing lies beyond a side, the cut runs out this far: no edge is cut along itself.
RUN_OUT_MM = LOOK_BEYOND_MM / 2


@dataclass(frozen=True)
class Opening:
    """A rectangle to be cut out of a panel for a joint.

    Attributes:
        cession: What it makes room for.
        shape: The rectangle, clearance included, in the panel's plane.
    """

    cession: Cession
    shape: Contour


def clearance_mm(joint: Joint, practice: Practice, claims: Sequence[Claim]) -> float:
    """Return the clearance of a joint, mm: its own, the practice's, or the freer material's.

    Raises:
        PartError: A press fit is asked of a material that would crack.
    """
    if joint.clearance_mm is not None:
        return joint.clearance_mm
    if practice.clearance_mm is not None:
        return practice.clearance_mm
    hold = joint.hold if joint.hold is not None else practice.hold
    with concerning(part=f"{joint.one} + {joint.other}"):
        return max(_material_clearance_mm(claim, joint.fit, hold) for claim in claims)


def _material_clearance_mm(claim: Claim, fit: str, hold: Hold) -> float:
    return max(plate.sheet.material.fits.of(fit).clearance_mm(hold) for plate in claim.panel.layers)


def openings(
    given: Mapping[str, Iterable[Cession]], practice: Practice
) -> dict[str, tuple[Opening, ...]]:
    """Return the openings of every panel, by name.

    Args:
        given: What each panel has given away, all pairs dealt.
        practice: Where joints do not say their own clearance.
    """
    whole = {name: joined_up(cessions) for name, cessions in given.items()}
    # What is left at each meeting, for both panels: asked for by every cession there.
    left: dict[tuple[frozenset[str], str], Claim] = {}
    for cessions in whole.values():
        for met in {c.meeting.names: c.meeting for c in cessions}.values():
            for claim in (met.one, met.other):
                if (met.names, claim.name) not in left:
                    left[met.names, claim.name] = still_claimed(claim, whole[claim.name])
    # Asked for by every opening of a meeting, the same for all of one joint.
    clearances: dict[tuple[int, frozenset[str]], float] = {}
    fitted = {}
    for name, cessions in whole.items():
        shapes = []
        for cession in cessions:
            met, mate = cession.meeting, cession.meeting.mate_of(name).name
            faces = [c for c in whole[mate] if c.meeting.names == met.names]
            # By identity: the ledger holds every joint as long as this runs.
            key = (id(cession.joint), met.names)
            if key not in clearances:
                clearances[key] = clearance_mm(cession.joint, practice, (met.one, met.other))
            shape = _shape(
                cession,
                mine=left[met.names, name],
                mate=left[met.names, mate],
                faces=faces,
                clearance=clearances[key],
            )
            shapes.append(Opening(cession, shape))
        fitted[name] = tuple(shapes)
    return fitted


def _shape(
    cession: Cession, *, mine: Claim, mate: Claim, faces: Sequence[Cession], clearance: float
) -> Contour:
    """Return the rectangle, grown on each side by its share of the clearance.

    Args:
        cession: What it makes room for.
        mine: What the panel still has there.
        mate: What the other still has there.
        faces: What the other gave to this one there: its own cut faces.
        clearance: Opening less what goes in, mm.
    """
    start, end = cession.start_mm, cession.end_mm
    ends = []
    for here, outward in ((start, -1.0), (end, 1.0)):
        if not _holds_at(mine.held, here + outward * LOOK_BEYOND_MM):
            ends.append(RUN_OUT_MM)
            continue
        cut_too = any(
            abs((face.end_mm if outward < 0 else face.start_mm) - here) <= SAME_POINT_MM
            for face in faces
        ) and _holds_at(mate.held, here - outward * LOOK_BEYOND_MM)
        ends.append(clearance / 4 if cut_too else clearance / 2)
    stretch = ((start, end),)
    below, above = common(mine.below, stretch), common(mine.above, stretch)
    if common(below, above):
        sides = [clearance / 2, clearance / 2]
    else:
        sides = [0.0 if side else RUN_OUT_MM for side in (below, above)]
    band = cession.loser.band
    s0, s1 = start - ends[0], end + ends[1]
    b0, b1 = band.low_mm - sides[0], band.high_mm + sides[1]
    corners = [band.point(s, b) for s, b in ((s0, b0), (s1, b0), (s1, b1), (s0, b1))]
    return closed_polyline(
        (round(x, ROUNDING_DIGITS), round(y, ROUNDING_DIGITS)) for x, y in corners
    )


def _holds_at(held: Iterable[Interval], s_mm: float) -> bool:
    return any(a < s_mm < b for a, b in held)
