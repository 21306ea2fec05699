"""Laying the cut parts on stock: one nesting, in which each kind of sheet is a group of its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from platekit.errors import NestingError
from platekit.findings import Finding, Severity
from platekit.job.beams import CutPart
from platekit.job.options import Options
from platekit.job.progress import Progress
from platekit.job.shelf import Shelf, shelf_for
from platekit.materials import Sheet
from platekit.nesting import QUARTER_TURNS, NestedSheet, NestPart, Unplaced, nest
from platekit.panel.part import Grain, Part
from platekit.showing import Shows

# Turns that lay the part's grain along the stock's x, degrees.
_TURNS = {Grain.ANY: QUARTER_TURNS, Grain.ALONG_X: (0.0, 180.0), Grain.ALONG_Y: (90.0, 270.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class StockedSheet(Shows):
    """One nested sheet and what is known of it.

    Attributes:
        sheet: What it is cut from.
        nested: What lies where.
        kerf_mm: Width of the cut.
        parts: Every kind of part that lies on it.
    """

    sheet: Sheet
    nested: NestedSheet
    kerf_mm: float
    parts: tuple[Part, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocked:
    """Every nested sheet, and what it was taken from.

    Attributes:
        sheets: The sheets.
        findings: One for each kind of part that found no room, for each kind of sheet that no
            stock was given for, and for each size of stock that the laser's bed has no room for.
        shelf: What there was to cut from.
        kinds: Every kind of sheet the job is cut from.
        interrupted: Whether the search was stopped from the keyboard.
    """

    sheets: tuple[StockedSheet, ...]
    findings: tuple[Finding, ...]
    shelf: Shelf
    kinds: tuple[Sheet, ...]
    interrupted: bool = False


def lay_on_stock(parts: Sequence[CutPart], *, options: Options, progress: Progress) -> Stocked:
    """Return the parts laid on the stock of their own sheets.

    Raises:
        NestingError: A stock file is at fault, or stock and parts cannot come together.
    """
    of_kind = _of_kind(parts)
    kinds = tuple(of_kind.values())
    shelf = shelf_for(kinds, options.stock, roll_height_mm=options.roll_height_mm)
    _require_named_stock_serves(parts, shelf)
    spacing = options.spacing
    done = nest(
        [_nest_part(one) for one in parts],
        stock=shelf.stock,
        gap_mm=spacing.gap_mm,
        margin_mm=spacing.margin_mm,
        seconds=spacing.seconds,
        seed=spacing.seed,
        progress=lambda share, said: progress(f"nesting: {said}", share),
    )
    by_name = {one.part.name: of_kind[_key(one.part.sheet)] for one in parts}
    kerfs = {one.part.name: one.beam.kerf_mm for one in parts}
    lying = [(nested.placements[0].part, nested) for nested in done.sheets]
    return Stocked(
        sheets=tuple(
            StockedSheet(
                sheet=by_name[name],
                nested=nested,
                kerf_mm=kerfs[name],
                parts=_lying_on(nested, parts),
            )
            for name, nested in lying
        ),
        findings=(
            *_left_over(done.unplaced, by_name),
            *shelf.findings,
            *_beyond_bed(done.sheets, options.bed_mm),
        ),
        shelf=shelf,
        kinds=kinds,
        interrupted=done.interrupted,
    )


def _lying_on(nested: NestedSheet, parts: Iterable[CutPart]) -> tuple[Part, ...]:
    names = {placed.part for placed in nested.placements}
    return tuple(one.part for one in parts if one.part.name in names)


def _require_named_stock_serves(parts: Iterable[CutPart], shelf: Shelf) -> None:
    """Check that no plate asks for stock that is there, but for no sheet of this job."""
    served = {entry.given.name for entry in shelf.entries if entry.taken is not None}
    idle = {entry.given.name for entry in shelf.entries if entry.taken is None} - served
    for part in (one.part for one in parts):
        if part.laying.on and part.laying.on in idle:
            raise NestingError(
                f"on is {part.laying.on!r}, which is stock of another material or thickness",
                part=part.name,
                remedy=f"name stock of {part.sheet.name}",
            )


def _of_kind(parts: Iterable[CutPart]) -> dict[tuple[str, float], Sheet]:
    """Return the kinds of sheet: one material measuring the same is one, whoever asked for it."""
    found: dict[tuple[str, float], Sheet] = {}
    for one in parts:
        found.setdefault(_key(one.part.sheet), one.part.sheet)
    return found


def _key(sheet: Sheet) -> tuple[str, float]:
    return sheet.material.name, sheet.thickness_mm


def _nest_part(one: CutPart) -> NestPart:
    part = one.part
    return NestPart(
        name=part.name,
        profile=one.path,
        quantity=part.quantity,
        rotations_deg=_TURNS[part.grain] if part.sheet.grain else QUARTER_TURNS,
        mirror=part.laying.may_flip,
        together=part.laying.together,
        on=part.laying.on,
        material=part.sheet.material.name,
        thickness_mm=part.sheet.thickness_mm,
    )


def _left_over(unplaced: Iterable[Unplaced], sheets: Mapping[str, Sheet]) -> Iterable[Finding]:
    counts = Counter((one.part, one.reason) for one in unplaced)
    for (part, reason), count in counts.items():
        yield Finding(
            severity=Severity.STOP,
            part=part,
            measure=f"pieces without a place on {sheets[part].name}: {reason}; missing",
            value=count,
            limit=0,
            remedy="give more or larger stock with --stock WxH[xN]",
        )


def _beyond_bed(
    sheets: Iterable[NestedSheet], bed_mm: tuple[float, float] | None
) -> Iterable[Finding]:
    """Yield sizes of sheets that are larger than the laser's bed, each once.

    A warning where parts lie beyond it too, else a note: such a sheet must lie over its rim.
    """
    if bed_mm is None:
        return
    reach: dict[tuple[float, float], float] = {}
    for one in sheets:
        size = one.width_mm, one.height_mm
        reach[size] = max(reach.get(size, 0.0), one.used_length_mm)
    for (width, height), used in reach.items():
        if _fits((width, height), bed_mm):
            continue
        lies = _fits((used, height), bed_mm)
        yield Finding(
            severity=Severity.NOTE if lies else Severity.WARNING,
            part=f"sheet {width:g} x {height:g} mm",
            measure=f"larger than the bed of {bed_mm[0]:g} x {bed_mm[1]:g} mm"
            + ("" if lies else ", and so is the part of it that is cut"),
            source="size of the bed, as given",
            remedy="let it stick out where the machine allows it, or saw it down and say so with "
            f"--stock {bed_mm[0]:g}x{bed_mm[1]:g}"
            if lies
            else f"saw it down and say so with --stock {bed_mm[0]:g}x{bed_mm[1]:g}",
        )


def _fits(size: tuple[float, float], bed: tuple[float, float]) -> bool:
    return min(size) <= min(bed) and max(size) <= max(bed)
