"""How near each other and the edge bolts may stand in wood, what a row loses, when an edge splits.

The strengths of `timber_dowels` hold only from these distances on. They are for bolts in solid wood
along its grain; plywood splits less readily, and taking them for it errs on the safe side.

Source of all rules: EN 1995-1-1:2004, clause 8, from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import (
    require_finite,
    require_positive,
    require_whole,
)

# Table 8.4: a loaded end is never nearer than this, however thin the bolt.
LEAST_LOADED_END_MM = 80.0
# 8.34: a row so spaced loses nothing but its crowding.
FULL_PITCH = 13.0
# 8.4: softwood, N and mm.
SPLITTING = 14.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BoltSpacing:
    """Least distances around bolts in wood.

    Attributes:
        along_mm: Between bolts along the grain, a1.
        across_mm: Between bolts across it, a2.
        loaded_end_mm: To an end the force points at, a3,t.
        free_end_mm: To an end it does not, a3,c.
        loaded_edge_mm: To an edge the force points at, a4,t.
        free_edge_mm: To an edge it does not, a4,c.
    """

    along_mm: float
    across_mm: float
    loaded_end_mm: float
    free_end_mm: float
    loaded_edge_mm: float
    free_edge_mm: float


def bolt_spacing(diameter_mm: float, *, angle_deg: float = 0.0) -> BoltSpacing:
    """Return the least distances for bolts of `diameter_mm` in wood.

    With a the angle of the force to the grain: a1 (4 + |cos a|) d; a2 4 d; a3,t max(7 d, 80 mm);
    a3,c max((1 + 6 |sin a|) d, 4 d); a4,t max((2 + 2 |sin a|) d, 3 d); a4,c 3 d.

    The 80 mm are meant for beams, and no plate with small screws keeps them: what stands nearer is
    outside the code and wants a test.

    Args:
        diameter_mm: The bolt.
        angle_deg: Between force and grain, any.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, table 8.4 (from memory).
    """
    d = require_positive(diameter_mm, "bolt diameter", "mm")
    angle = math.radians(require_finite(angle_deg, "angle to the grain", "degrees"))
    along, across = abs(math.cos(angle)), abs(math.sin(angle))
    return BoltSpacing(
        along_mm=(4 + along) * d,
        across_mm=4 * d,
        loaded_end_mm=max(7 * d, LEAST_LOADED_END_MM),
        free_end_mm=max((1 + 6 * across) * d, 4 * d),
        loaded_edge_mm=max((2 + 2 * across) * d, 3 * d),
        free_edge_mm=3 * d,
    )


def effective_number(
    bolts: int, *, pitch_mm: float, diameter_mm: float, angle_deg: float = 0.0
) -> float:
    """Return how many bolts a row along the grain counts for: n^0.9 (a1 / (13 d))^0.25, at most n.

    Across the grain all of them count; between the two the number is interpolated.

    Args:
        bolts: How many in the row.
        pitch_mm: Between them, a1.
        diameter_mm: The bolt.
        angle_deg: Between force and grain, any.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, 8.5.1.1 (4) and 8.34 (from memory).
    """
    count = require_whole(bolts, "number of bolts")
    pitch = require_positive(pitch_mm, "pitch", "mm")
    crowding = pitch / (FULL_PITCH * require_positive(diameter_mm, "bolt diameter", "mm"))
    along = min(float(count), math.pow(count, 0.9) * math.pow(crowding, 0.25))
    turned = abs(require_finite(angle_deg, "angle to the grain", "degrees")) % 180
    share = min(turned, 180 - turned) / 90
    return (1 - share) * along + share * count


def splitting_n(*, breadth_mm: float, depth_mm: float, reach_mm: float) -> float:
    """Return the shear beside a joint that splits softwood along its grain, N.

    14 b sqrt(he / (1 - he / h)), characteristic, for force across the grain: the larger shear force
    to either side of the joint is compared with it.

    Args:
        breadth_mm: Of the wood, b.
        depth_mm: Of the wood across the grain, h.
        reach_mm: From the loaded edge to the farthest bolt, he, less than the depth.

    Raises:
        PartError: A number cannot be, or the bolts lie outside the wood.

    Source:
        EN 1995-1-1:2004, 8.1.4, 8.4 (from memory), without punched plates. Softwood only.
    """
    depth = require_positive(depth_mm, "depth of the wood", "mm")
    reach = require_positive(reach_mm, "reach of the bolts", "mm")
    if reach >= depth:
        raise PartError(
            f"reach of the bolts is {reach:g} mm in wood {depth:g} mm deep",
            remedy="measure from the loaded edge to the farthest bolt inside the wood",
        )
    breadth = require_positive(breadth_mm, "breadth of the wood", "mm")
    return SPLITTING * breadth * math.sqrt(reach / (1 - reach / depth))
