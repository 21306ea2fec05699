"""The table of scatter: complete, and in the order that the workshop knows."""

import csv
from importlib import resources

import pytest

from platekit.materials import known_materials, material
from platekit.materials.fits import fits_of
from platekit.materials.scatter import scatter_of

KINDS = ("plywood", "fibreboard", "acrylic", "plastic")


def test_every_row_says_how_it_is_known():
    """Read with nothing of ours."""
    text = resources.files("platekit.materials").joinpath("scatter.csv").read_text("utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    assert {row["known"] for row in rows} <= {"common practice", "derived"}
    assert all(row["source"].strip() for row in rows)
    assert len({(row["kind"], row["figure"]) for row in rows}) == len(rows)


@pytest.mark.parametrize("kind", KINDS)
def test_what_gives_way_may_be_pressed(kind):
    """Wood gives way, plastics crack: common practice, as the table of fits has it."""
    scatter = scatter_of(kind)
    never = fits_of(kind).of("finger").press_mm is None
    assert (scatter.forced_mm == 0) == never
    assert scatter.pressed_mm >= scatter.forced_mm
    assert scatter.filled_mm < scatter.loose_mm
    # A usual glued clearance lies between what is forced and what is filled.
    for joint in ("finger", "tab"):
        assert -scatter.forced_mm < fits_of(kind)[joint] < scatter.filled_mm


def test_every_material_has_one():
    """An unknown kind is taken as the most careful."""
    for name in known_materials():
        assert scatter_of(material(name).kind).thickness_mm > 0
    assert scatter_of("cheese") == scatter_of("plastic")
