"""Ratings of motors and encoders, from the figures their sheets really print."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.errors import PartError, concerning
from platekit.formulas.dc_motors import torque_constant_nmm_per_a
from platekit.formulas.quantities import (
    require_between,
    require_positive,
    require_whole,
    require_zero_up,
)
from platekit.formulas.shaft_power import NMM_PER_NM, RAD_PER_S_PER_RPM, torque_of_power_nmm
from platekit.hardware.devices.ratings import EncoderRating, MotorRating

KGMM2_PER_KGCM2 = 100.0
# No encoder tells a turn more finely, no winding stands more: a digit has slipped.
MOST_BITS = 32
MOST_WINDING_C = 300.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """Figures of a sheet from which constant and resistance follow; None for what is not said."""

    voltage_v: float
    no_load_a: float
    constant_nmm_per_a: float | None
    resistance_ohm: float | None
    torque_nmm: float | None
    speed_rpm: float | None
    current_a: float | None
    no_load_rpm: float | None
    stall_nmm: float | None
    stall_a: float | None


def motor_rating(
    *,
    voltage_v: float,
    power_w: float | None = None,
    speed_rpm: float | None = None,
    current_a: float | None = None,
    no_load_rpm: float | None = None,
    no_load_a: float = 0.0,
    stall_nm: float | None = None,
    stall_a: float | None = None,
    torque_constant_nm_per_a: float | None = None,
    speed_constant_rpm_per_v: float | None = None,
    resistance_ohm: float | None = None,
    continuous_a: float | None = None,
    peak_a: float | None = None,
    gear_ratio: float = 1.0,
    gear_efficiency: float | None = None,
    gear_continuous_nm: float | None = None,
    gear_peak_nm: float | None = None,
    gear_radial_n: float | None = None,
    gear_axial_n: float | None = None,
    backlash_deg: float | None = None,
    rotor_inertia_kgcm2: float | None = None,
    thermal_k_per_w: float | None = None,
    time_constant_s: float | None = None,
    most_winding_c: float | None = None,
) -> MotorRating:
    """Return what a direct-current motor and its gearbox can do, by their data sheet.

    Give what the sheet says. The torque constant is taken as given, else worked out from the
    speed constant, from rated power, speed and current, from the held shaft's torque and current,
    or from the free shaft's speed; the resistance likewise. All figures of the motor are those of
    its own shaft, before the gearbox.

    Args:
        voltage_v: Rated voltage.
        power_w: Rated power at the motor's shaft.
        speed_rpm: Speed of the motor's shaft at rated power.
        current_a: Current at rated power.
        no_load_rpm: Speed of the free shaft at rated voltage.
        no_load_a: Current of the free shaft.
        stall_nm: Torque of the held shaft at rated voltage.
        stall_a: Current of the held shaft at rated voltage.
        torque_constant_nm_per_a: Torque for each ampere.
        speed_constant_rpm_per_v: Speed for each volt.
        resistance_ohm: Of the winding, terminal to terminal, cold.
        continuous_a: Current it bears all day; left out, `current_a`.
        peak_a: Current it bears for seconds.
        gear_ratio: Turns of the motor for one of the gearbox's shaft.
        gear_efficiency: Share of the power that comes through the gearbox; needed with one.
        gear_continuous_nm: Torque the gearbox bears all day.
        gear_peak_nm: Torque it bears at times.
        gear_radial_n: Force across its shaft that it bears.
        gear_axial_n: Force along its shaft that it bears.
        backlash_deg: Play of its shaft while the motor is held.
        rotor_inertia_kgcm2: Moment of inertia of the rotor.
        thermal_k_per_w: Winding above air for each watt of heat.
        time_constant_s: In which the winding comes to 63 % of its last temperature.
        most_winding_c: Hottest its winding may be.

    Raises:
        PartError: A figure that cannot be, figures that contradict each other, or too few of them
            for a torque constant.

    Source:
        V = E + I R and T = Kt (I - I0), see `platekit.formulas.dc_motors`.
    """
    with concerning(part="motor_rating"):
        rated_v = require_positive(voltage_v, "voltage_v", "V")
        sheet = _Sheet(
            voltage_v=rated_v,
            no_load_a=require_zero_up(no_load_a, "no_load_a", "A"),
            constant_nmm_per_a=_constant_given(torque_constant_nm_per_a, speed_constant_rpm_per_v),
            resistance_ohm=_positive(resistance_ohm, "resistance_ohm", "ohm"),
            torque_nmm=_rated_torque_nmm(rated_v, power_w, speed_rpm, current_a),
            speed_rpm=_positive(speed_rpm, "speed_rpm", "rpm"),
            current_a=_positive(current_a, "current_a", "A"),
            no_load_rpm=_positive(no_load_rpm, "no_load_rpm", "rpm"),
            stall_nmm=_nmm(stall_nm, "stall_nm"),
            stall_a=_positive(stall_a, "stall_a", "A"),
        )
        _require_order(sheet)
        constant = _constant_nmm_per_a(sheet)
        all_day_a = current_a if continuous_a is None else continuous_a
        inertia = _positive(rotor_inertia_kgcm2, "rotor_inertia_kgcm2", "kg cm2")
        return MotorRating(
            voltage_v=rated_v,
            torque_constant_nmm_per_a=constant,
            resistance_ohm=_resistance_ohm(sheet, constant),
            no_load_a=sheet.no_load_a,
            continuous_a=_positive(all_day_a, "continuous_a", "A"),
            peak_a=_peak_a(peak_a, all_day_a),
            gear_ratio=require_positive(gear_ratio, "gear_ratio"),
            gear_efficiency=_gear_efficiency(gear_ratio, gear_efficiency),
            gear_continuous_nmm=_nmm(gear_continuous_nm, "gear_continuous_nm"),
            gear_peak_nmm=_nmm(gear_peak_nm, "gear_peak_nm"),
            gear_radial_n=_positive(gear_radial_n, "gear_radial_n", "N"),
            gear_axial_n=_positive(gear_axial_n, "gear_axial_n", "N"),
            backlash_deg=None
            if backlash_deg is None
            else require_zero_up(backlash_deg, "backlash_deg", "degrees"),
            rotor_inertia_kgmm2=None if inertia is None else inertia * KGMM2_PER_KGCM2,
            thermal_k_per_w=_positive(thermal_k_per_w, "thermal_k_per_w", "K/W"),
            time_constant_s=_positive(time_constant_s, "time_constant_s", "s"),
            most_winding_c=None
            if most_winding_c is None
            else require_between(most_winding_c, "most_winding_c", 1.0, MOST_WINDING_C, "C"),
        )


def encoder_rating(*, lines: int = 0, bits: int = 0, most_hz: float | None = None) -> EncoderRating:
    """Return what an encoder tells, by its data sheet.

    Args:
        lines: Lines of an incremental encoder for one turn, or pulses of one of its channels;
            each gives four counts. Or
        bits: bits of an absolute one for one turn.
        most_hz: Counts in a second, edges of both channels together, that it or what reads it
            keeps up with.

    Raises:
        PartError: Both or neither of lines and bits, or a figure that cannot be.
    """
    with concerning(part="encoder_rating"):
        require_whole(lines, "lines", least=0)
        require_whole(bits, "bits", least=0)
        if (lines == 0) == (bits == 0):
            raise PartError(
                f"lines are {lines} and bits are {bits}",
                remedy="give lines of an incremental encoder, or bits of an absolute one",
            )
        require_between(bits, "bits", 0, MOST_BITS)
        return EncoderRating(lines=lines, bits=bits, most_hz=_positive(most_hz, "most_hz", "Hz"))


def _positive(value: float | None, name: str, unit: str) -> float | None:
    return None if value is None else require_positive(value, name, unit)


def _nmm(torque_nm: float | None, name: str) -> float | None:
    return None if torque_nm is None else require_positive(torque_nm, name, "N m") * NMM_PER_NM


def _constant_given(nm_per_a: float | None, rpm_per_v: float | None) -> float | None:
    given = _nmm(nm_per_a, "torque_constant_nm_per_a")
    if given is not None and rpm_per_v is not None:
        raise PartError(
            "both torque_constant_nm_per_a and speed_constant_rpm_per_v are given",
            remedy="give one: they are one figure in two units",
        )
    if rpm_per_v is None:
        return given
    return torque_constant_nmm_per_a(
        require_positive(rpm_per_v, "speed_constant_rpm_per_v", "rpm/V")
    )


def _rated_torque_nmm(
    voltage_v: float, power_w: float | None, speed_rpm: float | None, current_a: float | None
) -> float | None:
    """Return the torque at rated power; None where power or speed is not said.

    Raises:
        PartError: More power would come out than goes in.
    """
    if power_w is None:
        return None
    require_positive(power_w, "power_w", "W")
    if current_a is not None and power_w >= voltage_v * require_positive(
        current_a, "current_a", "A"
    ):
        raise PartError(
            f"power_w is {power_w:g} W at its shaft, and {voltage_v:g} V x {current_a:g} A = "
            f"{voltage_v * current_a:g} W goes in",
            remedy="give the power at the shaft and the current at that power",
        )
    if speed_rpm is None:
        return None
    return torque_of_power_nmm(power_w, require_positive(speed_rpm, "speed_rpm", "rpm"))


def _require_order(sheet: _Sheet) -> None:
    """Raise unless free, rated and held shaft stand in the order they must.

    Raises:
        PartError: They do not.
    """
    for low, high, name, other in (
        (sheet.no_load_a, sheet.current_a, "no_load_a", "current_a"),
        (sheet.no_load_a, sheet.stall_a, "no_load_a", "stall_a"),
        (sheet.current_a, sheet.stall_a, "current_a", "stall_a"),
        (sheet.speed_rpm, sheet.no_load_rpm, "speed_rpm", "no_load_rpm"),
        (sheet.torque_nmm, sheet.stall_nmm, "rated torque in N mm", "stall_nm in N mm"),
    ):
        if low is not None and high is not None and low >= high:
            raise PartError(
                f"{name} is {low:g} and {other} is {high:g}: the second must be the greater",
                remedy=f"check {name} and {other} on the sheet",
            )


def _constant_nmm_per_a(sheet: _Sheet) -> float:
    """Return the torque constant, given or worked out; N mm per A.

    Raises:
        PartError: Too few figures.
    """
    if sheet.constant_nmm_per_a is not None:
        return sheet.constant_nmm_per_a
    if sheet.torque_nmm is not None and sheet.current_a is not None:
        return sheet.torque_nmm / (sheet.current_a - sheet.no_load_a)
    if sheet.stall_nmm is not None and sheet.stall_a is not None:
        return sheet.stall_nmm / (sheet.stall_a - sheet.no_load_a)
    if sheet.no_load_rpm is not None:
        driving_v = sheet.voltage_v - sheet.no_load_a * _free_ohm(sheet)
        if driving_v > 0.0:
            return driving_v / (sheet.no_load_rpm * RAD_PER_S_PER_RPM) * NMM_PER_NM
        raise PartError(
            f"no_load_a is {sheet.no_load_a:g} A: the whole voltage is lost in the winding",
            remedy="check no_load_a and resistance_ohm on the sheet",
        )
    raise PartError(
        "its torque for each ampere cannot be worked out",
        remedy="give torque_constant_nm_per_a, or speed_constant_rpm_per_v, or power_w with "
        "speed_rpm and current_a, or stall_nm with stall_a, or no_load_rpm",
    )


def _free_ohm(sheet: _Sheet) -> float:
    """Return the resistance that the free shaft's little current passes: known, or left out."""
    if sheet.resistance_ohm is not None:
        return sheet.resistance_ohm
    return 0.0 if sheet.stall_a is None else sheet.voltage_v / sheet.stall_a


