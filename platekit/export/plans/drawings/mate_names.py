"""Names of the parts that meet an edge, in grey along it: what a drawing's tabs are for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platekit.export.plans.drawings.edge_mates import Mate
from platekit.export.plans.drawings.labels import Field, Spot
from platekit.export.plans.printing.lettering import CAPITAL, width_of
from platekit.export.plans.printing.pens import QUIET
from platekit.export.plans.printing.press import Press

NAME_MM = 1.8 / CAPITAL
# Air between what a joint takes and the name, and how far the name may move in and along.
OFF_MM, IN_MM = 1.0, (0.0, 2.5, 5.0)
SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
AIR_MM = 0.4
# A name is no longer than what it names, or than this.
SHORT_MM = 14.0


def name_mates(
    press: Press, field: Field, mates: Sequence[Mate], *, corner: Spot, scale: float
) -> int:
    """Write each name along its edge, inside the part, where there is room; return how many."""
    count = 0
    for mate in mates:
        along = width_of(mate.name, size_mm=NAME_MM) + 2 * AIR_MM
        across = NAME_MM * CAPITAL + 2 * AIR_MM
        if along > max((mate.to_mm - mate.from_mm) * scale, SHORT_MM):
            continue  # nobody would know which of several slots it names
        upward = mate.edge in {"left", "right"}
        size = (across, along) if upward else (along, across)
        found = field.place(_spots(mate, size, corner, scale, field.part), size)
        if found is None:
            continue
        count += 1
        x, y = found
        if upward:
            foot = x + across - AIR_MM
            press.text(mate.name, foot, y + AIR_MM, size_mm=NAME_MM, colour=QUIET, upward=True)
        else:
            press.text(mate.name, x + AIR_MM, y + AIR_MM, size_mm=NAME_MM, colour=QUIET)
    return count


def _spots(
    mate: Mate,
    size: tuple[float, float],
    corner: Spot,
    scale: float,
    part: tuple[float, float, float, float],
) -> Iterator[Spot]:
    """Yield left lower corners for a name, the middle of its edge first."""
    # What is narrow has its name at its bottom or nowhere.
    is_narrow = (mate.to_mm - mate.from_mm) * scale < max(size)
    for off in IN_MM[:1] if is_narrow else IN_MM:
        deep = mate.deep_mm * scale + OFF_MM + off
        for share in SHARES:
            at = (mate.from_mm + share * (mate.to_mm - mate.from_mm)) * scale
            if mate.edge in {"bottom", "top"}:
                y = part[1] + deep if mate.edge == "bottom" else part[3] - deep - size[1]
                yield corner[0] + at - size[0] / 2, y
            else:
                x = part[0] + deep if mate.edge == "left" else part[2] - deep - size[0]
                yield x, corner[1] + at - size[1] / 2
