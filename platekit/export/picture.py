"""Pictures for people: one look for the pages that show what will be cut.

Cut files are for the laser: hair lines, true size, nothing filled. A picture is for a screen: a
page of fixed width on a white ground of its own, pieces tinted, lines and letters wide enough to
read. Shapes are the finished ones, without kerf; curves stay curves.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from platekit.export.captions import LINE_EM, text_line, text_width_px, wrapped
from platekit.export.figures import format_mm
from platekit.export.markup import escaped
from platekit.export.palette import OKABE_ITO
from platekit.export.pathdata import path_data
from platekit.geometry.chains import Chain
from platekit.panel.flipping import Face
from platekit.panel.part import MarkLayer, Part

NAMESPACE = "http://www.w3.org/2000/svg"

PAGE_PX = 1200.0
MARGIN_PX = 32.0
INNER_PX = PAGE_PX - 2 * MARGIN_PX

TITLE_PX = 30.0
TEXT_PX = 18.0
LINE_PX = 1.4
THIN_PX = 1.0

# A hundredth of a millimetre is a hundredth of a pixel or so.
DECIMALS = 2

# Beyond this a piece the size of a stamp fills the page.
LARGEST_SCALE = 4.0


def tinted(colour: str, *, share: float) -> str:
    """Return `colour` thinned with white.

    Args:
        colour: As ``#rrggbb``.
        share: How much of the colour is left, 0 to 1.

    Example:
        >>> tinted("#000000", share=0.2)
        '#cccccc'
    """
    channels = bytes.fromhex(colour[1:])
    return "#" + bytes(round(255 - share * (255 - one)) for one in channels).hex()


INK = tinted(OKABE_ITO["black"], share=0.87)
QUIET_INK = tinted(OKABE_ITO["black"], share=0.66)
PAPER = tinted(OKABE_ITO["black"], share=0.0)
PIECE = tinted(OKABE_ITO["sky blue"], share=0.3)
EDGE = OKABE_ITO["blue"]
MARKS: Mapping[MarkLayer, str] = {
    "score": OKABE_ITO["bluish green"],
    "note": OKABE_ITO["reddish purple"],
}


def px(value: float) -> str:
    """Return a length or place on the page as it is written."""
    return format_mm(value, decimals=DECIMALS)


def page(body: Iterable[str], *, height_px: float, title: str, says: str) -> str:
    """Return a whole picture as the text of an SVG file.

    Args:
        body: Its elements.
        height_px: Its height.
        title: What it is called, for whoever cannot see it.
        says: What it shows, for the same.
    """
    width, height = px(PAGE_PX), px(height_px)
    size = f'width="{width}" height="{height}" viewBox="0 0 {width} {height}"'
    return "\n".join(
        [
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="{NAMESPACE}" {size} role="img" font-family="sans-serif">',
            f"<title>{escaped(title)}</title>",
            f"<desc>{escaped(says)}</desc>",
            f'<rect width="{width}" height="{height}" fill="{PAPER}"/>',
            *body,
            "</svg>\n",
        ]
    )


def heading(title: str, lines: Iterable[str], *, scale: float | None) -> tuple[list[str], float]:
    """Return the head of a page and how far down it reaches.

    Args:
        title: In large letters.
        lines: What stands below it.
        scale: Pixels to the millimetre, for a bar of round length at the right; None for no bar.
    """
    bar, bar_px = ([], 0.0) if scale is None else scale_bar(scale)
    body = list(bar)
    y = MARGIN_PX + 0.8 * TITLE_PX
    room = INNER_PX - bar_px
    for line in wrapped(title, width_px=room, size_px=TITLE_PX, bold=True):
        body.append(
            text_line(line, x_px=MARGIN_PX, y_px=y, size_px=TITLE_PX, colour=INK, bold=True)
        )
        y += LINE_EM * TITLE_PX
    y -= LINE_EM * (TITLE_PX - TEXT_PX)
    y += 4.0
    for text in lines:
        more, y = paragraph(text, x_px=MARGIN_PX, y_px=y, width_px=room)
        body += more
    return body, y - LINE_EM * TEXT_PX + 0.4 * TEXT_PX


def paragraph(
    text: str,
    *,
    x_px: float,
    y_px: float,
    width_px: float,
    bold: bool = False,
    size_px: float = TEXT_PX,
) -> tuple[list[str], float]:
    """Return `text` broken to a width, and the base line of what may follow it.

    Args:
        text: What it says.
        x_px: Its left side.
        y_px: Base line of its first line.
        width_px: Room for its lines.
        bold: Whether it is set in bold, and in ink rather than grey.
        size_px: Font size.
    """
    body = []
    for line in wrapped(text, width_px=width_px, size_px=size_px, bold=bold):
        colour = INK if bold else QUIET_INK
        body.append(
            text_line(line, x_px=x_px, y_px=y_px, size_px=size_px, colour=colour, bold=bold)
        )
        y_px += LINE_EM * size_px
    return body, y_px


def scale_bar(scale: float) -> tuple[list[str], float]:
    """Return a bar of a round length at the page's top right, and the width it takes."""
    longest_mm = 180.0 / scale
    power = 10.0 ** (len(str(int(longest_mm))) - 1) if longest_mm >= 1 else 0.1
    length_mm = max(step * power for step in (1, 2, 5) if step * power <= longest_mm)
    said = f"{format_mm(length_mm)} mm"
    length = length_mm * scale
    width = max(length, text_width_px(said, size_px=TEXT_PX))
    right, y = PAGE_PX - MARGIN_PX - (width - length) / 2, MARGIN_PX + 34.0
    left = right - length
    line = f'stroke="{QUIET_INK}" stroke-width="{px(LINE_PX)}" fill="none"'
    ends = f"M {px(left)} {px(y - 6)} v 12 M {px(left)} {px(y)} H {px(right)} m 0 -6 v 12"
    middle = (left + right) / 2
    text = text_line(
        said, x_px=middle, y_px=y - 12, size_px=TEXT_PX, colour=QUIET_INK, anchor="middle"
    )
    return [f'<path d="{ends}" {line}/>', text], width + 24.0


