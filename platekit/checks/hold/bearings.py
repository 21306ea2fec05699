"""Bearings: how long they run, how well they stand still, and what their seats press on."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platekit.assembly.mounting import Standing
from platekit.assembly.panels import Panel
from platekit.checks.check import Check
from platekit.checks.hold.belted import given_n, led
from platekit.checks.hold.reactions import bearing_forces
from platekit.checks.hold.seats import gamma_of, kmod_of, least_of, strength_for
from platekit.checks.hold.turning import Line, lines
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding, Severity
from platekit.formulas.bearing_life import (
    AXIAL_FACTORS,
    BallBearing,
    equivalent_load_n,
    life_hours,
    static_load_n,
    static_safety,
)
from platekit.formulas.bolt_joints import bearing_stress_mpa
from platekit.hardware.devices.ratings import BearingRating, MotorRating
from platekit.materials import Strength

NAME = "hold.bearing"
# ISO 76 asks for 1 at the least for quiet running with few knocks (from memory).
LEAST_SAFETY = 1.0
# Forces below this are none: rounding of zero.
LEAST_N = 1e-6
# A force nearer to a bearing's middle than this tips next to nothing: common practice, no source.
LEAST_LEVER_MM = 5.0
LARGER = "take a larger bearing, set both further apart, or bring the load nearer"


def bearings(subject: Subject) -> Iterator[Finding]:
    """Weigh every bearing on the line of a load."""
    told: set[str] = set()
    for line in lines(subject):
        pull = _belt_told(subject, line)
        if pull is not None and pull.feature not in told:
            told.add(pull.feature)
            yield pull
        if (tips := _tips(line)) is not None:
            yield tips
        for bearing, radial in bearing_forces(line.one):
            if radial <= LEAST_N and line.one.axial_n <= LEAST_N:
                continue
            for one in _tried(subject, line, bearing, radial):
                if one.value is not None or one.measure not in told:
                    yield one
                if one.value is None:
                    told.add(one.measure)


def _belt_told(subject: Subject, line: Line) -> Finding | None:
    """Tell that a driving belt is weighed by its torque alone: nobody says how tight it is."""
    belt = led(subject, line.one)
    pull = 0.0 if belt is None else belt.pull_n(line.one.load.torque_nmm)
    if belt is None or belt.static_n is not None or pull <= LEAST_N:
        return None
    if given_n(line.one, belt) >= pull:
        return None
    return untold(
        NAME,
        part=belt.part.name,
        feature=belt.belt.name,
        measure=f"how tight the belt is set is not said: it is weighed with {pull:.0f} N across "
        f"both shafts, the pull of the torque alone, {line.name}",
        remedy="give belt_pull_n to the drive of its motor, what each span is set to",
    )


def _tips(line: Line) -> Finding | None:
    """Tell what tips a shaft that runs in one bearing and is held by nothing else."""
    one = line.one
    if len(one.bearings) != 1 or one.motor is not None:
        return None
    (bearing,) = one.bearings
    middle = one.middle_mm(bearing)
    tips = sum(
        push.force_n * abs(push.at_mm - middle)
        for push in one.pushes
        if abs(push.at_mm - middle) >= LEAST_LEVER_MM
    )
    if tips <= LEAST_N:
        return None
    return untold(
        NAME,
        part=bearing.name,
        measure=f"{tips / 1000:.3g} N m tip the shaft, {line.name}, and one "
        "bearing holds none of it, which is not weighed",
        remedy="give the shaft a second bearing, well away from the first",
        severity=Severity.WARNING,
    )


def _tried(subject: Subject, line: Line, bearing: Standing, radial_n: float) -> tuple[Finding, ...]:
    try:
        return (
            *_rated(subject, line, bearing, radial_n),
            *_seat(subject, line, bearing, radial_n),
        )
    except PlatekitError as error:
        return (_not(bearing, f"it could not be weighed: {error}", "check its figures"),)


def _not(bearing: Standing, measure: str, remedy: str) -> Finding:
    return untold(NAME, part=bearing.name, measure=measure, remedy=remedy)


def _rated(subject: Subject, line: Line, bearing: Standing, radial_n: float) -> Iterator[Finding]:
    rating = bearing.device.rating
    if not isinstance(rating, BearingRating):
        yield _not(
            bearing,
            "what bearings of its kind bear is not known, so their life is not weighed",
            "give dynamic_n, static_n, f0 and ratings in a table of your own, see own_bearings",
        )
        return
    ball = BallBearing(
        dynamic_rating_n=rating.dynamic_n, static_rating_n=rating.static_n, f0=rating.f0
    )
    axial, times = line.one.axial_n, line.factors.load
    across, along = times * radial_n, times * axial
    yield weighed(
        NAME,
        part=bearing.name,
        measure=f"static safety, {line.name},",
        value=static_safety(ball, radial_n=across, axial_n=along),
        least=LEAST_SAFETY,
        unit="",
        source=f"ISO 76, from memory; rating: {rating.source}",
        remedy=LARGER,
        formula=f"C0 / P0 = {rating.static_n:g} / "
        f"{static_load_n(radial_n=across, axial_n=along):.4g}, P0 = max(Fr, 0.6 Fr + 0.5 Fa), "
        f"Fr = {times:g} x {radial_n:.4g}, Fa = {times:g} x {axial:.4g} N",
    )
    pushed = ball.f0 * axial / ball.static_rating_n
    if pushed > AXIAL_FACTORS[-1][0]:
        yield weighed(
            NAME,
            part=bearing.name,
            measure=f"push along the axis, f0 Fa / C0, {line.name},",
            value=pushed,
            most=AXIAL_FACTORS[-1][0],
            unit="",
            source="table of ISO 281, from memory",
            remedy="take a larger bearing, or a thrust bearing besides",
            formula=f"{ball.f0:g} x {axial:.4g} / {ball.static_rating_n:g}",
        )
        return
    yield _life(subject, line, bearing, ball, radial_n=radial_n)


def _life(
    subject: Subject, line: Line, bearing: Standing, ball: BallBearing, *, radial_n: float
) -> Finding:
    rpm, said = _speed_rpm(subject, line)
    if rpm is None:
        return _not(
            bearing,
            "how fast it turns is not said, so the life of bearings is not weighed",
            'say with_drives(drive("motor", output="hub", speed_rpm=10))',
        )
    load = equivalent_load_n(ball, radial_n=radial_n, axial_n=line.one.axial_n)
    return weighed(
        NAME,
        part=bearing.name,
        measure=f"life, {line.name},",
        value=life_hours(ball, load_n=load, speed_rpm=rpm),
        least=line.factors.bearing_hours,
        unit="h",
        source="ISO 281, nine in ten reach it, from memory; hours wanted: factors.bearing_hours",
        remedy=LARGER,
        formula=f"10^6 (C / P)^3 / (60 n) = 10^6 ({ball.dynamic_rating_n:g} / {load:.4g})^3 / "
        f"(60 x {rpm:.4g}), {said}",
    )


def _speed_rpm(subject: Subject, line: Line) -> tuple[float | None, str]:
    """Return how fast a line turns, and how that is known: as asked, else the motor's fastest.

    Raises:
        PartError: The figures of the motor cannot be.
    """
    one = line.one
    if subject.whole is not None:
        for drive in subject.whole[0].use.drives:
            names = {*(act.load.on for act in one.acts), *(part.name for part in line.parts)}
            names |= {one.entry.panel} if one.entry is not None else set()
            if drive.speed_rpm and (drive.motor in names or drive.output in names):
                return drive.speed_rpm, "speed as its drive says"
    rating = None if one.motor is None else one.motor.device.rating
    if isinstance(rating, MotorRating):
        # The free motor without any loss: no load lets it turn faster.
        turns = rating.voltage_v / (rating.torque_constant_nmm_per_a / 1000.0)
        free = turns * 60 / (2 * math.pi) / rating.gear_ratio
        return free, "speed of the free motor, the most it can turn"
    return None, ""


def _seat(subject: Subject, line: Line, bearing: Standing, radial_n: float) -> Iterator[Finding]:
    """Weigh what the outer ring presses on the wall of its seat."""
    panel = _panel(subject, bearing)
    if panel is None or radial_n <= LEAST_N:
        return
    outer, width = _ring_mm(bearing)
    sheets = [plate.sheet for plate in panel.layers]
    known = [strength for sheet in sheets if (strength := strength_for(subject, sheet)) is not None]
    weakest = min(
        (one for one in known if _weakest_mpa(one) is not None),
        key=lambda one: _crushing_mpa(one, line),
        default=None,
    )
    if weakest is None:
        yield _not(
            bearing,
            f"what {sheets[0].material.name} bears in its plane is not known, so the seats of "
            "bearings are not weighed",
            "give it with_strengths",
        )
        return
    high = min(width, panel.thickness_mm)
    force = line.factors.load * radial_n
    yield weighed(
        NAME,
        part=panel.name,
        feature=f"seat of {bearing.name}",
        measure=f"pressure on the wall of the seat, {line.name},",
        value=bearing_stress_mpa(force, diameter_mm=outer, thickness_mm=high),
        most=_crushing_mpa(weakest, line),
        unit="MPa",
        source="mean pressure on D b, common practice, no source; factors of EN 1995-1-1, from "
        "memory",
        remedy="take a larger bearing or another ring of sheet",
        formula=f"F / (D b) = {line.factors.load:g} x {radial_n:.4g} / ({outer:g} x {high:.3g}); "
        f"limit {_crushing_said(weakest, line)}",
    )


def _panel(subject: Subject, bearing: Standing) -> Panel | None:
    if subject.whole is None:
        return None
    panels = subject.whole[1].panels
    return next((panel for panel in panels if panel.name == bearing.panel), None)


def _ring_mm(bearing: Standing) -> tuple[float, float]:
    """Return outer diameter and width of a bearing as it is drawn."""
    blocks = bearing.device.blocks
    box = max((block.profile.bounds for block in blocks), key=lambda one: one.right - one.left)
    low, high = min(block.low_mm for block in blocks), max(block.high_mm for block in blocks)
    return box.right - box.left, high - low


def _weakest_mpa(strength: Strength) -> float | None:
    return least_of([strength.compression_0_mpa, strength.compression_90_mpa])


def _crushing_mpa(strength: Strength, line: Line) -> float:
    """Return the pressure in its plane that a sheet may be trusted with, where that is known."""
    kmod = kmod_of([strength], line.one.load.duration)
    return kmod * (_weakest_mpa(strength) or 0.0) / gamma_of(strength, line.factors)


def _crushing_said(strength: Strength, line: Line) -> str:
    kmod = kmod_of([strength], line.one.load.duration)
    gamma = gamma_of(strength, line.factors)
    return f"kmod fc / gamma = {kmod:g} x {_weakest_mpa(strength):g} / {gamma:g}"


CHECK = Check(
    name=NAME,
    asks="Do the bearings last, and do their seats bear them?",
    by="Force across the axis goes to the outer two bearings of the line as to the supports of a "
    "beam, to a single one together with the motor's face; one alone without a motor holds nothing "
    "that tips the shaft, and that is told. Force along the axis is put on each, as only "
    "shoulders decide which takes it. Standing: "
    "s0 = C0 / P0 of ISO 76 under loads times factors.load, 1 at the least. Running: the life of "
    "ISO 281 that nine in ten reach, loads without factors, at the speed of the drive, else of "
    "the free motor, against factors.bearing_hours. Ratings are typical of makers' lists: take "
    "those of the bearing in hand. The outer ring presses on its seat with F / (D b), held "
    "against the sheet's least compression in its plane times kmod over gamma. Dust, a bent "
    "shaft, and a shaft that only swings to and fro are not in it. A belt that leads to a motor "
    "beside the line pulls both shafts where it runs with 2 T / d, or with twice what the drive "
    "says each span is set to where that is more, and gives that motor T over the ratio; a greater "
    "force that the recipe gives on the part with the pulley stands for it. Forces of one case add "
    "as it is worst. ISO from memory. An estimate.",
    run=bearings,
)
