"""A PDF as pdfium has it: what is drawn on each page, in millimetres, y up.

pdfium is an independent reader of PDF; nothing here asks platekit where anything lies.
"""

from __future__ import annotations

import ctypes
from dataclasses import dataclass

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
import shapely

MM = 25.4 / 72.0
CURVE_STEPS = np.linspace(0.0, 1.0, 17)[1:]


@dataclass(frozen=True)
class Drawn:
    """One path: its chains, whether stroked or filled, its colours and its width of line."""

    chains: tuple[np.ndarray, ...]
    stroked: bool
    filled: bool
    stroke: str
    fill: str
    width_mm: float

    @property
    def box(self) -> np.ndarray:
        """Least and greatest x, y of its middle line."""
        points = np.concatenate(self.chains)
        return np.array([points.min(axis=0), points.max(axis=0)])

    @property
    def lines(self) -> shapely.Geometry:
        """The same as shapely has it."""
        return shapely.union_all([shapely.LineString(one) for one in self.chains if len(one) > 1])


@dataclass(frozen=True)
class Page:
    """One page: its size, its paths, its words."""

    width_mm: float
    height_mm: float
    drawn: tuple[Drawn, ...]
    text: str


def pages_of(pdf: bytes, *, only: str = "") -> list[Page]:
    """Return the pages of a file; with `only`, those whose words hold it."""
    document = pypdfium2.PdfDocument(pdf)
    found = []
    for page in document:
        text = page.get_textpage().get_text_bounded()
        if only not in text:
            continue
        width, height = page.get_size()
        found.append(Page(width * MM, height * MM, tuple(_paths(page)), text))
    document.close()
    return found


def rendered(pdf: bytes, *, dots_per_inch: float = 50.0) -> list[np.ndarray]:
    """Return every page in grey, 255 white."""
    document = pypdfium2.PdfDocument(pdf)
    scale = dots_per_inch / 72.0
    made = [np.array(page.render(scale=scale, grayscale=True).to_pil()) for page in document]
    document.close()
    return made


def _paths(page):
    for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
        matrix = np.array(item.get_matrix().get()).reshape(3, 2)
        fill, stroke = ctypes.c_int(), ctypes.c_int()
        pdfium.FPDFPath_GetDrawMode(item.raw, fill, stroke)
        width = ctypes.c_float()
        pdfium.FPDFPageObj_GetStrokeWidth(item.raw, width)
        scale = np.sqrt(abs(np.linalg.det(matrix[:2])))
        yield Drawn(
            chains=tuple(_chains(item, matrix)),
            stroked=bool(stroke.value),
            filled=bool(fill.value),
            stroke=_colour(item, pdfium.FPDFPageObj_GetStrokeColor),
            fill=_colour(item, pdfium.FPDFPageObj_GetFillColor),
            width_mm=width.value * scale * MM,
        )


def _colour(item, ask) -> str:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    ask(item.raw, red, green, blue, alpha)
    return f"#{red.value:02x}{green.value:02x}{blue.value:02x}"


def _chains(item, matrix):
    chain, waiting, first = [], [], None
    for k in range(pdfium.FPDFPath_CountSegments(item.raw)):
        segment = pdfium.FPDFPath_GetPathSegment(item.raw, k)
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        at = (np.array([x.value, y.value, 1.0]) @ matrix) * MM
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            if chain:
                yield np.array(chain)
            chain, first = [at], at
        elif kind == pdfium.FPDF_SEGMENT_LINETO:
            chain.append(at)
        else:
            waiting.append(at)
            if len(waiting) == 3:
                chain += list(_cubic(chain[-1], *waiting))
                waiting = []
        if pdfium.FPDFPathSegment_GetClose(segment):
            chain.append(first)
    if chain:
        yield np.array(chain)


def _cubic(a, b, c, d):
    """Yield points of a cubic by Bernstein's polynomials."""
    for t in CURVE_STEPS:
        s = 1.0 - t
        yield s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d
