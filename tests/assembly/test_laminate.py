"""Laminates: layers line up on dowels, and join as one thick panel."""

import itertools
import math

import pytest

from platekit.assembly import Assembly, laminate, lying, placed, standing
from platekit.assembly.frames import Frame
from platekit.errors import PartError
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.holes import hole
from platekit.panel.plate import Plate
from tests.assembly.bodies import plate, proof


def layers(*thicknesses, size=(80, 60)):
    """Return plates of several thicknesses, all of one size."""
    return [plate(f"layer {k}", t, *size) for k, t in enumerate(thicknesses, start=1)]


def dowels_of(part):
    """Return the centres of a part's round holes."""
    return sorted(tuple(ring.centroid) for ring in part.profile.inners if ring.is_circle)


def test_dowel_holes_lie_over_each_other_in_every_layer():
    """Same places, wider than the dowel by the material's fit for a laminate dowel."""
    glued = laminate("pad", *layers(6, 6, 4), dowel_mm=4)
    resolved = Assembly("a").with_panels(lying(glued)).resolve()
    spots = [dowels_of(part) for part in resolved.parts]
    assert len(spots[0]) == 2
    assert spots[0] == spots[1] == spots[2]
    play = birch_plywood(6).material.fits["laminate dowel"]
    widths = {round(r.bounds.width_mm, 9) for part in resolved.parts for r in part.profile.inners}
    assert widths == {round(4 + play, 9)}
    assert [frame.origin.z for _, frame in resolved.placed] == [0, 6, 12]


def test_a_layer_laid_wrong_does_not_fit_its_dowels():
    """Turned by half a turn or over either edge, the holes miss by at least two diameters."""
    glued = laminate("pad", *layers(6, 6), dowel_mm=4)
    spots = dowels_of(Assembly("a").with_panels(lying(glued)).resolve().parts[0])
    for turn in ((-1, -1), (-1, 1), (1, -1)):
        wrong = [(40 + turn[0] * (x - 40), 30 + turn[1] * (y - 30)) for x, y in spots]
        for spot, other in itertools.product(spots[:1], wrong[1:]):
            assert math.dist(spot, other) >= 8 - 1e-9


def test_dowels_keep_clear_of_bores():
    """Round a bearing seat the dowels find the wood: a web of one thickness, 6 mm."""
    ring = Plate("seat", birch_plywood(6), rectangle(80, 80)).with_features(hole(42))
    cap = Plate("cap", birch_plywood(6), rectangle(80, 80)).with_features(hole(26))
    glued = laminate("bearing", ring, cap, dowel_mm=4, dowels=3)
    resolved = Assembly("a").with_panels(lying(glued)).resolve()
    for x, y in dowels_of(resolved.parts[0])[:3]:
        away = math.dist((x, y), (40, 40))
        if away > 1:  # the bore itself
            assert away >= 21 + 2 + 6
            assert min(x, y, 80 - x, 80 - y) >= 2 + 6


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda: laminate("pad", *layers(6)), ("pad", "1 layer")),
        (
            lambda: (
                Assembly("a")
                .with_panels(lying(laminate("pad", *layers(6, 6, size=(18, 18)))))
                .resolve()
            ),
            ("pad", "room for 1 of 2"),
        ),
        (lambda: laminate("pad", *layers(6, 6), dowels=[(300, 5)]), ("layer 1", "dowel 1")),
        (lambda: laminate("pad", *layers(6, 6), dowel_mm=-1), ("dowel diameter", "-1")),
    ],
)
def test_laminates_that_cannot_be_are_refused(make, words):
    """The message names the laminate or layer and what is wrong."""
    with pytest.raises(PartError) as caught:
        make()
    assert [word for word in words if word not in str(caught.value)] == []


def test_walls_join_a_laminate_as_one_thick_panel():
    """A double floor of 6 + 4 mm takes tabs of walls through both layers; nothing overlaps."""
    floor = laminate("floor", *layers(6, 4, size=(160, 120)), dowels=0)
    case = (
        Assembly("case")
        .with_panels(
            placed(floor, Frame()),
            standing(plate("front", 6, 160, 70), facing="front"),
            standing(plate("rib", 6, 120, 70), facing="right", left_mm=70),
        )
        .with_practice(clearance_mm=0.0)
    )
    found = proof(case)
    assert found.overlap_mm3 < 1e-3
    assert abs(found.lost_mm3) < 1e-3
    assert set(found.pieces) == {1}
    assert len(found.resolved.parts) == 4
    lower, upper = (part.profile for part in found.resolved.parts[:2])
    assert lower.area_mm2 == pytest.approx(upper.area_mm2)
