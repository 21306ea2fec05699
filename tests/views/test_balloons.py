"""Balloons: places of circles and lines by shapely, numbers against the rig's own counts."""

from __future__ import annotations

from collections import Counter
from itertools import combinations

import pytest
import shapely

from platekit.assembly.proof.things import ThingKind
from platekit.views.balloons import Balloon, ballooned
from platekit.views.camera import ISOMETRIC
from platekit.views.entries import Entry, entries_of
from platekit.views.hidden import drawn
from platekit.views.line_drawing import LineDrawing
from platekit.views.scene import Scene, scene_of
from tests.recipes.builds import assembly, resolved

RADIUS_MM = 9.0


@pytest.fixture(scope="module")
def scene() -> Scene:
    """A rig with screws, a belt and laminates."""
    done = resolved("belt_turntable")
    return scene_of("belt_turntable", done, assembly("belt_turntable").prove(done))


@pytest.fixture(scope="module")
def picture(scene) -> tuple[LineDrawing, tuple[Balloon, ...]]:
    """It taken apart, with its balloons."""
    drawing = drawn(scene.apart().things, ISOMETRIC)
    return drawing, ballooned(drawing, entries_of(scene), radius_mm=RADIUS_MM)


def test_the_list_counts_every_thing_once(scene):
    """Numbers run on from 1, plates first; screws are counted by designation."""
    entries = entries_of(scene)
    assert [one.number for one in entries] == list(range(1, len(entries) + 1))
    assert entries[0].kind is ThingKind.PLATE
    listed = [name for one in entries for name in one.things]
    assert len(listed) == len(set(listed))
    screws = Counter(one.designation for one in scene.fastenings)
    assert {one.label: one.count for one in entries if one.kind is ThingKind.FASTENER} == screws
    assert {one.label: one.count for one in entries}["foot"] == 4
    missing = {one.name for one in scene.things} - set(listed)
    assert all(name.endswith(" nut") for name in missing)


def test_each_line_ends_on_what_it_names(scene, picture):
    """The spot lies within a region where a thing of the entry is seen, and not on its rim."""
    drawing, balloons = picture
    assert len(balloons) > 15
    for one in balloons:
        regions = [
            shapely.Polygon(face.rings[0], face.rings[1:])
            for face in drawing.faces
            if face.thing in one.entry.things
        ]
        assert any(region.contains(shapely.Point(one.at)) for region in regions), one.entry.label
    named = {one.entry.number for one in balloons}
    disc = shapely.Point(0, 0).buffer(RADIUS_MM).area
    for entry in entries_of(scene):
        seen = [
            shapely.Polygon(face.rings[0], face.rings[1:]).area
            for face in drawing.faces
            if face.thing in entry.things
        ]
        assert (entry.number in named) == (max(seen, default=0.0) > 0.05 * disc), entry.label


def test_circles_touch_neither_each_other_nor_the_drawing_and_lines_do_not_cross(picture):
    """By shapely: discs, and lines on the same side."""
    drawing, balloons = picture
    discs = [shapely.Point(one.centre).buffer(RADIUS_MM) for one in balloons]
    assert all(not a.intersects(b) for a, b in combinations(discs, 2))
    frame = shapely.box(*drawing.box.ravel())
    assert all(not disc.intersects(frame) for disc in discs)
    lines = [(one.centre[0], shapely.LineString([one.centre, one.at])) for one in balloons]
    assert all(not a.crosses(b) for (x, a), (y, b) in combinations(lines, 2) if x == y)
    left = sum(one.centre[0] < drawing.box[0, 0] for one in balloons)
    assert 0.3 * len(balloons) < left < 0.7 * len(balloons)


def test_what_is_not_seen_has_no_balloon(picture):
    """It stands in the list alone."""
    drawing, _ = picture
    nobody = Entry(number=1, label="a ghost", things=("ghost",), kind=ThingKind.DEVICE)
    assert ballooned(drawing, [nobody], radius_mm=RADIUS_MM) == ()
