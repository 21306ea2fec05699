"""Parts that share a drawing: which do, what it is called, what it says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from platekit.export.plans.alike import alike
from platekit.export.plans.drawings.title_block import called, runs
from platekit.geometry.chains import circle, polyline
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.feature import Placed
from platekit.panel.part import Grain, Mark, Part
from tests.export.plans.test_dimension_figures import drawn, pages

HOLE = circle((20.0, 20.0), diameter_mm=10.0)
RING = Part("lower ring 1", birch_plywood(6.0), Profile(rectangle(60.0, 40.0), (HOLE,)))
NAME = Mark(polyline([(5.0, 5.0), (9.0, 5.0)]), is_name=True)
LINE = Mark(polyline([(5.0, 5.0), (9.0, 5.0)]))


def asked(name: str, kind: str = "bearing") -> Placed:
    """Return a feature that asks for the hole."""
    return Placed(name=name, kind=kind, cuts=(HOLE,))


@pytest.mark.parametrize(
    ("change", "same"),
    [
        ({"marks": (NAME,)}, True),
        ({"quantity": 3}, True),
        ({"marks": (LINE,)}, False),
        ({"sheet": birch_plywood(9.0)}, False),
        ({"grain": Grain.ALONG_X}, False),
        ({"profile": Profile(rectangle(60.0, 40.0))}, False),
    ],
    ids=["name", "quantity", "scored line", "thickness", "grain", "hole"],
)
def test_parts_are_alike_but_for_name_lettering_and_quantity(change, same):
    """Whatever a saw or a drill would do differently keeps them apart."""
    other = replace(RING, name="lower ring 2", **change)
    assert len(alike((RING, other), {})) == (1 if same else 2)


def test_holes_for_other_kinds_of_things_keep_parts_apart():
    """A hole for a bearing and one for a dowel may be equal; what is said of them is not."""
    other = replace(RING, name="upper ring 1")
    bearing = {"lower ring 1": (asked("lower"),), "upper ring 1": (asked("upper"),)}
    assert len(alike((RING, other), bearing)) == 1
    dowel = {**bearing, "upper ring 1": (asked("upper", "dowel"),)}
    assert len(alike((RING, other), dowel)) == 2


def test_names_are_drawn_together_by_what_stands_before_their_numbers():
    """Typed by hand."""
    names = ["lower ring 1", "lower ring 2", "upper ring 1", "lid"]
    assert called(names) == "lower ring 1, 2; upper ring 1; lid"
    assert runs([8, 9, 10, 12, 14, 15]) == "8 to 10, 12, 14, 15"


def test_one_drawing_names_all_and_counts_all():
    """Two pieces each of two names: four to make; both purposes of the hole are told."""
    one, other = replace(RING, quantity=2), replace(RING, name="upper ring 1", quantity=2)
    named = {"lower ring 1": (asked("lower"),), "upper ring 1": (asked("upper"),)}
    ((page, _),) = pages(drawn([one, other], named))
    text = " ".join(page.text.split())
    assert "lower ring 1; upper ring 1" in text
    assert "1, 2 of 2" in text
    assert "4, 2 each" in text
    assert "lower / upper" in text
