"""Joints of a panel as a group: what each of them takes of what acts on the panel."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from platekit.geometry.tables import Floats

Place = tuple[float, float]
# Below this share of the largest stiffness a group is taken not to hold at all.
LEAST_SHARE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring:
    """A joint that holds along itself.

    Attributes:
        at: A place on it, from the loaded axis.
        way: Unit vector along it.
        stiffness: How stiff beside the others: the number of its tabs.
    """

    at: Place
    way: Place
    stiffness: float


def shares_along(
    springs: Sequence[Spring], *, torque_nmm: float, radial_n: float
) -> tuple[float, ...] | None:
    """Return the force along each joint, N, the force across the axis in its worst direction.

    The panel is rigid in its plane and each joint holds along itself only. None where such joints
    do not hold it: all of one direction, or all through one place.

    Args:
        springs: The joints.
        torque_nmm: About the loaded axis.
        radial_n: Through it, in whichever direction is worst for the joint looked at.

    Source:
        Stiff floor on walls that resist along themselves: textbooks of building structures (from
        memory).
    """
    if not springs:
        return None
    arms = [one.at[0] * one.way[1] - one.at[1] * one.way[0] for one in springs]
    # Turning is told in the longest arm, so that all three have one unit.
    scale = max(1.0, *(abs(arm) for arm in arms))
    rows = np.array(
        [[*one.way, arm / scale] for one, arm in zip(springs, arms, strict=True)], dtype=float
    )
    stiffness = np.array([one.stiffness for one in springs])
    group = rows.T @ (stiffness[:, None] * rows)
    strong = np.linalg.eigvalsh(group)
    if strong[0] <= LEAST_SHARE * strong[-1]:
        return None
    given = np.diag([radial_n, radial_n, torque_nmm / scale])
    each: Floats = stiffness[:, None] * (rows @ np.linalg.solve(group, given))
    return tuple(float(math.hypot(x, y) + abs(turn)) for x, y, turn in each)


def shares_across(
    spots: Sequence[Place], *, axial_n: float, moment_nmm: float
) -> tuple[float, ...] | None:
    """Return the force across the plane at each place that holds a panel, N, the worst case.

    The panel is rigid, every place as stiff as the next; the axial force acts at the loaded axis,
    the moment about whichever line through it is worst. None where they do not hold the moment:
    all in one line.

    Args:
        spots: The places, from the loaded axis.
        axial_n: Across the panel.
        moment_nmm: That tips what is on it.

    Source:
        Balance; A / n + M y / sum y^2 in both directions, textbooks (from memory).
    """
    if not spots:
        return None
    places = np.array(spots, dtype=float)
    middle = places.mean(axis=0)
    arms = places - middle
    spread = arms.T @ arms
    strong = np.linalg.eigvalsh(spread)
    if strong[0] <= LEAST_SHARE * max(strong[-1], 1.0):
        beside = bool(np.hypot(*middle) > 1.0)
        if moment_nmm or beside:
            return None
        return tuple(axial_n / len(spots) for _ in spots)
    turned = np.linalg.solve(spread, arms.T).T
    even = axial_n * (1.0 / len(spots) - turned @ middle)
    tipped = moment_nmm * np.hypot(turned[:, 0], turned[:, 1])
    return tuple(float(abs(a) + b) for a, b in zip(even, tipped, strict=True))
