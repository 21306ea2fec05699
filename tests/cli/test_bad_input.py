"""Bad input: exit 2, one message that names the thing, nothing written."""

import errno
import os
import re
from pathlib import Path

import pytest

BASE = """
def base(
    sheet: Sheet, *, width_mm: float = 100.0, bore_mm: float = 30.0, x_mm: float = 50.0,
    count: int = 4, screw: str = "M5", name: str = "base", quantity: int = 1,
) -> Plate:
    plate = Plate(name, sheet, rectangle(width_mm, 80.0), quantity=quantity)
    plate = plate.with_features(hole(bore_mm, at=(x_mm, 40.0), name="bore"))
    return plate.with_features(bolt_circle(count, screw, pcd_mm=60.0, name="bolts"))
"""


def refused(bench, recipe: str, *words: str) -> str:
    """Return what is said of bad input, once everything else about it is as it should be."""
    status, out, err = bench.make(recipe, *words)
    assert status == 2, out + err
    assert out == ""
    assert err.startswith("platekit: ")
    assert err.count("platekit:") == 1
    assert "Traceback" not in err
    assert "fault in platekit itself" not in err
    assert not bench.out.exists()
    return err


@pytest.mark.parametrize("value", ["0", "-5", "nan", "inf", "-inf", "1e12", "1e300", "five", ""])
@pytest.mark.parametrize(
    ("parameter", "named"),
    [("width_mm", "width"), ("bore_mm", "bore|diameter"), ("count", "count")],
)
def test_dimensions_that_cannot_be(bench, parameter, named, value):
    """Zero, negative, endless, absurd and unreadable values of a recipe's parameters."""
    assert re.search(named, refused(bench, BASE, "--set", f"{parameter}={value}"))


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("thickness", "0"),  # a kerf of 0 is allowed: the bare outline
        *((o, v) for o in ("thickness", "kerf") for v in ("-3", "nan", "inf", "1e9", "thin")),
    ],
)
def test_sheets_and_beams_that_cannot_be(bench, option, value):
    """The message names what was asked for."""
    assert option in refused(bench, BASE, f"--{option}={value}")


@pytest.mark.parametrize(
    ("option", "value"),
    [
        ("seconds", "0"),
        *(
            (o, v)
            for o in ("gap", "margin", "seconds")
            for v in ("-1", "nan", "inf", "1e9", "wide")
        ),
    ],
)
def test_spacing_that_cannot_be(bench, option, value):
    """The message names what was asked for."""
    said = refused(bench, BASE, f"--{option}={value}")
    assert option in said or "search time" in said


@pytest.mark.parametrize(
    "value", ["0x400", "600x-4", "nanx400", "600xinf", "1e9x400", "600", "600x400x0", "axb", ""]
)
def test_stock_that_cannot_be(bench, value):
    """The message quotes the stock."""
    assert "stock" in refused(bench, BASE, f"--stock={value}")


def test_stock_smaller_than_the_smallest_part(bench):
    """The smallest part and the room on the stock are named."""
    said = refused(bench, BASE, "--stock", "90x70")
    assert "base" in said
    assert "90" in said


def test_a_margin_that_leaves_nothing(bench):
    """The margin is named."""
    assert "margin" in refused(bench, BASE, "--stock", "300x200", "--margin", "100")


def test_an_unknown_material_offers_the_known_ones(bench):
    """Near names first, then all."""
    said = refused(bench, BASE, "--material", "birch plywod")
    assert "did you mean birch plywood" in said
    assert "MDF" in said


def test_a_material_no_laser_may_cut_is_refused(bench):
    """PVC releases hydrogen chloride; it never becomes a cut file."""
    assert "must not be cut by a laser" in refused(bench, BASE, "--material", "PVC")


def test_an_unknown_screw_offers_the_known_ones(bench):
    """With the recipe's own line."""
    said = refused(bench, BASE, "--set", "screw=M5.5")
    assert "M5.5" in said
    assert "M5" in said
    assert "base.py, line" in said


def test_an_unknown_parameter_offers_near_ones(bench):
    """The message names the slip and what was meant."""
    said = refused(bench, BASE, "--set", "bore=20")
    assert "'bore'" in said
    assert "bore_mm" in said


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (["x_mm=300"], "bore"),  # off the plate
        (["x_mm=95"], "bore"),  # across the edge
        (["bore_mm=58"], "bolts"),  # over the bolt holes
        (["name=../up"], "../up"),
        (["name="], "name"),
        (["name=con"], "con"),
        (["quantity=0"], "quantity"),
        (["quantity=99999999"], "quantity"),
    ],
)
def test_plates_that_cannot_be(bench, words, named):
    """Holes off the plate, across its edge, over each other; unsafe names; no quantity."""
    assert named in refused(bench, BASE, "--set", *words)


