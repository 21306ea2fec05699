"""Two outlines over each other: what stayed, what was removed, what was added.

What both have is grey. What the new one lacks is orange, what it has besides is sky blue; the old
edge is dashed, the new one drawn through, so that it can be told without colours too.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from platekit.export.figures import format_mm
from platekit.export.palette import OKABE_ITO
from platekit.export.pathdata import path_data
from platekit.export.picture import LINE_PX, tinted
from platekit.geometry.chains import Bounds, Chain
from platekit.geometry.profile import Profile

STAYED = tinted(OKABE_ITO["black"], share=0.1)
REMOVED = OKABE_ITO["orange"]
ADDED = OKABE_ITO["sky blue"]
OLD_EDGE = OKABE_ITO["vermillion"]
NEW_EDGE = OKABE_ITO["blue"]
DASH_PX = (6.0, 4.0)

# Changes are often a tenth of a millimetre, less than a pixel: a band of this width shows where.
BAND_PX = 5.0

# Details are looked at from near: a tenth of a micron.
DECIMALS = 4

_RULE = 'fill-rule="evenodd" stroke-linejoin="round"'


@dataclass(frozen=True, slots=True, kw_only=True)
class Overlay:
    """Two outlines in the same coordinates.

    Attributes:
        old: The outline that was.
        new: The outline that is.
        removed: Material of the old one that the new one lacks; None where nobody can say.
        added: Material of the new one that the old one lacked; None likewise.
    """

    old: Profile
    new: Profile
    removed: tuple[Profile, ...] | None
    added: tuple[Profile, ...] | None

    @property
    def removed_mm2(self) -> float | None:
        """Area removed, mm2."""
        return _area_mm2(self.removed)

    @property
    def added_mm2(self) -> float | None:
        """Area added, mm2."""
        return _area_mm2(self.added)

    @property
    def bounds(self) -> Bounds:
        """Bounds of both."""
        return self.old.bounds.joined(self.new.bounds)


def overlay_paths(overlay: Overlay, *, scale: float, banded: bool) -> list[str]:
    """Return both outlines as elements, in millimetres, y up.

    Args:
        overlay: What to draw.
        scale: Pixels to the millimetre in the group that will hold it.
        banded: Whether a band goes along what changed, lest it be too thin to see.
    """
    body = [f'<path d="{_data(overlay.new.rings)}" fill="{STAYED}" {_RULE}/>']
    for pieces, colour in ((overlay.removed, REMOVED), (overlay.added, ADDED)):
        if pieces:
            pen = f'stroke="{colour}" stroke-width="{_mm(BAND_PX, scale)}"' if banded else ""
            data = " ".join(_data(piece.rings) for piece in pieces)
            body.append(f'<path d="{data}" fill="{colour}" {pen} {_RULE}/>')
    dashes = " ".join(_mm(one, scale) for one in DASH_PX)
    for profile, colour, more in (
        (overlay.new, NEW_EDGE, ""),
        (overlay.old, OLD_EDGE, f' stroke-dasharray="{dashes}"'),
    ):
        pen = f'stroke="{colour}" stroke-width="{_mm(LINE_PX, scale)}"{more}'
        body.append(f'<path d="{_data(profile.rings)}" fill="none" {pen}/>')
    return body


def _area_mm2(pieces: tuple[Profile, ...] | None) -> float | None:
    return None if pieces is None else sum((piece.area_mm2 for piece in pieces), start=0.0)


def _mm(pixels: float, scale: float) -> str:
    return format_mm(pixels / scale, decimals=6)


def _data(chains: Iterable[Chain]) -> str:
    return " ".join(path_data(chain, decimals=DECIMALS) for chain in chains)
