"""Compaction: every body moved at once, by a linear program, as far left as they go.

Between two convex pieces the best separating line of the moment is kept as a constraint; within
a small step all constraints are linear in the moves, so the longest shortening of the layout is
a linear program. It is solved again from where it led until nothing is gained.

Source:
    Z. Li, V. Milenkovic, Compaction and separation algorithms for non-convex polygons and their
    applications, 1995 (from memory): the locality and the linear program.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from highspy._core import _Highs  # the plain solver: `Highs` says its name on standard output

from platekit.nesting.outlines.bodies import Body, Crowd, Floats

# First step, as a share of the height, and how much finer it becomes when nothing is gained.
FIRST_STEP = 0.03
LAST_STEP = 0.001
FINER = 4.0
MOST_ROUNDS = 40
MOST_PAIRS = 6000  # looked at in the first round; beyond, the first step is made smaller
LEAST_GAIN = 2e-6  # of the length; less is not worth a round

# Bodies are kept this far apart, mm: above the solver's own tolerance of 1e-7, so that an exact
# test finds them apart, and far below the 1e-6 to which a nesting is verified.
STAND_OFF_MM = 4e-7

# Pieces this much further away than two steps cannot meet: a step is up to so long on the slant.
_SLANT = 2.0 * 2.0**0.5


@dataclass(frozen=True, slots=True)
class Strip:
    """Where bodies may lie: from `left_mm` on, between `low_mm` and `high_mm`."""

    left_mm: float
    low_mm: float
    high_mm: float


def compact(
    bodies: Sequence[Body], places: Floats, strip: Strip, *, ends: float = np.inf
) -> Floats | None:
    """Return places at which the bodies are apart and reach less far, or None.

    Args:
        bodies: The bodies.
        places: Where they lie, shape (bodies, 2); small overlaps are taken out.
        strip: Where they may lie.
        ends: Time, of the monotonic clock, after which no further round is begun.
    """
    crowd = Crowd(bodies)
    step = FIRST_STEP * (strip.high_mm - strip.low_mm)
    least = LAST_STEP * (strip.high_mm - strip.low_mm)
    while step > least and crowd.count_near(places, within_mm=_SLANT * step) > MOST_PAIRS:
        step /= 2.0
    here, sound = places, False
    length = _reach(crowd, here)
    for _ in range(MOST_ROUNDS):
        moved = _round(crowd, here, strip, step)
        if moved is None:
            break
        gained = length - _reach(crowd, moved)
        here, sound, length = moved, True, length - gained
        if gained < LEAST_GAIN * length:
            if step <= least:
                break
            step /= FINER
        if time.monotonic() > ends:
            break
    return here if sound else None


def _reach(crowd: Crowd, places: Floats) -> float:
    return float((places[:, 0] + crowd.high[:, 0]).max())


def _round(crowd: Crowd, places: Floats, strip: Strip, step: float) -> Floats | None:
    """Return the places after one linear program; None when it has no answer.

    Its unknowns are the moves along x, along y, and the length reached.
    """
    count = len(places)
    bodies = np.arange(count)
    pairs, normals, apart = crowd.separations(places, within_mm=_SLANT * step)
    one, other = pairs[:, 0], pairs[:, 1]
    at_low, at_high = places + crowd.low, places + crowd.high
    # n . (move of the other - move of the one) >= stand-off - apart, and
    # length - move along x >= right side now.
    columns = np.concatenate(
        [
            np.stack([one, one + count, other, other + count], axis=1).ravel(),
            np.stack([bodies, np.full(count, 2 * count)], axis=1).ravel(),
        ]
    )
    factors = np.concatenate(
        [np.concatenate([-normals, normals], axis=1).ravel(), np.tile([-1.0, 1.0], count)]
    )
    rows = np.concatenate([np.arange(len(pairs)) * 4, len(pairs) * 4 + 2 * bodies])
    left = np.maximum(-step, strip.left_mm - at_low[:, 0])
    down = np.maximum(-step, strip.low_mm - at_low[:, 1])
    up = np.maximum(np.minimum(step, strip.high_mm - at_high[:, 1]), down)
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = 2 * count + 1, len(rows)
    # All else being equal everything lies further left: that makes way for the next round.
    program.col_cost_ = np.concatenate([np.full(count, 1e-4 / count), np.zeros(count), [1.0]])
    program.col_lower_ = np.concatenate([left, down, [strip.left_mm]])
    program.col_upper_ = np.concatenate([np.maximum(step, left), up, [np.inf]])
    program.row_lower_ = np.concatenate([STAND_OFF_MM - apart, at_high[:, 0]])
    program.row_upper_ = np.full(len(rows), np.inf)
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.append(rows, len(columns))
    program.a_matrix_.index_, program.a_matrix_.value_ = columns, factors
    moves = _solved(program)
    if moves is None:
        return None
    return places + np.stack([moves[:count], moves[count : 2 * count]], axis=1)


def _solved(program: highspy.HighsLp) -> Floats | None:
    solver = _Highs()
    solver.setOptionValue("output_flag", False)  # noqa: FBT003 - the library's own way
    solver.setOptionValue("threads", 1)
    solver.passModel(program)
    solver.run()
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return np.array(solver.getSolution().col_value)
