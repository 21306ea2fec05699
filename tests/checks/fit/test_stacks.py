"""Shafts in line, belts in reach: against sums by hand, lines drawn by lot, all ways tried."""

import itertools
import math

import numpy as np
import pytest

from platekit.assembly import (
    Assembly,
    belted,
    butted,
    lying,
    mounted,
    on_axis,
    standing,
    tabs,
)
from platekit.checks.fit.belts import belts_in_reach
from platekit.checks.fit.chains import Size, chain, joined, squares, stack_of
from platekit.checks.fit.lines import lines
from platekit.checks.fit.stacks import in_line
from platekit.findings import Severity
from platekit.geometry.shapes import rectangle
from platekit.hardware import ball_bearing, belt_drive, motor, shaft
from platekit.panel.plate import Plate
from tests.checks.fit.rigs import MEASURED, subject

WIDE, DEEP = 160.0, 120.0


def tower(*heights, motor_at=None, clearance=0.1, loose=None, joined_up=True):
    """Return floors between two walls, a bearing in each, a motor under one, one of them loose."""
    tall = max(heights) + 40.0

    def wall(name, across):
        return Plate(name, MEASURED, rectangle(across, tall))

    floors = [
        lying(Plate(f"floor {k}", MEASURED, rectangle(WIDE, DEEP)), bottom_mm=at)
        for k, at in enumerate(heights)
    ]
    walls = [
        standing(wall("front", WIDE), facing="front"),
        standing(wall("back", WIDE), facing="back", back_mm=DEEP),
    ]
    joints = []
    for k, each in enumerate(floors):
        play = 0.6 if k == loose else clearance
        joints += [
            tabs(each.name, into=one.name, clearance_mm=play)
            if joined_up
            else butted(each.name, against=one.name)
            for one in walls
        ]
    asked = []
    for k in range(len(heights)):
        where = {"at": on_axis("part 0")} if k else {}
        part = (
            motor(
                "NEMA 34", body_length_mm=60.0, shaft_mm=14.0, shaft_length_mm=30.0, flange_mm=8.0
            )
            if k == motor_at
            else ball_bearing("6002")
        )
        side = "down" if k == motor_at else "up"
        asked.append(mounted(part, on=f"floor {k}", side=side, name=f"part {k}", **where))
    return Assembly("tower").with_panels(*floors, *walls).with_joints(*joints).with_hardware(*asked)


def test_two_bearings_by_hand():
    """Two joints of three sizes of 0.05 each and two holes: root of eight squares, 0.1414 mm.

    The angle is that over the distance of 100 mm; worst case eight times 0.05. By hand.
    """
    (found,) = in_line(subject(tower(20.0, 120.0)))
    assert found.value == pytest.approx(math.degrees(math.atan(math.sqrt(8 * 0.05**2) / 100.0)))
    assert "at worst 0.4 mm" in found.formula
    assert (found.part, found.severity) == ("part 0 + part 1", Severity.PASSED)
    assert found.limit == pytest.approx(10 / 60)


def test_closer_bearings_and_looser_joints_are_worse():
    """One change each: the distance, then the clearance."""
    (sound,) = in_line(subject(tower(20.0, 120.0)))
    (close,) = in_line(subject(tower(20.0, 60.0)))
    (loose,) = in_line(subject(tower(20.0, 120.0, clearance=0.8)))
    assert close.severity is loose.severity is Severity.WARNING
    assert sound.margin > close.margin
    assert sound.margin > loose.margin
    assert "play of floor" in loose.formula


@pytest.mark.parametrize("loose", [None, 0, 1, 2])
def test_a_third_support_drawn_by_lot(loose):
    """A motor under two bearings: every size drawn, a line laid through the bearings.

    Normal sizes of three sigmas in half a band, as the root sum square takes them. Which way the
    chain takes through front or back does not matter: both are alike.
    """
    found = [
        one
        for one in in_line(subject(tower(20.0, 80.0, 180.0, motor_at=0, loose=loose)))
        if one.unit == "mm"
    ]
    (off,) = found
    assert off.part.startswith("part 0 + ")
    chance = np.random.default_rng(5)

    def size(half=0.05):
        return chance.normal(0, half / 3, 200_000)

    # Place of each floor on the common wall: slot, tab, play; then the hole in the floor.
    centres = [size() + size() + size(0.3 if k == loose else 0.05) + size() for k in range(3)]
    # A motor holds its shaft at its face, 20 mm; bearings at the middle of what they fill.
    heights = [20.0, 80.0 + MEASURED.thickness_mm - 4.5, 180.0 + MEASURED.thickness_mm - 4.5]
    a, b = heights[1:]
    line = centres[1] + (centres[2] - centres[1]) * (heights[0] - a) / (b - a)
    assert off.value == pytest.approx(3 * float(np.std(centres[0] - line)), rel=0.02)


def test_one_bearing_and_a_motor():
    """Two floors, by hand: the same eight sizes; the limit is 0.2 mm and half the spigot's 0.2."""
    (found,) = in_line(subject(tower(20.0, 120.0, motor_at=0)))
    assert found.value == pytest.approx(math.sqrt(8 * 0.05**2))
    assert found.limit == pytest.approx(0.2 + 0.1)
    assert found.severity is Severity.PASSED


