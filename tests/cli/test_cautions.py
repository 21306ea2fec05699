"""What can hurt is said where it is seen, and only then."""

from __future__ import annotations

import pytest

from platekit.assembly import Assembly, belted, lying, mounted
from platekit.cli.cautions import switched_on
from platekit.errors import PartError
from platekit.geometry.shapes import rectangle
from platekit.hardware import belt_drive, motor, panel_device, rectangular_device, shaft
from platekit.hardware.devices.table import device
from platekit.hardware.hazards import Hazard
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate

SHEET = birch_plywood(nominal_mm=6.0)


def rig(*hardware):
    """Return one deck with bought parts on it."""
    deck = lying(Plate("deck", SHEET, rectangle(400, 200)), bottom_mm=100)
    return Assembly("rig").with_panels(deck).with_hardware(*hardware).resolve()


@pytest.mark.parametrize(
    ("hazard", "words"),
    [
        pytest.param(Hazard.MOTION, ("limit its current", "ISO 13850", "ISO 14118"), id="motion"),
        pytest.param(Hazard.DRAW_IN, ("guards", "ISO 14120"), id="belt"),
        pytest.param(Hazard.MAINS, ("licensed electrician", "IEC 60364"), id="mains"),
    ],
)
def test_every_hazard_is_told_with_its_standard(hazard, words):
    """Numbers of the standards from memory; local codes come first."""
    said = " ".join(" ".join(switched_on([hazard])).split())
    assert [word for word in words if word not in said] == []
    assert "Local codes and licensed practice come first" in said


def test_a_rig_without_motors_says_nothing():
    """A plain plate, or a shaft alone, needs no word about current."""
    assert list(switched_on(())) == []
    assert rig(mounted(shaft(20, 60), on="deck", side="up")).hazards == ()


def test_bought_parts_bring_their_hazards():
    """A motor moves, a belt draws in, a supply and an inlet are wired to the mains."""
    turned = mounted(
        motor("NEMA 23 metric", body_length_mm=56, shaft_length_mm=24),
        on="deck",
        side="up",
        at=(100, 100),
        name="motor",
    )
    drive = belt_drive("curvilinear 3 mm", teeth=(40, 20), belt_teeth=120, width_mm=9)
    axle = mounted(
        shaft(12, 5, below_mm=40),
        on="deck",
        side="up",
        at=(100 + drive.centres_mm, 100),
        name="axle",
    )
    assert rig(turned).hazards == (Hazard.MOTION,)
    belt = belted(drive, between=("motor", "axle"), on="deck", side="down")
    assert rig(turned, axle, belt).hazards == (Hazard.MOTION, Hazard.DRAW_IN)
    assert panel_device("mains inlet C14").hazards == (Hazard.MAINS,)
    assert device("power supply 215 x 115 x 30 mm").hazards == (Hazard.MAINS,)
    own = rectangular_device(
        "supply", width_mm=90, depth_mm=60, height_mm=30, hazards=("mains", "mains")
    )
    assert own.hazards == (Hazard.MAINS,)
    with pytest.raises(PartError, match=r"hazards is 'mains'; give names in brackets"):
        rectangular_device("supply", width_mm=90, depth_mm=60, height_mm=30, hazards="mains")
