"""A drive as the checks see it: the recipe's figures and the motor's, brought to one shaft.

Torques are those at the output in N mm, currents the motor's own in A. Losses of the gearbox are
the motor's to bear. Friction is the no-load current, the same at every speed.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from platekit.assembly.driving import Drive
from platekit.assembly.mounting import Belted, Standing
from platekit.checks.drive.belting import Belting, belting
from platekit.checks.hold.following import Followed, followed
from platekit.checks.subject import Subject
from platekit.formulas.duty import DutyStep, rms_current_a
from platekit.formulas.gearing import GearStage, gear_train
from platekit.formulas.shaft_power import NMM_PER_NM, RAD_PER_S_PER_RPM
from platekit.hardware.devices.ratings import EncoderRating, MotorRating

# A gust does not heat a winding: loads of this duration are not taken to stand all day.
PASSING = "instant"
KGMM2_PER_KGM2 = 1e6


@dataclass(frozen=True, kw_only=True)
class Driven:
    """One drive with everything that is known of it.

    Attributes:
        drive: What the recipe says.
        rating: What the motor can do.
        factor: Loads are taken this many times where strength is weighed.
        loads: Loads that reach the output.
        belts: The belts on the way.
        encoder: What its encoder tells; None without one, or where nobody says.
        alone: Whether the motor's own shaft bears what acts across and along its axis.
    """

    drive: Drive
    rating: MotorRating
    factor: float
    loads: tuple[Followed, ...] = ()
    belts: Belting = field(default_factory=Belting)
    encoder: EncoderRating | None = None
    alone: bool = True

    @property
    def name(self) -> str:
        """What findings call it: motor and output."""
        return " + ".join(filter(None, (self.drive.motor, self.drive.output)))

    @property
    def voltage_v(self) -> float:
        """Of the supply, else the motor's rated one."""
        supply = self.drive.supply
        return self.rating.voltage_v if supply is None else supply.voltage_v

    @property
    def gearbox(self) -> GearStage:
        """The motor's own gearbox."""
        return GearStage(
            ratio=self.rating.gear_ratio,
            efficiency=self.rating.gear_efficiency,
            backlash_deg=self.rating.backlash_deg or 0.0,
        )

    @property
    def train(self) -> GearStage:
        """All between the motor's own shaft and the output."""
        return gear_train(filter(None, (self.gearbox, self.belts.stage(self.drive.belt_play_mm))))

    @property
    def running_nmm(self) -> float:
        """The greatest torque asked of it, as it comes; 0 where none is told."""
        return max((*self._cycle_nmm, *(one.load.torque_nmm for one in self.loads)), default=0.0)

    @property
    def steps(self) -> tuple[tuple[float, float], ...]:
        """The cycle; where none is given, the greatest load that does not just pass, all day."""
        if self.drive.cycle:
            return self.drive.cycle
        lasting = [one.load.torque_nmm for one in self.loads if one.load.duration != PASSING]
        return ((max(lasting), 1.0),) if any(lasting) else ()

    @property
    def load_speeding_nmm(self) -> float:
        """Torque that brings the load to speed in the time wanted; 0 where not asked."""
        return (self.drive.inertia_kgmm2 or 0.0) * self._nmm_per_kgmm2

    @property
    def rotor_speeding_nmm(self) -> float:
        """Torque that brings the rotor to speed with it, as felt at the output."""
        rotor = self.rating.rotor_inertia_kgmm2 or 0.0
        return rotor * self.train.ratio**2 * self._nmm_per_kgmm2

    @property
    def needed_nmm(self) -> float:
        """Torque the motor must be able to give for seconds, load factor on it."""
        return self.passed_nmm + self.factor * self.rotor_speeding_nmm

    @property
    def passed_nmm(self) -> float:
        """Torque that gearbox and belt pass on for seconds, load factor on it."""
        return self.factor * (self.running_nmm + self.load_speeding_nmm)

    @property
    def rms_nmm(self) -> float:
        """The steady torque that heats as much as the cycle does; 0 where none is told."""
        if not self.steps:
            return 0.0
        return rms_current_a([DutyStep(current_a=nmm, time_s=time) for nmm, time in self.steps])

    @property
    def duty(self) -> tuple[DutyStep, ...]:
        """The cycle as currents of the motor."""
        return tuple(
            DutyStep(current_a=self.current_a(nmm), time_s=time) for nmm, time in self.steps
        )

    @property
    def rms_a(self) -> float | None:
        """The steady current that heats the motor as much as the cycle does."""
        return rms_current_a(self.duty) if self.duty else None

    def current_a(self, output_nmm: float) -> float:
        """Return the motor's current for a torque at the output.

        Source:
            T = Kt (I - I0), torque over ratio and efficiency.
        """
        own_nmm = self.train.input_torque_nmm(output_nmm)
        return own_nmm / self.rating.torque_constant_nmm_per_a + self.rating.no_load_a

    def torque_nmm(self, current_a: float) -> float:
        """Return the torque at the output for a current of the motor.

        Source:
            T = Kt (I - I0), torque times ratio and efficiency.
        """
        useful_a = max(current_a - self.rating.no_load_a, 0.0)
        return self.train.output_torque_nmm(self.rating.torque_constant_nmm_per_a * useful_a)

    @property
    def stall_a(self) -> float | None:
        """What flows while the shaft is held and nothing else limits: V / R."""
        ohm = self.rating.resistance_ohm
        return None if ohm is None else self.voltage_v / ohm

    def motor_v(self, *, current_a: float) -> float:
        """Return the volts at the motor at the speed wanted, no more than the supply has.

        All of the supply's where the speed or the winding's resistance is not told.

        Source:
            V = E + I R.
        """
        ohm, rpm = self.rating.resistance_ohm, self.drive.speed_rpm
        if ohm is None or rpm is None:
            return self.voltage_v
        return min(self.voltage_v, self.induced_v(rpm) + current_a * ohm)

    def induced_v(self, output_rpm: float) -> float:
        """Return the volts the motor induces at a speed of the output."""
        constant = self.rating.torque_constant_nmm_per_a / NMM_PER_NM
        return constant * output_rpm * self.train.ratio * RAD_PER_S_PER_RPM

    @property
    def _nmm_per_kgmm2(self) -> float:
        """Torque that speeding up asks for each kg mm2 at the output."""
        drive = self.drive
        if drive.speed_rpm is None or drive.speed_up_s is None:
            return 0.0
        per_s2 = drive.speed_rpm * RAD_PER_S_PER_RPM / drive.speed_up_s
        return per_s2 / KGMM2_PER_KGM2 * NMM_PER_NM

    @property
    def _cycle_nmm(self) -> Sequence[float]:
        return [nmm for nmm, _ in self.drive.cycle]


