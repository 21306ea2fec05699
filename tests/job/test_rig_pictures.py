"""Pictures of the rig in a run: there where there is one, small enough to show, withheld alike."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET

import pytest

from platekit.job.options import Options, Spacing
from platekit.job.run import make
from platekit.materials import StockSize
from tests.recipes.builds import recipe

PICTURES = ("pictures/exploded.svg", "pictures/rig.svg")


def files_of(name: str, **options) -> dict:
    """Return the files of a run, the first layout found."""
    return dict(make(recipe(name), Options(spacing=Spacing(seconds=1e-9), **options)).files)


@pytest.mark.parametrize("name", ["rib_table", "motor_stand"])
def test_a_rig_is_pictured_as_it_stands_and_taken_apart(name):
    """Sound XML under 100 kB, listed in the record, the same each time."""
    files = files_of(name)
    recorded = {one["path"] for one in json.loads(files["build.json"])["files"]}
    for path in PICTURES:
        assert path in recorded
        assert len(files[path]) < 100_000
        assert ET.fromstring(files[path]).tag.endswith("svg")  # noqa: S314 (our own file)
    again = files_of(name)
    assert [files[path] for path in PICTURES] == [again[path] for path in PICTURES]


def test_a_single_plate_has_no_rig():
    """Its picture among the parts tells all."""
    assert not set(PICTURES) & set(files_of("motor_base"))


def test_what_may_not_be_cut_is_not_pictured():
    """A stop withholds these with the cut files."""
    files = files_of("rib_table", stock=(StockSize(400.0, 300.0, 1),))
    assert not set(PICTURES) & set(files)
