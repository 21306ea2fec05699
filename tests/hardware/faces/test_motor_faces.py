"""Motor faces against the standards they come from."""

import math

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.faces.motor_faces import known_motor_faces, motor_face
from platekit.hardware.fasteners.clearance import clearance_hole_mm
from platekit.hardware.fasteners.screws import screw

INCH_MM = 25.4
# NEMA ICS 16, inches: bolt circle, pilot. From memory of the standard, typed apart from the table.
NEMA = {
    "NEMA 17": (1.725, 0.866),
    "NEMA 23": (2.625, 1.500),
    "NEMA 34": (3.875, 2.875),
    "NEMA 42": (4.950, 2.186),
}
# Side of the square the holes stand on, as metric motor makers print it. Common practice.
SQUARE_MM = {
    "NEMA 11": 23.0,
    "NEMA 14": 26.0,
    "NEMA 17 metric": 31.0,
    "NEMA 23 metric": 47.14,
    "NEMA 34 metric": 69.6,
    "NEMA 42 metric": 88.9,
}
# IEC 60072-1 / EN 50347: M (bolt circle), N (pilot), P (outside), S, shaft D x E. From memory.
IEC = {
    "IEC 56 B14": (65, 50, 80, "M5", 9, 20),
    "IEC 63 B14": (75, 60, 90, "M5", 11, 23),
    "IEC 71 B14": (85, 70, 105, "M6", 14, 30),
    "IEC 80 B14": (100, 80, 120, "M6", 19, 40),
    "IEC 90 B14": (115, 95, 140, "M8", 24, 50),
    "IEC 63 B5": (115, 95, 140, "M8", 11, 23),
    "IEC 71 B5": (130, 110, 160, "M8", 14, 30),
    "IEC 80 B5": (165, 130, 200, "M10", 19, 40),
}


@pytest.mark.parametrize("name", NEMA)
def test_nema_faces_are_the_inch_standard_in_millimetres(name):
    """Bolt circle and pilot times 25.4, four holes on the diagonals."""
    face = motor_face(name)
    assert face.pcd_mm == pytest.approx(NEMA[name][0] * INCH_MM, abs=5e-4)
    assert face.pilot_diameter_mm == pytest.approx(NEMA[name][1] * INCH_MM, abs=5e-4)
    assert (face.hole_count, face.first_hole_deg, face.square) == (4, 45.0, True)


@pytest.mark.parametrize("name", SQUARE_MM)
def test_metric_motors_have_their_holes_on_the_makers_square(name):
    """Side = circle / sqrt 2; makers print the side."""
    points = motor_face(name).hole_points
    side_mm = max(p.x for p in points) - min(p.x for p in points)
    assert side_mm == pytest.approx(SQUARE_MM[name], abs=1e-4)
    assert max(p.y for p in points) == pytest.approx(max(p.x for p in points), abs=1e-12)


@pytest.mark.parametrize("name", SQUARE_MM)
def test_metric_and_inch_faces_fit_each_other(name):
    """Both are one standard: circles within 0.03 mm, pilots within 0.03 mm."""
    if name not in {"NEMA 11", "NEMA 14"}:
        metric, inch = motor_face(name), motor_face(name.removesuffix(" metric"))
        assert metric.pcd_mm == pytest.approx(inch.pcd_mm, abs=0.03)
        assert metric.pilot_diameter_mm == pytest.approx(inch.pilot_diameter_mm, abs=0.03)


@pytest.mark.parametrize("name", IEC)
def test_iec_faces_are_those_of_their_frames(name):
    """IEC 60072-1 flange table."""
    face = motor_face(name)
    assert IEC[name] == (
        face.pcd_mm,
        face.pilot_diameter_mm,
        face.body_mm,
        face.screw,
        face.shaft_diameter_mm,
        face.shaft_length_mm,
    )
    assert face.tapped == ("B14" in name)


@pytest.mark.parametrize("name", known_motor_faces())
def test_every_face_can_be_bolted_on(name):
    """Holes lie between pilot and edge, and the screw passes the motor's own hole."""
    face = motor_face(name)
    one = screw(face.screw)
    gap_mm = (face.pcd_mm - face.pilot_diameter_mm) / 2
    assert gap_mm > one.nominal_mm / 2
    points = face.hole_points
    reach_mm = max(math.hypot(*p) for p in points)
    edge_mm = face.body_mm / 2 * (math.sqrt(2) if face.square else 1.0)
    assert reach_mm + one.nominal_mm / 2 < edge_mm
    if face.hole_diameter_mm is not None:
        assert (
            one.nominal_mm
            < face.hole_diameter_mm
            <= clearance_hole_mm(face.screw, fit="coarse") + 3
        )
    assert face.shaft_diameter_mm < face.pilot_diameter_mm
    assert face.source


def test_gearbox_faces_of_this_class_are_held_with_m5():
    """Trade fact, common practice, no source: a rig's gearbox (NEMA 34, 60 mm planetary) is M5.

    A planetary gearbox of this class has a 14 mm shaft.
    """
    assert motor_face("NEMA 34").screw == "M5"
    assert motor_face("planetary 60 mm").screw == "M5"
    assert motor_face("planetary 60 mm").shaft_diameter_mm == 14


def test_a_face_is_found_as_it_is_spoken_and_offered_when_misspelt():
    """Case, spaces, dashes; nearest name."""
    assert motor_face("nema34") is motor_face("NEMA-34") is motor_face("NEMA 34")
    with pytest.raises(UnknownNameError, match=r"did you mean .*NEMA 34"):
        motor_face("NEMA 35")
    assert motor_face("NEMA 34").item().designation == "motor or gearbox, face NEMA 34"
