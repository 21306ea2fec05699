"""Rules deal out a bar from end to end, to one of two panels, never through a block."""

from itertools import pairwise

import pytest
from hypothesis import assume, given, settings, strategies as st

from platekit.assembly.dealing import (
    Run,
    blocks_within,
    deal_fingers,
    deal_halves,
    deal_screwed,
    deal_tabs,
    deal_tongue,
)


def run(length, t=6.0, blocks=(), start=0.0, aim=None):
    """Return a run with the widths of a sheet of `t`."""
    return Run(
        start_mm=start,
        end_mm=start + length,
        blocks=blocks,
        least_mm=2 * t,
        limit_mm=t,
        aim_mm=3 * t if aim is None else aim,
        thickness_mm=t,
    )


RULES = {
    "fingers": lambda r: deal_fingers(r, first="a", second="b", count=None),
    "seven fingers": lambda r: deal_fingers(r, first="a", second="b", count=7),
    "four fingers": lambda r: deal_fingers(r, first="a", second="b", count=4),
    "tabs": lambda r: deal_tabs(r, tabbed="a", slotted="b", count=None),
    "five tabs": lambda r: deal_tabs(r, tabbed="a", slotted="b", count=5),
    "screws": lambda r: deal_screwed(r, tabbed="a", slotted="b", screws=None),
    "tongue": lambda r: deal_tongue(r, tabbed="a", slotted="b", shoulder_mm=None),
    "halves": lambda r: deal_halves(r, lower="a", upper="b"),
}


@settings(max_examples=200, derandomize=True, deadline=None)
@given(
    rule=st.sampled_from(sorted(RULES)),
    length=st.floats(1, 600),
    start=st.floats(-300, 300),
    t=st.sampled_from([2.7, 3.0, 6.0, 9.0]),
    blocks=st.lists(st.floats(0, 1), max_size=3),
)
def test_every_rule_deals_the_whole_run_once(rule, length, start, t, blocks):
    """Stretches follow on from start to end, and no cut lies inside a block."""
    places = sorted(start + share * length for share in blocks)
    assume(all(b - a > 2 * t for a, b in pairwise(places)))
    taken = blocks_within([(p - t / 2, p + t / 2) for p in places], start, start + length)
    made = run(length, t, taken, start)
    deal = RULES[rule](made)
    assert deal.stretches[0].start_mm == made.start_mm
    assert deal.stretches[-1].end_mm == made.end_mm
    for one, after in pairwise(deal.stretches):
        assert one.end_mm == after.start_mm
        assert one.width_mm > 0
        for low, high in taken:
            inside = low + 1e-6 < one.end_mm < high - 1e-6
            whole = low <= made.start_mm + 1e-6 and high >= made.end_mm - 1e-6
            assert not inside or whole
    assert {stretch.owner for stretch in deal.stretches} <= {"a", "b"}


@settings(max_examples=200, derandomize=True, deadline=None)
@given(length=st.floats(1, 900), t=st.sampled_from([2.7, 3.0, 4.0, 6.0, 9.0]))
def test_fingers_of_a_rule_are_wide_enough_and_odd(length, t):
    """From six thicknesses on: odd, at least two thicknesses wide, at most three and a bit more.

    Common practice, no source: two to four thicknesses.
    """
    deal = deal_fingers(run(length, t), first="a", second="b", count=None)
    if length >= 6 * t:
        assert len(deal.stretches) % 2 == 1
        assert deal.thinnest_mm >= 2 * t - 1e-6
        if length >= 9 * t:
            assert deal.thinnest_mm <= 4.51 * t  # three at 13.5 t, before five come nearer
    elif length >= 2 * t:
        assert deal.interlocks
        assert deal.thinnest_mm >= t - 1e-6
    else:
        assert not deal.interlocks


@pytest.mark.parametrize(
    ("length", "count"), [(90, 5), (126, 7), (54, 3), (100, 5), (108, 5), (36, 3), (180, 9)]
)
def test_finger_counts_by_hand(length, count):
    """For 6 mm sheet: the odd number whose width comes nearest 18 mm in count, worked by hand."""
    deal = deal_fingers(run(length), first="a", second="b", count=None)
    assert len(deal.stretches) == count


@pytest.mark.parametrize(
    ("length", "tabs"), [(60, 1), (120, 2), (300, 5), (30, 1), (18, 1), (10, 0)]
)
def test_tab_counts_by_hand(length, tabs):
    """For 6 mm sheet: one tab in 60 mm, none where tab and shoulders find no room."""
    deal = deal_tabs(run(length), tabbed="a", slotted="b", count=None)
    owners = [stretch.owner for stretch in deal.stretches]
    assert owners.count("a") == tabs
    assert owners[0] == owners[-1] == "b"


def test_tabs_stand_evenly():
    """Five tabs of 18 mm in 300 mm leave six gaps of 35 mm."""
    deal = deal_tabs(run(300), tabbed="a", slotted="b", count=5)
    widths = [round(stretch.width_mm, 9) for stretch in deal.stretches]
    assert widths == [35, 18, 35, 18, 35, 18, 35, 18, 35, 18, 35]


def test_a_cut_in_a_block_moves_to_its_nearer_end():
    """Of three fingers in 90 mm the first cut, at 30, lies in a block from 28 to 34."""
    deal = deal_fingers(run(90, blocks=((28.0, 34.0),)), first="a", second="b", count=3)
    assert [stretch.end_mm for stretch in deal.stretches] == [28.0, 60.0, 90.0]


def test_a_corner_block_leaves_the_finger_a_foot_to_stand_on():
    """A finger that the block of a third panel takes all but a shred of counts as thin."""
    deal = deal_fingers(run(90, t=3.0, blocks=((0.0, 9.0),)), first="a", second="b", count=9)
    assert deal.thinnest_mm == pytest.approx(2.0)  # (10 - 9) mm of it is left, held to half
