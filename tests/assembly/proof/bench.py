"""A bench to try an order of assembly on, one small move after another.

Knows nothing of blocking or sweeps: everything is brought from far away to its place in steps of
1.5 mm or so, and whatever it runs into on its way is said. Witness: manifold3d.
"""

import math

import numpy as np
from manifold3d import Manifold, OpType

STEP_MM = 1.5
RUNS_IN_MM = 0.25
FAR_MM = 400.0


def trouble(things, steps, *, standing=(), step_mm=STEP_MM):
    """Return what goes wrong when things are brought in as the steps say: empty if nothing does.

    Args:
        things: All there is.
        steps: The order.
        standing: Names of what stands there from the start: what no order brings in.
        step_mm: How far things are moved at a time; less than the thinnest thing is thick.
    """
    bench = _Bench(things, steps, set(standing), step_mm)
    for k in range(len(steps)):
        bench.do(k)
    for thing in things:
        if thing.name in standing:
            continue
        if bench.done.count(thing.name) != 1 and thing.kind.value not in ("belt", "captive nut"):
            bench.said.append(f"{thing.name} is brought in {bench.done.count(thing.name)} times")
    return bench.said


class _Bench:
    def __init__(self, things, steps, standing, step_mm):
        self.standing = standing
        self.step_mm = step_mm
        self.things = {thing.name: thing for thing in things}
        self.steps = steps
        self.said = []
        self.done = []

    def table(self, k):
        """Return on which table step k is done: that of the group it prepares, or the last one."""
        mine = set(self.steps[k].things)
        for j in range(k + 1, len(self.steps)):
            if mine < set(self.steps[j].things):
                return j
        return None

    def on(self, table, before):
        """Return the names on a table before a step: what was brought there, with its screws."""
        names = set(self.standing) if table is None else set()
        for i in range(before):
            if self.table(i) == table:
                step = self.steps[i]
                names |= {*step.things, *step.fasteners}
                if len(step.things) > 1:
                    names |= self.on(i, i)
        return names

    def do(self, k):
        step = self.steps[k]
        there = self.on(self.table(k), k)
        coming = set(step.things) | (self.on(k, k) if len(step.things) > 1 else set())
        if len(step.things) == 1:
            self.done += step.things
        elif not set(step.things) <= self.on(k, k):
            self.said.append(f"step {k}: {step.things} was not put together before")
        self.move(coming, step.way, there, f"step {k}")
        there |= coming
        for name in step.fasteners:
            self.drive(name, there, f"step {k}")
        self.done += step.fasteners

    def drive(self, name, there, when):
        """Bring a screw in: what looks out of its head from there, what looks back from behind.

        Fingers hold a screw before its hole, and its nut before the tip.
        """
        screw = self.things[name]
        out = np.array(screw.fastening.way)
        parts = {
            sign: [p.solid() for p in screw.prisms if sign * np.dot(p.frame.n, out) > 0]
            for sign in (1.0, -1.0)
        }
        shaft = Manifold.batch_boolean(parts[1.0], OpType.Add)
        tip, head = reach(shaft, out)
        self.slide(shaft, -out, there, f"{when}: {name}", far_mm=head - tip)
        if parts[-1.0]:
            nut = Manifold.batch_boolean(parts[-1.0], OpType.Add)
            _, face = reach(nut, out)
            self.slide(nut, out, there, f"{when}: nut of {name}", far_mm=face - tip)
        tool = screw.fastening.tool
        if tool is None:
            return
        rooms = [self.reached(tool, blocks, there) for blocks in tool.ways]
        if all(rooms):
            self.said.append(f"{when}: {rooms[0]} in the way of the tool of {name}")

    def reached(self, tool, blocks, there):
        """Return what stands in one of the rooms a tool can work in."""
        found = set()
        for block in blocks:
            low, box = tool.frame.lifted(block.low_mm), block.profile.outer.bounds
            room = Manifold.cylinder(block.high_mm - block.low_mm, box.width_mm / 2)
            room = room.translate((*box.centre, 0.0))
            room = room.transform(np.column_stack([low.u, low.v, low.n, low.origin]))
            found |= {other for other in there if thick(room ^ self.things[other].solid)}
        return sorted(found)

    def move(self, names, way, there, when):
        body = Manifold.batch_boolean([self.things[n].solid for n in sorted(names)], OpType.Add)
        self.slide(body, np.array(way), there, f"{when}: {', '.join(sorted(names))}")

    def slide(self, body, way, there, what, *, far_mm=FAR_MM):
        """Move a body in along `way`, and say what it runs into."""
        if not there:
            return
        others = {name: self.things[name].solid for name in there}
        boxes = {name: solid.bounding_box() for name, solid in others.items()}
        hit = set()
        for back in np.arange(0.0, far_mm, self.step_mm)[::-1]:
            moved = body.translate(tuple(-way * back))
            box = moved.bounding_box()
            for name in others.keys() - hit:
                if apart(box, boxes[name]):
                    continue
                if thick(moved ^ others[name]):
                    hit.add(name)
        self.said += [f"{what} runs into {name}" for name in sorted(hit)]


def reach(body, way):
    """Return from where to where a body reaches along a unit vector."""
    along = body.to_mesh64().vert_properties[:, :3] @ way
    return along.min(), along.max()


def apart(a, b):
    """Return whether two boxes share no volume."""
    return any(a[k] >= b[k + 3] or b[k] >= a[k + 3] for k in range(3))


def thick(shared):
    """Return whether a body has room for a cube of a rub's size somewhere.

    A convex body of volume V and surface S has a ball of radius V / S in it (it lies within its
    greatest ball's radius of its surface), and a ball the cube whose diagonal it spans: only what
    that does not settle is shrunk by the cube. Of a hollow body it may say too much, never too
    little.
    """
    if shared.is_empty() or shared.volume() < RUNS_IN_MM**3:
        return False
    cube = Manifold.cube((RUNS_IN_MM,) * 3, True)  # noqa: FBT003 - the kernel's own word
    return any(
        piece.volume() >= RUNS_IN_MM**3
        and (
            piece.volume() / piece.surface_area() > RUNS_IN_MM * math.sqrt(3) / 2
            or not piece.minkowski_difference(cube).is_empty()
        )
        for piece in shared.decompose()
    )
