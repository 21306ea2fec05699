"""The cut files: one drawing a part, one a nested sheet, each as DXF and as SVG."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from platekit.cutting.drawing import Drawing, Piece, part_drawing, sheet_drawing
from platekit.export.dxf import DxfFlavour, dxf_text
from platekit.export.svg import svg_text
from platekit.job.beams import CutPart
from platekit.job.options import DxfName
from platekit.job.stocking import StockedSheet

_FLAVOURS: Mapping[DxfName, DxfFlavour] = {"arcs": DxfFlavour.R2010, "plain": DxfFlavour.R12}


def part_drawings(parts: Iterable[CutPart]) -> dict[str, Drawing]:
    """Return a drawing for each kind of part, by the path of its files without their ending."""
    return {
        f"parts/{one.part.name}": part_drawing(one.part.name, one.path, marks=one.part.marks)
        for one in parts
    }


def sheet_drawings(
    sheets: Iterable[StockedSheet], *, parts: Iterable[CutPart]
) -> dict[str, Drawing]:
    """Return a drawing for each nested sheet, by the path of its files without their ending."""
    by_name = {one.part.name: one for one in parts}
    return {
        f"sheets/{number}": sheet_drawing(
            [
                Piece(
                    name=placed.part,
                    path=by_name[placed.part].path,
                    marks=by_name[placed.part].part.marks,
                    motion=placed.motion,
                )
                for placed in sheet.nested.placements
            ],
            width_mm=sheet.nested.width_mm,
            height_mm=sheet.nested.height_mm,
        )
        for number, sheet in enumerate(sheets, start=1)
    }


def drawn(drawings: Mapping[str, Drawing], *, dxf: DxfName = "arcs") -> dict[str, str]:
    """Return each drawing as DXF and as SVG, by path."""
    files: dict[str, str] = {}
    for path, drawing in drawings.items():
        files[f"{path}.dxf"] = dxf_text(drawing, flavour=_FLAVOURS[dxf])
        files[f"{path}.svg"] = svg_text(drawing)
    return files
