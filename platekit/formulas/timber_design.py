"""From what wood holds in a short test to what it may be trusted with.

Rd = kmod Rk / gamma M: wood under lasting load, or damp, gives way earlier. Loads that turn about
with every revolution and fatigue are outside these factors.

Source of all factors: EN 1995-1-1:2004, clauses 2 and 3, from memory.
"""

from __future__ import annotations

import math

from platekit.errors import UnknownNameError
from platekit.formulas.quantities import require_between, require_zero_up

# How long the load stands in all: over 10 years, half a year up, a week up, less, a blow.
DURATIONS = ("permanent", "long", "medium", "short", "instant")
# Table 3.1, indoors and under a roof (service classes 1 and 2); MDF dry indoors only (class 1).
MODIFICATION = {
    "solid timber": (0.60, 0.70, 0.80, 0.90, 1.10),
    "glulam": (0.60, 0.70, 0.80, 0.90, 1.10),
    "lvl": (0.60, 0.70, 0.80, 0.90, 1.10),
    "plywood": (0.60, 0.70, 0.80, 0.90, 1.10),
    "mdf": (0.20, 0.40, 0.60, 0.80, 1.10),
}
# Table 2.3: partial factors of materials and of connections.
PARTIAL = {
    "connection": 1.30,
    "solid timber": 1.30,
    "glulam": 1.25,
    "lvl": 1.20,
    "plywood": 1.20,
    "osb": 1.20,
    "mdf": 1.30,
}


def modification(material: str, duration: str) -> float:
    """Return kmod: what is left of a short test's strength after a load of `duration`.

    Args:
        material: "plywood", "solid timber", "glulam", "lvl" or "mdf".
        duration: "permanent", "long", "medium", "short" or "instant"; of several loads together,
            the shortest.

    Raises:
        UnknownNameError: There is no such material or duration here.

    Source:
        EN 1995-1-1:2004, table 3.1 (from memory).
    """
    if material not in MODIFICATION:
        raise UnknownNameError.among("wood", material, MODIFICATION)
    if duration not in DURATIONS:
        raise UnknownNameError.among("load duration", duration, DURATIONS)
    return MODIFICATION[material][DURATIONS.index(duration)]


def joint_modification(first: float, second: float) -> float:
    """Return kmod of a joint between two woods: the geometric mean of theirs.

    Raises:
        PartError: One of them cannot be.

    Source:
        EN 1995-1-1:2004, 2.3.2.1 (2), 2.6 (from memory).
    """
    return math.sqrt(
        require_between(first, "first kmod", 0.1, 1.1)
        * require_between(second, "second kmod", 0.1, 1.1)
    )


def partial_factor(of: str) -> float:
    """Return gamma M of a material, or of a "connection".

    Raises:
        UnknownNameError: There is none for it here.

    Source:
        EN 1995-1-1:2004, table 2.3 (from memory). Countries may set their own.
    """
    if of not in PARTIAL:
        raise UnknownNameError.among("partial factor", of, PARTIAL)
    return PARTIAL[of]


def design_value(characteristic: float, *, kmod: float, gamma: float) -> float:
    """Return kmod Rk / gamma M, in the unit of `characteristic`.

    Args:
        characteristic: A strength or stress that 95 of 100 samples reach, 0 or more.
        kmod: `modification`.
        gamma: `partial_factor`.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, 2.14 and 2.17 (from memory).
    """
    strength = require_zero_up(characteristic, "characteristic value")
    return (
        require_between(kmod, "kmod", 0.1, 1.1)
        * strength
        / require_between(gamma, "gamma M", 1.0, 3.0)
    )
