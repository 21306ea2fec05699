"""Records read back: the same to the byte, or one clear error."""

import json
from pathlib import Path

import pytest

from platekit.errors import NestingError, PlatekitError
from platekit.export.build import build_json
from platekit.job.options import Options
from platekit.job.recipe import load_recipe
from platekit.job.records.reading import parse_record, read_record
from platekit.job.run import RECORD, make

RECIPE = Path(__file__).parents[3] / "recipes" / "motor_base.py"


@pytest.fixture(scope="module")
def written() -> str:
    """What build.json says of a recipe of the project."""
    return make(load_recipe(RECIPE), Options()).files[RECORD]


def test_what_was_written_is_what_is_read(written, tmp_path):
    """A record read and written again is the same to the byte, outlines and all."""
    assert build_json(parse_record(written, source="build.json")) == written
    (tmp_path / RECORD).write_text(written, encoding="utf-8")
    assert build_json(read_record(tmp_path)) == written
    assert build_json(read_record(tmp_path / RECORD)) == written


def test_shapes_are_those_of_the_parts(written):
    """Area and size of what is read are the figures the record states beside it."""
    record = parse_record(written, source="build.json")
    assert record.parts
    for part in record.parts:
        # Seven figures after the point: half a unit of the last on every millimetre of edge.
        assert part.profile.area_mm2 == pytest.approx(part.area_mm2, abs=1e-4)
        box = part.profile.bounds
        assert (box.width_mm, box.height_mm) == pytest.approx(part.size_mm, abs=1e-6)
        assert len(part.profile.rings) == part.contours


def changed(text: str, path: str, value: object) -> str:
    """Return a record with one value changed; REMOVED takes it away."""
    said = json.loads(text)
    *way, last = (int(word) if word.isdigit() else word for word in path.split("/"))
    inner = said
    for word in way:
        inner = inner[word]
    if value is REMOVED:
        del inner[last]
    else:
        inner[last] = value
    return json.dumps(said)


REMOVED = object()
DEEP: list = []
for _ in range(200):
    DEEP = [DEEP]


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        pytest.param("platekit", REMOVED, "no record of a build", id="not ours"),
        pytest.param("recipe", REMOVED, "no record of a build", id="no recipe"),
        pytest.param("recipe", 3, "'recipe' is a number", id="recipe a number"),
        pytest.param("recipe", "../up", "not a path", id="recipe leads out"),
        pytest.param("recipe", "a\\b", "not a path", id="recipe leads out elsewhere"),
        pytest.param("recipe", "..", "not a path", id="recipe above"),
        pytest.param("recipe", "", "not a path", id="recipe empty"),
        pytest.param("recipe", "x" * 300, "not a path", id="recipe endless"),
        pytest.param("recipe", "a\u001b[2Jb", "cannot be printed", id="recipe steers a terminal"),
        pytest.param("inputs", REMOVED, "'inputs' is missing", id="no inputs"),
        pytest.param("inputs", [], "inputs: build.json: is a list", id="inputs a list"),
        pytest.param("inputs/sheet/thickness_mm", "6", "holds a text", id="thickness a text"),
        pytest.param("inputs/sheet/thickness_mm", -6, "holds -6", id="thickness negative"),
        pytest.param("inputs/beam/kerf_mm", True, "holds true or false", id="kerf a yes"),
        pytest.param("inputs/beam/kerf_mm", 1e300, "holds 1e+300", id="kerf endless"),
        pytest.param("inputs/parameters", "all", "is a text", id="parameters a text"),
        pytest.param("inputs/parameters", {"x": DEEP}, "nested too deeply", id="deep"),
        pytest.param("inputs/parameters", {"x": 10**40}, "give numbers within", id="huge"),
        pytest.param("inputs/parameters", {"\u001b]0;": 1}, "cannot be printed", id="a name"),
        pytest.param("parts", {}, "'parts' is an object", id="parts no list"),
        pytest.param("parts/0", None, "parts 1: build.json: is null", id="part null"),
        pytest.param("parts/0/name", "../../x", "'name' is", id="part leads out"),
        pytest.param("parts/0/name", "/etc/x", "'name' is", id="part from the root"),
        pytest.param("parts/0/name", "con", "'name' is", id="part a device"),
        pytest.param("parts/0/quantity", 0, "'quantity' is 0", id="none"),
        pytest.param("parts/0/quantity", 10**30, "'quantity' is 1000000", id="too many"),
        pytest.param("parts/0/quantity", 1.5, "'quantity' is 1.5", id="a half"),
        pytest.param("parts/0/size_mm", [1], "'size_mm' is [1]", id="one side"),
        pytest.param("parts/0/size_mm", [1, None], "holds null", id="side null"),
        pytest.param("parts/0/outline", REMOVED, "make the build again", id="an older record"),
        pytest.param("parts/0/outline", "M 0 0 Z", "'outline' is a text", id="outline a text"),
        pytest.param("parts/0/outline", [], "no rings", id="no rings"),
        pytest.param("parts/0/outline", [[0, 0]], "holds a list", id="ring a list"),
        pytest.param("parts/0/outline", ["M 0 0 Z"], "goes nowhere", id="ring empty"),
        pytest.param("parts/0/outline", ["M 0 0 L 9 0 L 9 9 Z"], "open", id="ring open"),
        pytest.param("sheets/0/utilisation", None, "holds null", id="filling null"),
        pytest.param("sheets/0/placements", 4, "is a number", id="placements a number"),
        pytest.param("bill_of_materials/0/kind", "gift", "give one of part", id="kind"),
        pytest.param("bill_of_materials/0/quantity", "4", "'quantity' is", id="a text count"),
        pytest.param("findings", [3], "findings 1: build.json: is a number", id="finding 3"),
        pytest.param("findings", [{"severity": "dire"}], "give one of passed, note", id="severity"),
        pytest.param("files", REMOVED, "'files' is missing", id="no files"),
    ],
)
def test_what_no_record_says(written, path, value, said):
    """One error that names the file and the field, whatever stands there."""
    with pytest.raises(NestingError) as caught:
        parse_record(changed(written, path, value), source="build.json")
    assert said in str(caught.value)
    assert "build.json" in str(caught.value)


