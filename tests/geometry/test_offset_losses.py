"""What offsets report as lost, on shapes whose losses are known beforehand."""

from __future__ import annotations

import math

import pytest

from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.curves import Arc, Line
from platekit.geometry.offset import offset_rings
from platekit.geometry.offset.losses import Loss, LossKind
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from tests.geometry.offset_shapes import bulged, fingers, rectangle, rounded, slot

D = 0.1
KERFS = [round(0.05 * k, 2) for k in range(1, 11)]


def lost(ring: Contour, *, hole: bool, growth: float = D) -> tuple[Loss, ...]:
    """Return the losses of one ring, as an outline or as a hole in a large plate."""
    if not hole:
        return offset_rings(Profile(ring), growth_mm=growth).losses
    plate = Profile(rectangle(-50, -50, 50, 50), (ring,))
    return offset_rings(plate, growth_mm=growth).losses


def kinds(losses: tuple[Loss, ...]) -> list[str]:
    """Return the kinds by name."""
    return [loss.kind.name for loss in losses]


def dumbbell(neck: float) -> Contour:
    """Return two circles of radius 3 joined by a straight neck; clockwise: walls are 0 and 2."""
    y = neck / 2
    x = 5 - math.sqrt(9 - y * y)
    return Contour.of(
        [
            Line(Point(-x, y), Point(x, y)),
            Arc(Point(x, y), Point(x, -y), Point(5, 0), 3, ccw=False),
            Line(Point(x, -y), Point(-x, -y)),
            Arc(Point(-x, -y), Point(-x, y), Point(-5, 0), 3, ccw=False),
        ]
    )


def bow_tie(neck: float) -> Contour:
    """Return two trapezia that meet in a neck between two corners."""
    return closed_polyline(
        [(-5, -3), (0, -neck / 2), (5, -3), (5, 3), (0, neck / 2), (-5, 3)]
    ).reversed()


def notched(width: float) -> Contour:
    """Return a plate with a straight notch from the top: walls 3 and 5, bottom 4."""
    h = width / 2
    return closed_polyline(
        [(0, 0), (20, 0), (20, 10), (10 + h, 10), (10 + h, 6), (10 - h, 6), (10 - h, 10), (0, 10)]
    )


def ball_notched(width: float) -> Contour:
    """Return a plate with a notch that ends in a round hole of radius 1: walls 3 and 5."""
    h = width / 2
    y = 5 + math.sqrt(1 - h * h)
    p = [(0, 0), (20, 0), (20, 10), (10 + h, 10), (10 + h, y), (10 - h, y), (10 - h, 10), (0, 10)]
    at = [Point(*q) for q in p]
    rows = [Line(a, b) for a, b in zip(at, at[1:] + at[:1], strict=True)]
    return Contour.of([*rows[:4], Arc(at[4], at[5], Point(10, 5), 1, ccw=False), *rows[5:]])


class TestTheTwelve:
    """Each kind of loss, and the shapes beside it that lose nothing."""

    @pytest.mark.parametrize("ring", [rectangle(0, 0, 10, 0.15), slot(length_mm=10, width_mm=0.15)])
    def test_a_slot_narrower_than_the_cut_vanishes(self, ring: Contour) -> None:
        """All four segments are lost; the width is the slot's own, the place its middle."""
        (loss,) = lost(ring, hole=True)
        assert loss.kind is LossKind.VANISHED
        assert loss.ring == 1
        assert loss.segments == (0, 1, 2, 3)
        assert loss.width_mm == pytest.approx(0.15, abs=2e-4)
        assert math.dist(loss.at, ring.centroid) < 1e-9

    def test_a_round_hole_narrower_than_the_cut_vanishes(self) -> None:
        """Its width is its diameter."""
        (loss,) = lost(circle((3, 4), diameter_mm=0.15), hole=True)
        assert (loss.kind, loss.width_mm, loss.at) == (LossKind.VANISHED, 0.15, Point(3, 4))

    def test_a_dumbbell_splits_at_its_neck(self) -> None:
        """Both walls of the neck are lost, the width is the neck's."""
        (loss,) = lost(dumbbell(0.15), hole=True)
        assert loss.kind is LossKind.SPLIT
        assert loss.segments == (0, 2)
        assert loss.width_mm == pytest.approx(0.15, abs=1e-9)

    def test_a_bow_tie_splits_without_losing_a_segment(self) -> None:
        """Counting rings finds what lost segments cannot; the place is the neck."""
        (loss,) = lost(bow_tie(0.15), hole=True)
        assert (loss.kind, loss.segments) == (LossKind.SPLIT, ())
        assert loss.width_mm == pytest.approx(0.15, abs=1e-9)
        assert math.dist(loss.at, (0, 0)) < 1e-9

    def test_a_narrow_notch_is_filled(self) -> None:
        """Walls and bottom are lost, though the ring count stays one."""
        (loss,) = lost(notched(0.15), hole=False)
        assert (loss.kind, loss.segments) == (LossKind.CLOSED_NOTCH, (3, 4, 5))
        assert loss.width_mm == pytest.approx(0.15, abs=1e-9)

    def test_a_ball_ended_notch_closes_over_a_new_hole(self) -> None:
        """The ball becomes a hole of its own, radius less d; both walls are lost."""
        result = offset_rings(Profile(ball_notched(0.15)), growth_mm=D)
        (loss,) = result.losses
        assert (loss.kind, loss.segments) == (LossKind.CLOSED_NOTCH, (3, 5))
        (hole,) = result.profile.inners
        assert max(s.radius_mm for s in hole.segments if isinstance(s, Arc)) == pytest.approx(0.9)

    def test_fillets_finer_than_the_cut_are_lost_one_by_one(self) -> None:
        """Exactly the four arcs of a window with corners of 0.05 mm."""
        losses = lost(rounded(0, 0, 10, 6, 0.05), hole=True)
        assert kinds(losses) == ["FEATURE_LOST"] * 4
        assert [loss.segments for loss in losses] == [(0,), (2,), (4,), (6,)]

    @pytest.mark.parametrize(
        ("ring", "hole"),
        [
            pytest.param(fingers(width=200, height=100, depth=3, along=10, up=5), False, id="f"),
            pytest.param(rounded(0, 0, 20, 16, 3), True, id="wide fillets"),
            pytest.param(rounded(0, 0, 20, 16, 0.12), True, id="fillets just wide enough"),
            pytest.param(dumbbell(0.25), True, id="wide neck"),
            pytest.param(notched(0.3), False, id="wide notch"),
            pytest.param(rounded(0, 0, 20, 16, 0.05), False, id="outside corners only grow"),
        ],
    )
    def test_what_is_wide_enough_is_kept(self, ring: Contour, hole: bool) -> None:  # noqa: FBT001
        """No loss is reported where there is none."""
        assert lost(ring, hole=hole) == ()

    def test_a_detail_in_a_corner_is_lost_alone(self) -> None:
        """One inside round of 0.05 mm, and nothing else, is too fine."""
        q = -math.tan(math.pi / 8)
        ring = bulged(
            [
                (0, 0, 0),
                (20, 0, 0),
                (20, 10, 0),
                (12, 10, 0),
                (12, 5.05, q),
                (11.95, 5, 0),
                (8, 5, 0),
                (8, 10, 0),
                (0, 10, 0),
            ]
        )
        (loss,) = lost(ring, hole=False)
        assert (loss.kind, loss.segments) == (LossKind.FEATURE_LOST, (4,))
        assert math.dist(loss.at, (11.985, 5.015)) < 0.01


