"""Bearings: whether their seats are as deep as they are, and whether anything stops them."""

from __future__ import annotations

import pytest

from platekit.assembly import Assembly, laminate, lying, mounted, on_axis
from platekit.findings import Severity
from platekit.geometry.shapes import rectangle
from platekit.hardware import ball_bearing, rectangular_device, shaft
from platekit.hardware.devices.device import round_passage
from platekit.materials import birch_plywood
from platekit.panel.holes import hole
from platekit.panel.plate import Plate


def block(sheet_mm: float, layers: int, *, lift_mm: float = 0.0, top_hole: float | None = None):
    """Return what is said of a 6001 in a laminate: 12 x 28 x 8 mm (ISO 15)."""
    sheet = birch_plywood(sheet_mm)
    plates = [Plate(f"layer {k}", sheet, rectangle(90, 90)) for k in range(layers)]
    if top_hole is not None:
        plates[-1] = plates[-1].with_features(hole(top_hole))
    panel = laminate("block", *plates) if layers > 1 else plates[0]
    rig = (
        Assembly("rig")
        .with_panels(lying(panel))
        .with_hardware(
            mounted(
                ball_bearing("6001"), on=panel.name, side="down", lift_mm=lift_mm, name="bearing"
            )
        )
    )
    return [one for one in rig.resolve().findings if one.feature == "bearing"]


@pytest.mark.parametrize(
    ("sheet_mm", "layers", "top_hole", "stopped"),
    [
        pytest.param(4, 3, None, True, id="two layers hold it, the third is a shoulder of 20 mm"),
        pytest.param(4, 2, None, False, id="two layers hold it, and nothing lies beside"),
        pytest.param(8, 1, None, False, id="one layer as thick as it is"),
        pytest.param(4, 3, 40.0, False, id="the third is open wider than the outer ring"),
        pytest.param(4, 3, 24.0, True, id="the third is open, yet less than the outer ring"),
    ],
)
def test_a_bearing_wants_a_shoulder(sheet_mm, layers, top_hole, stopped):
    """The outer ring is 28 mm wide: a smaller hole beside it stops it, a wider one does not."""
    warned = [one for one in block(sheet_mm, layers, top_hole=top_hole) if "stops" in one.measure]
    assert bool(warned) == (not stopped)
    assert all(one.severity is Severity.WARNING for one in warned)


def test_a_bearing_that_stands_out_is_said_by_how_much():
    """8 mm of bearing in 6 mm of sheet stand out by 2 mm; let in from 2 mm off the face as well."""
    (proud,) = [one for one in block(6, 1) if "stands out" in one.measure]
    assert (proud.value, proud.severity) == (pytest.approx(2.0), Severity.NOTE)
    assert [one for one in block(4, 2) if "stands out" in one.measure] == []
    (lifted,) = [one for one in block(4, 2, lift_mm=2.0) if "stands out" in one.measure]
    assert lifted.value == pytest.approx(2.0)


def test_a_hollow_gearbox_lets_its_shaft_through():
    """A shaft of 14 mm in a bore of 14 mm touches and does not overlap; in solid metal it does."""

    def said(bore_mm):
        box = rectangular_device("gearbox", width_mm=60, depth_mm=60, height_mm=40, bore_mm=bore_mm)
        rig = (
            Assembly("rig")
            .with_panels(lying(Plate("deck", birch_plywood(6), rectangle(120, 120)), bottom_mm=50))
            .with_hardware(
                mounted(box, on="deck", side="up", name="gearbox"),
                mounted(
                    shaft(14, 60, below_mm=30),
                    on="deck",
                    side="up",
                    at=on_axis("gearbox"),
                    name="axle",
                ),
            )
        )
        done = rig.resolve()
        return [one.part for one in rig.prove(done).findings if "overlap" in one.measure]

    assert said(14.0) == []
    assert said(0.0) == ["gearbox + axle"]


def test_only_a_passage_called_a_seat_is_judged():
    """A shaft's passage is no bearing's seat."""
    assert round_passage("shaft", 8, low_mm=-6, high_mm=0, play_mm=1).name != "seat"
    sheet = birch_plywood(6)
    rig = (
        Assembly("rig")
        .with_panels(lying(Plate("deck", sheet, rectangle(90, 90))))
        .with_hardware(mounted(shaft(8, 20, below_mm=20), on="deck", side="up", name="axle"))
    )
    assert [one for one in rig.resolve().findings if one.feature == "axle"] == []
