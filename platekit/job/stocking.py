"""Laying the cut parts on stock: one nesting for each kind of sheet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from platekit.findings import Finding, Severity
from platekit.job.beams import CutPart
from platekit.job.options import Spacing
from platekit.job.progress import Progress
from platekit.materials import Sheet
from platekit.nesting import QUARTER_TURNS, Nest, NestedSheet, NestPart, Stock, Unplaced, nest
from platekit.panel.part import Grain

# Turns that lay the part's grain along the stock's x, degrees.
_TURNS = {Grain.ANY: QUARTER_TURNS, Grain.ALONG_X: (0.0, 180.0), Grain.ALONG_Y: (90.0, 270.0)}


@dataclass(frozen=True, slots=True, kw_only=True)
class StockedSheet:
    """One nested sheet and what it is cut from."""

    sheet: Sheet
    nested: NestedSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Stocked:
    """Every nested sheet, and a finding for each kind of part that found no room."""

    sheets: tuple[StockedSheet, ...]
    findings: tuple[Finding, ...]


def lay_on_stock(parts: Sequence[CutPart], *, spacing: Spacing, progress: Progress) -> Stocked:
    """Return the parts laid on the stock of their own sheets.

    Raises:
        NestingError: Even the smallest part of a sheet fits none of its stock.
    """
    sheets: list[StockedSheet] = []
    findings: list[Finding] = []
    for sheet in dict.fromkeys(one.part.sheet for one in parts):
        group = [one for one in parts if one.part.sheet == sheet]
        done = _nested(group, sheet=sheet, spacing=spacing, progress=progress)
        sheets.extend(StockedSheet(sheet=sheet, nested=nested) for nested in done.sheets)
        findings.extend(_left_over(done.unplaced, sheet=sheet))
    return Stocked(sheets=tuple(sheets), findings=tuple(findings))


def _nested(
    group: Iterable[CutPart], *, sheet: Sheet, spacing: Spacing, progress: Progress
) -> Nest:
    return nest(
        [
            NestPart(
                name=one.part.name,
                profile=one.path,
                quantity=one.part.quantity,
                rotations_deg=_TURNS[one.part.grain] if sheet.grain else QUARTER_TURNS,
            )
            for one in group
        ],
        stock=[Stock(size.width_mm, size.height_mm, size.count) for size in sheet.stock],
        gap_mm=spacing.gap_mm,
        margin_mm=spacing.margin_mm,
        seconds=spacing.search_seconds,
        seed=spacing.seed,
        progress=lambda share, said: progress(f"nesting on {sheet.name}: {said}", share),
    )


def _left_over(unplaced: Iterable[Unplaced], *, sheet: Sheet) -> Iterable[Finding]:
    counts = Counter((one.part, one.reason) for one in unplaced)
    for (part, reason), count in counts.items():
        yield Finding(
            severity=Severity.STOP,
            part=part,
            measure=f"pieces without a place on {sheet.name}: {reason}; missing",
            value=count,
            limit=0,
            remedy="give more or larger stock with --stock WxH[xN]",
        )
