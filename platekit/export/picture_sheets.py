"""The picture of the nested sheets: what is cut from which, and what is left over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from platekit.errors import PlatekitError
from platekit.export.captions import CAPITAL_EM, LINE_EM, text_line, text_width_px
from platekit.export.figures import format_mm
from platekit.export.label_room import LabelRoom
from platekit.export.markup import escaped
from platekit.export.palette import OKABE_ITO
from platekit.export.picture import (
    EDGE,
    INK,
    INNER_PX,
    LARGEST_SCALE,
    LINE_PX,
    MARGIN_PX,
    MARKS,
    PAPER,
    PIECE,
    QUIET_INK,
    TEXT_PX,
    THIN_PX,
    counted,
    face_group,
    heading,
    page,
    paragraph,
    piece_paths,
    px,
    size_text,
    tinted,
    together,
)
from platekit.geometry.points import Point
from platekit.materials import Sheet
from platekit.nesting import NestedSheet, Placement
from platekit.panel.part import Part

STOCK = tinted(OKABE_ITO["orange"], share=0.16)

# A sheet on end would make the page endless; more pages' worth than this goes side by side.
TALLEST_PX = 900.0
LONGEST_PAGE_PX = 2600.0
MOST_ABREAST = 4
APART_PX = 36.0
NARROWEST_PX = 250.0  # room for a caption, however narrow the sheet

# A narrower strip than this at the end of a sheet is waste like the rest.
NARROWEST_OFFCUT_MM = 30.0

NAME_SIZES_PX = (18.0, 15.0, 13.0)
NAME_MARGIN_PX = 5.0  # from a name to the nearest line


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturedSheet:
    """One nested sheet as the picture shows it.

    Attributes:
        sheet: What it is cut from.
        nested: What lies where.
        kerf_mm: Width of the cut it was nested for.
    """

    sheet: Sheet
    nested: NestedSheet
    kerf_mm: float


@dataclass(frozen=True, slots=True)
class _Label:
    """A name on a piece: its lines, the middle of them on the sheet, and how they are set."""

    lines: tuple[str, ...]
    middle: Point
    size_px: float
    upward: bool = False


def sheets_picture(recipe: str, *, parts: Sequence[Part], sheets: Sequence[PicturedSheet]) -> str:
    """Return every nested sheet on one page, to one scale, as the text of an SVG file.

    Each piece carries its name where there is room for it, or else a number that a line below
    the sheet explains, or else is only listed there. A pointer resting on it is told the name in
    any case.

    Args:
        recipe: What was made.
        parts: Every kind of part that lies on them.
        sheets: The sheets, one at least.

    Raises:
        PlatekitError: There is no sheet to show.
    """
    if not sheets:
        raise PlatekitError("there is no nested sheet to picture", remedy="nest something first")
    by_name = {part.name: part for part in parts}
    scale = _scale([one.nested for one in sheets])
    used = [part for part in parts if any(_lies_on(part, one.nested) for one in sheets)]
    ids = {part.name: f"kind-{number}" for number, part in enumerate(used, start=1)}
    body = ["<defs>"]
    for part in used:
        body.append(f'<g id="{ids[part.name]}"><title>{escaped(part.name)}</title>')
        body += [*piece_paths(part, scale=scale), "</g>"]
    body.append("</defs>")
    head, y = heading(recipe, _facts(sheets), scale=scale)
    body += head
    legend, y = _legend(sheets, used, y_px=y)
    body += legend
    numbers: dict[str, int] = {}
    number = 0
    for row in _rows([one.nested for one in sheets], scale=scale):
        left, lowest = MARGIN_PX, y
        captions = []
        tallest = max(sheets[k].nested.height_mm for k in row) * scale
        for k in row:
            number += 1
            room = _cell_px(sheets[k].nested, scale=scale)
            if k == row[-1]:  # nothing stands right of it
                room = MARGIN_PX + INNER_PX - left
            several = len({(one.sheet, one.kerf_mm) for one in sheets}) > 1
            caption, top = _caption(
                sheets[k], number=number, several=several, x_px=left, y_px=y, width_px=room
            )
            captions.append((k, caption, left, room))
            lowest = max(lowest, top)
            left += room + APART_PX
        bottom = lowest + tallest
        for k, caption, x, room in captions:
            body += caption
            drawn, key = _sheet(
                sheets[k].nested,
                parts=by_name,
                ids=ids,
                numbers=numbers,
                at_px=(x, lowest),
                scale=scale,
            )
            body += drawn
            foot = lowest + sheets[k].nested.height_mm * scale
            if key:
                more, foot = paragraph(
                    key, x_px=x, y_px=foot + LINE_EM * TEXT_PX, width_px=room, size_px=15.0
                )
                body += more
            bottom = max(bottom, foot)
        y = bottom + APART_PX
    height = y - APART_PX + MARGIN_PX
    pieces = sum(len(one.nested.placements) for one in sheets)
    says = f"{counted(pieces, 'piece')} laid on {counted(len(sheets), 'sheet')}"
    return page(body, height_px=height, title=f"{recipe}: sheets", says=says)


def _lies_on(part: Part, nested: NestedSheet) -> bool:
    return any(placed.part == part.name for placed in nested.placements)


def _scale(sheets: Sequence[NestedSheet]) -> float:
    """Return pixels to the millimetre: as large as will do on a page of sensible length."""
    widest = max(one.width_mm for one in sheets)
    tallest = max(one.height_mm for one in sheets)
    scale = LARGEST_SCALE
    for abreast in range(1, MOST_ABREAST + 1):
        room = (INNER_PX - APART_PX * (abreast - 1)) / abreast
        scale = min(LARGEST_SCALE, room / widest, TALLEST_PX / tallest)
        captions = 3 * LINE_EM * TEXT_PX + APART_PX
        length = sum(
            max(sheets[k].height_mm for k in row) * scale + captions
            for row in _rows(sheets, scale=scale)
        )
        if length <= LONGEST_PAGE_PX:
            break
    return scale


def _cell_px(nested: NestedSheet, *, scale: float) -> float:
    return max(nested.width_mm * scale, NARROWEST_PX)


def _rows(sheets: Sequence[NestedSheet], *, scale: float) -> list[list[int]]:
    """Return the sheets in rows that fit the page, by index."""
    rows: list[list[int]] = [[]]
    left = 0.0
    for k, one in enumerate(sheets):
        width = _cell_px(one, scale=scale)
        if rows[-1] and left + width > INNER_PX + 0.01:
            rows.append([])
            left = 0.0
        rows[-1].append(k)
        left += width + APART_PX
    return rows


def _facts(sheets: Sequence[PicturedSheet]) -> list[str]:
    kinds = dict.fromkeys((one.sheet.name, one.kerf_mm) for one in sheets)
    pieces = sum(len(one.nested.placements) for one in sheets)
    count = f"{counted(pieces, 'piece')} on {counted(len(sheets), 'sheet')}"
    return [
        *(f"{name}, kerf {format_mm(kerf_mm, decimals=2)} mm" for name, kerf_mm in kinds),
        count,
    ]


def _legend(
    sheets: Sequence[PicturedSheet], parts: Sequence[Part], *, y_px: float
) -> tuple[list[str], float]:
    """Return what the tints and lines mean, in one row, and the base line of what follows."""
    frame = f'stroke="{QUIET_INK}" stroke-width="{px(THIN_PX)}"'
    edge = f'stroke="{EDGE}" stroke-width="{px(LINE_PX)}"'
    swatches = [
        (f'<rect width="26" height="14" fill="{PIECE}" {edge}/>', "piece"),
        (f'<rect width="26" height="14" fill="{STOCK}" {frame}/>', "waste"),
    ]
    if any(_offcut_mm(one.nested) > 0 for one in sheets):
        dashed = f'{frame} stroke-dasharray="5 3"'
        swatches.append((f'<rect width="26" height="14" fill="{PAPER}" {dashed}/>', "free offcut"))
    layers = {mark.layer for part in parts for mark in part.marks}
    for layer, word in (("score", "scored"), ("note", "note, not burnt")):
        if layer in layers:
            pen = f'stroke="{MARKS[layer]}" stroke-width="2"'
            swatches.append((f'<path d="M 0 7 h 26" fill="none" {pen}/>', word))
    body = []
    x, y = MARGIN_PX, y_px + 0.9 * TEXT_PX
    for swatch, word in swatches:
        body.append(f'<g transform="translate({px(x)} {px(y - 13)})">{swatch}</g>')
        body.append(text_line(word, x_px=x + 36, y_px=y, size_px=TEXT_PX, colour=QUIET_INK))
        x += 36 + text_width_px(word, size_px=TEXT_PX) + 24
    return body, y + 2.1 * TEXT_PX + 4


def _caption(
    one: PicturedSheet, *, number: int, several: bool, x_px: float, y_px: float, width_px: float
) -> tuple[list[str], float]:
    """Return what stands above a sheet, and where the sheet may begin."""
    nested = one.nested
    title = f"Sheet {number}: {size_text(nested.width_mm, nested.height_mm)}"
    body, y = paragraph(title, x_px=x_px, y_px=y_px, width_px=width_px, bold=True)
    facts = [
        counted(len(nested.placements), "piece"),
        together(f"{nested.utilisation * 100:.0f} % filled"),
        f"{together(f'{nested.used_length_mm:.0f} mm')} of its length used",
    ]
    if several:
        facts.insert(0, one.sheet.name)
    more, y = paragraph(", ".join(facts), x_px=x_px, y_px=y, width_px=width_px)
    return [*body, *more], y - LINE_EM * TEXT_PX + 0.65 * TEXT_PX


def _offcut_mm(nested: NestedSheet) -> float:
    """Return the width of the strip worth keeping, right of every piece, mm; 0 for none."""
    free = nested.width_mm - nested.used_length_mm
    return free if free >= NARROWEST_OFFCUT_MM else 0.0


def _sheet(
    nested: NestedSheet,
    *,
    parts: Mapping[str, Part],
    ids: Mapping[str, str],
    numbers: dict[str, int],
    at_px: tuple[float, float],
    scale: float,
) -> tuple[list[str], str]:
    """Return one sheet, and the line that explains its numbers; adds to `numbers`."""
    x, y = at_px
    width, height = nested.width_mm * scale, nested.height_mm * scale
    body = [_ground(nested, at_px=at_px, scale=scale)]
    body.append(face_group(left_px=x, bottom_px=y + height, scale=scale))
    for placed in nested.placements:
        motion = f"translate({px(placed.x_mm)} {px(placed.y_mm)})"
        turn = format_mm(placed.rotation_deg, decimals=4)
        if turn != "0":
            motion += f" rotate({turn})"
        body.append(f'<use href="#{ids[placed.part]}" transform="{motion}"/>')
    body.append("</g>")
    frame = f'fill="none" stroke="{QUIET_INK}" stroke-width="{px(LINE_PX)}"'
    body.append(
        f'<rect x="{px(x)}" y="{px(y)}" width="{px(width)}" height="{px(height)}" {frame}/>'
    )
    explained: dict[int, str] = {}
    nameless: dict[str, None] = {}
    for placed in nested.placements:
        part = parts[placed.part]
        room = _room(part, placed, scale=scale)
        label = _named(part.name, room)
        if label is None:
            number = numbers.get(part.name, len(numbers) + 1)
            label = _numbered(number, room)
            if label is not None:
                numbers[part.name] = number
                explained[number] = part.name
        if label is None:
            nameless[part.name] = None
        else:
            body += _printed(label, left_px=x, bottom_px=y + height, scale=scale)
    key = ", ".join(f"{number} = {name}" for number, name in sorted(explained.items()))
    rest = ", ".join(nameless)
    return body, "; ".join(filter(None, (key, f"too small to name: {rest}" if rest else "")))


def _ground(nested: NestedSheet, *, at_px: tuple[float, float], scale: float) -> str:
    """Return the sheet itself, its free offcut apart."""
    x, y = at_px
    offcut = _offcut_mm(nested)
    used, height = (nested.width_mm - offcut) * scale, nested.height_mm * scale
    box = f'x="{px(x)}" y="{px(y)}" width="{px(used)}" height="{px(height)}"'
    ground = f'<rect {box} fill="{STOCK}"/>'
    if offcut == 0.0:
        return ground
    line = f'stroke="{QUIET_INK}" stroke-width="{px(THIN_PX)}" stroke-dasharray="8 5"'
    ground += f'<path d="M {px(x + used)} {px(y)} v {px(height)}" fill="none" {line}/>'
    said = f"free offcut {size_text(offcut, nested.height_mm)}"
    wide = offcut * scale
    length = text_width_px(said, size_px=TEXT_PX) + 2 * NAME_MARGIN_PX
    middle, half = x + used + wide / 2, y + height / 2
    if length <= wide and height >= LINE_EM * TEXT_PX:
        return ground + text_line(
            said, x_px=middle, y_px=half, size_px=TEXT_PX, colour=QUIET_INK, anchor="middle"
        )
    if length <= height and wide >= LINE_EM * TEXT_PX:
        return ground + text_line(
            said,
            x_px=middle + CAPITAL_EM / 2 * TEXT_PX,
            y_px=half,
            size_px=TEXT_PX,
            colour=QUIET_INK,
            anchor="middle",
            upward=True,
        )
    return ground


def _room(part: Part, placed: Placement, *, scale: float) -> LabelRoom:
    profile = part.profile.moved(placed.motion)
    marks = [mark.path.moved(placed.motion) for mark in part.marks]
    return LabelRoom(profile, marks=marks, scale=scale)


def _named(name: str, room: LabelRoom) -> _Label | None:
    """Return the name in the largest letters there is room for, or None."""
    for size in NAME_SIZES_PX:
        for lines, upward in (((name,), False), (_halved(name), False), ((name,), True)):
            spot = _spot(lines, room, size_px=size, upward=upward)
            if spot is not None:
                return _Label(lines, spot, size, upward)
    return None


def _halved(name: str) -> tuple[str, ...]:
    """Return the name as two lines as even as its spaces allow, or as one."""
    words = name.split()
    splits = [(" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words))]
    return min(splits, key=lambda lines: max(map(len, lines)), default=(name,))


def _numbered(number: int, room: LabelRoom) -> _Label | None:
    for size in NAME_SIZES_PX[1:]:
        spot = _spot((str(number),), room, size_px=size, upward=False)
        if spot is not None:
            return _Label((str(number),), spot, size)
    return None


def _spot(lines: Sequence[str], room: LabelRoom, *, size_px: float, upward: bool) -> Point | None:
    length = max(text_width_px(line, size_px=size_px) for line in lines)
    long = length + 2 * NAME_MARGIN_PX
    across = LINE_EM * size_px * len(lines) + NAME_MARGIN_PX
    if upward:
        return room.spot(width_px=across, height_px=long)
    return room.spot(width_px=long, height_px=across)


def _printed(label: _Label, *, left_px: float, bottom_px: float, scale: float) -> list[str]:
    x = left_px + label.middle.x * scale
    y = bottom_px - label.middle.y * scale
    body = []
    for k, line in enumerate(label.lines):
        # From the middle of the lines to the base line of this one.
        down = (k - (len(label.lines) - 1) / 2) * LINE_EM * label.size_px
        down += CAPITAL_EM / 2 * label.size_px
        body.append(
            text_line(
                line,
                x_px=x + (down if label.upward else 0.0),
                y_px=y + (0.0 if label.upward else down),
                size_px=label.size_px,
                colour=INK,
                anchor="middle",
                upward=label.upward,
            )
        )
    return body
