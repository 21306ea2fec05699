"""A hub pressed or shrunk on a shaft: the pressure between them, and what it holds.

Thick rings of Lame, elastic, of even length; the edges, where a longer shaft presses harder, are
left out, and so are heat and speed. For metals; plywood and acrylic creep or split under a press
fit. A pressed hub that slips turns freely: where somebody can be hurt, add a key or a pin.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_between, require_positive, require_zero_up

# Pressing wears the peaks down: this part of both surfaces' mean roughness depth Rz is lost of
# the interference measured over the peaks. DIN 7190-1, from memory.
ROUGHNESS_LOST = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Elastic:
    """How an elastic material gives."""

    modulus_mpa: float  # E, above 0
    poisson: float  # nu, from 0 to 0.5

    def __post_init__(self) -> None:
        require_positive(self.modulus_mpa, "modulus", "MPa")
        require_between(self.poisson, "Poisson's ratio", 0.0, 0.5)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """A hub on a shaft, seen across the axis."""

    diameter_mm: float  # of the joint, D
    hub_outside_mm: float  # Do, above D
    hub: Elastic
    shaft: Elastic
    shaft_bore_mm: float = 0.0  # Di, from 0 to below D

    def __post_init__(self) -> None:
        joint = require_positive(self.diameter_mm, "joint diameter", "mm")
        if require_positive(self.hub_outside_mm, "hub diameter", "mm") <= joint:
            raise PartError(
                f"hub diameter is {self.hub_outside_mm:g} mm on a joint of {joint:g} mm",
                remedy="give a hub larger than the joint",
            )
        if require_zero_up(self.shaft_bore_mm, "shaft bore", "mm") >= joint:
            raise PartError(
                f"shaft bore is {self.shaft_bore_mm:g} mm in a shaft of {joint:g} mm",
                remedy="give a bore smaller than the shaft",
            )


def effective_interference_mm(
    interference_mm: float, *, hub_rz_um: float, shaft_rz_um: float
) -> float:
    """Return what is left of a diametral interference once the peaks are pressed flat, in mm.

    Args:
        interference_mm: Shaft diameter less bore, as measured over the peaks.
        hub_rz_um: Mean roughness depth Rz of the bore, micrometres.
        shaft_rz_um: Mean roughness depth Rz of the shaft, micrometres.

    Returns:
        interference - 0.8 (Rz1 + Rz2), and 0 where nothing is left.

    Raises:
        PartError: A number is below 0.

    Source:
        DIN 7190-1, pressed cold (from memory).
    """
    measured = require_zero_up(interference_mm, "interference", "mm")
    hub = require_zero_up(hub_rz_um, "hub roughness", "um")
    shaft = require_zero_up(shaft_rz_um, "shaft roughness", "um")
    return max(0.0, measured - ROUGHNESS_LOST * (hub + shaft) / 1000)


def joint_pressure_mpa(fit: Pressed, *, interference_mm: float) -> float:
    """Return the pressure between hub and shaft, in MPa.

    p = delta / (D ((1/Eo)((Do^2 + D^2)/(Do^2 - D^2) + nuo) + (1/Ei)((D^2 + Di^2)/(D^2 - Di^2)
    - nui))), o for the hub and i for the shaft.

    Args:
        fit: Hub and shaft.
        interference_mm: Diametral interference delta that counts, roughness already taken off.

    Raises:
        PartError: The interference is below 0.

    Source:
        Lame's thick rings; Shigley, Mechanical Engineering Design, press and shrink fits
        (from memory).
    """
    delta = require_zero_up(interference_mm, "interference", "mm")
    hub_gives = (_ring(fit.hub_outside_mm, fit.diameter_mm) + fit.hub.poisson) / (
        fit.hub.modulus_mpa
    )
    shaft_gives = (_ring(fit.diameter_mm, fit.shaft_bore_mm) - fit.shaft.poisson) / (
        fit.shaft.modulus_mpa
    )
    return delta / (fit.diameter_mm * (hub_gives + shaft_gives))


def hub_hoop_mpa(fit: Pressed, *, pressure_mpa: float) -> float:
    """Return the pull round the bore of the hub, its largest: p (Do^2 + D^2)/(Do^2 - D^2), in MPa.

    Raises:
        PartError: The pressure is below 0.

    Source:
        Lame; Shigley, Mechanical Engineering Design, ch. 3 (from memory).
    """
    pressure = require_zero_up(pressure_mpa, "pressure", "MPa")
    return pressure * _ring(fit.hub_outside_mm, fit.diameter_mm)


def shaft_hoop_mpa(fit: Pressed, *, pressure_mpa: float) -> float:
    """Return the hoop stress of the shaft where it is largest, below 0 as it is a push, in MPa.

    A solid shaft has -p everywhere; a hollow one -2 p D^2 / (D^2 - Di^2) round its bore.

    Raises:
        PartError: The pressure is below 0.

    Source:
        Lame; Shigley, Mechanical Engineering Design, ch. 3 (from memory).
    """
    pressure = require_zero_up(pressure_mpa, "pressure", "MPa")
    if fit.shaft_bore_mm == 0:
        return -pressure
    return -2 * pressure / (1 - (fit.shaft_bore_mm / fit.diameter_mm) ** 2)


def pressed_torque_nmm(
    *, pressure_mpa: float, friction: float, diameter_mm: float, length_mm: float
) -> float:
    """Return the torque a pressed joint holds, (pi/2) mu p D^2 L, in N mm.

    Args:
        pressure_mpa: Pressure p in the joint.
        friction: Friction coefficient mu round the shaft.
        diameter_mm: Joint diameter D.
        length_mm: Joint length L, chamfers not counted.

    Raises:
        PartError: A number is impossible.

    Source:
        Derived: friction mu p on a skin of pi D L, at half a diameter.
    """
    return (
        diameter_mm
        / 2
        * pressed_push_n(
            pressure_mpa=pressure_mpa,
            friction=friction,
            diameter_mm=diameter_mm,
            length_mm=length_mm,
        )
    )


def pressed_push_n(
    *, pressure_mpa: float, friction: float, diameter_mm: float, length_mm: float
) -> float:
    """Return the force along the axis that a pressed joint holds, pi mu p D L, in N.

    With the friction of pressing in, it is also the force of the press at the end of the stroke.

    Args:
        pressure_mpa: Pressure p in the joint.
        friction: Friction coefficient mu along the shaft.
        diameter_mm: Joint diameter D.
        length_mm: Joint length L, chamfers not counted.

    Raises:
        PartError: A number is impossible.

    Source:
        Derived: friction mu p on a skin of pi D L.
    """
    pressure = require_zero_up(pressure_mpa, "pressure", "MPa")
    mu = require_positive(friction, "friction")
    diameter = require_positive(diameter_mm, "joint diameter", "mm")
    return math.pi * mu * pressure * diameter * require_positive(length_mm, "joint length", "mm")


def _ring(outside_mm: float, inside_mm: float) -> float:
    """Return (o^2 + i^2) / (o^2 - i^2), which both rings of Lame's joint turn on."""
    return (outside_mm**2 + inside_mm**2) / (outside_mm**2 - inside_mm**2)
