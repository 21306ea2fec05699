"""What is told without the kernel changes no answer: whole rigs, proved with and without it.

Independent: the slow answer, in which manifold3d alone says who stands in whose way.
"""

import numpy as np
import pytest

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.proof import Thing, ThingKind, clashes, prove, rooms
from platekit.assembly.proof.blocking import Blocking
from platekit.assembly.proof.standing import Standing
from platekit.assembly.proof.things import Prism
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon, rectangle
from tests.amounts import examples

CELL_MM = 10.0
AXES = (X, Y, Z)
SIDES = tuple((axis, way) for axis in range(3) for way in (-1, 1))


def thing(name, *prisms):
    """Return a plate of some prisms."""
    return Thing(name, ThingKind.PLATE, prisms, plates=(name,))


def turned(dice):
    """Return a frame that lies upright or leans."""
    about = AXES[int(dice.integers(3))]
    return Frame().turned(about=about, angle_deg=float(dice.choice([0.0, 20.0, 45.0, 90.0])))


def knot(dice):
    """Return a block of dice cut at random into pieces that hang together: most lock some others.

    Some pieces rub, some have air, one may be missing.
    """
    size, high, pieces = (int(dice.integers(*span)) for span in ((2, 4), (2, 4), (3, 7)))
    cells = [(x, y, z) for x in range(size) for y in range(size) for z in range(high)]
    seeds = dice.choice(len(cells), pieces, replace=False)
    own = {cells[int(at)]: k for k, at in enumerate(seeds)}
    while len(own) < len(cells):
        cell = list(own)[int(dice.integers(len(own)))]
        axis, way = SIDES[int(dice.integers(6))]
        beside = tuple(c + way * (k == axis) for k, c in enumerate(cell))
        if beside in cells:
            own.setdefault(beside, own[cell])
    frame = turned(dice)
    things = []
    for k in range(int(dice.integers(2)), pieces):
        wide = CELL_MM + float(dice.choice([-0.3, 0.0, 0.0, 0.1, 0.1, 0.6]))
        block = Profile(rectangle(wide, wide))
        places = [frame.point(*(CELL_MM * c for c in cell)) for cell in own if own[cell] == k]
        prisms = [Prism(block, Frame(at, frame.u, frame.v), 0.0, wide) for at in places]
        things.append(thing(f"piece {k}", *prisms))
    return things


def pegged(dice):
    """Return plates over each other with holes in a row, a peg through them that may lean."""
    frame = turned(dice)
    wide, thick = float(dice.choice([6, 10, 20])), float(dice.choice([3, 12, 30]))
    web = float(dice.choice([0.001, 0.02, 5.0]))
    holes = [circle((x, 20), diameter_mm=wide) for x in (22.0, 22.0 + wide + web)]
    plate, count = Profile(rectangle(70, 40), tuple(holes)), int(dice.integers(1, 4))
    things = [
        thing(f"plate {k}", Prism(plate, frame, k * thick, (k + 1) * thick)) for k in range(count)
    ]
    lean = frame.turned(about=AXES[int(dice.integers(3))], angle_deg=float(dice.choice([0, 5, 20])))
    at = frame.point(22.0 + float(dice.choice([0.0, 0.0, wide / 2])), 20.0, -5.0)
    shank = Profile(circle((0, 0), diameter_mm=wide - float(dice.choice([-0.1, 0.0, 0.1, 2.0]))))
    head = Profile(circle((0, 0), diameter_mm=wide + 8))
    lies = Frame(at, lean.u, lean.v)
    things.append(thing("peg", Prism(shank, lies, 0.0, 40.0), Prism(head, lies, -4.0, 0.0)))
    if dice.integers(2):
        cap = Profile(circle((22, 20), diameter_mm=wide + 6))
        things.append(thing("cap", Prism(cap, frame, count * thick, count * thick + 4.0)))
    return things


def strewn(dice):
    """Return plates of all outlines on a coarse grid, some leaning, many of them meeting."""
    outlines = [
        Profile(rectangle(45, 30), (circle((10, 9), diameter_mm=8),)),
        Profile(polygon([(0, 0), (30, 0), (30, 20), (22, 20), (22, 6), (8, 6), (8, 20), (0, 20)])),
        Profile(polygon([(0, 0), (50, 0), (50, 8), (8, 8), (8, 40), (0, 40)])),
        Profile(polygon([(0, 0), (40, 7), (12, 33)])),
        Profile(circle((4, 3), diameter_mm=34)),
    ]
    things = []
    for k in range(int(dice.integers(4, 10))):
        at = dice.integers(0, 16, 3) * 5.0 + dice.choice([0.0, 0.0, 0.2, 0.25, 0.26], 3)
        outline, high = outlines[int(dice.integers(5))], float(dice.choice([0.6, 3, 6, 12, 40]))
        frame = turned(dice).moved(Vector(*map(float, at)))
        things.append(thing(f"plate {k}", Prism(outline, frame, 0.0, high)))
    return things


@pytest.mark.parametrize("rig", [knot, pegged, strewn])
def test_the_kernel_alone_proves_the_same(rig, monkeypatch):
    """Findings and steps of seeded rigs, against those of the kernel asked for everything."""
    dice = np.random.default_rng(11)
    rigs = [rig(dice) for _ in range(examples(25, thorough=200))]
    quick = [prove(things) for things in rigs]
    monkeypatch.setattr(rooms, "all_clear", lambda *_: False)
    monkeypatch.setattr(clashes, "all_clear", lambda *_: False)
    monkeypatch.setattr(Standing, "filling", lambda *_: set())
    slow = [prove(tuple(Thing(t.name, t.kind, t.prisms, plates=t.plates) for t in r)) for r in rigs]
    assert quick == slow
    assert len({len(proof.findings) for proof in quick}) > 1


@pytest.mark.parametrize("plate_first", [True, False])
def test_what_slips_out_of_a_hole_askew_is_free_whoever_is_asked_first(plate_first):
    """A disc of 3 mm low in a 20 mm hole of a leaning plate, drawn out slanting.

    A sweep of the plate that way closes its hole. Independent: the kernel, step by step.
    """
    frame = Frame().turned(about=X, angle_deg=20.0)
    hole = circle((30, 20), diameter_mm=20)
    plate = thing("plate", Prism(Profile(rectangle(60, 40), (hole,)), frame, 0.0, 30.0))
    disc = thing("disc", Prism(Profile(circle((30, 20), diameter_mm=3)), frame, 0.0, 1.0))
    blocking = Blocking([plate, disc])
    back = Y.scaled(-1.0)
    asked = [
        lambda: blocking.blocks("disc", "plate", back),
        lambda: blocking.blocks("plate", "disc", Y),
    ]
    answers = [ask() for ask in (asked if plate_first else asked[::-1])]
    runs_in = any(
        not (disc.solid.translate((0.0, float(y), 0.0)) ^ plate.solid).is_empty()
        for y in np.arange(0.0, 80.0, 0.25)
    )
    assert answers == [runs_in, runs_in] == [False, False]
