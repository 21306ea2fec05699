"""SVG: a drawing as a picture of real size, which many laser programs cut from as well.

One group for each layer, user units of one millimetre. The drawing's y runs up and the picture's
runs down: this is the one place where it is turned over.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from platekit.cutting.drawing import Drawing, Entry, Layer, Note
from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.palette import PALETTE, Palette
from platekit.export.pathdata import commands
from platekit.geometry.chains import Chain, Contour
from platekit.geometry.motion import mirror_in_horizontal
from platekit.geometry.tables import CX, CY, R

# Programs that sort strokes by width take a hair line as a cut; much thinner and a screen at
# true size shows nothing. A style sheet for screens alone could thicken it, but a program that
# reads the rule and not its condition would take every cut for a broad line: what is for eyes
# goes into pictures of its own.
STROKE_MM = 0.1

# The font size is the line's height, ours is a capital's: 0.7 of it in common sans-serif faces.
CAPITAL_OF_FONT_SIZE = 0.7


def svg_text(drawing: Drawing, *, palette: Palette = PALETTE) -> str:
    """Return `drawing` as the text of an SVG file, 1 mm a user unit.

    Groups come in the order in which the laser should work: score, inside cuts, outside cuts,
    then notes. Where a part lies in the window of another it must be cut free first; the groups
    then repeat, numbered: ``cut_inside``, ``cut_outside``, ``cut_inside-2``...

    Args:
        drawing: What to write.
        palette: Names and colours of the layers.
    """
    width, height = format_mm(drawing.width_mm), format_mm(drawing.height_mm)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size}>',
    ]
    for turn, entries in enumerate(_rounds(drawing.entries), start=1):
        for layer in (Layer.NOTE, Layer.SCORE, Layer.INSIDE_CUT, Layer.OUTSIDE_CUT):
            chosen = [entry for entry in entries if entry.layer is layer]
            if chosen:
                lines += _group(chosen, layer, palette, turn=turn, height_mm=drawing.height_mm)
    if drawing.notes:
        lines += _notes(drawing.notes, palette, height_mm=drawing.height_mm)
    lines.append("</svg>")
    return "\n".join(lines) + "\n"


def _rounds(entries: Iterable[Entry]) -> list[list[Entry]]:
    """Return the entries in rounds, within which the layers may be sorted.

    Sorting a round cuts every inside before every outside. That is wrong only where an inside cut
    would free the piece of sheet in which an outside cut is still to come: a round ends there.
    """
    rounds: list[list[Entry]] = [[]]
    freed: list[Chain] = []
    for entry in entries:
        if entry.layer is Layer.INSIDE_CUT and isinstance(entry.shape, Contour):
            window = entry.shape
            box = window.bounds
            if any(
                box.left <= part.start.x <= box.right
                and box.bottom <= part.start.y <= box.top
                and window.encloses(part.start)
                for part in freed
            ):
                rounds.append([])
                freed = []
        elif entry.layer is Layer.OUTSIDE_CUT:
            freed.append(entry.shape)
        rounds[-1].append(entry)
    return rounds


def _group(
    entries: Sequence[Entry], layer: Layer, palette: Palette, *, turn: int, height_mm: float
) -> list[str]:
    pen = palette.of(layer)
    name = pen.layer_name.lower() + (f"-{turn}" if turn > 1 else "")
    lines = [
        f'<g id="{name}" fill="none" stroke="{pen.colour}" stroke-width="{format_mm(STROKE_MM)}">',
        f"<title>{layer.value}</title>",
    ]
    lines += _shapes(entries, height_mm=height_mm)
    lines.append("</g>")
    return lines


def _shapes(entries: Sequence[Entry], *, height_mm: float) -> list[str]:
    flip = mirror_in_horizontal(y_mm=height_mm / 2)
    table = flip.apply_to_table(np.concatenate([entry.shape.table for entry in entries]))
    lines = []
    first = 0
    for entry in entries:
        rows = table[first : first + len(entry.shape.table)]
        first += len(rows)
        part = f' data-part="{escaped(entry.part)}"' if entry.part else ""
        if isinstance(entry.shape, Contour) and entry.shape.is_circle:
            cx, cy, radius = (format_mm(v) for v in rows[0, [CX, CY, R]].tolist())
            lines.append(f'<circle{part} cx="{cx}" cy="{cy}" r="{radius}"/>')
        else:
            end = " Z" if isinstance(entry.shape, Contour) else ""
            lines.append(f'<path{part} d="{commands(rows)}{end}"/>')
    return lines


def _notes(notes: Sequence[Note], palette: Palette, *, height_mm: float) -> list[str]:
    pen = palette.of(Layer.NOTE)
    name = f"{pen.layer_name.lower()}-text"
    lines = [
        f'<g id="{name}" fill="{pen.colour}" stroke="none" font-family="sans-serif">',
        f"<title>{Layer.NOTE.value}</title>",
    ]
    for note in notes:
        x, y = format_mm(note.at.x), format_mm(height_mm - note.at.y)
        size = format_mm(note.height_mm / CAPITAL_OF_FONT_SIZE)
        turn = format_mm(-note.turn_deg)  # angles grow the other way where y runs down
        turned = "" if turn == "0" else f' transform="rotate({turn} {x} {y})"'
        lines.append(
            f'<text x="{x}" y="{y}" font-size="{size}"{turned}>{escaped(note.text)}</text>'
        )
    lines.append("</g>")
    return lines
