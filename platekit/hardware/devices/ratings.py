"""Ratings: what a bought part can bear and give, and how it takes hold of a shaft.

Everything here is optional on a device. What is not given is not weighed, and the checks say so.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Hold = Literal["key", "clamp", "set screws", "press", "flat", "slip"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """How a device takes hold of a shaft in a bore.

    Attributes:
        bore_mm: Diameter of the bore.
        low_mm: Where it begins along the device's z.
        high_mm: Where it ends.
        outer_mm: Diameter of the material around it.
        hold: What passes torque on: "key", "clamp", "set screws", "press", "flat"; "slip" where
            nothing does.
        thread: Thread of the screws that clamp, or of the set screws; empty where unknown.
        screws: How many of them.
        key_mm: Length of the key; 0 where it is not said.
        across_flat_mm: From a flat of the bore to its far side; 0 where it is not said.
        interference_mm: How much wider the shaft is than the bore it is pressed into, on
            diameter, at the least; 0 where it is not said.
    """

    bore_mm: float
    low_mm: float
    high_mm: float
    outer_mm: float
    hold: Hold
    thread: str = ""
    screws: int = 0
    key_mm: float = 0.0
    across_flat_mm: float = 0.0
    interference_mm: float = 0.0

    @property
    def length_mm(self) -> float:
        """How long it holds the shaft."""
        return self.high_mm - self.low_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class MotorRating:
    """A direct-current motor with its gearbox, by the figures of its data sheet.

    Current, resistance, constants are the motor's; torque and backlash with `gear_` the gearbox's
    at its output. None for what the sheet does not say.

    Attributes:
        voltage_v: Rated voltage.
        torque_constant_nmm_per_a: Torque for each ampere, at the motor's own shaft.
        resistance_ohm: Of its winding, terminal to terminal, cold.
        no_load_a: Current of the free motor.
        continuous_a: Current it bears all day.
        peak_a: Current it bears for seconds.
        gear_ratio: Turns of the motor for one of the output; 1 without a gearbox.
        gear_efficiency: Share of the power that comes through the gearbox, 0..1.
        gear_continuous_nmm: Torque the gearbox bears all day.
        gear_peak_nmm: Torque it bears at times.
        gear_radial_n: Force across its output shaft that it bears.
        gear_axial_n: Force along its output shaft that it bears.
        backlash_deg: Play of the output shaft.
        rotor_inertia_kgmm2: Inertia of the rotor.
        thermal_k_per_w: Winding above air for each watt of heat.
        time_constant_s: In which the winding comes to 63 % of its last temperature.
        most_winding_c: Hottest its winding may be.
    """

    voltage_v: float
    torque_constant_nmm_per_a: float
    resistance_ohm: float | None = None
    no_load_a: float = 0.0
    continuous_a: float | None = None
    peak_a: float | None = None
    gear_ratio: float = 1.0
    gear_efficiency: float = 1.0
    gear_continuous_nmm: float | None = None
    gear_peak_nmm: float | None = None
    gear_radial_n: float | None = None
    gear_axial_n: float | None = None
    backlash_deg: float | None = None
    rotor_inertia_kgmm2: float | None = None
    thermal_k_per_w: float | None = None
    time_constant_s: float | None = None
    most_winding_c: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class EncoderRating:
    """An encoder by its data sheet.

    Attributes:
        lines: Lines of an incremental encoder for one turn; each gives four counts. 0 for none.
        bits: Bits of an absolute one for one turn; 0 for none.
        most_hz: Fastest it, or what reads it, can count; None where not said.
    """

    lines: int = 0
    bits: int = 0
    most_hz: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BearingRating:
    """What a deep groove ball bearing bears.

    Attributes:
        dynamic_n: Basic dynamic load rating C, ISO 281.
        static_n: Basic static load rating C0, ISO 76.
        f0: Factor f0 of ISO 281.
        source: Where the ratings come from.
    """

    dynamic_n: float
    static_n: float
    f0: float
    source: str


Rating = MotorRating | EncoderRating | BearingRating
