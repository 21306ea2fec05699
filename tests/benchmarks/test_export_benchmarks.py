"""How long cut files take, as ratios within one run. ``pytest tests/benchmarks --benchmark-only``.

The bare loop is the least one can do with ezdxf for the same entities: ready-made coordinates
into a new document, written to memory.
"""

import io
import math
import time

import pytest
from ezdxf.filemanagement import new

from platekit.cutting.drawing import Drawing, Entry, Layer
from platekit.export.dxf import DxfFlavour, dxf_text
from platekit.export.svg import svg_text
from platekit.geometry.chains import Contour, circle, closed_polyline
from platekit.geometry.motion import Motion
from tests.export.examples import rounded_rectangle, slot

MOST_OF_BARE = 1.5  # the project's own goal for DXF writing


def holes(count):
    """Return a plate with `count` round holes."""
    row = math.isqrt(count)
    cut = [circle((10 * (k % row), 10 * (k // row)), diameter_mm=6.4) for k in range(count)]
    return [Entry(Layer.INSIDE_CUT, hole, "plate") for hole in cut] + outline(row)


def slots(count):
    """Return a plate with `count` slots, each turned another way."""
    row = math.isqrt(count)
    one = slot(10, 4)
    cut = [
        one.moved(Motion(dx_mm=20 * (k % row), dy_mm=20 * (k // row), turn_deg=7.0 * k))
        for k in range(count)
    ]
    return [Entry(Layer.INSIDE_CUT, opening, "plate") for opening in cut] + outline(2 * row)


def fingers(count):
    """Return `count` plates with 25 fingers along two edges."""
    points = []
    for k in range(25):
        points += [(8 * k, 0), (8 * k + 4, 0), (8 * k + 4, 6), (8 * k + 8, 6)]
    points += [(200 - x, 100 - y) for x, y in points]
    plate = closed_polyline(points)
    return [
        Entry(Layer.OUTSIDE_CUT, plate.moved(Motion(dx_mm=210 * k)), "wall") for k in range(count)
    ]


def outline(row):
    """Return the outside cut of a plate of `row` by `row` features."""
    return [Entry(Layer.OUTSIDE_CUT, rounded_rectangle(10 * row + 20, 10 * row + 20, 8), "plate")]


def bare_entities(entries):
    """Return what the bare loop adds: (layer, centre, radius) or (layer, points)."""
    ready = []
    for entry in entries:
        layer = {"layer": "A" if entry.layer is Layer.INSIDE_CUT else "B"}
        segments = entry.shape.segments
        if isinstance(entry.shape, Contour) and entry.shape.is_circle:
            ready.append((layer, tuple(segments[0].centre), segments[0].radius_mm))
        else:
            bulge = [math.tan(math.radians(getattr(s, "sweep_deg", 0)) / 4) for s in segments]
            points = [(*s.start, b) for s, b in zip(segments, bulge, strict=True)]
            ready.append((layer, points, None))
    return ready


def bare_loop(ready):
    """Write ready-made entities with ezdxf alone."""
    document = new("R2010", units=4)
    for name in "AB":
        document.layers.add(name)
    space = document.modelspace()
    for layer, place, radius in ready:
        if radius is None:
            space.add_lwpolyline(place, format="xyb", close=True, dxfattribs=layer)
        else:
            space.add_circle(place, radius, dxfattribs=layer)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue()


def best_s(work, *, rounds=7):
    """Return the shortest time of several, seconds."""
    times = []
    for _ in range(rounds):
        before = time.perf_counter()
        work()
        times.append(time.perf_counter() - before)
    return min(times)


CASES = pytest.mark.parametrize(
    ("entries", "count"),
    [
        pytest.param(holes, 200, id="200 holes"),
        pytest.param(holes, 2000, id="2000 holes"),
        pytest.param(slots, 1000, id="1000 slots"),
        pytest.param(fingers, 5, id="5 finger plates"),
        pytest.param(fingers, 50, id="50 finger plates"),
    ],
)


@CASES
def test_dxf_against_a_bare_loop(entries, count, benchmark):
    """Exact DXF against the bare loop; reported, never a timed assert."""
    drawing = Drawing(1000, 1000, tuple(entries(count)))
    ready = bare_entities(drawing.entries)
    assert bare_loop(ready).count("\nCIRCLE\n") == dxf_text(drawing).count("\nCIRCLE\n")
    bare = best_s(lambda: bare_loop(ready))
    benchmark.pedantic(dxf_text, args=(drawing,), rounds=7, warmup_rounds=1)
    ours = benchmark.stats.stats.min if benchmark.stats else best_s(lambda: dxf_text(drawing))
    benchmark.extra_info["ratio to bare ezdxf"] = round(ours / bare, 2)
    benchmark.extra_info["goal"] = MOST_OF_BARE


@CASES
def test_svg(entries, count, benchmark):
    """SVG, for comparison; no bare counterpart."""
    drawing = Drawing(1000, 1000, tuple(entries(count)))
    assert benchmark.pedantic(svg_text, args=(drawing,), rounds=5, warmup_rounds=1)


@pytest.mark.parametrize(("entries", "count"), [(holes, 200), (fingers, 5)])
def test_plain_dxf(entries, count, benchmark):
    """The plain flavour, for comparison: ezdxf spends 40 us on each of its many points."""
    drawing = Drawing(1000, 1000, tuple(entries(count)))
    assert benchmark.pedantic(dxf_text, args=(drawing,), kwargs={"flavour": DxfFlavour.R12})
