"""Arcs cut to the lengths that files want."""

import numpy as np
import pytest

from platekit.export.arcs import bulges, split_arcs
from platekit.geometry.chains import Contour
from platekit.geometry.tables import lengths, sweeps_rad
from tests.export.examples import bent, distances_to, keyhole, rounded_rectangle, slot


@pytest.mark.parametrize(
    ("sweep_deg", "most_deg", "pieces"),
    [
        (90, 120, 1),
        (120, 120, 1),
        (-120, 120, 1),
        (121, 120, 2),
        (180, 180, 1),
        (-180, 180, 1),
        (180, 120, 2),
        (181, 180, 2),
        (-300, 120, 3),
        (350, 180, 2),
    ],
)
def test_an_arc_is_cut_into_as_few_equal_pieces_as_will_do(sweep_deg, most_deg, pieces):
    """The number is sweep over limit, rounded up; a half circle stays one piece for a bulge."""
    chain = Contour.of(
        [bent((0, 0), (30, 10), sweep_deg=sweep_deg), bent((30, 10), (0, 0), sweep_deg=0)]
    )
    cut, origin = split_arcs(chain.table, most_deg=most_deg)
    assert origin.tolist() == [0] * pieces + [1]
    assert np.degrees(sweeps_rad(cut)[:-1]) == pytest.approx([sweep_deg / pieces] * pieces)


@pytest.mark.parametrize(
    "contour", [slot(10, 4), rounded_rectangle(50, 30, 6), keyhole((20, 30), radius=5, neck=3)]
)
def test_pieces_join_on_the_true_curve(contour):
    """Each ends where the next begins, on the arc, and together they are as long."""
    cut, _ = split_arcs(contour.table, most_deg=25)
    assert np.array_equal(cut[:, 2:4], np.roll(cut[:, 0:2], -1, axis=0))
    assert distances_to(contour, cut[:, 0:2]).max() <= 1e-12
    assert lengths(cut).sum() == pytest.approx(contour.length_mm, rel=1e-12)


def test_bulges_are_sagitta_over_half_chord():
    """The geometric meaning of a bulge: a half circle 1, a quarter tan(22.5 deg), a line 0."""
    contour = Contour.of(
        [
            bent((0, 0), (10, 0), sweep_deg=180),
            bent((10, 0), (10, 10), sweep_deg=-90),
            bent((10, 10), (0, 0), sweep_deg=0),
        ]
    )
    assert bulges(contour.table) == pytest.approx([1, -(2**0.5 - 1), 0])
