"""The sheet of a job: the recipe's own, as the options change it."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.job.options import Options
from platekit.job.sheets import job_sheet
from platekit.materials import birch_plywood, sheet


def test_the_usual_sheet_is_six_millimetre_birch():
    """A recipe that names no sheet gets the one of the flagship."""
    assert job_sheet(None, options=Options()) == birch_plywood(6.0)


def test_the_recipes_sheet_stays_when_nothing_is_said():
    """No option, no change."""
    drawn_for = sheet("cast acrylic", nominal_mm=5.0)
    assert job_sheet(drawn_for, options=Options()) == drawn_for


@pytest.mark.parametrize(
    ("measured", "nominal"), [(5.8, 6.0), (6.2, 6.0), (3.0, 3.0), (4.1, 4.0), (9.0, 9.0)]
)
def test_a_measure_keeps_or_finds_the_nominal(measured, nominal):
    """Within the standard's limits a sheet stays what it was sold as; beyond, the nearest made."""
    made = job_sheet(birch_plywood(6.0), options=Options(thickness_mm=measured))
    assert (made.thickness_mm, made.nominal_mm) == (measured, nominal)


def test_another_material_comes_in_its_own_nearest_thickness():
    """6.5 mm birch becomes 6 mm MDF, not MDF that measures 6.5 mm."""
    made = job_sheet(birch_plywood(6.5), options=Options(material="mdf"))
    assert made.material.name == "MDF"
    assert made.thickness_mm == made.nominal_mm == 6.0


@pytest.mark.parametrize(
    ("options", "fault"),
    [
        (Options(material="unobtainium"), UnknownNameError),
        (Options(material="PVC"), PartError),
        (Options(thickness_mm=float("nan")), PartError),
        (Options(thickness_mm=0.0), PartError),
        (Options(thickness_mm=500.0), PartError),
    ],
)
def test_a_sheet_that_cannot_be_is_refused(options, fault):
    """Unknown, dangerous or absurd."""
    with pytest.raises(fault):
        job_sheet(None, options=options)
