"""Letters, nut pockets, grain; findings of lower rooms by their check."""

import pytest

from platekit import (
    Assembly,
    Grain,
    Plate,
    Sheet,
    birch_plywood,
    hole,
    laminate,
    lettering,
    load,
    lying,
    nut_pocket,
    on_edge,
    rectangle,
)
from platekit.checks.examine import CHECKS, examine
from platekit.checks.made.grain import grain
from platekit.checks.made.pockets import nut_pockets
from platekit.checks.made.writing import letters
from platekit.findings import Severity
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from platekit.job.recipe import recipe_of
from platekit.materials import sheet
from tests.checks.made.jobs import only, subject_of, told

PLY = birch_plywood(6.0)


@pytest.mark.parametrize("turn_deg", [0.0, 90.0, 33.0, -120.0])
@pytest.mark.parametrize(("height_mm", "severity"), [(5.0, Severity.PASSED), (1.9, Severity.NOTE)])
def test_letters_are_held_against_ten_strokes_however_they_lie(height_mm, severity, turn_deg):
    """ISO 3098-1 type B: height over stroke is 10; kerf 0.2, so 2 mm (from memory)."""
    plate = Plate("plate", PLY, rectangle(100, 60)).with_features(
        lettering("HE 12", height_mm=height_mm, turn_deg=turn_deg, name="label")
    )
    found = only(letters, plate)
    assert (found.severity, found.feature) == (severity, "label")
    assert found.value == pytest.approx(height_mm)
    assert found.limit == pytest.approx(2.0)


def test_notes_are_not_burnt_and_not_weighed():
    """Lettering for the reader of the file alone."""
    plate = Plate("plate", PLY, rectangle(100, 60)).with_features(
        lettering("A", height_mm=1.0, layer="note")
    )
    assert list(letters(subject_of(plate))) == []


@pytest.mark.parametrize(
    ("thread", "thickness_mm", "severity"),
    [("M3", 3.0, Severity.PASSED), ("M4", 3.0, Severity.WARNING), ("M6", 4.0, Severity.WARNING)],
)
def test_a_nut_pocket_wants_a_sheet_as_thick_as_its_screw(thread, thickness_mm, severity):
    """ISO 68: M4 is 4 mm across its thread; a sheet of 3 mm leaves it half outside."""
    plate = Plate("side", birch_plywood(thickness_mm), rectangle(100, 60)).with_features(
        nut_pocket(thread, reach_mm=20, at=on_edge("top", along_mm=30)),
        nut_pocket(thread, reach_mm=20, at=on_edge("top", along_mm=70)),
    )
    found = only(nut_pockets, plate)
    assert found.severity is severity
    assert (found.part, found.value, found.limit) == ("side", thickness_mm, float(thread[1:]))
    assert "and 1 more" in found.feature


def test_a_pocket_through_two_layers_counts_both():
    """2 x 3 mm guide an M5 screw; one layer of them would not."""
    layers = [
        Plate(f"layer {k}", birch_plywood(3.0), rectangle(100, 60)).with_features(
            nut_pocket("M5", reach_mm=20, at=on_edge("top", along_mm=30))
        )
        for k in (1, 2)
    ]
    rig = Assembly("rig", panels=(lying(laminate("both", *layers), bottom_mm=0),))
    assert told(nut_pockets(subject_of(rig))) == []


def beam(stuff, wish: Grain) -> Assembly:
    """Return a strip of 300 x 40 mm that carries a load."""
    strip = Plate("strip", stuff, rectangle(300, 40), grain=wish)
    rig = Assembly("rig", panels=(lying(strip, bottom_mm=0),))
    return rig.with_loads(load("strip", axial_n=20.0), held=("strip",))


@pytest.mark.parametrize(
    ("wish", "severity"),
    [
        (Grain.ALONG_X, Severity.PASSED),
        (Grain.ALONG_Y, Severity.WARNING),
        (Grain.ANY, Severity.NOTE),
    ],
)
def test_thin_plywood_bends_a_sixth_as_well_across_its_grain(wish, severity):
    """Handbook of Finnish Plywood, birch 4 mm: 65.9 along, 10.6 MPa across (from memory)."""
    found = only(grain, beam(birch_plywood(4.0, thickness_mm=3.6), wish))
    assert (found.severity, found.part) == (severity, "strip")
    assert found.value == pytest.approx(1.0 if wish is Grain.ALONG_X else 10.6 / 65.9)
    if found.severity is not Severity.PASSED:
        assert "grain=Grain.ALONG_X" in found.remedy


def test_thick_plywood_hardly_minds_and_other_sheets_have_no_grain():
    """The same handbook, 12 mm: 33.2 over 42.9 MPa is 0.77. Fibreboard has no face grain."""
    found = only(grain, beam(birch_plywood(12.0), Grain.ALONG_Y))
    assert found.severity is Severity.PASSED
    assert found.value == pytest.approx(33.2 / 42.9)
    assert list(grain(subject_of(beam(sheet("MDF", thickness_mm=4.0), Grain.ANY)))) == []


def test_without_loads_grain_is_nobodys_business():
    """Nothing bends."""
    rig = beam(birch_plywood(4.0), Grain.ALONG_Y)
    idle = Assembly("rig", panels=rig.panels)
    assert list(grain(subject_of(idle))) == []


def crowded(stuff=PLY):
    """Two holes with 2 mm between them."""
    return Plate("plate", stuff, rectangle(100, 60)).with_features(
        hole(10, at=(40, 30), name="left"), hole(10, at=(52, 30), name="right")
    )


def test_what_lower_rooms_find_is_switched_off_with_its_check(tmp_path):
    """A thin web is found where the plate is drawn; without made.web nobody hears of it."""
    path = tmp_path / "crowded.py"
    path.write_text('"""Crowded."""\n', encoding="utf-8")

    def recipe(sheet: Sheet = PLY) -> Plate:
        """Two holes."""
        return crowded(sheet)

    drawn = recipe_of(recipe, path=path)
    (found,) = draw_up(drawn, Options()).findings
    assert (found.check, found.feature) == ("made.web", "left + right")
    assert draw_up(drawn, Options(skip=("made.web",))).findings == ()
    assert draw_up(drawn, Options(skip=("made",))).findings == ()


def test_every_finding_of_a_plate_names_a_check_that_there_is():
    """What the plate says of itself can be switched off, too."""
    thick = crowded(birch_plywood(24.0))
    found = thick.findings
    assert found
    assert {one.check for one in found} <= {check.name for check in CHECKS}


def test_every_check_of_the_family_says_how_it_weighs():
    """Names are the family's, each its own, and each explains itself."""
    own = [check for check in CHECKS if check.family == "made"]
    assert len({check.name for check in own}) == len(own)
    assert all(check.asks.endswith("?") and len(check.by) > 40 for check in own)


def test_a_sound_plate_gives_no_more_than_passes():
    """A plate with four holes in its corners."""
    plate = Plate("plate", PLY, rectangle(100, 60)).with_features(
        hole("M5", at=(50, 30), name="middle")
    )
    assert examine(subject_of(plate)).findings == ()
