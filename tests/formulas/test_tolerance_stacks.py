"""Tolerance chains against printed fits, every corner tried, and lots drawn."""

import itertools
import math

import numpy as np
import pytest

from platekit.errors import PartError
from platekit.formulas.tolerance_stacks import Link, stack_up

# A slot with two sheets in it, drawn tight by a wedge under a slope of 1:2.
CHAIN = [
    Link(name="slot", nominal_mm=12.4, upper_mm=0.2, lower_mm=0.0),
    Link(name="sheet one", nominal_mm=6.0, upper_mm=0.0, lower_mm=-0.4, factor=-1),
    Link(name="sheet two", nominal_mm=6.0, upper_mm=0.1, lower_mm=-0.3, factor=-1),
    Link(name="wedge", nominal_mm=1.0, upper_mm=0.05, lower_mm=-0.05, factor=-0.5),
]


def fit(hole, shaft):
    """Least and most clearance of a 20 mm fit from its deviations in microns."""
    links = [
        Link(name="hole", nominal_mm=20, upper_mm=hole[0] / 1000, lower_mm=hole[1] / 1000),
        Link(
            name="shaft",
            nominal_mm=20,
            upper_mm=shaft[0] / 1000,
            lower_mm=shaft[1] / 1000,
            factor=-1,
        ),
    ]
    return stack_up(links).worst_mm


def test_a_printed_running_fit():
    """Bhandari, Design of Machine Elements, Example 3.1: 20 H6/e7, clearance 0.040 to 0.074 mm.

    Deviations of ISO 286-2: H6 +13 0, e7 -40 -61.
    """
    assert fit((13, 0), (-40, -61)) == pytest.approx((0.040, 0.074), abs=1e-9)


def test_a_printed_press_fit():
    """Bhandari, Example 3.2: 20 H7/s6, interference 0.014 to 0.048 mm.

    Deviations of ISO 286-2: H7 +21 0, s6 +48 +35.
    """
    assert fit((21, 0), (48, 35)) == pytest.approx((-0.048, -0.014), abs=1e-9)


def test_worst_case_is_the_worst_of_all_corners():
    """Each of the sixteen ways to set four sizes to a limit, added up."""
    ends = [
        [link.factor * (link.nominal_mm + d) for d in (link.lower_mm, link.upper_mm)]
        for link in CHAIN
    ]
    sums = [sum(corner) for corner in itertools.product(*ends)]
    assert stack_up(CHAIN).worst_mm == pytest.approx((min(sums), max(sums)))


def test_root_sum_square_is_three_sigmas_of_drawn_chains():
    """200 000 chains of normal sizes that fill their limits at three sigmas, seeded."""
    chance = np.random.default_rng(20)
    gaps = sum(
        link.factor
        * chance.normal(
            link.nominal_mm + (link.upper_mm + link.lower_mm) / 2,
            (link.upper_mm - link.lower_mm) / 6,
            200_000,
        )
        for link in CHAIN
    )
    stack = stack_up(CHAIN)
    assert stack.middle_mm == pytest.approx(float(np.mean(gaps)), abs=0.002)
    assert stack.rss_half_mm == pytest.approx(3 * float(np.std(gaps)), rel=0.01)


def test_shares_are_what_fixing_one_size_takes_away():
    """Variance falls by just its share when a link no longer varies."""
    stack = stack_up(CHAIN)
    assert sum(share for _, share in stack.shares) == pytest.approx(1)
    for place, (name, share) in enumerate(stack.shares):
        fixed = list(CHAIN)
        fixed[place] = Link(name=name, nominal_mm=1, upper_mm=0, lower_mm=0)
        left = stack_up(fixed).rss_half_mm ** 2 / stack.rss_half_mm**2
        assert 1 - left == pytest.approx(share, abs=1e-12)


@pytest.mark.parametrize("count", [1, 4, 9, 100])
def test_equal_links_grow_with_the_root_of_their_number(count):
    """Textbook: n times at worst, root n as a rule."""
    links = [Link(name="sheet", nominal_mm=6, upper_mm=0.1, lower_mm=-0.1)] * count
    stack = stack_up(links)
    assert stack.worst_half_mm == pytest.approx(0.1 * count)
    assert stack.rss_half_mm == pytest.approx(0.1 * math.sqrt(count))


def test_uneven_limits_move_the_middle_and_not_the_nominal():
    """12.4 - 6 - 6 - 0.5 = -0.1; deviations' middles add +0.1 +0.2 +0.1 to it."""
    stack = stack_up(CHAIN)
    assert stack.nominal_mm == pytest.approx(-0.1)
    assert stack.middle_mm == pytest.approx(0.3)
    assert stack.rss_mm[1] - stack.rss_mm[0] == pytest.approx(2 * stack.rss_half_mm)


def test_nothing_varies_where_nothing_varies():
    """No division by no variance."""
    stack = stack_up([Link(name="pin", nominal_mm=5, upper_mm=0, lower_mm=0)])
    assert stack.worst_mm == (5, 5)
    assert stack.shares == (("pin", 0.0),)


def test_impossible_chains_are_refused():
    """No links, crossed limits, a link that does nothing."""
    with pytest.raises(PartError, match="has no links"):
        stack_up([])
    with pytest.raises(PartError, match=r"slot lies from \+0.2 to -0.1 mm"):
        Link(name="slot", nominal_mm=6, upper_mm=-0.1, lower_mm=0.2)
    with pytest.raises(PartError, match="factor of slot is 0"):
        Link(name="slot", nominal_mm=6, upper_mm=0.1, lower_mm=0, factor=0)
