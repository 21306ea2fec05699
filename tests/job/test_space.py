"""The rig's own file among those of a run."""

from __future__ import annotations

import hashlib
import io
import json

import trimesh

from platekit.assembly.proof.things import things_in
from platekit.job.options import Options, Spacing
from platekit.job.run import make
from platekit.job.space import RIG
from platekit.materials import StockSize
from tests.recipes.builds import assembly, build, recipe, resolved


def test_make_writes_the_rig_as_its_steps_name_it():
    """Names are those of the proof's things and steps; the record has the file's fingerprint."""
    assert RIG not in build("motor_stand").files  # nobody asked for it
    made = make(recipe("motor_stand"), Options(spacing=Spacing(seconds=1e-9), glb=True))
    raw = made.files[RIG]
    assert isinstance(raw, bytes)
    read = trimesh.load(io.BytesIO(raw), file_type="glb")
    named = set(read.graph.nodes_geometry)
    assert named == {thing.name for thing in things_in(resolved("motor_stand"))}
    record = json.loads(made.files["build.json"])
    for step in record["assembly"]["steps"]:
        assert set(step["bring_in"]) | set(step["fasteners"]) <= named
    listed = {row["path"]: row["sha256"] for row in record["files"]}
    assert listed[RIG] == hashlib.sha256(raw).hexdigest()


def test_plates_look_like_their_sheet():
    """Acrylic is clear, plywood is wood."""
    rig = recipe("instrument_case")
    for material, look in (("cast acrylic", "clear plastic"), ("birch plywood", "wood")):
        options = Options(
            material=material,
            thickness_mm=3.0,
            cut_anyway=True,
            glb=True,
            spacing=Spacing(seconds=1e-9),
        )
        read = trimesh.load(io.BytesIO(make(rig, options).files[RIG]), file_type="glb")
        plate = assembly("instrument_case").panels[0].name
        assert read.geometry[plate].visual.material.name == look


def test_a_single_plate_has_no_rig():
    """Its picture tells all of it."""
    made = make(recipe("motor_base"), Options(spacing=Spacing(seconds=1e-9), glb=True))
    assert made.scene is None
    assert RIG not in made.files


def test_what_is_withheld_has_no_rig_either():
    """Like pictures, a model in true proportion is no way round a finding that says stop."""
    options = Options(stock=(StockSize(400.0, 300.0, 1),), spacing=Spacing(seconds=1e-9), glb=True)
    made = make(recipe("rib_table"), options)
    assert made.withheld
    assert RIG not in made.files
