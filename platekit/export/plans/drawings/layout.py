"""How a drawing's page is divided: the part as large as a scale allows, its tables beside it.

The page lies or stands, tables stand right of the part or below it: whichever shows the part
larger and all of its tables.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Protocol

from platekit.export.plans.drawings import dimensions, running
from platekit.export.plans.drawings.outline_steps import Step, Steps
from platekit.export.plans.drawings.scales import ALL, LARGEST
from platekit.export.plans.drawings.table_flow import (
    Piece,
    Section,
    Spot,
    flowed,
    least_lines,
    rows_of,
)
from platekit.export.plans.drawings.title_block import block_height_mm
from platekit.export.plans.printing.lettering import TEXT_MM
from platekit.export.plans.printing.paper import BAR_MM, HEAD_MM, MARGIN_MM, Paper
from platekit.export.plans.printing.tables import ROW_MM

AIR_MM = 4.0
# Tables are no narrower than this; what a hole is for takes what is left.
LEAST_TABLE_MM = 85.0
BLOCK_MM, NARROW_BLOCK_MM = 120.0, 91.0
NARROW_ROWS = 5
# A dimension from end to end, its figure above its line, which is outward at the left side.
OVERALL_MM = dimensions.OFF_MM + dimensions.ABOVE_MM + 3.0
# A circle's diameter is told at its lower side.
DIAMETER_MM = dimensions.OFF_MM + 2.0
NOTES_MM = 22.0  # height of the lines of words, where they stand below the part
# Letters 2.5 mm high, or 1.8 mm: sizes of ISO 3098 (from memory), by the share a capital takes.
# Clear of the ticks of the check square, and of its corner's arms where there is room.
NOTES_IN_MM, CLEAR_MM = 3.0, 5.0
FIGURES_MM = (2.5 / 0.73, 1.8 / 0.73)
# Tables all on one page are worth a part drawn smaller, by so much with a row for each opening or
# for each run of them, by so much at most.
NEARLY, WORTH = Fraction(3, 5), Fraction(2, 5)
# Fewer rows than this are not left alone on a page.
LONELY_ROWS = 12


class Tabled(Protocol):
    """Gives tables of a width; `grouped`, each run of openings alike on one row."""

    def __call__(self, width_mm: float, *, grouped: bool) -> tuple[Section, ...]:
        """Return the tables."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How a drawing's page is divided.

    Attributes:
        page_mm: Width and height of the page.
        scale: Scale of the part.
        figure_mm: Size of the type of its figures.
        corner: Where the left lower corner of its bounds lies.
        pieces: The tables in their places.
        rest: What of them found no room.
        block_mm: Width of the title block.
        notes: Left end, first base line and width of the lines of words.
    """

    page_mm: tuple[float, float]
    scale: Fraction
    figure_mm: float
    corner: tuple[float, float]
    pieces: tuple[Piece, ...]
    rest: tuple[Section, ...]
    block_mm: float
    notes: tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What has to find room: the part's size, mm, the figures at its sides, its tables."""

    size_mm: tuple[float, float]
    steps: Steps
    tabled: Tabled
    grouped: bool = False

    def sections(self, width_mm: float) -> tuple[Section, ...]:
        """Return the tables, each of a width."""
        return self.tabled(width_mm, grouped=self.grouped)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawn:
    """A part at a scale: its size on paper, and what its figures take on each side."""

    size_mm: tuple[float, float]
    left_mm: float
    right_mm: float
    bottom_mm: float
    top_mm: float

    @property
    def all_mm(self) -> tuple[float, float]:
        """Width and height, figures included."""
        return (
            self.size_mm[0] + self.left_mm + self.right_mm,
            self.size_mm[1] + self.bottom_mm + self.top_mm,
        )


def layout_of(asked: Asked, paper: Paper) -> Layout | None:
    """Return the layout that shows a part largest; None if the figures at its sides find no room.

    One that tables everything is preferred though it shows the part smaller, and a row for each
    opening to a row for a run of them.
    """
    best = next(_layouts(asked, paper), None)
    if best is None:
        return None
    for grouped, least in (
        (False, NEARLY),
        (True, NEARLY),
        (False, WORTH),
        (True, WORTH),
    ):
        for layout in _layouts(replace(asked, grouped=grouped), paper):
            if layout.scale < least * best.scale:
                break
            if not layout.rest:
                return layout
    return best


def _layouts(asked: Asked, paper: Paper) -> Iterator[Layout]:
    """Yield what fits, the largest scale first, of one scale the largest figures first."""
    short, long = paper.reading_mm
    for scale in ALL:
        if scale > LARGEST:
            continue
        for figure_mm in FIGURES_MM:
            drawn = _drawn(asked, float(scale), figure_mm)
            if drawn is None:
                continue
            tried = (
                _beside((long, short), drawn, asked),
                _below((long, short), drawn, asked),
                _below((short, long), drawn, asked),
            )
            for page, corner, places, block_mm, notes in (one for one in tried if one is not None):
                pieces, rest = places
                yield Layout(
                    page_mm=page,
                    scale=scale,
                    figure_mm=figure_mm,
                    corner=corner,
                    pieces=pieces,
                    rest=rest,
                    block_mm=block_mm,
                    notes=notes,
                )


_Flow = tuple[tuple[Piece, ...], tuple[Section, ...]]
_Tried = tuple[tuple[float, float], tuple[float, float], _Flow, float, tuple[float, float, float]]


def is_running(steps: Sequence[Step]) -> bool:
    """Return whether a side has more than its two ends, between which one dimension will do."""
    return len(steps) > 2


