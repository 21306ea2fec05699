"""Offcuts: what of a sheet is left clean, and large enough to be put back on the rack."""

from __future__ import annotations

from platekit.geometry.booleans import intersection
from platekit.geometry.chains import closed_polyline
from platekit.geometry.profile import Profile
from platekit.nesting.values import Roll, Stock

# Narrower or lower than this a piece is waste.
LEAST_SIDE_MM = 30.0

# A shaped sheet is cut by a rectangle that stands out this far: no edge of it then lies on one
# of the sheet's.
OUTSTANDING_MM = 1.0


def offcuts_of(stock: Stock | Roll, *, used_length_mm: float) -> tuple[Profile, ...]:
    """Return what of a sheet is left right of the length used, in its place; none of a roll.

    Pieces narrower or lower than `LEAST_SIDE_MM` are left out.
    """
    if isinstance(stock, Roll) or stock.width_mm - used_length_mm < LEAST_SIDE_MM:
        return ()
    if stock.shape is None:
        pieces: tuple[Profile, ...] = (
            _rectangle(used_length_mm, 0.0, stock.width_mm, stock.height_mm),
        )
    else:
        beyond = _rectangle(
            used_length_mm,
            -OUTSTANDING_MM,
            stock.width_mm + OUTSTANDING_MM,
            stock.height_mm + OUTSTANDING_MM,
        )
        pieces = intersection(stock.shape, beyond)
    return tuple(
        piece
        for piece in pieces
        if min(piece.bounds.width_mm, piece.bounds.height_mm) >= LEAST_SIDE_MM
    )


def _rectangle(left: float, bottom: float, right: float, top: float) -> Profile:
    corners = [(left, bottom), (right, bottom), (right, top), (left, top)]
    return Profile.trusted(closed_polyline(corners), ())
