"""What was proved and shown in space of late: as long as nothing has moved, it holds.

Most of what one turns on a page (a load, a figure of a motor, a word) moves nothing. The proof and
the meshes take most of the time of a run, to see that nothing has moved takes milliseconds: values
are compared exactly, down to the last bit.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from platekit.assembly.assembly import Assembly
from platekit.assembly.loads import Use
from platekit.assembly.proof import Proof
from platekit.assembly.resolve import Resolved
from platekit.job.resolving import Given, resolved
from platekit.job.space import scene_for
from platekit.panel.plate import Plate
from platekit.views.scene import Scene

# To turn a value there and back again, or between two, is what one does.
HELD = 4


@dataclass(kw_only=True)
class _Known:
    """What is known of a rig: its proof once there is one, and how it looks with it and without."""

    of: tuple[Resolved, object] | None
    proof: Proof | None = None
    scenes: dict[tuple[str, bool], Scene | None] = field(default_factory=dict)


@dataclass(kw_only=True)
class Memory:
    """The last few rigs, each with its joints dealt, its proof and how it looks in space."""

    _dealt: list[tuple[Assembly, Given]] = field(default_factory=list)
    _rigs: list[_Known] = field(default_factory=list)

    def deal(self, made: Plate | Assembly) -> Given:
        """Return the parts of what a recipe gave, from memory where only its use has changed.

        Raises:
            PartError: Something in it cannot be made as asked.
        """
        if isinstance(made, Plate):
            return resolved(made)
        # Loads and factors are for the checks: no joint knows of them.
        unused = replace(made, use=Use())
        found = next((one for one in self._dealt if one[0] == unused), None)
        dealt = found or (unused, resolved(made))
        self._dealt = [dealt, *(one for one in self._dealt if one is not found)][:HELD]
        given = dealt[1]
        return given if given.whole is None else replace(given, whole=(made, given.whole[1]))

    def known_proof(self, given: Given) -> Proof | None:
        """Return the proof of what a recipe gave, where it is known."""
        return self._known(given).proof

    def prove(self, given: Given) -> Proof:
        """Return whether it goes together, from memory where nothing has moved.

        Raises:
            UnknownNameError: Something that is to come out is not there.
        """
        known = self._known(given)
        if known.proof is None:
            known.proof = given.prove()
        return known.proof

    def scene(self, given: Given, proof: Proof) -> Scene | None:
        """Return the rig in space, from memory where nothing has moved."""
        if given.whole is None:
            return scene_for(given, proof)
        known = self._known(given)
        key = (given.whole[0].name, bool(proof.steps))
        if key not in known.scenes:
            known.scenes[key] = scene_for(given, proof)
        return known.scenes[key]

    def _known(self, given: Given) -> _Known:
        """Return what is known of what a recipe gave, from now on the newest."""
        if given.whole is None:
            return _Known(of=None)
        assembly, done = given.whole
        # All that a proof and a scene are made from.
        of = (done, assembly.removals)
        known = next((one for one in self._rigs if one.of == of), None) or _Known(of=of)
        others = [one for one in self._rigs if one is not known]
        self._rigs = [known, *others][:HELD]
        return known
