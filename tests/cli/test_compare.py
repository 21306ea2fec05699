"""``platekit compare`` from end to end, and what happens to bad input."""

import json
from pathlib import Path

import pytest
import svgelements

PLATE = """\
def {name}(sheet: Sheet, *, width_mm: float = 120.0, bore_mm: float = 10.0):
    \"\"\"A plate.\"\"\"
    return Plate("base", sheet, rectangle(width_mm, 80)).with_features(hole(bore_mm))
"""


def made(bench, folder: str, *words: str, name: str = "base") -> str:
    """Make the plate into a folder and return where its build is."""
    path = bench.write(PLATE.format(name=name), name=f"{name}.py")
    status, _, err = bench.run("make", str(path), "--out", folder, *words)
    assert status == 0, err
    return f"{folder}/{name}"


def compared(bench, old: str, new: str, *words: str) -> str:
    """Compare two builds and return what is said."""
    status, out, err = bench.run("compare", old, new, "--out", str(bench.out), *words)
    assert (status, err) == (0, "")
    return out


def test_what_changed_is_said_and_drawn(bench):
    """Inputs, parts and sheets by heading; one picture for the one part, by its name."""
    old, new = made(bench, "a"), made(bench, "b", "--thickness", "5.8", "--set", "width_mm=130")
    out = compared(bench, old, new)
    lines = out.splitlines()
    assert lines[0] == "base: a/base -> b/base"
    assert [line for line in lines if line[:1].isupper()] == ["Inputs", "Parts", "Sheets"]
    assert any(line.split() == ["width_mm", "120", "->", "130"] for line in lines)
    assert any("thickness 6 -> 5.8 mm" in line for line in lines)
    # 10 mm more of a plate 80 mm high.
    assert any("size 120 x 80 -> 130 x 80 mm" in line for line in lines)
    assert "800 mm2 added" in out
    assert "bore_mm" not in out
    assert "Hardware" not in out
    assert bench.files == ["compare/base/compare.json", "compare/base/pictures/base.svg"]
    picture = svgelements.SVG.parse(bench.out / "compare/base/pictures/base.svg")
    assert any(isinstance(shape, svgelements.Path) for shape in picture.elements())


def test_nothing_changed(bench):
    """It says so, and a picture of an earlier comparison does not stay."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "bore_mm=12")
    compared(bench, old, new)
    assert len(bench.files) == 2
    assert "nothing changed" in compared(bench, old, old)
    assert bench.files == ["compare/base/compare.json"]


def test_json_is_one_object(bench):
    """Nothing else on standard output; the same as the file says."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "bore_mm=12")
    said = json.loads(compared(bench, f"{old}/build.json", new, "--json"))
    assert said == json.loads((bench.out / "compare/base/compare.json").read_text("utf-8"))
    assert [one["name"] for one in said["inputs"]] == ["bore_mm"]
    assert said["old"]["label"] == "a/base"


def test_two_recipes(bench):
    """Another recipe is told; the folder is named for the new one."""
    old, new = made(bench, "a"), made(bench, "b", name="other")
    assert compared(bench, old, new).startswith("base -> other: base -> other\n")
    assert bench.files == ["compare/other/compare.json"]


def test_own_files_stay(bench):
    """What somebody put beside a comparison stays when it is made anew."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "bore_mm=12")
    compared(bench, old, new)
    note = bench.out / "compare/base/pictures/note.txt"
    note.write_text("mine", encoding="utf-8")
    compared(bench, old, new)
    assert note.read_text(encoding="utf-8") == "mine"


def refused(bench, *words: str) -> str:
    """Return what is said of bad input, once everything else about it is as it should be."""
    before = {path: path.read_bytes() for path in bench.folder.rglob("*") if path.is_file()}
    status, out, err = bench.run("compare", *words, "--out", str(bench.out))
    assert (status, out) == (2, ""), err
    assert err.startswith("platekit: ")
    assert err.count("\n") == 1
    assert "fault in platekit itself" not in err
    after = {path: path.read_bytes() for path in bench.folder.rglob("*") if path.is_file()}
    assert after == before
    assert not bench.out.exists()
    return err


def test_a_build_is_never_written_over(bench):
    """Where the comparison would go lies a build: it stays, to the byte."""
    old = made(bench, "a")
    new = made(bench, "b/compare", "--set", "bore_mm=12")
    before = {path: path.read_bytes() for path in Path("b").rglob("*") if path.is_file()}
    status, out, err = bench.run("compare", old, new, "--out", "b")
    assert (status, out) == (2, "")
    assert "holds a build" in err
    assert {path: path.read_bytes() for path in Path("b").rglob("*") if path.is_file()} == before


def test_a_foreign_file_in_the_way(bench):
    """A compare.json that is none of ours stays, and is named."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "bore_mm=12")
    place = bench.out / "compare/base"
    place.mkdir(parents=True)
    (place / "compare.json").write_text("[]", encoding="utf-8")
    status, out, err = bench.run("compare", old, new, "--out", str(bench.out))
    assert (status, out) == (2, "")
    assert "in the way" in err
    assert (place / "compare.json").read_text(encoding="utf-8") == "[]"


