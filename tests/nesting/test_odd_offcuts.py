"""Offcuts of any shape: laid on as they are, what is left of them told, put back and used again."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings, strategies as st
from shapely import affinity

from platekit.errors import NestingError
from platekit.geometry.chains import circle
from platekit.geometry.chords import to_polygon
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle as rounded_rectangle
from platekit.nesting import NestPart, Roll, Stock, nest
from tests.amounts import examples
from tests.nesting.shapes import (
    DISC_QUARTER,
    Shape,
    angle_piece,
    disc,
    faults,
    offcut,
    polygon,
    rectangle,
)


def with_hole(shape: Shape, at, diameter) -> Shape:
    """Return a shape with a round hole in it."""
    hole = circle(at, diameter_mm=diameter)
    # The judge's hole is cut a little small: off by no more than an inscribed polygon's sagitta.
    round_ = shapely.Point(at).buffer(diameter / 2, quad_segs=DISC_QUARTER)
    error = diameter / 2 * (1 - math.cos(math.pi / (4 * DISC_QUARTER)))
    return Shape(
        shape.profile.with_holes([hole]),
        shape.polygon.difference(round_),
        shape.error_mm + error,
    )


def pieces(shape: Shape, quantity, name="piece", turns=(0.0, 90.0, 180.0, 270.0)):
    """Return one kind of part with its shape."""
    return NestPart(name, shape.profile, quantity, turns), shape


def laid(wanted, stock, *, gap=2.0, margin=5.0, odd=()):
    """Nest, and hold the outcome to the judge."""
    done = nest([part for part, _ in wanted], stock=stock, gap_mm=gap, margin_mm=margin, seed=1)
    assert faults(done, wanted, gap_mm=gap, margin_mm=margin, offcuts=odd) == []
    return done


GAPS = [(2.0, 5.0), (0.0, 0.0), (4.0, 1.0), (0.0, 6.0)]


@pytest.mark.parametrize(("gap", "margin"), GAPS)
def test_an_l_holds_parts_in_both_arms(gap, margin):
    """Strips that fit neither arm but lengthwise lie in both; none in the bay between."""
    shape = angle_piece(300, 260, 80)
    odd = offcut(shape, "corner")
    done = laid([pieces(rectangle(150, 60), 3)], odd[0], gap=gap, margin=margin, odd=[odd])
    assert done.unplaced[1:] == ()  # the corner itself is as good as an arm: at least two
    assert len(done.sheets) == 1
    assert done.sheets[0].utilisation == pytest.approx(
        (3 - len(done.unplaced)) * 150 * 60 / shape.polygon.area
    )


@pytest.mark.parametrize(("gap", "margin"), GAPS)
def test_a_hole_in_the_sheet_is_kept_clear(gap, margin):
    """Round the hole of a cut-out gauge everything keeps the margin to it."""
    odd = offcut(with_hole(rectangle(200, 160), (100, 80), 60), "gauge")
    wanted = [pieces(disc(44), 5, "disc"), pieces(rectangle(38, 22), 8, "plate")]
    done = laid(wanted, odd[0], gap=gap, margin=margin, odd=[odd])
    assert len(done.sheets) == 1


def test_a_part_may_lie_round_a_hole_of_the_offcut():
    """A frame goes only where the sheet's hole lies in its own: by the hole there is no room."""
    frame = polygon(
        [(0, 0), (96, 0), (96, 76), (0, 76)], [[(16, 16), (80, 16), (80, 60), (16, 60)]]
    )
    odd = offcut(with_hole(rectangle(100, 80), (50, 40), 30), "holed")
    done = laid([pieces(frame, 1)], odd[0], gap=2.0, margin=2.0, odd=[odd])
    assert done.unplaced == ()


def test_round_edges_are_kept_off():
    """On a disc of 200 mm and a rounded sheet the arcs are edges like others."""
    whole = offcut(replace(disc(200), error_mm=1e-3), "round")
    corners = rounded_rectangle(180, 120, fillet_mm=40)
    bent = Shape(
        Profile(corners),
        shapely.box(-50, -20, 50, 20).buffer(40, quad_segs=DISC_QUARTER),
        2e-4,
    )
    bent_odd = offcut(bent, "bent")
    wanted = [pieces(rectangle(40, 25), 12, "plate"), pieces(disc(35), 10, "disc")]
    done = laid(wanted, (whole[0], bent_odd[0]), gap=1.0, margin=3.0, odd=[whole, bent_odd])
    assert {str(sheet.stock) for sheet in done.sheets} == {"round", "bent"}


