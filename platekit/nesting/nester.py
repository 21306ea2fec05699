"""Nesting from request to proven answer."""

from __future__ import annotations

import math
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from platekit.geometry.packing_ground import Ground
from platekit.nesting.cells.poses import Kind, kinds_of
from platekit.nesting.cells.rooms import Room
from platekit.nesting.cells.search import Search
from platekit.nesting.companies import fitting_kinds
from platekit.nesting.groups import Group, groups_of, still_there
from platekit.nesting.laying import Laying, Task, score
from platekit.nesting.outcome import StockRooms, as_nest, fits_any, no_stock_for, too_small
from platekit.nesting.outlines.portions import may_have_portion
from platekit.nesting.outlines.search import cells_share, improved
from platekit.nesting.requests import (
    checked_parts,
    checked_stock,
    require_gap_within,
    require_numbers,
    require_room,
)
from platekit.nesting.sharing import shares
from platekit.nesting.values import Nest, NestPart, Progress, Roll, Stock
from platekit.nesting.verify import verify
from platekit.nesting.wishes import require_one_sheet_possible, require_stock_named

# With no gap asked parts may touch; kept this little apart, an exact distance above 0 proves
# that they do not cross. Forty of them still end up within the 1e-6 mm of verification.
LEAST_GAP_MM = 2e-8

