"""Details of an overlay: changes too thin to see, each in a window of its own, enlarged."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.export.captions import LINE_EM, text_line
from platekit.export.figures import format_mm
from platekit.export.picture import (
    INK,
    INNER_PX,
    MARGIN_PX,
    QUIET_INK,
    THIN_PX,
    paragraph,
    px,
    together,
)
from platekit.export.picture_overlay import Overlay, overlay_paths
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile

MOST = 3
APART_PX = 28.0
WINDOW_PX = (INNER_PX - (MOST - 1) * APART_PX) / MOST
WINDOW_HIGH_PX = 240.0

# A change wider than this on the page is seen without help; a detail shows it so wide.
SEEN_PX = 4.0
SHOWN_PX = 24.0
LARGEST_SCALE = 20_000.0

NUMBER_PX = 15.0
LEAST_FRAME_PX = 12.0
# Details should not all show one corner: they keep this share of the part's extent apart.
SPREAD = 0.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """A window on an overlay.

    Attributes:
        at: Its middle, mm.
        scale: Pixels to the millimetre in it.
        thick_mm: How thick what changed is there, on average.
    """

    at: Point
    scale: float
    thick_mm: float


def details_of(overlay: Overlay, *, scale: float) -> tuple[Detail, ...]:
    """Return windows on the largest changes that are too thin to see at `scale`."""
    pieces = [*(overlay.removed or ()), *(overlay.added or ())]
    thin = [piece for piece in pieces if thickness_mm(piece) * scale < SEEN_PX]
    box = overlay.bounds
    apart = SPREAD * max(box.width_mm, box.height_mm)
    found: list[Detail] = []
    # Equal pieces differ in the last bits: which comes first must not come of that.
    for piece in sorted(thin, key=lambda one: -round(one.area_mm2, 4)):
        at = piece.outer.start
        if all(math.hypot(at.x - one.at.x, at.y - one.at.y) >= apart for one in found):
            thick = thickness_mm(piece)
            found.append(Detail(at=at, scale=min(SHOWN_PX / thick, LARGEST_SCALE), thick_mm=thick))
        if len(found) == MOST:
            break
    return tuple(sorted(found, key=lambda one: (one.at.x, one.at.y)))


def thickness_mm(piece: Profile) -> float:
    """Return how thick a thin piece is on average: twice its area by its edge."""
    return 2 * piece.area_mm2 / piece.length_mm


def frames(
    details: Iterable[Detail], *, left_px: float, bottom_px: float, scale: float
) -> list[str]:
    """Return frames with numbers on the page, where the details lie on the overlay.

    Args:
        details: The windows.
        left_px: Where the overlay's x is 0.
        bottom_px: Where its y is 0.
        scale: Pixels to the millimetre of the overlay.
    """
    body = []
    for number, one in enumerate(details, start=1):
        x, y = left_px + one.at.x * scale, bottom_px - one.at.y * scale
        wide, high = (
            max(LEAST_FRAME_PX, size / one.scale * scale) for size in (WINDOW_PX, WINDOW_HIGH_PX)
        )
        body.append(
            f'<rect x="{px(x - wide / 2)}" y="{px(y - high / 2)}" width="{px(wide)}" '
            f'height="{px(high)}" fill="none" stroke="{INK}" stroke-width="{px(THIN_PX)}"/>'
        )
        body.append(
            text_line(
                str(number),
                x_px=x + wide / 2 + 4.0,
                y_px=y - high / 2 - 2.0,
                size_px=NUMBER_PX,
                colour=INK,
                bold=True,
            )
        )
    return body


def drawn_details(
    overlay: Overlay, details: Sequence[Detail], *, top_px: float, scale: float
) -> tuple[list[str], float]:
    """Return the windows beside each other, and how far down they reach.

    Args:
        overlay: What they look at.
        details: The windows, one at least.
        top_px: Where they begin.
        scale: Pixels to the millimetre of the overlay: what they are larger than.
    """
    body, lowest = [], top_px
    for number, one in enumerate(details, start=1):
        left = MARGIN_PX + (number - 1) * (WINDOW_PX + APART_PX)
        size = f'width="{px(WINDOW_PX)}" height="{px(WINDOW_HIGH_PX)}"'
        x0 = left + WINDOW_PX / 2 - one.at.x * one.scale
        y0 = top_px + WINDOW_HIGH_PX / 2 + one.at.y * one.scale
        s = format_mm(one.scale, decimals=6)
        frame = f'x="{px(left)}" y="{px(top_px)}" {size}'
        body += [
            f'<clipPath id="detail{number}"><rect {frame}/></clipPath>',
            f'<g clip-path="url(#detail{number})">',
            f'<g transform="translate({px(x0)} {px(y0)}) scale({s} -{s})">',
            *overlay_paths(overlay, scale=one.scale, banded=False),
            "</g></g>",
            f'<rect {frame} fill="none" stroke="{QUIET_INK}" stroke-width="{px(THIN_PX)}"/>',
        ]
        larger = format_mm(one.scale / scale, decimals=0)
        thick = together(f"{format_mm(one.thick_mm, decimals=3)} mm")
        more, y = paragraph(
            f"{number}: {larger} times larger; what changed is {thick} wide on average",
            x_px=left,
            y_px=top_px + WINDOW_HIGH_PX + LINE_EM * NUMBER_PX,
            width_px=WINDOW_PX,
            size_px=NUMBER_PX,
        )
        body += more
        lowest = max(lowest, y)
    return body, lowest
