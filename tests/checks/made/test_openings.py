"""Holes and slots against thickness and kerf: common practice, no source, worked by hand."""

import pytest

from platekit import Assembly, Plate, birch_plywood, hole, lying, opening, rectangle, slot
from platekit.checks.made.openings import holes, slots
from platekit.findings import Severity
from tests.checks.made.jobs import only, subject_of

PLY = birch_plywood(12.0)


def bored(*diameters_mm: float, name: str = "plate") -> Plate:
    """Return a 12 mm plate with holes in a row."""
    return Plate(name, PLY, rectangle(300, 60)).with_features(
        *(hole(size, at=(30 + 40 * k, 30), name=f"hole {k}") for k, size in enumerate(diameters_mm))
    )


@pytest.mark.parametrize(
    ("diameter_mm", "severity"),
    [(6.0, Severity.PASSED), (5.9, Severity.NOTE), (3.0, Severity.NOTE), (2.9, Severity.WARNING)],
)
def test_holes_are_held_against_half_the_thickness(diameter_mm, severity):
    """12 mm thick: 6 mm is the least, and under 3 it is more than a note."""
    found = only(holes, bored(20.0, diameter_mm))
    assert (found.severity, found.limit) == (severity, 6.0)
    assert found.feature == "hole 1"
    assert found.margin == pytest.approx(diameter_mm / 6.0)


def test_one_finding_tells_of_all_small_holes():
    """Five small holes on two parts."""
    both = Assembly(
        "two",
        panels=(
            lying(bored(4.0, 4.0, 20.0, name="low"), bottom_mm=0),
            lying(bored(3.5, 4.0, 4.0, name="high"), bottom_mm=50),
        ),
    )
    found = only(holes, both)
    assert (found.part, found.value) == ("high", pytest.approx(3.5))
    assert found.measure == "smallest of 5 small holes on 2 parts"


def test_a_small_square_is_a_hole_too_and_a_long_slot_is_none():
    """2 x 2 mm in 12 mm; 3 x 40 mm is a slot, which may be narrow."""
    plain = Plate("plate", PLY, rectangle(100, 60))
    square = plain.with_features(opening(rectangle(2, 2, centre=(50, 30)), name="peep"))
    found = only(holes, square)
    assert (found.feature, found.value) == ("peep", 2.0)
    assert list(holes(subject_of(plain.with_features(slot(40, 3))))) == []


@pytest.mark.parametrize(
    ("width_mm", "severity"), [(0.39, Severity.WARNING), (0.41, Severity.PASSED)]
)
def test_slots_are_held_against_two_kerfs(width_mm, severity):
    """Kerf 0.2: of a slot of 0.4 mm both cuts together leave nothing."""
    cut = Plate("plate", PLY, rectangle(100, 60)).with_features(slot(40, width_mm))
    found = only(slots, cut)
    assert (found.severity, found.check) == (severity, "made.slot")
    assert found.limit == pytest.approx(0.4)
    assert found.value == pytest.approx(width_mm)
    assert found.feature == "slot"


def test_slots_and_holes_of_usual_size_say_nothing_of_the_beam():
    """4 mm wide: nowhere near."""
    cut = Plate("plate", PLY, rectangle(100, 60)).with_features(slot(40, 4))
    assert list(slots(subject_of(cut))) == []