def _drawn(asked: Asked, scale: float, figure_mm: float) -> _Drawn | None:
    width, height = (side * scale for side in asked.size_mm)
    steps = asked.steps
    reaches = []
    for side, long_mm in (
        (steps.left, height),
        (steps.right, height),
        (steps.bottom, width),
        (steps.top, width),
    ):
        if not is_running(side):
            reaches.append(OVERALL_MM if side else 0.0)
            continue
        if not running.has_room(side, long_mm=long_mm, size_mm=figure_mm):
            return None
        reaches.append(running.reach_mm(side, size_mm=figure_mm))
    if not (steps.diameter_mm or steps.left or steps.right):
        reaches[0] = OVERALL_MM
    if not (steps.diameter_mm or steps.bottom or steps.top):
        reaches[2] = OVERALL_MM
    if steps.diameter_mm:
        reaches[2] = DIAMETER_MM
    left, right, bottom, top = (max(AIR_MM, reach) for reach in reaches)
    return _Drawn(
        size_mm=(width, height), left_mm=left, right_mm=right, bottom_mm=bottom, top_mm=top
    )


def _beside(page: tuple[float, float], drawn: _Drawn, asked: Asked) -> _Tried | None:
    """Return the layout with tables and title block in a column at the right."""
    width, height = page
    column = NARROW_BLOCK_MM
    left, bottom = MARGIN_MM, MARGIN_MM + BAR_MM
    right, top = width - MARGIN_MM - column - AIR_MM, height - MARGIN_MM - HEAD_MM
    notes_top = bottom + NOTES_MM
    corner = _corner((left, notes_top, right, top), drawn)
    if corner is None:
        return None
    block_top = bottom + block_height_mm([[]] * NARROW_ROWS)
    lines = _lines(top - block_top - AIR_MM)
    spots = [Spot(left=width - MARGIN_MM - column, top=top, lines=lines)]
    flow = _flow(asked.sections(column), spots)
    notes = (left + NOTES_IN_MM, notes_top - TEXT_MM, right - left - NOTES_IN_MM)
    return page, corner, flow, column, notes


def _below(page: tuple[float, float], drawn: _Drawn, asked: Asked) -> _Tried | None:
    """Return the layout with tables below the part, in all columns that fit."""
    width, height = page
    block_top = MARGIN_MM + BAR_MM + block_height_mm([[], []])
    top = height - MARGIN_MM - HEAD_MM
    room = width - 2 * MARGIN_MM
    count, column = columns_within(room)
    sections = asked.sections(column)
    left_mm = top - block_top - AIR_MM - drawn.all_mm[1]
    needed = least_lines(sections, count) if sections else 0
    lines = min(needed, _lines(left_mm - AIR_MM))
    table_top = block_top + AIR_MM + (ROW_MM * lines + AIR_MM if lines else 0.0)
    corner = _corner((MARGIN_MM, table_top, width - MARGIN_MM, top), drawn)
    if corner is None:
        return None
    spots = [
        Spot(
            left=MARGIN_MM + k * (column + AIR_MM),
            top=block_top + AIR_MM + ROW_MM * lines,
            lines=lines,
        )
        for k in range(count)
    ]
    notes = (
        MARGIN_MM + NOTES_IN_MM,
        block_top - TEXT_MM,
        room - BLOCK_MM - AIR_MM - NOTES_IN_MM,
    )
    return page, corner, _flow(sections, spots), BLOCK_MM, notes


def _corner(room: tuple[float, float, float, float], drawn: _Drawn) -> tuple[float, float] | None:
    """Return where a part's left lower corner lies, amidst a room; None where it does not fit."""
    left, bottom, right, top = room
    width, height = drawn.all_mm
    if width > right - left or height > top - bottom:
        return None
    spare = right - left - width
    return (
        left + max(spare / 2, min(spare, CLEAR_MM)) + drawn.left_mm,
        (bottom + top - height) / 2 + drawn.bottom_mm,
    )


def _flow(sections: Sequence[Section], spots: Sequence[Spot]) -> _Flow:
    """Return tables laid into columns; where a few rows would be left, more are."""
    flow = flowed(sections, spots)
    rest, total = rows_of(flow[1]), rows_of(sections)
    if 0 < total - rest < min(LONELY_ROWS, rest):
        return (), tuple(sections)
    if 0 < rest < LONELY_ROWS < total:
        return flowed(sections, spots, most_rows=total - LONELY_ROWS)
    return flow


def spill_spots(paper: Paper) -> tuple[tuple[float, float], float, list[Spot]]:
    """Return the page that the rest of a table goes on: its size, its columns' width, those."""
    short, long = paper.reading_mm
    count, column = columns_within(long - 2 * MARGIN_MM)
    top = short - MARGIN_MM - HEAD_MM
    lines = _lines(top - MARGIN_MM - BAR_MM)
    spots = [
        Spot(left=MARGIN_MM + k * (column + AIR_MM), top=top, lines=lines) for k in range(count)
    ]
    return (long, short), column, spots


def columns_within(width_mm: float) -> tuple[int, float]:
    """Return how many tables stand side by side in a width, and how wide each is."""
    count = max(1, int((width_mm + AIR_MM + 1e-6) / (LEAST_TABLE_MM + AIR_MM)))
    return count, (width_mm + AIR_MM) / count - AIR_MM


def _lines(height_mm: float) -> int:
    return max(0, int((height_mm + 1e-6) / ROW_MM))


__all__ = [
    "BLOCK_MM",
    "Asked",
    "Layout",
    "columns_within",
    "is_running",
    "layout_of",
    "spill_spots",
]
