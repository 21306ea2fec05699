"""Heat: tips that char away, and places where the beam passes too often."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.checks.made.notes import as_note
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats, Table, lengths, points_at, tangents

# A tip of material sharper than this chars: common practice, no source.
SHARP_DEG = 30.0
# Edges that turn by less run on.
SMOOTH_DEG = 1.0
# Squares in which the length of cuts is added up.
SQUARE_MM = 20.0
# So much cut over an area heats it through: lines 2 mm apart. Common practice, no source.
DENSE_PER_MM = 0.5
# The beam is followed in steps of at most this.
STEP_MM = 1.0


def corners(subject: Subject) -> Iterator[Finding]:
    """Yield the sharpest tip of every part that has one under twice the limit."""
    for piece in subject.pieces:
        angles, at = tips(piece.part.profile)
        if not len(angles) or angles.min() >= 2.0 * SHARP_DEG:
            continue
        k = int(np.argmin(angles))
        sharp = int((angles < SHARP_DEG).sum())
        yield as_note(
            weighed(
                "made.corner",
                part=piece.part.name,
                feature=f"corner at x {at[k, 0] + 0.0:.1f}, y {at[k, 1] + 0.0:.1f} mm",
                measure=f"sharpest of {sharp} tips" if sharp > 1 else "angle of a tip",
                value=float(angles[k]),
                least=SHARP_DEG,
                unit="deg",
                source="common practice, no source",
                remedy="round it off, or let it char: it will not stay as sharp as drawn",
                scale=ADVICE,
            )
        )


def tips(profile: Profile) -> tuple[Floats, Floats]:
    """Return the angles of material at its outward corners, deg, and where they are.

    Angles of shape (k,), points of shape (k, 2). Smooth and inward corners are none.
    """
    table = profile.table
    sizes = np.array([len(ring.table) for ring in profile.rings])
    last = np.cumsum(sizes) - 1
    before = np.arange(-1, len(table) - 1)
    before[last - sizes + 1] = last
    arriving, leaving = tangents(table, at_end=True)[before], tangents(table, at_end=False)
    cross = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    turn_deg = np.degrees(np.arctan2(cross, (arriving * leaving).sum(axis=1)))
    # Material lies on the left: turning left goes round a tip.
    pick = turn_deg > SMOOTH_DEG
    return 180.0 - turn_deg[pick], table[pick, :2]


def dense(subject: Subject) -> Iterator[Finding]:
    """Yield for every part how much cut there is where it is densest."""
    for piece in subject.pieces:
        density, x, y = densest(piece.path.table)
        yield as_note(
            weighed(
                "made.heat",
                part=piece.part.name,
                feature=f"around x {x + 0.0:.0f}, y {y + 0.0:.0f} mm",
                measure="cut over area where it is densest",
                value=density,
                most=DENSE_PER_MM,
                unit="mm/mm2",
                source=f"lines {1 / DENSE_PER_MM:g} mm apart, common practice, no source",
                remedy="it heats through and may catch fire or warp: cut it in two goes with a "
                "pause, more air, or draw it coarser",
                formula=f"length of cut in {SQUARE_MM:g} x {SQUARE_MM:g} mm over its area",
                scale=ADVICE,
            )
        )


def densest(table: Table) -> tuple[float, float, float]:
    """Return the greatest length of cut over area in squares, 1/mm, and the square's middle.

    Squares overlap by half, so that a field cut in two by a border is not missed by much.
    """
    long = lengths(table)
    pieces = np.maximum(np.ceil(long / STEP_MM), 1).astype(int)
    points, weights = [], []
    for count in np.unique(pieces).tolist():
        rows = pieces == count
        at = (np.arange(count) + 0.5) / count
        points.append(points_at(table[rows], at).reshape(-1, 2))
        weights.append(np.repeat(long[rows] / count, count))
    where, weight = np.concatenate(points), np.concatenate(weights)
    best = (0.0, 0.0, 0.0)
    for shift_x in (0.0, SQUARE_MM / 2):
        for shift_y in (0.0, SQUARE_MM / 2):
            low = np.array([shift_x, shift_y])
            squares = np.floor((where - low) / SQUARE_MM).astype(int)
            first = squares.min(axis=0)
            column, row = (squares - first).T
            rows = int(row.max()) + 1
            total = np.bincount(column * rows + row, weights=weight)
            k = int(np.argmax(total))
            x, y = ((first + np.divmod(k, rows) + 0.5) * SQUARE_MM + low).tolist()
            best = max(best, (float(total[k]) / SQUARE_MM**2, x, y))
    return best
