"""Drawings to try the writers on, and exact distances worked out apart from the package."""

import math

import numpy as np
from hypothesis import strategies as st

from platekit.cutting.drawing import Drawing, Entry, Layer, Note
from platekit.geometry.chains import Chain, Contour, Path, circle, closed_polyline, polyline
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.motion import Motion
from platekit.geometry.points import Point


def bent(start, end, *, sweep_deg):
    """Return the arc from `start` to `end` that sweeps `sweep_deg` (0: the straight line)."""
    start, end = Point(*start), Point(*end)
    if sweep_deg == 0:
        return Line(start, end)
    half = math.radians(sweep_deg) / 2
    dx, dy = end.x - start.x, end.y - start.y
    reach = 0.5 / math.tan(half)  # from the chord's middle to the centre, in chords, to the left
    centre = Point(start.x + dx / 2 - dy * reach, start.y + dy / 2 + dx * reach)
    radius = math.hypot(dx, dy) / (2 * math.sin(abs(half)))
    return Arc(start, end, centre, radius, sweep_deg > 0)


def rounded_rectangle(width, height, radius):
    """Return an upright rectangle with its corner at the origin, corners rounded."""
    w, h, r = width, height, radius
    at = [(r, 0), (w - r, 0), (w, r), (w, h - r), (w - r, h), (r, h), (0, h - r), (0, r)]
    return Contour.of(bent(at[k], at[(k + 1) % 8], sweep_deg=90 if k % 2 else 0) for k in range(8))


def slot(length, width):
    """Return a slot between two half circles, its lower left tangent point at the origin."""
    at = [(0, 0), (length, 0), (length, width), (0, width)]
    return Contour.of(bent(at[k], at[(k + 1) % 4], sweep_deg=180 if k % 2 else 0) for k in range(4))


def keyhole(at, *, radius, neck):
    """Return a hole of one arc far beyond a half circle and three lines."""
    drop = math.sqrt(radius**2 - (neck / 2) ** 2)
    x, y = at
    left, right, top, bottom = x - neck / 2, x + neck / 2, y - drop, y - 2.4 * radius
    sweep = 360 - 2 * math.degrees(math.asin(neck / 2 / radius))
    return Contour.of(
        [
            bent((right, top), (left, top), sweep_deg=sweep),
            bent((left, top), (left, bottom), sweep_deg=0),
            bent((left, bottom), (right, bottom), sweep_deg=0),
            bent((right, bottom), (right, top), sweep_deg=0),
        ]
    )


def plate_entries(part, *, at=(0.0, 0.0)):
    """Return what cutting a 120 x 80 plate with holes, a slot and a keyhole says."""
    motion = Motion(dx_mm=at[0], dy_mm=at[1])
    holes = [
        circle((60 + 25 * math.cos(k * math.pi / 3), 40 + 25 * math.sin(k * math.pi / 3)),
               diameter_mm=6.6)
        for k in range(6)
    ]  # fmt: skip
    holes.append(slot(10, 4).reversed().moved(Motion(dx_mm=5, dy_mm=66)))
    holes.append(keyhole((105, 20), radius=5, neck=3))
    return (
        Entry(Layer.SCORE, polyline([(50, 40), (70, 40)]).moved(motion), part),
        Entry(Layer.SCORE, Path.of([bent((20, 8), (26, 8), sweep_deg=-250)]).moved(motion), part),
        *(Entry(Layer.INSIDE_CUT, hole.moved(motion), part) for hole in holes),
        Entry(Layer.OUTSIDE_CUT, rounded_rectangle(120, 80, 8).moved(motion), part),
    )


def sheet_of_two():
    """Return a sheet with two plates and a note each."""
    return Drawing(
        270,
        100,
        (*plate_entries("motor plate", at=(10, 10)), *plate_entries("lid", at=(140, 10))),
        (Note("motor plate", Point(30, 28), 4), Note('lid "A" & <b>', Point(160, 28), 4)),
    )


def part_in_a_window():
    """Return a sheet on which a disc lies in the window of a frame: the disc must go first."""
    frame = closed_polyline([(0, 0), (100, 0), (100, 100), (0, 100)])
    window = closed_polyline([(10, 10), (10, 90), (90, 90), (90, 10)])
    return Drawing(
        100,
        100,
        (
            Entry(Layer.INSIDE_CUT, circle((50, 50), diameter_mm=8), "disc"),
            Entry(Layer.OUTSIDE_CUT, circle((50, 50), diameter_mm=40), "disc"),
            Entry(Layer.INSIDE_CUT, window, "frame"),
            Entry(Layer.OUTSIDE_CUT, frame, "frame"),
        ),
    )


def _segment_distances(segment: Segment, points):
    start, end = np.array(segment.start), np.array(segment.end)
    if isinstance(segment, Line):
        along = end - start
        t = np.clip((points - start) @ along / (along @ along), 0, 1)
        return np.linalg.norm(points - (start + t[:, None] * along), axis=1)
    arm = points - np.array(segment.centre)
    first = start - np.array(segment.centre)
    turn = 1 if segment.ccw else -1
    angle = np.arctan2(
        turn * (first[0] * arm[:, 1] - first[1] * arm[:, 0]), arm @ first
    ) % (2 * np.pi)  # fmt: skip
    on = angle <= math.radians(abs(segment.sweep_deg))
    ends = np.minimum(np.linalg.norm(points - start, axis=1), np.linalg.norm(points - end, axis=1))
    return np.where(on, np.abs(np.linalg.norm(arm, axis=1) - segment.radius_mm), ends)


def distances_to(chain: Chain, points):
    """Return how far each of `points`, shape (n, 2), lies from the true curve, mm."""
    points = np.asarray(points, dtype=float)
    return np.min([_segment_distances(segment, points) for segment in chain.segments], axis=0)


def shoelace_mm2(points):
    """Return the signed area of the ring of `points`."""
    x, y = np.asarray(points, dtype=float).T
    x, y = x - x[0], y - y[0]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


_coordinates = st.floats(0.0, 400.0, allow_subnormal=False).map(lambda value: round(value, 4))
_sweeps = st.sampled_from([0.0, 0.0, 90.0, -90.0, 180.0, -180.0, 181.0, 5.0, -300.0]) | st.floats(
    -340.0, 340.0
).filter(lambda sweep: abs(sweep) > 2.0)


@st.composite
def contours(draw):
    """Return closed chains of lines and arcs of any sweep; they may cross themselves."""
    if draw(st.integers(0, 5)) == 0:
        centre = (draw(_coordinates), draw(_coordinates))
        whole = circle(centre, diameter_mm=draw(st.floats(0.3, 300.0)))
        return whole if draw(st.booleans()) else whole.reversed()
    corners = draw(
        st.lists(st.tuples(_coordinates, _coordinates), min_size=3, max_size=7, unique=True).filter(
            lambda points: all(
                math.dist(points[k - 1], points[k]) > 0.05 for k in range(len(points))
            )
        )
    )
    return Contour.of(
        bent(corners[k - 1], corners[k], sweep_deg=draw(_sweeps)) for k in range(len(corners))
    )
