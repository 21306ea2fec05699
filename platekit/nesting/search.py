"""The search: lay out, shuffle, keep the better one, and prove the best."""

from __future__ import annotations

import math
import random
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence

from platekit.errors import NestingError
from platekit.nesting.filling import Area, Ask, Lean
from platekit.nesting.layout import (
    Layout,
    Plan,
    Rack,
    Taste,
    lay_out,
    part_area_mm2,
    sheet_area_mm2,
    used_length_mm,
)
from platekit.nesting.poses import Kind, kinds_of
from platekit.nesting.values import (
    Nest,
    NestedSheet,
    NestPart,
    Placement,
    Roll,
    Stock,
    Unplaced,
)
from platekit.nesting.verify import verify

# With no gap asked parts may touch; kept this little apart, an exact distance above 0 proves
# that they do not cross. Forty of them still end up within the 1e-6 mm of verification.
LEAST_GAP_MM = 2e-8

# Cells per sheet: so many as a rule, more when parts are small against the sheet, never beyond
# the most: effort grows with the cells of the sheet times those of a part's side.
USUAL_CELLS = 200_000
MOST_CELLS = 2_000_000
CELLS_ACROSS_A_PART = 12

# The search ends by itself after so many layouts, or so many bytes shifted: a few seconds on a
# common computer, and the same layout on every computer.
MOST_LAYOUTS = 96
MOST_WORK = 8_000_000_000

# So many shuffles in a row that were tried before: few parts have few orders.
MOST_REPEATS = 12

RELEAN = 0.3  # share of the copies that lean another way in a shuffled order, at most
SHUFFLE = 0.25  # how far a copy moves in a shuffled order, as a share of the whole, at most

Progress = Callable[[float, str], None]


def nest(
    parts: Iterable[NestPart],
    *,
    stock: Stock | Roll | Sequence[Stock],
    gap_mm: float = 0.0,
    margin_mm: float = 0.0,
    seconds: float | None = None,
    seed: int = 0,
    progress: Progress | None = None,
) -> Nest:
    """Place every copy of every part on as little stock as the search finds, and verify it.

    The same input gives the same layout, on any machine, unless `seconds` cuts the search short.

    Args:
        parts: What to place; names unique. Profiles as the beam's path should run.
        stock: One size of sheet, several, or a roll.
        gap_mm: Least distance between two parts, 0 or more.
        margin_mm: Least distance from a part to the sheet's edge, 0 or more.
        seconds: Stop searching after so long, above 0; the first layout is always finished.
            None lets the search end by itself.
        seed: Chance enters here and only here.
        progress: Called with the share done (0 to 1) and a line on the best so far.

    Returns:
        The sheets, and by name and reason every copy that fits none of them.

    Raises:
        NestingError: No parts or no stock, a name used twice, a gap, margin or time that is not
            a number or out of range, a margin that leaves nothing of the sheet, or stock too
            small for even the smallest part.
    """
    wanted = _checked_parts(parts)
    stocks = _checked_stock(stock)
    _require_numbers(gap_mm=gap_mm, margin_mm=margin_mm, seconds=seconds)
    _require_room(stocks, margin_mm)
    gap = max(gap_mm, LEAST_GAP_MM)
    cell = _cell_mm(wanted, stocks)
    areas = tuple(
        Area(
            width_mm=None if isinstance(one, Roll) else one.width_mm,
            height_mm=one.height_mm,
            margin_mm=margin_mm,
            gap_mm=gap,
            cell_mm=cell,
        )
        for one in stocks
    )
    rack = Rack(stocks, areas)
    kinds = kinds_of(wanted, gap_mm=gap, cell_mm=cell)
    fitting = [k for k, kind in enumerate(kinds) if _fits_any(kind, areas)]
    if not fitting:
        raise _too_small(kinds, rack)
    best = _best(rack, kinds, fitting, seconds=seconds, seed=seed, progress=progress)
    done = _as_nest(best, rack, kinds, gap_mm=gap_mm, margin_mm=margin_mm)
    faults = verify(done, wanted)
    if faults:  # our mistake, never the maker's: better no layout than a wrong one
        raise AssertionError("; ".join(map(str, faults)))
    return done


