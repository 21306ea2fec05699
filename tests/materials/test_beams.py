"""Kerfs: given or built in."""

import math
import subprocess
import sys

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import PartError
from platekit.materials.beams import Beam, beam_for, known_kerfs
from platekit.materials.sheets import birch_plywood, sheet

# CO2 laser, one cutting bureau's figures, looked up; common practice. Typed apart from the table.
BUREAU = [
    ("cast acrylic", 1.6, 0.18),
    ("cast acrylic", 3.2, 0.23),
    ("extruded acrylic", 6.4, 0.25),
    ("birch plywood", 1.6, 0.15),
    ("birch plywood", 3.2, 0.20),
    ("poplar plywood", 3.2, 0.20),
    ("birch plywood", 6.4, 0.25),
    ("MDF", 3.2, 0.15),
    ("MDF", 6.4, 0.20),
    ("MDF", 12.0, 0.25),
]


@pytest.mark.parametrize(("name", "thickness_mm", "kerf_mm"), BUREAU)
def test_the_built_in_kerf_is_the_bureaus_figure(name, thickness_mm, kerf_mm):
    """At a thickness the bureau names, exactly; marked as what it is."""
    beam = beam_for(sheet(name, thickness_mm=thickness_mm))
    assert beam.kerf_mm == kerf_mm
    assert "common practice" in beam.source
    assert "measure your own machine" in beam.source


@pytest.mark.parametrize(
    ("name", "thickness_mm", "kerf_mm"),
    [
        ("birch plywood", 4.8, 0.225),  # half-way between 3.2 and 6.4
        ("birch plywood", 4.0, 0.2125),  # a quarter of the way
        ("birch plywood", 1.0, 0.15),  # below the first: the first
        ("birch plywood", 18.0, 0.25),  # beyond the last: the last
        ("MDF", 9.2, 0.225),
        ("MDF", 3.0, 0.15),
    ],
)
def test_between_figures_it_is_interpolated_and_beyond_them_it_stays(name, thickness_mm, kerf_mm):
    """By the measured thickness, not the nominal one; worked by hand."""
    one = sheet(name, nominal_mm=6, thickness_mm=thickness_mm)
    assert beam_for(one).kerf_mm == pytest.approx(kerf_mm, abs=1e-9)


@settings(derandomize=True, max_examples=60)
@given(st.floats(0.5, 25.0), st.floats(0.5, 25.0))
def test_a_thicker_board_never_has_a_narrower_cut(one_mm, other_mm):
    """And every built-in kerf lies in the range surveyed, 0.08 to 0.45 mm (looked up)."""
    thin, thick = sorted((one_mm, other_mm))
    narrow = beam_for(birch_plywood(6, thickness_mm=thin)).kerf_mm
    wide = beam_for(birch_plywood(6, thickness_mm=thick)).kerf_mm
    assert 0.08 <= narrow <= wide <= 0.45


def test_a_given_kerf_overrides_the_table():
    """To the last bit, and says that it was given."""
    assert beam_for(birch_plywood(), kerf_mm=0.137) == Beam(0.137, "given")
    assert beam_for(sheet("ABS", nominal_mm=3), kerf_mm=0.2).kerf_mm == 0.2


@pytest.mark.parametrize("kerf_mm", [1e-5, -0.2, math.nan, math.inf, 2.1, 20.0])
def test_an_absurd_kerf_is_refused(kerf_mm):
    """Zero, negative, NaN, infinite, a saw's: says what a kerf is."""
    with pytest.raises(PartError, match=r"kerf is .*full width of the cut, 0.01 to 2 mm, or 0"):
        beam_for(birch_plywood(), kerf_mm=kerf_mm)


def test_a_material_without_figures_asks_for_a_test_cut():
    """Nothing is guessed for polycarbonate."""
    with pytest.raises(PartError, match=r"no built-in kerf for polycarbonate; cut a test piece"):
        beam_for(sheet("polycarbonate", nominal_mm=3))


def test_every_figure_says_where_it_comes_from():
    """Common practice, with the origin of the figure."""
    assert len(known_kerfs()) == 9
    assert all("bureau" in figure.source for figure in known_kerfs())


def test_sheets_and_standard_parts_load_no_heavy_library():
    """The command's help must come at once: no numpy, no shapely (design target 0.3 s)."""
    code = (
        "import sys; import platekit.materials, platekit.hardware as h; "
        "h.screw('M5'), h.motor_face('NEMA 34'), platekit.materials.birch_plywood(); "
        "print(sorted({'numpy', 'shapely', 'ezdxf', 'manifold3d'} & set(sys.modules)))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


def test_no_kerf_may_be_asked_for():
    """A machine that makes room for its own beam wants the bare outline."""
    assert beam_for(birch_plywood(), kerf_mm=0).kerf_mm == 0
