"""Bad parts lists and bad stock for ``platekit nest``: exit 2, one message, nothing written."""

import json
from pathlib import Path

import pytest

SQUARE = [[0, 0], [50, 0], [50, 50], [0, 50]]
HOLE = [[10, 10], [20, 10], [20, 20], [10, 20]]
ROOM = ("--stock", "100x100")


def part(**changes) -> str:
    """Return a parts list of one square with some fields changed; None takes a field away."""
    said = {"id": "lid", "quantity": 1, "outline": SQUARE} | changes
    return json.dumps({"parts": [{k: v for k, v in said.items() if v is not None}]})


def stock(**changes) -> str:
    """Return a stock file of one sheet with some fields changed; None takes a field away."""
    said = {"name": "board", "width": 100, "height": 100} | changes
    return json.dumps({"stock": [{k: v for k, v in said.items() if v is not None}]})


def refused(bench, text: str, *words: str, name: str = "list.json") -> str:
    """Return what is said of a parts list, once everything else about it is as it should be."""
    Path(name).write_text(text, encoding="utf-8")
    status, out, err = bench.run("nest", name, "--out", str(bench.out), *words)
    assert (status, out) == (2, ""), err
    assert err.startswith("platekit: ")
    assert err.count("\n") == 1
    assert "Traceback" not in err
    assert "fault in platekit itself" not in err
    assert not bench.out.exists()
    return err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("{", "is no JSON at line 1", id="no JSON"),
        pytest.param("", "is no JSON", id="empty file"),
        pytest.param("[]", "is a list", id="a list"),
        pytest.param("{}", "'parts' is missing", id="no parts field"),
        pytest.param('{"parts": []}', "'parts' is empty", id="no parts"),
        pytest.param(part(id=None), "part 1: list.json: field 'id' is missing", id="no id"),
        pytest.param(part(outline=None), "lid: list.json: field 'outline' is missing", id="none"),
        pytest.param(part(outline=SQUARE[:2]), "'outline' has 2 different points", id="open"),
        pytest.param(
            part(outline=[[0, 0], [50, 50], [50, 0], [0, 50]]), "'outline' crosses", id="crossing"
        ),
        pytest.param(
            part(outline=[[0, 0], [1e-3, 0], [0, 1e-3]]), "'outline' is only 0.001 mm", id="tiny"
        ),
        pytest.param(
            part(outline=[[0, 0], [1e7, 0], [0, 50]]), "'outline[1]' holds 10000000.0", id="huge"
        ),
        pytest.param(
            part(holes=[[[60, 60], [70, 60], [70, 70]]]), "'holes[0]' lies outside", id="outside"
        ),
        pytest.param(
            part(holes=[[[40, 40], [60, 40], [60, 60]]]), "'holes[0]' crosses", id="hole across"
        ),
        pytest.param(
            part(holes=[HOLE, [[15, 15], [30, 15], [30, 30]]]),
            "'holes[1]' crosses or touches another ring, holes[0],",
            id="holes crossing",
        ),
        pytest.param(part(quantity=0), "lid: list.json: field 'quantity' is 0", id="none wanted"),
        pytest.param(part(quantity=-2), "'quantity' is -2", id="negative quantity"),
        pytest.param(part(quantity=1.5), "'quantity' is 1.5", id="half a part"),
        pytest.param(part(rotations_deg=[]), "'rotations_deg' is empty", id="no turn"),
        pytest.param(part(mirror="no"), "'mirror' is \"no\"", id="mirror"),
        pytest.param(part(thickness=-3), "'thickness' holds -3", id="thickness"),
        pytest.param(part(material="PVC"), "lid: PVC must not be cut by a laser", id="PVC"),
        pytest.param(part(material="soft pvc foil"), "must not be cut by a laser", id="PVC too"),
    ],
)
def test_parts_lists_that_cannot_be(bench, text, said):
    """The file, the part and the field are named."""
    assert said in refused(bench, text, *ROOM)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        pytest.param([], "no stock is given", id="no stock"),
        pytest.param(["--stock", "40x40"], "lid", id="too small for any part"),
        pytest.param(["--stock", "100x0"], "height", id="no height"),
        pytest.param(["--stock", "100x100x0"], "count", id="no sheets"),
        pytest.param(["--stock", "big"], "or name a stock file", id="no size"),
        pytest.param(["--stock", "none.json"], "none.json: cannot be read", id="no stock file"),
        pytest.param(["--roll", "40"], "lid", id="roll too low"),
        pytest.param(["--roll=-40"], "roll", id="negative roll"),
        pytest.param(["--roll=nan"], "roll", id="roll no number"),
        pytest.param(["--roll", "90", "--stock", "100x100"], "give one of them", id="both"),
        pytest.param([*ROOM, "--gap=-1"], "gap is -1", id="negative gap"),
        pytest.param([*ROOM, "--margin=inf"], "margin is inf", id="endless margin"),
        pytest.param([*ROOM, "--margin", "50"], "margin", id="margin swallows the sheet"),
        pytest.param([*ROOM, "--margin", "30"], "lid", id="margin leaves no room for a part"),
        pytest.param([*ROOM, "--gap", "1e6"], "gap is 1e+06", id="gap beyond every sheet"),
        pytest.param([*ROOM, "--seconds", "0"], "above 0", id="no time"),
        pytest.param([*ROOM, "--seconds=-1"], "search time is -1", id="negative time"),
        pytest.param([*ROOM, "--seconds=nan"], "search time is nan", id="time no number"),
        pytest.param([*ROOM, "--seed=-1"], "seed is -1", id="negative seed"),
    ],
)
def test_stock_and_spacing_that_cannot_be(bench, words, said):
    """What was asked for is named."""
    assert said in refused(bench, part(), *words)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("{", "shelf.json: is no JSON", id="no JSON"),
        pytest.param('{"parts": []}', "shelf.json: field 'stock' is missing", id="no stock field"),
        pytest.param(stock(width=None), "stock 1, board: shelf.json: field 'width'", id="no width"),
        pytest.param(stock(height=-4), "'height' holds -4", id="negative"),
        pytest.param(stock(count=-1), "'count' is -1", id="negative count"),
        pytest.param(stock(count=0), "no stock", id="nothing there"),
        pytest.param(stock(price=-1), "'price' holds -1", id="negative price"),
        pytest.param(
            stock(width=None, height=None, outline=[[0, 0], [9, 9], [9, 0], [0, 9]]),
            "stock 1, board: shelf.json: field 'outline' crosses",
            id="crossing offcut",
        ),
        pytest.param(
            stock(width=None, height=None, outline=SQUARE, holes=[[[60, 60], [70, 60], [70, 70]]]),
            "'holes[0]' lies outside",
            id="hole outside the offcut",
        ),
    ],
)
def test_stock_files_that_cannot_be(bench, text, said):
    """The file, the entry and the field are named."""
    Path("shelf.json").write_text(text, encoding="utf-8")
    assert said in refused(bench, part(), "--stock", "shelf.json")


def test_a_missing_parts_list(bench):
    """The file is named."""
    status, out, err = bench.run("nest", "nowhere.json", "--roll", "100")
    assert (status, out) == (2, "")
    assert "nowhere.json" in err


def test_bad_input_never_touches_an_earlier_nesting(bench):
    """What a good run wrote stays when a bad one follows."""
    Path("list.json").write_text(part(), encoding="utf-8")
    assert bench.run("nest", "list.json", *ROOM)[0] == 0
    before = {path: (bench.out / path).read_bytes() for path in bench.files}
    assert bench.run("nest", "list.json", "--stock", "9x9")[0] == 2
    assert {path: (bench.out / path).read_bytes() for path in bench.files} == before
