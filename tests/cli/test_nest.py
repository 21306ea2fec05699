"""``platekit nest`` from end to end."""

import json
from pathlib import Path

import pytest
from shapely import Polygon, affinity

PARTS = {
    "name": "brackets",
    "gap": 2.0,
    "parts": [
        {"id": "L", "quantity": 3, "rotations_deg": [0, 90, 180, 270],
         "outline": [[0, 0], [60, 0], [60, 20], [20, 20], [20, 60], [0, 60]]},
        {"id": "frame", "quantity": 1, "rotations_deg": [0],
         "outline": [[0, 0], [90, 0], [90, 90], [0, 90]],
         "holes": [[[10, 10], [80, 10], [80, 80], [10, 80]]]},
    ],
}  # fmt: skip


@pytest.fixture
def parts_list() -> Path:
    """A parts list in this folder."""
    path = Path("brackets.json")
    path.write_text(json.dumps(PARTS), encoding="utf-8")
    return path


def shapes(placements: list[dict]) -> list[Polygon]:
    """Return the placed outlines, moved as the contract says, by an independent library."""
    given = {part["id"]: Polygon(part["outline"], part.get("holes", [])) for part in PARTS["parts"]}
    return [
        affinity.translate(
            affinity.rotate(given[one["part"]], one["rotation_deg"], origin=(0, 0)),
            one["x_mm"],
            one["y_mm"],
        )
        for one in placements
    ]


def test_json_is_the_contract_and_the_places_hold(bench, parts_list):
    """Every copy placed once, apart by the gap and inside the margin, judged by shapely."""
    status, out, err = bench.run(
        "nest", str(parts_list), "--stock", "150x120", "--gap", "3", "--margin", "4", "--json"
    )
    assert (status, err) == (0, "")
    said = json.loads(out)
    assert set(said) == {"sheets", "unplaced", "seconds"}
    assert said["unplaced"] == []
    placed = []
    for sheet in said["sheets"]:
        assert set(sheet) - {"offcut_mm"} == {
            "size_mm",
            "used_length_mm",
            "utilisation",
            "placements",
        }
        if "offcut_mm" in sheet:  # all of the sheet to the right of what was used
            assert sheet["offcut_mm"] == pytest.approx([150 - sheet["used_length_mm"], 120])
        assert sheet["size_mm"] == [150.0, 120.0]
        here = shapes(sheet["placements"])
        for k, one in enumerate(here):
            left, bottom, right, top = one.bounds
            assert min(left, bottom, 150 - right, 120 - top) >= 4 - 1e-6
            for other in here[:k]:
                assert one.distance(other) >= 3 - 1e-6
        used = max(one.bounds[2] for one in here)
        assert sheet["used_length_mm"] == pytest.approx(used + 4, abs=1e-6)
        area = sum(one.area for one in here)
        assert sheet["utilisation"] == pytest.approx(area / (150 * 120), abs=1e-9)
        placed += [(one["part"], one["copy"]) for one in sheet["placements"]]
    assert sorted(placed) == [("L", 1), ("L", 2), ("L", 3), ("frame", 1)]


def test_files_go_to_a_folder_named_as_the_list(bench, parts_list):
    """One DXF, one SVG and one picture a sheet, all on one picture, the table and a record."""
    status, out, _ = bench.run("nest", str(parts_list), "--roll", "100", "--out", "out")
    assert status == 0
    assert bench.files == [
        "brackets/build.json",
        "brackets/pictures/sheets.svg",
        "brackets/pictures/sheets/1.svg",
        "brackets/sheets.csv",
        "brackets/sheets/1.dxf",
        "brackets/sheets/1.svg",
    ]
    assert "4 pieces on 1 sheet" in out
    assert "stay with it" in out


def test_the_list_itself_may_name_stock_and_gap(bench, parts_list):
    """A list's own sheet and gap are taken when the command line says nothing."""
    parts_list.write_text(json.dumps({**PARTS, "sheet": [200, 150]}), encoding="utf-8")
    status, out, _ = bench.run("nest", str(parts_list), "--json")
    assert status == 0
    (sheet, *_) = json.loads(out)["sheets"]
    assert sheet["size_mm"] == [200.0, 150.0]
    assert bench.record("brackets")["inputs"]["gap_mm"] == 2.0


def test_pieces_without_a_place_are_named(bench, parts_list):
    """Exit 1; they stand in the answer with their reason, and the rest is written."""
    status, out, err = bench.run("nest", str(parts_list), "--stock", "100x100x1", "--json")
    assert status == 1
    said = json.loads(out)
    assert len(said["sheets"]) == 1
    assert {one["part"] for one in said["unplaced"]} <= {"L", "frame"}
    assert said["unplaced"]
    assert "without a place" in err


def test_the_same_seed_gives_the_same_bytes(bench, parts_list):
    """Two runs agree in every file."""
    words = ["nest", str(parts_list), "--stock", "150x120", "--seed", "7"]
    bench.run(*words)
    first = {path: (bench.out / path).read_bytes() for path in bench.files}
    bench.run(*words)
    assert {path: (bench.out / path).read_bytes() for path in bench.files} == first


def test_two_lists_are_nested_together(bench, parts_list):
    """Parts of several files share the stock."""
    other = Path("more.json")
    other.write_text(
        json.dumps({"parts": [{"id": "disc", "outline": [[0, 0], [30, 0], [30, 30], [0, 30]]}]}),
        encoding="utf-8",
    )
    status, out, _ = bench.run("nest", str(parts_list), str(other), "--roll", "100", "--json")
    assert status == 0
    assert len(json.loads(out)["sheets"][0]["placements"]) == 5


def test_nothing_laid_leaves_the_older_result(bench, tmp_path):
    """Two plates that must keep company on a sheet with room for one: exit 2, nothing written."""
    listed = tmp_path / "pair.json"
    square = {"id": "plate", "quantity": 1, "outline": [[0, 0], [90, 0], [90, 90], [0, 90]]}
    words = ("nest", str(listed), "--stock", "100x100", "--out", str(tmp_path / "o"))
    listed.write_text(json.dumps({"parts": [square]}), encoding="utf-8")
    assert bench.run(*words)[0] == 0
    before = {path: path.read_bytes() for path in (tmp_path / "o").rglob("*") if path.is_file()}
    square |= {"quantity": 2, "together": "pair"}
    listed.write_text(json.dumps({"parts": [square]}), encoding="utf-8")
    status, _, err = bench.run(*words)
    assert status == 2
    assert "plate" in err
    after = {path: path.read_bytes() for path in (tmp_path / "o").rglob("*") if path.is_file()}
    assert after == before
