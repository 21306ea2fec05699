"""Lists on paper: the parts with their pages, the bill of materials, what the checks found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from platekit.export.bill import BillKind
from platekit.export.figures import format_mm
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.furniture import Leaf, head
from platekit.export.plans.paper import BAR_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.press import Press
from platekit.export.plans.tables import Column, Line, in_lines, rows_within, table
from platekit.findings import Finding, figures_of

TIMES = "\N{MULTIPLICATION SIGN}"
UNKNOWN = "-"

# Widths are shares of a hundred.
_PARTS = (
    Column(head="no.", width_mm=6, anchor="end"),
    Column(head="part", width_mm=27),
    Column(head="make", width_mm=8, anchor="end"),
    Column(head="from", width_mm=24),
    Column(head="size, mm", width_mm=15, anchor="end"),
    Column(head="full size", width_mm=10, anchor="end"),
    Column(head="drawing", width_mm=10, anchor="end"),
)
_BILL = (
    Column(head="quantity", width_mm=10, anchor="end"),
    Column(head="what", width_mm=50),
    Column(head="note", width_mm=40),
)
_FINDINGS = (
    Column(head="weight", width_mm=9),
    Column(head="where", width_mm=21),
    Column(head="what was found", width_mm=38),
    Column(head="what to do", width_mm=32),
)
NO_FINDINGS = "the checks found nothing worth a look"


def parts_leaves(
    plans: PlansOf, *, full_size: Mapping[str, str], drawing: Mapping[str, str]
) -> tuple[Leaf, ...]:
    """Return the list of parts.

    Args:
        plans: What it is of.
        full_size: Pages by part on which it stands in full size.
        drawing: Pages by part of its drawing.
    """
    rows = [
        (
            f"{number}",
            part.name,
            f"{part.quantity}",
            part.sheet.name,
            _size(part.profile.bounds.width_mm, part.profile.bounds.height_mm),
            full_size.get(part.name, UNKNOWN),
            drawing.get(part.name, UNKNOWN),
        )
        for number, part in enumerate(plans.parts, start=1)
    ]
    return tuple(_leaves(plans, "list of parts", _PARTS, rows))


def bill_leaves(plans: PlansOf) -> tuple[Leaf, ...]:
    """Return what is to be bought besides sheets; nothing where there is nothing to buy."""
    rows = [
        (f"{line.quantity}", line.name, line.note)
        for line in plans.bill
        if line.kind is BillKind.HARDWARE
    ]
    sheets = [
        (UNKNOWN, name, f"{area / 1e6:.3f} m\N{SUPERSCRIPT TWO} of parts, waste not counted")
        for name, area in _areas(plans).items()
    ]
    return tuple(_leaves(plans, "bill of materials", _BILL, [*sheets, *rows]))


def findings_leaves(plans: PlansOf) -> tuple[Leaf, ...]:
    """Return what the checks found, the gravest first."""
    rows = [_finding(one) for one in plans.findings] or [("", "", NO_FINDINGS, "")]
    return tuple(_leaves(plans, "findings of the checks", _FINDINGS, rows))


def _areas(plans: PlansOf) -> dict[str, float]:
    areas: dict[str, float] = {}
    for part in plans.parts:
        area = part.profile.area_mm2 * part.quantity
        areas[part.sheet.name] = areas.get(part.sheet.name, 0.0) + area
    return areas


def _finding(one: Finding) -> tuple[str, str, str, str]:
    where = " / ".join(name for name in (one.part, one.feature) if name)
    source = f" ({one.source})" if one.source else ""
    return one.severity.name.lower(), where, f"{figures_of(one)}{source}", one.remedy


def _size(width_mm: float, height_mm: float) -> str:
    width, height = (format_mm(one, decimals=1) for one in (width_mm, height_mm))
    return f"{width} {TIMES} {height}"


def _leaves(
    plans: PlansOf, called: str, shares: Sequence[Column], rows: Sequence[Sequence[str]]
) -> Iterator[Leaf]:
    """Yield a table on as many pages as it takes."""
    width, height = plans.paper.reading_mm
    wide = width - 2 * MARGIN_MM
    columns = [
        Column(head=one.head, width_mm=one.width_mm * wide / 100.0, anchor=one.anchor)
        for one in shares
    ]
    lines = in_lines(columns, rows)
    each = rows_within(height - 2 * MARGIN_MM - HEAD_MM - BAR_MM)
    total = max(1, -(-len(lines) // each))
    for page in range(total):
        says = called if total == 1 else f"{called} {page + 1}/{total}"
        yield _leaf(plans, says, columns, lines[page * each : (page + 1) * each])


def _leaf(plans: PlansOf, called: str, columns: Sequence[Column], lines: Sequence[Line]) -> Leaf:
    width, height = plans.paper.reading_mm

    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=plans.name, says=called, number=number)
        table(press, columns, lines, left=MARGIN_MM, top=height - MARGIN_MM - HEAD_MM)

    leaf = Leaf(width_mm=width, height_mm=height, called=called, draw=draw)
    return leaf
