"""Finishes: how things look in space, by what they are.

Wood is pale, metal is grey, what is bought and what holds is set off by the colours of
`platekit.export.palette`, so that a viewer's eye sorts a rig before it reads a name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from platekit.assembly.proof.things import ThingKind
from platekit.export.palette import OKABE_ITO
from platekit.export.picture import tinted


@dataclass(frozen=True, slots=True)
class Finish:
    """How a surface takes the light.

    Attributes:
        name: What it is called in files.
        colour: As ``#rrggbb``.
        metal: Whether it shines as metal does.
        roughness: 0 a mirror, 1 chalk.
        opacity: 1 for what hides all behind it.
        cut_light: How much light is left on the sides of a plate that the beam went along; it
            chars wood and leaves plastic clear.
    """

    name: str
    colour: str
    metal: bool = False
    roughness: float = 0.8
    opacity: float = 1.0
    cut_light: float = 1.0

    @property
    def linear(self) -> tuple[float, float, float]:
        """Red, green, blue as amounts of light, 0 to 1.

        Source:
            The transfer function of sRGB, IEC 61966-2-1; figures from memory.
        """
        red, green, blue = (_light(one / 255) for one in bytes.fromhex(self.colour[1:]))
        return red, green, blue


def _light(value: float) -> float:
    light = value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4
    return round(light, 6)


WOOD = Finish("wood", tinted(OKABE_ITO["orange"], share=0.4), roughness=0.9, cut_light=0.25)
BOARD = Finish("board", tinted(OKABE_ITO["vermillion"], share=0.35), roughness=0.95, cut_light=0.25)
CLEAR = Finish(
    "clear plastic", tinted(OKABE_ITO["sky blue"], share=0.5), roughness=0.2, opacity=0.5
)
PLASTIC = Finish("plastic", tinted(OKABE_ITO["black"], share=0.15), roughness=0.6)
BOUGHT = Finish("bought part", tinted(OKABE_ITO["blue"], share=0.75), roughness=0.5)
DRIVEN = Finish("pulley", tinted(OKABE_ITO["bluish green"], share=0.8), roughness=0.5)
RUBBER = Finish("belt", tinted(OKABE_ITO["black"], share=0.8), roughness=1.0)
STEEL = Finish("metal", tinted(OKABE_ITO["black"], share=0.35), metal=True, roughness=0.45)

_OF_THINGS: Mapping[ThingKind, Finish] = {
    ThingKind.PLATE: WOOD,
    ThingKind.DEVICE: BOUGHT,
    ThingKind.PULLEY: DRIVEN,
    ThingKind.BELT: RUBBER,
    ThingKind.FASTENER: STEEL,
    ThingKind.CAPTIVE: STEEL,
}

# By the kind of a plate's material, as the table of materials has it.
_OF_PLATES: Mapping[str, Finish] = {
    "plywood": WOOD,
    "fibreboard": BOARD,
    "acrylic": CLEAR,
    "plastic": PLASTIC,
}


def finish_of(kind: ThingKind, *, material_kind: str = "") -> Finish:
    """Return how a thing looks.

    Args:
        kind: What it is.
        material_kind: Kind of the material of a plate: "plywood", "acrylic"...; wood where it is
            empty or not known here.
    """
    if kind is ThingKind.PLATE:
        return _OF_PLATES.get(material_kind, WOOD)
    return _OF_THINGS[kind]