def _best(
    rack: Rack,
    kinds: Sequence[Kind],
    fitting: Sequence[int],
    *,
    seconds: float | None,
    seed: int,
    progress: Progress | None,
) -> Layout:
    """Return the best layout found."""
    ends = math.inf if seconds is None else time.monotonic() + seconds
    chance = random.Random(seed)  # noqa: S311 - a shuffle, not a secret
    firsts = iter(_first_plans(kinds, fitting, several=len(rack.stocks) > 1))
    plan = next(firsts)
    best = lay_out(rack, kinds, plan, is_over=lambda: False)
    assert best is not None  # noqa: S101 - the first layout is never given up
    best_plan, score, work = plan, _score(best, rack, kinds), best.work
    tried, repeats = {plan}, 0
    for number in range(1, MOST_LAYOUTS + 1):
        share = max(number / MOST_LAYOUTS, work / MOST_WORK)
        if progress is not None:
            progress(min(share, 1.0), _said(best, rack))
        if share >= 1.0:
            break
        plan = next(firsts, None) or _shuffled(best_plan, best, len(rack.stocks), chance)
        repeats = repeats + 1 if plan in tried else 0
        if repeats > MOST_REPEATS:
            break
        if repeats:
            continue
        tried.add(plan)
        found = lay_out(rack, kinds, plan, is_over=lambda: time.monotonic() > ends)
        if found is None:
            break
        work += found.work
        found_score = _score(found, rack, kinds)
        if found_score < score:
            best, best_plan, score = found, plan, found_score
    return best


def _first_plans(kinds: Sequence[Kind], fitting: Sequence[int], *, several: bool) -> Iterator[Plan]:
    """Yield the plans that are tried as they are: large parts first, by several measures."""
    measures: tuple[Callable[[Kind], float], ...] = (
        lambda kind: kind.hull_mm2,
        _longest_side_mm,
        lambda kind: _longest_side_mm(kind) * kind.hull_mm2,
        lambda kind: min(pose.width_mm for pose in kind.poses),
    )
    tastes = (Taste.FULLEST, Taste.LARGEST) if several else (Taste.FULLEST,)
    for measure in measures[:1] if several else measures:  # then other stock tells more
        keys = [(-measure(kind), k) for k, kind in enumerate(kinds)]
        largest_first = sorted(fitting, key=keys.__getitem__)
        for lean in Lean:
            order = tuple(
                Ask(k, lean) for k in largest_first for _ in range(kinds[k].part.quantity)
            )
            for taste in tastes:
                yield Plan(order, taste)


def _shuffled(plan: Plan, best: Layout, stocks: int, chance: random.Random) -> Plan:
    """Return `plan` with some copies moved a little forward or back, or another stock taken."""
    count = len(plan.order)
    reach = SHUFFLE * count * chance.random() + 1.0
    keys = [
        place + (reach * chance.gauss(0.0, 1.0) if chance.random() < 0.5 else 0.0)
        for place in range(count)
    ]
    releaned = RELEAN * chance.random()
    order = tuple(
        Ask(plan.order[k].kind, chance.choice(list(Lean)))
        if chance.random() < releaned
        else plan.order[k]
        for k in sorted(range(count), key=lambda k: (keys[k], k))
    )
    taken = [index for index, _ in best.sheets]
    if stocks > 1 and chance.random() < 0.5:
        at = chance.randrange(len(taken))
        taken = [*taken[:at], chance.randrange(stocks)]
    return Plan(order, plan.taste, tuple(taken) if stocks > 1 else ())


def _score(layout: Layout, rack: Rack, kinds: Sequence[Kind]) -> tuple[float, ...]:
    """Return what makes a layout worse: area left over, sheet area, sheets, last length used."""
    left = sum(kinds[ask.kind].part.profile.area_mm2 for ask in layout.left)
    cost = sum(
        sheet_area_mm2(rack.stocks[index], filled, margin_mm=rack.areas[index].margin_mm)
        for index, filled in layout.sheets
    )
    last = layout.sheets[-1][1]
    return (left, cost, len(layout.sheets), max(laid.right_mm for laid in last.laid))


def _said(layout: Layout, rack: Rack) -> str:
    index, last = layout.sheets[-1]
    length = used_length_mm(last, margin_mm=rack.areas[index].margin_mm)
    count = len(layout.sheets)
    return f"{count} sheet{'s' if count > 1 else ''}, last used to {length:.0f} mm"


def _as_nest(
    layout: Layout, rack: Rack, kinds: Sequence[Kind], *, gap_mm: float, margin_mm: float
) -> Nest:
    copies: Counter[int] = Counter()
    sheets = []
    for index, filled in layout.sheets:
        stock = rack.stocks[index]
        placements = []
        for laid in filled.laid:
            copies[laid.kind] += 1
            placements.append(
                Placement(
                    part=kinds[laid.kind].part.name,
                    copy=copies[laid.kind],
                    x_mm=laid.dx_mm,
                    y_mm=laid.dy_mm,
                    rotation_deg=laid.pose.rotation_deg,
                )
            )
        length = used_length_mm(filled, margin_mm=margin_mm)
        width = length if isinstance(stock, Roll) else stock.width_mm
        sheets.append(
            NestedSheet(
                stock=stock,
                width_mm=width,
                height_mm=stock.height_mm,
                placements=tuple(placements),
                used_length_mm=min(length, width),
                utilisation=part_area_mm2(filled, kinds) / (width * stock.height_mm),
            )
        )
    unplaced = [
        Unplaced(part=kind.part.name, copy=copy, reason=_reason(kind, rack))
        for k, kind in enumerate(kinds)
        for copy in range(copies[k] + 1, kind.part.quantity + 1)
    ]
    return Nest(sheets=tuple(sheets), unplaced=tuple(unplaced), gap_mm=gap_mm, margin_mm=margin_mm)


