"""Nesting from request to proven answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from platekit.nesting.cells.poses import kinds_of
from platekit.nesting.cells.rooms import Room
from platekit.nesting.cells.search import Search
from platekit.nesting.laying import Task
from platekit.nesting.outcome import as_nest, fits_any, too_small
from platekit.nesting.requests import (
    checked_parts,
    checked_stock,
    require_numbers,
    require_room,
)
from platekit.nesting.values import Nest, NestPart, Progress, Roll, Stock
from platekit.nesting.verify import verify

# With no gap asked parts may touch; kept this little apart, an exact distance above 0 proves
# that they do not cross. Forty of them still end up within the 1e-6 mm of verification.
LEAST_GAP_MM = 2e-8


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

    Little stock is the least area of sheets, then the fewest sheets, then the shortest length
    used of the last one. The same input gives the same layout, on any machine, unless `seconds`
    cuts the search short.

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
    wanted = checked_parts(parts)
    stocks = checked_stock(stock)
    require_numbers(gap_mm=gap_mm, margin_mm=margin_mm, seconds=seconds)
    require_room(stocks, margin_mm)
    rooms = [_room(one, gap_mm=max(gap_mm, LEAST_GAP_MM), margin_mm=margin_mm) for one in stocks]
    kinds = kinds_of(wanted)
    task = Task(kinds, stocks, tuple(rooms))
    fitting = [k for k, kind in enumerate(kinds) if fits_any(kind, rooms)]
    if not fitting:
        raise too_small(kinds, tuple(zip(stocks, rooms, strict=True)))
    search = Search(task, fitting, seconds=seconds, seed=seed, progress=progress)
    search.run()
    done = as_nest(task, search.laying, gap_mm=gap_mm, margin_mm=margin_mm)
    faults = verify(done, wanted)
    if faults:  # our mistake, never the maker's: better no layout than a wrong one
        raise AssertionError("; ".join(map(str, faults)))
    return done


def _room(stock: Stock | Roll, *, gap_mm: float, margin_mm: float) -> Room:
    return Room(
        width_mm=None if isinstance(stock, Roll) else stock.width_mm,
        height_mm=stock.height_mm,
        margin_mm=margin_mm,
        gap_mm=gap_mm,
    )
