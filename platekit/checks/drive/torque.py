"""Whether a motor turns its load: torque for seconds and all day, and what its gearbox bears."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from platekit.checks.check import Check
from platekit.checks.drive import peaks
from platekit.checks.drive.driven import Driven, three, unrated
from platekit.checks.drive.each import PLAIN, each
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.findings import Finding
from platekit.formulas.shaft_power import NMM_PER_NM

TORQUE, GEARBOX = "drive.torque", "drive.gearbox"
SOURCE = "T = Kt (I - I0), handbooks of electric drives, from memory; figures of the motor's sheet"
GEAR_SOURCE = "figures of the gearbox's sheet"
ONLY_AT_TIMES = "; if the load comes only at times, give cycle="


def torque(subject: Subject) -> Iterator[Finding]:
    """Weigh the torque at the output against the loads and the cycle of every drive."""
    for drive in unrated(subject):
        yield untold(
            TORQUE,
            part=drive.motor,
            measure="what the motor can do is not said",
            remedy="give it rating=motor_rating(...) from its sheet",
        )
    yield from each(TORQUE, _torque)(subject)


def _torque(driven: Driven) -> Iterator[Finding]:
    needed = driven.needed_nmm
    if not needed:
        yield untold(
            TORQUE,
            part=driven.name,
            measure="torque asked of it is not said",
            remedy=f"give load({driven.drive.output or driven.drive.motor!r}, torque_nm=...), or "
            "cycle= of the drive",
        )
        return
    yield from _for_seconds(driven, needed)
    yield from _all_day(driven)


def _for_seconds(driven: Driven, needed_nmm: float) -> Iterator[Finding]:
    known = _least(peaks_a(driven))
    if known is None:
        yield untold(
            TORQUE,
            part=driven.name,
            measure="current for seconds is not said",
            remedy="give peak_a or resistance_ohm of the motor's rating",
        )
        return
    by, current_a = known
    wanted_a = driven.current_a(needed_nmm)
    yield weighed(
        TORQUE,
        part=driven.name,
        measure="torque for seconds",
        value=driven.torque_nmm(current_a) / NMM_PER_NM,
        least=needed_nmm / NMM_PER_NM,
        unit="N m",
        source=SOURCE,
        formula=f"{_formula(driven, current_a)}, against {_asked(driven)}",
        remedy=f"it takes {three(wanted_a)} A where {by} gives {three(current_a)} A: a larger "
        "ratio, a stronger motor, or more current",
        scale=PLAIN,
    )


def _all_day(driven: Driven) -> Iterator[Finding]:
    rms_nmm = driven.rms_nmm
    if not rms_nmm:
        return
    known = _least(continuous_a(driven))
    if known is None:
        yield untold(
            TORQUE,
            part=driven.name,
            measure="current of all day is not said",
            remedy="give current_a or continuous_a of the motor's rating",
        )
        return
    by, current_a = known
    # Heat does not know the load factor: the cycle is taken as it comes.
    wanted_a = driven.current_a(rms_nmm)
    yield weighed(
        TORQUE,
        part=driven.name,
        measure="torque all day",
        value=driven.torque_nmm(current_a) / NMM_PER_NM,
        least=rms_nmm / NMM_PER_NM,
        unit="N m",
        source=SOURCE,
        formula=f"{_formula(driven, current_a)}, against {_lasting(driven)}, "
        f"{three(rms_nmm / NMM_PER_NM)}",
        remedy=f"it takes {three(wanted_a)} A where {by} gives {three(current_a)} A all day: a "
        f"larger ratio or a stronger motor{ONLY_AT_TIMES}",
        scale=ADVICE,
    )


def _lasting(driven: Driven) -> str:
    """Return what the torque of all day is, in words."""
    return "root mean square of the cycle" if driven.drive.cycle else "the largest lasting load"


def peaks_a(driven: Driven) -> Mapping[str, float]:
    """Return what bounds the motor's current for seconds, by what does."""
    drive = driven.drive
    found = {
        "the motor's rating": driven.rating.peak_a,
        "the current limit": drive.current_limit_a,
        "the held shaft": driven.stall_a,
    }
    if drive.drivers is not None:
        # More than all day is not relied on where nobody says their peak.
        each_a = drive.drivers.peak_a or drive.drivers.continuous_a
        found["the drivers' rating"] = None if each_a is None else each_a * drive.drivers.count
    return {by: amps for by, amps in found.items() if amps is not None}


def continuous_a(driven: Driven) -> Mapping[str, float]:
    """Return what bounds the motor's current all day, by what does."""
    drive = driven.drive
    found = {
        "the motor's rating": driven.rating.continuous_a,
        "the current limit": drive.current_limit_a,
    }
    if drive.drivers is not None and drive.drivers.continuous_a is not None:
        found["the drivers' rating"] = drive.drivers.continuous_a * drive.drivers.count
    known = {by: amps for by, amps in found.items() if amps is not None}
    # A limit or drivers alone do not say what the motor bears all day.
    return known if driven.rating.continuous_a is not None else {}


def _least(known: Mapping[str, float]) -> tuple[str, float] | None:
    return min(known.items(), key=lambda item: item[1], default=None)


def _formula(driven: Driven, current_a: float) -> str:
    rating, train = driven.rating, driven.train
    constant = three(rating.torque_constant_nmm_per_a / NMM_PER_NM)
    return (
        f"Kt (I - I0) i eta = {constant} x ({three(current_a)} - {three(rating.no_load_a)}) x "
        f"{three(train.ratio)} x {three(train.efficiency)}"
    )


