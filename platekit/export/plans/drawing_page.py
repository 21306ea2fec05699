"""A dimensioned drawing of each part: outline with running dimensions, numbered holes, tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

import numpy as np

from platekit.errors import PlatekitError
from platekit.export.figures import format_mm
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.drawing_figure import Figure, drawn_figure, is_crowded
from platekit.export.plans.drawing_layout import (
    BLOCK_MM,
    Asked,
    Layout,
    is_running,
    layout_of,
    spill_spots,
)
from platekit.export.plans.edge_notches import Notch, closed, in_order
from platekit.export.plans.fitted_table import fitted, side_section
from platekit.export.plans.furniture import Leaf, head
from platekit.export.plans.hole_table import (
    Opening,
    corner_rows,
    grouped_rows,
    notch_rows,
    opening_rows,
    openings_of,
    runs_of,
    shared,
)
from platekit.export.plans.lettering import SMALL_MM
from platekit.export.plans.outline_steps import Steps, steps_of
from platekit.export.plans.paper import BAR_MM, MARGIN_MM, Paper
from platekit.export.plans.pens import QUIET
from platekit.export.plans.press import Press
from platekit.export.plans.scales import scale_text
from platekit.export.plans.table_flow import Piece, Section, flowed, least_lines
from platekit.export.plans.title_block import called, runs, title_block
from platekit.geometry.tables import X0, Y0
from platekit.panel.part import Grain, Part

NOMINAL = "All sizes in mm, nominal."
FIGURES = "Figures count from the ringed corner; edges in line share one."
TABLED = "Places in the table count from the {origin}, to the middle; sizes are x by y."
# The ringed corner of a part without one there is that of the rectangle around it.
CORNER = "ringed corner"
OFF_PART = "ring (x from the part's left end, y from its lower end)"
RUNS = "Numbers of a row count from left to right."
UNTOLD = "The outline is made of {count} lines and arcs: take it from the full-size page."
SCORED = "Green lines are scored, not cut."
CORNERS = "Corners of own shapes follow each other counter-clockwise."
OWN_SHAPES = "Own shapes of many corners: take them from the full-size page."
CORNER_WITHIN_MM = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What a drawing shows.

    Attributes:
        parts: The part, or several that differ in nothing but their names.
        openings: Their holes.
        notches: What is cut in from their edge.
        steps: What their outline asks of the drawing.
        numbers: Which of the rig's parts they are, from 1.
        count: How many the rig has.
        rig: What it is called.
    """

    parts: tuple[Part, ...]
    openings: tuple[Opening, ...]
    notches: tuple[Notch, ...]
    steps: Steps
    numbers: tuple[int, ...]
    count: int
    rig: str

    @property
    def part(self) -> Part:
        """The part that is drawn."""
        return self.parts[0]

    @property
    def title(self) -> str:
        """The names of all of them."""
        return called([part.name for part in self.parts])

    def tabled(self, width_mm: float, *, grouped: bool = False) -> tuple[Section, ...]:
        """Return the tables beside the drawing, each of a width.

        Args:
            width_mm: The width.
            grouped: Whether openings that are alike and level share a row.
        """
        openings = grouped_rows(self.openings) if grouped else opening_rows(self.openings)
        rows = [*openings, *notch_rows(self.notches, self.part)]
        sections = []
        if rows:
            what_for = "what for" if any(row[-1] for row in rows) else ""
            sections.append(fitted(("no.", "x", "y", "size", what_for), rows, width_mm))
        corners = list(corner_rows(self.steps.corners))
        for one in self.openings:
            corners += corner_rows(one.corners, of=f"{one.number}.")
        if corners:
            sections.append(fitted(("corner", "x", "y", "to the next", ""), corners, width_mm))
        if self.steps.listed:
            sections.append(side_section(self.steps.listed, width_mm))
        return tuple(sections)


def drawing_leaves(
    parts: Sequence[Part], *, plans: PlansOf, numbers: Sequence[int]
) -> Iterator[Leaf]:
    """Yield the drawing of parts that are alike, and the rest of its tables where it has many rows.

    Args:
        parts: One part, or several that differ in nothing but their names.
        plans: What they belong to.
        numbers: Which of its parts they are, from 1.
    """
    first = parts[0]
    edge, notches = closed(first.profile.outer, plans.named.get(first.name, ()))
    sketch = Sketch(
        parts=tuple(parts),
        openings=shared([openings_of(one, plans.named.get(one.name, ())) for one in parts]),
        notches=in_order(notches),
        steps=steps_of(edge),
        numbers=tuple(numbers),
        count=len(plans.parts),
        rig=plans.name,
    )
    sketch, layout = _laid(sketch, plans.paper)
    leaf = Leaf(
        width_mm=layout.page_mm[0],
        height_mm=layout.page_mm[1],
        called=f"{sketch.title}: drawing",
        draw=lambda press, number: _draw(press, leaf, sketch, layout, number),
    )
    yield leaf
    yield from _rest(sketch, layout.rest, plans.paper)


def _laid(sketch: Sketch, paper: Paper) -> tuple[Sketch, Layout]:
    """Return a drawing with its layout; sides whose figures find no room are told in a table.

    Raises:
        PlatekitError: Not even the bare part finds room.
    """
    box = sketch.part.profile.bounds
    size = box.width_mm, box.height_mm
    tried: Sketch | None = sketch
    while tried is not None:
        asked = Asked(size_mm=size, steps=tried.steps, tabled=cache(tried.tabled))
        layout = layout_of(asked, paper)
        if layout is not None:
            return tried, layout
        fewer = tried.steps.with_longest_listed()
        tried = None if fewer is None else replace(tried, steps=fewer)
    raise PlatekitError(
        f"the drawing of {sketch.title} finds no room on {paper.name}",
        remedy="choose a larger paper",
    )


