"""Motors: what comes to a gearbox's shaft, against what its sheet says it bears."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.assembly.mounting import Standing
from platekit.checks.check import Check
from platekit.checks.hold.reactions import beside_motor_n
from platekit.checks.hold.turning import LEAST_NMM, NMM_PER_NM, Line, lines
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold, weighed
from platekit.findings import Finding
from platekit.hardware.devices.ratings import MotorRating

NAME = "hold.motor"
SHEET = "the motor's data sheet"
LEAST_N = 1e-6


def motors(subject: Subject) -> Iterator[Finding]:
    """Weigh torque and forces on the shaft of every motor that a load comes to."""
    told: set[tuple[str, str]] = set()
    for line in lines(subject):
        motor = line.one.motor
        if motor is None:
            continue
        for one in _weighed(subject, line, motor):
            if one.value is not None or (one.part, one.measure) not in told:
                yield one
            told.add((one.part, one.measure))


def _weighed(subject: Subject, line: Line, motor: Standing) -> Iterator[Finding]:
    rating = motor.device.rating
    if not isinstance(rating, MotorRating):
        yield untold(
            NAME,
            part=motor.name,
            measure="what its shaft bears is not said",
            remedy="give the motor's rating, with gear_continuous_nm, gear_radial_n, gear_axial_n",
        )
        return
    drives = () if subject.whole is None else subject.whole[0].use.drives
    # Where a drive is declared, "drive.gearbox" knows more of its torque, and weighs the forces
    # of a line without bearings too.
    driven = any(drive.motor == motor.name for drive in drives)
    if not driven:
        yield from _torque(line, motor, rating)
    if line.one.bearings or not driven:
        yield from _across(line, motor, rating)
        yield from _along(line, motor, rating)


def _torque(line: Line, motor: Standing, rating: MotorRating) -> Iterator[Finding]:
    """Weigh the torque: for moments with the load factor, all day without."""
    blow = line.one.load.duration == "instant"
    most = rating.gear_peak_nmm if blow else rating.gear_continuous_nmm
    torque = line.torque_nmm if blow else line.own_nmm
    if torque <= LEAST_NMM or most is None:
        return
    yield weighed(
        NAME,
        part=motor.name,
        feature="shaft",
        measure=f"torque on the gearbox, {line.name},",
        value=torque / NMM_PER_NM,
        most=most / NMM_PER_NM,
        unit="N m",
        source=SHEET,
        remedy="take a stronger gearbox, or say what the motor really does with with_drives",
        formula=f"{line.torque_said}, against what it bears at times"
        if blow
        else "T without load factor, against what it bears all day",
    )


def _across(line: Line, motor: Standing, rating: MotorRating) -> Iterator[Finding]:
    """Weigh the force across the shaft where no two bearings keep it off."""
    one = line.one
    if one.radial_n <= LEAST_N or len(one.bearings) > 1 or rating.gear_radial_n is None:
        return
    times = line.factors.load
    force, said = one.radial_n, "no bearing on the line"
    if one.bearings:
        face, bearing = one.place_mm(motor, 0.0), one.middle_mm(one.bearings[0])
        if face == bearing:
            return
        force = beside_motor_n(one)[1]
        said = f"shared with {one.bearings[0].name}"
    yield weighed(
        NAME,
        part=motor.name,
        feature="shaft",
        measure=f"force across the gearbox's shaft, {line.name},",
        value=times * force,
        most=rating.gear_radial_n,
        unit="N",
        source=f"{SHEET}; mind at which place of the shaft it holds",
        remedy="carry the shaft in two bearings, or take a larger gearbox",
        formula=f"load factor x force = {times:g} x {force:.4g}, Fr = {one.radial_n:.4g} N {said}",
    )


def _along(line: Line, motor: Standing, rating: MotorRating) -> Iterator[Finding]:
    one = line.one
    if one.axial_n <= LEAST_N or one.bearings or rating.gear_axial_n is None:
        return
    yield weighed(
        NAME,
        part=motor.name,
        feature="shaft",
        measure=f"force along the gearbox's shaft, {line.name},",
        value=line.factors.load * one.axial_n,
        most=rating.gear_axial_n,
        unit="N",
        source=SHEET,
        remedy="carry the load on a bearing with shoulders, or take a larger gearbox",
        formula=f"load factor x force = {line.factors.load:g} x {one.axial_n:.4g}, no bearing on "
        "the line",
    )


CHECK = Check(
    name=NAME,
    asks="Does the motor's gearbox bear what comes to its shaft?",
    by="Against the motor's data sheet: torque all day, without the load factor, as heat and wear "
    "go by what really flows; for loads of duration instant, times factors.load, against what it "
    "bears at times; force across and along the shaft, times factors.load, where no bearings on "
    "the line take it. One bearing shares the force across with the motor's face, as a beam does. "
    "Where a drive is declared, drive.gearbox weighs its torque, and the forces of a line without "
    "bearings.",
    run=motors,
)
