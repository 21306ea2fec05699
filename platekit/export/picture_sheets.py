"""The picture of the nested sheets: what is cut from which, and what is left over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from platekit.errors import PlatekitError
from platekit.export.captions import LINE_EM, text_line, text_width_px
from platekit.export.figures import format_mm
from platekit.export.label_room import LabelRoom
from platekit.export.markup import escaped
from platekit.export.picture import (
    EDGE,
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
    together,
)
from platekit.export.picture_ground import STOCK, frame, ground, offcut_names
from platekit.export.picture_labels import named, numbered, printed
from platekit.nesting import NestedSheet, Placement, Stock
from platekit.panel.flipping import Face, flipped

# A sheet on end would make the page endless; more pages' worth than this goes side by side.
TALLEST_PX = 900.0
LONGEST_PAGE_PX = 2600.0
MOST_ABREAST = 4
APART_PX = 36.0
NARROWEST_PX = 250.0  # room for a caption, however narrow the sheet


@dataclass(frozen=True, slots=True, kw_only=True)
class PicturedSheet:
    """One nested sheet as the picture shows it.

    Attributes:
        kind: What it is cut from, in words; empty where nobody says.
        nested: What lies where.
        kerf_mm: Width of the cut it was nested for; None where outlines are cut as given.
    """

    kind: str
    nested: NestedSheet
    kerf_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    """A kind of part one way up: the group that draws it, its title and the face to be seen."""

    id: str
    title: str
    face: Face


def sheets_picture(
    title: str, *, faces: Sequence[Face], sheets: Sequence[PicturedSheet], first: int | None = None
) -> str:
    """Return nested sheets on one page, to one scale, as the text of an SVG file.

    Each piece carries its name where there is room for it, or else a number that a line below
    the sheet explains, or else is only listed there. A pointer resting on it is told the name in
    any case.

    Args:
        title: What was made.
        faces: The good face of every kind of part that lies on them.
        sheets: The sheets, one at least.
        first: Number of the first sheet, where they are not all there are.

    Raises:
        PlatekitError: There is no sheet to show.
    """
    if not sheets:
        raise PlatekitError("there is no nested sheet to picture", remedy="nest something first")
    scale = _scale([one.nested for one in sheets])
    kinds = _kinds(faces, sheets)
    body = ["<defs>"]
    for kind in kinds.values():
        body.append(f'<g id="{kind.id}"><title>{escaped(kind.title)}</title>')
        body += [*piece_paths(kind.face, scale=scale), "</g>"]
    body.append("</defs>")
    head, y = heading(title, _facts(sheets), scale=scale)
    body += head
    legend, y = _legend(sheets, [kind.face for kind in kinds.values()], y_px=y)
    body += legend
    numbers: dict[str, int] = {}
    number = (first or 1) - 1
    for row in _rows([one.nested for one in sheets], scale=scale):
        left, lowest = MARGIN_PX, y
        captions = []
        tallest = max(sheets[k].nested.height_mm for k in row) * scale
        for k in row:
            number += 1
            room = _cell_px(sheets[k].nested, scale=scale)
            if k == row[-1]:  # nothing stands right of it
                room = MARGIN_PX + INNER_PX - left
            several = len({(one.kind, one.kerf_mm) for one in sheets}) > 1
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
                kinds=kinds,
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
    which = "sheets" if first is None else f"sheet {first}"
    return page(body, height_px=height, title=f"{title}: {which}", says=says)


def _kinds(faces: Iterable[Face], sheets: Iterable[PicturedSheet]) -> dict[tuple[str, bool], _Kind]:
    """Return what lies on the sheets, each way up it does, by name and whether it is face down."""
    lying = {(placed.part, placed.mirrored) for one in sheets for placed in one.nested.placements}
    kinds: dict[tuple[str, bool], _Kind] = {}
    for face in faces:
        for down in (False, True):
            if (face.name, down) in lying:
                kinds[face.name, down] = _Kind(
                    id=f"kind-{len(kinds) + 1}",
                    title=f"{face.name} (face down)" if down else face.name,
                    face=flipped(face) if down else face,
                )
    return kinds


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
    kinds = dict.fromkeys((one.kind, one.kerf_mm) for one in sheets)
    pieces = sum(len(one.nested.placements) for one in sheets)
    count = f"{counted(pieces, 'piece')} on {counted(len(sheets), 'sheet')}"
    return [
        *filter(None, (_material(name, kerf_mm) for name, kerf_mm in kinds)),
        count,
    ]


def _material(name: str, kerf_mm: float | None) -> str:
    kerf = "" if kerf_mm is None else f"kerf {format_mm(kerf_mm, decimals=2)} mm"
    return ", ".join(filter(None, (name, kerf)))


def _legend(
    sheets: Sequence[PicturedSheet], faces: Sequence[Face], *, y_px: float
) -> tuple[list[str], float]:
    """Return what the tints and lines mean, in one row, and the base line of what follows."""
    frame = f'stroke="{QUIET_INK}" stroke-width="{px(THIN_PX)}"'
    edge = f'stroke="{EDGE}" stroke-width="{px(LINE_PX)}"'
    swatches = [
        (f'<rect width="26" height="14" fill="{PIECE}" {edge}/>', "piece"),
        (f'<rect width="26" height="14" fill="{STOCK}" {frame}/>', "waste"),
    ]
    if any(one.nested.offcuts for one in sheets):
        dashed = f'{frame} stroke-dasharray="5 3"'
        swatches.append((f'<rect width="26" height="14" fill="{PAPER}" {dashed}/>', "free offcut"))
    layers = {mark.layer for face in faces for mark in face.marks}
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
    if several and one.kind:
        facts.insert(0, one.kind)
    if isinstance(nested.stock, Stock) and nested.stock.name:
        facts.insert(0, nested.stock.name)
    more, y = paragraph(", ".join(facts), x_px=x_px, y_px=y, width_px=width_px)
    return [*body, *more], y - LINE_EM * TEXT_PX + 0.65 * TEXT_PX


def _sheet(
    nested: NestedSheet,
    *,
    kinds: Mapping[tuple[str, bool], _Kind],
    numbers: dict[str, int],
    at_px: tuple[float, float],
    scale: float,
) -> tuple[list[str], str]:
    """Return one sheet, and the line that explains its numbers; adds to `numbers`."""
    left, bottom = at_px[0], at_px[1] + nested.height_mm * scale
    body = [face_group(left_px=left, bottom_px=bottom, scale=scale), *ground(nested, scale=scale)]
    for placed in nested.placements:
        motion = f"translate({px(placed.x_mm)} {px(placed.y_mm)})"
        turn = format_mm(placed.rotation_deg, decimals=4)
        if turn != "0":
            motion += f" rotate({turn})"
        body.append(f'<use href="#{kinds[placed.part, placed.mirrored].id}" transform="{motion}"/>')
    body += [frame(nested, scale=scale), "</g>"]
    body += offcut_names(nested.offcuts, left_px=left, bottom_px=bottom, scale=scale)
    explained: dict[int, str] = {}
    nameless: dict[str, None] = {}
    for placed in nested.placements:
        name = placed.part
        room = _room(kinds[name, placed.mirrored].face, placed, scale=scale)
        label = named(name, room)
        if label is None:
            number = numbers.get(name, len(numbers) + 1)
            label = numbered(number, room)
            if label is not None:
                numbers[name] = number
                explained[number] = name
        if label is None:
            nameless[name] = None
        else:
            body += printed(label, left_px=left, bottom_px=bottom, scale=scale)
    key = ", ".join(f"{number} = {name}" for number, name in sorted(explained.items()))
    rest = ", ".join(nameless)
    return body, "; ".join(filter(None, (key, f"too small to name: {rest}" if rest else "")))


def _room(face: Face, placed: Placement, *, scale: float) -> LabelRoom:
    # The face is that which lies up: a mirrored one has been turned over already.
    motion = replace(placed.motion, mirrored=False)
    marks = [mark.path.moved(motion) for mark in face.marks]
    return LabelRoom(face.profile.moved(motion), marks=marks, scale=scale)
