"""Pictures of two outlines over each other, read by programs that know nothing of us."""

import io
import math
import re

import numpy as np
import pytest
import svgelements

from platekit.export.picture_compare import Legend, compared_picture
from platekit.export.picture_details import MOST, details_of, thickest
from platekit.export.picture_overlay import (
    ADDED,
    NEW_EDGE,
    OLD_EDGE,
    REMOVED,
    STAYED,
    Overlay,
)
from platekit.geometry.booleans import difference
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from tests.export.pictures import needs_rsvg, rendered

SMALLER = 3  # the reader of pixels is slow
NEAR = 12  # of 255: edges are mixed with what lies beside them

LEGEND = Legend(old="thick/base", new="thin/base")


def plate(width_mm=120.0, *, hole_x=40.0, hole_mm=20.0) -> Profile:
    """Return a plate from (0, 0), 80 mm high, with one round hole."""
    outer = rectangle(width_mm, 80.0, centre=(width_mm / 2, 40.0))
    return Profile(outer, (circle((hole_x, 40.0), diameter_mm=hole_mm),))


def laid(old: Profile, new: Profile) -> Overlay:
    """Return two outlines over each other."""
    return Overlay(old=old, new=new, removed=difference(old, new), added=difference(new, old))


def paths(svg: str) -> list[svgelements.Path]:
    """Return the paths another parser finds, in pixels of the page."""
    picture = svgelements.SVG.parse(io.StringIO(svg), ppi=96)
    return [one for one in picture.elements() if isinstance(one, svgelements.Path)]


def colour(shape: svgelements.Path, what: str) -> str:
    """Return the colour of a path's stroke or fill, as #rrggbb."""
    value = shape.values.get(what)
    return str(value).lower()


def closed_outlines(svg: str, stroke: str) -> list[svgelements.Path]:
    """Return the outlines of one colour, the line in the legend (which is open) left aside."""
    return [
        one
        for one in paths(svg)
        if colour(one, "stroke") == stroke and any(isinstance(s, svgelements.Close) for s in one)
    ]


def test_both_outlines_are_drawn_to_one_scale():
    """The new plate is 130/120 times as wide as the old one, and begins where that begins."""
    svg = compared_picture("base", overlay=laid(plate(), plate(130.0)), legend=LEGEND)
    (old,), (new,) = (closed_outlines(svg, edge) for edge in (OLD_EDGE, NEW_EDGE))
    a, b = old.bbox(), new.bbox()
    assert (b[2] - b[0]) / (a[2] - a[0]) == pytest.approx(130 / 120, rel=1e-4)
    assert (a[0], a[1], a[3]) == pytest.approx((b[0], b[1], b[3]), abs=0.02)
    # Both have their hole: two rings each.
    assert all(sum(isinstance(s, svgelements.Close) for s in one) == 2 for one in (old, new))


def test_old_edges_are_dashed():
    """Lines can be told apart without colours: the new edge is drawn through."""
    svg = compared_picture("base", overlay=laid(plate(), plate(130.0)), legend=LEGEND)
    (old,), (new,) = (closed_outlines(svg, edge) for edge in (OLD_EDGE, NEW_EDGE))
    assert old.values.get("stroke-dasharray")
    assert not new.values.get("stroke-dasharray")


def test_the_legend_names_both_builds():
    """Both names, the old one first, and what each fill means."""
    svg = compared_picture("base", overlay=laid(plate(), plate(130.0)), legend=LEGEND)
    picture = svgelements.SVG.parse(io.StringIO(svg), ppi=96)
    said = [one.text for one in picture.elements() if isinstance(one, svgelements.Text)]
    assert said.index("old: thick/base") < said.index("new: thin/base")
    assert {"in both", "removed", "added"} <= set(said)


def test_names_are_escaped():
    """A folder may be called anything."""
    legend = Legend(old="a<b>&", new='"c"')
    svg = compared_picture("base", overlay=laid(plate(), plate(130.0)), legend=legend)
    picture = svgelements.SVG.parse(io.StringIO(svg), ppi=96)
    said = [one.text for one in picture.elements() if isinstance(one, svgelements.Text)]
    assert "old: a<b>&" in said
    assert 'new: "c"' in said