def drives_in(subject: Subject) -> Iterator[Driven]:
    """Return every drive of a job whose motor is rated."""
    if subject.whole is None:
        return
    assembly, done = subject.whole
    if not assembly.use.drives:
        return
    loads = followed(subject)
    asked = {one.name: one for one in assembly.hardware if isinstance(one, Belted)}
    for drive in assembly.use.drives:
        motor = standing_of(drive.motor, done.standing)
        if motor is None or not isinstance(motor.device.rating, MotorRating):
            continue
        output = _output(drive.output, done.standing) or motor
        axes = {one.name: one for one in done.standing}
        named = [asked[name] for name in drive.belts if name in asked]
        reaching = tuple(one for one in loads if _reaches(one, drive, motor, output))
        yield Driven(
            drive=drive,
            rating=motor.device.rating,
            factor=assembly.use.factors.load,
            loads=reaching,
            belts=belting(drive, named, motor=motor, standing=axes),
            encoder=_encoder(drive, done.standing),
            alone=not any(one.bearings for one in reaching),
        )


def unrated(subject: Subject) -> Iterator[Drive]:
    """Return every drive of a job whose motor says nothing of what it can do."""
    if subject.whole is None:
        return
    assembly, done = subject.whole
    for drive in assembly.use.drives:
        motor = standing_of(drive.motor, done.standing)
        if motor is None or not isinstance(motor.device.rating, MotorRating):
            yield drive


def standing_of(name: str, standing: Sequence[Standing]) -> Standing | None:
    """Return what stands under a name, the first where one name stands in several places."""
    for one in standing:
        if one.name == name or (one.asked is not None and one.asked.name == name):
            return one
    return None


def _output(name: str, standing: Sequence[Standing]) -> Standing | None:
    """Return the device a drive turns: the one named, or the hub on the panel named."""
    if not name:
        return None
    found = standing_of(name, standing)
    if found is not None:
        return found
    hubs = (one for one in standing if one.panel == name and one.device.grips)
    return next(hubs, None)


def _reaches(one: Followed, drive: Drive, motor: Standing, output: Standing) -> bool:
    """Return whether a load is for a drive's motor to turn: it turns with motor or output.

    To lie on their line is not enough: what holds the rig may do so too.
    """
    named = {one.load.on, *(act.load.on for act in one.acts)}
    if named & {drive.motor, drive.output} or one.motor is motor:
        return True
    return any(each is motor or each is output for each in one.turning)


def _encoder(drive: Drive, standing: Sequence[Standing]) -> EncoderRating | None:
    if isinstance(drive.encoder, EncoderRating):
        return drive.encoder
    found = standing_of(drive.encoder, standing) if drive.encoder else None
    rating = None if found is None else found.device.rating
    return rating if isinstance(rating, EncoderRating) else None


def three(number: float) -> str:
    """Return a figure as formulas print it: three digits, no power of ten."""
    if number == 0 or not math.isfinite(number):
        return f"{number:g}"
    decimals = max(2 - math.floor(math.log10(abs(number))), 0)
    said = f"{number:.{decimals}f}"
    return said.rstrip("0").rstrip(".") if "." in said else said
