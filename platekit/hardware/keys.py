"""Parallel keys and their keyways, DIN 6885-1."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError
from platekit.handbook import Row, read
from platekit.hardware.items import Item

# Preferred lengths of DIN 6885-1 over the range of the table; from memory.
KEY_LENGTHS_MM = (
    6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 32, 36, 40, 45, 50, 56, 63, 70, 80, 90,
    100, 110, 125, 140, 160, 180,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class ParallelKey:
    """The key for a range of shafts. All in mm.

    Attributes:
        shaft_over_mm: The shaft is thicker than this...
        shaft_to_mm: ...up to and including this.
        width_mm: Width b of key and keyway.
        height_mm: Height h of the key.
        shaft_depth_mm: Depth t1 of the keyway in the shaft.
        hub_depth_mm: Depth t2 of the keyway in the hub, beyond the bore.
        shortest_mm: Shortest length made.
        longest_mm: Longest length made.
        source: Where the figures come from.
    """

    shaft_over_mm: float
    shaft_to_mm: float
    width_mm: float
    height_mm: float
    shaft_depth_mm: float
    hub_depth_mm: float
    shortest_mm: float
    longest_mm: float
    source: str

    @property
    def lengths_mm(self) -> tuple[float, ...]:
        """Preferred lengths of this key, rising."""
        return tuple(n for n in KEY_LENGTHS_MM if self.shortest_mm <= n <= self.longest_mm)

    def item(self, *, length_mm: float, quantity: int = 1, note: str = "") -> Item:
        """Return the bill's line for the key.

        Raises:
            PartError: The key is not made in `length_mm`.
        """
        size = f"{self.width_mm:g}x{self.height_mm:g}"
        if length_mm not in self.lengths_mm:
            listed = ", ".join(f"{n:g}" for n in self.lengths_mm)
            raise PartError(
                f"key {size} is not made {length_mm:g} mm long", remedy=f"take one of {listed} mm"
            )
        return Item(f"parallel key DIN 6885-1 A {size}x{length_mm:g}", quantity, note)


def _key(row: Row) -> ParallelKey:
    return ParallelKey(
        shaft_over_mm=row.length_mm("shaft_over_mm"),
        shaft_to_mm=row.length_mm("shaft_to_mm"),
        width_mm=row.length_mm("width_mm"),
        height_mm=row.length_mm("height_mm"),
        shaft_depth_mm=row.length_mm("shaft_depth_mm"),
        hub_depth_mm=row.length_mm("hub_depth_mm"),
        shortest_mm=row.length_mm("shortest_mm"),
        longest_mm=row.length_mm("longest_mm"),
        source=row.source,
    )


@cache
def known_keys() -> tuple[ParallelKey, ...]:
    """Return the keys of the table, by rising shaft."""
    return tuple(map(_key, read("platekit.hardware", "tables/keys.csv")))


def key_for(shaft_mm: float) -> ParallelKey:
    """Return the standard key for a shaft of diameter `shaft_mm`.

    Raises:
        PartError: The diameter is outside the table.
    """
    keys = known_keys()
    if math.isfinite(shaft_mm):
        for key in keys:
            if key.shaft_over_mm < shaft_mm <= key.shaft_to_mm:
                return key
    raise PartError(
        f"no standard key for a shaft of {shaft_mm} mm",
        remedy=f"the table runs over {keys[0].shaft_over_mm:g} mm, to {keys[-1].shaft_to_mm:g} mm",
    )
