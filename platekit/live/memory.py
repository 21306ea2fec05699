"""What was proved, shown in space and laid on sheets of late: as long as nothing moved, it holds.

Most of what one turns on a page (a load, a figure of a motor, a word) moves nothing, and what does
leaves most things as they are. The proof, the meshes and the sheets take most of the time of a run,
to see that nothing has moved takes milliseconds: values are compared exactly, to the last bit, and
where things stand only for their meshes to a nanometre.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from platekit.assembly.assembly import Assembly
from platekit.assembly.loads import Use
from platekit.assembly.proof import Proof
from platekit.assembly.resolve import Resolved
from platekit.job.beams import CutPart
from platekit.job.options import Options
from platekit.job.progress import Progress
from platekit.job.resolving import Given, resolved
from platekit.job.space import scene_for
from platekit.job.stocking import Stocked, lay_on_stock
from platekit.panel.plate import Plate
from platekit.views.meshing import Meshes
from platekit.views.scene import Scene

# To turn a value there and back again, or between two, is what one does.
HELD = 4
# The first layout that comes to mind: sheets are there to be seen, not to be cut.
QUICK_S = 1e-9


@dataclass(kw_only=True)
class _Known:
    """What is known of a rig: its proof once there is one, and how it looks with it and without."""

    of: tuple[Resolved, object] | None
    proof: Proof | None = None
    scenes: dict[tuple[str, bool], Scene | None] = field(default_factory=dict)


@dataclass(kw_only=True)
class Memory:
    """The last few rigs, each with its joints dealt, its proof, its looks in space, its sheets."""

    _dealt: list[tuple[Assembly, Given]] = field(default_factory=list)
    _rigs: list[_Known] = field(default_factory=list)
    _meshes: Meshes = field(default_factory=Meshes)
    _laid: list[tuple[object, Stocked]] = field(default_factory=list)
    _seen: _Known | None = None

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
        """Return the proof of what a recipe gave, where it is known; that of a plate always is."""
        return given.prove() if given.whole is None else self._known(given).proof

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
            known.scenes[key] = scene_for(given, proof, meshes=self._meshes)
        return known.scenes[key]

    def known_layout(self, cut: Sequence[CutPart], options: Options) -> Stocked | None:
        """Return what lies where on which sheets, where it is known."""
        of = _laying(cut, options)
        return next((stocked for known, stocked in self._laid if known == of), None)

    def lay(self, cut: Sequence[CutPart], options: Options, *, progress: Progress) -> Stocked:
        """Return the parts laid on sheets, quickly rather than well; from memory if known.

        Raises:
            NestingError: Stock and parts cannot come together.
        """
        of = _laying(cut, options)
        stocked = self.known_layout(cut, options)
        if stocked is None:
            quick = replace(options, spacing=replace(options.spacing, seconds=QUICK_S))
            stocked = lay_on_stock(cut, options=quick, progress=progress)
        others = [(known, one) for known, one in self._laid if one is not stocked]
        self._laid = [(of, stocked), *others][:HELD]
        return stocked

    def is_seen(self, given: Given) -> bool:
        """Return whether what a recipe gave is the rig that is on view."""
        return given.whole is not None and self._known(given) is self._seen

    def see(self, given: Given) -> None:
        """Note that what a recipe gave is on view from now on."""
        self._seen = self._known(given)

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


def _laying(cut: Sequence[CutPart], options: Options) -> object:
    """Return all that a layout is made from; what the recipe was asked has done its work."""
    asked = replace(
        options, chosen=(), skip=(), material=None, thickness_mm=None, kerf_mm=None, join="round"
    )
    return tuple((one.part, one.path, one.beam) for one in cut), asked
