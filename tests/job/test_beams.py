"""The beam: what it is too wide for, told by the feature's own name."""

import math

import pytest

from platekit.cutting.compensate import compensate
from platekit.errors import PartError
from platekit.findings import Severity
from platekit.geometry.offset.losses import LossKind
from platekit.geometry.shapes import polygon, rectangle
from platekit.job.beams import cut_part
from platekit.materials import Beam, birch_plywood
from platekit.panel.holes import hole
from platekit.panel.openings import window
from platekit.panel.plate import Plate

SHEET = birch_plywood(6.0)


def cut(plate: Plate, kerf_mm: float):
    """Return the plate's part cut with a beam of this width."""
    return cut_part(
        plate.part(),
        beam=Beam(kerf_mm, "given"),
        join="round",
        named={plate.name: plate.features},
    )


def test_a_hole_shrinks_by_the_kerf_and_the_edge_grows():
    """Closed form: a 30 mm bore is cut at 29.8 mm, a 100 x 80 plate at 100.2 x 80.2 mm."""
    plate = Plate("base", SHEET, rectangle(100.0, 80.0), lettered=False)
    done = cut(plate.with_features(hole(30.0, name="bore")), 0.2)
    (bore,) = done.path.inners
    assert bore.is_circle
    assert bore.length_mm == pytest.approx(math.pi * 29.8, abs=1e-9)
    assert done.path.bounds.width_mm == pytest.approx(100.2, abs=1e-9)
    assert done.path.bounds.height_mm == pytest.approx(80.2, abs=1e-9)
    assert done.findings == ()


@pytest.mark.parametrize(
    ("feature", "said"),
    [
        (hole(0.3, name="wire hole"), "base / wire hole: the kerf of 0.4 mm"),
        (window(20.0, 0.3, name="crack"), "base / crack: the kerf of 0.4 mm"),
    ],
)
def test_a_feature_narrower_than_the_kerf_is_named(feature, said):
    """The feature is called by its name and its own width stands in the message."""
    plate = Plate("base", SHEET, rectangle(100.0, 80.0)).with_features(feature)
    with pytest.raises(PartError, match=r"which is 0\.3 mm wide") as refused:
        cut(plate, 0.4)
    assert str(refused.value).startswith(said)


def test_a_notch_of_the_outline_is_told_by_its_place():
    """What has no name is found by where it lies."""
    notched = polygon(
        [(0, 0), (50, 0), (50, 40), (30.2, 40), (30.2, 20), (30, 20), (30, 40), (0, 40)]
    )
    with pytest.raises(PartError, match=r"base / outline at x 30\.\d, y \d+\.\d mm: the kerf"):
        cut(Plate("base", SHEET, notched), 0.4)


def test_a_detail_finer_than_the_beam_is_a_note_and_told_once():
    """Four tiny chamfers in one window: one note, with the window's name."""
    tiny = window(20.0, 10.0, fillet_mm=0.05, name="view")
    plate = Plate("base", SHEET, rectangle(100.0, 80.0)).with_features(tiny)
    kinds = [loss.kind for loss in compensate(plate.part().profile, kerf_mm=0.4).losses]
    assert kinds.count(LossKind.FEATURE_LOST) > 1
    (finding,) = cut(plate, 0.4).findings
    assert (finding.severity, finding.feature) == (Severity.NOTE, "view")
