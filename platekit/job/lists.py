"""Nesting parts lists: shapes given by anybody, cut as they are given."""

from __future__ import annotations

import hashlib
import re
import time
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from platekit.errors import NestingError
from platekit.export.build import file_records
from platekit.export.plain_json import json_text
from platekit.job.drawings import drawn, sheet_drawings
from platekit.job.laid import LaidSheet
from platekit.job.leftovers import sheet_lists
from platekit.job.names import lettered
from platekit.job.options import NamesAs, Spacing
from platekit.job.pictures import pictures
from platekit.job.progress import Progress, unheard
from platekit.job.shelf import (
    Shelf,
    Shelved,
    require_cuttable,
    require_one_kind,
    shelf_as_given,
    stock_words,
)
from platekit.materials import StockSize
from platekit.nesting import Nest, NestedSheet, NestPart, Roll, Stock, nest, report
from platekit.nesting.parts_list import PartsList, read_parts_lists
from platekit.panel.flipping import Face
from platekit.version import VERSION


@dataclass(frozen=True, slots=True, kw_only=True)
class NestOptions:
    """What a nesting is given besides its parts lists; None takes what the first list says.

    Attributes:
        stock: Sizes of sheets, and stock files.
        roll_height_mm: Height of a roll, instead of sheets.
        gap_mm: Least distance between two parts; 0 where nobody says.
        margin_mm: Least distance from a part to the edge of the stock.
        seconds: Time the search may take, above 0; None lets it end by itself.
        seed: Start of the search's chance.
        names: How the parts' names stand on the sheets.
    """

    stock: tuple[StockSize | Path, ...] = ()
    roll_height_mm: float | None = None
    gap_mm: float | None = None
    margin_mm: float = 0.0
    seconds: float | None = None
    seed: int = 0
    names: NamesAs = "none"


@dataclass(frozen=True, kw_only=True)
class NestBuild:
    """What one nesting made.

    Attributes:
        name: Name of its folder: the first file's.
        nested: The nesting.
        laid: Its sheets, as files show them.
        answer: What ``--json`` prints: sheets, unplaced, seconds.
        files: Every file to write, by its path in the folder.
        nameless: Parts that should carry their name but have no room for it, or letters in it
            that cannot be scored.
        interrupted: Whether the search was stopped from the keyboard, at its best so far.
    """

    name: str
    nested: Nest
    laid: tuple[LaidSheet, ...]
    answer: Mapping[str, object]
    files: Mapping[str, str]
    nameless: tuple[str, ...] = ()
    interrupted: bool = False


def nest_lists(
    paths: Sequence[Path], options: NestOptions, *, progress: Progress = unheard
) -> NestBuild:
    """Return the parts of the lists in `paths` laid on stock; nothing is written.

    Raises:
        NestingError: A list or a stock file is at fault, no stock is known, a material must not
            be cut, or stock and parts cannot come together.
    """
    began = time.monotonic()
    lists = read_parts_lists(paths)
    spacing = Spacing(
        gap_mm=_gap_mm(lists, options),
        margin_mm=options.margin_mm,
        seconds=options.seconds,
        seed=options.seed,
    )
    shelf = _shelf(lists, options)
    parts = [part for found in lists for part in found.parts]
    for part in parts:
        require_cuttable(part.material, part=part.name)
    nested = nest(
        parts,
        stock=shelf.stock,
        gap_mm=spacing.gap_mm,
        margin_mm=spacing.margin_mm,
        seconds=spacing.seconds,
        seed=spacing.seed,
        progress=lambda share, said: progress(f"nesting: {said}", share),
    )
    if not nested.sheets:  # no result is no reason to write over an older one
        first = nested.unplaced[0]
        raise NestingError(
            f"nothing can be laid: {first.reason}",
            part=first.part,
            remedy="give stock that has room for it",
        )
    progress("drawing the sheets")
    name = _folder_name(paths[0])
    laid = tuple(map(_laid, nested.sheets))
    faces = _faces(parts, laid, names=options.names)
    files = drawn(
        sheet_drawings(
            laid,
            faces=faces,
            paths={part.name: part.profile for part in parts},
            names=options.names,
        )
    )
    files |= pictures(lists[0].name, sheets=laid, faces=faces)
    files |= sheet_lists(laid, shelf)
    answer = report(nested, seconds=round(time.monotonic() - began, 3))
    lasting = {name: value for name, value in answer.items() if name != "seconds"}
    record = {
        "platekit": VERSION,
        "parts_lists": [path.name for path in paths],
        "inputs": {
            "stock": _stock_words(shelf),
            "gap_mm": spacing.gap_mm,
            "margin_mm": spacing.margin_mm,
            "seconds": spacing.seconds,
            "seed": spacing.seed,
            "names": options.names,
        },
        **lasting,
        "files": [{"path": file.path, "sha256": file.sha256} for file in file_records(files)],
    }
    files["build.json"] = json_text(record)
    unmarked = [face.name for face in faces if not face.marks]
    return NestBuild(
        name=name,
        nested=nested,
        laid=laid,
        answer=answer,
        files=files,
        nameless=tuple(unmarked) if options.names == "score" else (),
        interrupted=nested.interrupted,
    )


def _folder_name(path: Path) -> str:
    # A list may be called anything; its folder is to be a folder on every system. Names of
    # which nothing is left must not all lead to one folder.
    plain = re.sub(r"[^A-Za-z0-9_-]+", "-", path.stem).strip("-")[:64]
    return plain or f"nest-{hashlib.sha256(path.stem.encode()).hexdigest()[:8]}"


def _gap_mm(lists: Iterable[PartsList], options: NestOptions) -> float:
    if options.gap_mm is not None:
        return options.gap_mm
    return max((found.gap_mm or 0.0 for found in lists), default=0.0)


def _shelf(lists: Iterable[PartsList], options: NestOptions) -> Shelf:
    require_one_kind(options.stock, options.roll_height_mm)
    if options.roll_height_mm is not None:
        return Shelf(roll=Roll(options.roll_height_mm))
    if options.stock:
        return shelf_as_given(options.stock)
    for found in lists:
        if found.sheet_mm is not None:
            size = Stock(*found.sheet_mm)
            return Shelf(entries=(Shelved(size, size),))
        if found.roll_height_mm is not None:
            return Shelf(roll=Roll(found.roll_height_mm))
    raise NestingError(
        "no stock is given", remedy="give --stock WxH[xN], --stock FILE.json or --roll HEIGHT"
    )


def _stock_words(shelf: Shelf) -> list[str]:
    stock = shelf.stock
    return [stock_words(one) for one in (stock if isinstance(stock, list) else [stock])]


def _laid(nested: NestedSheet) -> LaidSheet:
    stock = nested.stock
    stated = stock if isinstance(stock, Stock) else None
    material = nested.material or (stated.material if stated else "")
    thickness_mm = nested.thickness_mm
    if thickness_mm is None and stated is not None:
        thickness_mm = stated.thickness_mm
    thick = "" if thickness_mm is None else f"{thickness_mm:.6g} mm"
    return LaidSheet(
        nested=nested,
        kind=" ".join(filter(None, (material, thick))),
        material=material,
        thickness_mm=thickness_mm,
    )


def _faces(parts: Iterable[NestPart], laid: Iterable[LaidSheet], *, names: NamesAs) -> list[Face]:
    """Return the good face of every part that lies somewhere."""
    lying = {placed.part for sheet in laid for placed in sheet.nested.placements}
    faces = [Face(name=part.name, profile=part.profile) for part in parts if part.name in lying]
    return [lettered(face) for face in faces] if names == "score" else faces
