"""The server follows saves and wishes, keeps the last good picture, and ends what does not end."""

from __future__ import annotations

import re
import time

from tests.live.conftest import HEAD, HOLES

THIN = "apart_mm: float = 7.0"
# A recipe that reads a table below its folder, and leaves a file of its own behind.
TABLE = """
import csv
from pathlib import Path

HERE = Path(__file__).parent
(HERE / "seen.txt").write_text((HERE / "seen.txt").read_text() if (HERE / "seen.txt").exists()
                               else "once")
with (HERE / "data" / "heights.csv").open(newline="") as lines:
    HEIGHT_MM = float(next(csv.reader(lines))[0])
"""


def findings(live) -> list[dict]:
    """Return what is worth a look."""
    return [
        one for one in live.get("content")["content"]["findings"] if one["severity"] != "passed"
    ]


def test_a_save_a_wish_and_a_mistake(live):
    """One rig's afternoon: each step shows up, none takes the last good picture away.

    A web of 1 mm between holes of 6 mm that are 7 mm apart: 7 - 6, by hand.
    """
    page = live(HOLES)
    status = page.settled()
    assert status["problem"] is None
    assert status["depth"] == "proved"
    assert findings(page) == []
    assert len(page.get("content")["content"]["sheets"]) == 1

    began = time.monotonic()
    page.save(HOLES.replace("apart_mm: float = 30.0", THIN))
    page.until(lambda one: one["content"] > status["content"] and not one["old"])
    # Well below what anybody waits for, and above what a busy machine needs: no measure of speed.
    assert time.monotonic() - began < 10.0
    page.settled(after=1)
    (finding,) = findings(page)
    assert (finding["value"], finding["severity"]) == (1, "warning")

    assert page.wish(values={"apart_mm": "40", "width_mm": "120"}) == 204
    page.settled(after=2)
    assert findings(page) == []
    (part,) = page.get("content")["content"]["parts"]
    assert part["size_mm"] == [120, 80]
    assert page.get("controls")["command"].endswith("--set apart_mm=40 --set width_mm=120")

    page.save(HOLES.replace("rectangle(width_mm", "rectangle(wdth_mm"))
    status = page.settled(after=3)
    assert status["old"] is True
    assert status["problem"]["says"].startswith("name 'wdth_mm' is not defined")
    assert status["problem"]["file"] == str(page.recipe)
    lines = page.recipe.read_text(encoding="utf-8").splitlines()
    assert "wdth_mm" in lines[status["problem"]["line"] - 1]
    assert page.get("content")["content"]["parts"][0]["size_mm"] == [120, 80]

    page.recipe.unlink()
    status = page.settled(after=4)
    assert "there is no recipe" in status["problem"]["says"]
    assert status["old"] is True

    page.save(HOLES)
    status = page.settled(after=5)
    assert (status["problem"], status["old"]) == (None, False)
    assert page.get("content")["content"]["parts"][0]["size_mm"] == [120, 80]
    assert page.end() == 0
    said = "".join(page.said)
    assert "wdth_mm" in said
    assert "Traceback" not in said
    assert said.endswith("ended\n")


def test_a_module_beside_it_is_followed(live):
    """Its save counts, and it is read anew; one that is missing is found once it is there."""
    page = live(HOLES.replace("80.0", "HEIGHT_MM"), head=HEAD + "from sizes import HEIGHT_MM\n")
    status = page.settled()
    assert "sizes" in status["problem"]["says"]
    assert status["content"] == 0
    module = page.recipe.with_name("sizes.py")
    module.write_text("HEIGHT_MM = 70.0\n", encoding="utf-8")
    assert page.settled(after=1)["problem"] is None
    assert page.get("content")["content"]["parts"][0]["size_mm"] == [100, 70]
    module.write_text("HEIGHT_MM = 65.0\n", encoding="utf-8")
    page.settled(after=2)
    assert page.get("content")["content"]["parts"][0]["size_mm"] == [100, 65]
    assert not list(page.recipe.parent.glob("__pycache__/*"))
    assert page.end() == 0


