"""``--stock``: sizes and stock files, in both commands; what is left is stock again."""

import csv
import json
from pathlib import Path

import pytest

from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from platekit.nesting import Stock
from platekit.nesting.stock_list import read_stock_list, stock_text

SQUARES = {
    "parts": [
        {"id": "square", "quantity": 5, "rotations_deg": [0],
         "outline": [[0, 0], [50, 0], [50, 50], [0, 50]]},
        {"id": "plank", "quantity": 2, "rotations_deg": [0],
         "outline": [[0, 0], [500, 0], [500, 20], [0, 20]]},
    ],
}  # fmt: skip

TWO_KINDS = """
from platekit import Assembly, lying, standing

def base(sheet: Sheet) -> Assembly:
    thin = sheet_of("MDF", nominal_mm=3.0)
    return Assembly("base").with_panels(
        lying(Plate("floor", sheet, rectangle(150.0, 100.0)), bottom_mm=0),
        standing(Plate("wall", thin, rectangle(150.0, 80.0)), facing="front", front_mm=0,
                 bottom_mm=0),
    )
"""


def parts_list(data: dict, name: str = "list.json", **changes) -> str:
    """Write a parts list here and return its name."""
    Path(name).write_text(json.dumps({**data, **changes}), encoding="utf-8")
    return name


def shelf(*stock: Stock, name: str = "shelf.json") -> str:
    """Write a stock file here and return its name."""
    Path(name).write_text(stock_text(stock), encoding="utf-8")
    return name


def only_squares(quantity: int) -> dict:
    """Return a parts list of squares alone."""
    return {"parts": [{**SQUARES["parts"][0], "quantity": quantity}]}


