"""DXF: a drawing as an exchange file in millimetres. The only module that knows ezdxf.

Two flavours. R2010 is the exact one: circles are CIRCLE, everything else LWPOLYLINE with arcs as
bulges, none longer than a half circle. R12 is for old controllers: POLYLINE of chords only, plain
ASCII; that format has no field for a unit, its numbers are millimetres all the same.

ezdxf is imported when a drawing is written: that takes as long as drawing up half a recipe, and
``check`` and ``show`` write none.
"""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from enum import Enum
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from platekit.cutting.drawing import Drawing, Entry, Layer, Note
from platekit.export.arcs import bulges, split_arcs
from platekit.export.figures import DECIMALS
from platekit.export.palette import PALETTE, Palette
from platekit.geometry.chains import Chain, Contour
from platekit.geometry.chords import polyline_points
from platekit.geometry.tables import CX, CY, X0, X1, Y0, Y1, R

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.layouts.layout import Modelspace

# Chords of the plain flavour leave the true arc by at most this: half of the hundredth of a
# millimetre within which a finished part is to be right.
CHORD_TOLERANCE_MM = 0.005

HALF_CIRCLE_DEG = 180.0  # beyond it a bulge grows without limit and readers disagree

# A bulge multiplies half a chord: on a metre of chord six decimals would move an arc by 0.2 um.
_BULGE_DECIMALS = 12

# Python writes small numbers with an exponent, which old controllers cannot read. Group codes
# 10..59 hold plain numbers; text has codes below 10 and is left alone.
_WITH_EXPONENT = re.compile(r"^( [1-5]\d\n)(-?\d(?:\.\d+)?e-\d+)$", re.MULTILINE)

_NOT_PRINTABLE = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]+")

_SPELT_OUT = {
    "\N{LATIN CAPITAL LETTER O WITH STROKE}": "dia ",
    "\N{LATIN SMALL LETTER O WITH STROKE}": "dia ",
    "\N{DIAMETER SIGN}": "dia ",
    "\N{PLUS-MINUS SIGN}": "+-",
    "\N{DEGREE SIGN}": " deg",
    "\N{MULTIPLICATION SIGN}": "x",
    "\N{EN DASH}": "-",
    "\N{MICRO SIGN}": "u",
}

# Colour numbers that are no colour of their own: by block, and white on dark but black on white.
_FLOATING_COLOURS: tuple[int, ...] = (0, 7)


class DxfFlavour(Enum):
    """Which DXF to write."""

    R2010 = "R2010"  # exact: circles, arcs as bulges
    R12 = "R12"  # plain: chords only, for old controllers


def dxf_text(
    drawing: Drawing,
    *,
    flavour: DxfFlavour = DxfFlavour.R2010,
    palette: Palette = PALETTE,
    chord_tolerance_mm: float = CHORD_TOLERANCE_MM,
) -> str:
    """Return `drawing` as the text of a DXF file, entities in the drawing's own order.

    The same drawing gives the same text, whatever the day. Coordinates are rounded to a
    nanometre.

    Args:
        drawing: What to write.
        flavour: Exact, or plain for old controllers.
        palette: Names and colours of the layers. R2010 carries the true colour, both carry the
            nearest of the 255 numbered ones.
        chord_tolerance_mm: Greatest distance between arc and chord in the plain flavour; > 0.
    """
    from ezdxf import document as documents, units

    exact = flavour is DxfFlavour.R2010
    with _fixed_metadata():
        document = documents.Drawing.new(flavour.value)
        if exact:
            document.units = units.MM
            document.header["$MEASUREMENT"] = 1  # metric
            _sort_classes(document)
        _make_layers(document, palette, true_colour=exact)
        _set_extents(document, drawing)
        space = document.modelspace()
        if exact:
            _draw_exact(space, drawing.entries, palette)
        else:
            _draw_chords(space, drawing.entries, palette, tolerance_mm=chord_tolerance_mm)
        for note in drawing.notes:
            _write_note(space, note, palette, ascii_only=not exact)
        stream = io.StringIO()
        document.write(stream)
    return _WITH_EXPONENT.sub(_without_exponent, stream.getvalue())


@contextmanager
def _fixed_metadata() -> Iterator[None]:
    """Let ezdxf write no dates, random ids or version of its own; restore its option after."""
    import ezdxf

    # Documented as ezdxf.options, though not re-exported in the way strict checkers ask for.
    options = ezdxf.options  # type: ignore[attr-defined]
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _sort_classes(document: Document) -> None:
    """Put the format's classes in order: ezdxf takes some from a set, as its hashes fall."""
    section = document.classes
    section.add_required_classes(document.dxfversion)
    section.classes = dict(sorted(section.classes.items()))


def _set_extents(document: Document, drawing: Drawing) -> None:
    """Say how large the drawing is, in every field that would else hold 1e+20."""
    width, height = round(drawing.width_mm, DECIMALS), round(drawing.height_mm, DECIMALS)
    for layout in document.layouts:
        layout.reset_extents((0, 0, 0), (width, height, 0))
        layout.reset_limits((0, 0), (width, height))
    document.header["$EXTMIN"] = (0.0, 0.0, 0.0)
    document.header["$EXTMAX"] = (width, height, 0.0)


