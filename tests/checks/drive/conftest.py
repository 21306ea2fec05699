"""A motor and an encoder on one plate, a belt between them, driven as a test says."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from platekit import (
    Assembly,
    Finding,
    Plate,
    belt_drive,
    belted,
    birch_plywood,
    by_belt,
    drive,
    encoder,
    load,
    lying,
    motor,
    motor_rating,
    mounted,
    rectangle,
)
from platekit.assembly.resolve import Resolved
from platekit.checks.drive import CHECKS
from platekit.checks.subject import Subject
from platekit.hardware.devices.ratings import EncoderRating, MotorRating

# 24 V, 350 W at 2100 rpm and 18.2 A, 10:1. By hand: 350 / (2100 x 2 pi / 60) = 1.5915 N m, over
# 17.2 A that is 0.09253 N m/A; (24 - 0.09253 x 219.91) / 18.2 = 0.2006 ohm.
RATING_350_W = motor_rating(
    voltage_v=24.0,
    power_w=350.0,
    speed_rpm=2100.0,
    current_a=18.2,
    no_load_a=1.0,
    peak_a=60.0,
    gear_ratio=10.0,
    gear_efficiency=0.92,
)


@cache
def _plain(teeth: tuple[int, int], belt_teeth: int) -> tuple[Assembly, Resolved]:
    belt = belt_drive("curvilinear 3 mm", teeth=teeth, belt_teeth=belt_teeth, width_mm=9.0)
    first = motor(
        "NEMA 34", body_length_mm=112.0, shaft_mm=14.0, shaft_length_mm=38.0, flange_mm=8.0
    )
    body = "58 mm clamping flange"
    second = encoder(body, body_length_mm=48.0, shaft_length_mm=38.0, depth_mm=6.0)
    plate = Plate("base", birch_plywood(nominal_mm=6.0), rectangle(400.0, 200.0))
    rig = (
        Assembly("rig")
        .with_panels(lying(plate, bottom_mm=0.0))
        .with_hardware(
            mounted(first, on="base", side="down", at=(130.0, 100.0), name="motor"),
            mounted(second, on="base", side="down", at=by_belt(belt, of="motor"), name="second"),
            belted(belt, between=("motor", "second"), on="base", side="up", gap_mm=8.0),
        )
    )
    return rig, rig.resolve()


class Bench:
    """Where a drive is put to the checks. What the motor can do is laid onto the resolved rig."""

    rating = RATING_350_W

    def subject(
        self,
        *,
        torque_nm: float = 0.0,
        radial_n: float = 0.0,
        axial_n: float = 0.0,
        on: str = "motor",
        duration: str = "short",
        rating: MotorRating | None = RATING_350_W,
        told: EncoderRating | None = None,
        teeth: tuple[int, int] = (30, 30),
        belt_teeth: int = 120,
        factor: float | None = None,
        **asked: Any,
    ) -> Subject:
        """Return the job, driven as asked."""
        rig, done = _plain(teeth, belt_teeth)
        acts: Any = {"torque_nm": torque_nm, "radial_n": radial_n, "axial_n": axial_n}
        if any(acts.values()):
            rig = rig.with_loads(load(on, duration=duration, **acts))
        if factor is not None:
            rig = rig.with_factors(load=factor)
        ratings = {"motor": rating, "second": told}
        standing = tuple(
            replace(one, device=replace(one.device, rating=ratings[one.name]))
            if one.name in ratings
            else one
            for one in done.standing
        )
        rig = rig.with_drives(drive("motor", **asked))
        return Subject(pieces=(), whole=(rig, replace(done, standing=standing)))

    def all(self, name: str, **asked: Any) -> list[Finding]:
        """Return all that one check says, passed or not."""
        (check,) = (one for one in CHECKS if one.name == name)
        return list(check.run(self.subject(**asked)))

    def one(self, name: str, measure: str, **asked: Any) -> Finding:
        """Return what one check says of one measure."""
        found = [one for one in self.all(name, **asked) if measure in one.measure]
        assert len(found) == 1, [str(one) for one in self.all(name, **asked)]
        return found[0]


@pytest.fixture(scope="session")
def bench() -> Bench:
    """The bench."""
    return Bench()
