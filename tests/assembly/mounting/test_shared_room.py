"""Nothing stands where another stands: every body of a rig against every other, by manifold3d."""

from itertools import combinations

import pytest

from platekit.assembly import Assembly, laminate, lying, standing
from platekit.assembly.mounting import belted, bolted, by_belt, mounted, on_axis
from platekit.assembly.solids import solid, union_solid
from platekit.hardware import belt_drive
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.hubs import hub
from platekit.hardware.devices.motors import encoder, motor
from platekit.hardware.devices.shafts import shaft
from platekit.hardware.devices.standing_devices import rectangular_device
from tests.assembly.bodies import plate

BELT = belt_drive("curvilinear 2 mm", teeth=(45, 20), belt_teeth=140, width_mm=6)

SLIVERS_MM3 = 1.0


def bodies(resolved):
    """Return name and solid of every part, device, screw, washer, nut; threads are voids."""
    found = [
        (part.name, solid(part.profile, thickness_mm=part.sheet.thickness_mm, frame=frame))
        for part, frame in resolved.placed
    ]
    every = [*resolved.bodies, *(body for f in resolved.fastenings for body in f.bodies)]
    for number, body in enumerate(every):
        blocks, voids = (
            union_solid(
                solid(b.profile, thickness_mm=b.height_mm, frame=body.frame.lifted(b.low_mm))
                for b in several
            )
            for several in (body.blocks, body.voids)
        )
        found.append((f"{number} {body.name}", blocks - voids))
    return found


def shared_mm3(resolved):
    """Return what pairs of bodies share, by their names; a nut and its own bolt's thread apart."""
    own = [
        {f"{body.name}" for body in fastening.bodies if body.kind.value in {"screw", "nut"}}
        for fastening in resolved.fastenings
    ]
    found = {}
    for (one, a), (other, b) in combinations(bodies(resolved), 2):
        names = {one.split(" ", 1)[-1], other.split(" ", 1)[-1]}
        volume = (a ^ b).volume()
        # A shaft in a bore of its own size shares the slivers between two sets of chords.
        if volume > SLIVERS_MM3 and names not in own:
            found[one, other] = volume
    return found


def decks(sheet_mm):
    """Return an upper laminate and a lower panel, 60 mm apart, and a wall to the left."""
    layers = [plate(f"top {k}", sheet_mm, 300, 200) for k in range(2)]
    return (
        lying(laminate("top", *layers, dowels=0), bottom_mm=100),
        lying(plate("low", sheet_mm, 300, 200), top_mm=40),
        standing(plate("wall", sheet_mm, 200, 90), facing="left", right_mm=-1, front_mm=0),
    )


@pytest.mark.parametrize("sheet", [3.0, 4.0, 6.0, 9.0, 12.0])
def test_a_motor_an_axle_its_bearing_a_belt_and_bolts(sheet):
    """All at once, at every sheet: whatever the sheet changes, changes for all of them."""
    asked = (
        mounted(
            motor("NEMA 23", body_length_mm=60, shaft_length_mm=60, flange_mm=5),
            on="top",
            side="up",
            at=(80, 100),
            turn_deg=20,
            travel_mm=8,
            name="motor",
        ),
        mounted(
            shaft(8, 20, below_mm=110),
            on="top",
            side="up",
            at=by_belt(BELT, of="motor"),
            name="axle",
        ),
        mounted(ball_bearing("608"), on="low", side="up", at=on_axis("axle"), name="ring"),
        belted(BELT, between=("motor", "axle"), on="top", side="down", gap_mm=12),
        bolted("M5", on="top", side="down", at=(30, 30), travel_mm=6, travel_deg=40, name="pin"),
    )
    assert (
        shared_mm3(Assembly("a").with_panels(*decks(sheet)).with_hardware(*asked).resolve()) == {}
    )


@pytest.mark.parametrize("side", ["up", "down"])
@pytest.mark.parametrize("grip", [1, 2])
@pytest.mark.parametrize(
    "device",
    [
        pytest.param(
            motor("NEMA 34", body_length_mm=60, shaft_length_mm=30, flange_mm=8), id="motor"
        ),
        pytest.param(
            encoder("58 mm clamping flange M4", body_length_mm=50, shaft_length_mm=30, depth_mm=12),
            id="encoder",
        ),
        pytest.param(hub("six-bolt 70 mm M5", bore_mm=20, thickness_mm=14), id="hub"),
        pytest.param(
            hub("six-bolt 70 mm M5", bore_mm=20, thickness_mm=8, tapped=False), id="plain hub"
        ),
        pytest.param(
            rectangular_device(
                "board",
                width_mm=80,
                depth_mm=60,
                height_mm=30,
                holes=[(-30, -20), (30, 20)],
                thread="M3",
                flange_mm=2,
                spacer_mm=8,
                opening_mm=20,
            ),
            id="board on spacers",
        ),
    ],
)
def test_each_kind_of_device_on_either_face(device, side, grip):
    """Heads, washers and nuts find room in layers not gripped; spigots and shafts their holes."""
    asked = mounted(
        device, on="top", side=side, at=(140, 95), turn_deg=12, grip_layers=grip, name="device"
    )
    resolved = Assembly("a").with_panels(*decks(6.0)).with_hardware(asked).resolve()
    assert shared_mm3(resolved) == {}
    assert len(resolved.fastenings) == len(device.fixing.points)
