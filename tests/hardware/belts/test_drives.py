"""Belt drives against text books, and against paths measured without platekit."""

import math
import random

import pytest
import shapely

from platekit.errors import PartError
from platekit.findings import Severity
from platekit.geometry.curves import Line
from platekit.hardware.belts.drives import belt_drive
from platekit.hardware.belts.paths import (
    open_belt_centres_mm,
    open_belt_length_mm,
    open_belt_line,
    open_belt_wraps_deg,
)
from platekit.hardware.belts.profiles import belt_profile, known_belt_profiles

INCH_MM = 25.4
FLAGSHIP = {"teeth": (60, 30), "width_mm": 9}


def hull_length_mm(first_mm, second_mm, *, centres_mm):
    """Return the length of a rubber band around two circles, by shapely at fine chords.

    A taut open belt is the edge of the convex hull of both circles; 4096 chords to the quarter
    turn are short of the arc by less than 1e-7 of it.
    """
    circles = [
        shapely.Point(x, 0).buffer(diameter_mm / 2, quad_segs=4096)
        for x, diameter_mm in ((0, first_mm), (centres_mm, second_mm))
    ]
    return shapely.convex_hull(shapely.union_all(circles)).length


def test_a_text_books_drive_comes_out():
    """Mott, Machine Elements in Mechanical Design, example 7-3 (looked up).

    8 mm pitch, 80 to 32 teeth, belt of 150 teeth (1200 mm): centres 14.61 in (printed to 0.005),
    ratio 2.5, 560 rpm from 1400.
    """
    drive = belt_drive("curvilinear 8 mm", teeth=(32, 80), belt_teeth=150, width_mm=30)
    assert drive.belt_length_mm == 1200
    assert drive.centres_mm == pytest.approx(14.61 * INCH_MM, abs=0.2)
    assert 1400 * drive.ratio == pytest.approx(560, abs=1e-9)
    assert drive.pitch_diameters_mm == pytest.approx((3.208 * INCH_MM, 8.02 * INCH_MM), abs=0.03)


def test_the_same_drive_solved_by_bisection():
    """Not printed in the book: the exact equation by bisection, its quadratic approximation."""
    drive = belt_drive("curvilinear 8 mm", teeth=(32, 80), belt_teeth=150, width_mm=30)
    assert drive.centres_mm == pytest.approx(370.954, abs=0.001)
    small_mm, large_mm = 8 * 32 / math.pi, 8 * 80 / math.pi
    b = 4 * 1200 - 2 * math.pi * (small_mm + large_mm)
    usual_mm = (b + math.sqrt(b**2 - 32 * (large_mm - small_mm) ** 2)) / 16
    assert usual_mm == pytest.approx(370.966, abs=0.001)
    # Short by (D - d)^4 / (192 C^3) of length, half of that in centres.
    short_mm = (large_mm - small_mm) ** 4 / (192 * usual_mm**3) / 2
    assert usual_mm - drive.centres_mm == pytest.approx(short_mm, rel=0.05)
    assert drive.wrap_deg[0] == pytest.approx(161.034, abs=0.01)
    assert drive.teeth_in_mesh == 14


def test_equal_pulleys_are_as_published():
    """5 mm pitch, 24 and 24 teeth, belt of 60: 3.5433 in. A team's teaching notes (looked up)."""
    drive = belt_drive("curvilinear 5 mm", teeth=(24, 24), belt_teeth=60, width_mm=9)
    assert drive.centres_mm == pytest.approx(3.5433 * INCH_MM, abs=0.005)
    assert drive.wrap_deg == (180, 180)
    assert drive.teeth_in_mesh == 12


def test_smooth_belts_of_text_books():
    """Shigley, Mechanical Engineering Design, examples 17-4 and 17-1. From memory.

    7.4 and 11 in, belt 113.8 in long: centres 42.4 in, wrap 3.057 rad there. 6 and 18 in, 8 ft
    apart: wrap 3.0165 rad.
    """
    centres_mm = open_belt_centres_mm(7.4 * INCH_MM, 11 * INCH_MM, length_mm=113.8 * INCH_MM)
    assert centres_mm == pytest.approx(42.4 * INCH_MM, abs=1.3)
    wraps = open_belt_wraps_deg(187.96, 279.4, centres_mm=1076.96)
    assert wraps[0] == pytest.approx(math.degrees(3.057), abs=0.05)
    wraps = open_belt_wraps_deg(152.4, 457.2, centres_mm=2438.4)
    assert wraps[0] == pytest.approx(math.degrees(3.0165), abs=0.01)


