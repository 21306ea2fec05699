"""Offsets of shapes whose offset is known in closed form."""

from __future__ import annotations

import math

import pytest

from platekit.errors import GeometryError
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc, Line
from platekit.geometry.motion import Motion
from platekit.geometry.offset import Join, offset, offset_rings
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from tests.geometry.offset_oracle import worst_deviation
from tests.geometry.offset_shapes import bezier_ring, fingers, rectangle, rounded, slot

D = 0.1


def radii(ring: Contour) -> list[float]:
    """Return every arc's radius."""
    return [s.radius_mm for s in ring.segments if isinstance(s, Arc)]


def keyhole(*, radius: float, width: float, drop: float) -> Contour:
    """Return a circle with a round-ended slot hanging from it."""
    r = width / 2
    y = math.sqrt(radius * radius - r * r)
    return Contour.of(
        [
            Arc(Point(r, -y), Point(-r, -y), Point(0, 0), radius, ccw=True),
            Line(Point(-r, -y), Point(-r, -drop)),
            Arc(Point(-r, -drop), Point(r, -drop), Point(0, -drop), r, ccw=True),
            Line(Point(r, -drop), Point(r, -y)),
        ]
    )


def d_bore(*, radius: float, flat: float) -> Contour:
    """Return a circle cut off by a flat at y = `flat`."""
    x = math.sqrt(radius * radius - flat * flat)
    return Contour.of(
        [
            Arc(Point(-x, flat), Point(x, flat), Point(0, 0), radius, ccw=True),
            Line(Point(x, flat), Point(-x, flat)),
        ]
    )


def beside_an_arc(*, radius: float, reach: float) -> float:
    """Return the area between a circle and its tangent, from the touching point to `reach`.

    Integral of r - sqrt(r^2 - t^2) from 0 to `reach`, in closed form.
    """
    chord = 0.5 * reach * math.sqrt(radius**2 - reach**2)
    return radius * reach - chord - 0.5 * radius**2 * math.asin(reach / radius)


class TestClosedForms:
    """Areas and radii against plane geometry (Steiner's formula: A + P d + pi d^2)."""

    def test_circles_only_change_their_radius(self) -> None:
        """A plate with 200 holes keeps 200 circles, each radius less d to the last bit."""
        holes = tuple(
            circle((14 + 14 * i, 14 + 17 * j), diameter_mm=2 + 0.5 * ((7 * i + 3 * j) % 13))
            for i in range(20)
            for j in range(10)
        )
        result = offset_rings(Profile(rectangle(0, 0, 300, 190), holes), growth_mm=D)
        assert result.losses == ()
        grown = result.profile
        assert len(grown.inners) == 200
        assert all(ring.is_circle for ring in grown.inners)
        for before, after in zip(holes, grown.inners, strict=True):
            assert radii(after) == [radii(before)[0] - D]
            assert after.segments[0].centre == before.segments[0].centre  # type: ignore[union-attr]
        kinds = [type(segment) for segment in grown.outer.segments]
        assert kinds.count(Arc) == kinds.count(Line) == 4

    @pytest.mark.parametrize(
        ("ring", "growth"),
        [
            (rectangle(0, 0, 30, 20), D),
            (rectangle(0, 0, 30, 20), 3.0),
            (rounded(0, 0, 30, 20, 3), D),
            (slot(length_mm=20, width_mm=4), 1.5),
            (d_bore(radius=3, flat=1.5), D),
            (closed_polyline([(0, 0), (9, 1), (4, 7)]), 0.7),
        ],
    )
    def test_a_convex_outline_grows_by_steiners_formula(self, ring: Contour, growth: float) -> None:
        """Area grows by P d + pi d^2 and length by 2 pi d for any convex shape."""
        grown = offset_rings(Profile(ring), growth_mm=growth).profile
        area = ring.area_mm2 + ring.length_mm * growth + math.pi * growth**2
        assert grown.area_mm2 == pytest.approx(area, abs=1e-9)
        assert grown.length_mm == pytest.approx(ring.length_mm + 2 * math.pi * growth, abs=1e-9)

    @pytest.mark.parametrize("turn_deg", [0.0, 17.0, 90.0])
    def test_a_slot_hole_shrinks_to_a_slot(self, turn_deg: float) -> None:
        """A slot of radius r becomes the slot of radius r - d about the same centres."""
        hole = slot(length_mm=20, width_mm=4).moved(Motion(turn_deg=turn_deg, dx_mm=50, dy_mm=50))
        plate = Profile(rectangle(0, 0, 100, 100), (hole,))
        (made,) = offset_rings(plate, growth_mm=D).profile.inners
        assert radii(made) == pytest.approx([1.9, 1.9], abs=1e-12)
        assert made.area_mm2 == pytest.approx(16 * 3.8 + math.pi * 1.9**2, abs=1e-9)
        assert len(made.segments) == 4

    def test_a_keyhole_keeps_its_radii(self) -> None:
        """Both radii shrink by d; at the two corners the beam turns about the corner itself."""
        hole = keyhole(radius=2.5, width=2.4, drop=5)
        plate = Profile(rectangle(-9, -9, 9, 9), (hole,))
        (made,) = offset_rings(plate, growth_mm=D).profile.inners
        assert sorted(radii(made)) == pytest.approx([0.1, 0.1, 1.1, 2.4], abs=1e-12)
        corner = Point(1.2, -math.sqrt(2.5**2 - 1.2**2))
        assert min(math.dist(corner, s.centre) for s in made.segments if isinstance(s, Arc)) < 1e-12

    def test_a_d_bore_shrinks_to_a_d_bore(self) -> None:
        """The flat moves in by d, the radius shrinks by d."""
        hole = d_bore(radius=3, flat=1.5)
        plate = Profile(rectangle(-9, -9, 9, 9), (hole,))
        (made,) = offset_rings(plate, growth_mm=D).profile.inners
        assert len(made.segments) == 2
        assert radii(made) == pytest.approx([2.9], abs=1e-12)
        assert made.bounds.top == pytest.approx(1.4, abs=1e-12)

    def test_finger_panels_keep_every_finger(self) -> None:
        """64 convex corners get an arc each, no line is lost."""
        panel = fingers(width=200, height=100, depth=3, along=10, up=5)
        result = offset_rings(Profile(panel), growth_mm=D)
        assert result.losses == ()
        kinds = [type(segment) for segment in result.profile.outer.segments]
        assert (kinds.count(Line), kinds.count(Arc)) == (124, 64)
        assert worst_deviation(panel, [result.profile.outer], D) < 1e-12

    def test_free_curves_stay_lines(self) -> None:
        """An outline of chords gets no arcs but its joins, of radius d each."""
        glyph = bezier_ring(chords=24, scale=2)
        made = offset_rings(Profile(glyph), growth_mm=D).profile.outer
        assert set(radii(made)) <= {D}
        assert worst_deviation(glyph, [made], D) < 1e-9


