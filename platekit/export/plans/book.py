"""The book: leaves bound into one PDF."""

from __future__ import annotations

from collections.abc import Sequence

from platekit.export.plans.furniture import Leaf
from platekit.export.plans.press import Press


def bound(leaves: Sequence[Leaf], *, title: str) -> bytes:
    """Return leaves, in their order, as the bytes of a PDF file."""
    press = Press(title=title, subject="plans: full-size outlines, drawings, steps, lists")
    for number, leaf in enumerate(leaves, start=1):
        press.begin(leaf.width_mm, leaf.height_mm, called=leaf.called)
        leaf.draw(press, f"{number} / {len(leaves)}")
        press.end()
    return press.done()