# Less time than this that the outlines leave over is not worth going back to the cells.
LEAST_REST_S = 0.5


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

    Little stock is the lowest price of sheets, where all stock that can serve has one, then the
    least area, then the fewest sheets, then the shortest length used of the last one. Parts of
    one material and thickness are laid by themselves, on stock that states the same or nothing.
    The same input gives the same layout, on any machine, unless `seconds` cuts the search short.
    Interrupted from the keyboard, the search ends with the best it has.

    Args:
        parts: What to place; names unique. Profiles as the beam's path should run.
        stock: One size of sheet, several, offcuts of any shape among them, or a roll.
        gap_mm: Least distance between two parts, 0 or more.
        margin_mm: Least distance from a part to the sheet's edge, its holes too, 0 or more.
        seconds: Stop searching after so long, above 0; the first layout is always finished.
            None lets the search end by itself.
        seed: Chance enters here and only here.
        progress: Called with the share done (0 to 1) and a line on the best so far.

    Returns:
        The sheets, and by name and reason every copy that fits none of them.

    Raises:
        NestingError: No parts or no stock, a name used twice, a gap, margin or time that is not
            a number or out of range, a gap or margin that leaves nothing of the sheet, a part
            that names a stock nobody knows, parts that cannot lie together as they say, or stock
            too small for even the smallest part.
    """
    wanted = checked_parts(parts)
    stocks = checked_stock(stock)
    require_numbers(gap_mm=gap_mm, margin_mm=margin_mm, seconds=seconds, seed=seed)
    require_gap_within(stocks, gap_mm)
    require_room(stocks, margin_mm)
    rooms = [_room(one, gap_mm=max(gap_mm, LEAST_GAP_MM), margin_mm=margin_mm) for one in stocks]
    groups = groups_of(wanted)
    require_stock_named(wanted, [stock] if isinstance(stock, Stock | Roll) else stock)
    require_one_sheet_possible(groups)
    kinds = [kinds_of(group.parts) for group in groups]
    serving = [_may_use(group, stocks, rooms) for group in groups]
    _require_fit(groups, kinds, serving)
    # whoever has least to choose from goes first: others can do without
    turns = sorted(range(len(groups)), key=lambda number: len(serving[number]))
    in_turn = [groups[number] for number in turns]
    used: Counter[int] = Counter()
    done: dict[int, Nest] = {}
    for number, share in zip(
        turns, shares(in_turn, seconds=seconds, progress=progress), strict=True
    ):
        group = share.group
        task, numbers = _task(group, kinds[number], stocks, rooms, used)
        laying, interrupted = _laid(
            task,
            fitting_kinds(task),
            seconds=share.seconds,
            seed=seed,
            progress=share.progress,
            first_only=any(one.interrupted for one in done.values()),
        )
        found = as_nest(
            task,
            laying,
            gap_mm=gap_mm,
            margin_mm=margin_mm,
            given=serving[number],
            of=str(group),
        )
        taken = [numbers[sheet.stock] for sheet in laying]
        used.update(taken)
        done[number] = _of_group(found, group, [stocks[k] for k in taken], interrupted=interrupted)
    nesting = _together([done[number] for number in sorted(done)])
    faults = verify(nesting, wanted)
    if faults:  # our mistake, never the maker's: better no layout than a wrong one
        raise AssertionError("; ".join(map(str, faults)))
    return nesting


def _laid(
    task: Task,
    fitting: Sequence[int],
    *,
    seconds: float | None,
    seed: int,
    progress: Progress | None,
    first_only: bool,
) -> tuple[Laying, bool]:
    """Return the best laying of one group that the search finds, and whether it was interrupted.

    Args:
        task: What is to be laid on what.
        fitting: Numbers of the kinds that fit some stock; without any the laying is empty.
        seconds: Stop after so long; None lets the search end by itself.
        seed: Start of chance.
        progress: Called with the share done and a line on the best so far.
        first_only: Whether the first laying will do.
    """
    if not fitting:
        return (), False
    ends = math.inf if seconds is None else time.monotonic() + seconds
    dense = seconds is not None and may_have_portion(task)
    share = 1.0 if seconds is None or not dense else cells_share(task, seconds=seconds)
    search = Search(
        task,
        fitting,
        seconds=None if seconds is None else share * seconds,
        seed=seed,
        progress=progress,
    )
    if first_only:
        return search.laying, False
    try:
        search.run()
    except KeyboardInterrupt:  # there is a layout: whoever will not wait may have it
        return search.laying, True
    if not dense:
        return search.laying, False
    laying, interrupted = improved(task, search.laying, ends=ends, seed=seed, progress=progress)
    if interrupted or time.monotonic() + LEAST_REST_S > ends:
        return laying, interrupted
    try:  # with nothing left to try by outlines, what is left of the time is the cells'
        search.go_on(ends=ends)
    except KeyboardInterrupt:
        interrupted = True
    return min(laying, search.laying, key=lambda found: score(task, found)), interrupted


def _require_fit(
    groups: Sequence[Group], kinds: Sequence[Sequence[Kind]], serving: Sequence[StockRooms]
) -> None:
    """Check that something fits somewhere.

    Raises:
        NestingError: Nothing does.
    """
    useless: list[tuple[Kind, StockRooms]] = []
    for of_group, given in zip(kinds, serving, strict=True):
        for kind in of_group:
            if fits_any(kind, given):
                return
            useless.append((kind, [pair for pair in given if kind.part.may_lie_on(pair[0])]))
    small = [entry for entry in useless if entry[1]]
    if small:
        smallest, there = min(small, key=lambda entry: entry[0].hull_mm2)
        raise too_small((smallest,), there)
    raise no_stock_for(kinds[0][0], serving[0], groups[0])


def _may_use(group: Group, stocks: Sequence[Stock | Roll], rooms: Sequence[Room]) -> StockRooms:
    return tuple(pair for pair in zip(stocks, rooms, strict=True) if group.may_use(pair[0]))


def _task(
    group: Group,
    kinds: tuple[Kind, ...],
    stocks: Sequence[Stock | Roll],
    rooms: Sequence[Room],
    used: Counter[int],
) -> tuple[Task, list[int]]:
    """Return what is to be done for a group, and the numbers of its stock among all stock.

    Stock that nothing fits is left out: it may want a price.
    """
    there = [
        (number, one)
        for number, one in enumerate(still_there(stocks, used))
        if one is not None and group.may_use(one)
        if any(fits_any(kind, [(one, rooms[number])]) for kind in kinds)
    ]
    task = Task(
        kinds,
        tuple(one for _, one in there),
        tuple(rooms[number] for number, _ in there),
    )
    return task, [number for number, _ in there]


def _of_group(
    nest: Nest, group: Group, taken: Sequence[Stock | Roll], *, interrupted: bool
) -> Nest:
    """Return the nesting of a group with what its sheets were taken from, and of what they are."""
    return replace(
        nest,
        sheets=tuple(
            replace(sheet, stock=stock, material=group.material, thickness_mm=group.thickness_mm)
            for sheet, stock in zip(nest.sheets, taken, strict=True)
        ),
        interrupted=interrupted,
    )


def _together(nests: Sequence[Nest]) -> Nest:
    """Return several nestings as one."""
    return replace(
        nests[0],
        sheets=tuple(sheet for nest in nests for sheet in nest.sheets),
        unplaced=tuple(entry for nest in nests for entry in nest.unplaced),
        interrupted=any(nest.interrupted for nest in nests),
    )


def _room(stock: Stock | Roll, *, gap_mm: float, margin_mm: float) -> Room:
    return Room(
        width_mm=None if isinstance(stock, Roll) else stock.width_mm,
        height_mm=stock.height_mm,
        margin_mm=margin_mm,
        gap_mm=gap_mm,
        ground=_ground(stock, margin_mm),
    )


def _ground(stock: Stock | Roll, margin_mm: float) -> Ground | None:
    if isinstance(stock, Roll) or stock.shape is None:
        return None
    return Ground(stock.shape, margin_mm=margin_mm)
