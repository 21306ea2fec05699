"""Joints, screws and order of two builds: what is said to have changed, and nothing else."""

import json
from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings, strategies as st

from platekit.export.build import BeamInput, BuildRecord, Inputs, SheetInput
from platekit.export.build_assembly import AssemblyRecord, FastenerRecord, JointRecord, StepRecord
from platekit.export.plain_json import json_text
from platekit.job.comparing.comparison import compare, comparison_json
from platekit.job.comparing.joints import changed_joints
from platekit.job.comparing.order import changed_order
from platekit.job.comparing.screws import changed_screws
from platekit.job.comparing.values import BillChange, Change, ScrewChange

M5 = "ISO 4762 M5x25 8.8"


def joint(one="base", other="wall", **more) -> JointRecord:
    """Return five glued tabs of one panel in another."""
    said = {
        "between": (one, other),
        "kind": "tabs",
        "hold": "glued",
        "clearance_mm": 0.1,
        "tabs": 5,
        "screws": 0,
        "length_mm": 320.0,
    }
    return JointRecord(**(said | more))


def screws(place: str, count: int, designation: str = M5) -> tuple[FastenerRecord, ...]:
    """Return the screws of a place."""
    return tuple(
        FastenerRecord(name=f"{place} screw {k}", designation=designation, holds=("a", "b"))
        for k in range(1, count + 1)
    )


def steps(names: str, **more) -> tuple[StepRecord, ...]:
    """Return steps that bring in one thing each, from above, in the order of the letters."""
    return tuple(
        StepRecord(bring_in=(name,), direction="down", way=(0.0, 0.0, -1.0), **more)
        for name in names
    )


def build(assembly: AssemblyRecord | None) -> BuildRecord:
    """Return a record of nothing but an assembly."""
    return BuildRecord(
        platekit="0.1.0",
        recipe="rig",
        inputs=Inputs(
            sheet=SheetInput(material="birch plywood", nominal_mm=6.0, thickness_mm=6.0),
            beam=BeamInput(kerf_mm=0.2),
        ),
        assembly=assembly,
    )


def compared(old: AssemblyRecord | None, new: AssemblyRecord | None):
    """Return what differs between two rigs."""
    return compare(build(old), build(new), labels=("a", "b"))


RIG = AssemblyRecord(joints=(joint(),), fasteners=screws("motor", 4), steps=steps("abc"))


def test_a_rig_does_not_differ_from_itself():
    """Nor does another order of the lists of joints and screws, nor a joint's length alone."""
    assert compared(RIG, RIG).same
    two = (joint(), joint("lid", "wall"))
    assert changed_joints(two, two[::-1]) == ()
    assert changed_joints([joint()], [joint(length_mm=330.0)]) == ()
    assert changed_screws(RIG.fasteners, RIG.fasteners[::-1]) == ()


@pytest.mark.parametrize("other", [None, replace(RIG, joints=None)])
def test_what_a_record_does_not_say_has_not_changed(other):
    """A plate, or a record of an older version."""
    assert compared(RIG, other).same
    assert compared(other, RIG).same


@pytest.mark.parametrize(
    ("now", "changes"),
    [
        pytest.param({"tabs": 8}, [("tabs", 5, 8)], id="count"),
        pytest.param({"clearance_mm": 0.2}, [("clearance", 0.1, 0.2)], id="clearance"),
        pytest.param({"hold": "slip"}, [("hold", "glued", "slip")], id="hold"),
        pytest.param(
            {"kind": "fingers", "tabs": 9},
            [("kind", "tabs", "fingers"), ("count", 5, 9)],
            id="kind",
        ),
        pytest.param(
            {"kind": "screwed", "screws": 2},
            [("kind", "tabs", "screwed"), ("screws", 0, 2)],
            id="screwed",
        ),
        pytest.param({"between": ("wall", "base")}, [("tabs of", "base", "wall")], id="turned"),
        pytest.param(
            {"kind": "butted", "tabs": 0, "hold": None, "clearance_mm": None},
            [
                ("kind", "tabs", "butted"),
                ("count", 5, 0),
                ("hold", "glued", None),
                ("clearance", 0.1, None),
            ],
            id="butted",
        ),
    ],
)
def test_a_joint_made_otherwise(now, changes):
    """Each figure by its name, from the old to the new."""
    (found,) = changed_joints([joint()], [joint(**now)])
    assert found.fate == "changed"
    assert [(one.name, one.old, one.new) for one in found.changes] == changes


def test_which_of_two_has_fingers_is_no_matter():
    """Fingers and halvings belong to both panels."""
    for kind in ("fingers", "halving"):
        both = joint(kind=kind), joint("wall", "base", kind=kind)
        assert changed_joints(both[:1], both[1:]) == ()


def test_new_and_gone_joints():
    """By their panels, whatever else they have in common."""
    found = changed_joints([joint()], [joint("base", "lid", kind="fingers")])
    assert [(one.fate, one.between, one.kind) for one in found] == [
        ("gone", ("base", "wall"), "tabs"),
        ("new", ("base", "lid"), "fingers"),
    ]


