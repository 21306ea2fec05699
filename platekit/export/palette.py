"""Names and colours of the layers in cut files: the one table.

The colours are four of the eight that Okabe and Ito chose to stay apart for colour-blind eyes.
Whoever wants others passes a palette of their own to the writers.

Source:
    M. Okabe and K. Ito, Color Universal Design: How to make figures and presentations that are
    friendly to colorblind people (2002, revised 2008); hex values from memory.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from platekit.cutting.drawing import Layer
from platekit.errors import PlatekitError

OKABE_ITO: Mapping[str, str] = MappingProxyType(
    {
        "black": "#000000",
        "orange": "#e69f00",
        "sky blue": "#56b4e9",
        "bluish green": "#009e73",
        "yellow": "#f0e442",
        "blue": "#0072b2",
        "vermillion": "#d55e00",
        "reddish purple": "#cc79a7",
    }
)

_HEX = re.compile(r"#[0-9a-fA-F]{6}")
# Old controllers know layer names of capitals, digits and a few signs only, 31 at most
# (the rule of DXF R12 for names in tables, from memory).
_LAYER_NAME = re.compile(r"[A-Z0-9_$-]{1,31}")


@dataclass(frozen=True, slots=True)
class Pen:
    """How one layer appears in files.

    Attributes:
        layer_name: Name of the layer in DXF; in small letters the id of its group in SVG.
        colour: As ``#rrggbb``. Black and white are poor choices: one of them is always the
            background of some screen.

    Raises:
        PlatekitError: The name or the colour is not one that every file can carry.
    """

    layer_name: str
    colour: str

    def __post_init__(self) -> None:
        if not _LAYER_NAME.fullmatch(self.layer_name):
            raise PlatekitError(
                f"layer name is {self.layer_name!r}",
                remedy="use 1 to 31 capital letters, digits and _ - $",
            )
        if not _HEX.fullmatch(self.colour):
            raise PlatekitError(
                f"colour of layer {self.layer_name} is {self.colour!r}",
                remedy="write it as #rrggbb, like #0072b2",
            )

    @property
    def rgb(self) -> tuple[int, int, int]:
        """The colour's three channels, each in 0..255."""
        red, green, blue = bytes.fromhex(self.colour[1:])
        return red, green, blue


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """A pen for each layer.

    Raises:
        PlatekitError: Two layers share a name or a colour: many machines tell what to do by
            colour alone.
    """

    inside_cut: Pen = Pen("CUT_INSIDE", OKABE_ITO["vermillion"])
    outside_cut: Pen = Pen("CUT_OUTSIDE", OKABE_ITO["blue"])
    score: Pen = Pen("SCORE", OKABE_ITO["bluish green"])
    note: Pen = Pen("NOTES", OKABE_ITO["reddish purple"])

    def __post_init__(self) -> None:
        pens = [self.of(layer) for layer in Layer]
        for what, values in (
            ("name", [pen.layer_name for pen in pens]),
            ("colour", [pen.colour.lower() for pen in pens]),
        ):
            twice = sorted({value for value in values if values.count(value) > 1})
            if twice:
                raise PlatekitError(
                    f"two layers share the {what} {twice[0]}",
                    remedy=f"give each layer a {what} of its own",
                )

    def of(self, layer: Layer) -> Pen:
        """Return the pen of `layer`."""
        return {
            Layer.INSIDE_CUT: self.inside_cut,
            Layer.OUTSIDE_CUT: self.outside_cut,
            Layer.SCORE: self.score,
            Layer.NOTE: self.note,
        }[layer]


PALETTE = Palette()
