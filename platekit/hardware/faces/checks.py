"""Whether the lengths of a motor's or encoder's face go together."""

from __future__ import annotations

from platekit.handbook import Row
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.fasteners.threads import known_threads
from platekit.hardware.patterns import MOST_HOLES


def require_face(row: Row, *, body_mm: float) -> None:
    """Check the row of a face: a slip in one length shows beside the others.

    Args:
        row: With pcd_mm, pilot_diameter_mm, pilot_height_mm, shaft_diameter_mm, shaft_length_mm
            (it may be empty), hole_count and screw.
        body_mm: Diameter of the circle round the face.

    Raises:
        TableError: Too many holes, an unknown thread, holes off the face or across the spigot's
            edge, a spigot wider than the face, a shaft thicker than the spigot or shorter than it.
    """
    holes = row.count("hole_count")
    if holes > MOST_HOLES:
        raise row.fault("hole_count", f"is {holes}", remedy=f"give at most {MOST_HOLES} holes")
    threads = known_threads()
    if row.text("screw") not in threads:
        remedy = f"give one of {', '.join(threads)}"
        raise row.fault("screw", f"is {row.text('screw')!r}", remedy=remedy)
    pcd_mm, pilot_mm = row.length_mm("pcd_mm"), row.length_mm("pilot_diameter_mm")
    for column, value, most_mm, what in (
        ("pcd_mm", pcd_mm, body_mm, "the face"),
        ("pilot_diameter_mm", pilot_mm, body_mm, "the face"),
        ("shaft_diameter_mm", row.length_mm("shaft_diameter_mm"), pilot_mm, "its spigot"),
    ):
        if value >= most_mm:
            raise row.fault(
                column, f"is {value:g} mm", remedy=f"give less than {what}, {most_mm:g} mm"
            )
    hole_mm = clearance_hole_mm(row.text("screw"))
    if abs(pcd_mm - pilot_mm) <= hole_mm:
        raise row.fault(
            "pilot_diameter_mm",
            f"is {pilot_mm:g} mm",
            remedy=f"its edge runs through the holes, {hole_mm:g} mm wide on {pcd_mm:g} mm",
        )
    length_mm, high_mm = row.optional_mm("shaft_length_mm"), row.length_mm("pilot_height_mm")
    if length_mm is not None and length_mm <= high_mm:
        raise row.fault(
            "shaft_length_mm",
            f"is {length_mm:g} mm",
            remedy=f"measure from the face: more than the spigot, {high_mm:g} mm",
        )
