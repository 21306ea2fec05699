"""Kinds of parts: what is counted together and what is not."""

from dataclasses import replace

import pytest

from platekit.errors import PartError
from platekit.geometry.chains import closed_polyline
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.hardware import Item
from platekit.job.kinds import kinds_of, of_kinds
from platekit.materials import birch_plywood
from platekit.panel.part import Laying, Mark, Part

SHEET = birch_plywood(6.0)
RIB = Part("rib 1", SHEET, Profile(rectangle(80.0, 30.0)))


def named(*names: str, **changes: object) -> list[Part]:
    """Return equal parts under these names."""
    return [replace(RIB, name=name, **changes) for name in names]


def counted(parts: list[Part]) -> list[tuple[str, int]]:
    """Return name and quantity of each kind."""
    return [(kind.name, kind.quantity) for kind in kinds_of(parts)]


@pytest.mark.parametrize(
    ("names", "kinds"),
    [
        (["rib 1", "rib 2", "rib 3"], [("rib", 3)]),
        (["rib-1", "rib-2"], [("rib", 2)]),
        (["rib1", "rib2"], [("rib", 2)]),
        (["rib 1"], [("rib 1", 1)]),
        (["left", "right"], [("left", 1), ("right", 1)]),
        (["rib", "rib 1", "rib 2"], [("rib", 3)]),
        (["1", "2"], [("1", 1), ("2", 1)]),
    ],
)
def test_equal_numbered_parts_are_one_kind(names, kinds):
    """Names that differ in their number alone are counted together; names of their own stay."""
    assert counted(named(*names)) == kinds


def test_quantities_add_up():
    """A kind asks for as many as its parts together."""
    parts = [replace(RIB, quantity=2), replace(RIB, name="rib 2", quantity=3)]
    assert counted(parts) == [("rib", 5)]


def test_rounding_does_not_tell_parts_apart():
    """A shape off in its last bits is the same shape; one off by a micron is not."""
    for off_mm, kinds in ((1e-12, [("rib", 2)]), (1e-3, [("rib 1", 1), ("rib 2", 1)])):
        other = Profile(rectangle(80.0 + off_mm, 30.0))
        assert counted([RIB, replace(RIB, name="rib 2", profile=other)]) == kinds


@pytest.mark.parametrize(
    "change",
    [
        {"profile": Profile(rectangle(80.0, 31.0))},
        {"sheet": birch_plywood(9.0)},
        {"marks": (Mark(closed_polyline([(1, 1), (2, 1), (2, 2)])),)},
        {"items": (Item("screw", 1),)},
        {"laying": Laying(may_flip=True)},
    ],
)
def test_parts_that_differ_stay_apart(change):
    """Another shape, sheet, mark or screw makes another kind."""
    parts = [RIB, replace(RIB, name="rib 2", **change), replace(RIB, name="rib 3")]
    assert counted(parts) == [("rib 1", 2), ("rib 2", 1)]


@pytest.mark.parametrize(
    ("names", "said"), [(["rib", "rib"], "two parts"), (["Rib", "rib"], "capitals alone")]
)
def test_a_name_is_used_once(names, said):
    """One name for two parts is refused, equal or not: their files would be one."""
    with pytest.raises(PartError, match=said):
        kinds_of(named(*names))


def test_what_is_known_of_parts_is_known_of_their_kinds():
    """A kind of several goes by its first piece; a part that stayed alone by its own name."""
    kinds = kinds_of([*named("rib 1", "rib 2"), *named("lid", quantity=2)])
    known = {"rib 1": "first", "rib 2": "second", "lid": "top", "gone": "nothing"}
    assert of_kinds(known, kinds) == {"rib": "first", "lid": "top"}
    assert of_kinds({}, kinds) == {}
