"""The outcome: a laying as a nesting, and in words what found no sheet and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from platekit.errors import NestingError
from platekit.nesting.cells.poses import Kind
from platekit.nesting.cells.rooms import Room
from platekit.nesting.groups import UNSTATED, Group
from platekit.nesting.laying import Laying, Task, area_mm2, parts_on_mm2, used_length_mm
from platekit.nesting.offcuts import offcuts_of
from platekit.nesting.values import Nest, NestedSheet, Placement, Roll, Stock, Unplaced

StockRooms = Sequence[tuple[Stock | Roll, Room]]


def as_nest(
    task: Task,
    laying: Laying,
    *,
    gap_mm: float,
    margin_mm: float,
    given: StockRooms,
    of: str,
) -> Nest:
    """Return `laying` as what the caller hears.

    Args:
        task: What was asked for.
        laying: Where everything lies.
        gap_mm: The gap asked for.
        margin_mm: The margin asked for.
        given: All stock that the parts may use, also what of it others have used up.
        of: What the parts are cut from, in words.
    """
    copies: Counter[int] = Counter()
    sheets = []
    for sheet in laying:
        stock = task.stocks[sheet.stock]
        placements = []
        for lying in sheet.lying:
            copies[lying.kind] += 1
            placements.append(
                Placement(
                    part=task.kinds[lying.kind].part.name,
                    copy=copies[lying.kind],
                    x_mm=lying.x_mm,
                    y_mm=lying.y_mm,
                    rotation_deg=lying.rotation_deg,
                    mirrored=lying.mirrored,
                )
            )
        length = used_length_mm(task, sheet)
        width = length if isinstance(stock, Roll) else stock.width_mm
        sheets.append(
            NestedSheet(
                stock=stock,
                width_mm=width,
                height_mm=stock.height_mm,
                placements=tuple(placements),
                used_length_mm=min(length, width),
                utilisation=parts_on_mm2(task, sheet) / area_mm2(task, sheet),
                offcuts=offcuts_of(stock, used_length_mm=length),
            )
        )
    unplaced = [
        Unplaced(part=kind.part.name, copy=copy, reason=_reason(kind, given, of))
        for k, kind in enumerate(task.kinds)
        for copy in range(copies[k] + 1, kind.part.quantity + 1)
    ]
    return Nest(sheets=tuple(sheets), unplaced=tuple(unplaced), gap_mm=gap_mm, margin_mm=margin_mm)


def too_small(kinds: Sequence[Kind], stock_rooms: StockRooms) -> NestingError:
    """Return the error that says that no part fits any stock."""
    smallest = min(kinds, key=lambda kind: kind.hull_mm2)
    return NestingError(
        f"the smallest part, {_measured(smallest)} in its allowed turns, fits no sheet: "
        f"{_rooms(stock_rooms)}",
        part=smallest.part.name,
        remedy="give larger stock or a smaller margin",
    )


def no_stock_for(kind: Kind, stock_rooms: StockRooms, group: Group) -> NestingError:
    """Return the error that says that a kind has no stock at all to lie on."""
    half_stated = not group.material or group.thickness_mm is None
    return NestingError(
        _reason(kind, stock_rooms, str(group)),
        part=kind.part.name,
        remedy="state material and thickness in parts and stock alike, or in neither"
        if half_stated
        else "give stock of the part's own material and thickness",
    )


def fits_any(kind: Kind, stock_rooms: Iterable[tuple[Stock | Roll, Room]]) -> bool:
    """Return whether a kind may lie on any of the stock and fits its empty room."""
    return any(
        kind.part.may_lie_on(stock) and any(turn.fits(room) for turn in kind.turns)
        for stock, room in stock_rooms
    )


def _reason(kind: Kind, stock_rooms: StockRooms, of: str) -> str:
    if not stock_rooms:
        if of == UNSTATED:
            return "all stock states a material or thickness, but the part states none"
        return f"no stock of {of} is given"
    wished = [pair for pair in stock_rooms if kind.part.may_lie_on(pair[0])]
    if not wished:
        return f"no stock {kind.part.on!r} of {of} is given"
    if fits_any(kind, wished) and kind.part.together:
        return f"no sheet has room for all that belongs together as {kind.part.together!r}"
    if fits_any(kind, wished):
        return "no sheet is left that has room for it"
    return f"at {_measured(kind)} it fits no sheet: {_rooms(wished)}"


def _measured(kind: Kind) -> str:
    turn = min(kind.turns, key=lambda turn: max(turn.width_mm, turn.height_mm))
    return f"{turn.width_mm:.6g} x {turn.height_mm:.6g} mm"


def _rooms(stock_rooms: StockRooms) -> str:
    """Return what each stock leaves inside its margin, in words."""
    said = []
    for stock, room in stock_rooms:
        wide = "open" if room.width_mm is None else f"{room.inner_width_mm:.6g}"
        shaped = "" if room.ground is None else ", less what its shape lacks,"
        size = f"{wide} x {room.inner_height_mm:.6g} mm"
        said.append(f"{stock} leaves {size}{shaped} inside the margin")
    return ", ".join(said)
