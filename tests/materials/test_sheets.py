"""Sheets: nominal and measured."""

import dataclasses
import math

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError, UnknownNameError
from platekit.findings import Severity
from platekit.materials.sheets import Sheet, birch_plywood, sheet
from platekit.materials.stock import StockSize
from platekit.materials.substances import known_materials, material
from platekit.materials.suitability import sheet_findings, thickness_finding
from platekit.materials.thickness import thickness_bands


def test_a_sheet_measures_what_it_is_sold_as_until_told_otherwise():
    """And takes stock and grain from its material."""
    one = sheet("Birch Plywood", nominal_mm=6)
    assert (one.nominal_mm, one.thickness_mm) == (6.0, 6.0)
    assert one == birch_plywood(6.0)
    assert one.grain
    assert one.stock == material("birch plywood").stock
    assert one.name == str(one) == "birch plywood 6 mm"
    assert not sheet("MDF", nominal_mm=6).grain


def test_a_measured_sheet_says_so_in_its_name():
    """Two stacks of one nominal must not be mixed up in a list."""
    assert birch_plywood(4, thickness_mm=3.7).name == "birch plywood 4 mm, measures 3.7 mm"


def test_a_measure_alone_finds_its_nominal():
    """The nearest thickness made."""
    assert sheet("birch plywood", thickness_mm=3.7).nominal_mm == 4.0
    with pytest.raises(PartError, match="no thickness"):
        sheet("birch plywood")


@pytest.mark.parametrize(
    ("measured_mm", "nominal_mm"),
    [(5.9, 6), (6.3, 6), (6.4, 6), (3.4, 3), (3.7, 4), (4.2, 4), (9, 9), (9.2, 9), (2.9, 3)],
)
def test_another_measure_keeps_the_nominal_while_that_is_plausible(measured_mm, nominal_mm):
    """6.3 is still a 6 mm board; 3.7 is a 4 mm board (common practice, no source)."""
    again = birch_plywood(6).with_thickness(measured_mm)
    assert (again.nominal_mm, again.thickness_mm) == (nominal_mm, measured_mm)
    assert again.stock == birch_plywood(6).stock


@settings(derandomize=True, max_examples=100)
@given(st.sampled_from(known_materials()), st.floats(1.0, 12.0))
def test_measuring_twice_is_measuring_once(name, measured_mm):
    """The second time nothing moves: the nominal found is the nearest made, or was plausible."""
    once = sheet(name, nominal_mm=6).with_thickness(measured_mm)
    assert once.thickness_mm == measured_mm
    assert once.with_thickness(measured_mm) == once


@pytest.mark.parametrize("wrong", [0.0, -3.0, math.nan, math.inf, -math.inf, 0.01, 51.0, 6000.0])
def test_an_absurd_thickness_is_refused_by_name(wrong):
    """Nominal or measured, at making and at changing."""
    with pytest.raises(PartError, match=r"nominal thickness of the MDF .*give 0.1 to 50 mm"):
        sheet("MDF", nominal_mm=wrong)
    with pytest.raises(PartError, match="measured thickness of the MDF"):
        sheet("MDF", nominal_mm=6, thickness_mm=wrong)
    with pytest.raises(PartError, match="measured thickness of the birch plywood"):
        birch_plywood().with_thickness(wrong)


def test_a_sheet_has_stock_and_a_known_material():
    """No stock and unknown names are refused."""
    with pytest.raises(PartError, match="no stock size"):
        birch_plywood().with_stock([])
    with pytest.raises(UnknownNameError, match="did you mean poplar plywood"):
        sheet("popular plywood", nominal_mm=4)
    own = birch_plywood().with_stock([StockSize(300, 200, 2)])
    assert own.stock == (StockSize(300, 200, 2),)


def test_a_sheet_is_a_value():
    """Equal sheets hash alike and cannot be altered."""
    assert len({birch_plywood(6), birch_plywood(6), birch_plywood(6, thickness_mm=6.1)}) == 2
    with pytest.raises(dataclasses.FrozenInstanceError):
        birch_plywood().thickness_mm = 5.0  # type: ignore[misc]


def test_least_widths_follow_the_measured_thickness():
    """Web about one thickness, 2 mm at least; hole half of it, 1 mm at least (common practice)."""
    thin, thick = birch_plywood(3, thickness_mm=1.5), birch_plywood(9, thickness_mm=9.2)
    assert (thin.least_web_mm, thin.least_finger_mm, thin.least_hole_mm) == (2.0, 2.0, 1.0)
    assert (thick.least_web_mm, thick.least_finger_mm, thick.least_hole_mm) == (9.2, 9.2, 4.6)
    assert sheet("MDF", nominal_mm=6).least_finger_mm == 9.0


@pytest.mark.parametrize("name", known_materials())
@pytest.mark.parametrize("nominal_mm", [3, 4, 6, 9])
def test_the_finger_width_to_aim_at_is_two_to_four_thicknesses(name, nominal_mm):
    """Common practice, no source."""
    one = sheet(name, nominal_mm=nominal_mm)
    assert 2 * nominal_mm <= one.finger_mm <= 4 * nominal_mm
    assert one.least_finger_mm <= one.finger_mm


def test_a_board_weighs_its_volume_times_its_density():
    """1 m2 of 6 mm birch plywood at 680 kg/m3: 4.08 kg."""
    assert birch_plywood(6).mass_kg(1e6) == pytest.approx(4.08, abs=1e-9)


