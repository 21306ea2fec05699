"""The pictures of a run: there with the cut files, recorded like them, small enough to show."""

import hashlib
import json
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from platekit.job.options import Options, Spacing
from platekit.job.recipe import load_recipe
from platekit.job.run import make
from platekit.materials import StockSize
from tests.recipes.builds import NAMES, build as shared

RECIPES = Path(__file__).parents[2] / "recipes"
NAMESPACE = "{http://www.w3.org/2000/svg}"
PICTURES = ("pictures/parts.svg", "pictures/sheets.svg")


def built(name, **options):
    """Return a run of one of the project's recipes, the first layout found."""
    recipe = load_recipe(RECIPES / f"{name}.py")
    return make(recipe, Options(spacing=Spacing(seconds=1e-9), **options))


@pytest.mark.parametrize("name", NAMES)
def test_every_recipe_is_pictured(name):
    """Both pictures are sound XML under 150 kB; every piece on every sheet is used once."""
    build = shared(name)
    for path in PICTURES:
        assert len(build.files[path].encode()) < 150_000
    parts, sheets = (ET.fromstring(build.files[path]) for path in PICTURES)  # noqa: S314
    # The titles of the page and of a group to each kind.
    assert len(list(parts.iter(f"{NAMESPACE}title"))) == 1 + len(build.parts)
    kinds = {
        group.get("id"): group.findtext(f"{NAMESPACE}title")
        for group in sheets.find(f"{NAMESPACE}defs")
    }
    drawn = [kinds[one.get("href")[1:]] for one in sheets.iter(f"{NAMESPACE}use")]
    placed = [one.part for sheet in build.sheets for one in sheet.nested.placements]
    assert drawn == placed
    assert len(drawn) == sum(part.quantity for part in build.parts)


def test_pictures_stand_in_the_record():
    """The record lists them with their SHA-256, as it lists the cut files."""
    build = built("motor_base")
    recorded = {
        one["path"]: one["sha256"] for one in json.loads(build.files["build.json"])["files"]
    }
    for path in PICTURES:
        assert recorded[path] == hashlib.sha256(build.files[path].encode()).hexdigest()


def test_what_may_not_be_cut_is_not_pictured():
    """A stop withholds the pictures with the cut files: they are too easily taken for some."""
    build = built("rib_table", stock=(StockSize(400.0, 300.0, 1),))
    assert build.withheld
    assert not [path for path in build.files if path.endswith((".svg", ".dxf"))]
