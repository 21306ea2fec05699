"""Joints, screws, steps and prices of a record read back: the same to the byte, or one error."""

import json
from fractions import Fraction

import pytest
from hypothesis import given, settings, strategies as st

from platekit.errors import NestingError
from platekit.export.bill import BillKind, BillLine
from platekit.export.build import BeamInput, BuildRecord, Inputs, SheetInput, build_json
from platekit.job.records.reading import parse_record
from platekit.job.run import RECORD
from tests.recipes.builds import build

LEAST = BuildRecord(
    platekit="0.1.0",
    recipe="rig",
    inputs=Inputs(
        sheet=SheetInput(material="acrylic", nominal_mm=3, thickness_mm=3.0),
        beam=BeamInput(kerf_mm=0.2),
    ),
)


@pytest.fixture(scope="module")
def written() -> str:
    """What build.json says of a rig with joints, screws, devices and a belt."""
    return build("belt_turntable").files[RECORD]


def test_what_was_written_is_what_is_read(written):
    """The same to the byte, totals with their count of screws included."""
    record = parse_record(written, source="build.json")
    assert build_json(record) == written
    assert record.assembly is not None
    said = json.loads(written)["assembly"]
    assert [len(said[name]) for name in ("joints", "fasteners", "steps")] == [
        len(record.assembly.joints),
        len(record.assembly.fasteners),
        len(record.assembly.steps),
    ]
    assert all(said.values())


def test_every_joint_says_all_of_itself(written):
    """The keys that programs outside rely on (the project's contract for build.json)."""
    for joint in json.loads(written)["assembly"]["joints"]:
        assert list(joint) == [
            "between",
            "kind",
            "hold",
            "clearance_mm",
            "tabs",
            "screws",
            "length_mm",
        ]


def test_records_without_joints_stay_without(written):
    """An older record says nothing of joints, which is not that there are none."""
    said = json.loads(written)
    del said["assembly"]["joints"]
    record = parse_record(json.dumps(said), source="build.json")
    assert record.assembly.joints is None
    assert "joints" not in json.loads(build_json(record))["assembly"]


def test_whole_figures_stay_whole():
    """A count in a finding is not written with a point when it is read and written again."""
    text = build_json(LEAST)
    assert '"nominal_mm": 3,' in text
    assert build_json(parse_record(text, source="build.json")) == text


@settings(max_examples=300, derandomize=True, deadline=None)
@given(
    each=st.fractions(min_value=0, max_value=500, max_denominator=1000),
    quantity=st.integers(1, 100_000),
)
def test_prices_are_written_as_they_were(each, quantity):
    """One and all of them are rounded each for itself; read back, both are what they were."""
    line = BillLine(kind=BillKind.HARDWARE, name="nut", quantity=quantity, price_each=each)
    text = build_json(_with(line))
    again = parse_record(text, source="build.json")
    assert build_json(again) == text
    assert again.bill_of_materials[0].price_total == line.price_total


@pytest.mark.parametrize(("each", "total"), [(0.123, 0.861), (3.333333, 10.0), (0, 0.0)])
def test_prices_by_hand(each, total):
    """0.123 times seven, ten for three, nothing for nothing: plain arithmetic."""
    quantity = 3 if total == 10 else 7
    line = BillLine(
        kind=BillKind.HARDWARE,
        name="nut",
        quantity=quantity,
        price_each=Fraction(10, 3) if total == 10 else Fraction(str(each)),
    )
    said = json.loads(build_json(_with(line)))["bill_of_materials"][0]
    assert (said["price_each"], said["price_total"]) == (each, total)


def _with(line: BillLine) -> BuildRecord:
    return BuildRecord(
        platekit=LEAST.platekit,
        recipe=LEAST.recipe,
        inputs=LEAST.inputs,
        bill_of_materials=(line,),
    )


REMOVED = object()


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        pytest.param("assembly", [], "is a list", id="a list"),
        pytest.param("assembly/joints", {}, "'joints' is an object", id="joints no list"),
        pytest.param("assembly/joints/0/between", ["a"], "has 1 names", id="one panel"),
        pytest.param("assembly/joints/0/between", "ab", "'between' is a text", id="a text"),
        pytest.param("assembly/joints/0/between", [1, 2], "is a number", id="numbers"),
        pytest.param("assembly/joints/0/kind", REMOVED, "'kind' is missing", id="no kind"),
        pytest.param("assembly/joints/0/kind", "a\u001b[2J", "cannot be printed", id="steers"),
        pytest.param("assembly/joints/0/clearance_mm", "0", "holds a text", id="clearance"),
        pytest.param("assembly/joints/0/tabs", -1, "'tabs' is -1", id="fewer than none"),
        pytest.param("assembly/joints/0/screws", 1.5, "'screws' is 1.5", id="half a screw"),
        pytest.param("assembly/joints/0/length_mm", -3, "holds -3", id="length"),
        pytest.param("assembly/fasteners", REMOVED, "'fasteners' is missing", id="no screws"),
        pytest.param("assembly/fasteners/0/holds", None, "'holds' is null", id="holds null"),
        pytest.param("assembly/fasteners/0/name", 4, "'name' is a number", id="name a number"),
        pytest.param("assembly/steps/0/way", [1, 0], "'way' is [1, 0]", id="two figures"),
        pytest.param("assembly/steps/0/way", [3, 0, 0], "of length 1", id="too far"),
        pytest.param("assembly/steps/0/fasteners", ["nail"], 'names "nail"', id="no such screw"),
        pytest.param("assembly/steps/0/bring_in", REMOVED, "is missing", id="brings nothing"),
        pytest.param("bill_of_materials/0/price_each", 2.0, "is missing", id="no total"),
        pytest.param("bill_of_materials/0/price_total", 2.0, "is missing", id="no price"),
    ],
)
def test_what_no_record_says(written, path, value, said):
    """One error that names the file and the field, whatever stands there."""
    whole = json.loads(written)
    *way, last = (int(word) if word.isdigit() else word for word in path.split("/"))
    inner = whole
    for word in way:
        inner = inner[word]
    if value is REMOVED:
        del inner[last]
    else:
        inner[last] = value
    with pytest.raises(NestingError) as caught:
        parse_record(json.dumps(whole), source="build.json")
    assert said in str(caught.value)
    assert "build.json" in str(caught.value)


def test_a_total_that_is_no_total(written):
    """Three of 2 each are not 7."""
    whole = json.loads(written)
    whole["bill_of_materials"][0] |= {"quantity": 3, "price_each": 2.0, "price_total": 7.0}
    with pytest.raises(NestingError, match="not 3 times price_each"):
        parse_record(json.dumps(whole), source="build.json")
