"""Glue between layers, against integrals by numpy and printed strengths."""

from __future__ import annotations

import numpy as np
import pytest

from platekit import Assembly, Plate, circle, hole, laminate, load, lying, mounted
from platekit.checks.hold.laminates import laminates
from platekit.findings import Severity
from platekit.materials import sheet
from tests.checks.hold.loaded_rigs import PLY, least, subject, turret, weighed


def table(*loads, layers=3, lower_mm=120.0, bore_mm=0.0, cut=PLY, **asked):
    """Return a round table of layers, its lowest smaller, a turret below that may grip some."""

    def disc(name, diameter_mm):
        plate = Plate(name, cut, circle((100.0, 100.0), diameter_mm=diameter_mm))
        return plate.with_features(hole(bore_mm, name="bore")) if bore_mm else plate

    sizes = [lower_mm, *[160.0] * (layers - 1)]
    glued = laminate("table", *(disc(f"layer {k + 1}", one) for k, one in enumerate(sizes)))
    given = loads or (load("turret", torque_nm=30.0, radial_n=200.0, name="push"),)
    return (
        Assembly("table")
        .with_panels(lying(glued))
        .with_hardware(
            mounted(
                turret(),
                on="table",
                side="down",
                at=(100.0, 100.0),
                name="turret",
                **asked,
            )
        )
        .with_loads(*given)
    )


def ring_stress(torque, force, outer, inner):
    """Return stress at the rim of a ring: area and second moment summed over small squares."""
    step = outer / 1600
    across = np.arange(-outer / 2, outer / 2, step) + step / 2
    x, y = np.meshgrid(across, across)
    radius = np.hypot(x, y)
    inside = (radius < outer / 2) & (radius > inner / 2)
    area = float(inside.sum()) * step**2
    polar = float((radius[inside] ** 2).sum()) * step**2
    return force / area + torque * outer / 2 / polar


@pytest.mark.parametrize("bore", [0.0, 30.0])
def test_the_ring_by_summing_small_squares(bore):
    """Screws in the lowest layer of three: all passes its glue, F / A + T R / J, by numpy."""
    (found,) = weighed(laminates, table(grip_layers=1, bore_mm=bore))
    assert found.value == pytest.approx(1.5 * ring_stress(30_000.0, 200.0, 120.0, bore), rel=2e-3)
    # Planar shear of birch plywood the weaker way, 1.78 MPa (Handbook of Finnish Plywood, from
    # memory), far below the 10 MPa of EN 204.
    assert found.limit == pytest.approx(0.9 * 1.78 / 1.2)
    assert found.part == "table"
    assert found.feature == "layer 1 + layer 2"


def test_screws_that_grip_all_leave_the_glue_alone():
    """Then every layer has its own wall at every screw."""
    assert list(laminates(subject(table()))) == []


def test_a_smaller_face_is_worse():
    """One change: less glue."""
    small, large = (table(grip_layers=1, lower_mm=size) for size in (100.0, 140.0))
    assert least(laminates, small) < least(laminates, large)


def test_too_much_stops():
    """Peeling the table off its foot."""
    (found,) = laminates(subject(table(load("turret", torque_nm=3000.0), grip_layers=1)))
    assert found.severity is Severity.STOP
    assert "grip" in found.remedy


def test_single_plates_and_pushes_along_are_silent():
    """No glue, or nothing in its plane."""
    assert list(laminates(subject(table(load("turret", axial_n=100.0), grip_layers=1)))) == []


@pytest.mark.parametrize("material", ["MDF", "cast acrylic"])
def test_what_nobody_knows_is_told_once(material):
    """One note for two loads."""
    rig = table(
        load("turret", torque_nm=1.0, name="one"),
        load("turret", torque_nm=2.0, name="two"),
        grip_layers=1,
        cut=sheet(material, nominal_mm=6.0),
    )
    (found,) = laminates(subject(rig))
    assert found.severity is Severity.NOTE
    assert material in found.measure
