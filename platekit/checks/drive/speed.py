"""Whether a drive is fast enough, and whether its rotor is in command of what it turns."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.drive.driven import KGMM2_PER_KGM2, Driven, three
from platekit.checks.drive.each import each
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.findings import Finding
from platekit.formulas.wires import two_way_drop_v

SPEED, INERTIA = "drive.speed", "drive.inertia"
SOURCE = "V = E + I R, handbooks of electric drives, from memory"
# Load's inertia over the rotor's above which a drive that is controlled closely swings. Common
# practice, no source; makers give 5 to 10 for quick drives and more for slow ones.
MOST_INERTIA_RATIO = 10.0


def _speed(driven: Driven) -> Iterator[Finding]:
    wanted_rpm, rating = driven.drive.speed_rpm, driven.rating
    if wanted_rpm is None:
        return
    if rating.resistance_ohm is None:
        yield untold(
            SPEED,
            part=driven.name,
            measure="speed under load: the winding's resistance is not said",
            remedy="give resistance_ohm of the motor's rating, or its rated speed and current",
        )
        return
    current_a = driven.current_a(driven.running_nmm)
    drop_v = _drop_v(driven, current_a)
    left_v = driven.voltage_v - drop_v - current_a * rating.resistance_ohm
    for_one_rpm_v = driven.induced_v(1.0)
    yield weighed(
        SPEED,
        part=driven.name,
        measure="speed under load",
        value=max(left_v, 0.0) / for_one_rpm_v,
        least=wanted_rpm,
        unit="rpm",
        source=SOURCE,
        formula="(V - V wire - I R) / (Ke i) = "
        f"({three(driven.voltage_v)} - {three(drop_v)} - {three(current_a)} x "
        f"{three(rating.resistance_ohm)}) / {three(for_one_rpm_v)}",
        remedy="a smaller ratio, more volts, or a motor of more rpm per volt",
        scale=ADVICE,
    )


def _drop_v(driven: Driven, current_a: float) -> float:
    wire = driven.drive.wire
    if wire is None:
        return 0.0
    return two_way_drop_v(current_a=current_a, length_m=wire.length_m, area_mm2=wire.area_mm2)


def _inertia(driven: Driven) -> Iterator[Finding]:
    turning = driven.drive.inertia_kgmm2
    if not turning:
        return
    rotor = driven.rating.rotor_inertia_kgmm2
    if rotor is None:
        yield untold(
            INERTIA,
            part=driven.name,
            measure="inertia of the load against the rotor's, which is not said",
            remedy="give rotor_inertia_kgcm2 of the motor's rating",
        )
        return
    felt = driven.train.reflected_inertia_kgmm2(turning)
    yield weighed(
        INERTIA,
        part=driven.name,
        measure="inertia of the load felt by the motor, over the rotor's",
        value=felt / rotor,
        most=MOST_INERTIA_RATIO,
        unit="",
        source="common practice, no source",
        formula=f"J / (i^2 J rotor) = {turning / KGMM2_PER_KGM2:.3g} kg m2 / "
        f"({three(driven.train.ratio)}^2 x {rotor / KGMM2_PER_KGM2:.3g} kg m2)",
        remedy="a larger ratio, a heavier rotor, or slower starts and stops",
        scale=ADVICE,
    )


CHECKS = (
    Check(
        name=SPEED,
        asks="Is it fast enough under load?",
        by="What the supply's voltage leaves after the wire's and the winding's drop at the "
        "largest load, without the load factor, over what each rpm of the output induces. The "
        "winding is taken cold; a warm one is a few per cent slower. " + SOURCE + ".",
        run=each(SPEED, _speed),
    ),
    Check(
        name=INERTIA,
        asks="Can the motor command what it turns?",
        by="The load's inertia over the ratio squared, against the rotor's: at most "
        f"{MOST_INERTIA_RATIO:g} times (common practice, no source). What speeding up takes is "
        "in drive.torque.",
        run=each(INERTIA, _inertia),
    ),
)
