"""Values that show themselves in a notebook: a plate its picture, a rig its drawing.

A notebook asks a value for `_repr_svg_` and `_repr_html_` (the convention of IPython's display).
Plates and assemblies live in rooms that know nothing of pictures, and imports only point down; so
they say no more here than that they can be shown. Who draws them is told by the package itself,
which stands above all rooms: it names an opener, and that is called when a notebook asks first,
so that nothing is loaded before. A value whose package named nobody shows as its `repr`.

Showing never raises: the drawer says what is wrong in place of the picture, and where even that
fails the notebook falls back to the `repr`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol


class Drawer(Protocol):
    """Who draws values for notebooks. Neither of its functions raises."""

    def as_svg(self, value: object) -> str | None:
        """Return the picture of a value as the text of an SVG file; None where it has none."""

    def as_html(self, value: object) -> str | None:
        """Return a value as a piece of HTML; None where its picture says all."""


_openers: list[Callable[[], Drawer]] = []


def drawn_by(opener: Callable[[], Drawer]) -> None:
    """Let values be shown by whom `opener` returns; it is called when one is to be shown."""
    _openers[:] = [opener]


class Shows:
    """What shows itself in a notebook."""

    __slots__ = ()

    def _repr_svg_(self) -> str | None:
        return _openers[0]().as_svg(self) if _openers else None

    def _repr_html_(self) -> str | None:
        return _openers[0]().as_html(self) if _openers else None
