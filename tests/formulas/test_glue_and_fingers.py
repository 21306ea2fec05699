"""Glue lines and tabs against printed examples, and bending against a sum over the section."""

from itertools import pairwise

import numpy as np
import pytest

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.glue_and_fingers import (
    finger_faces,
    glue_length_mm,
    glue_shear_mpa,
    glued_strength_n,
    tab_bearing_n,
    tab_bending_mpa,
    tab_bending_n,
    tab_shear_n,
    web_glue_shear_mpa,
    wood_glue_mpa,
)


def test_a_butt_with_two_splices():
    """Beer & Johnston, Mechanics of Materials, Problem 1.43 (looked up): factor 3.23.

    20 kN, width 120, splices 200 long over a gap of 8, glue of 2.8 MPa.
    """
    overlap_mm = (200 - 8) / 2
    stress = glue_shear_mpa(20e3, length_mm=overlap_mm, breadth_mm=120, faces=2)
    assert 2.8 / stress == pytest.approx(3.23, rel=0.003)
    least_mm = glue_length_mm(20e3, allowed_mpa=2.8 / 3.2256, breadth_mm=120, faces=2)
    assert least_mm == pytest.approx(overlap_mm, rel=1e-3)


def test_a_finger_joint_of_planks():
    """Beer & Johnston, glued finger joint (inputs looked up, answer from memory): 60.2 mm deep.

    7.6 kN, planks of 22 mm, glue of 0.82 MPa, seven faces: four fingers into four.
    """
    faces = finger_faces(4, 4)
    assert faces == 7
    depth_mm = glue_length_mm(7600, allowed_mpa=0.82, breadth_mm=22, faces=faces)
    assert depth_mm == pytest.approx(60.2, rel=0.001)


@pytest.mark.parametrize(("first", "second"), [(1, 1), (3, 2), (2, 3), (5, 5)])
def test_faces_are_counted(first, second):
    """Laid out as a row of letters, a face lies wherever two neighbours differ."""
    row = "".join("AB"[(k + (second > first)) % 2] for k in range(first + second))
    assert (row.count("A"), row.count("B")) == (first, second)
    touching = sum(a != b for a, b in pairwise(row))
    assert finger_faces(first, second) == touching


def test_plywood_rolls_before_glue_lets_go():
    """Birch plywood's planar shear of 2.2 MPa (handbook, from memory) under a glue of 10 MPa."""
    held = glued_strength_n(glue_mpa=10, wood_mpa=2.2, length_mm=50, breadth_mm=20)
    assert held == pytest.approx(2200)
    weak = glued_strength_n(glue_mpa=0.82, wood_mpa=2.2, length_mm=50, breadth_mm=20, faces=2)
    assert weak == pytest.approx(1640)


def test_classes_of_wood_glue():
    """EN 204 on beech to EN 205 (from memory): 10 MPa dry; after four days in water 2 and 4 MPa."""
    assert [wood_glue_mpa(name) for name in ("D1", "D2", "D3", "D4")] == [10.0] * 4
    assert [wood_glue_mpa(name, wet=True) for name in ("D3", "D4")] == [2.0, 4.0]
    for name, wet in (("D2", True), ("D5", False)):
        with pytest.raises(UnknownNameError, match=f"glue class '{name}'"):
            wood_glue_mpa(name, wet=wet)


def test_deep_flanges_lose_evenness():
    """EN 1995-1-1, 9.1.1 (from memory): full to four webs, (1/2)^0.8 = 0.574 at eight."""
    assert web_glue_shear_mpa(2.0, flange_mm=10, web_mm=6) == pytest.approx(2.0)
    assert web_glue_shear_mpa(2.0, flange_mm=24, web_mm=6) == pytest.approx(2.0)
    assert web_glue_shear_mpa(2.0, flange_mm=48, web_mm=6) == pytest.approx(2 * 0.5743, rel=1e-3)


def test_a_tab_in_birch_plywood():
    """12 by 6.4 mm at 9.5 MPa panel shear (handbook of plywood, from memory): 730 N by hand."""
    assert tab_shear_n(9.5, width_mm=12, thickness_mm=6.4) == pytest.approx(730, abs=0.5)
    # Compression along the face grain of that plywood, 29.3 MPa, by hand 2250 N.
    assert tab_bearing_n(29.3, width_mm=12, thickness_mm=6.4) == pytest.approx(2250, abs=1)


def test_bending_by_summing_the_section():
    """Second witness: strips of a section whose stress runs straight to the edge's value."""
    force_n, arm_mm, along_mm, across_mm = 300.0, 4.2, 12.0, 6.4
    edge = tab_bending_mpa(force_n, arm_mm=arm_mm, along_mm=along_mm, across_mm=across_mm)
    edges = np.linspace(-along_mm / 2, along_mm / 2, 20001)
    heights = (edges[1:] + edges[:-1]) / 2
    strips = edge * heights / (along_mm / 2) * across_mm * np.diff(edges)
    assert (strips * heights).sum() == pytest.approx(force_n * arm_mm, rel=1e-6)
    back = tab_bending_n(edge, arm_mm=arm_mm, along_mm=along_mm, across_mm=across_mm)
    assert back == pytest.approx(force_n)


def test_a_tab_is_stiffer_in_its_own_plane():
    """12 by 6 mm: pushed along its width it bears twice what it bears across its sheet."""
    edgewise = tab_bending_n(40, arm_mm=3, along_mm=12, across_mm=6)
    flatwise = tab_bending_n(40, arm_mm=3, along_mm=6, across_mm=12)
    assert edgewise / flatwise == pytest.approx(2)
    assert tab_bending_mpa(100, arm_mm=0, along_mm=12, across_mm=6) == 0.0


def test_impossible_joints_are_refused():
    """Each with its value and a remedy."""
    with pytest.raises(PartError, match="5 fingers against 3"):
        finger_faces(5, 3)
    with pytest.raises(PartError, match="glued faces is 0"):
        glue_shear_mpa(10, length_mm=5, breadth_mm=5, faces=0)
    with pytest.raises(PartError, match="lever of the force is 0 mm"):
        tab_bending_n(40, arm_mm=0, along_mm=12, across_mm=6)
    with pytest.raises(PartError, match="tab width is 0 mm"):
        tab_shear_n(9.5, width_mm=0, thickness_mm=6)
    with pytest.raises(PartError, match="web thickness is 0 mm"):
        web_glue_shear_mpa(2, flange_mm=10, web_mm=0)
