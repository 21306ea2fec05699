"""Which sheet a job is cut from."""

from __future__ import annotations

from dataclasses import replace

from platekit.job.options import Options
from platekit.materials import Sheet, birch_plywood, sheet

# What a recipe is drawn for when its signature names no sheet.
USUAL_MM = 6.0


def job_sheet(drawn_for: Sheet | None, *, options: Options) -> Sheet:
    """Return the sheet of a job: the recipe's own, as the options change it.

    Args:
        drawn_for: The default of the recipe's sheet parameter; 6 mm birch plywood if it has none.
        options: Measured thickness, material.

    Raises:
        UnknownNameError: The material is not known.
        PartError: The material must not be cut by a laser, or the thickness is absurd.
    """
    made = drawn_for or birch_plywood(USUAL_MM)
    if options.material is not None:
        other = sheet(options.material, thickness_mm=made.nominal_mm)
        made = replace(other, thickness_mm=other.nominal_mm)
    return made if options.thickness_mm is None else made.with_thickness(options.thickness_mm)