@pytest.mark.parametrize("side", ["old", "new"])
def test_missing_builds(bench, side):
    """Either one is named."""
    good = made(bench, "a")
    words = ["nowhere", good] if side == "old" else [good, "nowhere"]
    assert "nowhere: cannot be read" in refused(bench, *words)


def test_a_build_is_needed_twice(bench):
    """One is not enough."""
    assert "NEW" in refused(bench, made(bench, "a"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("", "is no JSON", id="empty"),
        pytest.param("{}", "no record of a build", id="not ours"),
        pytest.param('{"platekit": "0", "recipe": "x"}', "'inputs' is missing", id="no inputs"),
        pytest.param("[" * 200_000, "is no JSON", id="deep"),
        pytest.param('{"recipe": "x", "platekit": NaN}', "a number that is none", id="NaN"),
    ],
)
def test_what_is_no_build(bench, text, said):
    """One message, exit 2, nothing written."""
    good = made(bench, "a")
    Path("bad.json").write_text(text, encoding="utf-8")
    assert said in refused(bench, good, "bad.json")


@pytest.mark.parametrize("name", ["../../../escaped", "/escaped", "a/b", ".."])
@pytest.mark.parametrize("field", ["recipe", "part"])
def test_names_that_lead_out(bench, name, field):
    """Neither a folder nor a picture is ever named for a path."""
    good = made(bench, "a")
    said = json.loads(Path(good, "build.json").read_text(encoding="utf-8"))
    if field == "recipe":
        said["recipe"] = name
    else:
        said["parts"][0]["name"] = name
    Path("bad.json").write_text(json.dumps(said), encoding="utf-8")
    refused(bench, good, "bad.json")
    refused(bench, "bad.json", good)


def test_a_record_from_before_outlines_were_kept(bench):
    """It says what to do about it."""
    good = made(bench, "a")
    said = json.loads(Path(good, "build.json").read_text(encoding="utf-8"))
    del said["parts"][0]["outline"]
    Path("old.json").write_text(json.dumps(said), encoding="utf-8")
    assert "make the build again" in refused(bench, "old.json", good)


@pytest.mark.parametrize("seed", range(4))
def test_any_value_of_the_wrong_kind(bench, seed):
    """Whatever is put in the place of one value: compared or refused, never a fault of ours."""
    good = made(bench, "a")
    said = json.loads(Path(good, "build.json").read_text(encoding="utf-8"))
    places = list(_places(said))
    odd = (None, True, -1, 1e308, "", "\x00", [], {}, [[]], 10**400, "M 0 0 Z", "../..")
    for k in range(seed, len(places), 4):
        holder, key = places[k]
        kept = holder[key]
        holder[key] = odd[k % len(odd)]
        Path("odd.json").write_text(json.dumps(said), encoding="utf-8")
        holder[key] = kept
        status, _, err = bench.run("compare", good, "odd.json", "--out", str(bench.out))
        assert status in (0, 2)
        assert "fault in platekit itself" not in err
        assert (status == 0) == (err == "")


def _places(value):
    """Yield every place in a JSON value where another value could stand."""
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in items:
        yield value, key
        if isinstance(inner, dict | list):
            yield from _places(inner)
