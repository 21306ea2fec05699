"""What there is to say about a sheet before anything is cut from it."""

from __future__ import annotations

from platekit.findings import Finding, Severity
from platekit.materials.sheets import Sheet
from platekit.materials.substances import Laser
from platekit.materials.thickness import thickness_bands


def sheet_findings(sheet: Sheet) -> tuple[Finding, ...]:
    """Return the findings about a sheet: cautions of its material, implausible thickness.

    Strength, moisture and glue are not looked at.
    """
    found = (laser_finding(sheet), thickness_finding(sheet))
    return tuple(finding for finding in found if finding is not None)


def laser_finding(sheet: Sheet) -> Finding | None:
    """Return the caution about cutting the material with a laser; None when there is none."""
    if sheet.material.laser is not Laser.CAUTION:
        return None
    return Finding(
        severity=Severity.WARNING,
        part=sheet.name,
        measure=f"{sheet.material.name} under the laser: {sheet.material.laser_reason}",
        source=sheet.material.source,
        remedy="ask whoever runs the laser first, or choose another material",
        check="made.material",
    )


def thickness_finding(sheet: Sheet) -> Finding | None:
    """Return what is odd about the measured thickness; None when it is what one buys.

    Outside every limit of the standard it is a warning; inside the wider limits of unsanded
    boards only, a note.

    Source:
        EN 315 (plywood), EN 622-1 (fibreboard), ISO 7823-1 and -2 (acrylic), as typed in
        ``thickness_tolerance.csv``. Where none is typed, a tenth of the nominal (common
        practice, no source).
    """
    nominal_mm, measured_mm = sheet.nominal_mm, sheet.thickness_mm
    bands = thickness_bands(sheet.material.tolerance, nominal_mm=nominal_mm)
    inside = [band for band in bands if band.holds(measured_mm, nominal_mm=nominal_mm)]
    narrowest = bands[0]
    if narrowest in inside:
        return None
    low, high = (inside or list(bands[-1:]))[0].limits_mm(nominal_mm)
    if inside:
        return Finding(
            severity=Severity.NOTE,
            part=sheet.name,
            measure="measured thickness",
            value=measured_mm,
            limit=narrowest.limits_mm(nominal_mm)[measured_mm > nominal_mm],
            unit="mm",
            source=f"{narrowest.standard}, {narrowest.surface}: {narrowest.source}",
            remedy=f"usual for {inside[0].surface} boards only; measure it again in three places",
            check="made.thickness",
        )
    return Finding(
        severity=Severity.WARNING,
        part=sheet.name,
        measure="measured thickness",
        value=measured_mm,
        limit=low if measured_mm < nominal_mm else high,
        unit="mm",
        source=f"{bands[-1].standard}, {bands[-1].surface}: {bands[-1].source}",
        remedy=f"boards sold as {nominal_mm:g} mm measure {low:.2f} to {high:.2f} mm; "
        "measure it again, or check what was bought",
        check="made.thickness",
    )
