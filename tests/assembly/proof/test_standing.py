"""Who stands in a room: what boxes settle at once, the independent kernel finds as well."""

import numpy as np
import pytest

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.proof.cores import SURE_MM, cores_of
from platekit.assembly.proof.overlaps import RUB_MM, overlaps
from platekit.assembly.proof.rooms import Move, Room
from platekit.assembly.proof.standing import Occupied, Standing
from platekit.assembly.proof.things import Prism, Thing, ThingKind
from platekit.assembly.solids import union_solid
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon, rectangle
from tests.assembly.proof.rigs import brick, screw

AXES = (X, Y, Z)
WAYS = (*AXES, *(axis.scaled(-1.0) for axis in AXES), Vector(0.6, 0.0, 0.8))
FRAMES = [
    Frame(),
    Frame(u=Y, v=Z),
    Frame(u=Z, v=X),
    Frame(u=X.scaled(-1.0), v=Z),
    Frame().turned(about=Z, angle_deg=30),
]
PROFILES = [
    Profile(rectangle(30, 12)),
    Profile(circle((4, 3), diameter_mm=18)),
    Profile(rectangle(40, 25), (circle((8, 8), diameter_mm=6), circle((28, 14), diameter_mm=14))),
    Profile(polygon([(0, 0), (30, 0), (30, 20), (22, 20), (22, 6), (8, 6), (8, 20), (0, 20)])),
]


def scattered(seed, count=16):
    """Return things of all shapes and frames, strewn over 120 mm; most lie along the axes."""
    dice = np.random.default_rng(seed)
    things = {}
    for k in range(count):
        frame = FRAMES[int(dice.integers(len(FRAMES)))].moved(Vector(*dice.uniform(0, 120, 3)))
        high = float(dice.uniform(0.2, 12))
        prism = Prism(PROFILES[int(dice.integers(len(PROFILES)))], frame, 0.0, high)
        things[f"thing {k}"] = Thing(f"thing {k}", ThingKind.DEVICE, (prism,))
    return things


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("way", WAYS, ids=lambda way: ",".join(f"{c:g}" for c in way))
def test_what_boxes_settle_the_kernel_finds_as_well(seed, way):
    """Independent: every answer against a boolean of the two bodies; many are settled by boxes."""
    things = scattered(seed)
    standing = Standing(things)
    settled = 0
    for name, thing in things.items():
        room = Room((Move(thing.prisms, way, 50.0),))
        surely, perhaps = standing.filling(room), standing.meeting(room)
        assert surely <= perhaps
        for other, stands in things.items():
            found = overlaps(room.solid, stands.solid, over_mm=RUB_MM)
            assert Occupied(room, standing).holds(other) == found, (name, other)
            if other in surely:
                assert found, (name, other)
                settled += 1
    assert settled > len(things) // 2  # each fills its own room, and those askew show nothing


@pytest.mark.parametrize("prism_frame", FRAMES[:4])
@pytest.mark.parametrize("profile", PROFILES)
def test_cores_lie_within_the_body(prism_frame, profile):
    """Independent: nothing of a core is left when the kernel takes the body away from it."""
    prism = Prism(profile, prism_frame.moved(Vector(7, -3, 11)), 2.0, 9.0)
    cores = cores_of([prism])
    assert len(cores)
    full = union_solid(
        Prism(Profile(polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])), Frame(), z0, z1).solid()
        for (x0, y0, z0), (x1, y1, z1) in cores
    )
    assert (full - prism.solid()).volume() == pytest.approx(0.0, abs=1e-3)
    assert full.volume() > 0.6 * prism.solid().volume()


def test_what_lies_askew_has_no_core():
    """A box along the axes would have to be far smaller: those are left to the kernel."""
    assert len(cores_of([Prism(PROFILES[0], FRAMES[-1], 0.0, 5.0)])) == 0


def test_a_bored_thing_is_left_to_the_kernel():
    """A bar in the bore of a block stands in none of its material: no box may say it does."""
    bore = brick("", (5, 5, -1), (15, 15, 11)).prisms
    block = Thing("block", ThingKind.DEVICE, brick("", (0, 0, 0), (20, 20, 10)).prisms, bore)
    bar = brick("bar", (6, 6, -5), (14, 14, 15))
    room = Room((Move(bar.prisms, Z, 30.0),))
    standing = Standing({"block": block, "bar": bar})
    assert "block" not in standing.filling(room)
    assert not Occupied(room, standing).holds("block")


def test_two_that_rub_are_left_to_the_kernel():
    """An overlap thinner than what rubs on purpose is nothing that boxes may settle."""
    one, other = brick("one", (0, 0, 0), (20, 20, 10)), brick("other", (0, 0, 9.9), (20, 20, 20))
    room = Room((Move(one.prisms, X, 30.0),))
    standing = Standing({"other": other})
    assert 10 - 9.9 < RUB_MM < SURE_MM
    assert standing.meeting(room) == {"other"}
    assert standing.filling(room) == set()
    assert not Occupied(room, standing).holds("other")


def test_one_known_to_stand_there_is_enough():
    """Among several, the one that boxes show answers for all, and the kernel is not asked."""
    nail = screw("nail", ("plate",), (10, 10, 6), grip=6.0)
    plate = brick("plate", (0, 0, 0), (20, 20, 6))

    class Unasked(Room):
        """A room that must not be made a body of."""

        def near(self, _):
            """Fail."""
            raise AssertionError("the kernel was asked")

    room = Unasked((Move(plate.prisms, X, 50.0),))
    occupied = Occupied(room, Standing({"nail": nail, "plate": plate}))
    assert occupied.surely_holds(["nail", "plate"])
    assert occupied.holds_any(["nail", "plate"])
    assert not occupied.surely_holds([])
