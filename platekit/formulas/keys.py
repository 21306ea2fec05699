"""What a key between shaft and hub carries: by shear along it, by pressure on its sides.

The torque is taken as spread evenly over the key's straight length. A parallel key with round ends
bears on its length less its width; give that. A motor that reverses, or starts against a load,
works the keyway loose long before these stresses are reached: take the limits low.
"""

from __future__ import annotations

from platekit.formulas.quantities import require_positive, require_zero_up


def key_shear_mpa(
    torque_nmm: float, *, shaft_mm: float, width_mm: float, length_mm: float
) -> float:
    """Return the mean shear stress along a key, 2 T / (D b L), in MPa.

    Args:
        torque_nmm: Torque T, 0 or more.
        shaft_mm: Shaft diameter D; the sheared plane is taken at its skin.
        width_mm: Width b of the key.
        length_mm: Length L over which it bears.

    Raises:
        PartError: A number is impossible.

    Source:
        Any book of machine elements, e.g. Khurmi & Gupta, Machine Design, ch. 13 (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    shaft = require_positive(shaft_mm, "shaft diameter", "mm")
    width = require_positive(width_mm, "key width", "mm")
    return 2 * torque / (shaft * width * require_positive(length_mm, "key length", "mm"))


def key_side_pressure_mpa(
    torque_nmm: float, *, shaft_mm: float, height_mm: float, length_mm: float
) -> float:
    """Return the mean pressure on the sides of a key, 4 T / (D h L), in MPa.

    Half the height h is taken to sit in the hub and half in the shaft. In the parallel keys of
    ISO 773 a little more sits in the shaft, so the hub is pressed about a tenth harder.

    Args:
        torque_nmm: Torque T, 0 or more.
        shaft_mm: Shaft diameter D.
        height_mm: Height h of the key.
        length_mm: Length L over which it bears.

    Raises:
        PartError: A number is impossible.

    Source:
        Any book of machine elements, e.g. Khurmi & Gupta, Machine Design, ch. 13 (from memory).
    """
    torque = require_zero_up(torque_nmm, "torque", "N mm")
    shaft = require_positive(shaft_mm, "shaft diameter", "mm")
    height = require_positive(height_mm, "key height", "mm")
    return 4 * torque / (shaft * height * require_positive(length_mm, "key length", "mm"))


def key_torque_nmm(
    *,
    shaft_mm: float,
    width_mm: float,
    height_mm: float,
    length_mm: float,
    shear_mpa: float,
    pressure_mpa: float,
) -> float:
    """Return the torque at which a key reaches the first of its two limits, in N mm.

    Args:
        shaft_mm: Shaft diameter.
        width_mm: Width of the key.
        height_mm: Height of the key.
        length_mm: Length over which it bears.
        shear_mpa: Shear stress allowed in the key.
        pressure_mpa: Pressure allowed on its sides, of the softest of key, shaft and hub.

    Raises:
        PartError: A number is impossible.

    Source:
        The two formulas above, solved for the torque.
    """
    shear = require_positive(shear_mpa, "shear stress", "MPa")
    pressure = require_positive(pressure_mpa, "side pressure", "MPa")
    by_shear = shear / key_shear_mpa(1.0, shaft_mm=shaft_mm, width_mm=width_mm, length_mm=length_mm)
    by_pressure = pressure / key_side_pressure_mpa(
        1.0, shaft_mm=shaft_mm, height_mm=height_mm, length_mm=length_mm
    )
    return min(by_shear, by_pressure)