class TestMitre:
    """Pointed corners."""

    def test_square_corners_are_drawn_out_to_points(self) -> None:
        """A pointed rectangle is the rectangle 2 d larger each way, four lines."""
        made = offset_rings(Profile(rectangle(0, 0, 30, 20)), growth_mm=D, join=Join.MITRE).profile
        assert made.area_mm2 == pytest.approx(30.2 * 20.2, abs=1e-9)
        assert len(made.outer.segments) == 4

    def test_sharper_corners_keep_their_arc(self) -> None:
        """A corner that turns by more than a quarter is rounded."""
        made = offset_rings(
            Profile(closed_polyline([(0, 0), (9, 0), (0, 9)])), growth_mm=D, join=Join.MITRE
        ).profile
        kinds = [type(segment) for segment in made.outer.segments]
        assert (kinds.count(Line), kinds.count(Arc)) == (3, 2)

    def test_an_arc_beside_a_point_gets_a_tangent(self) -> None:
        """The arc keeps its sweep; a straight row leads from its end to the point."""
        half = Contour.of(
            [
                Arc(Point(5, 0), Point(-5, 0), Point(0, 0), 5, ccw=True),
                Line(Point(-5, 0), Point(5, 0)),
            ]
        )
        made = offset_rings(Profile(half), growth_mm=D, join=Join.MITRE).profile.outer
        assert radii(made) == [5.1]
        assert made.area_mm2 == pytest.approx(math.pi * 5.1**2 / 2 + 10.2 * D, abs=1e-9)

    def test_fingers_need_no_arcs(self) -> None:
        """The finger panel comes out in 124 lines."""
        panel = Profile(fingers(width=200, height=100, depth=3, along=10, up=5))
        made = offset_rings(panel, growth_mm=D, join=Join.MITRE).profile
        assert [type(segment) for segment in made.outer.segments] == [Line] * 124

    def test_the_careful_engine_points_corners_as_well(self) -> None:
        """A panel with a notch too narrow for the offset has its other corners pointed."""
        ring = closed_polyline(
            [(0, 0), (9, 0), (9, 9), (5.05, 9), (5.05, 5), (4.95, 5), (4.95, 9), (0, 9)]
        )
        made = offset_rings(Profile(ring), growth_mm=D, join=Join.MITRE).profile.outer
        tips = {(round(s.start.x, 9), round(s.start.y, 9)) for s in made.segments}
        assert {(-0.1, -0.1), (9.1, -0.1), (9.1, 9.1), (-0.1, 9.1)} <= tips


class TestRoundTrips:
    """Growing and shrinking by as much."""

    @pytest.mark.parametrize(
        "ring",
        [
            rectangle(0, 0, 30, 20),
            rounded(0, 0, 30, 20, 3),
            slot(length_mm=20, width_mm=4),
            d_bore(radius=3, flat=1.0),
            closed_polyline([(0, 0), (9, 1), (10, 5), (4, 7)]),
        ],
    )
    @pytest.mark.parametrize("growth", [0.05, 0.25, 1.0])
    def test_a_convex_shape_comes_back(self, ring: Contour, growth: float) -> None:
        """Out by d and in by d gives a convex shape back to a nanometre's thousandth."""
        grown = offset(Profile(ring), distance_mm=growth).profile
        back = offset(grown, distance_mm=-growth).profile
        assert back.area_mm2 == pytest.approx(ring.area_mm2, abs=1e-9)
        ends = [s.start for s in back.outer.segments]
        assert all(min(math.dist(s.start, end) for end in ends) < 1e-9 for s in ring.segments)

    def test_no_growth_is_no_change(self) -> None:
        """An offset by nothing hands the shape back."""
        profile = Profile(rectangle(0, 0, 3, 2))
        assert offset(profile, distance_mm=0.0).profile is profile


