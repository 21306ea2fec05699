"""Compensation: outside grows, inside shrinks, and the finished part is the one drawn."""

from __future__ import annotations

import math

import pytest

from platekit.cutting.compensate import (
    MIN_KERF_MM,
    Compensated,
    compensate,
    loss_findings,
    place_of,
    require_kept,
)
from platekit.cutting.simulate import simulate
from platekit.errors import PartError
from platekit.findings import Severity
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.motion import Motion
from platekit.geometry.offset import Join
from platekit.geometry.offset.losses import Loss, LossKind
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from tests.geometry.offset_shapes import fingers, rectangle, rounded, slot

PLATE = Profile(
    rectangle(0, 0, 60, 40),
    (circle((10, 10), diameter_mm=6.6), rectangle(30, 10, 50, 30)),
)
FINE_MM = 1e-6  # a thousandth of a micron: errors at sharp corners stay under 0.01 um
KERFS = [0.05, 0.1, 0.2, 0.5]


def test_the_outside_grows_and_the_inside_shrinks_by_half_the_kerf() -> None:
    """Outer size plus the kerf, hole diameter less the kerf, window less the kerf."""
    path = compensate(PLATE, kerf_mm=0.2).profile
    assert (path.bounds.width_mm, path.bounds.height_mm) == pytest.approx((60.2, 40.2))
    hole, window = path.inners
    assert hole.is_circle
    assert hole.bounds.width_mm == pytest.approx(6.4, abs=1e-12)
    assert window.bounds.width_mm == pytest.approx(19.8, abs=1e-12)
    assert len(window.segments) == 4, "inside corners of the path stay sharp"


def test_no_kerf_is_no_change() -> None:
    """A kerf of 0 hands the nominal profile back."""
    assert compensate(PLATE, kerf_mm=0.0).profile is PLATE


@pytest.mark.parametrize("kerf", [-0.1, math.nan, math.inf, MIN_KERF_MM / 2, 1e-12])
def test_a_kerf_that_cannot_be_is_refused(kerf: float) -> None:
    """Negative, not finite, or finer than any beam: an error with the value and a remedy."""
    with pytest.raises(PartError, match=r"kerf is .* mm; give the full width"):
        compensate(PLATE, kerf_mm=kerf)


class TestFinishedPart:
    """A disc swept along the path leaves the part (closed forms, see each test)."""

    @pytest.mark.parametrize("join", list(Join))
    @pytest.mark.parametrize("kerf", KERFS)
    def test_outside_corners_come_out_exact(self, kerf: float, join: Join) -> None:
        """A rectangle, a triangle and a round-cornered plate lose nothing, keep nothing extra."""
        for ring in (
            rectangle(0, 0, 6, 4),
            closed_polyline([(0, 0), (6, 0), (1, 3)]),
            rounded(0, 0, 6, 4, 1),
        ):
            nominal = Profile(ring)
            cut = compensate(nominal, kerf_mm=kerf, join=join)
            left = simulate(nominal, cut.profile, kerf_mm=kerf, tolerance_mm=FINE_MM)
            assert left.gouge_mm <= 1e-5
            assert left.leftover_mm <= 1e-5

    @pytest.mark.parametrize("kerf", KERFS)
    @pytest.mark.parametrize("angle_deg", [45, 60, 90, 120])
    def test_inside_corners_keep_the_sliver_a_round_beam_must_leave(
        self, angle_deg: float, kerf: float
    ) -> None:
        """At an inside corner of angle a: d (1 / sin(a/2) - 1) from corner to round.

        Plane geometry: the largest circle of radius d that fits into the corner.
        """
        d, half = kerf / 2, math.radians(angle_deg) / 2
        # A hole whose sharpest corner has the angle, pointing at the origin.
        reach = 6.0
        hole = closed_polyline(
            [
                (0, 0),
                (reach * math.cos(half), -reach * math.sin(half)),
                (reach * 2, 0),
                (reach * math.cos(half), reach * math.sin(half)),
            ]
        )
        nominal = Profile(rectangle(-5, -10, 20, 10), (hole,))
        cut = compensate(nominal, kerf_mm=kerf)
        left = simulate(nominal, cut.profile, kerf_mm=kerf)
        assert left.gouge_mm <= 2e-5
        sharpest = min(half, *(_half_angles(reach, half)))
        assert left.leftover_mm == pytest.approx(d * (1 / math.sin(sharpest) - 1), abs=1e-4)

    def test_a_tab_interferes_by_the_four_slivers_of_its_slot(self) -> None:
        """Four square inside corners keep 4 (1 - pi/4) d^2 = 0.0086 mm2 at a kerf of 0.2 mm."""
        nominal = Profile(rectangle(0, 0, 20, 12), (rectangle(5, 4, 15, 7),))
        cut = compensate(nominal, kerf_mm=0.2)
        left = simulate(nominal, cut.profile, kerf_mm=0.2, tolerance_mm=FINE_MM)
        assert left.leftover_mm2 == pytest.approx(4 * (1 - math.pi / 4) * 0.01, abs=1e-6)
        assert left.leftover_mm == pytest.approx(0.1 * (math.sqrt(2) - 1), abs=1e-5)
        assert left.gouged_mm2 <= 1e-8

    def test_a_finger_panel_is_right_all_round(self) -> None:
        """No finger loses anything; every inside corner keeps its 41 um, no more."""
        nominal = Profile(fingers(width=60, height=40, depth=3, along=3, up=2))
        cut = compensate(nominal, kerf_mm=0.2)
        left = simulate(nominal, cut.profile, kerf_mm=0.2)
        assert left.gouge_mm <= 2e-5
        assert left.leftover_mm == pytest.approx(0.1 * (math.sqrt(2) - 1), abs=2e-5)

    def test_holes_and_slots_are_exact(self) -> None:
        """Nothing but arcs wider than the beam: neither gouge nor leftover."""
        nominal = Profile(
            rounded(0, 0, 40, 20, 3),
            (circle((8, 10), diameter_mm=6.6), slot(length_mm=9, width_mm=4).moved(_at(25, 10))),
        )
        left = simulate(nominal, compensate(nominal, kerf_mm=0.2).profile, kerf_mm=0.2)
        assert left.gouge_mm <= 4e-5
        assert left.leftover_mm <= 4e-5

    def test_the_simulation_sees_a_wrong_path(self) -> None:
        """A path without compensation gouges by half the kerf; one doubled leaves as much."""
        plain = simulate(PLATE, PLATE, kerf_mm=0.2, tolerance_mm=1e-4)
        # The corner of the plate loses the whole quarter disc: d root 2 along the diagonal.
        assert plain.gouge_mm == pytest.approx(0.1 * math.sqrt(2), abs=1e-3)
        double = simulate(
            PLATE, compensate(PLATE, kerf_mm=0.4).profile, kerf_mm=0.2, tolerance_mm=1e-4
        )
        assert double.leftover_mm >= 0.1 - 1e-3
        assert double.gouge_mm <= 1e-3

    def test_a_bevelled_corner_would_gouge(self) -> None:
        """Cutting across a corner costs d (1 - cos 45) = 29 um: why no join is bevelled."""
        nominal = Profile(rectangle(0, 0, 6, 4))
        d = 0.1
        across = [
            (0, -d),
            (6, -d),
            (6 + d, 0),
            (6 + d, 4),
            (6, 4 + d),
            (0, 4 + d),
            (-d, 4),
            (-d, 0),
        ]
        left = simulate(nominal, Profile(closed_polyline(across)), kerf_mm=2 * d)
        assert left.gouge_mm == pytest.approx(d * (1 - math.cos(math.pi / 4)), abs=2e-5)

    def test_a_simulation_needs_a_beam(self) -> None:
        """No width, no simulation."""
        with pytest.raises(PartError, match="kerf is 0 mm"):
            simulate(PLATE, PLATE, kerf_mm=0.0)


