"""The shelf: what a job may be cut from, out of all that was given on the command line.

Sizes given plainly are there for every kind of sheet the job needs. An entry of a stock file is
there for the sheets whose material and thickness, sold or measured, are its own. Only a kind of
sheet that nothing was given for is cut from the sizes it is usually sold in.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from platekit.errors import NestingError, UnknownNameError
from platekit.findings import Finding, Severity
from platekit.materials import Laser, Sheet, StockSize, material
from platekit.nesting import NestedSheet, Roll, Stock
from platekit.nesting.stock_list import read_stock_list

# Thicknesses nearer than this are one.
SAME_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Shelved:
    """One entry as it was given, and as the nesting takes it; None where it serves no sheet."""

    given: Stock
    taken: Stock | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelf:
    """What may be cut from.

    Attributes:
        entries: Sheets and offcuts; empty for a roll.
        roll: The roll, if it is one.
        findings: Which sheets nothing was given for.
    """

    entries: tuple[Shelved, ...] = ()
    roll: Roll | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def stock(self) -> Roll | list[Stock]:
        """The stock as the nesting takes it: equal entries as one."""
        return self.roll or _merged(one.taken for one in self.entries if one.taken is not None)

    def left_after(self, sheets: Iterable[NestedSheet]) -> list[Stock]:
        """Return what is left of the counted entries once `sheets` are cut."""
        used = Counter(_kind(one.stock) for one in sheets if isinstance(one.stock, Stock))
        left = []
        for one in self.entries:
            count = one.given.count
            if count is None:
                continue
            if one.taken is not None:
                gone = min(count, used[_kind(one.taken)])
                used[_kind(one.taken)] -= gone
                count -= gone
            if count > 0:
                left.append(replace(one.given, count=count))
        return left


def require_one_kind(stock: Sequence[object], roll_height_mm: float | None) -> None:
    """Check that not both sheets and a roll are given.

    Raises:
        NestingError: They are.
    """
    if stock and roll_height_mm is not None:
        raise NestingError("both --stock and --roll are given", remedy="give one of them")


def shelf_as_given(given: Sequence[StockSize | Path]) -> Shelf:
    """Return a shelf for parts that say themselves what they are cut from.

    Raises:
        NestingError: A stock file is at fault.
    """
    return Shelf(entries=tuple(Shelved(one, one) for part in given for one in _read(part)))


def shelf_for(
    kinds: Sequence[Sheet],
    given: Sequence[StockSize | Path],
    *,
    roll_height_mm: float | None = None,
) -> Shelf:
    """Return the shelf of a job that is cut from sheets of these kinds.

    Args:
        kinds: Every kind of sheet, each once.
        given: Sizes and stock files.
        roll_height_mm: Height of a roll instead.

    Raises:
        NestingError: A stock file is at fault, or both stock and a roll are given.
    """
    require_one_kind(given, roll_height_mm)
    if roll_height_mm is not None:
        return Shelf(roll=Roll(roll_height_mm))
    entries: list[Shelved] = []
    served: set[Sheet] = set()
    for part in given:
        for entry in _read(part):
            if isinstance(part, StockSize):
                entries += [Shelved(one, one) for one in (_of(entry, kind) for kind in kinds)]
                served.update(kinds)
                continue
            meant = _meant(entry, kinds)
            served.update(meant)
            entries.append(Shelved(entry, _of(entry, meant[0], stated=True) if meant else None))
    findings = []
    for kind in kinds:
        if kind in served:
            continue
        sizes = [_of(_plain(size), kind) for size in kind.stock]
        entries += [Shelved(one, one) for one in sizes]
        if given:
            findings.append(_usual(kind, given))
    return Shelf(entries=tuple(entries), findings=tuple(findings))


def require_cuttable(name: str, *, part: str) -> None:
    """Check that a material a parts list names is none that a laser must not cut.

    Raises:
        NestingError: It is one.
    """
    try:
        what = material(name)
    except UnknownNameError:
        return
    if what.laser is Laser.REFUSED:
        raise NestingError(
            f"{what.name} must not be cut by a laser: {what.laser_reason}",
            part=part,
            remedy="choose another material",
        )


def stock_words(stock: Stock | Roll) -> str:
    """Return an entry in one line for the record: name, size, count."""
    if isinstance(stock, Roll):
        return str(stock)
    size = f"{stock.width_mm:.12g}x{stock.height_mm:.12g}"
    if stock.count is not None:
        size += f"x{stock.count}"
    words = (f"{stock.name}:" if stock.name else "", size, "shaped" if stock.shape else "")
    return " ".join(filter(None, words))


def serves(stock: Stock | Roll, kind: Sheet) -> bool:
    """Return whether stock as the nesting takes it is there for a kind of sheet."""
    if isinstance(stock, Roll):
        return True
    return stock.material in ("", kind.material.name) and (
        stock.thickness_mm is None or _near(stock.thickness_mm, kind.thickness_mm)
    )


def _read(part: StockSize | Path) -> Sequence[Stock]:
    return (_plain(part),) if isinstance(part, StockSize) else read_stock_list(part)


def _plain(size: StockSize) -> Stock:
    return Stock(size.width_mm, size.height_mm, size.count)


def _meant(entry: Stock, kinds: Sequence[Sheet]) -> list[Sheet]:
    """Return the kinds an entry is there for: as it measures, or else as it is sold."""

    def alike(thickness: Callable[[Sheet], float]) -> list[Sheet]:
        return [
            kind
            for kind in kinds
            if (not entry.material or _known(entry.material) == kind.material.name)
            and (entry.thickness_mm is None or _near(entry.thickness_mm, thickness(kind)))
        ]

    # What is sold as 6 mm can be two sheets that measure differently: it is the first.
    return alike(lambda kind: kind.thickness_mm) or alike(lambda kind: kind.nominal_mm)[:1]


def _of(entry: Stock, kind: Sheet, *, stated: bool = False) -> Stock:
    """Return an entry as stock of a kind of sheet; with `stated`, only in what it states."""
    return replace(
        entry,
        material=kind.material.name if entry.material or not stated else "",
        thickness_mm=(kind.thickness_mm if entry.thickness_mm is not None or not stated else None),
    )


def _known(name: str) -> str:
    """Return the name under which our table knows a material, or the name itself."""
    try:
        return material(name).name
    except UnknownNameError:
        return name


def _near(one_mm: float, other_mm: float) -> bool:
    return abs(one_mm - other_mm) <= SAME_MM


def _kind(stock: Stock) -> Stock:
    """Return what makes two entries the same stock: everything but how many there are."""
    return replace(stock, count=None)


def _merged(stock: Iterable[Stock]) -> list[Stock]:
    counts: dict[Stock, int | None] = {}
    for one in stock:
        kind = _kind(one)
        before = counts.get(kind, 0)
        counts[kind] = None if before is None or one.count is None else before + one.count
    return [replace(kind, count=count) for kind, count in counts.items()]


def _usual(kind: Sheet, given: Sequence[StockSize | Path]) -> Finding:
    files = ", ".join(part.name for part in given if isinstance(part, Path))
    return Finding(
        severity=Severity.NOTE,
        part=kind.name,
        measure=f"no entry of {files} is meant for it, so it is cut from the sizes it is sold in: "
        f"{', '.join(map(str, kind.stock))}",
        remedy="give its stock too, or check material and thickness in the file",
    )