def shares(svg: str, folder, colours: dict[str, str]) -> dict[str, float]:
    """Return how many pixels of a smaller picture are of each colour, without head and details."""
    head, size, rest = re.split(r'(width="\d+" height="[\d.]+")', svg, maxsplit=1)
    width, height = (float(figure) / SMALLER for figure in re.findall(r"[\d.]+", size))
    small = f'{head}width="{width}" height="{height}"{rest}'
    pixels = rendered(small, folder, dots_per_inch=96)[190 // SMALLER : 800 // SMALLER].astype(int)
    found = {}
    for name, value in colours.items():
        ink = np.frombuffer(bytes.fromhex(value[1:]), np.uint8).astype(int)
        found[name] = float(np.sum(np.all(np.abs(pixels - ink) <= NEAR, axis=2)))
    return found


@needs_rsvg
def test_removed_and_added_cover_what_they_should(tmp_path):
    """A hole 30 mm further on and a plate 10 mm longer, by pixels of a renderer's picture.

    Removed is the new hole, pi 10^2 = 314 mm2; added the old one and the end, 314 + 800; in both
    the old plate less two holes. The bands along edges blur that by some percent.
    """
    svg = compared_picture("base", overlay=laid(plate(), plate(130.0, hole_x=70.0)), legend=LEGEND)
    found = shares(svg, tmp_path, {"removed": REMOVED, "added": ADDED, "stayed": STAYED})
    hole = math.pi * 100.0
    scale2 = found["stayed"] / (9600.0 - 2 * hole)
    assert found["removed"] / scale2 == pytest.approx(hole, rel=0.12)
    assert found["added"] / scale2 == pytest.approx(hole + 800.0, rel=0.12)


def test_what_is_thinner_than_a_pixel_is_seen():
    """Two hundredths at an edge 80 mm long show as a band, and again enlarged below."""
    svg = compared_picture("base", overlay=laid(plate(), plate(120.02)), legend=LEGEND)
    on_page, enlarged = (one for one in paths(svg) if colour(one, "fill") == ADDED and len(one) > 2)
    box, near = on_page.bbox(), enlarged.bbox()
    assert box[2] - box[0] < 1.0
    assert colour(on_page, "stroke") == ADDED
    # In pixels, as the parser carries the stroke through the scale of the group.
    assert on_page.stroke_width == pytest.approx(5.0, rel=0.01)
    assert near[2] - near[0] > 20.0
    assert "0.02\N{NO-BREAK SPACE}mm wide here" in svg


@pytest.mark.parametrize("step_mm", [0.002, 0.02, 0.2])
def test_details_find_the_thickness(step_mm):
    """An edge moved by so much, and a hole moved by as much: that is what changed there."""
    overlay = laid(plate(), plate(120.0 + step_mm))
    (detail,) = details_of(overlay, scale=5.0)
    assert detail.thick_mm == pytest.approx(step_mm, abs=1e-6)
    assert detail.at.x == pytest.approx(120.0, abs=1.01 * step_mm)
    moved = laid(plate(), plate(hole_x=40.0 + step_mm))
    for piece in (*moved.removed, *moved.added):
        at, thick = thickest(piece, moved)
        # A crescent is as thick as the step only where it faces the way the hole went.
        assert thick == pytest.approx(step_mm, rel=0.2)
        assert abs(at.y - 40.0) < 7.0


def test_no_details_of_what_is_plain_to_see():
    """Ten millimetres need no lens."""
    assert details_of(laid(plate(), plate(130.0)), scale=5.0) == ()


def test_never_more_details_than_there_is_room_for():
    """Many small changes, few windows, none beside another."""
    spots = [(x, y) for x in range(10, 111, 20) for y in range(10, 71, 20)]

    def full(diameter_mm: float) -> Profile:
        holes = tuple(circle(spot, diameter_mm=diameter_mm) for spot in spots)
        return Profile(rectangle(120.0, 80.0, centre=(60.0, 40.0)), holes)

    details = details_of(laid(full(5.0), full(5.1)), scale=5.0)
    assert len(details) == MOST
    for k, one in enumerate(details):
        for other in details[:k]:
            assert math.dist(one.at, other.at) >= 18.0


def test_outlines_nobody_can_lay_over_each_other():
    """Where the areas are not known both outlines are drawn all the same, and it says why."""
    overlay = Overlay(old=plate(), new=plate(130.0), removed=None, added=None)
    svg = compared_picture("base", overlay=overlay, legend=LEGEND)
    assert "cannot be told" in svg
    assert len(closed_outlines(svg, OLD_EDGE)) == len(closed_outlines(svg, NEW_EDGE)) == 1


def test_the_same_picture_every_time():
    """To the byte."""
    overlay = laid(plate(), plate(120.02))
    assert compared_picture("base", overlay=overlay, legend=LEGEND) == compared_picture(
        "base", overlay=laid(plate(), plate(120.02)), legend=LEGEND
    )
