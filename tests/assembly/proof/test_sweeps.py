"""The room a prism sweeps: closed forms, copies on its way, and the line back from any place."""

import math

import numpy as np
import pytest
import shapely

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.proof.sweeps import swept
from platekit.assembly.proof.things import Prism
from platekit.geometry.chains import circle
from platekit.geometry.chords import Side, to_polygon
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import arc_slot, d_shape, polygon, rectangle, ring, slot

TILTED = Frame(Vector(3.0, -2.0, 5.0)).turned(about=Z, angle_deg=25).turned(about=X, angle_deg=40)
U_SHAPE = polygon([(0, 0), (30, 0), (30, 20), (22, 20), (22, 6), (8, 6), (8, 20), (0, 20)])
PROFILES = {
    "rectangle": Profile(rectangle(30, 12)),
    "disc": Profile(circle((4, 3), diameter_mm=18)),
    "ring": ring(outside_mm=24, inside_mm=15),
    "u": Profile(U_SHAPE),
    "plate with holes": Profile(
        rectangle(40, 25), (circle((8, 8), diameter_mm=6), circle((28, 14), diameter_mm=14))
    ),
    "slot": Profile(slot(30, 8)),
    "bent slot": Profile(arc_slot(radius_mm=20, sweep_deg=130, width_mm=6)),
    "d": Profile(d_shape(20, 15)),
}


def frame_ways(frame):
    """Return ways along n and against it, square to it, and oblique, in a frame's own terms."""
    own = {
        "along": (0, 0, 1),
        "against": (0, 0, -1),
        "u": (1, 0, 0),
        "square": (-0.6, 0.8, 0),
        "oblique": (0.48, 0.6, 0.64),
        "steep": (0.02, -0.01, -1.0),
        "shallow": (1.0, 0.3, 0.03),
    }
    ways = {}
    for name, (a, b, c) in own.items():
        way = frame.u.scaled(a).plus(frame.v, times=b).plus(frame.n, times=c)
        ways[name] = way.scaled(1 / way.length)
    return ways


def passes(prism, way, length_mm, spot):
    """Return whether a prism passes over a place when it is moved.

    A place is passed over if the line back from it by the length moved meets the prism: the part
    of that line between the prism's two end planes, seen along n, meets its cross-section.
    """
    x, y, h = prism.frame.coordinates(Vector(*spot))
    a, b, c = way.dot(prism.frame.u), way.dot(prism.frame.v), way.dot(prism.frame.n)
    first, last = 0.0, length_mm
    if abs(c) < 1e-9:
        if not prism.low_mm <= h <= prism.high_mm:
            return False
    else:
        ends = sorted(((h - prism.low_mm) / c, (h - prism.high_mm) / c))
        first, last = max(first, ends[0]), min(last, ends[1])
    if first > last:
        return False
    line = shapely.LineString([(x - a * s, y - b * s) for s in (first, last)])
    return SHADOWS[id(prism.profile)].intersects(line)


SHADOWS = {
    id(profile): to_polygon(profile, tolerance_mm=1e-4, side=Side.NEAR)
    for profile in PROFILES.values()
}


def nearby(room, rng, height, count):
    """Return random places of a level of a room and round it, with whether it holds them."""
    level = shapely.union_all(
        [shapely.Polygon(ring) for ring in outer_rings(room.slice(height))]
    ).difference(shapely.union_all([shapely.Polygon(r) for r in inner_rings(room.slice(height))]))
    x0, y0, _, x1, y1, _ = room.bounding_box()
    spots = rng.uniform((x0 - 3, y0 - 3), (x1 + 3, y1 + 3), size=(count, 2))
    points = shapely.points(spots)
    # The room is drawn with chords 0.05 mm from its arcs.
    clear = shapely.distance(points, level.boundary) > 0.3
    return [
        ((x, y, height), bool(level.contains(point)))
        for (x, y), point, far in zip(spots, points, clear, strict=True)
        if far
    ]


def outer_rings(level):
    """Return the counter-clockwise rings of a cross-section."""
    return [r for r in level.to_polygons() if shapely.LinearRing(r).is_ccw]


def inner_rings(level):
    """Return the clockwise rings of a cross-section: its holes."""
    return [r for r in level.to_polygons() if not shapely.LinearRing(r).is_ccw]


@pytest.mark.parametrize("frame", [Frame(), TILTED], ids=["flat", "tilted"])
@pytest.mark.parametrize("way", frame_ways(Frame()))
@pytest.mark.parametrize("name", PROFILES)
def test_a_sweep_covers_every_copy_on_its_way(name, way, frame):
    """Witness: manifold3d. Nothing of the body, moved by any part of the way, is outside.

    The room is one piece, whatever specks the kernel's rounding leaves at its seams.
    """
    direction = frame_ways(frame)[way]
    prism = Prism(PROFILES[name], frame, 1.5, 6.5)
    room, body = swept(prism, direction, 60.0), prism.solid()
    assert sum(abs(piece.volume()) > 1e-3 for piece in room.decompose()) == 1
    for share in (0.0, 0.01, 0.13, 0.5, 0.97, 1.0):
        copy = body.translate(tuple(c * 60.0 * share for c in direction))
        assert (copy - room).volume() < 1e-3


