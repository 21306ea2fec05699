"""Offcuts of any shape: laid on as they are, what is left of them told, put back and used again."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely

from platekit.errors import NestingError
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle as rounded_rectangle
from platekit.nesting import NestPart, Stock, nest
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