def test_shared_sizes_count_once_and_by_lever():
    """A - a is nothing; 2 a + b is root of 4 + 1: by hand."""
    a, b = Size("a", 0.1), Size("b", 0.1)
    assert stack_of({a: 2.0, b: -1.0}).rss_half_mm == pytest.approx(0.1 * math.sqrt(5))
    assert stack_of({a: 2.0, b: -1.0}).worst_half_mm == pytest.approx(0.3)
    assert len(stack_of({a: 0.0, b: 1.0}).shares) == 1


def test_the_way_with_the_least_scatter_of_all():
    """Every way through a small net tried one by one: none scatters less."""
    chance = np.random.default_rng(6)
    names = "abcdef"
    links = {name: [] for name in names}
    for one, other in itertools.combinations(names, 2):
        if chance.random() < 0.6:
            sizes = (Size(f"{one}{other}", float(chance.uniform(0.01, 0.3))),)
            links[one].append((other, sizes))
            links[other].append((one, sizes))
    net = {name: tuple(beside) for name, beside in links.items()}

    def every(at, seen):
        if at == "f":
            yield 0.0
        for name, sizes in net[at]:
            if name not in seen:
                yield from (squares(sizes) + rest for rest in every(name, seen | {name}))

    assert squares(chain(net, "a", "f")) == pytest.approx(min(every("a", {"a"})))
    assert chain(net, "a", "a") == ()
    assert chain({}, "a", "b") is None


def test_panels_that_nothing_joins_are_told_once():
    """A floor that stands free of the other: a note, and no figure."""
    free = (
        Assembly("free")
        .with_panels(
            lying(Plate("low", MEASURED, rectangle(WIDE, DEEP))),
            lying(Plate("high", MEASURED, rectangle(WIDE, DEEP)), bottom_mm=80.0),
        )
        .with_hardware(
            mounted(ball_bearing("6002"), on="low", side="up", name="one"),
            mounted(ball_bearing("6002"), on="high", side="up", at=on_axis("one"), name="two"),
        )
    )
    (note,) = in_line(subject(free))
    assert (note.severity, note.part) == (Severity.NOTE, "one + two")


def test_what_is_no_line():
    """Axes beside each other, one panel only, a shaft alone: nothing to weigh."""
    apart = tower(20.0, 120.0)
    lone = (
        Assembly("lone")
        .with_panels(lying(Plate("low", MEASURED, rectangle(WIDE, DEEP))))
        .with_hardware(
            mounted(ball_bearing("6002"), on="low", side="up", at=(40.0, 60.0), name="one"),
            mounted(ball_bearing("6002"), on="low", side="up", at=(110.0, 60.0), name="two"),
            mounted(shaft(15.0, 60.0), on="low", side="up", at=on_axis("one"), name="shaft"),
        )
    )
    assert not tuple(in_line(subject(lone)))
    assert len(lines(apart.resolve().standing)) == 1


def test_butted_plates_lie_where_the_maker_puts_them():
    """Plates that only butt have no slots: a note, no number."""
    (note,) = in_line(subject(tower(20.0, 120.0, joined_up=False)))
    assert note.severity is Severity.NOTE


def belt_rig(travel_mm):
    """Return a motor that can be moved on its plate, and a belt to a shaft in a bearing there."""
    drive = belt_drive("curvilinear 3 mm", teeth=(40, 20), belt_teeth=100, width_mm=9.0)
    there = (60.0 + drive.centres_mm, 60.0)
    return (
        Assembly("rig")
        .with_panels(lying(Plate("deck", MEASURED, rectangle(300.0, 120.0))))
        .with_hardware(
            mounted(ball_bearing("6002"), on="deck", side="up", at=(60.0, 60.0), name="bearing"),
            mounted(shaft(15.0, 60.0), on="deck", side="up", at=on_axis("bearing"), name="shaft"),
            mounted(
                motor(
                    "NEMA 23",
                    body_length_mm=56.0,
                    shaft_length_mm=30.0,
                    flange_mm=5.0,
                ),
                on="deck",
                side="down",
                at=there,
                travel_mm=travel_mm,
                name="motor",
            ),
            belted(drive, between=("shaft", "motor"), on="deck", side="up"),
        )
    ), drive


@pytest.mark.parametrize("over", [0.05, 0.5])
def test_a_belt_needs_more_travel_than_just_enough(over):
    """Two holes of 0.05 on one plate, root of two squares by hand, against what is left."""
    _, drive = belt_rig(20.0)
    least = max(drive.fitting_mm, drive.tension_mm)
    rig, _ = belt_rig(2 * (least + over))
    job = subject(rig)
    (found,) = belts_in_reach(job, joined(job))
    assert found.value == pytest.approx(0.05 * math.sqrt(2))
    assert found.limit == pytest.approx(over, abs=1e-6)
    assert found.severity is (Severity.WARNING if over < 0.07 else Severity.PASSED)
    assert found.part == "shaft + motor"


def test_a_belt_short_of_travel_as_drawn_was_told_already():
    """No travel at all: the belt's own finding stands, none is added."""
    rig, _ = belt_rig(0.0)
    job = subject(rig)
    assert any("travel" in one.measure for one in job.whole[1].findings)
    assert not tuple(belts_in_reach(job, joined(job)))


def test_no_belt_no_finding():
    """A job without belts has nothing to say of them."""
    rig = subject(tower(20.0, 120.0))
    assert not tuple(belts_in_reach(rig, joined(rig)))
