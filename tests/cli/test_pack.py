"""``platekit pack``: archives read by zipfile, sums by sha256sum, the rig by trimesh."""

from __future__ import annotations

import io
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
import trimesh

from platekit.assembly.proof.things import things_in
from tests.recipes.builds import ROOT, resolved

PLATE = """
def base(sheet: Sheet = birch_plywood(nominal_mm=6.0), *, width_mm: float = 90.0) -> Plate:
    \"\"\"A base with four feet.\"\"\"
    outline = rectangle(width_mm, 60.0)
    return Plate("base", sheet, outline).with_features(hole("M5"))
"""
# Two pieces, and one sheet with room for one.
TWO = PLATE.replace("outline).with", "outline, quantity=2).with")
ONE_SHEET = ("--stock", "110x80x1")
TABLE = ROOT / "recipes" / "rib_table.py"
QUICK = ("--seconds", "0.000001")


def unpacked(path: Path) -> dict[str, bytes]:
    """Return every file of an archive by its path below its one folder."""
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        folders = {name.partition("/")[0] for name in archive.namelist()}
        assert folders == {path.name.removesuffix("-pack.zip")}
        return {name.partition("/")[2]: archive.read(name) for name in archive.namelist()}


def pack(bench, *words: str, recipe: str = PLATE) -> tuple[int, str, str]:
    """Pack a recipe of the bench."""
    path = bench.write(recipe)
    return bench.run("pack", str(path), "--out", str(bench.out), *words)


def test_every_thickness_is_a_folder_as_make_writes_it(bench):
    """Cut files, bill and record in it are those that make writes for that thickness."""
    status, said, _ = pack(bench, "--thickness", "6", "--thickness", "4.2")
    assert status == 0
    assert bench.files == ["base-pack.zip"]
    assert "2 thicknesses" in said
    files = unpacked(bench.out / "base-pack.zip")
    for thickness in ("6", "4.2"):
        assert bench.run("make", "base.py", "--thickness", thickness, "--out", thickness)[0] == 0
        made = bench.folder / thickness / "base"
        for path in (one for one in made.rglob("*") if one.is_file()):
            name = path.relative_to(made).as_posix()
            assert files[f"{thickness}mm/{name}"] == path.read_bytes(), name
    assert files["recipe/base.py"] == (bench.folder / "base.py").read_bytes()
    assert {"README.txt", "SHA256SUMS", "6mm/page.html", "4.2mm/page.html"} <= set(files)
    assert files["6mm/plans.pdf"].startswith(b"%PDF-")  # ISO 32000-1, 7.5.2
    assert "LICENCE.txt" not in files


def test_without_a_thickness_it_is_the_recipes_own(bench):
    """One folder, and a text that says what was chosen."""
    status, _, _ = pack(bench, "--set", "width_mm=70", "--licence", "MIT", "--author", "A. Maker")
    assert status == 0
    files = unpacked(bench.out / "base-pack.zip")
    assert {path.partition("/")[0] for path in files if "/" in path} == {"6mm", "recipe"}
    told = files["README.txt"].decode()
    assert "A base with four feet." in told
    assert "By A. Maker." in told
    assert "MIT; see LICENCE.txt" in told
    assert "--set width_mm=70" in told
    assert str(bench.folder) not in told
    assert max(map(len, told.splitlines())) < 140
    assert "Copyright (c) A. Maker" in files["LICENCE.txt"].decode()


def test_a_licence_of_ones_own(bench):
    """A text file is laid in, line ends and byte order mark aside."""
    own = bench.folder / "terms.txt"
    own.write_bytes("\ufeffBuild it.\r\nSay who drew it.\r\n".encode())
    assert pack(bench, "--licence", str(own))[0] == 0
    files = unpacked(bench.out / "base-pack.zip")
    assert files["LICENCE.txt"] == b"Build it.\nSay who drew it.\n"
    assert "terms.txt; see LICENCE.txt" in files["README.txt"].decode()


def test_a_finding_that_says_stop_keeps_the_cut_files_out(bench):
    """As make does: bill and record are there, the text says why, the status is 1."""
    status, said, _ = pack(bench, *ONE_SHEET, recipe=TWO)
    assert status == 1
    assert "no cut files" in said
    files = unpacked(bench.out / "base-pack.zip")
    assert {"6mm/bill_of_materials.csv", "6mm/build.json"} <= set(files)
    assert not [path for path in files if path.endswith((".dxf", ".svg", ".pdf", ".glb"))]
    assert "Printing" not in files["README.txt"].decode()
    assert "NO CUT FILES" in files["README.txt"].decode()
    status, _, _ = pack(bench, *ONE_SHEET, "--cut-anyway", recipe=TWO)
    assert status == 0
    files = unpacked(bench.out / "base-pack.zip")
    assert {"6mm/parts/base.dxf", "6mm/plans.pdf"} <= set(files)
    assert "THOUGH A FINDING SAYS STOP" in files["README.txt"].decode()


