"""The picture of the parts: every kind once, with its name, number and size."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import PlatekitError
from platekit.export.captions import LINE_EM
from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.picture import (
    INNER_PX,
    LARGEST_SCALE,
    MARGIN_PX,
    TEXT_PX,
    counted,
    face_group,
    heading,
    page,
    paragraph,
    piece_paths,
    size_text,
    together,
)
from platekit.panel.part import Part

SMALL_PX = 15.0
APART_PX = 36.0
ROWS_APART_PX = 40.0
NARROWEST_PX = 190.0  # room for what is said about a part, however narrow it is

# The largest part may take so much of the page, by how many kinds there are: (up to so many
# kinds, so many abreast, so high).
ROOM = ((1, 1, 620.0), (4, 2, 420.0), (12, 3, 330.0))
ROOM_OTHERWISE = (4, 260.0)

# A part that would come out smaller than this is drawn larger by a round factor, and says so.
SMALLEST_PX = 48.0
FACTORS = (2, 5, 10, 20, 50, 100)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    """A part with what the page gives it: how many times the page's scale, and its room."""

    part: Part
    factor: int
    scale: float

    @property
    def face_px(self) -> tuple[float, float]:
        box = self.part.profile.bounds
        return box.width_mm * self.scale, box.height_mm * self.scale

    @property
    def width_px(self) -> float:
        return max(self.face_px[0], NARROWEST_PX)


def parts_picture(recipe: str, *, parts: Sequence[Part]) -> str:
    """Return every kind of part on one page as the text of an SVG file.

    All to one scale, but for those so small that they are shown larger and say so. Sorted by
    sheet, then by size, the largest first, then by name with numbers in their order.

    Args:
        recipe: What was made.
        parts: Every kind of part, one at least.

    Raises:
        PlatekitError: There is no part to show.
    """
    if not parts:
        raise PlatekitError("there is no part to picture", remedy="give the recipe a plate")
    scale = _scale(parts)
    cells = [_cell(part, scale=scale) for part in _sorted(parts)]
    pieces = sum(part.quantity for part in parts)
    says = f"{counted(pieces, 'piece')} of {counted(len(parts), 'kind')}"
    kinds = dict.fromkeys(part.sheet.name for part in parts)
    body, y = heading(recipe, [*kinds, f"{says}, finished sizes"], scale=scale)
    y += ROWS_APART_PX / 2
    for row in _rows(cells):
        tallest = max(cell.face_px[1] for cell in row)
        lowest = y + tallest
        left = MARGIN_PX
        for cell in row:
            more, end = _drawn(cell, left_px=left, bottom_px=y + tallest)
            body += more
            lowest = max(lowest, end)
            left += cell.width_px + APART_PX
        y = lowest + ROWS_APART_PX
    height = y - ROWS_APART_PX + MARGIN_PX
    return page(body, height_px=height, title=f"{recipe}: parts", says=says)


def _scale(parts: Sequence[Part]) -> float:
    abreast, high = next(
        ((abreast, high) for most, abreast, high in ROOM if len(parts) <= most), ROOM_OTHERWISE
    )
    wide = (INNER_PX - APART_PX * (abreast - 1)) / abreast
    boxes = [part.profile.bounds for part in parts]
    return min(
        LARGEST_SCALE,
        wide / max(box.width_mm for box in boxes),
        high / max(box.height_mm for box in boxes),
    )


def _cell(part: Part, *, scale: float) -> _Cell:
    box = part.profile.bounds
    extent = max(box.width_mm, box.height_mm) * scale
    factor = 1
    if extent < SMALLEST_PX:
        factor = next((f for f in FACTORS if f * extent >= SMALLEST_PX), FACTORS[-1])
    return _Cell(part=part, factor=factor, scale=factor * scale)


def _sorted(parts: Sequence[Part]) -> list[Part]:
    sheets = list(dict.fromkeys(part.sheet for part in parts))

    def rank(part: Part) -> tuple[int, float, list[tuple[int, str]]]:
        box = part.profile.bounds
        # Equal parts differ in the last bits: their order must not come of that.
        area = round(box.width_mm, 3) * round(box.height_mm, 3)
        words = re.findall(r"\d+|\D+", part.name.casefold())
        return (
            sheets.index(part.sheet),
            -round(area, 2),
            [(int(word), "") if word.isdigit() else (-1, word) for word in words],
        )

    return sorted(parts, key=rank)


def _rows(cells: Sequence[_Cell]) -> list[list[_Cell]]:
    rows: list[list[_Cell]] = [[]]
    left = 0.0
    for cell in cells:
        if rows[-1] and left + cell.width_px > INNER_PX + 0.01:
            rows.append([])
            left = 0.0
        rows[-1].append(cell)
        left += cell.width_px + APART_PX
    return rows


def _drawn(cell: _Cell, *, left_px: float, bottom_px: float) -> tuple[list[str], float]:
    """Return a part and what is said below it, and how far down that reaches."""
    part, box = cell.part, cell.part.profile.bounds
    body = [
        face_group(
            left_px=left_px - box.left * cell.scale,
            bottom_px=bottom_px + box.bottom * cell.scale,
            scale=cell.scale,
        ),
        f"<title>{escaped(part.name)}</title>",
        *piece_paths(part, scale=cell.scale),
        "</g>",
    ]
    room = cell.width_px
    y = bottom_px + LINE_EM * TEXT_PX
    name, y = paragraph(part.name, x_px=left_px, y_px=y, width_px=room, bold=True, size_px=TEXT_PX)
    body += name
    thickness = format_mm(part.sheet.thickness_mm, decimals=2)
    facts = [
        size_text(box.width_mm, box.height_mm),
        f"{together(f'{thickness} mm thick')}, {counted(part.quantity, 'piece')}",
    ]
    if cell.factor > 1:
        facts.append(f"shown {cell.factor} times larger")
    for fact in facts:
        more, y = paragraph(fact, x_px=left_px, y_px=y, width_px=room, size_px=SMALL_PX)
        body += more
    return body, y - LINE_EM * SMALL_PX + 0.3 * SMALL_PX
