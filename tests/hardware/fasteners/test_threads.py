"""Threads against the formulas of their standards."""

import math

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.devices.device import Metal
from platekit.hardware.fasteners.engagement import engagement_diameters, least_engagement_mm
from platekit.hardware.fasteners.threads import known_threads, metric_thread

# ISO 261 coarse pitches, from memory of the standard.
PITCH_MM = {
    "M2": 0.4, "M2.5": 0.45, "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5,
    "M12": 1.75, "M16": 2.0,
}  # fmt: skip


def test_the_coarse_series_is_that_of_iso_261():
    """Every thread of the table, and its pitch."""
    assert {name: metric_thread(name).pitch_mm for name in known_threads()} == PITCH_MM


@pytest.mark.parametrize("name", PITCH_MM)
def test_the_stress_area_follows_its_formula(name):
    """ISO 898-1: pi/4 (d - 0.9382 P)^2, to three digits as its tables give it."""
    one = metric_thread(name)
    d_mm = float(name[1:])
    area = math.pi / 4 * (d_mm - 0.9382 * PITCH_MM[name]) ** 2
    assert one.nominal_mm == d_mm
    assert one.stress_area_mm2 == pytest.approx(float(f"{area:.3g}"), abs=1e-9)


@pytest.mark.parametrize("name", PITCH_MM)
def test_the_drill_leaves_a_core_within_its_tolerance(name):
    """The drilled hole lies between the least and the largest core of a 6H thread.

    Source: ISO 68-1, least core d - 1.0825 P; ISO 965-1, tolerance of grade 6 in micrometres,
    433 P - 190 P^1.22 up to P = 0.8 and 230 P^0.7 from P = 1. Formulas from memory.
    """
    pitch = PITCH_MM[name]
    least_mm = float(name[1:]) - 1.0825 * pitch
    grade_6_um = 230 * pitch**0.7 if pitch >= 1 else 433 * pitch - 190 * pitch**1.22
    assert least_mm <= metric_thread(name).tapping_drill_mm <= least_mm + grade_6_um / 1000


def test_an_unknown_thread_offers_the_nearest():
    """Nothing is guessed."""
    with pytest.raises(UnknownNameError, match=r"unknown thread 'M7'.*known: M10"):
        metric_thread("M7")
    with pytest.raises(UnknownNameError, match="unknown thread"):
        least_engagement_mm("M7", "steel")


# Shear strength of the tapped metal, N/mm2: 0.6 of the tensile strength of plain grades (steel
# 360, brass 350, wrought aluminium 200). Handbook values from memory, the weak end of each.
SHEAR_MPA: dict[Metal, float] = {"steel": 216.0, "brass": 210.0, "aluminium": 120.0}


@pytest.mark.parametrize("metal", SHEAR_MPA)
@pytest.mark.parametrize("name", PITCH_MM)
def test_a_screw_breaks_before_its_hole_strips(name, metal):
    """A screw of class 8.8 (800 N/mm2) is weaker than the engaged thread in the tapped metal.

    Source: shear area of an internal thread, pi d (1/2 + 0.57735 * 0.6495) for each mm engaged
    (FED-STD-H28 with the basic sizes of ISO 68-1, from memory).
    """
    d_mm = float(name[1:])
    area_mm2 = math.pi / 4 * (d_mm - 0.9382 * PITCH_MM[name]) ** 2
    per_mm = math.pi * d_mm * (0.5 + 0.57735 * 0.6495) * SHEAR_MPA[metal]
    needed_mm = 800 * area_mm2 / per_mm
    assert needed_mm <= least_engagement_mm(name, metal) <= 2.5 * needed_mm


def test_softer_metal_asks_for_more_thread():
    """In diameters: steel < brass < aluminium < plastic; 5 mm of M5 in steel."""
    metals: tuple[Metal, ...] = ("steel", "brass", "aluminium", "plastic")
    asked = [engagement_diameters(metal) for metal in metals]
    assert asked == sorted(set(asked))
    assert least_engagement_mm("M5", "steel") == 5.0


def test_an_unknown_metal_offers_the_nearest():
    """There is no rule to guess."""
    with pytest.raises(UnknownNameError, match="did you mean brass"):
        engagement_diameters("bras")
