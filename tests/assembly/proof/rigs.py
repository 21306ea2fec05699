"""Rigs of plain bodies: things made by hand, without panels or joints."""

from dataclasses import replace

from platekit.assembly.frames import Frame, Vector, Z
from platekit.assembly.mounting.bodies import Body, BodyKind, Fastening, Tool
from platekit.assembly.proof import Thing, ThingKind
from platekit.assembly.proof.things import Prism, prisms_of
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon
from platekit.hardware.blocks import cylinder

UPRIGHT = Frame(Vector(0, 0, 0), Vector(1, 0, 0), Vector(0, 0, 1))  # n looks to the front


def bar(low, high, *, holes=()):
    """Return a box between two corners as a prism along z, with round holes (x, y, diameter)."""
    (x0, y0, z0), (x1, y1, z1) = low, high
    outer = polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    inner = tuple(circle((x, y), diameter_mm=d) for x, y, d in holes)
    return Prism(Profile(outer, inner), Frame(), z0, z1)


def brick(name, low, high, *, holes=(), kind=ThingKind.PLATE):
    """Return a box between two corners, with holes along z."""
    return Thing(name, kind, (bar(low, high, holes=holes),))


def extruded(name, corners, *, front, back, frame=UPRIGHT):
    """Return a polygon drawn in x and z, from `front` to `back` along y."""
    return Thing(name, ThingKind.PLATE, (Prism(Profile(polygon(corners)), frame, -back, -front),))


def screw(name, holds, at, *, grip, wide=5.0, head=(8.5, 5.0), tool=(6.0, 60.0), way=1):
    """Return an upright screw: shank on one side of `at`, head and its tool on the other.

    Args:
        name: Its name.
        holds: What it holds together.
        at: Middle of the underside of its head.
        grip: Length of its shank.
        wide: Diameter of its shank.
        head: Diameter and height of its head.
        tool: Diameter and length of the room its tool needs; None for no tool.
        way: 1 for a head that looks up, -1 for one that looks down.
    """
    frame = Frame(Vector(*at), Vector(way, 0, 0), Vector(0, 1, 0))
    shank = cylinder("shank", wide, low_mm=-grip, high_mm=0.0)
    top = cylinder("head", head[0], low_mm=0.0, high_mm=head[1])
    body = Body(name, BodyKind.SCREW, (shank, top), frame)
    room = None
    if tool is not None:
        block = cylinder("key", tool[0], low_mm=head[1], high_mm=head[1] + tool[1])
        room = Tool("key", ((block,),), frame)
    fastening = Fastening(name, "screw", (body,), tuple(holds), "", Z.scaled(way), room)
    return Thing(name, ThingKind.FASTENER, prisms_of(body), fastening=fastening)


def nutted(held, *, grip, nut=(9.0, 4.0)):
    """Return an upright screw with a ring of that diameter and height for a nut."""
    body = held.fastening.bodies[0]
    under = body.frame.point(0.0, 0.0, -grip)
    ring = Profile(circle((0, 0), diameter_mm=nut[0]), (circle((0, 0), diameter_mm=5.0),))
    below = Frame(under, body.frame.u.scaled(-1.0), body.frame.v)
    prisms = (*held.prisms, Prism(ring, below, 0.0, nut[1]))
    return replace(held, prisms=prisms)


def case(*, lid=True, wide=100.0, deep=80.0, high=60.0, t=6.0):
    """Return a case of bricks: floor, four walls and perhaps a lid, butted."""
    walls = [
        brick("floor", (0, 0, 0), (wide, deep, t)),
        brick("front", (0, 0, t), (wide, t, high - t)),
        brick("back", (0, deep - t, t), (wide, deep, high - t)),
        brick("left", (0, t, t), (t, deep - t, high - t)),
        brick("right", (wide - t, t, t), (wide, deep - t, high - t)),
    ]
    return [*walls, brick("lid", (0, 0, high - t), (wide, deep, high))] if lid else walls
