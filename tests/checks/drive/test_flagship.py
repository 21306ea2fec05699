"""A whole rig with a shaft, bearings, a hub and an encoder's belt: what belongs to its drive."""

from __future__ import annotations

from dataclasses import replace

import pytest

from platekit import Assembly, Finding, Severity, drive, encoder_rating, load, motor_rating
from platekit.assembly.resolve import Resolved
from platekit.checks.drive import CHECKS
from platekit.checks.drive.driven import drives_in
from platekit.checks.subject import Subject
from platekit.hardware.devices.ratings import Rating
from recipes.dish_rotator import dish_rotator

# An invented tracker's motor, its figures consistent: 120 W of 158 W, 100:1 in two stages.
RATING = motor_rating(
    voltage_v=24.0,
    power_w=120.0,
    speed_rpm=3000.0,
    current_a=6.6,
    no_load_a=0.5,
    peak_a=20.0,
    gear_ratio=100.0,
    gear_efficiency=0.81,
    gear_continuous_nm=60.0,
    gear_peak_nm=100.0,
)
TOLD = encoder_rating(lines=1024)


@pytest.fixture(scope="module")
def rig() -> tuple[Assembly, Resolved]:
    """The rig, resolved, its motor and encoder rated."""
    whole = dish_rotator()
    done = whole.resolve()
    ratings: dict[str, Rating] = {"motor": RATING, "encoder": TOLD}
    standing = tuple(
        replace(one, device=replace(one.device, rating=ratings.get(one.name, one.device.rating)))
        for one in done.standing
    )
    plain = replace(whole, use=replace(whole.use, loads=(), drives=(), held=()))
    return plain, replace(done, standing=standing)


ASKED = drive(
    "motor",
    output="hub",
    current_limit_a=12.0,
    speed_rpm=2.0,
    encoder="encoder",
    belt="belt",
    resolution_deg=0.1,
)


def _said(rig: tuple[Assembly, Resolved], *names: str) -> list[Finding]:
    whole, done = rig
    loads = [load(name, torque_nm=35.0, duration="instant", name=f"on {name}") for name in names]
    job = Subject(pieces=(), whole=(whole.with_loads(*loads).with_drives(ASKED), done))
    return [found for check in CHECKS for found in check.run(job)]


@pytest.mark.parametrize("name", ["hub", "turntable", "main shaft", "motor"])
def test_a_load_on_what_turns_reaches_the_motor(rig: tuple[Assembly, Resolved], name: str) -> None:
    """35 N m on hub, turntable or shaft: 52.5 N m with the load factor of 1.5."""
    (found,) = [one for one in _said(rig, name) if one.measure == "torque for seconds"]
    assert found.limit == pytest.approx(52.5)
    # By hand: 120 W at 3000 rpm is 0.382 N m, over 6.1 A 0.0626 N m/A; x 11.5 A x 100 x 0.81.
    assert found.value == pytest.approx(58.3, abs=0.1)
    assert found.severity is Severity.PASSED


@pytest.mark.parametrize("name", ["mast flange", "base", "supply"])
def test_a_load_on_what_stands_does_not(rig: tuple[Assembly, Resolved], name: str) -> None:
    """The flange the rig is held by lies on the motor's own line, and is not turned by it."""
    whole, done = rig
    asked = whole.with_loads(load(name, torque_nm=35.0)).with_drives(ASKED)
    (driven,) = drives_in(Subject(pieces=(), whole=(asked, done)))
    assert driven.loads == ()


def test_the_belt_is_the_encoders(rig: tuple[Assembly, Resolved]) -> None:
    """60 teeth on the shaft turn 30 on the encoder: 4 x 1024 x 2 counts, 0.0439 degrees."""
    found = {one.check: one for one in _said(rig, "hub")}
    assert found["drive.encoder"].value == pytest.approx(360 / (4 * 1024 * 60 / 30))
    assert "drive.belt" not in found


def test_bearings_spare_the_gearbox_what_acts_across(rig: tuple[Assembly, Resolved]) -> None:
    """Two bearings on the line: nothing is asked of the gearbox's shaft."""
    assert not [one for one in _said(rig, "hub") if "its shaft, which" in one.measure]


def test_the_worst_of_several_loads_counts(rig: tuple[Assembly, Resolved]) -> None:
    """20 and 30 N m: 30 all day; across 50 and 80 N: 80 N on a shaft that no bearing holds."""
    whole, done = rig
    asked = whole.with_loads(
        load("hub", torque_nm=30.0, name="one"), load("turntable", torque_nm=20.0, name="other")
    ).with_drives(ASKED)
    (driven,) = drives_in(Subject(pieces=(), whole=(asked, done)))
    assert driven.rms_nmm == pytest.approx(30_000.0)
    assert driven.running_nmm == pytest.approx(30_000.0)
    # Without its bearings the line bears on the gearbox.
    bare = replace(done, standing=tuple(one for one in done.standing if "bearing" not in one.name))
    spared = replace(RATING, gear_radial_n=100.0)
    weak = replace(
        bare,
        standing=tuple(
            replace(one, device=replace(one.device, rating=spared)) if one.name == "motor" else one
            for one in bare.standing
        ),
    )
    across = whole.with_loads(
        load("hub", torque_nm=1.0, radial_n=80.0, name="one"),
        load("hub", torque_nm=1.0, radial_n=50.0, name="other"),
    ).with_drives(ASKED)
    job = Subject(pieces=(), whole=(across, weak))
    said = [found for check in CHECKS for found in check.run(job)]
    (found,) = [one for one in said if "force across" in one.measure]
    assert found.value == pytest.approx(1.5 * 80.0)


def test_a_panel_may_be_what_is_turned(rig: tuple[Assembly, Resolved]) -> None:
    """The turntable as output is turned by its hub; a panel without one takes its own loads."""
    whole, done = rig
    table = drive("motor", output="turntable")
    for on, output in (("hub", table), ("right", drive("motor", output="right"))):
        asked = whole.with_loads(load(on, torque_nm=5.0)).with_drives(output)
        (driven,) = drives_in(Subject(pieces=(), whole=(asked, done)))
        assert driven.running_nmm == pytest.approx(5_000.0)
    asked = whole.with_loads(load("mast flange", torque_nm=5.0)).with_drives(table)
    (driven,) = drives_in(Subject(pieces=(), whole=(asked, done)))
    assert driven.running_nmm == 0.0
