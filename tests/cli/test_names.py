"""``--names``: scored, noted or left out, in the files of both commands."""

import json
from pathlib import Path

import ezdxf
import pytest

PARTS = {
    "parts": [
        {"id": "lid", "quantity": 2, "rotations_deg": [0],
         "outline": [[0, 0], [80, 0], [80, 40], [0, 40]]},
        {"id": "dot", "quantity": 1, "rotations_deg": [0],
         "outline": [[0, 0], [3, 0], [3, 3], [0, 3]]},
    ],
}  # fmt: skip

PLATE = """
from platekit.panel.marking import centre_mark

def base(sheet: Sheet) -> Plate:
    plate = Plate("base", sheet, rectangle(100.0, 80.0), quantity=2)
    return plate.with_features(centre_mark(at=(20.0, 20.0), name="cross"))
"""


def written(path: Path) -> tuple[int, list[str]]:
    """Return, as ezdxf reads a file, how many lines are scored, and the texts of its notes."""
    space = ezdxf.readfile(path).modelspace()
    scored = [one for one in space if one.dxf.layer == "SCORE"]
    texts = list(space.query("TEXT"))
    assert {one.dxf.layer for one in texts} <= {"NOTES"}
    return len(scored), sorted(one.dxf.text for one in texts)


@pytest.mark.parametrize(
    ("names", "strokes", "notes"),
    [
        # L, I and D are scored in 1 + 3 + 1 strokes; on a 3 mm dot there is no room.
        ("score", 2 * 5, []),
        ("note", 0, ["dot", "lid", "lid"]),
        ("none", 0, []),
        (None, 0, []),
    ],
)
def test_names_of_a_parts_list(bench, names, strokes, notes):
    """Burnt in where there is room, as text, or not at all, which is what happens by itself."""
    Path("list.json").write_text(json.dumps(PARTS), encoding="utf-8")
    words = [] if names is None else ["--names", names]
    status, out, _ = bench.run("nest", "list.json", "--stock", "200x100", *words)
    assert status == 0
    assert written(bench.out / "list" / "sheets" / "1.dxf") == (strokes, notes)
    assert ("score the name of dot" in out) == (names == "score")
    assert bench.record("list")["inputs"]["names"] == (names or "none")
    picture = (bench.out / "list" / "pictures" / "sheets" / "1.svg").read_text(encoding="utf-8")
    assert ("scored" in picture) == (names == "score")


@pytest.mark.parametrize(("names", "notes"), [("score", 0), ("note", 1), ("none", 0), (None, 0)])
def test_names_of_plates(bench, names, notes):
    """A recipe's own marks stay in any case; its plates' names are scored unless told not to."""
    words = [] if names is None else ["--names", names]
    assert bench.make(PLATE, *words)[0] == 0
    own = 2  # the cross
    strokes = 7 if names in ("score", None) else 0  # B, A, S, E in 2 + 2 + 1 + 2
    folder = bench.out / "base"
    assert written(folder / "parts" / "base.dxf") == (own + strokes, ["base"] * notes)
    assert written(folder / "sheets" / "1.dxf") == (2 * (own + strokes), ["base"] * 2 * notes)


def test_an_unknown_way_is_refused(bench):
    """The ways there are stand in the message."""
    status, _, err = bench.make(PLATE, "--names", "carved")
    assert status == 2
    assert "score" in err