class TestWholeShapes:
    """Offsets in which rings meet."""

    def test_shrinking_merges_a_hole_into_the_edge(self) -> None:
        """A web of 1 mm is gone after an inset of 0.6 mm: the hole opens to the outside."""
        plate = Profile(rectangle(0, 0, 20, 10), (rectangle(1, 4, 5, 6),))
        made = offset(plate, distance_mm=-0.6)
        (piece,) = made.profiles
        assert piece.inners == ()
        # By hand: the window grown to x 0.4 .. 5.6 with corners of 0.6, cut off at x 0.6.
        window = (5.6 - 0.6) * (2 + 1.2) - 2 * (1 - math.pi / 4) * 0.6**2
        window -= 2 * beside_an_arc(radius=0.6, reach=0.4)
        assert piece.area_mm2 == pytest.approx(18.8 * 8.8 - window, abs=1e-9)

    def test_shrinking_merges_holes(self) -> None:
        """Two round holes 1 mm apart run into one opening."""
        plate = Profile(
            rectangle(0, 0, 30, 20),
            (circle((10, 10), diameter_mm=6), circle((17, 10), diameter_mm=6)),
        )
        (piece,) = offset(plate, distance_mm=-0.6).profiles
        assert len(piece.inners) == 1
        r, gap = 3.6, 7.0
        lens = 2 * r * r * math.acos(gap / 2 / r) - gap / 2 * math.sqrt(4 * r * r - gap * gap)
        assert piece.area_mm2 == pytest.approx(28.8 * 18.8 - (2 * math.pi * r * r - lens), abs=1e-9)

    def test_shrinking_can_leave_pieces(self) -> None:
        """A dumbbell with a neck of 1 mm falls into two."""
        ring = closed_polyline(
            [
                (0, 0),
                (5, 0),
                (5, 2),
                (10, 2),
                (10, 0),
                (15, 0),
                (15, 5),
                (10, 5),
                (10, 3),
                (5, 3),
                (5, 5),
                (0, 5),
            ]
        )
        made = offset(Profile(ring), distance_mm=-0.6)
        assert len(made.profiles) == 2
        bulge = 2 * beside_an_arc(radius=0.6, reach=0.5)  # into the neck, up to its middle
        expected = pytest.approx(3.8 * 3.8 + bulge, abs=1e-9)
        assert [piece.area_mm2 for piece in made.profiles] == [expected, expected]

    def test_shrinking_can_leave_nothing(self) -> None:
        """A strip narrower than twice the inset is gone."""
        made = offset(Profile(rectangle(0, 0, 20, 1)), distance_mm=-0.6)
        assert made.profiles == ()
        with pytest.raises(GeometryError, match="0 pieces"):
            _ = made.profile

    def test_a_hole_that_closes_round_an_island_leaves_it(self) -> None:
        """A peninsula in a hole, cut off at its neck by the inset, is a piece of its own."""
        hole = closed_polyline(
            [
                (0, 0),
                (20, 0),
                (20, 20),
                (10.5, 20),
                (10.5, 15),
                (13, 15),
                (13, 8),
                (7, 8),
                (7, 15),
                (9.5, 15),
                (9.5, 20),
                (0, 20),
            ]
        )
        made = offset(Profile(rectangle(-5, -5, 25, 25), (hole,)), distance_mm=-0.6)
        areas = sorted(piece.area_mm2 for piece in made.profiles)
        bulge = 2 * beside_an_arc(radius=0.6, reach=0.5)
        assert areas[0] == pytest.approx((6 - 1.2) * (7 - 1.2) + bulge, abs=1e-9)
        assert len(areas) == 2

    @pytest.mark.parametrize("distance", [math.nan, math.inf, -math.inf])
    def test_a_distance_must_be_a_number(self, distance: float) -> None:
        """What is not finite is refused, and the message says so."""
        with pytest.raises(GeometryError, match="finite"):
            offset(Profile(rectangle(0, 0, 3, 2)), distance_mm=distance)
        with pytest.raises(GeometryError, match="finite"):
            offset_rings(Profile(rectangle(0, 0, 3, 2)), growth_mm=distance)


class TestFarFromTheOrigin:
    """Places must not cost digits."""

    def test_a_slot_ten_metres_away_is_as_exact(self) -> None:
        """Deviation stays under a nanometre at 10 m."""
        ring = slot(length_mm=20, width_mm=4).moved(
            Motion(dx_mm=10_000, dy_mm=-10_000, turn_deg=33)
        )
        made = offset_rings(Profile(ring), growth_mm=D).profile.outer
        assert worst_deviation(ring, [made], D) < 1e-9
