"""Power of a shaft against the handbook's numbers, and a point of a motor by hand."""

import pytest

from platekit.errors import PartError
from platekit.formulas.shaft_power import RunningPoint, power_w, torque_of_power_nmm


def test_torque_of_a_power():
    """9550 P / n, as printed in handbooks (looked up): 0.35 kW at 2750 rpm, within rounding."""
    assert torque_of_power_nmm(350, 2750) / 1000 == pytest.approx(9550 * 0.35 / 2750, rel=1e-4)
    assert power_w(torque_of_power_nmm(350, 2750), 2750) == pytest.approx(350)


def test_a_running_point_by_hand():
    """24 V, 20 A, 1200 N mm at 2750 rpm: 480 W in, 345.6 W out, 134.4 W heat, 72.0 %."""
    point = RunningPoint(voltage_v=24, current_a=20, speed_rpm=2750, torque_nmm=1200)
    assert point.power_in_w == 480
    assert point.power_out_w == pytest.approx(345.6, abs=0.05)
    assert point.loss_w == pytest.approx(134.4, abs=0.05)
    assert point.efficiency == pytest.approx(0.720, abs=5e-4)
    off = RunningPoint(voltage_v=0, current_a=0, speed_rpm=0, torque_nmm=0)
    assert off.efficiency == 0


def test_efficiency_of_braking_is_refused():
    """Braking has a loss, current flowing back less than the shaft puts in, but no efficiency."""
    braking = RunningPoint(voltage_v=24, current_a=-10, speed_rpm=3000, torque_nmm=-900)
    # 900 N mm at 3000 rpm are 282.7 W in at the shaft, 240 W come out at the terminals.
    assert braking.loss_w == pytest.approx(42.7, abs=0.05)
    with pytest.raises(PartError, match="motor that brakes"):
        _ = braking.efficiency
