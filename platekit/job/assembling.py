"""How the rig goes together, for the record: its joints, its screws, the order of assembly."""

from __future__ import annotations

from platekit.assembly.proof import Proof
from platekit.export.build_assembly import (
    AssemblyRecord,
    FastenerRecord,
    JointRecord,
    StepRecord,
)
from platekit.job.resolving import Given


def assembly_record(given: Given, proof: Proof) -> AssemblyRecord | None:
    """Return joints, screws and steps of an assembly; None for a single plate."""
    if given.whole is None:
        return None
    whole, done = given.whole
    layers = {
        panel.name: tuple(plate.name for plate in panel.layers)
        for panel in whole.panels
        if len(panel.layers) > 1
    }
    return AssemblyRecord(
        joints=tuple(
            JointRecord(
                between=one.between,
                kind=one.kind,
                hold=None if one.hold is None else one.hold.value,
                clearance_mm=one.clearance_mm,
                tabs=one.tabs,
                screws=one.screws,
                length_mm=one.length_mm,
            )
            for one in done.joints
        ),
        fasteners=tuple(
            FastenerRecord(
                name=one.name,
                designation=one.designation,
                holds=one.holds,
                threaded_in=one.threaded_in,
            )
            for one in done.fastenings
        ),
        steps=tuple(
            StepRecord(
                bring_in=step.things,
                direction=step.says,
                way=(step.way.x, step.way.y, step.way.z),
                fasteners=step.fasteners,
                belts=step.belts,
                fitted=step.fitted,
                heap=step.heap,
                brings=step.brings,
                layers=layers.get(step.things[0], ()) if len(step.things) == 1 else (),
            )
            for step in proof.steps
        ),
    )
