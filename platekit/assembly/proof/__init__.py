"""Proof that a rig goes together: bodies that overlap, what blocks what, the order of assembly."""

from platekit.assembly.proof.order import Step
from platekit.assembly.proof.prove import Proof, prove
from platekit.assembly.proof.removal import Removal, comes_out
from platekit.assembly.proof.things import Thing, ThingKind, things_in, things_of

__all__ = [
    "Proof",
    "Removal",
    "Step",
    "Thing",
    "ThingKind",
    "comes_out",
    "prove",
    "things_in",
    "things_of",
]
