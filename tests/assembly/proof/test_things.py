"""Things: their bodies, whole and near a place, by manifold3d."""

import math

import numpy as np
import pytest
from manifold3d import Manifold

from platekit.assembly.frames import Frame, Vector, X, Z
from platekit.assembly.proof import Thing, ThingKind
from platekit.assembly.proof.things import Prism, as_carried, direction_name
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from tests.assembly.proof.rigs import bar, brick


def sieve(frame):
    """Return a plate of 8 x 5 holes, 6 mm wide, with a rim of bars, in a frame."""
    holes = tuple(
        circle((15 + 20 * i, 15 + 20 * j), diameter_mm=6) for i in range(8) for j in range(5)
    )
    plate = Prism(Profile(rectangle(170, 110), holes), frame, 0, 6)
    rim = Prism(Profile(rectangle(170, 6)), frame, 6, 30)
    return Thing("sieve", ThingKind.PLATE, (plate, rim))


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("turned", [False, True])
def test_near_a_place_a_body_is_what_it_is(seed, turned):
    """Within the box asked for nothing is missing and nothing is added."""
    frame = Frame(Vector(3, 2, 1))
    if turned:
        frame = frame.turned(about=Z, angle_deg=20).turned(about=X, angle_deg=50)
    thing = sieve(frame)
    rng = np.random.default_rng(seed)
    low, high = thing.box
    for _ in range(5):
        corner = rng.uniform(low - 10, high)
        size = rng.uniform(1, 60, 3)
        window = Manifold.cube(tuple(size)).translate(tuple(corner))
        seen = window ^ thing.near(np.array([corner, corner + size]))
        true = window ^ thing.solid
        assert (seen - true).volume() == pytest.approx(0, abs=1e-6)
        assert (true - seen).volume() == pytest.approx(0, abs=1e-6)


def test_a_void_is_bored_out_and_the_box_is_the_prisms():
    """Closed form: 40 x 30 x 20 mm less a 10 mm bore 15 deep; chords of the bore lie outside it."""
    bore = Prism(Profile(circle((20, 15), diameter_mm=10)), Frame(), 5, 20)
    thing = Thing("block", ThingKind.DEVICE, (bar((0, 0, 0), (40, 30, 20)),), (bore,))
    assert thing.solid.volume() == pytest.approx(40 * 30 * 20 - 15 * math.pi * 25, rel=1e-3)
    assert thing.box.tolist() == [[0, 0, 0], [40, 30, 20]]


def test_what_is_clamped_in_goes_with_its_carrier():
    """A bearing in a plate is one thing with it, with what is bored in either."""
    bore = Prism(Profile(circle((20, 15), diameter_mm=5)), Frame(), 0, 20)
    plate = brick("plate", (0, 0, 0), (40, 30, 6), holes=((20, 15, 16),))
    hub = Prism(Profile(circle((20, 15), diameter_mm=16)), Frame(), 0, 20)
    rider = Thing("hub", ThingKind.DEVICE, (hub,), (bore,), rides_on="plate")
    (both,) = as_carried([plate, rider])
    assert (both.name, both.carries) == ("plate", ("hub",))
    assert both.solid.volume() == pytest.approx(
        plate.solid.volume() + rider.solid.volume(), rel=1e-6
    )


@pytest.mark.parametrize(
    ("way", "said"),
    [
        (Vector(0, 0, 1), "up"),
        (Vector(0, 0, -1), "down"),
        (Vector(-1, 0, 0), "to the left"),
        (Vector(0, -1, 0), "to the front"),
        (Vector(0.6, 0.8, 0), "along (0.6, 0.8, 0)"),
        (Vector(1e-3, 0, 1), "along (0.001, 0, 1)"),
    ],
)
def test_directions_in_workshop_words(way, said):
    """X to the right, y to the back, z up, as the frames say."""
    assert direction_name(way) == said