def _rest(sketch: Sketch, rest: Sequence[Section], paper: Paper) -> Iterator[Leaf]:
    """Yield pages with what of the tables found no room beside the drawing."""
    page, column, spots = spill_spots(paper)
    left = {one.heads: len(one.rows) for one in rest}
    # Broken anew: columns are of another width here.
    waiting = tuple(
        one.last(left[one.heads]) for one in sketch.tabled(column) if left.get(one.heads)
    )
    while waiting:
        lines = min(spots[0].lines, least_lines(waiting, len(spots)))
        pieces, waiting = flowed(waiting, [replace(spot, lines=lines) for spot in spots])
        yield _table_leaf(sketch, pieces, page)


def _table_leaf(sketch: Sketch, pieces: Sequence[Piece], page: tuple[float, float]) -> Leaf:
    rows = [row for piece in pieces for row in piece.section.rows]
    first, last = rows[0][0].cells[0], rows[-1][0].cells[0]

    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=sketch.rig, says=leaf.called, number=number)
        for piece in pieces:
            piece.draw(press)

    leaf = Leaf(
        width_mm=page[0],
        height_mm=page[1],
        called=f"{sketch.title}: table, {first} to {last}",
        draw=draw,
    )
    return leaf


def _draw(press: Press, leaf: Leaf, sketch: Sketch, layout: Layout, number: str) -> None:
    head(press, leaf, title=sketch.rig, says=leaf.called, number=number)
    for piece in layout.pieces:
        piece.draw(press)
    figure = Figure(
        part=sketch.part,
        openings=sketch.openings,
        notches=sketch.notches,
        steps=sketch.steps,
        layout=layout,
    )
    left_out = drawn_figure(press, figure)
    narrow = layout.block_mm < BLOCK_MM
    fields = _fields(sketch, layout.scale, number)
    title_block(
        press,
        right=leaf.width_mm - MARGIN_MM,
        bottom=MARGIN_MM + BAR_MM,
        width_mm=layout.block_mm,
        title=sketch.title,
        rig="" if narrow else sketch.rig,
        rows=[
            [("of", sketch.rig)],
            *(fields[k : k + 2] for k in range(0, len(fields), 2)),
        ]
        if narrow
        else [fields[:4], fields[4:]],
    )
    x, y, width = layout.notes
    for line in _notes(sketch, layout, left_out):
        y = press.paragraph(line, x, y, width_mm=width, size_mm=SMALL_MM, colour=QUIET)


def _fields(sketch: Sketch, scale: Fraction, number: str) -> list[tuple[str, str]]:
    part, sheet = sketch.part, sketch.part.sheet
    grain = "any"
    if sheet.grain and part.grain is not Grain.ANY:
        grain = "left to right" if part.grain is Grain.ALONG_X else "up and down"
    thickness = f"{format_mm(sheet.nominal_mm, decimals=2)} mm"
    if sheet.thickness_mm != sheet.nominal_mm:
        thickness += f", measures {format_mm(sheet.thickness_mm, decimals=2)}"
    quantity = f"{sum(one.quantity for one in sketch.parts)}"
    if len(sketch.parts) > 1:
        each = {one.quantity for one in sketch.parts}
        quantity += f", {each.pop()} each" if len(each) == 1 else ", see list"
    return [
        ("part", f"{runs(sketch.numbers)} of {sketch.count}"),
        ("scale", scale_text(scale)),
        ("unit", "mm"),
        ("page", number),
        ("material", sheet.material.name),
        ("thickness", thickness),
        ("quantity", quantity),
        ("grain", grain),
    ]


def _has_corner(part: Part) -> bool:
    """Return whether a part comes down to the left lower corner of its bounds."""
    box = part.profile.bounds
    off = part.profile.outer.table[:, [X0, Y0]] - (box.left, box.bottom)
    return bool((np.abs(off).max(axis=1) < CORNER_WITHIN_MM).any())


def _notes(sketch: Sketch, layout: Layout, left_out: int) -> Iterator[str]:
    yield NOMINAL
    steps = sketch.steps
    if any(map(is_running, (steps.bottom, steps.top, steps.left, steps.right))):
        yield FIGURES
    if sketch.openings or sketch.notches or steps.corners or steps.listed:
        yield TABLED.format(origin=CORNER if _has_corner(sketch.part) else OFF_PART)
    if steps.untold:
        yield UNTOLD.format(count=steps.untold)
    if any(mark.layer == "score" and not mark.is_name for mark in sketch.part.marks):
        yield SCORED
    if any(one.corners for one in sketch.openings):
        yield CORNERS
    if not all(one.is_told for one in sketch.openings):
        yield OWN_SHAPES
    if any(is_crowded(run, float(layout.scale)) for run in runs_of(sketch.openings)):
        yield RUNS
    if layout.rest:
        what = "rest of the table" if layout.pieces else "table"
        yield f"The {what} is on the next page."
    if left_out:
        yield (
            f"{left_out} numbers left out for want of room: rows count from below, left to right, "
            "round holes first."
        )