def test_stepped_pulleys_of_a_text_book_share_one_belt():
    """Khurmi and Gupta, Theory of Machines, example 11.3, p. 337 (looked up).

    Shafts 720 mm apart, radii 40 and 106.67 mm on the first step; by the book 49.2 and 98.4 on
    the second take the same belt. Radii rounded to 0.1 mm leave up to pi * 0.1 mm of length, the
    book's series formula another 0.1 mm.
    """
    first_mm = open_belt_length_mm(80, 2 * 106.6667, centres_mm=720)
    second_mm = open_belt_length_mm(2 * 49.2, 2 * 98.4, centres_mm=720)
    assert first_mm == pytest.approx(second_mm, abs=math.pi * 0.1 + 0.1)


def test_a_belt_runs_as_fast_as_in_a_text_book():
    """Mott, example 7-3 (looked up): 1175.8 ft/min on 32 teeth of 8 mm at 1400 rpm."""
    drive = belt_drive("curvilinear 8 mm", teeth=(32, 80), belt_teeth=150, width_mm=30)
    feet_by_minute = math.pi * drive.pitch_diameters_mm[0] * 1400 / (12 * INCH_MM)
    assert feet_by_minute == pytest.approx(1175.8, abs=2)


@pytest.mark.parametrize("seed", range(40))
def test_random_belts_are_as_long_as_a_rubber_band(seed):
    """Length, and the centres that the length asks for, against the hull of two circles."""
    chance = random.Random(seed)  # noqa: S311 - layouts, not secrets
    first_mm, second_mm = chance.uniform(5, 300), chance.uniform(5, 300)
    centres_mm = (first_mm + second_mm) / 2 * chance.uniform(1.0, 6.0)
    length_mm = open_belt_length_mm(first_mm, second_mm, centres_mm=centres_mm)
    band_mm = hull_length_mm(first_mm, second_mm, centres_mm=centres_mm)
    assert length_mm == pytest.approx(band_mm, rel=1e-7)
    back_mm = open_belt_centres_mm(first_mm, second_mm, length_mm=length_mm)
    assert back_mm == pytest.approx(centres_mm, abs=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_random_drives_are_closed_lines_of_their_length(seed):
    """The line about both pitch circles, anywhere in the plane: its chords add up to the belt."""
    chance = random.Random(seed)  # noqa: S311 - layouts, not secrets
    profile = belt_profile(chance.choice(known_belt_profiles()))
    teeth = tuple(chance.randint(profile.least_teeth, 90) for _ in range(2))
    belt_teeth = max(teeth) * 2 + chance.randint(20, 300)
    drive = belt_drive(profile, teeth=teeth, belt_teeth=belt_teeth, width_mm=profile.widths_mm[0])
    angle, x, y = chance.uniform(0, 7), chance.uniform(-99, 99), chance.uniform(-99, 99)
    away = (x + drive.centres_mm * math.cos(angle), y + drive.centres_mm * math.sin(angle))
    line = open_belt_line(*drive.pitch_diameters_mm, first_at=(x, y), second_at=away)
    steps = [k / 2000 for k in range(2000)]
    points = [
        segment.at(step)
        for segment in line.segments
        for step in ((0.0,) if isinstance(segment, Line) else steps)
    ]
    ring = shapely.Polygon(points)
    assert ring.length == pytest.approx(drive.belt_teeth * profile.pitch_mm, rel=1e-6)
    assert ring.is_valid
    assert line.is_ccw
    assert sum(drive.wrap_deg) == pytest.approx(360)


@pytest.mark.parametrize("teeth", [(60, 30), (30, 60), (20, 20), (100, 10)])
def test_the_outline_is_the_belts_back_around_both_pulleys(teeth):
    """Against shapely: lands lie on the outside diameters, the back everywhere as far off."""
    drive = belt_drive("curvilinear 3 mm", teeth=teeth, belt_teeth=250, width_mm=9)
    at = (drive.centres_mm, 0.0)
    body = drive.outline((0, 0), at)
    pulleys = [
        shapely.Point(place).buffer(drive.profile.outside_diameter_mm(count) / 2, quad_segs=2048)
        for place, count in zip(((0, 0), at), teeth, strict=True)
    ]
    lands = shapely.convex_hull(shapely.union_all(pulleys))
    back = lands.buffer(2.41 - 1.22, quad_segs=2048)
    assert body.area_mm2 == pytest.approx(back.area - lands.area, rel=1e-5)
    assert body.inners[0].length_mm == pytest.approx(lands.length, rel=1e-6)
    assert body.outer.length_mm == pytest.approx(back.length, rel=1e-6)
    block = drive.block((0, 0), at, low_mm=3)
    assert (block.low_mm, block.high_mm, block.profile) == (3, 12, body)


def test_two_shafts_of_an_encoder():
    """45 and 20 teeth of 2 mm pitch: 2.25 turns of the encoder per turn of the shaft.

    Common practice, no source.
    """
    drive = belt_drive("curvilinear 2 mm", teeth=(45, 20), belt_teeth=100, width_mm=6)
    assert drive.ratio == 2.25


def test_a_shaft_and_its_encoder_stand_where_the_equation_says():
    """60 and 30 teeth, 3 mm pitch, belt of 120: bisection of the exact equation, plain math."""
    drive = belt_drive("curvilinear 3 mm", belt_teeth=120, **FLAGSHIP)
    large_mm, small_mm = 3 * 60 / math.pi, 3 * 30 / math.pi
    low_mm, high_mm = 50.0, 200.0
    for _ in range(80):
        middle_mm = (low_mm + high_mm) / 2
        a = math.asin((large_mm - small_mm) / 2 / middle_mm)
        band_mm = (
            2 * middle_mm * math.cos(a)
            + large_mm / 2 * (math.pi + 2 * a)
            + small_mm / 2 * (math.pi - 2 * a)
        )
        low_mm, high_mm = (middle_mm, high_mm) if band_mm < 360 else (low_mm, middle_mm)
    assert drive.centres_mm == pytest.approx(low_mm, abs=1e-9)
    assert drive.centres_mm == pytest.approx(111.579, abs=0.001)
    assert drive.findings(part="head") == ()
    # Slots stand in the middle of their travel, a few hundredths away: still this belt.
    assert drive.outline((0, 0), (0, 111.6)).area_mm2 > 0


def test_a_wished_distance_takes_the_nearest_belt_and_says_the_true_distance():
    """No other known length is nearer, measured by the hull of both pitch circles."""
    drive = belt_drive("curvilinear 3 mm", centres_mm=111.6, **FLAGSHIP)
    assert drive.belt_teeth == 120
    assert drive == belt_drive("curvilinear 3 mm", centres_mm=111.6, **FLAGSHIP)
    far = belt_drive("curvilinear 3 mm", centres_mm=116.0, **FLAGSHIP)
    band_mm = hull_length_mm(*far.pitch_diameters_mm, centres_mm=116.0)
    known = belt_profile("curvilinear 3 mm").lengths
    assert far.belt_teeth == min(known, key=lambda count: abs(3 * count - band_mm))
    (said,) = far.findings(part="head")
    assert said.severity is Severity.NOTE
    assert said.value == far.centres_mm
    assert said.limit == 116.0


def test_beyond_the_known_lengths_the_nearest_whole_tooth_is_taken_and_noted():
    """A profile without known lengths, and one whose list ends before."""
    for name in ("T2.5", "curvilinear 2 mm"):
        profile = belt_profile(name)
        drive = belt_drive(profile, teeth=(20, 20), centres_mm=900, width_mm=6)
        assert abs(drive.centres_mm - 900) <= profile.pitch_mm / 4 + 1e-9
        measures = [found.measure for found in drive.findings(part="head")]
        assert measures == ["belt not among the known lengths: teeth"]


def test_few_teeth_in_mesh_are_warned_of():
    """ISO 5295 mesh factor, from memory: 0.8 for five teeth, 1 from six on."""
    drive = belt_drive("curvilinear 3 mm", teeth=(10, 80), belt_teeth=100, width_mm=9)
    share = hull_share_of_small(drive)
    assert drive.teeth_in_mesh == math.floor(10 * share) < 6
    assert drive.mesh_factor == pytest.approx({5: 0.8, 4: 0.6, 3: 0.4, 2: 0.2}[drive.teeth_in_mesh])
    said = [found for found in drive.findings(part="head") if found.measure == "teeth in mesh"]
    assert said[0].severity is Severity.WARNING
    assert belt_drive("T5", teeth=(12, 12), belt_teeth=84, width_mm=10).mesh_factor == 1.0


def hull_share_of_small(drive):
    """Return the share of the small pulley's edge that lies on the hull, by shapely."""
    small_mm, large_mm = drive.pitch_diameters_mm
    small = shapely.Point(0, 0).buffer(small_mm / 2, quad_segs=2048)
    large = shapely.Point(drive.centres_mm, 0).buffer(large_mm / 2, quad_segs=2048)
    edge = shapely.convex_hull(shapely.union_all([small, large])).exterior
    return edge.intersection(small.exterior.buffer(1e-9)).length / small.exterior.length


def test_flanges_that_touch_and_odd_widths_are_told_of():
    """Pulleys a hair apart leave no room for the flanges of both."""
    near = belt_drive("curvilinear 3 mm", teeth=(30, 30), belt_teeth=50, width_mm=11)
    said = {found.measure: found for found in near.findings(part="head")}
    assert said["centre distance"].severity is Severity.WARNING
    assert said["belt width"].severity is Severity.NOTE
    assert "6, 9, 15" in said["belt width"].remedy


def test_travel_fits_the_belt_and_tensions_it():
    """ISO 155, from memory: 0.005 of the length to tension; over a flange, common practice."""
    drive = belt_drive("curvilinear 3 mm", belt_teeth=120, **FLAGSHIP)
    assert drive.tension_mm == pytest.approx(1.8)
    assert drive.fitting_mm == pytest.approx(2.41 + 1.22)
    assert drive.travel_mm == pytest.approx(drive.tension_mm + drive.fitting_mm)


@pytest.mark.parametrize(
    ("asked", "message"),
    [
        ({"belt_teeth": 60}, r"60 teeth does not reach.*at least 75 teeth; known .*: 75, 84, 85"),
        ({"belt_teeth": 120, "centres_mm": 111.6}, "both by teeth and by centres"),
        ({}, "or by neither"),
        ({"belt_teeth": 120.0}, "whole number"),
        ({"centres_mm": 30}, r"both pulleys touch.*at least 42\.\d\d mm"),
        ({"centres_mm": math.nan}, "above 0"),
        ({"centres_mm": 0}, "above 0"),
        ({"belt_teeth": 120, "width_mm": -9}, "width is -9 mm"),
        ({"belt_teeth": 120, "teeth": (60, 9)}, "at least 10"),
        ({"belt_teeth": 120, "teeth": (60,)}, "two pulleys"),
        ({"belt_teeth": 120, "teeth": 60}, "two pulleys"),
    ],
)
def test_what_cannot_be_is_refused_with_a_remedy(asked, message):
    """By name, value and what to do."""
    with pytest.raises(PartError, match=message):
        belt_drive("curvilinear 3 mm", **{**FLAGSHIP, **asked})


def test_the_shortest_belt_offered_does_reach_and_one_tooth_less_does_not():
    """Touching pulleys: the hull of both pitch circles is the least belt."""
    profile = belt_profile("curvilinear 3 mm")
    with pytest.raises(PartError, match="at least 75"):
        belt_drive(profile, teeth=(60, 30), belt_teeth=74, width_mm=9)
    drive = belt_drive(profile, teeth=(60, 30), belt_teeth=75, width_mm=9)
    touching_mm = (profile.outside_diameter_mm(60) + profile.outside_diameter_mm(30)) / 2
    assert drive.centres_mm >= touching_mm
    band_mm = hull_length_mm(*drive.pitch_diameters_mm, centres_mm=touching_mm)
    assert 74 * 3 < band_mm <= 75 * 3


def test_the_outline_follows_the_shafts_wherever_they_stand():
    """Shafts drawn too far apart: still the hull of both; one within the other: refused."""
    drive = belt_drive("curvilinear 3 mm", belt_teeth=120, **FLAGSHIP)
    lands_mm = [drive.profile.outside_diameter_mm(count) for count in drive.teeth]
    inner = drive.outline((0, 0), (0, -120.0)).inners[0]
    assert inner.length_mm == pytest.approx(hull_length_mm(*lands_mm, centres_mm=120), rel=1e-6)
    for wrong_mm in (10.0, 0.0):
        with pytest.raises(PartError, match="within the other"):
            drive.outline((0, 0), (wrong_mm, 0))


def test_the_bill_says_what_the_belt_is_for_and_cautions():
    """The note given stands first."""
    item = belt_drive("curvilinear 3 mm", belt_teeth=120, **FLAGSHIP).item(note="mast to encoder")
    assert item.designation == "belt curvilinear 3 mm, 120 teeth (360 mm), 9 mm wide"
    assert item.note.startswith("mast to encoder; cover it")