def test_the_largest_square_of_a_disc_fits_without_a_margin():
    """Thales: a square of side d / sqrt 2 has its corners on the circle; a hair larger does not."""
    odd = offcut(replace(disc(200), error_mm=1e-3), "round")
    side = 200 / math.sqrt(2)
    done = laid([pieces(rectangle(side - 0.02, side - 0.02), 1)], odd[0], margin=0.0, odd=[odd])
    assert done.unplaced == ()
    with pytest.raises(NestingError, match="less what its shape lacks"):
        laid([pieces(rectangle(side + 0.02, side + 0.02), 1)], odd[0], margin=0.0)


@pytest.mark.parametrize("angle", [0.0, 37.0, 211.5])
@pytest.mark.parametrize("margin", [0.0, 4.0])
def test_the_largest_square_of_a_triangle_fits_however_it_lies(angle, margin):
    """Half a square, its legs s: the largest square in it has the side s / 2, margins taken off.

    A margin m all round takes m (2 + sqrt 2) off either leg, by similar triangles.
    """
    triangle = polygon([(0, 0), (200, 0), (0, 200)])
    turned = Shape(
        triangle.profile.moved(Motion(turn_deg=angle)),
        affinity.rotate(triangle.polygon, angle, origin=(0, 0)),
    )
    odd = offcut(turned, "half")
    side = (200 - margin * (2 + math.sqrt(2))) / 2
    fits = pieces(rectangle(side - 0.02, side - 0.02), 1, turns=(angle,))
    assert laid([fits], odd[0], margin=margin, odd=[odd]).unplaced == ()
    too_large = pieces(rectangle(side + 0.02, side + 0.02), 1, turns=(angle,))
    with pytest.raises(NestingError, match="less what its shape lacks"):
        laid([too_large], odd[0], margin=margin)


@pytest.mark.parametrize("web", [40.0, 40.37, 100 / 3])
def test_an_arm_as_wide_as_the_part_holds_it(web):
    """A strip exactly as wide as an arm less its margins fits both ways, whatever the numbers."""
    odd = offcut(angle_piece(230.0, 210.0, web), "corner")
    strip = rectangle(150, web - 7.0)
    done = laid([pieces(strip, 2)], odd[0], gap=2.0, margin=3.5, odd=[odd])
    assert done.unplaced == ()


def test_sheets_offcuts_and_shapes_serve_together():
    """Odd offcuts, small sheets and whole ones in one job: nothing is lost and nothing clashes."""
    corner = offcut(angle_piece(220, 200, 70), "corner")
    holed = offcut(with_hole(rectangle(150, 150), (60, 80), 50), "holed", count=2)
    stock = (Stock(600, 400, name="whole"), corner[0], holed[0], Stock(120, 90, 1, "small"))
    wanted = [
        pieces(rectangle(60, 35), 9, "plate"),
        pieces(disc(48), 6, "disc"),
        pieces(angle_piece(60, 60, 20), 5, "angle"),
    ]
    done = laid(wanted, stock, odd=[corner, holed])
    assert done.unplaced == ()


def test_the_offcut_is_taken_before_the_sheet():
    """What fits an offcut of less area than a sheet's is laid on the offcut."""
    corner = offcut(angle_piece(220, 200, 70), "corner")
    done = laid([pieces(rectangle(60, 35), 3)], (Stock(300, 200), corner[0]), odd=[corner])
    assert [str(sheet.stock) for sheet in done.sheets] == ["corner"]


def test_a_shape_too_small_is_said_so():
    """A part that fits the bounds but not the shape fits no sheet, and the offcut is named."""
    stock = Stock.of_shape(angle_piece(200, 200, 30).profile, name="thin corner")
    part, shape = pieces(rectangle(60, 60), 1)
    with pytest.raises(NestingError, match=r"thin corner leaves 196 x 196 mm, less what its shape"):
        nest([part], stock=stock, margin_mm=2)
    small, strip = pieces(rectangle(50, 20), 1, "strip")
    done = nest([part, small], stock=stock, margin_mm=2)
    assert [entry.part for entry in done.unplaced] == ["piece"]
    assert "thin corner" in done.unplaced[0].reason
    odd = offcut(angle_piece(200, 200, 30), "thin corner")
    wanted = [(part, shape), (small, strip)]
    assert faults(done, wanted, gap_mm=0, margin_mm=2, offcuts=[odd]) == []


