"""Lines of text on a picture: how wide they may come out, broken to a width, written.

Nobody knows which face a reader's machine has for "sans-serif". So widths are those of a wide
one, and a narrower face only leaves room.
"""

from __future__ import annotations

from typing import Literal

from platekit.export.breaking import broken_into
from platekit.export.figures import format_mm
from platekit.export.markup import escaped

Anchor = Literal["start", "middle", "end"]

# Advance in parts of the font size, never less than in the common faces: measured on DejaVu Sans
# and compared with figures from memory for the others. What is not listed is taken for OTHER_EM.
_WIDTHS_EM = (
    ("ijlI'|", 0.36),
    ("ft.,:;!()[]/ -\N{NO-BREAK SPACE}", 0.47),
    ('r"\N{MIDDLE DOT}', 0.48),
    ("acekszvxy", 0.63),
    ("bdghnopqu?", 0.65),
    ("0123456789_", 0.65),
    ("ABCDEFGHJKLNOPQRSTUVXYZ&#+=<>~\N{MULTIPLICATION SIGN}", 0.85),
    ("wmMW%@", 1.1),
)
_EM = {letter: width for letters, width in _WIDTHS_EM for letter in letters}
OTHER_EM = 1.1
BOLD = 1.16  # how much wider the bold face runs

# Share of the font size: a line's height, and how far the lowest letter reaches below its base.
LINE_EM = 1.3
DESCENT_EM = 0.25
CAPITAL_EM = 0.74


def text_width_px(text: str, *, size_px: float, bold: bool = False) -> float:
    """Return the greatest width `text` may come out at, whatever the face.

    Args:
        text: One line.
        size_px: Font size.
        bold: Whether it is set in bold.
    """
    units = sum(_EM.get(letter, OTHER_EM) for letter in text)
    return units * size_px * (BOLD if bold else 1.0)


def wrapped(text: str, *, width_px: float, size_px: float, bold: bool = False) -> tuple[str, ...]:
    """Return `text` as lines no wider than `width_px`, broken at spaces where that will do.

    A word too long for a line of its own is broken anywhere; a line has one letter at least. A
    space that must not break holds what stands beside it together.

    Args:
        text: What to break.
        width_px: Room for a line.
        size_px: Font size.
        bold: Whether it is set in bold.
    """

    def fits(line: str) -> bool:
        return text_width_px(line, size_px=size_px, bold=bold) <= width_px

    return broken_into(text, fits)


def text_line(
    text: str,
    *,
    x_px: float,
    y_px: float,
    size_px: float,
    colour: str,
    bold: bool = False,
    anchor: Anchor = "start",
    upward: bool = False,
) -> str:
    """Return one line of text as an SVG element; the family is the page's.

    Args:
        text: What it says.
        x_px: Where it is anchored.
        y_px: Its base line.
        size_px: Font size.
        colour: As ``#rrggbb``.
        bold: Whether it is set in bold.
        anchor: What of it lies at `x_px`.
        upward: Whether it reads from bottom to top, turned about its anchor.
    """
    x, y = format_mm(x_px, decimals=1), format_mm(y_px, decimals=1)
    words = [f'x="{x}" y="{y}"', f'font-size="{format_mm(size_px, decimals=1)}" fill="{colour}"']
    if bold:
        words.append('font-weight="bold"')
    if anchor != "start":
        words.append(f'text-anchor="{anchor}"')
    if upward:
        words.append(f'transform="rotate(-90 {x} {y})"')
    return f"<text {' '.join(words)}>{escaped(text)}</text>"
