"""Bodies of resolved assemblies, and what the independent kernel says about them."""

from dataclasses import dataclass

from platekit.assembly.assembly import Assembly
from platekit.assembly.resolve import Resolved
from platekit.assembly.solids import overlap_mm3, slab_solid, solid, union_solid
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate


@dataclass(frozen=True)
class Proof:
    """What manifold3d measures of an assembly."""

    resolved: Resolved
    overlap_mm3: float
    parts_mm3: float
    slabs_mm3: float
    pieces: tuple[int, ...]

    @property
    def lost_mm3(self):
        """Volume of the slabs that no part fills."""
        return self.slabs_mm3 - self.parts_mm3


def proof(assembly: Assembly) -> Proof:
    """Resolve an assembly and measure its parts and slabs as bodies."""
    resolved = assembly.resolve()
    bodies = [
        solid(part.profile, thickness_mm=part.sheet.thickness_mm, frame=frame)
        for part, frame in resolved.placed
    ]
    slabs = [slab_solid(panel) for panel in assembly.panels]
    return Proof(
        resolved,
        overlap_mm3(bodies),
        union_solid(bodies).volume(),
        union_solid(slabs).volume(),
        tuple(len(body.decompose()) for body in bodies),
    )


def plate(name, thickness_mm, width_mm, height_mm, **more) -> Plate:
    """Return a rectangle of birch plywood."""
    sheet = birch_plywood(thickness_mm)
    return Plate(name, sheet, rectangle(width_mm, height_mm), **more)