def _half_angles(reach: float, half: float) -> list[float]:
    """Return half the angles of the kite's other corners, radians."""
    x, y = reach * math.cos(half), reach * math.sin(half)
    far = math.atan2(y, 2 * reach - x)
    side = (2 * math.pi - 2 * half - 2 * far) / 4
    return [far, side]


def _at(x: float, y: float) -> Motion:
    return Motion(dx_mm=x, dy_mm=y)


class TestLosses:
    """What the beam is too wide for."""

    @pytest.fixture
    def too_fine(self) -> Profile:
        """A plate with one hole to keep and one slot that the beam is too wide for."""
        return Profile(
            rectangle(0, 0, 40, 20),
            (circle((10, 10), diameter_mm=5), rectangle(20, 10, 30, 10.15)),
        )

    def test_the_error_names_part_place_width_and_kerf(self, too_fine: Profile) -> None:
        """All a maker needs to find it."""
        cut = compensate(too_fine, kerf_mm=0.2)
        with pytest.raises(PartError) as caught:
            require_kept(cut, part="base")
        said = str(caught.value)
        for word in ("base", "hole at x 25.0, y 10.1 mm", "kerf of 0.2 mm", "0.15 mm wide"):
            assert word in said
        assert caught.value.remedy

    def test_what_is_kept_raises_nothing(self) -> None:
        """A plate with wide holes passes."""
        require_kept(compensate(PLATE, kerf_mm=0.2), part="base")
        assert loss_findings(compensate(PLATE, kerf_mm=0.2)) == ()

    def test_findings_carry_the_numbers(self, too_fine: Profile) -> None:
        """One finding: stop, the slot's width against the kerf."""
        (finding,) = loss_findings(compensate(too_fine, kerf_mm=0.2), part="base")
        assert finding.severity is Severity.STOP
        assert (finding.part, finding.limit, finding.unit) == ("base", 0.2, "mm")
        assert finding.value == pytest.approx(0.15, abs=2e-4)

    def test_fine_inside_rounds_are_a_note(self) -> None:
        """A window with corners of 0.05 mm can be cut; it comes out a little rounder."""
        plate = Profile(rectangle(0, 0, 40, 20), (rounded(5, 5, 30, 15, 0.05),))
        cut = compensate(plate, kerf_mm=0.2)
        require_kept(cut)
        assert {f.severity for f in loss_findings(cut)} == {Severity.NOTE}

    def test_a_width_at_the_kerf_is_a_warning(self) -> None:
        """A slot just as wide as the kerf may or may not be there: said beside the loss."""
        plate = Profile(rectangle(0, 0, 40, 20), (rectangle(5, 5, 30, 5.201),))
        found = loss_findings(compensate(plate, kerf_mm=0.2))
        assert [f.severity for f in found] == [Severity.WARNING]

    @pytest.mark.parametrize("kind", list(LossKind))
    def test_every_kind_has_its_words(self, kind: LossKind) -> None:
        """No loss is without a finding."""
        loss = Loss(kind=kind, ring=1, at=Point(1, 2), width_mm=0.1)
        (finding,) = loss_findings(Compensated(profile=PLATE, losses=(loss,), kerf_mm=0.2))
        assert finding.measure
        assert finding.remedy
        assert "hole at x 1.0, y 2.0 mm" in str(finding)

    def test_the_outline_is_called_so(self) -> None:
        """Ring 0 is no hole; no minus sign before a zero."""
        loss = Loss(kind=LossKind.CLOSED_NOTCH, ring=0, at=Point(-0.0, 2))
        assert place_of(loss) == "outline at x 0.0, y 2.0 mm"
