"""Edges of loaded holes and what bolt circles leave, against shapely and integrals by numpy."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings, strategies as st

from platekit import Assembly, Plate, hole, load, lying, mounted, rectangle
from platekit.checks.hold.around import bore_mm, edge_mm, rim_mm
from platekit.checks.hold.edges import edges, net
from platekit.findings import Severity
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.materials import sheet
from tests.checks.hold.loaded_rigs import case, least, subject, turret, weighed


def polygon(profile):
    """Return a profile of lines and circles as shapely has it, circles at fine chords."""

    def ring(contour):
        if contour.is_circle:
            middle = contour.bounds.centre
            return shapely.Point(middle).buffer(contour.bounds.width_mm / 2, quad_segs=512).exterior
        return shapely.LinearRing([tuple(one.start) for one in contour.segments])

    return [ring(profile.outer), *(ring(one) for one in profile.inners)]


@given(
    x=st.floats(-90.0, 90.0),
    y=st.floats(-60.0, 60.0),
    bore=st.floats(5.0, 60.0),
    beside=st.tuples(st.floats(-80.0, 80.0), st.floats(-50.0, 50.0)),
)
@settings(max_examples=60, deadline=None)
def test_the_nearest_edge_by_shapely(x, y, bore, beside):
    """A plate of 200 by 140 mm with one opening: shapely's distance at fine chords."""
    corners = [(-100.0, -70.0), (100.0, -70.0), (100.0, 70.0), (-100.0, 70.0)]
    plate = Profile(closed_polyline(corners), (circle((0.0, 0.0), diameter_mm=bore),))
    at = Point(x, y)
    rings = polygon(plate)
    inside = math.hypot(x, y) < bore / 2
    wanted = min(ring.distance(shapely.Point(x, y)) for ring in (rings[:1] if inside else rings))
    assert edge_mm(plate, at) == pytest.approx(wanted, abs=2e-3)
    # An opening about another place of the group is the group's own.
    if math.hypot(*beside) < bore / 2:
        own = edge_mm(plate, at, beside=[Point(*beside)])
        assert own == pytest.approx(rings[0].distance(shapely.Point(x, y)), abs=2e-3)


def test_round_a_place():
    """A disc of 100 mm bored 30 mm: rim and bore about its middle and beside it, by hand."""
    disc = Profile(circle((0.0, 0.0), diameter_mm=100.0), (circle((0.0, 0.0), diameter_mm=30.0),))
    assert rim_mm(disc, Point(0.0, 0.0)) == pytest.approx(50.0)
    assert rim_mm(disc, Point(10.0, 0.0)) == pytest.approx(40.0)
    assert rim_mm(disc, Point(60.0, 0.0)) == 0.0
    assert bore_mm(disc, Point(0.0, 0.0)) == pytest.approx(30.0)
    # From 5 mm beside the middle the bore's far side is 20 mm away.
    assert bore_mm(disc, Point(5.0, 0.0)) == pytest.approx(40.0)
    assert bore_mm(disc, Point(40.0, 0.0)) == 0.0


def shelf(*features, depth_mm=120.0, held=None, material="birch plywood"):
    """Return a plate of 160 mm with a turret in its middle."""
    plate = Plate("shelf", sheet(material, nominal_mm=6.0), rectangle(160.0, depth_mm))
    return (
        Assembly("shelf")
        .with_panels(lying(plate.with_features(*features)))
        .with_hardware(mounted(held or turret(), on="shelf", side="up", name="turret"))
        .with_loads(load("turret", torque_nm=20.0))
    )


def test_the_edge_of_a_shelf_by_hand():
    """Bolts stand 30 sin 60 from the middle; half of 3 d, EN 1995-1-1 table 8.4 (memory)."""
    far, tear = edges(subject(shelf()))
    assert (far.part, far.feature) == ("shelf", "turret screws")
    near = 60.0 - 30.0 * math.sin(math.radians(60.0))
    assert far.value == pytest.approx(near)
    assert far.limit == pytest.approx(1.5 * 5.0)
    # Two planes from the hole of 5.5 mm to the edge, panel shear 9.5 MPa (handbook, memory).
    assert tear.limit == pytest.approx(0.9 * 2 * (near - 2.75) * 6.0 * 9.5 / 1.2)
    assert tear.value == pytest.approx(1.5 * 20_000.0 / (6 * 30.0))


def test_an_opening_near_a_screw_is_seen():
    """One change: a hole of 6 mm, 10 mm from a screw's middle."""
    opened = shelf(hole(6.0, at=(80.0 + 40.0, 60.0), name="wire"))
    far, _ = edges(subject(opened))
    assert far.value == pytest.approx(10.0 - 3.0)
    assert far.severity is Severity.WARNING
    assert least(edges, opened) < least(edges, shelf())


def test_a_narrower_shelf_never_has_more_margin():
    """One change at a time: the edge comes nearer."""
    margins = [least(edges, shelf(depth_mm=depth)) for depth in (120.0, 100.0, 80.0, 75.0)]
    assert margins == sorted(margins, reverse=True)


def test_tearing_out_stops():
    """A jam near the edge."""
    jam = shelf(depth_mm=70.0).with_loads(load("turret", torque_nm=900.0, name="jam"))
    found = list(edges(subject(jam)))
    assert Severity.STOP in [one.severity for one in found]
    assert any("jam" in one.measure for one in found)


def test_between_the_holes_by_counting():
    """Mean shear on what is left of the bolt circle, the arc counted point by point with numpy."""
    (found,) = weighed(net, shelf())
    turn = np.linspace(0.0, 2 * np.pi, 720_001)[:-1]
    at = np.stack([30.0 * np.cos(turn), 30.0 * np.sin(turn)], axis=1)
    bolts = [(30.0 * math.cos(k * math.pi / 3), 30.0 * math.sin(k * math.pi / 3)) for k in range(6)]
    clear = np.all([np.hypot(*(at - bolt).T) > 5.5 / 2 for bolt in bolts], axis=0)
    girth = float(np.mean(clear)) * 2 * np.pi * 30.0
    assert found.value == pytest.approx(1.5 * 20_000.0 / (30.0 * girth * 6.0), rel=1e-4)
    assert found.limit == pytest.approx(0.9 * 9.5 / 1.2)
    assert found.part == "shelf"


@pytest.mark.parametrize("change", [{"thread": "M8"}, {"pcd_mm": 45.0}, {"bolts": 8}])
def test_less_between_the_holes(change):
    """Larger holes, a smaller circle, more holes: each leaves less."""
    asked = {"tapped_mm": 16.0, **change}
    assert least(net, case(turret(**asked))) < least(net, case(turret(tapped_mm=16.0)))


def test_it_is_silent_without_loads_or_figures():
    """Nothing acts; or nothing is known, which other checks tell."""
    bare = Assembly("bare").with_panels(*case().panels)
    assert list(edges(subject(bare))) == list(net(subject(bare))) == []
    unknown = shelf(material="POM")
    assert list(edges(subject(unknown))) == list(net(subject(unknown))) == []
