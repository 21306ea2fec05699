"""Details of an overlay: changes too thin to see, each in a window of its own, enlarged."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

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
from platekit.geometry.distance import point_distances
from platekit.geometry.points import SAME_POINT_MM, Point
from platekit.geometry.profile import Profile
from platekit.geometry.tables import X0, Y0, points_at

MOST = 3
APART_PX = 28.0
WINDOW_PX = (INNER_PX - (MOST - 1) * APART_PX) / MOST
WINDOW_HIGH_PX = 240.0

# A change wider than this on the page is seen without help; a detail shows it so wide.
SEEN_PX = 4.0
SHOWN_PX = 40.0
LARGEST_SCALE = 20_000.0

NUMBER_PX = 15.0
LEAST_FRAME_PX = 12.0
# Details should not all show one corner: they keep this share of the part's extent apart.
SPREAD = 0.15

# Corners tell more than the middle of an edge, if the change is nearly as thick there.
ABOUT_AS_THICK = 0.8
MOST_SAMPLES = 64  # of one piece; a change is as thick as this all along, or nearly so


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """A window on an overlay.

    Attributes:
        at: Its middle, mm.
        scale: Pixels to the millimetre in it.
        thick_mm: How thick what changed is there.
    """

    at: Point
    scale: float
    thick_mm: float


def details_of(overlay: Overlay, *, scale: float) -> tuple[Detail, ...]:
    """Return windows on the largest changes that are too thin to see at `scale`."""
    pieces = [*(overlay.removed or ()), *(overlay.added or ())]
    thin = [piece for piece in pieces if average_thickness_mm(piece) * scale < SEEN_PX]
    box = overlay.bounds
    apart = SPREAD * max(box.width_mm, box.height_mm)
    found: list[Detail] = []
    # Equal pieces differ in the last bits: which comes first must not come of that.
    for piece in sorted(thin, key=lambda one: -round(one.area_mm2, 4)):
        if not _clear(piece.outer.start, found, apart_mm=apart):
            continue  # thousands of holes may have changed: most need no closer look
        at, thick = thickest(piece, overlay)
        if _clear(at, found, apart_mm=apart):
            found.append(Detail(at=at, scale=min(SHOWN_PX / thick, LARGEST_SCALE), thick_mm=thick))
        if len(found) == MOST:
            break
    return tuple(sorted(found, key=lambda one: (one.at.x, one.at.y)))


def _clear(at: Point, found: Iterable[Detail], *, apart_mm: float) -> bool:
    return all(math.hypot(at.x - one.at.x, at.y - one.at.y) >= apart_mm for one in found)


def average_thickness_mm(piece: Profile) -> float:
    """Return how thick a thin piece is on average: twice its area by its edge."""
    return 2 * piece.area_mm2 / piece.length_mm


def thickest(piece: Profile, overlay: Overlay) -> tuple[Point, float]:
    """Return where a thin piece is thickest, and how thick, mm; rather at a corner of it.

    Its edge is old outline here and new outline there: from a point on the one it is as thick as
    the other is far.
    """
    rows = piece.outer.table
    rows = rows[:: -(-len(rows) // MOST_SAMPLES)]
    corners, middles = rows[:, [X0, Y0]], points_at(rows, np.array([0.5]))[:, 0]
    points = np.concatenate([corners, middles])
    thick = np.zeros(len(points))
    for outline in (overlay.old.table, overlay.new.table):
        for k, point in enumerate(points):
            away = point_distances(outline, np.broadcast_to(point, (len(outline), 2)))
            thick[k] = max(thick[k], float(np.min(away)))
    best = float(np.max(thick))
    k = int(np.argmax(thick >= ABOUT_AS_THICK * best))
    return Point(float(points[k, 0]), float(points[k, 1])), max(float(thick[k]), SAME_POINT_MM)


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
            f"{number}: {larger} times larger; what changed is {thick} wide here",
            x_px=left,
            y_px=top_px + WINDOW_HIGH_PX + LINE_EM * NUMBER_PX,
            width_px=WINDOW_PX,
            size_px=NUMBER_PX,
        )
        body += more
        lowest = max(lowest, y)
    return body, lowest
