"""Colours of the rig in space: one look for its pictures on pages, in files and on paper.

Plates are a light blue, what is bought is grey, what a step adds is amber: three that stay apart in
grey as well. A face that looks up is the lightest, one that looks to the right the darkest.

A picture stands by itself, in colours for white paper. Whoever shows it elsewhere, on a dark page,
gives others by these classes, which any rule of a style sheet puts above what is written in the
picture:

===========================  =================================================================
``rig-plate-top``            plates: fill; ``-left`` and ``-right`` for faces that look there
``rig-bought-top``...        what is bought: fill
``rig-new-top``...           what a step adds: fill
``rig-line``                 outlines and edges: stroke
``rig-way``                  paths and axes, and the shafts of arrows: stroke
``rig-head``                 heads of arrows: fill
``rig-glue``                 where glue goes: stroke
``rig-leader``               lines of balloons: stroke
``rig-dot``                  their ends: fill
``rig-balloon``              their circles: fill and stroke
===========================  =================================================================

The ground is the first ``rect`` and letters are ``text``: they have no classes.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from platekit.assembly.proof.things import ThingKind
from platekit.export.palette import OKABE_ITO
from platekit.export.picture import tinted
from platekit.views.line_drawing import Face, Shade

Tone = Literal["plate", "bought", "new"]

# How much of a colour is left on a face that looks up, to the left, to the right.
SHARES: Mapping[Tone, Mapping[Shade, float]] = {
    "plate": {"top": 0.10, "left": 0.18, "right": 0.28},
    "bought": {"top": 0.08, "left": 0.15, "right": 0.24},
    "new": {"top": 0.24, "left": 0.43, "right": 0.65},
}
COLOURS: Mapping[Tone, str] = {
    "plate": OKABE_ITO["sky blue"],
    "bought": OKABE_ITO["black"],
    "new": OKABE_ITO["orange"],
}
WAY = OKABE_ITO["vermillion"]
GLUE = OKABE_ITO["blue"]


def tone_of(face: Face) -> Tone:
    """Return as what a face is coloured."""
    if face.new:
        return "new"
    return "plate" if face.kind is ThingKind.PLATE else "bought"


def tint_of(face: Face) -> str:
    """Return the colour of a face, as ``#rrggbb``."""
    tone = tone_of(face)
    return tinted(COLOURS[tone], share=SHARES[tone][face.shade])


def class_of(face: Face) -> str:
    """Return the class of a face, for style sheets."""
    return f"rig-{tone_of(face)}-{face.shade}"
