"""How the rig goes together, for the record: its screws and the order of assembly."""

from __future__ import annotations

from platekit.assembly.proof import Proof
from platekit.export.build import AssemblyRecord, FastenerRecord, StepRecord
from platekit.job.resolving import Given


def assembly_record(given: Given, proof: Proof) -> AssemblyRecord | None:
    """Return screws and steps of an assembly; None for a single plate."""
    if given.whole is None:
        return None
    _, done = given.whole
    return AssemblyRecord(
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
            )
            for step in proof.steps
        ),
    )
