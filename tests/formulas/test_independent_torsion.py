"""Twisted bars against scikit-fem (12.0, BSD), a library of other authors for finite elements.

It knows nothing of torsion. Saint-Venant's warping w is solved for on each section with the
library's elements of second order: grad w . grad v = y v_x - x v_y, and J is the polar moment of
the section less grad w . grad w summed over it. That J is never below the true one.
"""

import math

import numpy as np
import pytest

from platekit.formulas.torsion import (
    box_shear_mpa,
    box_twist_deg,
    polar_moment_mm4,
    rectangle_shear_mpa,
    rectangle_torsion_constant_mm4,
)

skfem = pytest.importorskip("skfem", reason="scikit-fem, an independent witness, is not installed")


class Section:
    """A meshed section, twisted by 1 a mm at a shear modulus of 1."""

    def __init__(self, mesh):
        self.mesh = mesh
        self.basis = skfem.Basis(mesh, skfem.ElementQuad2(), intorder=5)
        stiff = skfem.BilinearForm(
            lambda u, v, _: u.grad[0] * v.grad[0] + u.grad[1] * v.grad[1]
        ).assemble(self.basis)
        push = skfem.LinearForm(lambda v, w: w.x[1] * v.grad[0] - w.x[0] * v.grad[1]).assemble(
            self.basis
        )
        polar = skfem.Functional(lambda w: w.x[0] ** 2 + w.x[1] ** 2).assemble(self.basis)
        self.warping = skfem.solve(*skfem.condense(stiff, push, D=np.array([0])))
        self.constant_mm4 = polar - self.warping @ stiff @ self.warping

    def upward_mpa(self, torque_nmm, elements):
        """Return the mean shear along y over some elements under a torque."""
        basis = skfem.Basis(self.mesh, skfem.ElementQuad2(), intorder=5, elements=elements)
        warping = basis.interpolate(self.warping)
        shear = skfem.Functional(lambda w: w["warping"].grad[1] + w.x[0])
        area = skfem.Functional(lambda w: 1.0 + 0.0 * w.x[0]).assemble(basis)
        return torque_nmm / self.constant_mm4 * shear.assemble(basis, warping=warping) / area

    def skin_mpa(self, torque_nmm, side, near):
        """Return the shear along y at the place of a side that is nearest to y = 0."""
        basis = skfem.FacetBasis(self.mesh, skfem.ElementQuad2(), facets=side, intorder=5)
        places = np.asarray(basis.global_coordinates())
        shear = basis.interpolate(self.warping).grad[1] + places[0]
        return torque_nmm / self.constant_mm4 * shear.ravel()[np.argmin(abs(places[1] - near))]


def _bar(long_mm, short_mm, pieces):
    """Return a rectangle, its long side along y, cut so that a piece stands across its middle."""
    across = np.linspace(-short_mm / 2, short_mm / 2, pieces + 1)
    along = np.linspace(-long_mm / 2, long_mm / 2, 3 * pieces + 2 - pieces % 2)
    mesh = skfem.MeshQuad.init_tensor(across, along)
    return Section(mesh.with_boundaries({"long": lambda x: x[0] > short_mm / 2 - 1e-9}))


@pytest.mark.parametrize("sides", [(10, 10), (30, 8), (65, 18), (60, 6)])
def test_rectangular_bars(sides):
    """J within 0.1 % and never above the library's; shear in the long side's middle within 0.2 %.

    Elements of second order, 8 or 16 across: halving them moves J by less than 0.1 %.
    """
    long, short = sides
    coarse, fine = (_bar(long, short, pieces) for pieces in (8, 16))
    ours = rectangle_torsion_constant_mm4(long_mm=long, short_mm=short)
    assert coarse.constant_mm4 == pytest.approx(fine.constant_mm4, rel=1e-3)
    assert ours == pytest.approx(fine.constant_mm4, rel=1e-3)
    assert ours < fine.constant_mm4 < coarse.constant_mm4
    shear = rectangle_shear_mpa(700, long_mm=long, short_mm=short)
    assert shear == pytest.approx(fine.skin_mpa(700, "long", 0.0), rel=2e-3)


@pytest.mark.parametrize("bore_mm", [8.0, 15.0])
def test_hollow_round_bars(bore_mm):
    """Within 3 parts in 10 000: the library's ring has 256 straight sides, some 0.02 % too few."""
    rings, turns = 4, 256
    radii, angles = np.linspace(bore_mm / 2, 10, rings + 1), np.arange(turns) * 2 * np.pi / turns
    places = np.array([np.outer(radii, f(angles)).ravel() for f in (np.cos, np.sin)])
    ring, turn = (k.ravel() for k in np.mgrid[0:rings, 0:turns])
    after = (turn + 1) % turns
    corners = (ring * turns + turn, (ring + 1) * turns + turn)
    corners = (*corners, (ring + 1) * turns + after, ring * turns + after)
    section = Section(skfem.MeshQuad(places, np.array(corners)))
    ours = polar_moment_mm4(diameter_mm=20, bore_mm=bore_mm)
    assert ours == pytest.approx(section.constant_mm4, rel=3e-4)


def _box(wide_mm, high_mm, wall_mm):
    """Return a box by its outer sides, four elements through the wall."""

    def cuts(outside):
        wall = np.linspace(0, wall_mm, 5)
        return np.unique(
            np.round([*wall, *np.linspace(wall_mm, outside - wall_mm, 21), *(outside - wall)], 9)
        )

    mesh = skfem.MeshQuad.init_tensor(cuts(wide_mm) - wide_mm / 2, cuts(high_mm) - high_mm / 2)
    x, y = mesh.p[:, mesh.t].mean(axis=1)
    open_ = (abs(x) < wide_mm / 2 - wall_mm) & (abs(y) < high_mm / 2 - wall_mm)
    return Section(mesh.remove_elements(np.nonzero(open_)[0]))


@pytest.mark.parametrize("wall_mm", [1.0, 2.0, 3.0, 6.0])
def test_thin_boxes(wall_mm):
    """Bredt's twist and mean shear of a box of 90 by 63 mm, walls up to a tenth of it.

    Bredt leaves out the stiffness of walls by themselves and of corners: his twist is too large,
    by less than half the wall over the box (3 % at 3 mm of 63), and the less the thinner. The
    mean shear in the middle of a side, where the flow has evened out, within a quarter of that.
    """
    wide, high, torque = 90.0, 63.0, 1e4
    box = _box(wide, high, wall_mm)
    area, girth = (wide - wall_mm) * (high - wall_mm), 2 * (wide + high - 2 * wall_mm)
    ours = box_twist_deg(
        torque,
        length_mm=300,
        shear_modulus_mpa=620,
        enclosed_mm2=area,
        girth_mm=girth,
        wall_mm=wall_mm,
    )
    theirs = math.degrees(torque * 300 / (620 * box.constant_mm4))
    thin = wall_mm / high
    assert 1.0 < ours / theirs < 1.0 + thin / 2 + 1e-3
    x, y = box.mesh.p[:, box.mesh.t].mean(axis=1)
    side = np.nonzero((x > wide / 2 - wall_mm) & (abs(y) < high / 10))[0]
    shear = box_shear_mpa(torque, enclosed_mm2=area, wall_mm=wall_mm)
    assert shear == pytest.approx(box.upward_mpa(torque, side), rel=thin / 8 + 1e-3)
