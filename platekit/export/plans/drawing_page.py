"""A dimensioned drawing of each part: outline, numbered holes, their table, overall sizes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from platekit.export.figures import format_mm
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.dimensions import OFF_MM, level_dimension, origin_mark, upright_dimension
from platekit.export.plans.drawing_layout import (
    AIR_MM,
    BLOCK_MM,
    COLUMNS,
    TABLE_MM,
    Layout,
    block_mm,
    columns_within,
    layout_of,
)
from platekit.export.plans.furniture import Leaf, head
from platekit.export.plans.hole_table import Opening, openings_of
from platekit.export.plans.lettering import CAPITAL, SMALL_MM, width_of
from platekit.export.plans.paper import BAR_MM, HEAD_MM, MARGIN_MM, Paper
from platekit.export.plans.placing import Ground, around
from platekit.export.plans.press import CENTRE, FAINT, FINE, MATERIAL, QUIET, SCORED, Press, Stroke
from platekit.export.plans.scales import scale_text
from platekit.export.plans.tables import Line, rows_within, table
from platekit.export.plans.tiling import edge_points
from platekit.export.plans.title_block import title_block
from platekit.geometry.motion import Motion
from platekit.panel.part import Grain, Part

DIAMETER = "\N{LATIN CAPITAL LETTER O WITH STROKE}"
# Openings from here on are told to a tenth: the column has no room for more.
WIDE_MM = 1000.0
NUMBER_MM = 2.0  # size of the type beside holes
NOTE = "All sizes in mm, nominal. Holes: x and y of the centre from the corner marked 0."
OUTLINE = Stroke(width_mm=0.5)
INNER = Stroke(width_mm=0.35)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What a drawing shows: the part, its holes, which of how many it is, and its rig."""

    part: Part
    openings: tuple[Opening, ...]
    number: int
    count: int
    rig: str


def drawing_leaves(part: Part, *, plans: PlansOf, number: int) -> Iterator[Leaf]:
    """Yield the drawing of a part, and the rest of its hole table where it has many.

    Args:
        part: Which.
        plans: What it belongs to.
        number: Which of its parts it is, from 1.
    """
    sketch = Sketch(
        part=part,
        openings=openings_of(part, plans.named.get(part.name, ())),
        number=number,
        count=len(plans.parts),
        rig=plans.name,
    )
    yield from _leaves(sketch, plans.paper)


def _leaves(sketch: Sketch, paper: Paper) -> Iterator[Leaf]:
    short, long = paper.reading_mm
    layout = layout_of(sketch.part, len(sketch.openings), paper)
    leaf = Leaf(
        width_mm=layout.page_mm[0],
        height_mm=layout.page_mm[1],
        called=f"{sketch.part.name}: drawing",
        draw=lambda press, number: _draw(press, leaf, sketch, layout, number),
    )
    yield leaf
    rest = sketch.openings[layout.rows :]
    across = columns_within(long - 2 * MARGIN_MM)
    down = rows_within(short - 2 * MARGIN_MM - HEAD_MM - BAR_MM)
    for start in range(0, len(rest), across * down):
        yield _rest(sketch, rest[start : start + across * down], (long, short), down)


def _rest(
    sketch: Sketch, openings: Sequence[Opening], size: tuple[float, float], down: int
) -> Leaf:
    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=sketch.rig, says=leaf.called, number=number)
        top = leaf.height_mm - MARGIN_MM - HEAD_MM
        for k in range(0, len(openings), down):
            left = MARGIN_MM + k // down * (TABLE_MM + AIR_MM)
            table(press, COLUMNS, _rows(openings[k : k + down]), left=left, top=top)

    leaf = Leaf(
        width_mm=size[0],
        height_mm=size[1],
        called=f"{sketch.part.name}: holes {openings[0].number} to {openings[-1].number}",
        draw=draw,
    )
    return leaf


def _draw(press: Press, leaf: Leaf, sketch: Sketch, layout: Layout, number: str) -> None:
    part = sketch.part
    head(press, leaf, title=sketch.rig, says=leaf.called, number=number)
    box, s = part.profile.bounds, float(layout.scale)
    left, bottom = layout.corner
    right, top = left + box.width_mm * s, bottom + box.height_mm * s
    _outline(press, part, layout.corner, s)
    level_dimension(
        press,
        left,
        right,
        part_mm=bottom,
        line_mm=bottom - OFF_MM,
        said=format_mm(box.width_mm, decimals=2),
    )
    upright_dimension(
        press,
        bottom,
        top,
        part_mm=left,
        line_mm=left - OFF_MM,
        said=format_mm(box.height_mm, decimals=2),
    )
    left_out = 0
    if sketch.openings:
        origin_mark(press, left, bottom)
        left_out = _numbers(press, sketch, layout.corner, s)
    for k, (x, y) in enumerate(layout.tables):
        shown = sketch.openings[k * layout.each : (k + 1) * layout.each]
        if shown:
            table(press, COLUMNS, _rows(shown), left=x, top=y)
    title_block(
        press,
        right=leaf.width_mm - MARGIN_MM,
        bottom=MARGIN_MM + BAR_MM,
        width_mm=BLOCK_MM,
        title=part.name,
        rig=sketch.rig,
        rows=_fields(sketch, layout.scale, number),
    )
    _notes(press, sketch, layout, left_out)


