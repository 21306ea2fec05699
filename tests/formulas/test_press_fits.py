"""Pressed joints against the short form of one material, and rings solved step by step."""

import math

import pytest

from platekit.errors import PartError
from platekit.formulas.press_fits import (
    Elastic,
    Pressed,
    effective_interference_mm,
    hub_hoop_mpa,
    joint_pressure_mpa,
    pressed_push_n,
    pressed_torque_nmm,
    shaft_hoop_mpa,
)

STEEL = Elastic(modulus_mpa=206e3, poisson=0.3)
ALUMINIUM = Elastic(modulus_mpa=70e3, poisson=0.33)
COLLAR = Pressed(diameter_mm=20, hub_outside_mm=50, hub=STEEL, shaft=STEEL)
SLEEVE = Pressed(diameter_mm=24, hub_outside_mm=36, hub=ALUMINIUM, shaft=STEEL, shaft_bore_mm=12)


def test_steel_on_steel_by_the_short_form():
    """One material, solid shaft: p = E delta/(2 D)(1 - D^2/Do^2), handbook form (from memory)."""
    pressure = joint_pressure_mpa(COLLAR, interference_mm=0.030)
    assert pressure == pytest.approx(206e3 * 0.030 / 40 * (1 - 400 / 2500))
    assert pressure == pytest.approx(129.8, abs=0.05)
    torque = pressed_torque_nmm(pressure_mpa=pressure, friction=0.12, diameter_mm=20, length_mm=20)
    # The same handbook form carried on by hand.
    assert torque == pytest.approx(195.7e3, rel=5e-4)


def _grown_mm(material, inner, outer, *, pressed_inside, pressed_outside):
    """Return the growth of both radii under unit pressure, by Runge-Kutta through the wall.

    u' = s_r (1 - nu^2)/E - nu u/r and s_r' = (s_h - s_r)/r, plane stress; two shots are
    mixed so that both skins carry the pressure asked for.
    """
    e, nu = material.modulus_mpa, material.poisson

    def slopes(r, u, radial):
        strain = (1 - nu**2) / e * radial - nu * u / r
        hoop = e * u / r + nu * radial
        return strain, (hoop - radial) / r

    def shoot(u, radial, steps=2000):
        h = (outer - inner) / steps
        for k in range(steps):
            r = inner + k * h
            a = slopes(r, u, radial)
            b = slopes(r + h / 2, u + h / 2 * a[0], radial + h / 2 * a[1])
            c = slopes(r + h / 2, u + h / 2 * b[0], radial + h / 2 * b[1])
            d = slopes(r + h, u + h * c[0], radial + h * c[1])
            u += h / 6 * (a[0] + 2 * b[0] + 2 * c[0] + d[0])
            radial += h / 6 * (a[1] + 2 * b[1] + 2 * c[1] + d[1])
        return u, radial

    still, moved = shoot(0.0, -pressed_inside), shoot(1e-3, -pressed_inside)
    share = (-pressed_outside - still[1]) / (moved[1] - still[1])
    start = 1e-3 * share
    end = still[0] + share * (moved[0] - still[0])
    return start, end


def test_two_materials_and_a_hollow_shaft_by_steps():
    """The bore's growth and the shaft's shrinking under the pressure make up the interference."""
    pressure = joint_pressure_mpa(SLEEVE, interference_mm=0.02)
    bore, _ = _grown_mm(ALUMINIUM, 12, 18, pressed_inside=1, pressed_outside=0)
    hole, skin = _grown_mm(STEEL, 6, 12, pressed_inside=0, pressed_outside=1)
    assert 2 * pressure * (bore - skin) == pytest.approx(0.02, rel=1e-6)
    # Hoop strain is u/r, and hoop = E u/r + nu s_r.
    assert hub_hoop_mpa(SLEEVE, pressure_mpa=1) == pytest.approx(70e3 * bore / 12 - 0.33, rel=1e-6)
    assert shaft_hoop_mpa(SLEEVE, pressure_mpa=1) == pytest.approx(206e3 * hole / 6, rel=1e-6)


def test_a_solid_shaft_is_pressed_alike_everywhere():
    """Half the hoop stress of a shaft with a pinhole: the classic doubling at a small hole."""
    pinhole = Pressed(diameter_mm=20, hub_outside_mm=50, hub=STEEL, shaft=STEEL, shaft_bore_mm=1e-4)
    assert shaft_hoop_mpa(COLLAR, pressure_mpa=80) == -80
    assert shaft_hoop_mpa(pinhole, pressure_mpa=80) == pytest.approx(-160)


def test_push_times_half_a_diameter_is_the_torque():
    """Friction mu p on the skin pi D L; its arm is the radius (statics)."""
    joint = {"pressure_mpa": 40, "friction": 0.1, "diameter_mm": 15, "length_mm": 10}
    assert pressed_push_n(**joint) == pytest.approx(math.pi * 0.1 * 40 * 150)
    assert pressed_torque_nmm(**joint) == pytest.approx(7.5 * math.pi * 0.1 * 40 * 150)


def test_roughness_eats_the_interference():
    """DIN 7190 (from memory): 0.8 (Rz1 + Rz2); Rz 6.3 and 4 take 8.24 um, never more than is."""
    left = effective_interference_mm(0.03, hub_rz_um=6.3, shaft_rz_um=4)
    assert left == pytest.approx(0.030 - 0.00824)
    assert effective_interference_mm(0.005, hub_rz_um=6.3, shaft_rz_um=4) == 0


def test_impossible_joints_are_refused():
    """A hub inside its shaft, a shaft all bore, a material that grows when pulled."""
    with pytest.raises(PartError, match="hub diameter is 20 mm on a joint of 20 mm"):
        Pressed(diameter_mm=20, hub_outside_mm=20, hub=STEEL, shaft=STEEL)
    with pytest.raises(PartError, match="shaft bore is 21 mm in a shaft of 20 mm"):
        Pressed(diameter_mm=20, hub_outside_mm=40, hub=STEEL, shaft=STEEL, shaft_bore_mm=21)
    with pytest.raises(PartError, match=r"Poisson's ratio is 0\.6"):
        Elastic(modulus_mpa=1000, poisson=0.6)
