"""The last word on a nesting: exact distances between the true shapes as placed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from platekit.geometry.containment import edge_distance, keeps_inside, stands_inside
from platekit.geometry.distance import distance
from platekit.geometry.profile import Profile
from platekit.nesting.values import Nest, NestedSheet, NestPart, Placement, Roll

# What a placed coordinate may lose to rounding; a thousandth of a micron.
ROUNDING_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Violation:
    """One thing wrong with a nesting.

    Attributes:
        sheet: Which sheet, from 1; 0 when it is no single one.
        parts: The parts concerned, ``name #copy``.
        problem: What is wrong, the measured value included.
    """

    sheet: int
    parts: tuple[str, ...]
    problem: str

    def __str__(self) -> str:
        """Return it as one line."""
        where = f"sheet {self.sheet}: " if self.sheet else ""
        return f"{where}{' and '.join(self.parts)}: {self.problem}"


def verify(nest: Nest, parts: Iterable[NestPart]) -> tuple[Violation, ...]:
    """Return everything wrong with `nest` as a nesting of `parts`; empty when it is sound.

    Every copy is somewhere exactly once, on the stock it asks for, turned and mirrored only
    as allowed, inside its sheet's margin by exact bounds, and every pair on a sheet keeps the gap
    by exact distance. Parts that belong together lie on one sheet, or on none.
    """
    by_name = {part.name: part for part in parts}
    found = [*_miscounted(nest, by_name), *_parted(nest, by_name)]
    for number, sheet in enumerate(nest.sheets, start=1):
        placed = [
            (placement, by_name[placement.part].profile.moved(placement.motion))
            for placement in sheet.placements
            if placement.part in by_name
        ]
        found.extend(_misused(number, sheet, by_name))
        found.extend(_outside(number, sheet, placed, nest.margin_mm))
        found.extend(_too_close(number, placed, nest.gap_mm))
    return tuple(found)


def _miscounted(nest: Nest, by_name: dict[str, NestPart]) -> Iterator[Violation]:
    seen = Counter((p.part, p.copy) for sheet in nest.sheets for p in sheet.placements)
    seen.update((entry.part, entry.copy) for entry in nest.unplaced)
    wanted = {(name, k) for name, p in by_name.items() for k in range(1, p.quantity + 1)}
    for (name, copy), count in seen.items():
        if (name, copy) not in wanted:
            yield Violation(0, (f"{name} #{copy}",), "was never asked for")
        elif count > 1:
            yield Violation(0, (f"{name} #{copy}",), f"appears {count} times")
    for name, copy in sorted(wanted - set(seen)):
        yield Violation(0, (f"{name} #{copy}",), "is missing")
    used = Counter(sheet.stock for sheet in nest.sheets)
    for stock, count in used.items():
        if not isinstance(stock, Roll) and stock.count is not None and count > stock.count:
            yield Violation(0, (str(stock),), f"{count} sheets used, there are {stock.count}")


def _parted(nest: Nest, by_name: dict[str, NestPart]) -> Iterator[Violation]:
    """Yield the companies that do not lie on one sheet, and not on none."""
    words = {name: part.together for name, part in by_name.items() if part.together}
    lying: dict[str, set[int]] = {}  # 0 for on none
    for number, sheet in enumerate(nest.sheets, start=1):
        for placement in sheet.placements:
            if placement.part in words:
                lying.setdefault(words[placement.part], set()).add(number)
    for entry in nest.unplaced:
        if entry.part in words:
            lying.setdefault(words[entry.part], set()).add(0)
    for word, sheets in lying.items():
        if len(sheets) > 1:
            names = tuple(name for name, said in words.items() if said == word)
            where = ", ".join(str(number) if number else "none" for number in sorted(sheets))
            yield Violation(0, names, f"belong together as {word!r}, lie on sheets {where}")


def _misused(number: int, sheet: NestedSheet, by_name: dict[str, NestPart]) -> Iterator[Violation]:
    for placement in sheet.placements:
        part = by_name.get(placement.part)
        if part is None:
            continue
        if not part.may_lie_on(sheet.stock):
            yield Violation(
                number, (_label(placement),), f"lies on {sheet.stock}, not on {part.on!r}"
            )
        if placement.mirrored and not part.mirror:
            yield Violation(number, (_label(placement),), "lies face down")
        if part.rotations_deg is None:
            continue
        off = min(abs((placement.rotation_deg - a + 180) % 360 - 180) for a in part.rotations_deg)
        if off > 1e-9:
            yield Violation(
                number, (_label(placement),), f"turned {placement.rotation_deg:g} degrees"
            )


def _outside(
    number: int,
    sheet: NestedSheet,
    placed: Sequence[tuple[Placement, Profile]],
    margin_mm: float,
) -> Iterator[Violation]:
    for placement, profile in placed:
        box = profile.bounds
        spare = min(box.left, box.bottom, sheet.width_mm - box.right, sheet.height_mm - box.top)
        if spare < margin_mm - ROUNDING_MM:
            yield Violation(number, (_label(placement),), f"{spare:.6f} mm from the sheet's edge")
        elif not isinstance(sheet.stock, Roll) and sheet.stock.shape is not None:
            problem = _off_shape(profile, sheet.stock.shape, margin_mm)
            if problem:
                yield Violation(number, (_label(placement),), problem)


def _off_shape(profile: Profile, shape: Profile, margin_mm: float) -> str:
    """Return in words how a placed part leaves the shape of an offcut; empty when it does not."""
    if margin_mm <= ROUNDING_MM:
        inside = keeps_inside(profile, shape, slack_mm=ROUNDING_MM)
        return "" if inside else "reaches over the edge of the offcut"
    spare = edge_distance(profile, shape)
    if spare < margin_mm - ROUNDING_MM:
        return f"{spare:.6f} mm from the offcut's edge"
    return "" if stands_inside(profile, shape) else "lies off the offcut"


def _too_close(
    number: int, placed: Sequence[tuple[Placement, Profile]], gap_mm: float
) -> Iterator[Violation]:
    for k, m in _near_pairs([profile for _, profile in placed], within_mm=gap_mm):
        apart = distance(placed[k][1], placed[m][1])
        # Shapes that cross are 0 apart; with no gap asked they must still not cross, and our
        # own layouts keep LEAST_GAP_MM, so 0 is always wrong.
        if apart <= 0.0 or apart < gap_mm - ROUNDING_MM:
            names = (_label(placed[k][0]), _label(placed[m][0]))
            yield Violation(number, names, f"{apart:.6f} mm apart")


def _near_pairs(profiles: Sequence[Profile], *, within_mm: float) -> Iterator[tuple[int, int]]:
    """Yield the pairs whose bounds come within reach of each other, by a sweep along x."""
    boxes = [profile.bounds for profile in profiles]
    by_left = sorted(range(len(boxes)), key=lambda k: boxes[k].left)
    active: list[int] = []
    for k in by_left:
        box = boxes[k]
        active = [m for m in active if boxes[m].right >= box.left - within_mm]
        for m in active:
            other = boxes[m]
            if other.top >= box.bottom - within_mm and other.bottom <= box.top + within_mm:
                yield m, k
        active.append(k)


def _label(placement: Placement) -> str:
    return f"{placement.part} #{placement.copy}"
