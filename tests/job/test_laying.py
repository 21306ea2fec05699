"""Wishes of a recipe's plates, honoured on the sheets: face down, together, on which stock."""

import json
from pathlib import Path
from textwrap import dedent

import pytest

from platekit.errors import NestingError
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import polygon
from platekit.job.options import Options, Spacing
from platekit.job.recipe import load_recipe
from platekit.job.run import Build, make
from platekit.materials import StockSize
from platekit.nesting import Stock
from platekit.nesting.stock_list import stock_text

HEAD = """
from platekit import Assembly, Grain, Laying, Plate, Sheet, lying, polygon, rectangle, standing
"""

# A wedge whose mirror image no quarter turn makes of it, and an offcut that only this image fits.
WEDGE = """
def rig(sheet: Sheet) -> Plate:
    wedge = polygon([(0, 0), (120, 0), (0, 60)])
    return Plate("wedge", sheet, wedge, laying=Laying(may_flip=True))
"""
MIRRORED = Stock.of_shape(Profile(polygon([(0, 0), (128, 0), (128, 64)])), name="corner")


@pytest.fixture
def built(tmp_path):
    """A way to build a recipe."""

    def build(text: str, **options: object) -> Build:
        path = Path(tmp_path) / "rig.py"
        path.write_text(HEAD + dedent(text), encoding="utf-8")
        spacing = Spacing(seconds=1.0, gap_mm=1.0, margin_mm=0.0)
        return make(load_recipe(path), Options(spacing=spacing, kerf_mm=0.0, **options))

    return build


def test_a_plate_is_laid_face_down_only_where_it_may_be(built, tmp_path):
    """Face down the wedge fits its offcut, and the record says so; face up it never does."""
    path = Path(tmp_path) / "shelf.json"
    path.write_text(stock_text([MIRRORED]), encoding="utf-8")
    build = built(WEDGE, stock=(path,))
    (placed,) = build.sheets[0].nested.placements
    assert placed.mirrored
    (written,) = json.loads(build.files["build.json"])["sheets"][0]["placements"]
    assert written["mirrored"] is True
    with pytest.raises(NestingError, match="wedge"):
        built(WEDGE.replace("True", "False"), stock=(path,))
    build = built(WEDGE.replace("True", "False"))
    assert '"mirrored"' not in build.files["build.json"]


def test_plates_that_belong_together_lie_on_one_sheet(built):
    """Both would fit the left over room of either sheet; they come to lie on the same."""
    build = built(
        """
        def rig(sheet: Sheet) -> Assembly:
            pair = Laying(together="pair")
            return Assembly("rig").with_panels(
                lying(Plate("large", sheet, rectangle(90, 90)), bottom_mm=0),
                lying(Plate("one", sheet, rectangle(40, 40), laying=pair), bottom_mm=100),
                lying(Plate("two", sheet, rectangle(40, 40), laying=pair), bottom_mm=200),
            )
        """,
        stock=(StockSize(135, 92),),
    )
    on = {
        placed.part: number
        for number, sheet in enumerate(build.sheets)
        for placed in sheet.nested.placements
    }
    assert on["one"] == on["two"]


def test_a_plate_is_cut_from_the_stock_it_names(built, tmp_path):
    """Though another sheet would do."""
    path = Path(tmp_path) / "shelf.json"
    path.write_text(
        stock_text([Stock(100, 100, 1, "first"), Stock(100, 100, 1, "good face")]), encoding="utf-8"
    )
    text = """
        def rig(sheet: Sheet) -> Plate:
            return Plate("lid", sheet, rectangle(80, 60), laying=Laying(on="good face"))
        """
    (sheet,) = built(text, stock=(path,)).sheets
    assert sheet.nested.stock.name == "good face"
    with pytest.raises(NestingError, match="'good face', which no stock is called"):
        built(text, stock=(StockSize(100, 100),))
    oak = Stock(100, 100, 1, "good face", material="oak")
    path.write_text(stock_text([oak, Stock(100, 100)]), encoding="utf-8")
    with pytest.raises(NestingError, match="lid: on is 'good face', which is stock of another"):
        built(text, stock=(path,))
    nameless = Stock(100, 100, material="oak")
    path.write_text(stock_text([nameless, Stock(100, 100, name="plain")]), encoding="utf-8")
    (sheet,) = built(text.replace("good face", ""), stock=(path,)).sheets
    assert sheet.nested.stock.name == "plain"
