"""Assemblies: panels placed in space, and joints that share out what two of them claim."""

from platekit.assembly.assembly import Assembly
from platekit.assembly.box import box, crossed_ribs
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
from platekit.assembly.panels import Panel
from platekit.assembly.placing import lying, on_face, placed, standing, upright_on
from platekit.assembly.resolve import Resolved, resolve

__all__ = [
    "Assembly",
    "Butted",
    "Fingers",
    "Frame",
    "Halving",
    "Joint",
    "Laminate",
    "Panel",
    "Passing",
    "Practice",
    "Resolved",
    "Screwed",
    "Tabs",
    "Tongue",
    "Vector",
    "box",
    "butted",
    "crossed_ribs",
    "fingers",
    "halving",
    "laminate",
    "lying",
    "on_face",
    "passing",
    "placed",
    "resolve",
    "screwed",
    "standing",
    "tabs",
    "tongue",
    "upright_on",
]
