"""Stock files: the sheets and offcuts of a workshop, as JSON.

One object with ``stock``: a list of objects with ``width`` and ``height`` in mm, or ``outline``
(a ring of [x, y] in mm, anywhere) and ``holes`` (rings, may be absent) for an offcut of any
shape. An entry may also say ``name``, ``count`` (null or absent for as many as needed), ``price``
of one, in any money, ``material`` and ``thickness``. The face grain runs along x. Other fields
are left alone.

Nothing in such a file is trusted: every message names the file, the entry and the field. What is
written here reads back as the same stock, but for arcs, which become chords.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path as FilePath

from platekit.errors import NestingError
from platekit.geometry.chains import closed_polyline
from platekit.geometry.chords import Side, ring_points
from platekit.geometry.faults import find_faults
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.materials.stock import LARGEST_MM
from platekit.nesting.json_entry import Entry, parsed, read_text
from platekit.nesting.json_rings import profile_of
from platekit.nesting.values import Stock

MOST_SHEETS = 100_000

# Chords of an arc stay inside the true offcut and within this of it; where a web is too thin for
# that, a finer one is tried.
CHORDS_MM = (0.01, 0.001, 0.0001)
DECIMALS = 6

_WHAT = "a stock file"
_POINT = re.compile(r"\[\n\s+(-?[\d.e-]+),\n\s+(-?[\d.e-]+)\n\s+\]")


def read_stock_list(path: FilePath | str) -> tuple[Stock, ...]:
    """Return the stock in the file at `path`.

    Raises:
        NestingError: The file cannot be read, is no JSON, or says something that cannot be.
    """
    return parse_stock_list(read_text(path, what=_WHAT), source=str(FilePath(path)))


def parse_stock_list(text: str, *, source: str) -> tuple[Stock, ...]:
    """Return the stock written in `text`; `source` is what messages call it.

    Raises:
        NestingError: It is no JSON, or says something that cannot be.
    """
    entry = parsed(text, source=source, what=_WHAT)
    listed = entry.listed("stock")
    if not listed:
        entry.fail("stock", "is empty", "list at least one sheet or offcut")
    return tuple(
        _stock(Entry(source, f"stock {number}", said)) for number, said in enumerate(listed, 1)
    )


def stock_text(stock: Iterable[Stock]) -> str:
    """Return stock as the text of a stock file: the same stock, the same bytes.

    Lengths are rounded to a nanometre. An arc is written as chords that stay within the stock.
    """
    said = json.dumps({"stock": [_said(one) for one in stock]}, indent=2, ensure_ascii=False)
    return _POINT.sub(r"[\1, \2]", said) + "\n"


def _stock(entry: Entry) -> Stock:
    name = entry.text("name")
    entry = Entry(entry.source, f"{entry.name}, {name}" if name else entry.name, entry.data)
    width_mm, height_mm, shape = _offcut(entry) if entry.says("outline") else _sheet(entry)
    return Stock(
        width_mm,
        height_mm,
        _count(entry),
        name,
        price=_price(entry),
        material=entry.text("material"),
        thickness_mm=entry.size("thickness") if entry.says("thickness") else None,
        shape=shape,
    )


def _sheet(entry: Entry) -> tuple[float, float, None]:
    for field in ("width", "height"):
        if not entry.says(field):
            entry.fail(field, "is missing", "give width and height, or an outline")
        if entry.size(field) > LARGEST_MM:
            entry.fail(field, f"is {entry.size(field):g}", f"give at most {LARGEST_MM:g} mm")
    if entry.says("holes"):
        entry.fail("holes", "stands without an outline", "give the outline they lie in")
    return entry.size("width"), entry.size("height"), None


def _offcut(entry: Entry) -> tuple[float, float, Profile]:
    for field in ("width", "height"):
        if entry.says(field):
            entry.fail(field, "stands beside an outline", "leave it out: the outline says it")
    shape = _at_origin(profile_of(entry))
    box = shape.bounds
    if max(box.right, box.top) > LARGEST_MM:
        entry.fail(
            "outline",
            f"is {box.right:g} x {box.top:g} mm",
            f"give at most {LARGEST_MM:g} mm either way",
        )
    return box.right, box.top, shape


def _at_origin(shape: Profile) -> Profile:
    return shape.moved(Motion(dx_mm=-shape.bounds.left, dy_mm=-shape.bounds.bottom))


def _count(entry: Entry) -> int | None:
    if not entry.says("count"):
        return None
    return entry.whole("count", entry.data["count"], least=0, most=MOST_SHEETS)


def _price(entry: Entry) -> float | None:
    if not entry.says("price"):
        return None
    return entry.number("price", entry.data["price"], least=0.0)


def _said(stock: Stock) -> Mapping[str, object]:
    said: dict[str, object] = {}
    if stock.name:
        said["name"] = stock.name
    if stock.shape is None:
        said |= {"width": _rounded(stock.width_mm), "height": _rounded(stock.height_mm)}
    said["count"] = stock.count
    if stock.price is not None:
        said["price"] = _rounded(stock.price)
    if stock.material:
        said["material"] = stock.material
    if stock.thickness_mm is not None:
        said["thickness"] = _rounded(stock.thickness_mm)
    if stock.shape is not None:
        outline, *holes = _rings(stock)
        said["outline"] = outline
        if holes:
            said["holes"] = holes
    return said


def _rings(stock: Stock) -> list[list[list[float]]]:
    """Return outline and holes as points, material never added.

    Raises:
        NestingError: A web is so thin that no chords will do.
    """
    assert stock.shape is not None  # noqa: S101 - the caller's own branch
    for tolerance_mm in CHORDS_MM:
        rings = [
            [
                [_rounded(x), _rounded(y)]
                for x, y in ring_points(
                    ring.table, tolerance_mm=tolerance_mm, side=Side.INSIDE, material_left=True
                ).tolist()
            ]
            for ring in stock.shape.rings
        ]
        outer, *inners = (closed_polyline([(x, y) for x, y in ring]) for ring in rings)
        if not find_faults(Profile(outer, tuple(inners))):
            return rings
    raise NestingError(
        f"stock {stock}: a web in it is too thin to be written", remedy="leave that offcut out"
    )


def _rounded(value: float) -> float:
    return round(value, DECIMALS) + 0.0
