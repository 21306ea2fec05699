"""Panels come to lie where one says, seen from outside."""

import pytest

from platekit.assembly import laminate, lying, on_face, placed, standing, upright_on
from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.errors import PartError
from platekit.geometry.shapes import rectangle
from platekit.materials import birch_plywood
from platekit.panel.plate import Plate
from tests.assembly.bodies import plate


def spans(panel):
    """Return how far a panel reaches along x, y and z."""
    low, high = panel.reach
    return tuple((round(low[k], 9) + 0.0, round(high[k], 9) + 0.0) for k in range(3))


@pytest.mark.parametrize(
    ("panel", "reach"),
    [
        (lying(plate("p", 6, 100, 50)), ((0, 100), (0, 50), (0, 6))),
        (
            lying(plate("p", 6, 100, 50), left_mm=10, front_mm=20, top_mm=90),
            ((10, 110), (20, 70), (84, 90)),
        ),
        (lying(plate("p", 6, 100, 50), turn_deg=90), ((0, 50), (0, 100), (0, 6))),
        (lying(plate("p", 6, 100, 50), face="down"), ((0, 100), (0, 50), (0, 6))),
        (standing(plate("p", 6, 100, 50), facing="front"), ((0, 100), (0, 6), (0, 50))),
        (
            standing(plate("p", 6, 100, 50), facing="back", back_mm=90),
            ((0, 100), (84, 90), (0, 50)),
        ),
        (standing(plate("p", 6, 100, 50), facing="left"), ((0, 6), (0, 100), (0, 50))),
        (
            standing(plate("p", 6, 100, 50), facing="right", right_mm=200, middle_z_mm=0),
            ((194, 200), (0, 100), (-25, 25)),
        ),
        (
            standing(plate("p", 6, 100, 50), facing="right", middle_x_mm=30),
            ((27, 33), (0, 100), (0, 50)),
        ),
    ],
)
def test_sides_come_to_lie_where_said(panel, reach):
    """Every side named is where it was put; sides not named start at 0."""
    assert spans(panel) == reach


@pytest.mark.parametrize(
    ("facing", "out", "right"),
    [
        ("front", (0, -1, 0), (1, 0, 0)),
        ("back", (0, 1, 0), (-1, 0, 0)),
        ("left", (-1, 0, 0), (0, -1, 0)),
        ("right", (1, 0, 0), (0, 1, 0)),
    ],
)
def test_walls_are_drawn_as_seen_from_outside(facing, out, right):
    """The drawn face looks out; whoever stands before it has the plate's x to the right.

    Seen against n with z up, right is z x n.
    """
    frame = standing(plate("p", 6, 100, 50), facing=facing).frame
    assert tuple(frame.n) == out
    assert tuple(frame.u) == right == tuple(Z.cross(frame.n))
    assert frame.v == Z


def test_a_wall_drawn_off_its_origin_stands_where_said():
    """The plate's own origin plays no part when its sides are named."""
    centred = Plate("p", birch_plywood(6), rectangle(100, 50, centre=(0, 0)))
    assert spans(standing(centred, facing="front", left_mm=5)) == ((5, 105), (0, 6), (0, 50))


def test_a_turned_disc_reaches_its_radius():
    """A disc of 100 mm reaches 100 mm however it is turned; its bounds' corners do not count."""
    from platekit.geometry.chains import circle

    disc = Plate("p", birch_plywood(6), circle((0, 0), diameter_mm=100))
    low, high = lying(disc, turn_deg=30).reach
    assert high.x - low.x == pytest.approx(100)


def test_on_a_face():
    """On the outer face the slab begins at the thickness; on the inner it ends below 0."""
    base = lying(plate("base", 9, 100, 100), bottom_mm=20)
    pad = plate("pad", 6, 30, 30)
    assert spans(on_face(pad, of=base, at=(10, 20))) == ((10, 40), (20, 50), (29, 35))
    under = on_face(pad, of=base, at=(10, 20), face="inner", distance_mm=2)
    assert spans(under) == ((10, 40), (20, 50), (12, 18))


def test_upright_on_a_face():
    """A rib straddles its line, and its foot reaches the far face when it is to be tabbed."""
    base = lying(plate("base", 9, 100, 100))
    rib = plate("rib", 6, 60, 40)
    assert spans(upright_on(rib, of=base, start=(20, 50))) == ((20, 80), (47, 53), (0, 40))
    standing_free = upright_on(rib, of=base, start=(20, 50), through=False)
    assert spans(standing_free) == ((20, 80), (47, 53), (9, 49))
    hung = upright_on(rib, of=base, start=(50, 20), heading_deg=90, face="inner")
    assert spans(hung) == ((47, 53), (20, 80), (-31, 9))


def test_a_laminate_is_one_thick_slab():
    """Layers follow each other along n; the panel is as thick as all of them."""
    glued = laminate("pad", plate("a", 6, 60, 60), plate("b", 4, 60, 60))
    panel = placed(glued, Frame(Vector(0, 0, 5), X, Y))
    assert panel.thickness_mm == 10
    assert [frame.origin.z for frame in panel.layer_frames()] == [5, 11]


@pytest.mark.parametrize(
    ("make", "words"),
    [
        (lambda p: lying(p, left_mm=0, right_mm=9), ("left_mm", "right_mm")),
        (lambda p: lying(p, lfet_mm=0), ("lfet_mm", "left_mm")),
        (lambda p: lying(p, top_mm=float("nan")), ("top_mm", "nan")),
        (lambda p: lying(p, top_mm="9"), ("top_mm", "'9'")),
        (lambda p: standing(p, facing="north"), ("north", "front")),
        (lambda p: lying(p, face="front"), ("front", "up")),
        (lambda p: on_face(p, of=lying(p), face="top"), ("top", "outer")),
        (lambda p: lying(p).turned(about="w", angle_deg=9), ("'w'", "'x'")),
    ],
)
def test_places_that_cannot_be_are_refused(make, words):
    """The message names the panel, the word and the known ones."""
    with pytest.raises(PartError) as caught:
        make(plate("slab", 6, 100, 50))
    assert [word for word in ("slab", *words) if word not in str(caught.value)] == []
