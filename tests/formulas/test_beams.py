"""Bent bars against a stiffness matrix of many short bars, which knows no closed form."""

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.beams import (
    Beam,
    built_in_centre_load,
    built_in_even_load,
    cantilever_end_load,
    cantilever_even_load,
    resting_centre_load,
    resting_even_load,
    resting_load_at,
)

SHELF = Beam(span_mm=400, width_mm=6, depth_mm=40, modulus_mpa=9000)
LOAD_N = 150.0
PARTS = 400


def _largest(held, forces):
    """Return the largest moment and sag of SHELF, its nodes' (sag, slope) `held`, by elements.

    The stiffness matrix of a short bar is that of any text on structural analysis (from memory).
    """
    h = SHELF.span_mm / PARTS
    ei = SHELF.modulus_mpa * 6 * 40**3 / 12
    bar = (
        ei
        / h**3
        * np.array(
            [
                [12, 6 * h, -12, 6 * h],
                [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                [-12, -6 * h, 12, -6 * h],
                [6 * h, 2 * h * h, -6 * h, 4 * h * h],
            ]
        )
    )
    whole = np.zeros((2 * PARTS + 2, 2 * PARTS + 2))
    for k in range(PARTS):
        whole[2 * k : 2 * k + 4, 2 * k : 2 * k + 4] += bar
    push = np.zeros(2 * PARTS + 2)
    push[::2] = forces
    free = np.setdiff1d(np.arange(2 * PARTS + 2), held)
    moved = np.zeros(2 * PARTS + 2)
    moved[free] = np.linalg.solve(whole[np.ix_(free, free)], push[free])
    moments = [(bar @ moved[2 * k : 2 * k + 4])[[1, 3]] for k in range(PARTS)]
    return np.max(np.abs(moments)), np.max(np.abs(moved[::2]))


def _at(node):
    forces = np.zeros(PARTS + 1)
    forces[node] = LOAD_N
    return forces


def _spread():
    forces = np.full(PARTS + 1, LOAD_N / PARTS)
    forces[[0, -1]] /= 2
    return forces


WALL, ENDS, BOTH_WALLS = [0, 1], [0, 2 * PARTS], [0, 1, 2 * PARTS, 2 * PARTS + 1]


@pytest.mark.parametrize(
    ("case", "held", "forces"),
    [
        pytest.param(cantilever_end_load, WALL, _at(PARTS), id="built in, end load"),
        pytest.param(cantilever_even_load, WALL, _spread(), id="built in, even load"),
        pytest.param(resting_centre_load, ENDS, _at(PARTS // 2), id="resting, centre load"),
        pytest.param(resting_even_load, ENDS, _spread(), id="resting, even load"),
        pytest.param(built_in_centre_load, BOTH_WALLS, _at(PARTS // 2), id="walls, centre load"),
        pytest.param(built_in_even_load, BOTH_WALLS, _spread(), id="walls, even load"),
    ],
)
def test_closed_forms_agree_with_many_short_bars(case, held, forces):
    """Moment and sag of each case, by 400 elements."""
    moment, sag = _largest(held, forces)
    bending = case(SHELF, load_n=LOAD_N)
    assert bending.moment_nmm == pytest.approx(moment, rel=1e-4)
    assert bending.sag_mm == pytest.approx(sag, rel=1e-4)
    # Bending stress M/W with W = b h^2/6, any handbook (from memory).
    assert bending.stress_mpa == pytest.approx(moment / (6 * 40**2 / 6), rel=1e-4)


@pytest.mark.parametrize("node", [40, 120, 310])
def test_a_load_anywhere_agrees_too(node):
    """The largest sag is not under the load, and is found all the same."""
    moment, sag = _largest(ENDS, _at(node))
    bending = resting_load_at(SHELF, load_n=LOAD_N, at_mm=float(node))
    assert bending.moment_nmm == pytest.approx(moment, rel=1e-4)
    assert bending.sag_mm == pytest.approx(sag, rel=1e-4)


def test_twice_as_deep_is_eight_times_as_stiff():
    """The cube of the depth: why plates stand on edge."""
    deep = Beam(span_mm=400, width_mm=6, depth_mm=80, modulus_mpa=9000)
    shallow = cantilever_end_load(SHELF, load_n=10)
    assert shallow.sag_mm / cantilever_end_load(deep, load_n=10).sag_mm == pytest.approx(8)


def test_a_load_beside_the_span_is_refused():
    """The message says where it stands and how far the span reaches."""
    with pytest.raises(PartError, match="load stands at 401 mm on a span of 400 mm; give a place"):
        resting_load_at(SHELF, load_n=1, at_mm=401)
    with pytest.raises(PartError, match="depth is 0 mm"):
        Beam(span_mm=1, width_mm=1, depth_mm=0, modulus_mpa=1)
