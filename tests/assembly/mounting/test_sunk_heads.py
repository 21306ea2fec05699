"""Heads sunk into a laminate: a hole for head, washer and key above, a shorter bolt below."""

from __future__ import annotations

import pytest

from platekit.assembly import Assembly, bolted, laminate, lying
from platekit.errors import PartError
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.holes import hole
from platekit.panel.plate import Plate


def block(*, sunk: int, recess_mm: float | None = None, **asked):
    """Return a block of three layers of 6 mm with one M5 bolt in its middle, resolved."""
    plates = [Plate(f"layer {k}", birch_plywood(6), rectangle(80, 80)) for k in (1, 2, 3)]
    if recess_mm is not None:
        plates[-1] = plates[-1].with_features(hole(recess_mm))
    bolt = bolted("M5", on="block", side="up", sunk_layers=sunk, name="bolt", **asked)
    return (
        Assembly("a")
        .with_panels(lying(laminate("block", *plates, dowels=0)))
        .with_hardware(bolt)
        .resolve()
    )


def widths(done):
    """Return the widths of the holes in each layer, the lowest first."""
    return [[round(r.bounds.width_mm, 6) for r in part.profile.inners] for part in done.parts]


@pytest.mark.parametrize(
    ("sunk", "length", "top_mm"),
    [
        # Grip, two washers of 1 mm, nut 4.7, two pitches of 0.8: 26.3 for 18 mm and 20.3 for 12
        # (ISO 7089, ISO 4032, ISO 261); the next lengths of ISO 888 are 30 and 25.
        pytest.param(0, "M5x30", 18.0, id="on the face"),
        pytest.param(1, "M5x25", 12.0, id="one layer deep"),
    ],
)
def test_the_bolt_follows_its_head(sunk, length, top_mm):
    """What is gripped is what lies below the head; the washer lies on it."""
    done = block(sunk=sunk)
    (bolt,) = done.fastenings
    assert length in bolt.designation
    washer = bolt.bodies[1]
    assert washer.frame.origin.z == pytest.approx(top_mm)


def test_the_layers_above_are_open_for_head_and_washer():
    """5.5 mm where the bolt passes (ISO 273 medium), 11 mm where its head goes down.

    That is the washer's 10 mm (ISO 7089) and 1 mm of play (common practice, no source).
    """
    assert widths(block(sunk=1)) == [[5.5], [5.5], [11.0]]
    assert widths(block(sunk=0)) == [[5.5]] * 3


def test_a_recess_already_there_is_not_cut_again():
    """A hole of 14 mm drawn by the recipe serves."""
    assert widths(block(sunk=1, recess_mm=14.0)) == [[5.5], [5.5], [14.0]]


def test_the_head_of_an_m5_ends_flush_with_one_layer():
    """Head 5 mm and washer 1 mm (ISO 4762, ISO 7089) fill the 6 mm of one layer exactly."""
    (bolt,) = block(sunk=1).fastenings
    screw = bolt.bodies[0]
    top = screw.frame.origin.z + max(one.high_mm for one in screw.blocks)
    assert top == pytest.approx(18.0)


def test_a_head_needs_a_layer_to_lie_on():
    """Three layers cannot all be sunk through; a fraction or a minus is no number of layers."""
    with pytest.raises(PartError, match="3 of 3 layers") as caught:
        block(sunk=3)
    assert (caught.value.part, caught.value.feature) == ("block", "bolt")
    for wrong in (-1, 0.5):
        with pytest.raises(PartError):
            block(sunk=wrong)


def test_with_a_pocket_for_the_nut_below():
    """Head above, nut below: 6 mm are left to grip, and both ends lie in the block."""
    done = block(sunk=1, nut_pocket=True)
    (bolt,) = done.fastenings
    assert bolt.bodies[1].frame.origin.z == pytest.approx(12.0)
    nut = next(body for body in bolt.bodies if body.kind.value == "nut")
    assert nut.frame.origin.z == pytest.approx(6.0)
