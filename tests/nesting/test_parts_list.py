"""Parts lists are read as written, and every slip in one is told by file, part and field."""

from __future__ import annotations

import json

import pytest

from platekit.errors import NestingError
from platekit.nesting.parts_list import parse_parts_list, read_parts_list, read_parts_lists

SQUARE = [[0, 0], [40, 0], [40, 30], [0, 30]]
HOLE = [[10, 10], [20, 10], [20, 20], [10, 20]]


def listed(**changes) -> str:
    """Return a parts list of one part with some fields changed; None takes a field away."""
    part = {"id": "lid", "quantity": 2, "rotations_deg": [0, 90], "outline": SQUARE} | changes
    return json.dumps({"parts": [{k: v for k, v in part.items() if v is not None}]})


def test_a_list_is_read():
    """All fields arrive: area is 40 x 30 less the hole's 10 x 10."""
    text = json.loads(listed(holes=[HOLE]))
    text |= {"name": "demo", "sheet": [600, 400], "gap": 2, "roll_height": 500}
    found = parse_parts_list(json.dumps(text), source="demo.json")
    (part,) = found.parts
    assert (part.name, part.quantity, part.rotations_deg) == ("lid", 2, (0.0, 90.0))
    assert part.profile.area_mm2 == pytest.approx(1100)
    assert (found.name, found.sheet_mm, found.gap_mm) == ("demo", (600, 400), 2)
    assert found.roll_height_mm == 500


def test_what_may_be_left_out():
    """No quantity is one, no rotations any, no holes none; ids may be whole numbers."""
    text = json.dumps({"parts": [{"id": 7, "outline": SQUARE, "rotations_deg": None}]})
    (part,) = parse_parts_list(text, source="x/list.json").parts
    assert (part.name, part.quantity, part.rotations_deg) == ("7", 1, None)
    assert parse_parts_list(text, source="x/list.json").name == "list"


def test_wishes_are_read():
    """Mirror, company, stock, material and thickness arrive; left out or null they say nothing."""
    text = listed(mirror=True, together=" door ", on="board", material="MDF", thickness=3)
    (part,) = parse_parts_list(text, source="a").parts
    assert (part.mirror, part.together, part.on) == (True, "door", "board")
    assert (part.material, part.thickness_mm) == ("MDF", 3.0)
    said = json.loads(listed())
    said["parts"][0] |= {"mirror": None, "together": None, "on": None, "thickness": None}
    for text in (listed(), json.dumps(said)):
        (part,) = parse_parts_list(text, source="a").parts
        assert (part.mirror, part.together, part.on) == (False, "", "")
        assert (part.material, part.thickness_mm) == ("", None)


def test_doubled_points_are_left_out():
    """A ring closed by its first point, or with a point twice, is the same ring."""
    doubled = [SQUARE[0], SQUARE[1], SQUARE[1], *SQUARE[2:], SQUARE[0]]
    (part,) = parse_parts_list(listed(outline=doubled), source="a").parts
    assert len(part.profile.outer.table) == 4


