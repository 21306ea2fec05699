"""Necks of outlines: found, graded by what is left of them, told once."""

import pytest

from platekit import Assembly, Plate, birch_plywood, fingers, lying, polygon, rectangle, standing
from platekit.checks.made.necks import necks
from platekit.findings import Severity
from platekit.materials import sheet
from tests.checks.made.jobs import only, subject_of, told

PLY = birch_plywood(6.0)


def dumb_bell(neck_mm: float, **of_plate: float) -> Plate:
    """Two squares of 40 mm joined by a neck 30 mm long."""
    h = neck_mm / 2
    right = [(15, -h), (15, -20), (55, -20), (55, 20), (15, 20), (15, h)]
    return Plate("handle", PLY, polygon([*right, *((-x, -y) for x, y in right)]), **of_plate)


def test_a_neck_under_the_least_web_warns_with_its_width_and_place():
    """1 mm drawn, 6 mm wanted: a sheet's thickness, common practice, no source."""
    found = only(necks, dumb_bell(1.0))
    assert (found.severity, found.part, found.check) == (Severity.WARNING, "handle", "made.neck")
    assert found.value == pytest.approx(1.0)
    assert found.limit == 6.0
    assert found.margin == pytest.approx(1 / 6)
    assert found.feature == "neck at x 0.0, y 0.0 mm"


def test_what_is_narrower_than_the_cut_stops_the_job():
    """A strip of 0.05 mm between cuts of 0.2 mm is not there afterwards."""
    found = only(necks, dumb_bell(0.05))
    assert (found.severity, found.limit) == (Severity.STOP, 0.2)


@pytest.mark.parametrize("neck_mm", [6.0, 7.5])
def test_a_neck_of_the_least_web_and_more_passes_and_gives_its_margin(neck_mm):
    """The margin is the width over the least web."""
    found = only(necks, dumb_bell(neck_mm))
    assert found.severity is Severity.PASSED
    assert found.margin == pytest.approx(neck_mm / 6)


def test_what_the_plate_asks_for_counts():
    """A plate that says that 3 mm will do."""
    assert only(necks, dumb_bell(4.0)).severity is Severity.WARNING
    assert only(necks, dumb_bell(4.0, least_web_mm=3.0)).severity is Severity.PASSED


def test_a_wider_neck_never_has_the_smaller_margin():
    """One change: from 0.5 mm on in steps, stopping left out."""
    margins = [only(necks, dumb_bell(0.5 + 0.5 * k)).margin for k in range(16)]
    assert margins == sorted(margins)


def test_necks_of_one_part_are_told_once_with_their_number():
    """A comb of five teeth, 2 mm each, on a back of 20 mm."""
    points = [(0.0, 0.0), (100.0, 0.0)]
    for k in reversed(range(5)):
        x = 10.0 + 20.0 * k
        points += [(x + 2, 20), (x + 2, 50), (x, 50), (x, 20)]
    comb = Plate("comb", PLY, polygon([*points, (0, 20)]))
    found = only(necks, comb)
    assert found.measure == "width of the narrowest of 5 necks"
    assert found.value == pytest.approx(2.0)


@pytest.mark.parametrize(
    "stuff", [PLY, birch_plywood(4.0), sheet("MDF", thickness_mm=6.0)], ids=str
)
def test_fingers_as_joints_deal_them_are_no_necks(stuff):
    """As many fingers as the joint allows: all of them at least the sheet's least finger wide."""
    floor = Plate("floor", stuff, rectangle(160, 100))
    wall = Plate("wall", stuff, rectangle(160, 80))
    count = int(160 / (1.05 * stuff.least_finger_mm)) // 2 * 2 - 1
    box = Assembly(
        "box",
        panels=(
            lying(floor, bottom_mm=0),
            standing(wall, facing="front", front_mm=0, bottom_mm=0),
        ),
    ).with_joints(fingers("floor", "wall", count=count))
    job = subject_of(box)
    assert job.whole is not None
    assert told(job.whole[1].findings) == []
    assert told(necks(job)) == []


def test_what_a_joint_tells_of_is_not_told_twice():
    """Two ribs cross a third 2 mm apart: the tongue between their notches is the joints' web."""

    def rib(name: str) -> Plate:
        return Plate(name, PLY, rectangle(120, 40))

    crossing = [
        standing(rib(name), facing="left", left_mm=x, front_mm=0, bottom_mm=0)
        for name, x in (("first", 50.0), ("second", 58.0))
    ]
    long = standing(rib("long"), facing="front", left_mm=0, front_mm=57, bottom_mm=0)
    job = subject_of(Assembly("grid", panels=(long, *crossing)))
    assert job.whole is not None
    (web,) = [one for one in job.whole[1].findings if one.check == "made.web"]
    assert (web.part, web.value) == ("long", pytest.approx(2.0, abs=0.2))
    assert told(necks(job)) == []
