"""Bolt groups against ezbolt (0.3.0, MIT), a library of another author for in-plane bolt forces.

Not among the test extra's packages: it brings pandas and matplotlib, some 130 MB on disk. To run
these, install it by hand: pip install ezbolt.
"""

import random

import numpy as np
import pytest

from platekit.formulas.bolt_groups import (
    bolt_forces,
    centroid_mm,
    largest,
    moment_about_nmm,
    polar_sum_mm2,
)

ezbolt = pytest.importorskip("ezbolt", reason="ezbolt, an independent witness, is not installed")

# Both add up the same few numbers: nothing but rounding may lie between them.
ROUNDING = 1e-9


def _drawn(seed):
    """Return bolts at random places, a force at a random point, and ezbolt's group with both."""
    draw = random.Random(seed)  # noqa: S311 - bolts, no secrets
    places = [(draw.uniform(-200, 200), draw.uniform(-200, 200)) for _ in range(draw.randint(2, 9))]
    load = (draw.uniform(-5000, 5000), draw.uniform(-5000, 5000))
    at = (draw.uniform(-400, 400), draw.uniform(-400, 400))
    group = ezbolt.BoltGroup()
    for place in places:
        group.add_bolt_single(*place)
    # ezbolt has its own middle; the moment about it is worked out here by numpy.
    arm = np.subtract(at, (group.x_cg, group.y_cg))
    group.Vx, group.Vy = load
    group.torsion = float(arm[0] * load[1] - arm[1] * load[0])
    group.bolt_capacity = 1.0
    return places, load, at, group


@pytest.mark.parametrize("seed", range(12))
def test_eccentric_loads_by_the_elastic_method(seed):
    """Each bolt's force, the largest, middle and polar sum, within rounding.

    ezbolt tells what the bolts do to the plate: the other way round. Only its elastic method is
    run; its other methods let bolts yield, which ours does not claim.
    """
    places, load, at, group = _drawn(seed)
    middle = centroid_mm(places)
    moment = moment_about_nmm(middle, at, force_x_n=load[0], force_y_n=load[1])
    got = bolt_forces(places, force_x_n=load[0], force_y_n=load[1], moment_nmm=moment)
    table = group.solve_elastic()
    assert middle == pytest.approx((group.x_cg, group.y_cg), rel=ROUNDING, abs=ROUNDING)
    assert polar_sum_mm2(places) == pytest.approx(group.Iz, rel=ROUNDING)
    scale = largest(got).size_n
    assert scale == pytest.approx(table["Bolt Demand"], rel=ROUNDING)
    for ours, theirs in zip(got, group.bolts, strict=True):
        assert (ours.x_n, ours.y_n) == pytest.approx(
            (-theirs.vx_total, -theirs.vy_total), abs=ROUNDING * scale
        )


def test_a_bracket_by_its_centre_of_rotation():
    """A grid of 2 by 3 bolts, 100 mm apart, 6 kN at 300 mm from their middle: within rounding.

    ezbolt's second way to the elastic forces: it turns the group about one point, instead of
    adding a share of the force to a share of the moment.
    """
    group = ezbolt.BoltGroup()
    group.add_bolts(xo=0, yo=0, width=100, height=200, nx=2, ny=3)
    group.solve(Vx=0, Vy=-6000, torsion=-6000 * 300, verbose=False)
    places = [(bolt.x, bolt.y) for bolt in group.bolts]
    moment = moment_about_nmm(centroid_mm(places), (350, 100), force_y_n=-6000)
    got = bolt_forces(places, force_y_n=-6000, moment_nmm=moment)
    turned = [bolt.vtotal_ECR for bolt in group.bolts]
    assert [force.size_n for force in got] == pytest.approx(turned, rel=ROUNDING)
