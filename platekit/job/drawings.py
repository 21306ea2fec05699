"""The cut files: one drawing a part, one a nested sheet, each as DXF and as SVG."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from platekit.cutting.drawing import Drawing, part_drawing, sheet_drawing
from platekit.export.dxf import DxfFlavour, dxf_text
from platekit.export.svg import svg_text
from platekit.job.beams import CutPart
from platekit.job.options import DxfName
from platekit.job.stocking import StockedSheet

_FLAVOURS: Mapping[DxfName, DxfFlavour] = {"arcs": DxfFlavour.R2010, "plain": DxfFlavour.R12}


def cut_files(
    parts: Iterable[CutPart], sheets: Sequence[StockedSheet], *, dxf: DxfName
) -> dict[str, str]:
    """Return every cut file by its path: ``parts/<part>.dxf``, ``sheets/<n>.svg`` and so on."""
    by_name = {one.part.name: one for one in parts}
    files: dict[str, str] = {}
    for name, one in by_name.items():
        files |= _both(f"parts/{name}", part_drawing(one), dxf=dxf)
    for number, sheet in enumerate(sheets, start=1):
        files |= _both(f"sheets/{number}", sheet_drawing(sheet, by_name), dxf=dxf)
    return files


def _both(path: str, drawing: Drawing, *, dxf: DxfName) -> dict[str, str]:
    return {
        f"{path}.dxf": dxf_text(drawing, flavour=_FLAVOURS[dxf]),
        f"{path}.svg": svg_text(drawing),
    }
