"""The bed: parts that fit it, straight or turned, and pieces that fall or tip through its grid."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit import Assembly, Plate, birch_plywood, circle, hole, lying, places, rectangle
from platekit.checks.made.bed import drops, on_bed
from platekit.findings import Severity
from platekit.geometry.chords import to_polygon
from tests.checks.made.jobs import only, subject_of, told

PLY = birch_plywood(6.0)


def on(bed_mm, made):
    """Return the finding about a plate on a bed; the kerf is 0.2 mm."""
    (found,) = on_bed(subject_of(made, bed_mm=bed_mm))
    return found


def test_without_a_bed_nothing_is_said():
    """Nobody said how large the machine is."""
    assert list(on_bed(subject_of(Plate("door", PLY, rectangle(3000, 2000))))) == []


@pytest.mark.parametrize("bed_mm", [(600, 400), (400, 600)])
def test_the_path_is_wider_than_the_part_by_the_kerf(bed_mm):
    """600 mm drawn are 600.2 mm cut, which a bed of 600 mm does not have; 599.8 just fit."""
    found = on(bed_mm, Plate("plank", PLY, rectangle(600, 390)))
    assert (found.severity, found.part, found.limit) == (Severity.STOP, "plank", 600)
    assert found.value == pytest.approx(600.2, abs=1e-6)
    assert told([on(bed_mm, Plate("plank", PLY, rectangle(599.8, 390)))]) == []


def test_a_slender_part_may_lie_across_the_bed():
    """A ruler of 690 x 20 mm on 600 x 400 mm, whose diagonal is 721 mm; 740 is too long."""
    found = on((600, 400), Plate("ruler", PLY, rectangle(690, 20)))
    assert found.severity is Severity.PASSED
    assert "turned by" in found.measure
    assert on((600, 400), Plate("ruler", PLY, rectangle(740, 20))).severity is Severity.STOP


def test_a_bed_too_small_is_one_stop_that_names_the_parts():
    """Three of four planks are longer than the bed; by eye, the longest of them first."""
    planks = [Plate(f"plank {mm}", PLY, rectangle(mm, 60)) for mm in (500, 650, 700, 300)]
    panels = [lying(plank, bottom_mm=50.0 * k) for k, plank in enumerate(planks)]
    job = subject_of(Assembly("stack").with_panels(*panels), bed_mm=(400, 200))
    stops = [one for one in on_bed(job) if one.severity is Severity.STOP]
    (stop,) = stops
    assert stop.part == "plank 700"
    assert "too large as well: plank 650, plank 500" in stop.measure
    assert "plank 300" not in stop.measure
    assert [one.part for one in on_bed(job) if one.severity is Severity.PASSED] == ["plank 300"]


@settings(derandomize=True, max_examples=40, deadline=None)
@given(
    long_mm=st.floats(100, 800),
    wide_mm=st.floats(50, 500),
    bed_mm=st.tuples(st.floats(200, 900), st.floats(200, 900)),
)
def test_the_best_turn_agrees_with_shapely_turning_the_part(long_mm, wide_mm, bed_mm):
    """Independent library: shapely turns the path by quarter degrees; that is never better."""
    job = subject_of(Plate("plate", PLY, rectangle(long_mm, wide_mm)), bed_mm=bed_mm)
    (found,) = on_bed(job)
    body = to_polygon(job.pieces[0].path)
    best = 0.0
    for k in range(720):
        c, s = math.cos(math.radians(k / 4)), math.sin(math.radians(k / 4))
        turned = shapely.transform(body, lambda p, c=c, s=s: p @ [[c, s], [-s, c]])
        left, low, right, high = turned.bounds
        best = max(best, min(bed_mm[0] / (right - left), bed_mm[1] / (high - low)))
    assert found.margin >= min(best, 1.0) - 1e-4
    assert found.margin <= best * 1.01


def disc(diameter_mm: float) -> Plate:
    """Return a disc."""
    return Plate("disc", PLY, circle((0, 0), diameter_mm=diameter_mm))


@pytest.mark.parametrize(
    ("diameter_mm", "severity", "word"),
    [
        (8, Severity.WARNING, "falls"),
        (19, Severity.WARNING, "tip"),
        (21, Severity.PASSED, "tip"),
    ],
)
def test_small_parts_fall_or_tip(diameter_mm, severity, word):
    """Cells of 10 mm: under one it falls through, under two it may tip (common practice)."""
    found = only(drops, disc(diameter_mm))
    assert found.severity is severity
    assert word in found.measure


def test_slats_stand_wider_apart():
    """A disc of 50 mm may tip between slats 30 mm apart, under two of them, and falls at 60."""
    job = subject_of(disc(50))
    assert told(drops(job)) == []
    (tips,) = told(drops(replace(job, grid_mm=30.0)))
    (falls,) = told(drops(replace(job, grid_mm=60.0)))
    assert ("tip" in tips.measure, "falls" in falls.measure) == (True, True)


def test_large_parts_and_few_cut_outs_are_nothing_to_tell():
    """Eight holes of 12 mm in a plate."""
    plate = Plate("plate", PLY, rectangle(300, 60)).with_features(
        hole(12, at=places(*((20 + 30 * k, 30) for k in range(8))))
    )
    assert told(drops(subject_of(plate))) == []


def test_many_cut_outs_that_may_tip_are_one_note_without_a_margin():
    """45 holes of 12 mm: more than 40 in one part."""
    plate = Plate("sieve", PLY, rectangle(1000, 60)).with_features(
        hole(12, at=places(*((20 + 20 * k, 30) for k in range(45))))
    )
    (found,) = told(drops(subject_of(plate)))
    assert (found.severity, found.part, found.value) == (Severity.NOTE, "sieve", 45)
    assert found.margin is None