def _asked(driven: Driven) -> str:
    running = three(driven.running_nmm / NMM_PER_NM)
    speeding_nmm = driven.load_speeding_nmm + driven.rotor_speeding_nmm
    if not speeding_nmm:
        return f"load factor x load = {three(driven.factor)} x {running}"
    speeding = three(speeding_nmm / NMM_PER_NM)
    return f"load factor x (load + J alpha) = {three(driven.factor)} x ({running} + {speeding})"


def _gearbox(driven: Driven) -> Iterator[Finding]:
    rating, belt = driven.rating, driven.belts.driving
    if rating.gear_ratio == 1.0 and rating.gear_peak_nmm is None:
        return
    motor = driven.drive.motor
    stage = driven.belts.stage(0.0)
    at_gearbox = 1.0 if stage is None else stage.input_torque_nmm(1.0)
    if rating.gear_peak_nmm is None and rating.gear_continuous_nmm is None:
        yield untold(
            GEARBOX,
            part=motor,
            measure="torque that the gearbox bears is not said",
            remedy="give gear_peak_nm and gear_continuous_nm of the motor's rating",
        )
    behind = "" if stage is None else f" / (belt's i eta), {three(1 / at_gearbox)}"
    stronger = "take a stronger gearbox, or give more of the ratio to a belt behind it"
    at_times = f"load factor x {'(load + J alpha)' if driven.load_speeding_nmm else 'load'}"
    # Without a cycle it is only taken that the load stands all day.
    lasting = stronger if driven.drive.cycle else stronger + ONLY_AT_TIMES
    for measure, said, asked_nmm, bears_nmm, remedy in (
        ("torque at the gearbox at times", at_times, driven.passed_nmm, rating.gear_peak_nmm,
         stronger),
        ("torque at the gearbox all day", _lasting(driven), driven.rms_nmm,
         rating.gear_continuous_nmm, lasting),
    ):  # fmt: skip
        if bears_nmm is not None and asked_nmm:
            yield weighed(
                GEARBOX,
                part=motor,
                measure=measure,
                value=asked_nmm * at_gearbox / NMM_PER_NM,
                most=bears_nmm / NMM_PER_NM,
                unit="N m",
                source=GEAR_SOURCE,
                formula=f"{said}, {three(asked_nmm / NMM_PER_NM)}{behind}",
                remedy=remedy,
                scale=PLAIN,
            )
    yield from _held(driven)
    if driven.alone and belt is None:
        yield from _across(driven)


def _held(driven: Driven) -> Iterator[Finding]:
    """Weigh what the motor gives while its shaft is held against what its gearbox bears."""
    rating, amps = driven.rating, peaks.passed_a(driven)
    if rating.gear_peak_nmm is None or amps is None or not peaks.is_told(driven, peaks.GEARBOX):
        return
    own = rating.torque_constant_nmm_per_a * max(amps - rating.no_load_a, 0.0)
    bears_a = peaks.bounds_a(driven)[peaks.GEARBOX]
    yield weighed(
        GEARBOX,
        part=driven.drive.motor,
        measure="torque at the gearbox when the output is held",
        value=driven.gearbox.output_torque_nmm(own) / NMM_PER_NM,
        most=rating.gear_peak_nmm / NMM_PER_NM,
        unit="N m",
        source=GEAR_SOURCE,
        formula="Kt (I - I0) i eta = "
        f"{three(rating.torque_constant_nmm_per_a / NMM_PER_NM)} x ({three(amps)} - "
        f"{three(rating.no_load_a)}) x {three(rating.gear_ratio)} x "
        f"{three(rating.gear_efficiency)}",
        remedy=f"set the drivers to {three(bears_a)} A or less and give current_limit_a",
        scale=ADVICE,
    )


def _across(driven: Driven) -> Iterator[Finding]:
    """Weigh what acts across and along a shaft that nothing but the gearbox holds."""
    rating = driven.rating
    for way, bears_n, forces in (
        ("across", rating.gear_radial_n, [one.radial_n for one in driven.loads]),
        ("along", rating.gear_axial_n, [one.axial_n for one in driven.loads]),
    ):
        worst = max(forces, default=0.0)
        if bears_n is not None and worst:
            yield weighed(
                GEARBOX,
                part=driven.drive.motor,
                measure=f"force {way} its shaft, which no bearing on its line takes",
                value=driven.factor * worst,
                most=bears_n,
                unit="N",
                source=GEAR_SOURCE,
                formula=f"load factor x force = {three(driven.factor)} x {three(worst)}",
                remedy="give the line a bearing, or take a gearbox that bears more",
                scale=PLAIN,
            )


CHECKS = (
    Check(
        name=TORQUE,
        asks="Does the motor give the torque asked, for seconds and all day?",
        by="For seconds: Kt (I - I0) times ratio and efficiency at the least of the motor's peak "
        "current, the current limit, what the drivers bear and what a held shaft draws, against "
        "the load factor times the largest load (or step of the cycle) and what speeding up "
        "takes. All day: the same at the continuous current, against the root mean square of the "
        "cycle, or the largest load that is not instant, without the load factor: heat goes by "
        "what really flows. " + SOURCE + ".",
        run=torque,
    ),
    Check(
        name=GEARBOX,
        asks="Does the gearbox bear its torque, and what acts across and along its shaft?",
        by="Loads times the load factor at the gearbox's shaft against its torque for moments, "
        "the cycle's root mean square, or without a cycle the largest load that is not instant, "
        "against its torque of all day; what the motor gives at the "
        "current that can come to flow while the output is held against the former; forces on "
        "the line where no bearing takes them. Limits: " + GEAR_SOURCE + ".",
        run=each(GEARBOX, _gearbox),
    ),
)