def test_what_it_prints_is_shown_and_stands_in_the_terminal(live):
    """The beginning of it on the page, all of it in the terminal; the next run begins anew."""
    loud = "print('wide', width_mm); print('x' * 9000, end='THE END\\n')\n    plate = Plate"
    page = live(HOLES.replace("plate = Plate", loud))
    said = page.settled()["printed"]
    assert said.startswith("wide 100.0\nxxx")
    assert len(said) < 4100
    assert "signs more" in said
    page.save(HOLES)
    assert page.settled(after=1)["printed"] == ""
    assert page.end() == 0
    assert f"{'x' * 9000}THE END" in "".join(page.said)


def test_a_table_the_recipe_reads_is_followed(live):
    """Points in a CSV file below its folder: its save counts, and so does its first coming."""
    page = live(HOLES.replace("80.0", "HEIGHT_MM"), head=HEAD + TABLE)
    status = page.settled()
    assert "heights.csv" in status["problem"]["says"]
    folder = page.recipe.with_name("data")
    folder.mkdir()
    heights = folder / "heights.csv"
    for run, height_mm in enumerate((70, 65, 60), start=1):
        other = folder / "heights.csv.new"  # written beside and renamed, as careful editors do
        other.write_text(f"{height_mm}\n", encoding="utf-8")
        other.replace(heights)
        assert page.settled(after=run)["problem"] is None
        assert page.get("content")["content"]["parts"][0]["size_mm"] == [100, height_mm]
    assert page.end() == 0


def test_controls_say_what_the_recipe_offers(live):
    """Name, kind, unit, default and help, as its signature and docstring have them."""
    text = '''
    from typing import Literal

    def base(sheet: Sheet = birch_plywood(6.0), *, width_mm: float = 100.0, count: int = 3,
             round_ends: bool = False, style: Literal["plain", "fancy"] = "plain",
             note: str = "", spare_mm: float | None = None) -> Plate:
        """A plate.

        Args:
            sheet: What it is cut from.
            width_mm: Overall.
        """
        return Plate("base", sheet, rectangle(width_mm, 80.0))
    '''
    page = live(text, "--set", "width_mm=90", "--set", "gone=1", "--kerf", "0.1")
    page.settled()
    controls = page.get("controls")
    seen = [
        (one["name"], one["kind"], one["unit"], one["default"], one["text"], one["may_be_none"])
        for one in controls["parameters"]
    ]
    assert seen == [
        ("width_mm", "number", "mm", "100", "90", False),
        ("count", "whole number", "", "3", "3", False),
        ("round_ends", "yes or no", "", "no", "no", False),
        ("style", "choice", "", "plain", "plain", False),
        ("note", "text", "", "", "", False),
        ("spare_mm", "number", "mm", "none", "none", True),
    ]
    assert controls["parameters"][0]["help"] == "Overall."
    assert controls["parameters"][3]["choices"] == ["plain", "fancy"]
    assert controls["dropped"] == ["gone"]
    assert controls["sheet"] == {"own_material": "birch plywood", "usual_thickness_mm": 6.0}
    assert re.search(r"--set width_mm=90 --kerf 0\.1$", controls["command"])
    page.wish(values={"count": "many"})
    status = page.settled(after=1)
    assert status["problem"]["says"] == "count cannot be 'many'; give a whole number"
    faults = {one["name"]: one["fault"] for one in page.get("controls")["parameters"]}
    assert faults.pop("count") == "count cannot be 'many'; give a whole number"
    assert set(faults.values()) == {""}
    page.wish(values={}, kerf_mm=-0.1, thickness_mm=1e9)
    page.settled(after=2)
    faults = page.get("controls")["faults"]
    assert set(faults) == {"kerf_mm", "thickness_mm"}
    assert "-0.1" in faults["kerf_mm"]
    assert page.end() == 0