def test_a_laminate_may_have_two_joints_with_one_panel():
    """Like is compared with like."""
    old = [joint(), joint(kind="fingers", tabs=7)]
    new = [joint(kind="fingers", tabs=9), joint()]
    (found,) = changed_joints(old, new)
    assert found.changes == (Change(name="fingers", old=7, new=9),)
    (gone,) = changed_joints(old, new[1:])
    assert (gone.fate, gone.kind) == ("gone", "fingers")


def test_screws_are_told_by_place():
    """Motor: longer ones; hub: one fewer, though the bill has as many of each as before."""
    old = (*screws("motor", 4), *screws("hub", 6))
    new = (*screws("motor", 4, "ISO 4762 M5x30 8.8"), *screws("hub", 5), *screws("lid", 1))
    assert changed_screws(old, new) == (
        ScrewChange(
            place="motor",
            screws=BillChange(name=M5, old=4, new=4, replaced_by="ISO 4762 M5x30 8.8"),
        ),
        ScrewChange(place="hub", screws=BillChange(name=M5, old=6, new=5)),
        ScrewChange(place="lid", screws=BillChange(name=M5, old=0, new=1)),
    )


def test_two_panels_are_one_place():
    """Whichever of them the assembly has first."""
    assert changed_screws(screws("base + lid", 2), screws("lid + base", 2)) == ()


def test_what_has_another_number_has_not_moved():
    """Something new at the start moves nothing."""
    found = changed_order(steps("abc"), steps("xabc"))
    assert (found.new, found.gone, found.moved, found.changed) == ((("x",),), (), (), ())
    (moved,) = changed_order(steps("abcd"), steps("bcda")).moved
    assert (moved.brings, moved.old, moved.new, moved.after) == (("a",), 1, 4, ("d",))


def test_what_a_step_comes_after_lies_on_its_own_heap():
    """A group put together apart has an order of its own."""
    old = (*steps("ab", heap="A"), *steps("cd"))
    new = (old[1], old[2], old[0], old[3])
    assert [(one.brings, one.after) for one in changed_order(old, new).moved] == [(("a",), ("b",))]
    # Heap A after the rest: whichever of them moved, its first has nothing before it.
    moved = changed_order(old, (*old[2:], *old[:2])).moved
    assert {one.after for one in moved if one.brings in {("a",), ("c",)}} == {()}


def test_a_step_done_otherwise():
    """Another way in; screws of a place driven at another time, however many there are."""
    old = steps("ab")
    (one,) = changed_order(old, (old[0], replace(old[1], direction="up"))).changed
    assert one.brings == ("b",)
    assert one.changes == (Change(name="comes in", old="down", new="up"),)
    driven = [replace(old[0], fasteners=tuple(f"m screw {k}" for k in range(n))) for n in (0, 4, 6)]
    (one,) = changed_order(driven[:1], driven[1:2]).changed
    assert one.changes == (Change(name="screws then", old=None, new=["m"]),)
    assert changed_order(driven[1:2], driven[2:]).same


def longest_common(old: str, new: str) -> int:
    """Return the length of the longest common subsequence, by trying all."""
    for length in range(len(old), 0, -1):
        tails = {"".join(one) for one in combinations(new, length)}
        if any("".join(one) in tails for one in combinations(old, length)):
            return length
    return 0


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    old=st.lists(st.sampled_from("abcdefgh"), unique=True),
    new=st.lists(st.sampled_from("abcdefgh"), unique=True),
)
def test_the_fewest_steps_have_moved(old, new):
    """Without what moved, came or went both orders are one, as long as any that both have."""
    found = changed_order(steps("".join(old)), steps("".join(new)))
    away = {one.brings[0] for one in found.moved}
    gone, added = ({one[0] for one in those} for those in (found.gone, found.new))
    kept = [name for name in old if name not in away | gone]
    assert kept == [name for name in new if name not in away | added]
    assert len(kept) == longest_common("".join(old), "".join(new))
    assert gone == set(old) - set(new)
    assert added == set(new) - set(old)
    for one in found.moved:
        assert (old[one.old - 1], new[one.new - 1]) == one.brings * 2


def test_the_same_in_plain_values():
    """What the JSON says, by hand."""
    new = AssemblyRecord(
        joints=(joint(tabs=6),),
        fasteners=screws("motor", 4, "ISO 4762 M5x30 8.8"),
        steps=steps("bca"),
    )
    said = json.loads(json_text(comparison_json(compared(RIG, new))))
    assert said["same"] is False
    assert said["joints"] == [
        {
            "between": ["base", "wall"],
            "kind": "tabs",
            "fate": "changed",
            "changes": [{"name": "tabs", "fate": "changed", "old": 5, "new": 6, "unit": ""}],
        }
    ]
    assert said["screws"] == [
        {"place": "motor", "name": M5, "old": 4, "new": 4, "replaced_by": "ISO 4762 M5x30 8.8"}
    ]
    assert said["assembly"] == {
        "order_changed": True,
        "gone": [],
        "new": [],
        "moved": [{"bring_in": ["a"], "old": 1, "new": 3, "after": ["c"]}],
        "changed": [],
    }
