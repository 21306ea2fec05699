"""What comes first of a run, and what is not shown twice."""

from __future__ import annotations

import pytest

from platekit.errors import NestingError
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from platekit.job.progress import unheard
from platekit.job.recipe import load_recipe
from platekit.live.memory import Memory
from platekit.live.telling import Telling
from tests.live.conftest import HEAD

RIG = """
def rig(sheet: Sheet = birch_plywood(6.0), *, width_mm: float = 120.0, kg: float = 1.0) -> Assembly:
    \"\"\"A floor and a wall.\"\"\"
    return (
        Assembly("rig")
        .with_panels(
            lying(Plate("floor", sheet, rectangle(width_mm, 80.0)), bottom_mm=0),
            standing(
                Plate("wall", sheet, rectangle(width_mm, 60.0)),
                facing="front", front_mm=0, bottom_mm=0,
            ),
        )
        .with_hardware(
            mounted(
                motor("NEMA 17", body_length_mm=40.0, shaft_length_mm=24.0),
                on="floor", side="up", name="motor",
            )
        )
        .with_loads(load("motor", axial_n=10.0 * kg), held="wall")
    )
"""


@pytest.fixture
def told(tmp_path):
    """A way to run the recipe with values, and what is shown of the run."""
    path = tmp_path / "rig.py"
    path.write_text(HEAD + "from platekit import load, motor, mounted\n" + RIG, encoding="utf-8")
    memory = Memory()

    def run(**values: str):
        shown: list[tuple[str, dict]] = []
        recipe, job = load_recipe(path), Options(chosen=tuple(values.items()))
        telling = Telling(
            recipe=recipe,
            job=job,
            memory=memory,
            show=lambda depth, seen: shown.append((depth, seen)),
            progress=unheard,
        )
        try:
            telling.whole(
                draw_up(recipe, job, early=telling.early, deal=memory.deal, prove=memory.prove)
            )
        except NestingError as err:
            shown.append((str(err), {}))
        return shown

    return run


def test_the_rig_comes_first_and_the_proof_last(told):
    """Nothing is known yet: it is drawn, weighed, laid and proved, each with what came before."""
    shown = told()
    assert [depth for depth, _ in shown] == ["drawn", "weighed", "laid", "proved"]
    drawn, weighed, laid, proved = (seen for _, seen in shown)
    assert len(drawn["rig"]["things"]) >= 3
    assert all(one["weighed"] == 0 for one in drawn["families"])
    assert any(one["weighed"] for one in weighed["families"])
    assert not weighed["sheets"]
    assert laid["sheets"] == proved["sheets"]
    assert laid["parts"] == proved["parts"]
    assert laid["bill"] == proved["bill"]
    assert not laid["steps"]
    assert len(proved["steps"]) >= 3


def test_a_load_is_shown_once(told):
    """Nothing has moved: no picture before the margins, and steps and sheets as they were."""
    before = told()[-1][1]
    ((depth, seen),) = told(kg="9")
    assert depth == "proved"
    assert seen["findings"] != before["findings"]
    for name in ("rig", "steps", "sheets", "bill"):
        assert seen[name] == before[name]


def test_there_and_back_again_is_whole_at_once(told):
    """What was proved and laid before is seen with its steps and sheets as soon as it is drawn."""
    before = told()[-1][1]
    assert [depth for depth, _ in told(width_mm="140")] == ["drawn", "weighed", "laid", "proved"]
    shown = told()
    assert [depth for depth, _ in shown] == ["drawn", "proved"]
    for _, seen in shown:
        assert (seen["steps"], seen["sheets"]) == (before["steps"], before["sheets"])
    assert shown[-1][1] == before


def test_what_fits_no_sheet_is_still_proved(told):
    """A plate of 9 m: no usual sheet is as long. All else is shown, and why there are no sheets."""
    *shown, (says, _) = told(width_mm="9000")
    assert [depth for depth, _ in shown] == ["drawn", "weighed", "proved"]
    assert len(shown[-1][1]["steps"]) >= 3
    assert "sheet" in says
