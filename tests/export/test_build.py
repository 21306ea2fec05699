"""The record of a run."""

import json
import math
import shutil
import subprocess
from dataclasses import replace

import pytest

from platekit.export.bill import BillKind, BillLine
from platekit.export.build import (
    BeamInput,
    BuildRecord,
    FileRecord,
    Inputs,
    PartRecord,
    PlacementRecord,
    SheetInput,
    SheetRecord,
    build_json,
    file_records,
    sheet_json,
)
from platekit.export.plain_json import json_text
from platekit.findings import Finding, Severity
from platekit.geometry.chains import circle
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle

RECORD = BuildRecord(
    platekit="0.1.0",
    recipe="motor_base",
    inputs=Inputs(
        sheet=SheetInput(material="birch plywood", nominal_mm=6.0, thickness_mm=5.8),
        beam=BeamInput(kerf_mm=0.1 + 0.2, source="common practice, no source"),
        parameters={"width_mm": 120.0, "holes": 6, "lid": True, "label": "Ø", "at": (1, 2)},
        cutting={"join": "mitre", "dxf": "plain"},
        nesting={"gap_mm": 2.0, "seed": 1},
    ),
    parts=(
        PartRecord(
            name="base",
            quantity=2,
            material="birch plywood",
            thickness_mm=5.8,
            size_mm=(120.0, 80.0),
            area_mm2=9600.0000000001,
            cut_length_mm=400.0,
            contours=7,
            profile=Profile(rectangle(120.0, 80.0), (circle((60.0, 40.0), diameter_mm=5.5),)),
        ),
    ),
    sheets=(
        SheetRecord(
            size_mm=(600.0, 400.0),
            used_length_mm=125.0,
            utilisation=0.08,
            placements=(PlacementRecord(part="base", copy=1, x_mm=-0.0, y_mm=5, rotation_deg=90),),
        ),
    ),
    bill_of_materials=(BillLine(kind=BillKind.HARDWARE, name="M5 x 16", quantity=4),),
    findings=(
        Finding(
            severity=Severity.WARNING,
            part="base",
            feature="slot 1",
            measure="width",
            value=math.nan,
            limit=3.0,
            unit="mm",
            source="ISO 273",
            remedy="widen the slot",
        ),
    ),
    files=(FileRecord(path="parts/base.dxf", sha256="00"),),
)


def test_the_record_keeps_to_the_contract():
    """The keys are those that programs outside rely on (the project's contract for build.json)."""
    said = json.loads(build_json(RECORD))
    assert list(said) == [
        "platekit",
        "recipe",
        "inputs",
        "parts",
        "sheets",
        "bill_of_materials",
        "totals",
        "findings",
        "files",
    ]
    assert list(said["inputs"]) == ["sheet", "beam", "parameters", "cutting", "nesting"]
    assert said["inputs"]["cutting"] == {"join": "mitre", "dxf": "plain"}
    (part,), (sheet,), (finding,), (file,) = (
        said[key] for key in ("parts", "sheets", "findings", "files")
    )
    assert set(part) == {
        "name",
        "quantity",
        "material",
        "thickness_mm",
        "size_mm",
        "area_mm2",
        "cut_length_mm",
        "contours",
        "outline",
    }
    assert set(sheet) == {"size_mm", "used_length_mm", "utilisation", "placements"}
    assert sheet["placements"] == [
        {"part": "base", "copy": 1, "x_mm": 0.0, "y_mm": 5, "rotation_deg": 90}
    ]
    assert set(finding) == {
        "severity",
        "part",
        "feature",
        "measure",
        "value",
        "limit",
        "unit",
        "source",
        "remedy",
    }
    assert finding["severity"] == "warning"
    assert set(file) == {"path", "sha256"}


def test_figures_are_rounded_and_finite():
    """Binary noise goes, NaN and infinity become null, no -0.0; any strict reader accepts it."""

    def refuse(name):
        pytest.fail(f"{name} is no JSON")

    text = build_json(RECORD)
    said = json.loads(text, parse_constant=refuse)
    assert said["inputs"]["beam"]["kerf_mm"] == 0.3
    assert said["parts"][0]["area_mm2"] == 9600.0
    assert said["findings"][0]["value"] is None
    assert "-0" not in text


def test_same_record_same_text():
    """Order is that of the record, one line end at the end, signs beyond ASCII as they are."""
    assert build_json(RECORD) == build_json(replace(RECORD))
    assert build_json(RECORD).endswith("}\n")
    assert '"Ø"' in build_json(RECORD)


def test_a_sheet_of_mixed_stock_names_its_material():
    """Material and thickness appear where they are known, the contract's keys always."""
    sheet = replace(RECORD.sheets[0], material="acrylic", thickness_mm=3.0)
    assert sheet_json(sheet)["material"] == "acrylic"
    assert sheet_json(sheet)["thickness_mm"] == 3.0
    assert list(sheet_json(sheet))[-1] == "placements"


def test_what_json_does_not_know_is_refused(tmp_path):
    """A path of this machine, say, must not slip into the record."""
    with pytest.raises(TypeError, match="which JSON does not know"):
        json_text({"at": tmp_path})


def test_one_line_on_request():
    """For standard output: one object, one line."""
    assert json_text({"b": 1, "a": [1.5]}, indent=None) == '{"b": 1, "a": [1.5]}\n'


@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not installed")
def test_hashes_are_those_of_the_bytes_on_disk(tmp_path):
    """The sums are what the system's own sha256sum finds."""
    files = {"b.txt": "Ø\nlines\n", "a/x.bin": bytes(range(256))}
    for path, content in files.items():
        place = tmp_path / path
        place.parent.mkdir(exist_ok=True)
        place.write_bytes(content.encode() if isinstance(content, str) else content)
    records = file_records(files)
    assert [record.path for record in records] == ["a/x.bin", "b.txt"]
    told = subprocess.run(
        ["sha256sum", *(record.path for record in records)],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert told == "".join(f"{record.sha256}  {record.path}\n" for record in records)
