"""Slabs that clear each other: the independent kernel finds nothing between them either."""

import numpy as np
import pytest

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.proof.clashes import clashes
from platekit.assembly.proof.cores import cores_of
from platekit.assembly.proof.overlaps import SHRED_MM, overlaps
from platekit.assembly.proof.slabs import SHRED_MM2, all_clear
from platekit.assembly.proof.sweeps import swept, swept_slab
from platekit.assembly.proof.things import Prism
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from tests.assembly.proof.rigs import brick, screw

TILTED = Frame(Vector(5.0, -3.0, 2.0)).turned(about=X, angle_deg=35).turned(about=Z, angle_deg=20)
PLATE = Profile(
    rectangle(60, 40), (circle((15, 12), diameter_mm=9), circle((42, 25), diameter_mm=14))
)


def over(frame):
    """Return frames in a frame's own plane or parallel to it: turned, and from behind."""
    behind = Frame(frame.origin, frame.u.scaled(-1.0), frame.v)
    return [frame, frame.turned_in_plane(90), frame.turned_in_plane(31), behind]


@pytest.mark.parametrize("frame", [Frame(), TILTED], ids=["upright", "tilted"])
@pytest.mark.parametrize("seed", range(3))
def test_what_clears_shares_nothing_and_what_shares_does_not_clear(frame, seed):
    """Independent: a boolean of both bodies, for blocks strewn over a plate with holes."""
    plate = Prism(PLATE, frame, 0.0, 6.0)
    dice = np.random.default_rng(seed)
    cleared = 0
    for k in range(60):
        shape = Profile(circle((0, 0), diameter_mm=float(dice.uniform(3, 10))))
        x, y = dice.uniform((-35, -25), (35, 25))
        place = frame.point(float(x), float(y), float(dice.uniform(-8, 10)))
        lies = over(frame)[k % 4]
        block = Prism(shape, Frame(place, lies.u, lies.v), 0.0, float(dice.uniform(2, 8)))
        clears = plate.slab.clears(block.slab)
        assert clears == block.slab.clears(plate.slab)
        shared = (plate.solid() ^ block.solid()).volume()
        # Parallel ones are always told, so the two agree both ways.
        assert shared <= 8 * SHRED_MM2 if clears else shared > 0.0
        assert not (clears and overlaps(plate.solid(), block.solid(), over_mm=SHRED_MM))
        cleared += clears
    assert 10 < cleared < 55


def test_a_screw_in_its_hole_is_told_without_the_kernel():
    """An M5 shank in a 5.5 mm hole, its head on the plate."""
    plate = brick("plate", (0, 0, 0), (40, 30, 6), holes=[(12, 9, 5.5)])
    bolt = screw("bolt", ("plate",), (12, 9, 6), grip=12.0)
    assert all_clear(plate.slabs, plate.coats, bolt.slabs, bolt.coats)
    tight = screw("bolt", ("plate",), (12.4, 9, 6), grip=12.0)
    assert not all_clear(plate.slabs, plate.coats, tight.slabs, tight.coats)


def test_what_is_not_parallel_is_not_told():
    """Two crossing bars may or may not meet: that is for the kernel."""
    bar = Prism(Profile(rectangle(40, 6)), Frame(), 0.0, 6.0)
    post = Prism(Profile(rectangle(40, 6)), Frame(Vector(0, 50, 0), X, Z), 0.0, 6.0)
    assert not bar.slab.clears(post.slab)


@pytest.mark.parametrize("way", [X, Y, Z, Vector(-0.6, 0.8, 0.0), Z.scaled(-1.0)])
def test_what_is_swept_square_or_along_is_the_slab(way):
    """Independent: the kernel's volume of the sweep, by closed form for a block: area and way."""
    block = Prism(Profile(rectangle(20, 10)), Frame(), 1.0, 4.0)
    slab = swept_slab(block, way, 30.0)
    across = abs(way.x) * 10 + abs(way.y) * 20
    wanted = 20 * 10 * 3 + 30 * (across * 3 + abs(way.z) * 20 * 10)
    assert slab.solid().volume() == pytest.approx(wanted, rel=1e-6)
    assert swept(block, way, 30.0).volume() == pytest.approx(wanted, rel=1e-6)


def test_what_is_swept_askew_is_no_slab():
    """It is drawn out slanting: only the kernel can say."""
    block = Prism(Profile(rectangle(20, 10)), Frame(), 1.0, 4.0)
    assert swept_slab(block, Vector(0.6, 0.0, 0.8), 30.0) is None


@pytest.mark.parametrize("web_mm", [0.02, 0.001])
@pytest.mark.parametrize("x", [23.0, 33.0])
def test_holes_that_cross_when_drawn_are_left_to_the_kernel(web_mm, x):
    """Two holes with hardly a web: their chords cross. Independent: the bodies' boolean."""
    holes = [(15, 20, 20), (35 + web_mm, 20, 20)]
    plate, peg = (
        brick("plate", (0, 0, 0), (60, 40, 6), holes=holes),
        brick("peg", (x, 18, -2), (x + 4, 22, 9)),
    )
    found = [(a.name, b.name) for a, b, _ in clashes([plate, peg])]
    shared = overlaps(plate.solid, peg.solid, over_mm=SHRED_MM)
    assert found == ([("plate", "peg")] if shared else [])
    assert not plate.slabs[0].section.sound
    assert len(cores_of(plate.prisms)) == 0
    assert shared == (x < 25)