def test_two_parts_of_one_name(written):
    """Their pictures would be one file, on some disks even if capitals differ."""
    said = json.loads(written)
    said["parts"].append({**said["parts"][0], "name": said["parts"][0]["name"].upper()})
    with pytest.raises(NestingError, match="once more"):
        parse_record(json.dumps(said), source="build.json")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        pytest.param("", "is no JSON", id="empty"),
        pytest.param("[" * 100_000, "is no JSON", id="brackets without end"),
        pytest.param('{"platekit": NaN}', "a number that is none", id="NaN"),
        pytest.param('{"platekit": 1' + "0" * 5000 + "}", "too many digits", id="digits"),
        pytest.param("[]", "is a list", id="a list"),
        pytest.param("{}", "no record of a build", id="an empty object"),
        pytest.param('{"platekit": "0", "parts_lists": []}', "of a nesting", id="a nesting"),
    ],
)
def test_what_is_no_record_at_all(text, said):
    """One error."""
    with pytest.raises(NestingError, match=said):
        parse_record(text, source="build.json")


def test_an_overflowing_figure_is_refused(written):
    """1e999 is JSON, and no figure."""
    text = written.replace('"seed": 0', '"seed": 1e999')
    assert text != written
    with pytest.raises(NestingError, match="an endless number"):
        parse_record(text, source="build.json")


def test_files_that_cannot_be_read(tmp_path):
    """Missing, a folder without a record, no text: each one error that names it."""
    (tmp_path / "empty").mkdir()
    (tmp_path / "picture.json").write_bytes(b"\x89PNG\xff\xfe")
    for name in ("nowhere", "nowhere/build.json", "empty", "picture.json"):
        with pytest.raises(PlatekitError, match=name):
            read_record(tmp_path / name)


def test_a_device_is_no_file():
    """A device may never end."""
    if not Path("/dev/zero").exists():
        pytest.skip("there is no such device here")
    with pytest.raises(NestingError, match="is no file"):
        read_record(Path("/dev/zero"))


def test_prices_keep_their_total(written):
    """Three for 10 cost 3.333333 each as it is written; it is the total that is summed."""
    priced = changed(written, "bill_of_materials/0/quantity", 3)
    priced = changed(priced, "bill_of_materials/0/price_each", 3.333333)
    priced = changed(priced, "bill_of_materials/0/price_total", 10.0)
    line = parse_record(priced, source="build.json").bill_of_materials[0]
    assert line.price_total == 10
    with pytest.raises(NestingError, match="'price_total' holds -1"):
        parse_record(changed(priced, "bill_of_materials/0/price_total", -1), source="build.json")