def _outline(press: Press, part: Part, corner: tuple[float, float], scale: float) -> None:
    box = part.profile.bounds
    home = Motion(dx_mm=-box.left, dy_mm=-box.bottom)
    profile = part.profile.moved(home)
    with press.moved(*corner, scale=scale):
        press.chains(profile.rings, stroke=None, fill=MATERIAL)
        marks = [mark for mark in part.marks if not mark.is_name]
        for layer, colour in (("score", SCORED), ("note", FAINT)):
            drawn = [mark.path.moved(home) for mark in marks if mark.layer == layer]
            press.chains(drawn, stroke=Stroke(width_mm=0.25 / scale, colour=colour))
        inner = Stroke(width_mm=INNER.width_mm / scale)
        press.chains(profile.inners, stroke=inner)
        press.chains([profile.outer], stroke=Stroke(width_mm=OUTLINE.width_mm / scale))


def _numbers(press: Press, sketch: Sketch, corner: tuple[float, float], scale: float) -> int:
    """Mark centres and number the holes; return how many numbers found no room."""
    profile = sketch.part.profile
    box = profile.bounds
    points = (
        edge_points(profile.rings, step_mm=1.2 / scale) - [box.left, box.bottom]
    ) * scale + corner
    ground = Ground()
    ground.take_points(points)
    spots = [
        (corner[0] + one.x_mm * scale, corner[1] + one.y_mm * scale, one) for one in sketch.openings
    ]
    for x, y, one in spots:
        if one.is_round:
            reach = one.size_mm[0] / 2 * scale + 1.0
            pen = CENTRE if reach > 10.0 else FINE
            press.lines(
                (((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))), stroke=pen
            )
    left_out = 0
    for x, y, one in spots:
        said = f"{one.number}"
        size = width_of(said, size_mm=NUMBER_MM) + 0.5, NUMBER_MM * CAPITAL + 0.5
        half = min(one.size_mm) / 2 * scale
        inside = 1.7 * half > size[0] and (half > size[0] or not one.is_round)
        tries = [(x - size[0] / 2, y - size[1] / 2)] if inside and not one.is_round else []
        if inside and one.is_round:
            tries = [(x + 0.6, y + 0.6)]
        tries += around((x, y), reach_mm=half + 1.3, size_mm=size)
        found = ground.place(tries, size)
        if found is None:
            left_out += 1
        else:
            press.text(said, found[0] + 0.25, found[1] + 0.25, size_mm=NUMBER_MM)
    return left_out


def _rows(openings: Iterable[Opening]) -> list[Line]:
    return [
        Line(
            (
                f"{one.number}",
                format_mm(one.x_mm, decimals=2),
                format_mm(one.y_mm, decimals=2),
                _size(one),
                one.purpose,
            )
        )
        for one in openings
    ]


def _size(one: Opening) -> str:
    decimals = 2 if max(one.size_mm) < WIDE_MM else 1
    width, height = (format_mm(side, decimals=decimals) for side in one.size_mm)
    return f"{DIAMETER}{width}" if one.is_round else f"{width} \N{MULTIPLICATION SIGN} {height}"


def _fields(sketch: Sketch, scale: Fraction, number: str) -> list[list[tuple[str, str]]]:
    part = sketch.part
    sheet = part.sheet
    grain = "any"
    if sheet.grain and part.grain is not Grain.ANY:
        grain = "left to right" if part.grain is Grain.ALONG_X else "up and down"
    thickness = f"{format_mm(sheet.nominal_mm, decimals=2)} mm"
    if sheet.thickness_mm != sheet.nominal_mm:
        thickness += f", measures {format_mm(sheet.thickness_mm, decimals=2)}"
    return [
        [
            ("part", f"{sketch.number} of {sketch.count}"),
            ("scale", scale_text(scale)),
            ("unit", "mm"),
            ("page", number),
        ],
        [
            ("material", sheet.material.name),
            ("thickness", thickness),
            ("quantity", f"{part.quantity}"),
            ("grain", grain),
        ],
    ]


def _notes(press: Press, sketch: Sketch, layout: Layout, left_out: int) -> None:
    room = layout.page_mm[0] - 2 * MARGIN_MM - BLOCK_MM - AIR_MM
    lines = [NOTE] if sketch.openings else ["All sizes in mm, nominal."]
    if len(sketch.openings) > layout.rows:
        lines.append(f"Holes from {layout.rows + 1} on: see the next page.")
    if left_out:
        lines.append(
            f"{left_out} numbers left out for want of room: rows count from below, left to right, "
            "round holes first."
        )
    y = MARGIN_MM + block_mm() - AIR_MM - SMALL_MM
    for line in lines:
        y = press.paragraph(line, MARGIN_MM, y, width_mm=room, size_mm=SMALL_MM, colour=QUIET)
