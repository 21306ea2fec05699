"""Who carries which current, and whether wire and fuse go together."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, strategies as st

from platekit import Severity, drivers, supply, wire

SUPPLY = supply(voltage_v=24.0, current_a=20.0)


def test_held_to_30_per_cent_it_stays_within_20_a_at_24_v(bench: Any) -> None:
    """30 % of 60 A at the motor, at whatever speed, from a supply of 20 A.

    Common practice, no source. At 60 A the same supply is not enough.
    """
    asked = {"torque_nm": 8.0, "supply": SUPPLY, "drivers": drivers(count=2, peak_a=30.0)}
    for speed_rpm in (None, 5.0, 100.0, 200.0):
        found = bench.one(
            "drive.supply", "seconds", current_limit_a=0.3 * 60.0, speed_rpm=speed_rpm, **asked
        )
        assert found.value <= 20.0
        assert found.severity is Severity.PASSED
    full = bench.one("drive.supply", "seconds", current_limit_a=60.0, **asked)
    assert full.severity is Severity.WARNING


def test_two_drivers_share_the_peak(bench: Any) -> None:
    """60 A on two drivers of 30 A. Common practice, no source; one of them does not do."""
    asked = {"torque_nm": 8.0, "current_limit_a": 60.0}
    two = bench.one(
        "drive.current", "one driver for", drivers=drivers(count=2, peak_a=30.0), **asked
    )
    assert two.value == pytest.approx(30.0)
    assert two.severity is Severity.PASSED
    one = bench.one(
        "drive.current", "one driver for", drivers=drivers(count=1, peak_a=30.0), **asked
    )
    assert one.severity is Severity.WARNING
    assert one.margin == pytest.approx(two.margin / 2)
    assert one.feature == "drivers"


def test_drivers_that_say_their_peak_stop_there(bench: Any) -> None:
    """24 V over 0.2006 ohm is 119.6 A; two drivers of 30 A let 60 through, and so says each check.

    By hand: 60 A at V / R of no limit; 60 x (24 of 24 V) from the supply, 0.0925 x 59 x 9.2 N m.
    """
    asked: dict[str, Any] = {"torque_nm": 8.0, "drivers": drivers(count=2, peak_a=30.0)}
    found = bench.one("drive.current", "one driver for", **asked)
    assert (found.value, found.severity) == (pytest.approx(30.0), Severity.PASSED)
    motor = bench.one("drive.current", "held", **asked)
    assert (motor.value, motor.severity) == (pytest.approx(60.0), Severity.PASSED)
    large = supply(voltage_v=24.0, current_a=80.0)
    given = bench.one("drive.supply", "seconds", supply=large, **asked)
    assert given.value == pytest.approx(60.0 / asked["drivers"].efficiency, rel=1e-6)
    # A limit set above what they let through is told, with the value that was set.
    over = bench.one("drive.current", "one driver for", current_limit_a=90.0, **asked)
    assert (over.value, over.severity) == (pytest.approx(45.0), Severity.WARNING)
    assert "60 A together" in over.remedy


@pytest.mark.parametrize(
    ("change", "check"),
    [
        ({"peak_a": 20.0}, "drive.current"),
        ({"gear_peak_nmm": 10_000.0}, "drive.gearbox"),
        ({}, "drive.supply"),
    ],
)
def test_too_high_a_limit_is_one_finding(bench: Any, change: Any, check: str) -> None:
    """100 A for a motor of 60 A, its gearbox and a supply of 20 A: the least that bears is told.

    By hand: the supply of 20 A gives the motor 20 A at full voltage; 10 N m behind a gearbox of
    10:1 and 0.92 are 10 / (0.09253 x 9.2) + 1 = 12.7 A.
    """
    rating = replace(bench.rating, gear_peak_nmm=100_000.0)
    rating = replace(rating, **change)
    asked = {"torque_nm": 2.0, "rating": rating, "supply": SUPPLY, "current_limit_a": 100.0}
    if "peak_a" in change:
        asked["supply"] = supply(voltage_v=24.0, current_a=30.0)
    names = ("drive.current", "drive.gearbox", "drive.supply")
    told = [
        one for name in names for one in bench.all(name, **asked)
        if one.severity is Severity.WARNING and "all day" not in one.measure
    ]  # fmt: skip
    assert [one.check for one in told] == [check]
    # Held to what the weakest bears, nothing is left to tell.
    least_a = {"drive.current": 20.0, "drive.gearbox": 12.7, "drive.supply": 20.0}[check]
    asked["current_limit_a"] = least_a - 0.1
    assert not [
        one for name in names for one in bench.all(name, **asked)
        if one.severity is Severity.WARNING and "all day" not in one.measure
    ]  # fmt: skip


def test_a_motor_is_not_given_more_than_it_bears(bench: Any) -> None:
    """With neither limit nor drivers 119.6 A come to flow, and it bears 60."""
    found = bench.one("drive.current", "held", torque_nm=8.0)
    assert found.value == pytest.approx(24.0 / 0.2006, rel=1e-3)
    assert found.severity is Severity.WARNING
    held = bench.one("drive.current", "held", torque_nm=8.0, current_limit_a=60.0)
    assert held.severity is Severity.PASSED


@given(duty_share=st.floats(0.05, 0.95), torque_nm=st.floats(1.0, 12.0))
def test_a_chopping_driver_takes_the_mean_of_its_pulses(
    bench: Any, duty_share: float, torque_nm: float
) -> None:
    """A switch closed for a share of the time passes the motor's current for that share.

    The share is that of the voltage. Mean of a pulse train by numpy, no loss.
    """
    motor_a = torque_nm / (0.09253 * 10 * 0.92) + 1.0
    rpm = (duty_share * 24.0 - motor_a * 0.2006) / (0.09253 * 2 * np.pi / 60 * 10)
    if rpm < 0.1:
        return
    closed = np.arange(0.0, 1.0, 1e-5) < duty_share
    found = bench.one(
        "drive.supply",
        "all day",
        torque_nm=torque_nm,
        speed_rpm=float(rpm),
        supply=SUPPLY,
        drivers=drivers(efficiency=1.0),
    )
    assert found.value == pytest.approx(float(np.mean(closed * motor_a)), rel=2e-3)


def test_nothing_is_said_of_what_is_not_given(bench: Any) -> None:
    """No supply, no drivers, no fuse, no wire: silent."""
    for name in ("drive.supply", "drive.fuse", "drive.wire"):
        assert bench.all(name, torque_nm=8.0) == []
    assert (
        bench.all("drive.current", torque_nm=8.0, rating=replace(bench.rating, peak_a=None)) == []
    )


def test_a_fuse_of_20_a_does_not_save_a_wire_of_2_5_mm2_in_conduit(bench: Any) -> None:
    """16 A does: In <= Iz and 1.6 In <= 1.45 Iz with Iz = 18.3 A.

    IEC 60204-1 table 6, B1 at 40 C, and IEC 60364-4-43 433.1, both from memory. By hand: 16 x 1.6
    / 1.45 = 17.66 <= 18.3; 20 > 18.3.
    """
    cable = wire(area_mm2=2.5, length_m=1.5, laying="B1")
    asked = {"torque_nm": 8.0, "wire": cable, "supply": SUPPLY, "current_limit_a": 18.0}
    good = bench.one("drive.fuse", "wire must stand", fuse_a=16.0, **asked)
    assert good.value == pytest.approx(17.66, abs=0.01)
    assert good.limit == pytest.approx(18.3)
    assert good.severity is Severity.PASSED
    bad = bench.one("drive.fuse", "wire must stand", fuse_a=25.0, **asked)
    assert bad.severity is Severity.STOP
    assert "fuse of 16 A" in bad.remedy
    assert "20 A" not in bad.remedy


def test_a_fuse_below_the_load_blows_in_use(bench: Any) -> None:
    """8 N m take 10.4 A of the motor's, by hand; 6 A at full voltage is too little."""
    asked = {"torque_nm": 8.0, "wire": wire(area_mm2=2.5, length_m=1.5), "supply": SUPPLY}
    found = bench.one("drive.fuse", "through the fuse", fuse_a=6.0, **asked)
    assert found.value == pytest.approx(8.0 / (0.09253 * 9.2) + 1.0, rel=1e-3)
    assert found.severity is Severity.WARNING
    assert bench.one("drive.fuse", "through the fuse", fuse_a=16.0, **asked).margin > 1


