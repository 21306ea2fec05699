"""Lines of words below a drawing: how its figures and its tables are meant."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from platekit.export.plans.drawings.figure import Drawn
from platekit.export.plans.drawings.hole_table import is_crowded, runs_of
from platekit.export.plans.drawings.layout import Layout, is_running
from platekit.export.plans.drawings.sketch import Sketch
from platekit.geometry.tables import X0, Y0
from platekit.panel.part import Part

NOMINAL = "All sizes in mm, nominal."
FIGURES = "Figures count from the ringed corner; edges in line share one."
TABLED = "Places in the table count from the {origin}, to the middle; sizes are x by y."
# Where figures have named the ring it is enough; a part may be off the corner of its bounds.
RING, CORNER = "ring", "ringed corner"
OFF_PART = "ring (x from the part's left end, y from its lower end)"
MATES = "Grey names: parts that meet there."
RUNS = "Numbers of a row count from left to right."
UNTOLD = "The outline is made of {count} lines and arcs: take it from the full-size page."
SCORED = "Green lines are scored, not cut."
CORNERS = "Corners of own shapes follow each other counter-clockwise."
OWN_SHAPES = "Own shapes of many corners: take them from the full-size page."
CORNER_WITHIN_MM = 1e-6


def _has_corner(part: Part) -> bool:
    """Return whether a part comes down to the left lower corner of its bounds."""
    box = part.profile.bounds
    off = part.profile.outer.table[:, [X0, Y0]] - (box.left, box.bottom)
    return bool((np.abs(off).max(axis=1) < CORNER_WITHIN_MM).any())


def notes(sketch: Sketch, layout: Layout, drawn: Drawn) -> Iterator[str]:
    """Yield the lines of words below a drawing."""
    yield NOMINAL
    steps = sketch.steps
    origin = CORNER if _has_corner(sketch.part) else OFF_PART
    if any(map(is_running, (steps.bottom, steps.top, steps.left, steps.right))):
        yield FIGURES
        origin = RING
    if sketch.openings or sketch.notches or steps.corners or steps.listed:
        yield TABLED.format(origin=origin)
    if drawn.mates:
        yield MATES
    if steps.untold:
        yield UNTOLD.format(count=steps.untold)
    if any(mark.layer == "score" and not mark.is_name for mark in sketch.part.marks):
        yield SCORED
    yield from _of_openings(sketch, layout)
    if layout.rest:
        what = "rest of the table" if layout.pieces else "table"
        yield f"The {what} is on the next page."
    if drawn.left_out:
        yield (
            f"{drawn.left_out} numbers left out for want of room: rows count from below, left to "
            "right, round holes first."
        )


def _of_openings(sketch: Sketch, layout: Layout) -> Iterator[str]:
    if any(one.corners for one in sketch.openings):
        yield CORNERS
    if not all(one.is_told for one in sketch.openings):
        yield OWN_SHAPES
    if any(is_crowded(run, float(layout.scale)) for run in runs_of(sketch.openings)):
        yield RUNS
