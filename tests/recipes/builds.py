"""Every recipe of the project, run once for each sheet and shared by the tests here."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from platekit.assembly.assembly import Assembly
from platekit.assembly.joints import Joint, Screwed, Tabs
from platekit.assembly.placing import lying
from platekit.assembly.resolve import Resolved
from platekit.cutting.compensate import compensate
from platekit.geometry.profile import Profile
from platekit.job.options import Options, Spacing
from platekit.job.parameters import values_of
from platekit.job.recipe import Recipe, load_recipe
from platekit.job.run import Build, make
from platekit.job.sheets import job_sheet
from platekit.nesting.cells import search
from tests.amounts import examples

ROOT = Path(__file__).parents[2]
NAMES = tuple(sorted(path.stem for path in (ROOT / "recipes").glob("*.py")))
FLAGSHIP = "dish_rotator"
USUAL_MM = 6.0
# The sizes a shop sells, and what a caliper may read on sheets sold as 4 and 6 mm.
THICKNESSES_MM = (3.0, 4.2, 6.0, 9.0, 4.0, 3.7, 6.4)[: examples(4, thorough=7)]


@cache
def recipe(name: str) -> Recipe:
    """Return a recipe of the project."""
    return load_recipe(ROOT / "recipes" / f"{name}.py")


@cache
def assembly(name: str, thickness_mm: float = USUAL_MM) -> Assembly:
    """Return what the recipe gives back; a lone plate as an assembly of one panel."""
    taken = recipe(name)
    sheet = job_sheet(taken.sheet, options=Options(thickness_mm=thickness_mm))
    made = taken.call(sheet, values=values_of(taken.parameters, chosen=()))
    if isinstance(made, Assembly):
        return made
    return Assembly(made.name).with_panels(lying(made, bottom_mm=0.0))


@cache
def resolved(name: str, thickness_mm: float = USUAL_MM) -> Resolved:
    """Return the recipe's parts with their places in space."""
    return assembly(name, thickness_mm).resolve()


@cache
def build(name: str, thickness_mm: float = USUAL_MM, kerf_mm: float | None = None) -> Build:
    """Return the whole run; its nesting is the first layout, for time."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(search, "MOST_LAYOUTS", 1)
        return make(
            recipe(name),
            Options(
                thickness_mm=thickness_mm,
                kerf_mm=kerf_mm,
                spacing=Spacing(seconds=1e-9),
                cut_anyway=True,  # shapes are looked at here, whatever they bear
            ),
        )


@cache
def paths(name: str, thickness_mm: float = USUAL_MM) -> dict[str, Profile]:
    """Return where the beam's middle runs for each kind of part of `build`."""
    made = build(name, thickness_mm)
    return {
        part.name: compensate(part.profile, kerf_mm=made.beam.kerf_mm).profile
        for part in made.parts
    }


def bare(made: Assembly) -> Assembly:
    """Return the assembly with joints alone: no features, no clearance, no screws in its joints."""
    panels = [
        replace(
            panel,
            layers=tuple(replace(plate, features=()) for plate in panel.layers),
            dowels=None,
        )
        for panel in made.panels
    ]
    joints = [_without_hardware(joint) for joint in made.joints]
    alone = replace(
        made, panels=tuple(panels), joints=tuple(joints), hardware=(), removals=(), items=()
    )
    return alone.with_practice(clearance_mm=0.0)


def _without_hardware(joint: Joint) -> Joint:
    if isinstance(joint, Screwed):
        return Tabs(one=joint.one, other=joint.other, clearance_mm=0.0)
    return replace(joint, clearance_mm=0.0)
