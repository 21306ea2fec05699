"""Mounting: bought parts on panels, the holes they need, the screws that hold them, belts.

`asked` is what recipes write; `install` brings it all to its place.
"""

from platekit.assembly.mounting.asked import (
    Asked,
    Belted,
    Bolted,
    Mounted,
    Travel,
    belted,
    bolted,
    mounted,
    require_each_asked,
)
from platekit.assembly.mounting.axes import OnAxis, by_belt, on_axis
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening, Tool
from platekit.assembly.mounting.install import Installed, install
from platekit.assembly.mounting.seats import Standing

__all__ = [
    "Asked",
    "Belted",
    "Body",
    "BodyKind",
    "Bolted",
    "Fastening",
    "Installed",
    "Mounted",
    "OnAxis",
    "Standing",
    "Tool",
    "Travel",
    "belted",
    "bolted",
    "by_belt",
    "install",
    "mounted",
    "on_axis",
    "require_each_asked",
]