@pytest.mark.parametrize(
    ("text", "says"),
    [
        pytest.param("{'parts'", r"a\.json: is no JSON at line 1", id="no JSON"),
        pytest.param("", "is no JSON", id="empty"),
        pytest.param("[" * 100_000, "is no JSON", id="nested endlessly"),
        pytest.param("[]", "is a list; write an object", id="a list"),
        pytest.param("{}", "'parts' is missing", id="no parts field"),
        pytest.param('{"parts": {}}', "'parts' is an object", id="parts no list"),
        pytest.param('{"parts": []}', "'parts' is empty", id="no parts"),
        pytest.param('{"parts": [3]}', "part 1: .*is a number", id="part no object"),
        pytest.param('{"parts": [{}]}', "part 1: .*'id' is missing", id="no id"),
        pytest.param(listed(id=" "), "part 1: .*'id' is blank", id="blank id"),
        pytest.param(listed(outline=None), "lid: .*'outline' is missing", id="no outline"),
        pytest.param(listed(outline="round"), "lid: .*'outline' is a text", id="text outline"),
        pytest.param(listed(outline=[]), "lid: .*0 different points", id="empty outline"),
        pytest.param(listed(outline=SQUARE[:2]), "lid: .*2 different points", id="open outline"),
        pytest.param(listed(outline=[[1, 1]] * 9), "1 different points", id="one point"),
        pytest.param(listed(outline=[[0, 0], [9, 0], [0]]), r"'outline\[2\]' is \[0\]", id="x"),
        pytest.param(listed(outline=[[0, 0], [9, 0], [0, "a"]]), "holds a text", id="text"),
        pytest.param(listed(outline=[[0, 0], [9, 9], [9, 0], [0, 9]]), "crosses", id="crossing"),
        pytest.param(listed(outline=[[0, 0], [9, 0], [4, 0]]), "across", id="flat"),
        pytest.param(listed(outline=[[0, 0], [1e-4, 0], [0, 1e-4]]), "across", id="tiny"),
        pytest.param(listed(outline=[[0, 0], [1e9, 0], [0, 9]]), "holds 1000000000", id="huge"),
        pytest.param('{"parts": [{"id": "a", "outline": [[NaN, 0]]}]}', "NaN", id="NaN"),
        pytest.param(f'{{"parts": {"9" * 5000}}}', "too many digits", id="endless number"),
        pytest.param(
            '{"parts": [{"id": "a", "outline": [[1e999, 0], [0, 1], [1, 1]]}]}',
            "holds Infinity",
            id="overflow",
        ),
        pytest.param(listed(holes=3), "'holes' is a number", id="holes no list"),
        pytest.param(listed(holes=[SQUARE]), r"'holes\[0\]' .*the outline", id="hole as large"),
        pytest.param(
            listed(holes=[[[50, 50], [60, 50], [60, 60]]]),
            r"lid: .*'holes\[0\]' lies outside",
            id="hole outside",
        ),
        pytest.param(
            listed(holes=[[[30, 10], [50, 10], [50, 20]]]),
            r"'holes\[0\]' crosses",
            id="hole across",
        ),
        pytest.param(
            listed(holes=[HOLE, [[15, 15], [25, 15], [25, 25]]]),
            r"'holes\[1\]' crosses.*holes\[0\]",
            id="holes overlap",
        ),
        pytest.param(listed(quantity=0), "lid: .*'quantity' is 0", id="quantity 0"),
        pytest.param(listed(quantity=-1), "lid: .*'quantity' is -1", id="negative quantity"),
        pytest.param(listed(quantity=1.5), "'quantity' is 1.5", id="half a part"),
        pytest.param(listed(quantity="2"), "'quantity'", id="quantity as text"),
        pytest.param(listed(quantity=True), "'quantity' is true", id="quantity true"),
        pytest.param(listed(quantity=10**9), "'quantity' is 1000000000", id="absurd quantity"),
        pytest.param(listed(rotations_deg=[]), "'rotations_deg' is empty", id="no rotation"),
        pytest.param(listed(rotations_deg=90), "'rotations_deg' is a number", id="rotation"),
        pytest.param(listed(rotations_deg=["a"]), "'rotations_deg' holds a text", id="word"),
        pytest.param(listed(mirror="yes"), "'mirror' is \"yes\"; give true or false", id="mirror"),
        pytest.param(listed(mirror=1), "'mirror' is 1", id="mirror 1"),
        pytest.param(listed(together=3), "'together' is a number", id="together"),
        pytest.param(listed(on=[]), "'on' is a list", id="on"),
        pytest.param(listed(material=3), "'material' is a number", id="material"),
        pytest.param(listed(thickness="3"), "'thickness' holds a text", id="thickness as text"),
        pytest.param(listed(thickness=0), "'thickness' holds 0", id="no thickness"),
        pytest.param(
            json.dumps({"parts": json.loads(listed())["parts"] * 2}), "lid: .*twice", id="id twice"
        ),
    ],
)
def test_every_slip_is_told(text, says):
    """The message names the file, the part where there is one, and the field."""
    with pytest.raises(NestingError, match=says) as err:
        parse_parts_list(text, source="a.json")
    assert "a.json" in str(err.value)
    assert err.value.remedy


def test_files_that_cannot_be_read(tmp_path):
    """A missing file, a folder and a file of bytes are told by name."""
    (tmp_path / "bytes.json").write_bytes(b"\xff\xfe\x00")
    for name, says in (("none.json", "cannot be read"), ("", "read"), ("bytes.json", "UTF-8")):
        with pytest.raises(NestingError, match=says):
            read_parts_list(tmp_path / name)


def test_a_byte_order_mark_is_no_fault(tmp_path):
    """Some editors begin every file with one."""
    (tmp_path / "a.json").write_text(listed(), encoding="utf-8-sig")
    assert read_parts_list(tmp_path / "a.json").parts[0].name == "lid"


def test_an_id_in_two_files_is_told(tmp_path):
    """Two lists with one id cannot be nested together: both files are named."""
    for name in ("a.json", "b.json"):
        (tmp_path / name).write_text(listed(), encoding="utf-8")
    with pytest.raises(NestingError, match=r"lid: .*b\.json: the id stands in .*a\.json"):
        read_parts_lists([tmp_path / "a.json", tmp_path / "b.json"])
    assert len(read_parts_lists([tmp_path / "a.json"])) == 1
