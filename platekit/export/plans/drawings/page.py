"""A dimensioned drawing of each part: outline with running dimensions, numbered holes, tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache

from platekit.errors import PlatekitError
from platekit.export.figures import format_mm
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.drawings.edge_mates import Mate, common, mates_of
from platekit.export.plans.drawings.edge_notches import closed, in_order
from platekit.export.plans.drawings.figure import Figure, drawn_figure
from platekit.export.plans.drawings.hole_table import (
    openings_of,
    shared,
)
from platekit.export.plans.drawings.layout import (
    BLOCK_MM,
    Asked,
    Layout,
    layout_of,
    spill_spots,
)
from platekit.export.plans.drawings.notes import notes
from platekit.export.plans.drawings.outline_steps import steps_of
from platekit.export.plans.drawings.scales import scale_text
from platekit.export.plans.drawings.sketch import Sketch
from platekit.export.plans.drawings.table_flow import Piece, Section, flowed, least_lines
from platekit.export.plans.drawings.title_block import runs, title_block
from platekit.export.plans.printing.furniture import Leaf, head
from platekit.export.plans.printing.lettering import SMALL_MM
from platekit.export.plans.printing.paper import BAR_MM, MARGIN_MM, Paper
from platekit.export.plans.printing.pens import QUIET
from platekit.export.plans.printing.press import Press
from platekit.panel.part import Grain, Part


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
        mates=_mates(parts, plans),
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


def _mates(parts: Sequence[Part], plans: PlansOf) -> tuple[Mate, ...]:
    joints = () if plans.assembly is None else plans.assembly.joints or ()
    panels = {name for one in joints for name in one.between}
    return common(
        [mates_of(one.profile.bounds, plans.named.get(one.name, ()), panels) for one in parts]
    )


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
        mates=sketch.mates,
    )
    drawn = drawn_figure(press, figure)
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
    for line in notes(sketch, layout, drawn):
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