def test_json_tells_the_archive_and_every_file(bench):
    """One object and nothing else; sums are those in the archive."""
    status, said, _ = pack(bench, "--json")
    assert status == 0
    record = json.loads(said)
    files = unpacked(bench.out / "base-pack.zip")
    sums = dict(line.split("  ")[::-1] for line in files["SHA256SUMS"].decode().splitlines())
    assert {row["path"]: row["sha256"] for row in record["files"]} == sums
    assert set(sums) == set(files) - {"SHA256SUMS"}
    assert record["thicknesses"][0]["thickness_mm"] == 6.0


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--thickness", "6", "--thickness", "6.0"], "6 mm stands twice"),
        (["--thickness", "thick"], "'thick' is no number"),
        (["--thickness", "-3"], "thickness"),
        (["--licence", "CC-BY-4"], "did you mean"),
        (["--licence", "CC-BY-4.0"], "--author"),
        (["--licence", "no/such.txt"], "cannot be read"),
        (["--licence", "."], "cannot be read"),
        (["--licence", "x" * 5000], "unknown licence"),
        (["--licence", "x" * 5000 + ".txt"], "cannot be read"),
        (["--licence", "binary.txt"], "no text"),
        (["--licence", "empty.txt"], "no text"),
        (["--author", " "], "the author is ''"),
        (["--author", "a\nb"], "one line"),
        (["--out", "base.py"], "stands where a folder should be"),
        (["--out", "base.py/more"], "stands where a folder should be"),
        (["--set", "depth_mm=3"], "depth_mm"),
    ],
)
def test_bad_input_is_told_and_nothing_is_written(bench, words, says):
    """The message names the value; no archive, no folder."""
    (bench.folder / "binary.txt").write_bytes(b"\xff\xfe\x00\x01")
    (bench.folder / "empty.txt").write_bytes(b"\n")
    status, said, error = pack(bench, *words)
    assert status == 2
    assert said == ""
    assert says in error
    assert "Traceback" not in error
    assert bench.files == []


def test_help_says_what_is_packed(bench):
    """The options of make are there, and those of publishing."""
    status, said, _ = bench.run("pack", "--help")
    assert status == 0
    for word in ("--licence", "--author", "may be given again", "--kerf", "--cut-anyway"):
        assert word in said
    status, _, error = bench.run("pack", "nothing.py")
    assert status == 2
    assert "there is no recipe nothing.py" in error


def test_a_file_too_large_for_a_licence_is_refused(bench):
    """A slip of the hand must not swell the archive."""
    (bench.folder / "film.txt").write_bytes(b"x" * 1_000_001)
    status, _, error = pack(bench, "--licence", "film.txt")
    assert status == 2
    assert "more than 1000000 bytes" in error


def test_what_is_not_ours_stays(bench):
    """A file of the same name that no pack of ours left there is in the way."""
    bench.out.mkdir()
    own = bench.out / "base-pack.zip"
    own.write_text("mine", encoding="utf-8")
    status, _, error = pack(bench)
    assert status == 2
    assert "in the way" in error
    assert own.read_text(encoding="utf-8") == "mine"


def test_a_recipe_that_changes_the_folder_changes_no_path(bench):
    """Each run begins where the command was given; so does the archive."""
    wanderer = "import os\n" + PLATE.replace(
        "    outline =",
        '    os.makedirs("else", exist_ok=True)\n    os.chdir("else")\n    outline =',
    )
    path = bench.write(wanderer)
    (bench.folder / "prices.csv").write_text("designation,price\nx,1\n", encoding="utf-8")
    words = ("--thickness", "6", "--thickness", "4", "--prices", "prices.csv", "--out", "out")
    assert bench.run("pack", path.name, *words)[0] == 0
    assert bench.files == ["base-pack.zip"]


@pytest.mark.skipif(shutil.which("sha256sum") is None, reason="sha256sum is not there")
def test_a_rig_is_packed_the_same_twice(tmp_path):
    """Two processes, Python's sets in different order, give one archive; sha256sum agrees."""
    command = [
        sys.executable,
        "-m",
        "platekit",
        "pack",
        str(TABLE),
        *QUICK,
        "--thickness",
        "6",
        "--out",
    ]
    runs = [
        subprocess.Popen(
            [*command, str(tmp_path / seed), "--licence", "CC0-1.0"],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
        )
        for seed in ("0", "1")
    ]
    for run in runs:
        said, _ = run.communicate(timeout=300)
        assert run.returncode == 0, said
    first, second = (tmp_path / seed / "rib_table-pack.zip" for seed in ("0", "1"))
    assert first.read_bytes() == second.read_bytes()
    with zipfile.ZipFile(first) as archive:
        archive.extractall(tmp_path)
    subprocess.run(
        ["sha256sum", "--quiet", "--strict", "-c", "SHA256SUMS"],
        cwd=tmp_path / "rib_table",
        check=True,
    )
    raw = (tmp_path / "rib_table/6mm/rig.glb").read_bytes()
    rig = trimesh.load(io.BytesIO(raw), file_type="glb")
    assert set(rig.graph.nodes_geometry) == {
        thing.name for thing in things_in(resolved("rib_table"))
    }