def _reason(kind: Kind, rack: Rack) -> str:
    if _fits_any(kind, rack.areas):
        return "no sheet is left that has room for it"
    return f"at {_measured(kind)} it fits no sheet: {_rooms(rack)}"


def _fits_any(kind: Kind, areas: Iterable[Area]) -> bool:
    return any(area.admits(pose) for area in areas for pose in kind.poses)


def _too_small(kinds: Sequence[Kind], rack: Rack) -> NestingError:
    smallest = min(kinds, key=lambda kind: kind.hull_mm2)
    return NestingError(
        f"the smallest part, {_measured(smallest)} in its allowed turns, fits no sheet: "
        f"{_rooms(rack)}",
        part=smallest.part.name,
        remedy="give larger stock or a smaller margin",
    )


def _measured(kind: Kind) -> str:
    pose = min(kind.poses, key=lambda pose: max(pose.width_mm, pose.height_mm))
    return f"{pose.width_mm:.6g} x {pose.height_mm:.6g} mm"


def _rooms(rack: Rack) -> str:
    """Return what each stock leaves inside its margin, in words."""
    said = []
    for stock, area in zip(rack.stocks, rack.areas, strict=True):
        high = f"{area.height_mm - 2 * area.margin_mm:.6g}"
        wide = "open" if area.width_mm is None else f"{area.width_mm - 2 * area.margin_mm:.6g}"
        said.append(f"{stock} leaves {wide} x {high} mm inside the margin")
    return ", ".join(said)


def _longest_side_mm(kind: Kind) -> float:
    return max(max(pose.width_mm, pose.height_mm) for pose in kind.poses)


def _cell_mm(parts: Sequence[NestPart], stocks: Sequence[Stock | Roll]) -> float:
    """Return the size of a cell: a round number, so that parts of whole millimetres fit cells."""
    boxes = [part.profile.bounds for part in parts]
    filled = sum(
        box.width_mm * box.height_mm * part.quantity for box, part in zip(boxes, parts, strict=True)
    )
    largest = max(
        filled * 1.2 if isinstance(one, Roll) else one.width_mm * one.height_mm for one in stocks
    )
    sides = sorted(min(box.width_mm, box.height_mm) for box in boxes)
    small = sides[len(sides) // 4]
    cell = min(math.sqrt(largest / USUAL_CELLS), small / CELLS_ACROSS_A_PART)
    cell = max(cell, math.sqrt(largest / MOST_CELLS))
    power = 10.0 ** math.floor(math.log10(cell))
    return max(step * power for step in (1.0, 2.0, 2.5, 5.0) if step * power <= cell * (1 + 1e-9))


def _checked_parts(parts: Iterable[NestPart]) -> tuple[NestPart, ...]:
    wanted = tuple(parts)
    if not wanted:
        raise NestingError("there are no parts", remedy="give at least one")
    for name, count in Counter(part.name for part in wanted).items():
        if count > 1:
            raise NestingError(
                f"the name is used {count} times", part=name, remedy="give every part its own name"
            )
    return wanted


def _checked_stock(stock: Stock | Roll | Sequence[Stock]) -> tuple[Stock | Roll, ...]:
    stocks = (stock,) if isinstance(stock, Stock | Roll) else tuple(stock)
    there = tuple(one for one in stocks if isinstance(one, Roll) or one.count != 0)
    if not there:
        raise NestingError("there is no stock", remedy="give at least one sheet size")
    return there


def _require_numbers(*, gap_mm: float, margin_mm: float, seconds: float | None) -> None:
    for name, value in (("gap", gap_mm), ("margin", margin_mm)):
        if not (math.isfinite(value) and value >= 0):
            raise NestingError(f"{name} is {value:g} mm", remedy=f"give a {name} of 0 or more")
    if seconds is not None and not seconds > 0:
        raise NestingError(f"seconds is {seconds:g}", remedy="give a time above 0, or none")


def _require_room(stocks: Iterable[Stock | Roll], margin_mm: float) -> None:
    for one in stocks:
        sides = [one.height_mm] if isinstance(one, Roll) else [one.width_mm, one.height_mm]
        if min(sides) <= 2 * margin_mm:
            raise NestingError(
                f"a margin of {margin_mm:g} mm leaves nothing of stock {one}",
                remedy=f"give a margin below {min(sides) / 2:g} mm",
            )
