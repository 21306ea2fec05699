"""Rectangles in a polygon: within it as an independent library sees it, and most of it found."""

import numpy as np
import pytest
import shapely

from platekit.geometry.inner_rectangles import inner_rectangles

LEAST_MM = 0.26
TURNED = np.array([[0.0, 0.0], [40.0, 9.0], [31.0, 49.0], [-9.0, 40.0]])


def disc(x, y, r, corners=48):
    """Return a circle's corners, counter-clockwise."""
    angle = np.arange(corners) * 2 * np.pi / corners
    return np.column_stack([x + r * np.cos(angle), y + r * np.sin(angle)])


def block(left, bottom, right, top):
    """Return a rectangle's corners, counter-clockwise."""
    return np.array([[left, bottom], [right, bottom], [right, top], [left, top]], dtype=float)


TOOTH = ((10, 8), (10, 30), (20, 30), (20, 8))
COMB = np.array(
    [(0, 0), (70, 0), *((50 - x + dx, y) for x in (0, 20, 40) for dx, y in TOOTH[::-1]), (0, 8)],
    dtype=float,
)
SHAPES = {
    "rectangle": [block(0, 0, 40, 25)],
    "disc": [disc(3, -7, 18)],
    "turned": [TURNED],
    "comb": [COMB],
    "frame": [block(0, 0, 60, 60), block(10, 10, 50, 50)[::-1]],
    "plate with holes": [
        block(0, 0, 300, 200),
        *(disc(x, y, 4)[::-1] for x in range(20, 300, 40) for y in range(20, 200, 40)),
    ],
    "sliver": [np.array([(0.0, 0.0), (50.0, 0.2), (50.0, 0.3), (0.0, 0.1)])],
}


@pytest.mark.parametrize("rings", SHAPES.values(), ids=SHAPES)
@pytest.mark.parametrize("strips", [1, 4, 10, 40])
def test_every_rectangle_is_covered_by_the_polygon(rings, strips):
    """Independent: shapely.covers; and none is narrower than asked."""
    polygon = shapely.Polygon(rings[0], rings[1:])
    assert polygon.is_valid
    found = inner_rectangles(rings, strips=strips, least_mm=LEAST_MM)
    boxes = shapely.box(*found.T)
    assert shapely.covers(polygon, boxes).all()
    assert (found[:, 2] - found[:, 0] > LEAST_MM - 1e-5).all()


@pytest.mark.parametrize(
    ("name", "strips", "share"),
    [
        pytest.param("rectangle", 10, 0.999, id="all of a rectangle"),
        pytest.param("comb", 10, 0.999, id="all of a comb"),
        pytest.param("frame", 10, 0.999, id="all of a frame"),
        # Closed form: 4 / 5 pi times sqrt(1 - y^2) summed over y = 0.2, 0.4, 0.6, 0.8: 0.839.
        pytest.param("disc", 10, 0.83, id="most of a disc"),
        pytest.param("plate with holes", 10, 0.5, id="half of a plate full of holes"),
    ],
)
def test_most_of_a_shape_is_found(name, strips, share):
    """Independent: the area of shapely's union, against the polygon's."""
    rings = SHAPES[name]
    found = inner_rectangles(rings, strips=strips, least_mm=LEAST_MM)
    area = shapely.union_all(shapely.box(*found.T)).area
    assert area >= share * shapely.Polygon(rings[0], rings[1:]).area


def test_many_random_stars_cover_their_rectangles():
    """Independent: shapely.covers, on 60 star-shaped polygons with a hole in the middle."""
    dice = np.random.default_rng(7)
    for _ in range(60):
        corners = int(dice.integers(5, 40))
        angle = np.sort(dice.uniform(0, 2 * np.pi, corners))
        if np.max(np.diff(angle, append=angle[0] + 2 * np.pi)) > 3.0:
            continue
        reach = dice.uniform(12, 60, corners)
        rings = [
            np.column_stack([reach * np.cos(angle), reach * np.sin(angle)]),
            disc(0, 0, 0.3)[::-1],
        ]
        polygon = shapely.Polygon(rings[0], rings[1:])
        if not polygon.is_valid:
            continue
        found = inner_rectangles(rings, strips=int(dice.integers(1, 30)), least_mm=LEAST_MM)
        assert shapely.covers(polygon, shapely.box(*found.T)).all()