def table(bench, name: str) -> list[dict[str, str]]:
    """Return what sheets.csv says."""
    text = (bench.out / name / "sheets.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


def test_counts_go_down_from_run_to_run(bench):
    """Two sheets of four squares each out of three; the rest serves the next run."""
    given = shelf(Stock(110, 110, 3, "board", price=2.0))
    status, out, _ = bench.run("nest", parts_list(only_squares(8)), "--stock", given)
    assert status == 0
    rows = table(bench, "list")
    assert [(row["stock"], row["pieces"], row["price"]) for row in rows] == [
        ("board", "4", "2"),
        ("board", "4", "2"),
    ]
    # 4 squares of 50 mm on 110 mm: closed form.
    assert {row["fill_percent"] for row in rows} == {f"{100 * 4 * 2500 / 110**2:.2f}"}
    assert "board" in out
    left = bench.out / "list" / "offcuts.json"
    assert read_stock_list(left) == (Stock(110, 110, 1, "board", price=2.0),)
    words = ["nest", parts_list(only_squares(8), "more.json"), "--stock", str(left)]
    status, _, err = bench.run(*words)
    assert status == 1
    assert "square, 4 pieces" in err
    assert not (bench.out / "more" / "offcuts.json").exists()


def test_sizes_and_files_mix(bench):
    """Both are stock: what the file has not, the size has."""
    given = shelf(Stock(60, 60, 1, "small"))
    words = ["nest", parts_list(SQUARES), "--stock", given, "--stock", "510x60"]
    status, _, _ = bench.run(*words)
    assert status == 0
    record = bench.record("list")
    assert record["inputs"]["stock"] == ["small: 60x60x1", "510x60"]
    assert {row["width_mm"] for row in table(bench, "list")} >= {"510"}


def test_each_kind_of_part_without_a_place_has_its_own_line(bench):
    """How many of it, and its own reason: one is too long, of the other there are too many."""
    words = ["nest", parts_list(SQUARES), "--stock", "60x60x3"]
    status, _, err = bench.run(*words)
    assert status == 1
    lines = err.splitlines()
    assert len(lines) == 2
    assert any("square, 2 pieces: no sheet is left" in line for line in lines)
    assert any("plank, 2 pieces: at 500 x 20 mm it fits no sheet" in line for line in lines)


def test_lists_of_any_name_have_folders_of_their_own(bench):
    """Names of no Latin letter do not lead to one folder, and lead to the same one every time."""
    names = ["\N{GREEK SMALL LETTER ALPHA}.json", "\N{GREEK SMALL LETTER BETA}.json"]
    for name in (*names, names[0]):
        assert bench.run("nest", parts_list(only_squares(1), name), "--roll", "60")[0] == 0
    folders = {path.split("/")[0] for path in bench.files}
    assert len(folders) == 2
    assert all(folder.startswith("nest-") for folder in folders)


def test_a_plain_size_serves_every_kind_of_sheet(bench):
    """A job of 6 mm plywood and 3 mm MDF is cut from two sheets of that size."""
    status, out, _ = bench.make(TWO_KINDS, "--stock", "250x180x1")
    assert status == 0
    record = bench.record()
    assert [sheet["size_mm"] for sheet in record["sheets"]] == [[250, 180]] * 2
    assert {(s["material"], s["thickness_mm"]) for s in record["sheets"]} == {
        ("birch plywood", 6.0),
        ("MDF", 3.0),
    }
    assert record["inputs"]["nesting"]["stock"] == {
        "birch plywood 6 mm": ["250x180x1"],
        "MDF 3 mm": ["250x180x1"],
    }
    assert "birch plywood" in out
    assert "MDF" in out


def test_a_file_serves_the_sheets_it_names(bench):
    """Plywood comes from the file, MDF from what it is sold in, and a note says so."""
    given = shelf(Stock(200, 150, 1, "rest", material="birch plywood", thickness_mm=6.0))
    status, out, _ = bench.make(TWO_KINDS, "--stock", given)
    assert status == 0
    record = bench.record()
    by_material = {sheet["material"]: sheet for sheet in record["sheets"]}
    assert by_material["birch plywood"]["size_mm"] == [200, 150]
    assert by_material["birch plywood"]["stock"] == "rest"
    for one in by_material.values():
        width, height = one["size_mm"]
        assert one["offcut_mm"] == [pytest.approx(width - one["used_length_mm"]), height]
    assert "stock" not in by_material["MDF"]
    bill = {one["material"]: one for one in record["bill_of_materials"] if one["kind"] == "sheet"}
    assert bill["birch plywood"]["note"] == "from stock: rest"
    assert bill["MDF"]["note"] == ""
    (note,) = [one for one in record["findings"] if one["part"] == "MDF 3 mm"]
    assert note["severity"] == "note"
    assert "shelf.json" in note["measure"]
    assert "shelf.json" in out


def test_an_entry_meant_for_a_sheet_is_not_passed_over(bench):
    """Stock named for a sheet and too small for it is told, not silently replaced."""
    given = shelf(Stock(60, 60, 1, "rest", material="birch plywood", thickness_mm=6.0))
    plate = (
        'def base(sheet: Sheet) -> Plate:\n    return Plate("base", sheet, rectangle(100, 80))\n'
    )
    status, _, err = bench.make(plate, "--stock", given)
    assert status == 2
    assert "base" in err
    assert "rest" in err


def test_a_job_may_be_cut_from_a_roll(bench):
    """Of the height asked for, as long as it takes."""
    plate = (
        'def base(sheet: Sheet) -> Plate:\n    return Plate("base", sheet, rectangle(100, 80))\n'
    )
    status, out, _ = bench.make(plate, "--roll", "120", "--kerf", "0", "--margin", "4")
    assert status == 0
    (sheet,) = bench.record()["sheets"]
    # Lying across, 80 mm, with a margin of 4 mm at both ends.
    assert sheet["size_mm"] == [88, 120]
    assert "roll" in out
    status, _, err = bench.make(plate, "--roll", "120", "--stock", "300x200")
    assert status == 2
    assert "give one of them" in err


def test_offcuts_are_stock_for_the_next_run(bench):
    """The clean strip right of everything: its size on the terminal, in the table, in the file."""
    words = ["nest", parts_list(only_squares(4)), "--stock", "300x100x2"]
    status, out, _ = bench.run(*words)
    assert status == 0
    (row,) = table(bench, "list")
    assert row["offcut_mm"] == "200 x 100"
    assert "200 x 100" in out
    left = bench.out / "list" / "offcuts.json"
    offcut, board = read_stock_list(left)
    assert (offcut.width_mm, offcut.height_mm, offcut.count) == (200, 100, 1)
    assert (board.width_mm, board.count) == (300, 1)
    again = ["nest", parts_list(only_squares(8), "more.json"), "--stock", str(left)]
    assert bench.run(*again)[0] == 0
    (row,) = table(bench, "more")
    assert row["stock"] == "offcut 200 x 100"


def test_an_offcut_of_odd_shape_is_cut_from(bench):
    """Pieces lie on it; its edges stand in the cut files as notes, its name in the picture."""
    outline = [[0, 0], [200, 0], [200, 60], [60, 60], [60, 160], [0, 160]]
    text = {"stock": [{"name": "corner", "count": 1, "outline": outline}]}
    Path("shelf.json").write_text(json.dumps(text), encoding="utf-8")
    words = ["nest", parts_list(only_squares(5)), "--stock", "shelf.json"]
    status, _, err = bench.run(*words)
    assert (status, err) == (0, "")
    (sheet,) = bench.record("list")["sheets"]
    for placed in sheet["placements"]:
        x, y = placed["x_mm"], placed["y_mm"]
        assert x + 50 <= 60 + 1e-6 or y + 50 <= 60 + 1e-6
    svg = (bench.out / "list" / "sheets" / "1.svg").read_text(encoding="utf-8")
    assert 'id="notes"' in svg
    picture = (bench.out / "list" / "pictures" / "sheets.svg").read_text(encoding="utf-8")
    assert picture.count("corner") == 1


def test_what_is_written_of_an_odd_offcut_can_be_cut_from(bench):
    """A stock file written by us, arcs and all, is read by the command."""
    given = shelf(Stock.of_shape(Profile(rectangle(120, 120, fillet_mm=30)), name="round"))
    words = ["nest", parts_list(only_squares(1)), "--stock", given]
    assert bench.run(*words)[0] == 0
    assert table(bench, "list")[0]["stock"] == "round"