def test_a_supply_that_could_burn_the_wire_wants_a_fuse(bench: Any) -> None:
    """20 A behind 0.75 mm2 (8.5 A, IEC 60204-1 table 6, B2, from memory) and no fuse: a note."""
    thin: dict[str, Any] = {"wire": wire(area_mm2=0.75, length_m=1.0), "supply": SUPPLY}
    (note,) = bench.all("drive.fuse", torque_nm=2.0, **thin)
    assert note.severity is Severity.NOTE
    assert "8.5 A" in note.measure
    thick = {"wire": wire(area_mm2=6.0, length_m=1.0), "supply": SUPPLY}
    assert bench.all("drive.fuse", torque_nm=2.0, **thick) == []
    assert bench.all("drive.fuse", torque_nm=2.0, wire=thin["wire"]) == []


def test_voltage_lost_in_a_wire_by_the_resistance_standards_allow(bench: Any) -> None:
    """Copper of 1.5 mm2, 3 m there and 3 m back, hot: a little below the most IEC 60228 allows.

    13.3 ohm/km flexible at 20 C (IEC 60228, from memory), warmed by 0.393 % for each of 50 K
    (IEC 60028, from memory); bare copper has a sixth less.
    """
    cable = wire(area_mm2=1.5, length_m=3.0)
    found = bench.one("drive.wire", "voltage lost", torque_nm=8.0, wire=cable)
    current_a = 8.0 / (0.09253 * 9.2) + 1.0
    most_v = 2 * 3.0 * 13.3e-3 * (1 + 50 * 0.00393) * current_a
    assert 0.8 < found.value / (100 * most_v / 24.0) < 1.0


