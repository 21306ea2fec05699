"""Laminates whose layers do not all reach equally far: each layer deals for itself.

Layers of one outline act as one thick panel. Where only some of them reach a wall, as a floor does
with smaller rings glued on it, the wall meets those layers and not the whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from platekit.assembly.claims import meeting
from platekit.assembly.joints import Joint
from platekit.assembly.panels import Panel


def taken_apart(
    panels: Sequence[Panel], joints: Sequence[Joint]
) -> tuple[tuple[Panel, ...], tuple[Joint, ...]]:
    """Return panels and joints with uneven laminates as panels of one layer each.

    A joint that names such a laminate becomes a joint of every layer that meets the other panel;
    of the first layer, so that it is said, when none does.
    """
    apart = {panel.name: layers for panel in panels if len(layers := _uneven(panel)) > 1}
    if not apart:
        return tuple(panels), tuple(joints)
    all_panels = tuple(layer for panel in panels for layer in apart.get(panel.name, (panel,)))
    known = {panel.name: panel for panel in all_panels}
    all_joints: list[Joint] = []
    for joint in joints:
        ones, others = (
            apart.get(name) or ((known[name],) if name in known else ())
            for name in (joint.one, joint.other)
        )
        pairs = [(a, b) for a in ones for b in others]
        met = [(a, b) for a, b in pairs if meeting(a, b) is not None]
        if not pairs:  # an unknown name: let the resolver say which
            all_joints.append(joint)
        for a, b in met or pairs[:1]:
            all_joints.append(_between(joint, a.name, b.name))
    return all_panels, tuple(all_joints)


def _uneven(panel: Panel) -> tuple[Panel, ...]:
    """Return a laminate's layers as panels when their outlines differ, else nothing."""
    outlines = {plate.outline for plate in panel.layers}
    if len(outlines) < 2:
        return ()
    return tuple(
        Panel(plate.name, (plate,), frame)
        for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True)
    )


def _between(joint: Joint, one: str, other: str) -> Joint:
    """Return the joint with its panels renamed, wherever it names them."""
    renamed = {joint.one: one, joint.other: other}
    changes: dict[str, Any] = {
        name: renamed[said]
        for name in ("one", "other", "first", "slotted_first")
        if (said := getattr(joint, name, None)) in renamed
    }
    return replace(joint, **changes)