def _make_layers(document: Document, palette: Palette, *, true_colour: bool) -> None:
    taken = _FLOATING_COLOURS
    for layer in Layer:
        pen = palette.of(layer)
        number = _nearest_colour(pen.rgb, taken)
        taken += (number,)  # two layers may look alike, never be alike
        made = document.layers.add(pen.layer_name, color=number)
        if true_colour:
            made.rgb = pen.rgb


@cache
def _nearest_colour(rgb: tuple[int, int, int], taken: tuple[int, ...]) -> int:
    from ezdxf import colors

    free = [number for number in range(1, 256) if number not in taken]
    table = np.array([tuple(colors.aci2rgb(number)) for number in free])
    return free[int(np.argmin(np.sum((table - np.array(rgb)) ** 2, axis=1)))]


def _draw_exact(space: Modelspace, entries: Sequence[Entry], palette: Palette) -> None:
    attributes = {layer: {"layer": palette.of(layer).layer_name} for layer in Layer}
    vertices = iter(_vertices([entry.shape for entry in entries if not _is_circle(entry.shape)]))
    for entry in entries:
        if _is_circle(entry.shape):
            row = np.round(entry.shape.table[0], DECIMALS) + 0.0
            centre = (float(row[CX]), float(row[CY]))
            space.add_circle(centre, float(row[R]), dxfattribs=attributes[entry.layer])
        else:
            space.add_lwpolyline(
                next(vertices),
                format="xyb",
                close=isinstance(entry.shape, Contour),
                dxfattribs=attributes[entry.layer],
            )


def _vertices(chains: Sequence[Chain]) -> list[list[list[float]]]:
    """Return (x, y, bulge) along each chain, an open one's end included; all in one sweep."""
    if not chains:
        return []
    table, origin = split_arcs(
        np.concatenate([chain.table for chain in chains]), most_deg=HALF_CIRCLE_DEG
    )
    bulge = np.clip(np.round(bulges(table), _BULGE_DECIMALS), -1.0, 1.0)
    starts = np.round(table[:, [X0, Y0]], DECIMALS)
    rows = (np.column_stack([starts, bulge]) + 0.0).tolist()
    ends = np.searchsorted(origin, np.cumsum([len(chain.table) for chain in chains]))
    found: list[list[list[float]]] = []
    first = 0
    for chain, end in zip(chains, ends.tolist(), strict=True):
        points = rows[first:end]
        if not isinstance(chain, Contour):
            x, y = (np.round(chain.table[-1, [X1, Y1]], DECIMALS) + 0.0).tolist()
            points.append([x, y, 0.0])
        found.append(points)
        first = end
    return found


def _draw_chords(
    space: Modelspace, entries: Sequence[Entry], palette: Palette, *, tolerance_mm: float
) -> None:
    for entry in entries:
        closed = isinstance(entry.shape, Contour)
        points = polyline_points(entry.shape, tolerance_mm=tolerance_mm)
        points = np.round(points[:-1] if closed else points, DECIMALS) + 0.0
        space.add_polyline2d(
            points.tolist(),
            close=closed,
            dxfattribs={"layer": palette.of(entry.layer).layer_name},
        )


def _is_circle(chain: Chain) -> bool:
    return isinstance(chain, Contour) and chain.is_circle


def _write_note(space: Modelspace, note: Note, palette: Palette, *, ascii_only: bool) -> None:
    text = _NOT_PRINTABLE.sub(" ", note.text)  # a line end would break the file's own lines
    text = _as_ascii(text) if ascii_only else text
    # The format's own escapes. Readers differ on how to spell two per cent signs: keep them apart.
    text = text.replace("^", "^ ").replace("%%", "% %").replace("%%", "% %")
    written = space.add_text(
        text,
        height=round(note.height_mm, DECIMALS),
        dxfattribs={"layer": palette.of(Layer.NOTE).layer_name},
    )
    written.dxf.insert = (round(note.at.x, DECIMALS), round(note.at.y, DECIMALS))
    if note.turn_deg:
        written.dxf.rotation = round(note.turn_deg, DECIMALS)


def _as_ascii(text: str) -> str:
    """Return `text` in the signs every old controller has: accents dropped, others spelt out."""
    spelt = "".join(_SPELT_OUT.get(sign, sign) for sign in text)
    plain = unicodedata.normalize("NFKD", spelt)
    kept = (sign for sign in plain if not unicodedata.combining(sign))
    return "".join(sign if sign.isascii() else "?" for sign in kept)


def _without_exponent(found: re.Match[str]) -> str:
    code, number = found.groups()
    figures = f"{float(number):.{_BULGE_DECIMALS}f}".rstrip("0")
    return code + (figures + "0" if figures.endswith(".") else figures)