def test_a_thin_wire_is_named_with_what_would_do(bench: Any) -> None:
    """10.4 A: too much for 0.75 mm2, within 1.5 mm2 (13.1 A, IEC 60204-1, B2, from memory)."""
    thin = bench.one(
        "drive.wire", "in the wire all day", torque_nm=8.0, wire=wire(area_mm2=0.75, length_m=1.0)
    )
    assert thin.severity is Severity.STOP
    assert "take 1.5 mm2" in thin.remedy
    good = bench.one(
        "drive.wire", "in the wire all day", torque_nm=8.0, wire=wire(area_mm2=1.5, length_m=1.0)
    )
    assert good.severity is Severity.PASSED


@pytest.mark.parametrize(
    "odd",
    [
        {"wire": wire(area_mm2=0.14, length_m=1.0)},
        {"wire": wire(area_mm2=1.5, length_m=1.0, circuits=20)},
        {"wire": wire(area_mm2=1.5, length_m=1.0), "air_c": 65.0},
    ],
)
def test_a_wire_beyond_the_table_is_a_note_and_no_error(bench: Any, odd: dict[str, Any]) -> None:
    """Areas, bunches and air that the standard's table does not hold."""
    said = bench.all("drive.wire", torque_nm=8.0, **odd)
    assert [one.severity for one in said if one.limit is None] == [Severity.NOTE]
    assert bench.all("drive.fuse", torque_nm=8.0, fuse_a=10.0, **odd)


@given(area=st.sampled_from([0.75, 1.0, 1.5, 2.5, 4.0]), torque_nm=st.floats(1.0, 12.0))
def test_a_thicker_wire_never_lowers_a_margin(bench: Any, area: float, torque_nm: float) -> None:
    """Monotony in the area of the copper, for current, drop and fuse."""
    thicker = {0.75: 1.0, 1.0: 1.5, 1.5: 2.5, 2.5: 4.0, 4.0: 6.0}[area]
    for name in ("drive.wire", "drive.fuse"):
        thin, thick = (
            bench.all(name, torque_nm=torque_nm, wire=wire(area_mm2=mm2, length_m=2.0), fuse_a=10.0)
            for mm2 in (area, thicker)
        )
        for before, after in zip(thin, thick, strict=True):
            assert after.margin >= before.margin
