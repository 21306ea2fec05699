"""Pulls of a belt against a handbook, ISO 5295, and forces added along the pulley's rim."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.belt_forces import (
    BeltPulls,
    belt_pulls,
    belt_speed_mm_per_s,
    effective_pull_n,
    mesh_factor,
    needed_width_mm,
    pulls_at_static,
)
from platekit.formulas.shaft_power import torque_of_power_nmm


def test_belt_speed_of_a_handbook_drive():
    """Mott, Machine Elements in Mechanical Design, Example 7-3: 32 x 8 mm, 1400 rpm, 1175.8 ft/min.

    1175.8 ft/min are 5.973 m/s.
    """
    assert belt_speed_mm_per_s(1400, 32 * 8 / math.pi) == pytest.approx(5973.1, abs=10)


def test_pull_times_speed_is_the_power():
    """350 W at 2750 rpm on any pulley: the belt carries them all."""
    for diameter in (15.0, 60.0):
        pull = effective_pull_n(torque_of_power_nmm(350, 2750), diameter)
        assert pull * belt_speed_mm_per_s(2750, diameter) / 1000 == pytest.approx(350)


@pytest.mark.parametrize(
    ("teeth", "factor"),
    [(9, 1.0), (6, 1.0), (5, 0.8), (4, 0.6), (3, 0.4), (2, 0.2), (1, 0.0), (0, 0.0)],
)
def test_mesh_factor(teeth, factor):
    """ISO 5295, from memory: 1.0, 0.8, 0.6, 0.4, 0.2 for six to two teeth."""
    assert mesh_factor(teeth) == factor


@pytest.mark.parametrize("wrap_deg", [90, 161.034, 180, 198.966, 270])
def test_shaft_load_is_the_sum_along_the_rim(wrap_deg):
    """Normal and tangential forces of the belt on its rim, summed over small pieces of the wrap.

    The pull grows evenly from slack to tight; the sum is the same for any growth, as it must
    balance the two spans.
    """
    pulls = BeltPulls(tight_n=230, slack_n=70)
    pieces = 20_000
    x = y = 0.0
    for k in range(pieces):
        angle = math.radians(wrap_deg) * (k + 0.5) / pieces
        pull = 70 + (230 - 70) * (k + 0.5) / pieces
        normal = pull * math.radians(wrap_deg) / pieces
        along = (230 - 70) / pieces
        x += -normal * math.cos(angle) - along * math.sin(angle)
        y += -normal * math.sin(angle) + along * math.cos(angle)
    assert pulls.shaft_load_n(wrap_deg) == pytest.approx(math.hypot(x, y), rel=1e-6)


def test_a_half_turn_adds_both_pulls_and_a_full_one_their_difference():
    """Parallel spans pull the same way; spans that meet pull against each other."""
    pulls = BeltPulls(tight_n=230, slack_n=70)
    assert pulls.shaft_load_n() == pytest.approx(300)
    assert pulls.shaft_load_n(360) == pytest.approx(160)
    assert pulls.static_n == 150


def test_pulls_keep_their_ratio_and_difference():
    """Two equations, two pulls; set to the same static pull by hand they come out alike."""
    pulls = belt_pulls(140)
    assert pulls.effective_n == pytest.approx(140)
    assert pulls.tight_n / pulls.slack_n == pytest.approx(8)
    again = pulls_at_static(140, static_n=pulls.static_n)
    assert again.tight_n == pytest.approx(pulls.tight_n)
    assert again.slack_n == pytest.approx(pulls.slack_n)
    assert belt_pulls(140, tension_ratio=1.5).tight_n == pytest.approx(420)


def test_width_by_hand():
    """100 N, service 1.5, 10 N/mm, four teeth (0.6): 25 mm."""
    width = needed_width_mm(100, limit_n_per_mm=10, teeth_in_mesh=4, service_factor=1.5)
    assert width == pytest.approx(25)
    assert needed_width_mm(100, limit_n_per_mm=10, teeth_in_mesh=6) == pytest.approx(10)


def test_impossible_belts_are_refused():
    """Loose, unmeshed, without ratio, without pulley, wrapped twice."""
    with pytest.raises(PartError, match="loose at 140 N; set it to more than 70 N"):
        pulls_at_static(140, static_n=69)
    with pytest.raises(PartError, match="wrap is 361 degrees"):
        BeltPulls(tight_n=2, slack_n=1).shaft_load_n(361)
    with pytest.raises(PartError, match="teeth in mesh are 1"):
        needed_width_mm(100, limit_n_per_mm=10, teeth_in_mesh=1)
    with pytest.raises(PartError, match="tension ratio is 1"):
        belt_pulls(100, tension_ratio=1)
    with pytest.raises(PartError, match="pitch diameter is 0 mm"):
        effective_pull_n(100, 0)
