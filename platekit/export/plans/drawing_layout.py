"""How a drawing's page is divided: the part as large as a recommended scale allows, and its table.

The page lies or stands, the table of holes stands beside the part or below it: whichever shows the
part larger.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from platekit.export.plans.dimensions import OFF_MM
from platekit.export.plans.paper import BAR_MM, HEAD_MM, MARGIN_MM, Paper
from platekit.export.plans.scales import scale_for
from platekit.export.plans.tables import ROW_MM, Column, rows_within
from platekit.export.plans.title_block import block_height_mm
from platekit.panel.part import Part

BLOCK_MM = 120.0
AIR_MM = 4.0
COLUMNS = (
    Column(head="no.", width_mm=8.0, anchor="end"),
    Column(head="x", width_mm=13.0, anchor="end"),
    Column(head="y", width_mm=13.0, anchor="end"),
    Column(head="size", width_mm=26.0, anchor="end"),
    Column(head="what for", width_mm=28.0),
)
TABLE_MM = sum(one.width_mm for one in COLUMNS)


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How a drawing's page is divided.

    Attributes:
        page_mm: Width and height of the page.
        scale: Scale of the part.
        corner: Where the left lower corner of its bounds lies.
        tables: Left upper corners of the columns of the hole table.
        each: Rows of each column.
    """

    page_mm: tuple[float, float]
    scale: Fraction
    corner: tuple[float, float]
    tables: tuple[tuple[float, float], ...]
    each: int

    @property
    def rows(self) -> int:
        """How many holes the page's table has room for."""
        return self.each * len(self.tables)


def layout_of(part: Part, holes: int, paper: Paper) -> Layout:
    """Return the layout that shows a part largest; of equal ones that which tables more holes.

    One that tables all holes is preferred though it shows the part half as large.
    """
    short, long = paper.reading_mm
    layouts = (
        _beside((long, short), part, holes),
        _below((long, short), part, holes),
        _below((short, long), part, holes),
    )
    best = max(layouts, key=lambda one: (one.scale, one.rows))
    whole = [one for one in layouts if one.rows >= holes and 2 * one.scale >= best.scale]
    return max(whole, key=lambda one: one.scale, default=best)


def _beside(page: tuple[float, float], part: Part, holes: int) -> Layout:
    """Return the layout in which the table stands right of the part."""
    width, height = page
    beside = TABLE_MM + AIR_MM if holes else 0.0
    room = _room((width - beside, height))
    top = height - MARGIN_MM - HEAD_MM
    rows = rows_within(height - 2 * MARGIN_MM - HEAD_MM - block_mm())
    at = (width - MARGIN_MM - TABLE_MM, top)
    return _layout(page, part, room, middle_mm=room[1] / 2, tables=(at,), rows=rows)


def _below(page: tuple[float, float], part: Part, holes: int) -> Layout:
    """Return the layout in which the table stands below the part, in all columns that fit."""
    width = page[0]
    room = _room(page)
    box = part.profile.bounds
    scale = scale_for((box.width_mm, box.height_mm), room_mm=room)
    part_mm = box.height_mm * float(scale)
    left_mm = room[1] - part_mm
    columns = columns_within(width - 2 * MARGIN_MM)
    needed = ROW_MM * (1 + math.ceil(holes / columns)) + AIR_MM
    table_mm = min(left_mm, needed) if holes else 0.0
    top = MARGIN_MM + block_mm() + table_mm
    tables = tuple((MARGIN_MM + k * (TABLE_MM + AIR_MM), top) for k in range(columns))
    middle = table_mm + (room[1] - table_mm) / 2
    return _layout(
        page,
        part,
        room,
        middle_mm=middle,
        tables=tables,
        rows=max(0, rows_within(table_mm - AIR_MM)),
    )


def _layout(
    page: tuple[float, float],
    part: Part,
    room: tuple[float, float],
    *,
    middle_mm: float,
    tables: tuple[tuple[float, float], ...],
    rows: int,
) -> Layout:
    box = part.profile.bounds
    scale = scale_for((box.width_mm, box.height_mm), room_mm=room)
    w, h = box.width_mm * float(scale), box.height_mm * float(scale)
    return Layout(
        page_mm=page,
        scale=scale,
        corner=(
            MARGIN_MM + OFF_MM + AIR_MM + (room[0] - w) / 2,
            MARGIN_MM + block_mm() + OFF_MM + AIR_MM + middle_mm - h / 2,
        ),
        tables=tables if rows else (),
        each=rows,
    )


def columns_within(width_mm: float) -> int:
    """Return how many columns of the hole table a width has room for."""
    return max(1, int((width_mm + AIR_MM + 1e-6) / (TABLE_MM + AIR_MM)))


def _room(page: tuple[float, float]) -> tuple[float, float]:
    """Return what of a page is left for the part itself."""
    width, height = page
    return (
        width - 2 * MARGIN_MM - OFF_MM - 2 * AIR_MM,
        height - 2 * MARGIN_MM - HEAD_MM - block_mm() - OFF_MM - 2 * AIR_MM,
    )


def block_mm() -> float:
    """Return how much of a page's height the title block and the bar below it take."""
    return BAR_MM + block_height_mm([[], []]) + AIR_MM
