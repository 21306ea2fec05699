"""``platekit compare`` of rigs: joints, screws and order of assembly as they are read."""

import json
from pathlib import Path

import pytest

from platekit.cli.compare_assembly import told_order
from platekit.job.comparing.values import MovedStep, OrderChange
from tests.cli.test_compare import compared

RIG = """\
from platekit import Assembly, lying, screwed, standing, tabs


def rig(sheet: Sheet, *, thread: str = "M4", screws: int = 2, tabbed: int = 4):
    \"\"\"A floor, a wall on its front edge, a lid that comes off.\"\"\"
    floor = Plate("floor", sheet, rectangle(240, 100))
    wall = Plate("wall", sheet, rectangle(240, 80))
    lid = Plate("lid", sheet, rectangle(260, 60))
    return (
        Assembly("rig")
        .with_panels(
            lying(floor),
            standing(wall, facing="front", front_mm=20),
            lying(lid, left_mm=-10, front_mm=0, top_mm=80),
        )
        .with_joints(
            tabs("wall", into="floor", count=tabbed),
            screwed("wall", to="lid", thread=thread, screws=screws),
        )
    )
"""


def made(bench, folder: str, *words: str) -> str:
    """Make the rig into a folder and return where its build is."""
    path = bench.write(RIG, name="rig.py")
    status, _, err = bench.run("make", str(path), "--out", folder, *words)
    assert status == 0, err
    return f"{folder}/rig"


def group(out: str, title: str) -> list[str]:
    """Return the lines under a heading, blanks made one."""
    found = []
    inside = False
    for line in out.splitlines():
        inside = line == title if not line.startswith(" ") else inside
        if inside and line != title:
            found.append(" ".join(line.split()))
    return found


def test_joints_by_what_became_of_them(bench):
    """Six tabs for four, three screws for two: with one tab more than screws."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "tabbed=6", "--set", "screws=3")
    out = compared(bench, old, new)
    assert group(out, "Joints") == [
        "tabs 4 -> 6 wall + floor",
        "tabs 3 -> 4; screws 2 -> 3 wall + lid",
    ]
    assert group(out, "Screws") == ["lid + wall 2 -> 3 of ISO 4762 M4x20 8.8"]
    assert group(out, "Assembly") == []
    assert group(compared(bench, old, old), "Joints") == []


def test_screws_by_place(bench):
    """M3 for M4 in the one joint that has screws; the joints are the same."""
    old, new = made(bench, "a"), made(bench, "b", "--set", "thread=M3")
    out = compared(bench, old, new)
    assert group(out, "Joints") == []
    # Sheet, twice the thread, nut and washer: 6 + 8 + 3.2 + 0.8 and 6 + 6 + 2.4 + 0.5 mm, and the
    # next length of ISO 4762 (ISO 4032, ISO 7089; all from memory).
    assert group(out, "Screws") == ["lid + wall 2 ISO 4762 M4x20 8.8 -> M3x16"]
    said = json.loads(compared(bench, old, new, "--json"))
    assert [one["place"] for one in said["screws"]] == ["lid + wall"]
    assert said["joints"] == []
    assert said["assembly"]["order_changed"] is False


@pytest.mark.parametrize("seed", range(4))
def test_any_value_of_the_wrong_kind(bench, seed):
    """Whatever stands in the place of one value: compared or refused, never a fault of ours."""
    good = made(bench, "a")
    said = json.loads(Path(good, "build.json").read_text(encoding="utf-8"))
    places = list(_places(said["assembly"]))
    odd = (None, True, -1, 1e308, "", "\x00", [], {}, [[]], 10**400, 2, "wall")
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
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for key, inner in items:
        yield value, key
        if isinstance(inner, dict | list):
            yield from _places(inner)


def moved(count: int) -> OrderChange:
    """Return an order in which so many steps have moved."""
    return OrderChange(
        moved=tuple(
            MovedStep(brings=(f"p{k}",), old=k, new=k + 1, after=(f"p{k - 1}",) if k > 1 else ())
            for k in range(1, count + 1)
        )
    )


def test_a_few_moved_steps_are_told_with_their_place():
    """What they come after now; of many only which they are."""
    ((name, said),) = told_order(moved(2))
    assert name == "order changed"
    assert said.replace("\N{NO-BREAK SPACE}", " ") == "p1 now first, p2 now after p1"
    ((_, said),) = told_order(moved(9))
    assert said == "9 steps moved: p1, p2, p3, p4, p5, p6, p7, p8, p9"