@pytest.mark.parametrize(
    ("stock", "margin", "says"),
    [
        pytest.param(
            lambda: Stock(100, 50, shape=rectangle(100, 50, at=(1, 0)).profile),
            0,
            "of_shape",
            id="off the origin",
        ),
        pytest.param(
            lambda: Stock(100, 50, shape=rectangle(90, 50).profile), 0, "of_shape", id="narrower"
        ),
        pytest.param(
            lambda: Stock.of_shape(
                polygon([(0, 0), (100, 90), (100, 0), (0, 100)]).profile, name="bow"
            ),
            0,
            "stock bow: the outline crosses",
            id="crossing itself",
        ),
        pytest.param(
            lambda: Stock.of_shape(angle_piece(200, 200, 20).profile, name="thin"),
            16,
            "a margin of 16 mm leaves nothing of stock thin",
            id="swallowed by the margin",
        ),
    ],
)
def test_bad_shapes_are_refused(stock, margin, says):
    """Shapes off the origin or with faults, and margins that leave nothing, raise by name."""
    with pytest.raises(NestingError, match=says):
        nest([NestPart("a", rectangle(10, 10).profile)], stock=stock(), margin_mm=margin)


def as_polygon(profile: Profile) -> shapely.Polygon:
    """Return what the judge makes of a result: chords of many points, no side chosen."""
    return to_polygon(profile, tolerance_mm=1e-4)


@pytest.mark.parametrize(
    ("shape", "name"),
    [
        pytest.param(angle_piece(300, 260, 80), "corner", id="L"),
        pytest.param(with_hole(rectangle(300, 160), (210, 80), 60), "holed", id="hole"),
        pytest.param(replace(disc(250), error_mm=1e-3), "round", id="disc"),
        pytest.param(
            polygon(
                [(0, 0), (300, 0), (300, 70), (90, 70), (90, 100), (300, 100), (300, 190), (0, 190)]
            ),
            "fork",
            id="two prongs",
        ),
    ],
)
def test_what_is_left_is_the_shape_right_of_the_length_used(shape, name):
    """Offcuts cover the offcut right of the length used, by area and by symmetric difference."""
    odd = offcut(shape, name)
    sheet = laid([pieces(rectangle(60, 40), 2)], odd[0], odd=[odd]).sheets[0]
    beyond = shapely.box(sheet.used_length_mm, -1, sheet.width_mm + 1, sheet.height_mm + 1)
    wanted = odd[1].polygon.intersection(beyond)
    left = shapely.union_all([as_polygon(piece) for piece in sheet.offcuts])
    assert left.symmetric_difference(wanted).area < 1e-6 + 2e-3 * wanted.length
    assert len(sheet.offcuts) == len(shapely.get_parts(wanted))


def test_no_offcut_is_narrower_than_30_mm():
    """Of two prongs 20 and 40 mm high only the higher is left; of a rest 29 mm wide nothing."""
    fork = polygon([(0, 0), (300, 0), (300, 20), (90, 20), (90, 50), (300, 50), (300, 90), (0, 90)])
    odd = offcut(fork, "fork")
    done = laid([pieces(rectangle(80, 80), 1)], odd[0], odd=[odd])
    (piece,) = done.sheets[0].offcuts
    prong = shapely.box(90, 50, 300, 90)
    assert as_polygon(piece).symmetric_difference(prong).area < 1e-6
    part = [pieces(rectangle(80, 80), 1)]
    for width, there in ((119, 0), (121, 1)):
        assert len(laid(part, Stock(width, 90)).sheets[0].offcuts) == there
    assert laid(part, Roll(90)).sheets[0].offcuts == ()


def test_an_offcut_serves_again():
    """What is left of a sheet, put back as stock, takes what it is large enough for."""
    first = laid([pieces(angle_piece(100, 90, 30), 3)], Stock(500, 200))
    (rest,) = first.sheets[0].offcuts
    stock = Stock.of_shape(rest, name="rest")
    assert stock.area_mm2 == pytest.approx((500 - first.sheets[0].used_length_mm) * 200)
    odd = offcut(Shape(rest, as_polygon(rest)), "rest")
    second = laid([pieces(disc(60), 4)], (Stock(500, 200), stock), odd=[odd])
    assert [str(sheet.stock) for sheet in second.sheets] == ["rest"]


