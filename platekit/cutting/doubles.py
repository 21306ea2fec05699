"""Double cuts: places where the beam would run along the same line twice."""

from __future__ import annotations

import numpy as np

from platekit.cutting.drawing import Drawing, Layer
from platekit.findings import Finding, Severity
from platekit.geometry.coincidence import coincident_lengths

# Under this the second pass falls into the first one's cut.
SAME_LINE_MM = 1e-3
# Shorter than any real shared edge: corners that only touch are no double cut.
SHORTEST_MM = 0.01

CUTS = (Layer.INSIDE_CUT, Layer.OUTSIDE_CUT)


def double_cuts(drawing: Drawing) -> tuple[Finding, ...]:
    """Return a finding for every pair of shapes cut along the same line, and where.

    A second pass burns the edge and may set the sheet alight.
    """
    entries = [entry for entry in drawing.entries if entry.layer in CUTS]
    if not entries:
        return ()
    table = np.concatenate([entry.shape.table for entry in entries])
    owner = np.repeat(np.arange(len(entries)), [len(entry.shape.table) for entry in entries])
    one, other, length, at = coincident_lengths(table, within_mm=SAME_LINE_MM)
    total: dict[tuple[int, int], float] = {}
    where: dict[tuple[int, int], tuple[float, float]] = {}
    for a, b, run_mm, (x, y) in zip(
        owner[one].tolist(), owner[other].tolist(), length.tolist(), at.tolist(), strict=True
    ):
        if run_mm >= SHORTEST_MM:
            pair = (min(a, b), max(a, b))
            total[pair] = total.get(pair, 0.0) + run_mm
            where.setdefault(pair, (x, y))
    return tuple(
        Finding(
            severity=Severity.STOP,
            part=" + ".join(dict.fromkeys((entries[a].part, entries[b].part))),
            feature=f"at x {where[a, b][0]:.1f}, y {where[a, b][1]:.1f} mm",
            measure="length cut twice",
            value=round(run_mm, 3),
            limit=0.0,
            unit="mm",
            source="common practice, no source",
            remedy="move the shapes apart or leave one of the lines out; a second pass is a fire "
            "risk",
            check="made.doubled",
        )
        for (a, b), run_mm in sorted(total.items())
    )
