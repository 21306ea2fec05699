"""The bed: parts too large for it, pieces that fall or tip through its grid."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from platekit.checks.made.notes import as_note
from platekit.checks.subject import Piece, Subject
from platekit.checks.weighing import ADVICE, Scale, weighed
from platekit.findings import Finding, Severity
from platekit.geometry.chains import Contour
from platekit.geometry.chords import polyline_points
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats

CHORDS_MM = 0.05
# It fits or it does not.
FITS = Scale(stop=1.0, warn=1.0)
# What just fits must not fail by its last bit.
ROUNDING_DIGITS = 6
# So many parts that do not fit are named, the largest first.
MOST_NAMED = 12
# A part is turned so finely on the bed to see whether it fits at all, then again where it is best.
STEP_DEG, FINE_DEG = 1.0, 0.01
# What is shorter than so many cells may hang in one by an end and stand up into the head.
TIPS_CELLS = 2.0
# More loose cut-outs that may tip in one part are worth a word: common practice, no source.
MANY_SLUGS = 40


def on_bed(subject: Subject) -> Iterator[Finding]:
    """Yield for every part whether its cut path fits the bed, turned as suits it best.

    All that do not fit are one finding, that of the largest: the bed is too small for them.
    """
    if subject.bed_mm is None:
        return
    found = [_fits(piece, subject.bed_mm) for piece in subject.pieces]
    large = sorted((one for one in found if one.severity is Severity.STOP), key=_margin)
    if large:
        yield replace(large[0], measure=f"{large[0].measure}{_further(large[1:])}")
    yield from (one for one in found if one.severity is not Severity.STOP)


def _fits(piece: Piece, bed: tuple[float, float]) -> Finding:
    needed, has, turn_deg = _best_turn(piece.path, bed)
    turned = f" turned by {turn_deg:.4g} deg" if turn_deg % 90.0 else ""
    return weighed(
        "made.bed",
        part=piece.part.name,
        measure=f"what its cut path needs on a bed of {bed[0]:g} x {bed[1]:g} mm{turned}",
        value=round(needed, ROUNDING_DIGITS),
        most=has,
        unit="mm",
        source="size of the bed, as given",
        remedy="make it in two parts with a joint between them, or cut it on a larger machine",
        scale=FITS,
    )


def _margin(one: Finding) -> float:
    return one.margin or 0.0


def _further(large: Sequence[Finding]) -> str:
    """Return what else does not fit, in words."""
    if not large:
        return ""
    names = ", ".join(one.part for one in large[:MOST_NAMED])
    more = f" and {len(large) - MOST_NAMED} more" if len(large) > MOST_NAMED else ""
    return f"; too large as well: {names}{more}; this one"


def _best_turn(path: Profile, bed: tuple[float, float]) -> tuple[float, float, float]:
    """Return extent and bed where they are nearest to each other, at the best turn, and the turn.

    Of turns that do equally well the least one.
    """
    points = polyline_points(path.outer, tolerance_mm=CHORDS_MM)
    coarse = np.arange(0.0, 180.0, STEP_DEG)
    room, _, _ = _room(points, coarse, bed)
    if room[0] >= 1.0 or room[int(90.0 / STEP_DEG)] >= 1.0:
        angles = np.array([0.0, 90.0])
    else:
        best = coarse[int(np.argmax(room))]
        angles = np.append(
            np.arange(best - STEP_DEG, best + STEP_DEG, FINE_DEG).round(6), [0.0, 90.0]
        )
    room, extents, beds = _room(points, angles, bed)
    k = int(np.argmax(room))
    return float(extents[k]), float(beds[k]), float(angles[k])


def _room(
    points: Floats, angles_deg: Floats, bed: tuple[float, float]
) -> tuple[Floats, Floats, Floats]:
    """Return for each turn how many times it fits, and the extent and bed that decide it."""
    a = np.radians(angles_deg)[:, None]
    x = points[:, 0] * np.cos(a) - points[:, 1] * np.sin(a)
    y = points[:, 0] * np.sin(a) + points[:, 1] * np.cos(a)
    extents = np.stack([np.ptp(x, axis=1), np.ptp(y, axis=1)], axis=1)
    times = np.array(bed) / extents
    which = np.argmin(times, axis=1)
    rows = np.arange(len(angles_deg))
    return times[rows, which], extents[rows, which], np.array(bed)[which]


def drops(subject: Subject) -> Iterator[Finding]:
    """Yield parts that may fall or tip through the grid, and the part with most loose cut-outs."""
    grid = subject.grid_mm
    least = TIPS_CELLS * grid
    for piece in subject.pieces:
        longest = _longest_mm(piece.part.profile.outer)
        if longest < 2.0 * least:
            yield weighed(
                "made.drops",
                part=piece.part.name,
                measure="longest side of a part that falls through the bed's grid"
                if longest < grid
                else "longest side of a part that may tip on the bed's grid",
                value=longest,
                least=least,
                unit="mm",
                source=f"two cells of a {grid:g} mm grid, common practice, no source",
                remedy="lay a scrap of thin sheet under it, or leave a bridge of a millimetre and "
                "break it off",
                formula=f"2 x {grid:g}",
                scale=ADVICE,
            )
    yield from _slugs(subject)


def _slugs(subject: Subject) -> Iterator[Finding]:
    """Yield the part with the most cut-outs that may tip, and how many there are on all parts."""
    grid = subject.grid_mm
    tip = {
        piece.part.name: sum(
            grid <= _longest_mm(ring) < TIPS_CELLS * grid for ring in piece.part.profile.inners
        )
        for piece in subject.pieces
    }
    part = max(tip, key=lambda name: tip[name], default="")
    if not tip.get(part):
        return
    size = f"{grid:g} to {TIPS_CELLS * grid:g} mm"
    finding = weighed(
        "made.drops",
        part=part,
        measure=f"cut-outs of {size} that may tip on the bed's grid, {sum(tip.values())} on all "
        "parts, here",
        value=tip[part],
        most=MANY_SLUGS,
        unit="",
        source="common practice, no source",
        remedy="stay by it and take out what stands up: the head hits it",
        scale=ADVICE,
    )
    # How many there are says nothing of how well the job holds.
    yield replace(as_note(finding), margin=None)


def _longest_mm(ring: Contour) -> float:
    """Return the longest side of its upright bounds."""
    return max(ring.bounds.width_mm, ring.bounds.height_mm)
