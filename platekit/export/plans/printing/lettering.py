"""Type: the face that plans are set in, how wide its lines run, and text broken to a width.

The face is Bitstream Vera, which may be shipped by anyone and comes with reportlab.
"""

from __future__ import annotations

from functools import cache
from typing import Any, Literal

from platekit.export.breaking import broken_into

PLAIN, BOLD = "Vera", "VeraBd"
# Size of the type, mm from line to line's foot; a capital stands 0.73 of it.
SMALL_MM, TEXT_MM, HEAD_MM, TITLE_MM = 2.5, 3.1, 4.4, 8.0
CAPITAL = 0.73
LEADING = 1.35

Anchor = Literal["start", "middle", "end"]


@cache
def faces() -> dict[str, Any]:
    """Return the plain and the bold face, made known to reportlab."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    faces = {}
    for name in (PLAIN, BOLD):
        faces[name] = TTFont(name, f"{name}.ttf")
        pdfmetrics.registerFont(faces[name])
    return faces


def printable(text: str) -> str:
    """Return `text` with signs that the face does not know as question marks."""
    known = faces()[PLAIN].face.charToGlyph
    return "".join(sign if ord(sign) in known else "?" for sign in text)


def width_of(text: str, *, size_mm: float, bold: bool = False) -> float:
    """Return the width of a line of type, mm."""
    face = faces()[BOLD if bold else PLAIN]
    return float(face.stringWidth(printable(text), size_mm))


def broken(text: str, *, width_mm: float, size_mm: float, bold: bool = False) -> tuple[str, ...]:
    """Return `text` as lines no wider than a width; words too long for one are broken anywhere."""

    def fits(line: str) -> bool:
        return width_of(line, size_mm=size_mm, bold=bold) <= width_mm

    return broken_into(text, fits)
