"""Belt profiles against published pulleys and the standards' lengths."""

import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.hardware.belts.profiles import belt_profile, known_belt_profiles

INCH_MM = 25.4

# Pitch diameters in inches, Mott, Machine Elements in Mechanical Design, example 7-3 (looked up);
# the book's last digit is 0.001 in.
MOTT_INCH = {22: 2.206, 24: 2.406, 26: 2.607, 28: 2.807, 30: 3.008, 32: 3.208, 80: 8.020}

# ISO 5296 length codes: tenths of an inch of pitch length. From memory, typed apart from the table.
CODES = {
    "MXL": (36, 40, 44, 48, 56, 60, 64, 72, 80, 88, 100, 112, 124, 140, 160, 180, 200),
    "XL": tuple(range(60, 261, 10)),
    "L": (
        *(124, 150, 187, 210, 225, 240, 255, 270, 285, 300),
        *(322, 345, 367, 390, 420, 450, 480, 510, 540, 600),
    ),
    "H": (
        *(240, 270, 300, 330, 360, 390, 420, 450, 480, 510, 540, 570, 600),
        *(630, 660, 700, 750, 800, 850, 900, 1000, 1100, 1250, 1400, 1700),
    ),
}

# Outside diameters of 20-tooth pulleys as makers' lists print them. From memory.
OUTSIDE_20_MM = {"T2.5": 15.40, "T5": 31.00, "T10": 61.80, "AT5": 30.60, "AT10": 61.80}


@pytest.mark.parametrize("teeth", MOTT_INCH)
def test_pitch_diameters_are_those_of_a_text_book(teeth):
    """8 mm pitch; half of the book's last digit is 0.0127 mm, its own rounding of pi as much."""
    pitch_diameter_mm = belt_profile("curvilinear 8 mm").pitch_diameter_mm(teeth)
    assert pitch_diameter_mm == pytest.approx(MOTT_INCH[teeth] * INCH_MM, abs=0.025)


def test_a_two_millimetre_pulley_is_as_published():
    """20 teeth of 2 mm pitch: 12.732 and 12.224 mm. A team's teaching notes (looked up)."""
    profile = belt_profile("curvilinear 2 mm")
    assert profile.pitch_diameter_mm(20) == pytest.approx(12.732, abs=0.001)
    assert profile.outside_diameter_mm(20) == pytest.approx(12.224, abs=0.002)


@pytest.mark.parametrize("name", OUTSIDE_20_MM)
def test_outside_diameters_are_those_of_makers_lists(name):
    """Offsets of the ISO 17396 profiles, within the lists' 0.05 mm on diameter."""
    found = belt_profile(name).outside_diameter_mm(20)
    assert found == pytest.approx(OUTSIDE_20_MM[name], abs=0.05)


@pytest.mark.parametrize("name", CODES)
def test_inch_belts_have_the_lengths_of_their_codes(name):
    """Code / 10 inches over the pitch, to the whole tooth: the code drops half inches."""
    pitch_mm = belt_profile(name).pitch_mm
    wanted = tuple(round(code / 10 * INCH_MM / pitch_mm) for code in CODES[name])
    assert belt_profile(name).lengths == wanted


def test_inch_pitches_are_fractions_of_an_inch():
    """ISO 5296: MXL 0.080, XL 1/5, L 3/8, H 1/2 inch."""
    for name, inch in {"MXL": 0.080, "XL": 1 / 5, "L": 3 / 8, "H": 1 / 2}.items():
        assert belt_profile(name).pitch_mm == pytest.approx(inch * INCH_MM, abs=1e-9)


@pytest.mark.parametrize("name", known_belt_profiles())
def test_every_profile_can_be_a_belt(name):
    """Teeth within the belt, the pitch line within its back, widths and lengths rising."""
    profile = belt_profile(name)
    assert profile.tooth_height_mm < profile.thickness_mm
    assert 0 < profile.offset_mm < profile.back_mm + 1e-9
    assert profile.outside_diameter_mm(profile.least_teeth) > 2 * profile.tooth_height_mm
    assert list(profile.lengths) == sorted(set(profile.lengths))
    assert bool(profile.lengths) == bool(profile.lengths_source)
    assert profile.has_width(profile.widths_mm[0])
    assert not profile.has_width(profile.widths_mm[-1] + 1)
    assert profile.source


def test_a_pulley_below_the_least_teeth_is_refused_by_name():
    """The message names the profile, the count and the least."""
    with pytest.raises(PartError, match=r"curvilinear 3 mm has 9 teeth.*at least 10"):
        belt_profile("curvilinear 3 mm").pitch_diameter_mm(9)
    with pytest.raises(PartError, match="whole number"):
        belt_profile("T5").outside_diameter_mm(20.0)


def test_the_bill_names_teeth_length_and_width_and_cautions():
    """As an order is written."""
    item = belt_profile("curvilinear 3 mm").item(120, width_mm=9)
    assert item.designation == "belt curvilinear 3 mm, 120 teeth (360 mm), 9 mm wide"
    assert "fingers" in item.note
    assert "(203.2 mm)" in belt_profile("MXL").item(100, width_mm=6.4).designation


def test_a_profile_is_found_as_it_is_spoken_and_offered_when_misspelt():
    """Case, spaces; nearest name."""
    assert belt_profile("t 5") is belt_profile("T5")
    with pytest.raises(UnknownNameError, match=r"did you mean .*curvilinear"):
        belt_profile("curvilinear 4 mm")
