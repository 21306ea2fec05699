"""Nesting parts lists: shapes given by anybody, cut as they are given."""

from __future__ import annotations

import re
import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from platekit.cutting.drawing import Drawing, Piece, sheet_drawing
from platekit.errors import NestingError
from platekit.export.build import file_records, json_text
from platekit.geometry.profile import Profile
from platekit.job.drawings import drawn
from platekit.job.options import Spacing
from platekit.job.progress import Progress, unheard
from platekit.materials import StockSize
from platekit.nesting import Nest, NestedSheet, Roll, Stock, nest, report
from platekit.nesting.parts_list import PartsList, read_parts_lists
from platekit.version import VERSION


@dataclass(frozen=True, slots=True, kw_only=True)
class NestOptions:
    """What a nesting is given besides its parts lists; None takes what the first list says.

    Attributes:
        stock: Sheets at hand.
        roll_height_mm: Height of a roll, instead of sheets.
        gap_mm: Least distance between two parts; 0 where nobody says.
        margin_mm: Least distance from a part to the edge of the stock.
        seconds: Time the search may take; None lets it end by itself.
        seed: Start of the search's chance.
    """

    stock: tuple[StockSize, ...] = ()
    roll_height_mm: float | None = None
    gap_mm: float | None = None
    margin_mm: float = 0.0
    seconds: float | None = None
    seed: int = 0


@dataclass(frozen=True, kw_only=True)
class NestBuild:
    """What one nesting made.

    Attributes:
        name: Name of its folder: the first file's.
        nested: The nesting.
        answer: What ``--json`` prints: sheets, unplaced, seconds.
        files: Every file to write, by its path in the folder.
    """

    name: str
    nested: Nest
    answer: Mapping[str, object]
    files: Mapping[str, str]


def nest_lists(
    paths: Sequence[Path], options: NestOptions, *, progress: Progress = unheard
) -> NestBuild:
    """Return the parts of the lists in `paths` laid on stock; nothing is written.

    Raises:
        NestingError: A list is at fault, no stock is known, or even the smallest part fits none.
    """
    began = time.monotonic()
    lists = read_parts_lists(paths)
    spacing = Spacing(
        gap_mm=_gap_mm(lists, options),
        margin_mm=options.margin_mm,
        seconds=options.seconds,
        seed=options.seed,
    )
    parts = [part for found in lists for part in found.parts]
    nested = nest(
        parts,
        stock=_stock(lists, options),
        gap_mm=spacing.gap_mm,
        margin_mm=spacing.margin_mm,
        seconds=spacing.search_seconds,
        seed=spacing.seed,
        progress=lambda share, said: progress(f"nesting: {said}", share),
    )
    progress("drawing the sheets")
    shapes = {part.name: part.profile for part in parts}
    files = drawn(_drawings(nested.sheets, shapes))
    answer = report(nested, seconds=round(time.monotonic() - began, 3))
    lasting = {name: value for name, value in answer.items() if name != "seconds"}
    record = {
        "platekit": VERSION,
        "parts_lists": [path.name for path in paths],
        "inputs": {
            "gap_mm": spacing.gap_mm,
            "margin_mm": spacing.margin_mm,
            "seconds": spacing.seconds,
            "seed": spacing.seed,
        },
        **lasting,
        "files": [{"path": file.path, "sha256": file.sha256} for file in file_records(files)],
    }
    files["build.json"] = json_text(record)
    return NestBuild(name=_folder_name(paths[0]), nested=nested, answer=answer, files=files)


def _folder_name(path: Path) -> str:
    # A list may be called anything; its folder is to be a folder on every system.
    return re.sub(r"[^A-Za-z0-9_-]+", "-", path.stem).strip("-")[:64] or "nest"


def _gap_mm(lists: Iterable[PartsList], options: NestOptions) -> float:
    if options.gap_mm is not None:
        return options.gap_mm
    return max((found.gap_mm or 0.0 for found in lists), default=0.0)


def _stock(lists: Iterable[PartsList], options: NestOptions) -> Roll | list[Stock]:
    if options.stock and options.roll_height_mm is not None:
        raise NestingError("both --stock and --roll are given", remedy="give one of them")
    if options.roll_height_mm is not None:
        return Roll(options.roll_height_mm)
    if options.stock:
        return [Stock(size.width_mm, size.height_mm, size.count) for size in options.stock]
    for found in lists:
        if found.sheet_mm is not None:
            return [Stock(*found.sheet_mm)]
        if found.roll_height_mm is not None:
            return Roll(found.roll_height_mm)
    raise NestingError("no stock is given", remedy="give --stock WxH[xN] or --roll HEIGHT")


def _drawings(sheets: Iterable[NestedSheet], shapes: Mapping[str, Profile]) -> dict[str, Drawing]:
    return {
        f"sheets/{number}": sheet_drawing(
            [
                Piece(name=placed.part, path=shapes[placed.part], motion=placed.motion)
                for placed in sheet.placements
            ],
            width_mm=sheet.width_mm,
            height_mm=sheet.height_mm,
        )
        for number, sheet in enumerate(sheets, start=1)
    }
