"""Scenes: a rig as the eye takes it, every thing a mesh with its sharp edges, in its step.

Everything that shows a rig in space begins here: line drawings, the page, files for other viewers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from platekit.assembly.frames import NOWHERE, Frame, Vector
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.panels import Panel
from platekit.assembly.proof import Proof, Step
from platekit.assembly.proof.things import Prism, Thing, ThingKind, things_in, things_of
from platekit.assembly.resolve import Resolved
from platekit.geometry.profile import Profile
from platekit.geometry.tables import Floats, Ints
from platekit.materials import Hold
from platekit.panel.part import Part
from platekit.views.apart import taken_apart
from platekit.views.meshing import Mesh, Meshes, mesh_of


@dataclass(frozen=True, eq=False, kw_only=True)
class Shown:
    """One thing as it is shown.

    Attributes:
        name: What messages and steps call it.
        kind: What it is.
        plates: Names of the plates in it: one, or the layers of a laminate; none for the bought.
        corners: Its corners in space, mm, shape (n, 3).
        triangles: Corners of each triangle, counter-clockwise seen from outside, shape (m, 3).
        edges: Corners of each sharp edge, shape (k, 2).
        step: Number of the step that brings it in, from 1; None where no step does.
        apart: Where it is moved to when the rig is shown taken apart, mm.
    """

    name: str
    kind: ThingKind
    plates: tuple[str, ...]
    corners: Floats
    triangles: Ints
    edges: Ints
    step: int | None = None
    apart: Vector = NOWHERE

    @property
    def box(self) -> Floats:
        """Least and greatest x, y, z, shape (2, 3)."""
        return np.array([self.corners.min(axis=0), self.corners.max(axis=0)])

    def moved(self, by: Vector, *, share: float = 1.0) -> Shown:
        """Return it moved by a share of a vector."""
        return replace(self, corners=self.corners + share * np.array(by))


@dataclass(frozen=True, slots=True, kw_only=True)
class Glued:
    """Two things that are glued to each other.

    Attributes:
        between: Their names.
        clearance_mm: Opening less what goes in; not negative where there is glue between.
    """

    between: tuple[str, str]
    clearance_mm: float = 0.0


@dataclass(frozen=True, eq=False, kw_only=True)
class LayUp:
    """A laminate before it is glued, lying on the bench.

    Attributes:
        name: What it is called once it is one.
        layers: Its plates in their places, the lowest first.
        dowels: The dowels through them.
    """

    name: str
    layers: tuple[Shown, ...]
    dowels: tuple[Shown, ...] = ()


@dataclass(frozen=True, eq=False, kw_only=True)
class Scene:
    """A rig as it is shown.

    Attributes:
        name: The rig's name.
        things: Everything in it, in the order of the rig.
        steps: The order of assembly.
        fastenings: Every screw, by name.
        glued: Which things are glued to each other.
        layups: The laminates in it, before they are glued.
    """

    name: str
    things: tuple[Shown, ...]
    steps: tuple[Step, ...] = ()
    fastenings: tuple[Fastening, ...] = ()
    glued: tuple[Glued, ...] = ()
    layups: tuple[LayUp, ...] = ()

    @property
    def box(self) -> Floats:
        """Least and greatest x, y, z of everything together, shape (2, 3)."""
        boxes = np.array([thing.box for thing in self.things])
        return np.array([boxes[:, 0].min(axis=0), boxes[:, 1].max(axis=0)])

    def apart(self, share: float = 1.0) -> Scene:
        """Return the scene taken apart: 0 as built, 1 with air between all things."""
        return replace(self, things=tuple(one.moved(one.apart, share=share) for one in self.things))

    def after(self, step: int) -> tuple[Shown, ...]:
        """Return what is there once a step is done, in the heap where it is done."""
        heap = self.steps[step - 1].heap
        return tuple(
            one
            for one in self.things
            if one.step is not None and one.step <= step and self._heap_at(one, step) == heap
        )

    def _heap_at(self, one: Shown, step: int) -> str | None:
        """Return in which heap a thing lies once a step is done; it goes on with its group."""
        number = one.step
        if number is None:
            return None
        heap = self.steps[number - 1].heap
        for later in range(number, step):
            if heap and self.steps[later].brings == heap:
                heap = self.steps[later].heap
        return heap


def scene_of(
    name: str, resolved: Resolved, proof: Proof, *, meshes: Callable[[Thing], Mesh] | None = None
) -> Scene:
    """Return a resolved assembly as it is shown, taken apart along the order of its proof.

    Args:
        name: The rig's name.
        resolved: Its plates and all that is bought.
        proof: The order in which it goes together.
        meshes: Gives the surfaces of things: for whoever remembers those of before.
    """
    mesh = meshes or Meshes()
    things = things_in(resolved)
    numbers = _numbers(proof.steps, things)
    shown = [_shown(thing, numbers.get(thing.name), mesh(thing)) for thing in things]
    apart = taken_apart(
        {one.name: one.box for one in shown},
        steps=proof.steps,
        fastenings=resolved.fastenings,
        plates={plate: one.name for one in shown for plate in one.plates},
        riding={thing.name: thing.rides_on for thing in things if thing.rides_on},
    )
    return Scene(
        name=name,
        things=tuple(replace(one, apart=apart[one.name]) for one in shown),
        steps=proof.steps,
        fastenings=resolved.fastenings,
        glued=tuple(
            Glued(between=one.between, clearance_mm=one.clearance_mm or 0.0)
            for one in resolved.joints
            if one.hold is Hold.GLUED
        ),
        layups=tuple(
            _layup(panel, resolved, mesh) for panel in resolved.panels if len(panel.layers) > 1
        ),
    )


def scene_of_part(part: Part) -> Scene:
    """Return a single part as it is shown: lying on the bench, its good face up."""
    things = things_of([(part, Frame())], [(part.name, [part.name])], (), ())
    return Scene(
        name=part.name, things=tuple(_shown(thing, None, mesh_of(thing)) for thing in things)
    )


def _layup(panel: Panel, resolved: Resolved, mesh: Callable[[Thing], Mesh]) -> LayUp:
    """Return a laminate as its layers lie before they are glued, as the rig has them cut."""
    cut = {part.name: part for part, _ in resolved.placed}
    heights = [panel.frame.coordinates(one.origin)[2] for one in panel.layer_frames()]
    placed = [
        (cut[plate.name], Frame().lifted(height))
        for plate, height in zip(panel.layers, heights, strict=True)
    ]
    layers = things_of(placed, [(part.name, [part.name]) for part, _ in placed], (), ())
    dowels = [
        Thing(
            one.name,
            ThingKind.DEVICE,
            (Prism(Profile(one.cuts[0]), Frame(), 0.0, panel.thickness_mm),),
        )
        for one in panel.layers[0].features
        if one.kind.endswith(" dowel")
    ]
    return LayUp(
        name=panel.name,
        layers=tuple(_shown(one, None, mesh(one)) for one in layers),
        dowels=tuple(_shown(one, None, mesh(one)) for one in dowels),
    )


def _numbers(steps: Sequence[Step], things: Iterable[Thing]) -> dict[str, int]:
    """Return which step brings a thing in first, by its name."""
    numbers: dict[str, int] = {}
    for number, step in enumerate(steps, start=1):
        for name in (*step.things, *step.fasteners, *step.belts, *step.fitted):
            numbers.setdefault(name, number)
    for thing in things:
        if thing.rides_on in numbers:
            numbers.setdefault(thing.name, numbers[thing.rides_on])
        # A nut in a pocket is laid in when its screw is driven; it is called after it.
        screw = thing.name.removesuffix(" nut")
        if thing.kind is ThingKind.CAPTIVE and screw in numbers:
            numbers.setdefault(thing.name, numbers[screw])
    return numbers


def _shown(thing: Thing, step: int | None, mesh: Mesh) -> Shown:
    return Shown(
        name=thing.name,
        kind=thing.kind,
        plates=thing.plates,
        corners=mesh.corners,
        triangles=mesh.triangles,
        edges=mesh.edges,
        step=step,
    )
