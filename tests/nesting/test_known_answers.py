"""Layouts held against answers that are known: sheets cut apart, and published instances.

The published ones are read from the folder named by PLATEKIT_NESTING_DATA (parts lists with
``known_sheets`` or ``best_published_density``) and left out when it is not set.
"""

from __future__ import annotations

import json
import os
import random
from pathlib import Path

import pytest
import shapely

from platekit.nesting import NestPart, Roll, Stock, nest
from platekit.nesting.parts_list import read_parts_list
from tests.nesting.shapes import Shape, faults, rectangle

FOLDER = os.environ.get("PLATEKIT_NESTING_DATA", "")
FILES = sorted(Path(FOLDER).glob("**/*.json")) if FOLDER else []
ABSENT = "PLATEKIT_NESTING_DATA names no folder of instances"


def cut_apart(width, height, *, pieces, chance):
    """Cut a rectangle by straight cuts from edge to edge until there are enough pieces."""
    found = [(width, height)]
    while len(found) < pieces:
        found.sort(key=lambda piece: piece[0] * piece[1])
        w, h = found.pop()
        share = chance.uniform(0.3, 0.7)
        if w > h:
            found += [(round(w * share, 1), h), (w - round(w * share, 1), h)]
        else:
            found += [(w, round(h * share, 1)), (w, h - round(h * share, 1))]
    return found


@pytest.mark.parametrize("seed", range(3))
def test_a_sheet_cut_apart_goes_back_on_one_more(seed):
    """Two sheets cut into pieces, each smaller by the gap, need three at most (construction)."""
    gap = 2.0
    chance = random.Random(seed)  # noqa: S311 - a test's own shuffle
    pieces = [p for _ in range(2) for p in cut_apart(600, 400, pieces=9, chance=chance)]
    wanted = []
    for k, (w, h) in enumerate(pieces):
        shape = rectangle(w - gap, h - gap)
        wanted.append((NestPart(f"p{k}", shape.profile), shape))
    done = nest([part for part, _ in wanted], stock=Stock(600, 400), gap_mm=gap)
    assert not done.unplaced
    assert len(done.sheets) <= 3
    assert faults(done, wanted, gap_mm=gap, margin_mm=0) == []


@pytest.mark.parametrize("count", [1, 2, 3, 7, 13])
@pytest.mark.parametrize(("gap", "margin"), [(0.0, 0.0), (2.0, 0.0), (2.0, 5.0)])
def test_a_row_as_long_as_the_sheet_fits_it(count, gap, margin):
    """Parts that with their gaps and the margins add up to the sheet's very length lie on it."""
    inner = 592.8
    shape = rectangle((inner - gap * (count - 1)) / count, 30)
    for stock in (
        Stock(inner + 2 * margin, 30 + 2 * margin, 1),
        Stock(30 + 2 * margin, inner + 2 * margin, 1),
    ):
        part = NestPart("strip", shape.profile, count)
        done = nest([part], stock=stock, gap_mm=gap, margin_mm=margin)
        assert done.unplaced == ()
        assert faults(done, [(part, shape)], gap_mm=gap, margin_mm=margin) == []


@pytest.mark.skipif(not FILES, reason=ABSENT)
@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_published_instances(file):
    """Every instance is placed soundly; sheets: at most one more than known; strips: no denser.

    A strip denser than the best published one would be our arithmetic's fault, not a record.
    """
    data = json.loads(file.read_text(encoding="utf-8"))
    listed = read_parts_list(file)
    by_id = {str(part["id"]): part for part in data["parts"]}
    wanted = [
        (
            part,
            Shape(
                part.profile,
                shapely.Polygon(by_id[part.name]["outline"], by_id[part.name].get("holes")),
            ),
        )
        for part in listed.parts
    ]
    gap = listed.gap_mm or 0.0
    if listed.sheet_mm is not None:
        done = nest(listed.parts, stock=Stock(*listed.sheet_mm), gap_mm=gap)
        assert len(done.sheets) <= data["known_sheets"] + 1
    else:
        done = nest(listed.parts, stock=Roll(data["roll_height"]), gap_mm=gap)
        area = sum(shape.polygon.area * part.quantity for part, shape in wanted)
        density = area / (data["roll_height"] * done.sheets[0].used_length_mm)
        assert done.sheets[0].utilisation == pytest.approx(density, rel=1e-9)
        assert 0.4 < density <= data["best_published_density"]
    assert not done.unplaced
    assert faults(done, wanted, gap_mm=gap, margin_mm=0) == []