def test_an_odd_offcut_serves_again_and_again():
    """An L with a hole, laid on thrice, shrinks by what is used and stays sound."""
    shape = with_hole(angle_piece(400, 200, 120), (250, 60), 50)
    areas = []
    for step in range(3):
        odd = offcut(shape, f"rest {step}")
        done = laid([pieces(rectangle(70, 50), 2)], odd[0], odd=[odd])
        areas.append(odd[0].area_mm2)
        (rest,) = done.sheets[0].offcuts
        shape = Shape(rest, as_polygon(rest), 1e-3)
    assert areas == sorted(areas, reverse=True)
    assert areas[0] - areas[-1] > 2 * 2 * 70 * 50


CORNER = [(0, 0, 60, 90), (60, 0, 150, 90), (150, 0, 300, 90), (0, 90, 90, 160), (0, 160, 90, 250)]
TEE = [(0, 0, 70, 80), (70, 0, 140, 80), (140, 0, 240, 80), (80, 80, 160, 150), (80, 150, 160, 210)]
FRAME = [
    (0, 0, 250, 60),
    (0, 60, 50, 160),
    (190, 60, 250, 160),
    (0, 160, 130, 220),
    (130, 160, 250, 220),
]


@pytest.mark.parametrize("scale", [1.0, 1.0367, 0.873])
@pytest.mark.parametrize("boxes", [CORNER, TEE, FRAME], ids=["corner", "tee", "frame"])
def test_a_shape_cut_apart_goes_back_together(boxes, scale):
    """Strips cut from an offcut, each half a gap smaller all round, lie on one more at most."""
    gap = 2.0
    cuts = [tuple(scale * edge for edge in box) for box in boxes]
    wanted = [
        pieces(rectangle(right - left - gap, top - bottom - gap), 1, f"strip {k}")
        for k, (left, bottom, right, top) in enumerate(cuts)
    ]
    whole = shapely.union_all([shapely.box(*box) for box in cuts], grid_size=1e-9)
    holes = [list(hole.coords)[:-1] for hole in whole.interiors]
    odd = offcut(polygon(list(whole.exterior.coords)[:-1], holes), "whole", count=2)
    done = laid(wanted, odd[0], gap=gap, margin=gap / 2, odd=[odd])
    assert done.unplaced == ()
    assert len(done.sheets) <= 2


sizes = st.floats(8, 70).map(lambda size: round(size, 3))
some_parts = st.lists(
    st.tuples(
        st.one_of(
            st.builds(rectangle, sizes, sizes, at=st.tuples(sizes, sizes)),
            st.builds(disc, sizes),
            st.builds(lambda w, h, web: angle_piece(w + web, h + web, web), sizes, sizes, sizes),
        ),
        st.integers(1, 3),
        st.sampled_from([(0.0,), (0.0, 90.0), (30.0, 45.0), None]),
    ),
    min_size=1,
    max_size=4,
)


@st.composite
def odd_shapes(draw):
    """Draw an L, with or without a hole in its corner, turned by any angle."""
    web = draw(st.floats(50, 120))
    shape = angle_piece(draw(st.floats(130, 300)), draw(st.floats(130, 260)), web)
    if draw(st.booleans()):
        shape = with_hole(shape, (web / 2, web / 2), draw(st.floats(5, 45)))
    angle = draw(st.sampled_from([0.0, 90.0, 37.0, 180.0, 211.5]))
    return Shape(
        shape.profile.moved(Motion(turn_deg=angle)),
        affinity.rotate(shape.polygon, angle, origin=(0, 0)),
        shape.error_mm,
    )


@settings(max_examples=examples(8, thorough=25), deadline=None, derandomize=True)
@given(
    drawn=some_parts,
    shape=odd_shapes(),
    gap=st.sampled_from([0.0, 0.2, 3.0]),
    margin=st.sampled_from([0.0, 1.0, 6.5]),
    others=st.sampled_from([(), (Stock(200, 150, 2),)]),
)
def test_every_layout_on_odd_offcuts_is_sound(drawn, shape, gap, margin, others):
    """Random parts on random offcuts: nothing is lost, off the shape or closer than it may be."""
    wanted = [pieces(*entry[:2], f"p{k}", entry[2]) for k, entry in enumerate(drawn)]
    odd = offcut(shape, "odd", count=2)
    try:
        laid(wanted, (odd[0], *others), gap=gap, margin=margin, odd=[odd])
    except NestingError as err:
        assert "the smallest part" in str(err)  # noqa: PT017 - small stock, nothing else, may raise