@pytest.mark.parametrize("frame", [Frame(), TILTED], ids=["flat", "tilted"])
@pytest.mark.parametrize("way", frame_ways(Frame()))
@pytest.mark.parametrize("name", PROFILES)
def test_a_sweep_holds_what_is_passed_over_and_nothing_else(name, way, frame):
    """Witness: shapely. Random places are in the room if the line back from them meets the body."""
    rng = np.random.default_rng(5)
    direction = frame_ways(frame)[way]
    prism = Prism(PROFILES[name], frame, 1.5, 6.5)
    room = swept(prism, direction, 60.0)
    low, high = room.bounding_box()[2], room.bounding_box()[5]
    seen = [
        (held, passes(prism, direction, 60.0, spot))
        for share in (0.2, 0.5, 0.8)
        for spot, held in nearby(room, rng, low + share * (high - low), 60)
    ]
    assert len(seen) > 60
    assert [held for held, _ in seen] == [passed for _, passed in seen]


def test_a_disc_moved_sideways_is_a_disc_and_a_rectangle():
    """Closed form: (pi d^2 / 4 + d L) h; chords 0.05 mm inside the arc lose less than 1 %."""
    d, height, length = 18.0, 5.0, 60.0
    disc = Prism(Profile(circle((0, 0), diameter_mm=d)), TILTED, 0.0, height)
    room = swept(disc, TILTED.u, length)
    whole = (math.pi * d * d / 4 + d * length) * height
    assert whole * 0.99 < room.volume() <= whole * (1 + 1e-6)


def test_a_bar_moved_along_itself_only_grows():
    """Closed form: a 30 x 12 x 5 mm bar moved 60 mm either way along n is 65 mm high."""
    bar = Prism(PROFILES["rectangle"], Frame(), 0.0, 5.0)
    for way, low in ((Z, 0.0), (Z.scaled(-1.0), -60.0)):
        room = swept(bar, way, 60.0)
        assert room.volume() == pytest.approx(30 * 12 * 65, rel=1e-6)
        assert room.bounding_box()[2] == pytest.approx(low, abs=1e-6)


def test_a_box_moved_obliquely_fills_its_three_faces_times_the_way():
    """Closed form: a convex body moved by w gains its shadow: V + sum of A n.w over its front."""
    a, b, c, length = 30.0, 12.0, 5.0, 40.0
    way = Vector(0.48, 0.6, 0.64)
    room = swept(Prism(PROFILES["rectangle"], Frame(), 0.0, c), way, length)
    gain = length * (b * c * way.x + a * c * way.y + a * b * way.z)
    assert room.volume() == pytest.approx(a * b * c + gain, rel=1e-5)


def test_a_hole_stays_open_along_the_way_only():
    """A ring keeps its hole when it moves along it, and fills it when it moves across.

    Closed form: a ring 24 / 16 mm. Moved along n by 10 it is 15 mm high.
    """
    hollow = Prism(ring(outside_mm=24, inside_mm=16), Frame(), 0.0, 5.0)
    area = math.pi * (24**2 - 16**2) / 4
    along = swept(hollow, Z, 10.0)
    assert along.volume() == pytest.approx(area * 15, rel=0.02)
    assert along.genus() == 1
    across = swept(hollow, Y, 60.0)
    assert across.genus() == 0


def test_a_hole_moved_askew_leaves_what_of_it_no_wall_passes():
    """A ring pushed 20 mm at 10 degrees to its axis keeps a lens open: what both end holes see.

    Closed form: at mid height the hole is what two circles 16 mm wide, as far apart as the ring
    moves sideways while it passes that height, have in common.
    """
    thick, length = 5.0, 60.0
    way = Vector(math.sin(math.radians(10)), 0.0, math.cos(math.radians(10)))
    room = swept(Prism(ring(outside_mm=24, inside_mm=16), Frame(), 0.0, thick), way, length)
    apart, r = thick * math.tan(math.radians(10)), 8.0
    lens = 2 * r * r * math.acos(apart / 2 / r) - apart / 2 * math.sqrt(4 * r * r - apart * apart)
    height = length * way.z / 2
    full = Profile(circle((0, 0), diameter_mm=16))
    core = Prism(full, Frame(Vector(height * way.x / way.z - apart / 2, 0, 0)), height, height + 1)
    assert room.genus() == 1
    open_mm2 = (core.solid() - room).volume()
    assert open_mm2 == pytest.approx(lens, rel=0.03)
