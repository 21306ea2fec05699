"""Assemblies: panels placed in space, and joints that share out what two of them claim."""

from platekit.assembly.assembly import Assembly
from platekit.assembly.box import box, crossed_ribs
from platekit.assembly.driving import Drive, drive
from platekit.assembly.feeding import Drivers, Supply, Wire, drivers, supply, wire
from platekit.assembly.frames import Frame, Vector
from platekit.assembly.joints import (
    Butted,
    Fingers,
    Halving,
    Joint,
    Passing,
    Practice,
    Screwed,
    Tabs,
    Tongue,
    butted,
    fingers,
    halving,
    passing,
    screwed,
    tabs,
    tongue,
)
from platekit.assembly.laminate import Laminate, laminate
from platekit.assembly.loads import Factors, Load, Use, load
from platekit.assembly.mounting import belted, bolted, by_belt, mounted, on_axis
from platekit.assembly.panels import Panel
from platekit.assembly.placing import lying, on_face, placed, standing, upright_on
from platekit.assembly.proof import Proof, Step, comes_out
from platekit.assembly.resolve import Resolved, resolve

__all__ = [
    "Assembly",
    "Butted",
    "Drive",
    "Drivers",
    "Factors",
    "Fingers",
    "Frame",
    "Halving",
    "Joint",
    "Laminate",
    "Load",
    "Panel",
    "Passing",
    "Practice",
    "Proof",
    "Resolved",
    "Screwed",
    "Step",
    "Supply",
    "Tabs",
    "Tongue",
    "Use",
    "Vector",
    "Wire",
    "belted",
    "bolted",
    "box",
    "butted",
    "by_belt",
    "comes_out",
    "crossed_ribs",
    "drive",
    "drivers",
    "fingers",
    "halving",
    "laminate",
    "load",
    "lying",
    "mounted",
    "on_axis",
    "on_face",
    "passing",
    "placed",
    "resolve",
    "screwed",
    "standing",
    "supply",
    "tabs",
    "tongue",
    "upright_on",
    "wire",
]
