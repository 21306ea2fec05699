"""The cut files: one drawing a part, one a nested sheet, each as DXF and as SVG."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from platekit.cutting.drawing import (
    Drawing,
    Entry,
    Layer,
    Note,
    Piece,
    part_drawing,
    sheet_drawing,
)
from platekit.export.dxf import DxfFlavour, dxf_text
from platekit.export.svg import svg_text
from platekit.geometry.profile import Profile
from platekit.job.beams import CutPart
from platekit.job.laid import LaidSheet
from platekit.job.names import name_note
from platekit.job.options import DxfName, NamesAs
from platekit.nesting import NestedSheet, Stock
from platekit.panel.flipping import FACE_DOWN, Face, flipped

_FLAVOURS: Mapping[DxfName, DxfFlavour] = {"arcs": DxfFlavour.R2010, "plain": DxfFlavour.R12}


def part_drawings(parts: Iterable[CutPart], *, names: NamesAs = "score") -> dict[str, Drawing]:
    """Return a drawing for each kind of part, by the path of its files without their ending.

    Args:
        parts: Every kind of part; scored names are marks of theirs already.
        names: With "note" each carries its name as a note.
    """
    return {
        f"parts/{one.part.name}": part_drawing(
            one.part.name,
            one.path,
            marks=one.part.marks,
            notes=_notes([Piece(name=one.part.name, path=one.path, marks=one.part.marks)], names),
        )
        for one in parts
    }


def sheet_drawings(
    sheets: Iterable[LaidSheet],
    *,
    faces: Iterable[Face],
    paths: Mapping[str, Profile],
    names: NamesAs = "score",
) -> dict[str, Drawing]:
    """Return a drawing for each nested sheet, by the path of its files without their ending.

    Args:
        sheets: The sheets.
        faces: The good face of every kind of part; scored names are marks on it already.
        paths: Where the middle of the beam runs, by name of the part.
        names: With "note" each piece carries its name as a note.
    """
    by_name = {face.name: face for face in faces}
    lying: dict[tuple[str, bool], Piece] = {}
    drawings: dict[str, Drawing] = {}
    for number, sheet in enumerate(sheets, start=1):
        pieces = []
        for placed in sheet.nested.placements:
            key = placed.part, placed.mirrored
            if key not in lying:
                lying[key] = _piece(by_name[placed.part], paths[placed.part], down=key[1])
            # What lies face down has been turned over already.
            pieces.append(replace(lying[key], motion=replace(placed.motion, mirrored=False)))
        drawing = sheet_drawing(
            pieces,
            width_mm=sheet.nested.width_mm,
            height_mm=sheet.nested.height_mm,
            notes=_notes(pieces, names),
        )
        edges = _edges_of_offcut(sheet.nested)
        drawings[f"sheets/{number}"] = replace(drawing, entries=(*edges, *drawing.entries))
    return drawings


def drawn(drawings: Mapping[str, Drawing], *, dxf: DxfName = "arcs") -> dict[str, str]:
    """Return each drawing as DXF and as SVG, by path."""
    files: dict[str, str] = {}
    for path, drawing in drawings.items():
        files[f"{path}.dxf"] = dxf_text(drawing, flavour=_FLAVOURS[dxf])
        files[f"{path}.svg"] = svg_text(drawing)
    return files


def _edges_of_offcut(nested: NestedSheet) -> list[Entry]:
    """Return the edges of an offcut of odd shape as notes: it must be put down by them."""
    shape = nested.stock.shape if isinstance(nested.stock, Stock) else None
    return [] if shape is None else [Entry(Layer.NOTE, ring, "") for ring in shape.rings]


def _piece(face: Face, path: Profile, *, down: bool) -> Piece:
    if not down:
        return Piece(name=face.name, path=path, marks=face.marks)
    return Piece(name=face.name, path=path.moved(FACE_DOWN), marks=flipped(face).marks)


def _notes(pieces: Iterable[Piece], names: NamesAs) -> list[Note]:
    if names != "note":
        return []
    return [
        name_note(piece.name, piece.path, marks=[mark.path for mark in piece.marks])
        for piece in (one.placed() for one in pieces)
    ]
