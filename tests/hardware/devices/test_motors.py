"""Motors, gearboxes and encoders as mounted, against the standards of their faces."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.devices.motors import encoder, motor
from platekit.hardware.faces.encoders import known_encoder_bodies
from platekit.hardware.faces.motor_faces import known_motor_faces, motor_face

INCH_MM = 25.4


def _block(device, name):
    return next(block for block in device.blocks if block.name == name)


def _passage(device, name):
    return next(passage for passage in device.passages if passage.name == name)


def _width(profile_or_contour):
    box = profile_or_contour.bounds
    return box.right - box.left


# IEC 60072-1 / EN 50347, from memory: shaft D x E (E runs from the flange's face), spigot N x T.
IEC = {
    "IEC 56 B14": (9, 20, 50, 2.5),
    "IEC 63 B14": (11, 23, 60, 2.5),
    "IEC 71 B14": (14, 30, 70, 2.5),
    "IEC 80 B14": (19, 40, 80, 3.0),
    "IEC 90 B14": (24, 50, 95, 3.0),
}


@pytest.mark.parametrize("face", IEC)
def test_an_iec_motor_points_its_standard_shaft_into_the_plate(face):
    """Shaft from the spigot to E below the face, body above it: IEC 60072-1."""
    d_mm, e_mm, n_mm, t_mm = IEC[face]
    made = motor(face, body_length_mm=200)
    assert (made.shaft.diameter_mm, made.shaft.low_mm) == (d_mm, -e_mm)
    assert _width(_block(made, "spigot").profile) == pytest.approx(n_mm)
    assert _block(made, "spigot").low_mm == -t_mm
    assert (_block(made, "body").low_mm, _block(made, "body").high_mm) == (0, 200)
    assert made.fixing.tapped


def test_a_nema_motor_needs_its_shaft_length_and_then_fits_the_inch_standard():
    """NEMA ICS 16 (looked up): pilot 2.875 x 0.062 in, shaft 0.375 in."""
    with pytest.raises(PartError, match=r"NEMA 34.*shaft is not known.*shaft_length_mm"):
        motor("NEMA 34", body_length_mm=80, flange_mm=9)
    made = motor("NEMA 34", body_length_mm=80, shaft_length_mm=37, flange_mm=9)
    assert _width(_passage(made, "spigot").core) == pytest.approx(2.875 * INCH_MM, abs=1e-3)
    assert _block(made, "spigot").low_mm == pytest.approx(-0.062 * INCH_MM, abs=1e-3)
    assert made.shaft.diameter_mm == pytest.approx(0.375 * INCH_MM, abs=1e-3)
    assert len(made.fixing.points) == 4


def test_planetary_gearboxes_of_a_rigs_class_have_14_mm_shafts_and_m5_screws():
    """Trade fact, common practice, no source: 60 mm planetary, shaft 14 mm, M5 in the face."""
    made = motor("planetary 60 mm", body_length_mm=120)
    assert made.shaft.diameter_mm == 14
    assert made.fixing.thread == "M5"
    assert "14 mm" in made.items[0].note


def test_holes_have_the_play_that_is_asked():
    """Hole = part + play on diameter; 0.2 and 2 mm are the defaults (common practice)."""
    usual = motor("IEC 63 B14", body_length_mm=150)
    assert _width(_passage(usual, "spigot").hole) == pytest.approx(60.2)
    assert _width(_passage(usual, "shaft").hole) == pytest.approx(13.0)
    snug = motor("IEC 63 B14", body_length_mm=150, pilot_clearance_mm=0.0, shaft_clearance_mm=1.0)
    assert _width(_passage(snug, "spigot").hole) == pytest.approx(60.0)
    assert _width(_passage(snug, "shaft").hole) == pytest.approx(12.0)


# ISO 7089 outer diameters of washers, typed apart from the table.
WASHER_MM = {"M4": 9, "M5": 10, "M6": 12, "M8": 16, "M10": 20}


@pytest.mark.parametrize(
    "face", ["NEMA 23", "NEMA 34", "NEMA 23 metric", "NEMA 34 metric", "IEC 63 B5", "IEC 80 B5"]
)
def test_nuts_find_room_beside_the_body_behind_a_flange(face):
    """Circle of holes less washer (ISO 7089) clears the body, as whoever bolts one on expects."""
    made = motor(face, body_length_mm=150, shaft_length_mm=40, flange_mm=8)
    flange = _block(made, "flange")
    body_mm = _width(_block(made, "body").profile)
    assert (flange.low_mm, flange.high_mm) == (0, 8)
    assert len(flange.profile.inners) == 4
    assert not made.fixing.tapped
    assert motor_face(face).pcd_mm - WASHER_MM[made.fixing.thread] >= body_mm


@pytest.mark.parametrize("face", known_motor_faces())
def test_every_face_of_the_table_makes_a_motor(face):
    """Shaft below spigot below face; spigot wider than shaft."""
    given = motor_face(face)
    extra = {} if given.tapped else {"flange_mm": 8}
    made = motor(face, body_length_mm=180, shaft_length_mm=45, **extra)
    shaft, spigot = _block(made, "shaft"), _block(made, "spigot")
    assert shaft.high_mm == spigot.low_mm < 0
    assert shaft.low_mm == -45
    assert made.source
    for block in made.blocks:
        box = block.profile.bounds
        middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
        assert middle == pytest.approx((0, 0), abs=1e-9)


def test_a_depth_that_no_table_gives_is_said_to_be_a_guess():
    """1.5 diameters, and the doubt goes with the device."""
    made = motor("IEC 63 B14", body_length_mm=150)
    assert made.fixing.depth_mm == 7.5
    assert "measure" in made.doubt
    told = motor("IEC 63 B14", body_length_mm=150, depth_mm=12)
    assert told.fixing.depth_mm == 12
    assert "measure" not in told.doubt
    # Metric motors of this size are tapped M3, 4.5 mm deep: common practice, makers' sheets.
    small = motor("NEMA 17 metric", body_length_mm=48, shaft_length_mm=24)
    assert small.fixing.depth_mm == 4.5


@pytest.mark.parametrize(
    ("face", "sizes", "said"),
    [
        ("IEC 63 B14", {"body_length_mm": 0}, "body_length_mm"),
        ("IEC 63 B14", {"body_length_mm": float("nan")}, "body_length_mm"),
        ("IEC 63 B14", {"body_length_mm": "long"}, "body_length_mm"),
        ("IEC 63 B14", {"body_length_mm": 90_000}, "body_length_mm"),
        ("IEC 63 B14", {"body_length_mm": 150, "shaft_length_mm": 2}, "ends inside its spigot"),
        ("IEC 63 B14", {"body_length_mm": 150, "shaft_mm": 70}, "thicker than its spigot"),
        ("IEC 63 B14", {"body_length_mm": 150, "flange_mm": 8}, "face is tapped"),
        ("IEC 63 B5", {"body_length_mm": 150, "depth_mm": 8}, "pass through its flange"),
        ("IEC 63 B5", {"body_length_mm": 150}, "thickness of its flange is not known"),
        ("IEC 63 B5", {"body_length_mm": 8, "flange_mm": 8}, "far end"),
        ("IEC 63 B14", {"body_length_mm": 150, "pilot_clearance_mm": -1}, "pilot_clearance_mm"),
    ],
)
def test_a_size_that_cannot_be_names_motor_and_size(face, sizes, said):
    """And gives the cure."""
    with pytest.raises(PartError, match=said) as caught:
        motor(face, **sizes)
    assert face in str(caught.value)
    assert caught.value.remedy


def test_an_unknown_face_offers_the_nearest():
    """As every lookup does."""
    with pytest.raises(UnknownNameError, match="IEC 63 B14"):
        motor("IEC 63 B15", body_length_mm=100)


@pytest.mark.parametrize("body", known_encoder_bodies())
def test_every_encoder_stands_on_its_spigot(body):
    """Body above the face, spigot and shaft below; tapped holes."""
    made = encoder(body, body_length_mm=45, shaft_length_mm=20)
    assert _block(made, "body").high_mm == 45
    assert made.shaft.low_mm == -20
    assert made.fixing.tapped
    assert _width(_passage(made, "spigot").hole) == pytest.approx(
        _width(_block(made, "spigot").profile) + 0.2
    )


def test_the_usual_58_mm_encoder():
    """Common practice of encoder makers, no standard: spigot 36 x 10, three M3 on 48, shaft 10."""
    made = encoder("58 mm clamping flange", body_length_mm=45, shaft_length_mm=30)
    assert _width(_block(made, "body").profile) == pytest.approx(58)
    assert _width(_block(made, "spigot").profile) == pytest.approx(36)
    assert _block(made, "spigot").low_mm == -10
    assert (made.shaft.diameter_mm, made.fixing.thread, len(made.fixing.points)) == (10, "M3", 3)
    # One maker's manual for 58 mm encoders (looked up): M3 threads 6 mm deep, M4 threads 8 mm.
    assert made.fixing.depth_mm == 6
    other = encoder("58 mm clamping flange M4", body_length_mm=45, shaft_length_mm=30)
    assert (other.fixing.thread, other.fixing.depth_mm) == ("M4", 8)
    with pytest.raises(PartError, match="length of its shaft is not known"):
        encoder("58 mm clamping flange", body_length_mm=45)