def piece_paths(piece: Face | Part, *, scale: float) -> list[str]:
    """Return a piece's face as elements, in its own millimetres, y up.

    The first is its material, holes left open; lines that do not cut through follow.

    Args:
        piece: What to draw.
        scale: Pixels to the millimetre in the group that will hold it.
    """
    body = [f'<path fill-rule="evenodd" d="{_data(piece.profile.rings)}"/>']
    for layer, colour in MARKS.items():
        lines = [mark.path for mark in piece.marks if mark.layer == layer]
        if lines:
            width = format_mm(_mark_px(scale) / scale, decimals=4)
            pen = f'fill="none" stroke="{colour}" stroke-width="{width}" stroke-linecap="round"'
            body.append(f'<path {pen} d="{_data(lines)}"/>')
    return body


def face_group(*, left_px: float, bottom_px: float, scale: float) -> str:
    """Return the opening of a group in millimetres, y up, that draws pieces.

    Args:
        left_px: Where its x is 0.
        bottom_px: Where its y is 0.
        scale: Pixels to the millimetre.
    """
    s = format_mm(scale, decimals=6)
    return (
        f'<g transform="translate({px(left_px)} {px(bottom_px)}) scale({s} -{s})" fill="{PIECE}" '
        f'stroke="{EDGE}" stroke-width="{format_mm(LINE_PX / scale, decimals=4)}" '
        f'stroke-linejoin="round">'
    )


def counted(number: int, one: str) -> str:
    """Return ``1 piece`` or ``3 pieces``, held together."""
    return together(f"{number} {one}{'' if number == 1 else 's'}")


def size_text(width_mm: float, height_mm: float) -> str:
    """Return a size as a caption gives it: ``120 x 80.5 mm``, with a proper sign."""
    width, height = format_mm(width_mm, decimals=1), format_mm(height_mm, decimals=1)
    return together(f"{width} \N{MULTIPLICATION SIGN} {height} mm")


def together(words: str) -> str:
    """Return `words` with spaces at which no line breaks."""
    return words.replace(" ", "\N{NO-BREAK SPACE}")


def _mark_px(scale: float) -> float:
    """Return how wide scored lines are drawn: on a small picture letters must not run full."""
    return min(LINE_PX, max(0.6, 0.9 * scale))


def _data(chains: Sequence[Chain]) -> str:
    return " ".join(path_data(chain, decimals=DECIMALS) for chain in chains)
