"""Wires against IEC 60228, IEC 60364-5-52 and IEC 60204-1, typed apart from the tables."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.wires import (
    AMPACITY_A,
    air_factor,
    ampacity_a,
    bunch_factor,
    smallest_area_mm2,
    two_way_drop_v,
    wire_resistance_ohm,
)


@pytest.mark.parametrize(
    ("area_mm2", "ohm_per_km"),
    [(1.5, 12.1), (2.5, 7.41), (4, 4.61), (6, 3.08), (10, 1.83), (16, 1.15), (25, 0.727)],
)
def test_plain_copper_stays_under_the_standards_largest_resistance(area_mm2, ohm_per_km):
    """IEC 60228, solid and stranded wire at 20 C, from memory: a few per cent above rho / A."""
    ours = wire_resistance_ohm(length_m=1000, area_mm2=area_mm2)
    assert 0.92 * ohm_per_km < ours < ohm_per_km


@pytest.mark.parametrize("area_mm2", [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25])
def test_flexible_wire_has_up_to_a_sixth_more(area_mm2):
    """Physics bounds the table: never below rho / A; longer by lay and thinner by at most 17 %."""
    plain = wire_resistance_ohm(length_m=1000, area_mm2=area_mm2)
    flexible = wire_resistance_ohm(length_m=1000, area_mm2=area_mm2, flexible=True)
    assert 1.05 < flexible / plain < 1.17
    for flexible in (False, True):
        figures = {"length_m": 5, "area_mm2": area_mm2, "flexible": flexible}
        warm = wire_resistance_ohm(**figures, wire_c=70) / wire_resistance_ohm(**figures)
        assert warm == pytest.approx(1 + 0.00393 * 50)


def test_copper_at_70_degrees():
    """IEC 60364-5-52 takes 0.0225 ohm mm2/m for warm copper, 1.25 times that at 20 C (memory)."""
    cold = wire_resistance_ohm(length_m=1, area_mm2=1)
    assert cold == pytest.approx(0.01724, abs=5e-6)
    warm = wire_resistance_ohm(length_m=1, area_mm2=1, wire_c=70)
    assert warm == pytest.approx(0.01724 * 1.1965, rel=1e-3)
    assert warm < 0.0225


def test_drop_of_ten_amperes_over_three_metres():
    """2 x 3 m x 10 A x 0.01724 / 1.5 = 0.69 V, worked by hand."""
    assert two_way_drop_v(current_a=10, length_m=3, area_mm2=1.5) == pytest.approx(0.69, abs=0.005)


# IEC 60364-5-52 table B.52.4, B1 at 30 C, three loaded PVC wires, from memory; times 0.87 at 40 C.
B1_AT_30_C = {1.5: 15.5, 2.5: 21, 4: 28, 6: 36, 10: 50, 16: 68, 25: 89}


@pytest.mark.parametrize("area_mm2", B1_AT_30_C)
def test_ampacity_agrees_with_the_installation_standard(area_mm2):
    """Two standards, one wire: B1 at 40 C within half an ampere of 0.87 times that at 30 C."""
    assert ampacity_a(area_mm2, "B1") == pytest.approx(B1_AT_30_C[area_mm2] * 0.87, abs=0.55)


@pytest.mark.parametrize(
    ("air_c", "factor"),
    [(30, 1.15), (35, 1.08), (40, 1.00), (45, 0.91), (50, 0.82), (55, 0.71), (60, 0.58)],
)
def test_air_factor_is_that_of_the_standard(air_c, factor):
    """IEC 60204-1 table D.1, PVC, from memory."""
    assert air_factor(air_c) == pytest.approx(factor, abs=0.0055)


def test_ampacity_grows_with_area_slower_than_area():
    """A thicker wire has less skin for its copper: A/mm2 falls (physics of cooling)."""
    areas = sorted(AMPACITY_A)
    for laying in ("B1", "B2", "C", "E"):
        amperes = [ampacity_a(area, laying) for area in areas]
        assert amperes == sorted(set(amperes))
        densities = [a / area for a, area in zip(amperes, areas, strict=True)]
        assert densities == sorted(densities, reverse=True)
    for row in AMPACITY_A.values():
        assert row["B2"] < row["B1"] < row["C"] < row["E"]


@pytest.mark.parametrize(
    ("circuits", "factor"), [(1, 1.0), (2, 0.8), (3, 0.65), (4, 0.65), (5, 0.57), (9, 0.5)]
)
def test_bunched_circuits_count_as_the_next_larger_bunch(circuits, factor):
    """IEC 60204-1 table D.2, from memory; never above IEC 60364-5-52's own figures between."""
    assert bunch_factor(circuits) == factor
    iec_60364 = {1: 1.0, 2: 0.8, 3: 0.7, 4: 0.65, 5: 0.6, 9: 0.5}
    assert bunch_factor(circuits) <= iec_60364[circuits]


def test_smallest_area_is_the_first_that_carries():
    """The next smaller one does not."""
    areas = sorted(AMPACITY_A)
    for current in (5, 13.1, 13.2, 20, 39, 69):
        area = smallest_area_mm2(current)
        assert ampacity_a(area) >= current
        smaller = [a for a in areas if a < area]
        assert not smaller or ampacity_a(smaller[-1]) < current
    assert smallest_area_mm2(20, air_c=55) > smallest_area_mm2(20)
    together = ampacity_a(2.5, air_c=50, circuits=4)
    assert together == pytest.approx(17.4 * 0.82 * 0.65, rel=0.01)  # D.1 and D.2 by hand


def test_what_no_table_holds_is_refused():
    """Area, way of laying, air, circuits, current."""
    with pytest.raises(UnknownNameError, match="unknown wire area '3'"):
        ampacity_a(3)
    with pytest.raises(UnknownNameError, match="unknown wire area '3'"):
        wire_resistance_ohm(length_m=1, area_mm2=3, flexible=True)
    with pytest.raises(UnknownNameError, match="unknown way of laying"):
        ampacity_a(1.5, "F")
    with pytest.raises(PartError, match="air temperature is 65 C"):
        ampacity_a(1.5, air_c=65)
    with pytest.raises(PartError, match="number of circuits is 10"):
        bunch_factor(10)
    with pytest.raises(PartError, match="current is 80 A"):
        smallest_area_mm2(80)
