"""The picture of one part in two builds: both outlines over each other, to one scale."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platekit.export.captions import CAPITAL_EM, text_width_px
from platekit.export.figures import format_mm
from platekit.export.picture import (
    INNER_PX,
    LINE_PX,
    MARGIN_PX,
    TEXT_PX,
    heading,
    page,
    paragraph,
    px,
    size_text,
    together,
)
from platekit.export.picture_details import details_of, drawn_details, frames
from platekit.export.picture_overlay import (
    ADDED,
    DASH_PX,
    NEW_EDGE,
    OLD_EDGE,
    REMOVED,
    STAYED,
    Overlay,
    overlay_paths,
)
from platekit.geometry.profile import Profile

HIGHEST_PX = 620.0
LARGEST_SCALE = 20.0
SWATCH_PX = 44.0
SWATCH_HIGH_PX = 16.0
APART_PX = 28.0
ROWS_APART_PX = 4.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Legend:
    """What the two builds are called."""

    old: str
    new: str


def compared_picture(name: str, *, overlay: Overlay, legend: Legend) -> str:
    """Return a part's old and new outline over each other as the text of an SVG file.

    Changes too thin to see are shown again below, enlarged.

    Args:
        name: Name of the part.
        overlay: The two outlines.
        legend: What the two builds are called.
    """
    box = overlay.bounds
    scale = min(LARGEST_SCALE, INNER_PX / box.width_mm, HIGHEST_PX / box.height_mm)
    sizes = [
        f"{word} {size_text(one.bounds.width_mm, one.bounds.height_mm)}"
        for word, one in (("old", overlay.old), ("new", overlay.new))
    ]
    says = f"{', '.join(sizes)}; {_areas(overlay)}"
    body, end = heading(name, [says], scale=scale)
    more, end = _legend(legend, top_px=end + APART_PX / 2)
    body += more
    top = end + APART_PX / 2
    bottom = top + box.height_mm * scale
    place = {"left_px": MARGIN_PX - box.left * scale, "bottom_px": bottom + box.bottom * scale}
    x, y, s = px(place["left_px"]), px(place["bottom_px"]), format_mm(scale, decimals=6)
    body += [
        f'<g transform="translate({x} {y}) scale({s} -{s})">',
        *overlay_paths(overlay, scale=scale, banded=True),
        "</g>",
    ]
    lowest = bottom
    details = details_of(overlay, scale=scale)
    if details:
        body += frames(details, **place, scale=scale)
        more, lowest = drawn_details(overlay, details, top_px=bottom + APART_PX, scale=scale)
        body += more
    return page(body, height_px=lowest + MARGIN_PX, title=f"{name}: old and new", says=says)


def _areas(overlay: Overlay) -> str:
    if overlay.removed is None or overlay.added is None:
        return (
            "what was removed or added cannot be told: "
            "an outline crosses itself, or both cross each other too often"
        )
    removed, added = (_area(one) for one in (overlay.removed, overlay.added))
    return f"{removed} removed, {added} added"


def _area(pieces: Iterable[Profile]) -> str:
    area = sum(piece.area_mm2 for piece in pieces)
    return together(f"{format_mm(area, decimals=2)} mm\N{SUPERSCRIPT TWO}")


def _legend(legend: Legend, *, top_px: float) -> tuple[list[str], float]:
    """Return what lines and colours mean, and how far down it reaches."""
    dash = f' stroke-dasharray="{" ".join(map(px, DASH_PX))}"'
    body: list[str] = []
    y = top_px
    for colour, more, words in (
        (OLD_EDGE, dash, f"old: {legend.old}"),
        (NEW_EDGE, "", f"new: {legend.new}"),
    ):
        middle = y + SWATCH_HIGH_PX / 2
        body.append(
            f'<path d="M {px(MARGIN_PX)} {px(middle)} h {px(SWATCH_PX)}" fill="none" '
            f'stroke="{colour}" stroke-width="{px(2 * LINE_PX)}"{more}/>'
        )
        said, y = _said(words, x_px=MARGIN_PX, top_px=y, width_px=INNER_PX)
        body += said
    x = MARGIN_PX
    for colour, words in ((STAYED, "in both"), (REMOVED, "removed"), (ADDED, "added")):
        body.append(
            f'<rect x="{px(x)}" y="{px(y)}" width="{px(SWATCH_PX)}" '
            f'height="{px(SWATCH_HIGH_PX)}" fill="{colour}"/>'
        )
        said, lowest = _said(words, x_px=x, top_px=y, width_px=INNER_PX)
        body += said
        x += SWATCH_PX + 10.0 + text_width_px(words, size_px=TEXT_PX) + APART_PX
    return body, lowest


def _said(words: str, *, x_px: float, top_px: float, width_px: float) -> tuple[list[str], float]:
    """Return what stands beside a swatch, and the top of what follows."""
    body, y = paragraph(
        words,
        x_px=x_px + SWATCH_PX + 10.0,
        y_px=top_px + SWATCH_HIGH_PX / 2 + CAPITAL_EM * TEXT_PX / 2,
        width_px=width_px - SWATCH_PX - 10.0,
    )
    return body, y - CAPITAL_EM * TEXT_PX / 2 - SWATCH_HIGH_PX / 2 + ROWS_APART_PX