class TestSweptKerf:
    """One shape, ten kerfs: the change comes where the width says, and is announced."""

    @pytest.mark.parametrize("kerf", KERFS)
    @pytest.mark.parametrize("width", [0.2, 0.35])
    @pytest.mark.parametrize(
        ("make", "kind"),
        [
            (lambda w: rectangle(0, 0, 10, w), LossKind.VANISHED),
            (lambda w: circle((0, 0), diameter_mm=w), LossKind.VANISHED),
            (dumbbell, LossKind.SPLIT),
            (bow_tie, LossKind.SPLIT),
        ],
        ids=["slot", "hole", "dumbbell", "bow tie"],
    )
    def test_the_loss_begins_at_the_width(
        self,
        make: object,
        kind: LossKind,
        width: float,
        kerf: float,
    ) -> None:
        """Below the width no loss, above it the loss, at it the limit is flagged."""
        assert callable(make)
        found = {loss.kind for loss in lost(make(width), hole=True, growth=kerf / 2)}
        if math.isclose(kerf, width):
            assert LossKind.KERF_LIMIT in found
        else:
            assert found == ({kind} if kerf > width else set())

    @pytest.mark.parametrize("off_um", [-1.5, -0.5, 0.0, 0.5, 1.5])
    def test_two_microns_to_either_side_are_the_limit(self, off_um: float) -> None:
        """A neck within 2 um of the kerf is flagged with its width."""
        width = 0.2 + off_um * 1e-3
        limit = [x for x in lost(dumbbell(width), hole=True) if x.kind is LossKind.KERF_LIMIT]
        assert [x.width_mm for x in limit] == [pytest.approx(width, abs=1e-9)]

    @pytest.mark.parametrize("off_um", [-10.0, 10.0])
    def test_ten_microns_off_are_not(self, off_um: float) -> None:
        """A neck clearly wider or narrower is no borderline case."""
        assert "KERF_LIMIT" not in kinds(lost(dumbbell(0.2 + off_um * 1e-3), hole=True))


def test_losses_name_their_ring() -> None:
    """With three holes of which the second vanishes, the loss says ring 2."""
    holes = (
        rectangle(1, 1, 4, 4),
        rectangle(6, 1, 9, 1.1),
        circle((12, 3), diameter_mm=2),
    )
    result = offset_rings(Profile(rectangle(0, 0, 20, 10), holes), growth_mm=D)
    assert [(loss.kind, loss.ring) for loss in result.losses] == [(LossKind.VANISHED, 2)]
    assert len(result.profile.inners) == 2


def test_an_outline_that_vanishes_leaves_nothing() -> None:
    """Shrinking a strip by more than half its width reports it, and returns no piece."""
    result = offset_rings(Profile(rectangle(0, 0, 9, 1)), growth_mm=-0.6)
    assert result.profiles == ()
    assert kinds(result.losses) == ["VANISHED"]


def test_an_outline_that_splits_says_where() -> None:
    """Shrinking a dumbbell names its neck."""
    ring = dumbbell(1.0).reversed()
    result = offset_rings(Profile(ring), growth_mm=-0.6)
    assert len(result.profiles) == 2
    (loss,) = result.losses
    assert (loss.kind, loss.width_mm) == (LossKind.SPLIT, pytest.approx(1.0))