# Limits of thickness, mm: material, surface, nominal, least, greatest. EN 315 and EN 622-1 from
# memory; ISO 7823-1 and -2 looked up.
LIMITS = [
    ("plywood", "sanded", 3, 2.51, 3.29),
    ("plywood", "sanded", 4, 3.48, 4.32),
    ("plywood", "sanded", 6, 5.42, 6.38),
    ("plywood", "sanded", 9, 8.33, 9.47),
    ("plywood", "unsanded", 3, 2.51, 3.89),
    ("plywood", "unsanded", 6, 5.42, 6.98),
    ("plywood", "unsanded", 18, 17.06, 19.34),
    ("MDF", "dry process", 3, 2.8, 3.2),
    ("MDF", "dry process", 18, 17.8, 18.2),
    ("MDF", "dry process", 22, 21.7, 22.3),
    ("cast acrylic", "cast", 3, 2.3, 3.7),
    ("cast acrylic", "cast", 6, 5.0, 7.0),
    ("cast acrylic", "cast", 20, 17.6, 22.4),
    ("extruded acrylic", "extruded", 2, 1.8, 2.2),
    ("extruded acrylic", "extruded", 3, 2.85, 3.15),
    ("extruded acrylic", "extruded", 6, 5.7, 6.3),
]


@pytest.mark.parametrize(("name", "surface", "nominal_mm", "least_mm", "most_mm"), LIMITS)
def test_thickness_limits_are_those_of_the_standards(name, surface, nominal_mm, least_mm, most_mm):
    """As printed, to the hundredth."""
    (band,) = [b for b in thickness_bands(name, nominal_mm=nominal_mm) if b.surface == surface]
    assert band.limits_mm(nominal_mm) == pytest.approx((least_mm, most_mm), abs=1e-9)
    for edge in (least_mm, most_mm):
        assert band.holds(edge, nominal_mm=nominal_mm)
    assert not band.holds(least_mm - 0.01, nominal_mm=nominal_mm)
    assert not band.holds(most_mm + 0.01, nominal_mm=nominal_mm)


# A birch plywood producer's limits, mm: nominal, least, mean, greatest (data sheet, looked up).
PRODUCER = [
    (4, 3.5, 3.8, 4.1), (6.5, 6.1, 6.4, 6.9), (9, 8.8, 9.2, 9.5), (12, 11.5, 12.0, 12.5),
    (15, 14.3, 14.9, 15.3), (18, 17.1, 17.7, 18.1), (21, 20.0, 20.5, 20.9),
    (24, 22.9, 23.4, 23.7),
]  # fmt: skip


@pytest.mark.parametrize(("nominal_mm", "least_mm", "mean_mm", "most_mm"), PRODUCER)
def test_what_a_producer_ships_is_plausible(nominal_mm, least_mm, mean_mm, most_mm):
    """The mean without a word; the ends within EN 315 to the tenth both are printed to."""
    assert thickness_finding(birch_plywood(nominal_mm, thickness_mm=mean_mm)) is None
    sanded = thickness_bands("plywood", nominal_mm=nominal_mm)[0].limits_mm(nominal_mm)
    assert round(sanded[0], 1) <= least_mm
    assert most_mm <= round(sanded[1], 1)


@pytest.mark.parametrize("measured_mm", [3.7, 4.2])
def test_four_millimetre_plywood_measures_3_7_or_4_2(measured_mm):
    """Common practice, no source: neither is odd."""
    assert sheet_findings(birch_plywood(4, thickness_mm=measured_mm)) == ()


def test_a_thick_board_may_be_unsanded_and_that_is_a_note():
    """6.6 mm sold as 6: beyond EN 315's sanded limit 6.38, within the unsanded 6.98."""
    (finding,) = sheet_findings(birch_plywood(6, thickness_mm=6.6))
    assert finding.severity is Severity.NOTE
    assert finding.limit == pytest.approx(6.38)
    assert "unsanded" in finding.remedy
    assert "EN 315" in finding.source


@pytest.mark.parametrize(("measured_mm", "limit_mm"), [(4.2, 5.42), (9.0, 6.98)])
def test_a_board_of_another_thickness_is_a_warning(measured_mm, limit_mm):
    """Names what was measured, the limit it broke, and what such boards measure."""
    (finding,) = sheet_findings(birch_plywood(6, thickness_mm=measured_mm))
    assert finding.severity is Severity.WARNING
    assert (finding.value, finding.unit) == (measured_mm, "mm")
    assert finding.limit == pytest.approx(limit_mm)
    assert "5.42 to 6.98 mm" in finding.remedy


def test_a_material_without_a_standard_is_held_to_a_tenth():
    """Common practice, no source; polycarbonate's other warning is about the laser."""
    fine = sheet("polycarbonate", nominal_mm=3, thickness_mm=3.3)
    odd = sheet("polycarbonate", nominal_mm=3, thickness_mm=3.31)
    assert thickness_finding(fine) is None
    assert thickness_finding(odd) is not None
    assert len(sheet_findings(odd)) == 2


def test_a_refused_material_makes_no_sheet_by_any_way():
    """Not even built by hand."""
    with pytest.raises(PartError, match="must not be cut"):
        Sheet(
            material=material("PVC"),
            nominal_mm=3.0,
            thickness_mm=3.0,
            stock=(StockSize(600, 400),),
            grain=False,
        )
