"""Drives as recipes write them: every figure is looked at, every name is one that is there."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from platekit import (
    Assembly,
    PartError,
    Plate,
    PlatekitError,
    UnknownNameError,
    birch_plywood,
    drive,
    drivers,
    encoder_rating,
    hub,
    lying,
    motor,
    mounted,
    rectangle,
    supply,
    wire,
)


def _rig() -> Assembly:
    plate = Plate("base", birch_plywood(nominal_mm=6.0), rectangle(200.0, 200.0))
    geared = motor("NEMA 23", body_length_mm=100.0, flange_mm=5.0, shaft_length_mm=20.0)
    return (
        Assembly("rig")
        .with_panels(lying(plate, bottom_mm=0.0))
        .with_hardware(mounted(geared, on="base", side="up", name="motor"))
    )


def test_units_are_carried_over() -> None:
    """1 N m is 1000 N mm, 1 kg m2 is a million kg mm2 (SI)."""
    given = drive("motor", cycle=[(12.0, 3.0), (-4.0, 20.0)], inertia_kgm2=0.5)
    assert given.cycle == ((12_000.0, 3.0), (4_000.0, 20.0))
    assert given.inertia_kgmm2 == pytest.approx(500_000.0)


def test_what_is_given_is_kept() -> None:
    """Supply, drivers and wire stay as they were made; a drive is kept in the order given."""
    source = supply(voltage_v=24, current_a=20)
    assert source.peak_a == 20.0
    whole = drive(
        "motor",
        output="base",
        supply=source,
        drivers=drivers(count=2, continuous_a=10, peak_a=30),
        wire=wire(area_mm2=2.5, length_m=1.5, laying="E"),
        encoder=encoder_rating(lines=500),
        belt=(),
    )
    rig = _rig().with_drives(whole)
    assert rig.use.drives == (whole,)
    assert rig.use.drives[0].supply is source


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda: supply(voltage_v=0, current_a=20), "voltage_v is 0"),
        (lambda: supply(voltage_v=24, current_a=20, peak_a=10), "peak_a is 10 A"),
        (lambda: drivers(count=0), "count is 0"),
        (lambda: drivers(efficiency=1.5), "efficiency is 1.5"),
        (lambda: drivers(continuous_a=10, peak_a=5), "peak_a is 5 A"),
        (lambda: wire(area_mm2=-1, length_m=1), "area_mm2 is -1"),
        (lambda: wire(area_mm2=1, length_m=1, laying="loose"), "loose"),
        (lambda: wire(area_mm2=1, length_m=1, circuits=0), "circuits is 0"),
        (lambda: drive(""), "motor is ''"),
        (lambda: drive("motor", supply=24), "supply is 24"),  # type: ignore[arg-type]
        (lambda: drive("motor", speed_up_s=1), "without a speed"),
        (lambda: drive("motor", speed_rpm=math.inf), "speed_rpm is inf"),
        (lambda: drive("motor", cycle=(12.0, 3.0)), "cycle is (12.0, 3.0)"),  # type: ignore[arg-type]
        (lambda: drive("motor", cycle=((12.0, 0.0),)), "time of a step is 0"),
        (lambda: drive("motor", cycle=((1.0, 1.0),) * 2000), "2000 steps"),
        (lambda: drive("motor", resolution_deg=0), "resolution_deg is 0"),
        (lambda: drive("motor", backlash_deg=400), "backlash_deg is 400"),
        (lambda: drive("motor", air_c=400), "air_c is 400"),
        (lambda: drive("motor", belt=3), "belt is 3"),  # type: ignore[arg-type]
        (lambda: drive("motor", encoder=3), "encoder is 3"),  # type: ignore[arg-type]
        (lambda: drive("motor", fuse_a=True), "fuse_a is True"),
    ],
)
def test_a_bad_figure_is_named_with_what_to_do(wrong: Callable[[], object], said: str) -> None:
    """Every message names the figure, its value and a remedy."""
    with pytest.raises(PlatekitError) as caught:
        wrong()
    assert said in str(caught.value)
    assert ";" in str(caught.value)


def test_only_what_is_there_can_be_driven() -> None:
    """Unknown motors, outputs, encoders and belts are named, and what there is is listed."""
    for wrong in (
        drive("engine"),
        drive("motor", output="hub"),
        drive("motor", encoder="encoder"),
        drive("motor", belt="belt"),
        drive("base"),
    ):
        with pytest.raises(UnknownNameError):
            _rig().with_drives(wrong)


def test_a_motor_has_one_drive() -> None:
    """Two drives of one motor contradict each other; what is no drive is refused."""
    with pytest.raises(PartError, match="two drives"):
        _rig().with_drives(drive("motor"), drive("motor"))
    with pytest.raises(PartError, match="drives"):
        _rig().with_drives(hub("ISO 9409-1-80-6-M8", bore_mm=30, thickness_mm=18))  # type: ignore[arg-type]