def _resistance_ohm(sheet: _Sheet, constant: float) -> float | None:
    """Return the winding's resistance, given or worked out; None where no figures say it.

    Raises:
        PartError: What was given leaves nothing for the winding.
    """
    if sheet.resistance_ohm is not None:
        return sheet.resistance_ohm
    if sheet.stall_a is not None:
        return sheet.voltage_v / sheet.stall_a
    if sheet.stall_nmm is not None:
        return sheet.voltage_v / (sheet.stall_nmm / constant + sheet.no_load_a)
    if sheet.speed_rpm is not None and sheet.current_a is not None:
        induced_v = constant / NMM_PER_NM * sheet.speed_rpm * RAD_PER_S_PER_RPM
        if induced_v >= sheet.voltage_v:
            raise PartError(
                f"at {sheet.speed_rpm:g} rpm it would induce {induced_v:.3g} V of its "
                f"{sheet.voltage_v:g} V",
                remedy="check power, speed and current, or constant and speed, on the sheet; "
                "no_load_a is left out or too great",
            )
        return (sheet.voltage_v - induced_v) / sheet.current_a
    return None


def _peak_a(peak_a: float | None, continuous_a: float | None) -> float | None:
    if peak_a is None:
        return None
    require_positive(peak_a, "peak_a", "A")
    if continuous_a is not None and peak_a < continuous_a:
        raise PartError(
            f"peak_a is {peak_a:g} A and it bears {continuous_a:g} A all day",
            remedy="give the current it bears for seconds, which is no less",
        )
    return float(peak_a)


def _gear_efficiency(ratio: float, efficiency: float | None) -> float:
    """Return the gearbox's efficiency; 1 without a gearbox.

    Raises:
        PartError: A gearbox without one: taken as loss-free it would promise too much.
    """
    if efficiency is None:
        if ratio == 1.0:
            return 1.0
        raise PartError(
            f"gear_ratio is {ratio:g} and gear_efficiency is not said",
            remedy="give gear_efficiency: 0.90 to 0.97 for each planetary stage, 0.3 to 0.9 for a "
            "worm (common practice, no source)",
        )
    require_positive(efficiency, "gear_efficiency")
    return require_between(efficiency, "gear_efficiency", 0.0, 1.0)
