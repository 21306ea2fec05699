"""The sheet under the pieces of a picture: its shape, what is waste, what is left to keep."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.export.figures import format_mm
from platekit.export.label_room import LabelRoom
from platekit.export.palette import OKABE_ITO
from platekit.export.pathdata import path_data
from platekit.export.picture import (
    DECIMALS,
    LINE_PX,
    PAPER,
    QUIET_INK,
    TEXT_PX,
    THIN_PX,
    px,
    size_text,
    tinted,
)
from platekit.export.picture_labels import printed, said
from platekit.geometry.profile import Profile
from platekit.nesting import NestedSheet, Stock

STOCK = tinted(OKABE_ITO["orange"], share=0.16)


def shape_of(nested: NestedSheet) -> Profile | None:
    """Return the shape of an offcut that was cut from; None for a whole sheet."""
    return nested.stock.shape if isinstance(nested.stock, Stock) else None


def ground(nested: NestedSheet, *, scale: float) -> list[str]:
    """Return the sheet with what is left of it to keep, in its own millimetres, y up."""
    shape = shape_of(nested)
    if shape is None:
        size = f'width="{px(nested.width_mm)}" height="{px(nested.height_mm)}"'
        body = [f'<rect {size} fill="{STOCK}" stroke="none"/>']
    else:
        body = [f'<path d="{_data(shape)}" fill="{STOCK}" fill-rule="evenodd" stroke="none"/>']
    dashes = f"{format_mm(8 / scale, decimals=3)} {format_mm(5 / scale, decimals=3)}"
    line = f'{_pen(THIN_PX, scale)} stroke-dasharray="{dashes}"'
    body += [
        f'<path d="{_data(offcut)}" fill="{PAPER}" fill-rule="evenodd" {line}/>'
        for offcut in nested.offcuts
    ]
    return body


def frame(nested: NestedSheet, *, scale: float) -> str:
    """Return the edge of the sheet, in its own millimetres, y up."""
    shape, pen = shape_of(nested), _pen(LINE_PX, scale)
    if shape is not None:
        return f'<path d="{_data(shape)}" fill="none" {pen}/>'
    size = f'width="{px(nested.width_mm)}" height="{px(nested.height_mm)}"'
    return f'<rect {size} fill="none" {pen}/>'


def offcut_names(
    offcuts: Sequence[Profile], *, left_px: float, bottom_px: float, scale: float
) -> list[str]:
    """Return the size of every offcut that has room for it, on the page."""
    body = []
    for offcut in offcuts:
        size = size_text(offcut.bounds.width_mm, offcut.bounds.height_mm)
        room = LabelRoom(offcut, marks=(), scale=scale)
        wordings = ((f"free offcut {size}",), ("free offcut", size), (size,))
        label = said(wordings, room, size_px=TEXT_PX)
        if label is not None:
            body += printed(
                label, left_px=left_px, bottom_px=bottom_px, scale=scale, colour=QUIET_INK
            )
    return body


def _pen(width_px: float, scale: float) -> str:
    width = format_mm(width_px / scale, decimals=4)
    return f'stroke="{QUIET_INK}" stroke-width="{width}"'


def _data(profile: Profile) -> str:
    return " ".join(path_data(ring, decimals=DECIMALS) for ring in profile.rings)