def test_an_outline_that_crosses_itself(bench):
    """The plate is named."""
    said = refused(
        bench,
        """
        from platekit.geometry.chains import closed_polyline
        def base(sheet: Sheet) -> Plate:
            bow = closed_polyline([(0, 0), (90, 60), (90, 0), (0, 60)])
            return Plate("bow tie", sheet, bow)
        """,
    )
    assert "bow tie" in said
    assert "cross" in said


def test_a_kerf_wider_than_a_feature_names_it(bench):
    """A 0.3 mm slot cannot be cut with a 0.5 mm beam."""
    said = refused(
        bench,
        """
        def base(sheet: Sheet) -> Plate:
            plate = Plate("base", sheet, rectangle(60.0, 40.0))
            return plate.with_features(hole(0.3, name="wire hole"))
        """,
        "--kerf",
        "0.5",
    )
    assert "base / wire hole" in said
    assert "kerf of 0.5 mm" in said
    assert "0.3" in said


def test_one_name_for_two_parts(bench):
    """The name is in the message."""
    said = refused(
        bench,
        """
        from platekit.assembly.assembly import Assembly
        from platekit.assembly.panels import Panel
        from platekit.assembly.frames import NOWHERE
        def base(sheet: Sheet) -> Assembly:
            one = Plate("side", sheet, rectangle(60.0, 40.0))
            two = Plate("Side", sheet, rectangle(50.0, 40.0))
            panels = Panel("left", (one,), NOWHERE), Panel("right", (two,), NOWHERE)
            return Assembly("box", panels=panels)
        """,
    )
    assert "side" in said.lower()


@pytest.mark.parametrize(
    ("recipe", "said"),
    [
        ("def base(sheet: Sheet) -> Plate:\n    return 1 / 0\n", "division by zero"),
        ("def base(sheet: Sheet) -> Plate:\n    return (\n", "does not parse"),
        ("def base(sheet: Sheet) -> Plate:\n    return [1]\n", "gives back a list"),
        ("def base(sheet: Sheet) -> Plate:\n    raise SystemExit\n", "ends the program"),
        ("def base(sheet: Sheet, width_mm: float) -> Plate: ...\n", "positional"),
        ("def base(sheet: Sheet, **more: float) -> Plate: ...\n", r"\*\*more"),
        ("def base() -> Plate: ...\n", "not a sheet"),
        ("x = 1\n", "no public function"),
        ("import nothing_of_this_name\n", "nothing_of_this_name"),
    ],
)
def test_recipes_that_are_none(bench, recipe, said):
    """The file is named, with the recipe's own line where there is one."""
    told = refused(bench, recipe)
    assert re.search(said, told)
    assert "base.py" in told


def test_a_missing_recipe(bench):
    """The file is named."""
    status, out, err = bench.run("make", "nowhere.py")
    assert (status, out) == (2, "")
    assert "nowhere.py" in err


def test_a_folder_that_cannot_be_written(bench, monkeypatch):
    """The folder is named, whoever runs the test: the system's refusal is played."""

    def refuse(*_, **__):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    recipe = bench.write(BASE)
    monkeypatch.setattr(os, "mkdir", refuse)
    monkeypatch.setattr(Path, "mkdir", refuse)
    status, out, err = bench.run("make", str(recipe), "--out", str(bench.out))
    assert (status, out) == (2, "")
    assert f"cannot write {bench.out / 'base'}: no permission" in err
    assert bench.files == []


def test_a_file_where_the_folder_should_be(bench):
    """The folder is named; the file stays."""
    bench.out.write_text("mine", encoding="utf-8")
    status, out, err = bench.make(BASE)
    assert (status, out) == (2, "")
    assert "a file stands where a folder should be" in err
    assert bench.out.read_text(encoding="utf-8") == "mine"


def test_a_full_disk_leaves_the_old_files_whole(bench, monkeypatch):
    """Whatever was there before is there after, to the byte, and nothing else."""
    assert bench.make(BASE)[0] == 0
    before = {path: (bench.out / path).read_bytes() for path in bench.files}

    def full(*_):
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    status, out, err = bench.make(BASE, "--set", "width_mm=120")
    assert (status, out) == (2, "")
    assert "the disk is full" in err
    assert {path: (bench.out / path).read_bytes() for path in bench.files} == before
    assert [path.name for path in bench.out.iterdir()] == ["base"]


def test_bad_input_never_touches_an_earlier_run(bench):
    """What a good run wrote stays when a bad one follows."""
    bench.make(BASE)
    before = {path: (bench.out / path).read_bytes() for path in bench.files}
    assert bench.make(BASE, "--set", "width_mm=-1")[0] == 2
    assert {path: (bench.out / path).read_bytes() for path in bench.files} == before
