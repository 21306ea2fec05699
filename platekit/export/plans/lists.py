"""Lists on paper: parts with their pages, what to buy, what the checks found and weighed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from platekit.export.bill import BillKind
from platekit.export.figures import format_mm
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.furniture import Leaf, head
from platekit.export.plans.printing.lettering import HEAD_MM as TITLE_MM
from platekit.export.plans.printing.paper import BAR_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.printing.press import Press
from platekit.export.plans.printing.tables import ROW_MM, Column, Line, in_lines, table
from platekit.export.plans.signs import WORDS, sign
from platekit.findings import Finding, Severity, figures_of

TIMES = "\N{MULTIPLICATION SIGN}"
SQUARE = "\N{SUPERSCRIPT TWO}"
UNKNOWN = "-"
PARTS, BILL, FINDINGS, WEIGHED = (
    "list of parts",
    "bill of materials",
    "findings of the checks",
    "what the checks weighed",
)
# Air between one list and the next, and below a title; a list begins with so many lines at least.
APART_MM, BELOW_MM, LEAST_LINES = 7.0, 1.5, 3
SHORT_ROWS = 6
# Margins beyond this are beyond counting.
PLENTY = 100.0

# Widths are shares of a hundred.
_PARTS = (
    Column(head="no.", width_mm=6, anchor="end"),
    Column(head="part", width_mm=28),
    Column(head="make", width_mm=8, anchor="end"),
    Column(head="from", width_mm=21),
    Column(head="size, mm", width_mm=14, anchor="end"),
    Column(head="full size, p.", width_mm=12, anchor="end"),
    Column(head="drawing, p.", width_mm=11, anchor="end"),
)
_BILL = (
    Column(head="quantity", width_mm=10, anchor="end"),
    Column(head="what", width_mm=48),
    Column(head="where, and what to mind", width_mm=42),
)
_FINDINGS = (
    Column(head="", width_mm=3),
    Column(head="weight", width_mm=9),
    Column(head="where", width_mm=21),
    Column(head="what was found", width_mm=37),
    Column(head="what to do", width_mm=30),
)
_WEIGHED = (
    Column(head="question", width_mm=17),
    Column(head="weighed", width_mm=9, anchor="end"),
    Column(head="passed", width_mm=9, anchor="end"),
    Column(head="least margin", width_mm=13, anchor="end"),
    Column(head="where", width_mm=52),
)
NO_FINDINGS = "the checks found nothing worth a look"


@dataclass(frozen=True, slots=True, kw_only=True)
class _List:
    """A list: its title, its columns in shares of a hundred, its rows, the weight of each row."""

    title: str
    shares: Sequence[Column]
    rows: Sequence[Sequence[str]]
    weights: Sequence[Severity] = ()

    def columns(self, width_mm: float) -> list[Column]:
        """Return its columns for a width."""
        return [
            Column(head=one.head, width_mm=one.width_mm * width_mm / 100.0, anchor=one.anchor)
            for one in self.shares
        ]


@dataclass(slots=True)
class _Sheet:
    """A page of lists: what stands on it, each with its title, its upper end and its lines."""

    width_mm: float
    height_mm: float
    blocks: list[tuple[_List, str, float, list[tuple[Line, Severity | None]]]] = field(
        default_factory=list
    )


def lists_leaves(
    plans: PlansOf, *, full_size: Mapping[str, str], drawing: Mapping[str, str]
) -> tuple[tuple[Leaf, ...], tuple[tuple[str, int], ...]]:
    """Return the lists one below the other, and which begins on which of their pages, from 0.

    Args:
        plans: What they are of.
        full_size: Pages by part on which it stands in full size.
        drawing: Pages by part of its drawing.
    """
    lists = [
        _parts(plans, full_size, drawing),
        _bill(plans),
        _findings(plans),
        *_weighed(plans),
    ]
    sheets, begins = _flowed(plans, lists)
    return tuple(_leaf(plans, sheet) for sheet in sheets), begins


def _parts(plans: PlansOf, full_size: Mapping[str, str], drawing: Mapping[str, str]) -> _List:
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
    return _List(title=PARTS, shares=_PARTS, rows=rows)


def _bill(plans: PlansOf) -> _List:
    rows = [
        (f"{line.quantity}", line.name, line.note)
        for line in plans.bill
        if line.kind is BillKind.HARDWARE
    ]
    return _List(title=BILL, shares=_BILL, rows=[*_sheets(plans), *rows])


def _sheets(plans: PlansOf) -> Iterator[tuple[str, str, str]]:
    """Yield each kind of sheet: the area of what is cut from it, and its largest piece."""
    for name in dict.fromkeys(part.sheet.name for part in plans.parts):
        parts = [part for part in plans.parts if part.sheet.name == name]
        pieces = sum(part.quantity for part in parts)
        area = sum(part.profile.area_mm2 * part.quantity for part in parts)
        box = max(
            (part.profile.bounds for part in parts), key=lambda one: one.width_mm * one.height_mm
        )
        said = f"{pieces} pieces, the largest" if pieces > 1 else "one piece,"
        size = _size(box.width_mm, box.height_mm)
        yield (
            f"{area / 1e6:.2f} m{SQUARE}" if area >= 1e4 else f"{area / 1e2:.0f} cm{SQUARE}",
            name,
            f"{said} {size} mm; waste not counted",
        )


def _findings(plans: PlansOf) -> _List:
    weights = [one.severity for one in plans.findings]
    rows = [_finding(one) for one in plans.findings] or [("", "", "", NO_FINDINGS, "")]
    return _List(title=FINDINGS, shares=_FINDINGS, rows=rows, weights=weights)


def _finding(one: Finding) -> tuple[str, ...]:
    where = " / ".join(name for name in (one.part, one.feature) if name)
    said = figures_of(one)
    if one.margin is not None:
        said += f"; margin {_margin(one.margin)}"
    if one.source:
        said += f" ({one.source})"
    # The first cell is for the sign of its weight.
    return "", WORDS[one.severity], where, said, one.remedy


def _weighed(plans: PlansOf) -> Iterator[_List]:
    """Yield how much each family of checks weighed, and what has the least margin."""
    if plans.checks is None:
        return
    rows = []
    for one in plans.checks.families:
        weakest = one.weakest
        where = "" if weakest is None else _where(weakest.part, weakest.feature, weakest.measure)
        rows.append(
            (
                one.asks,
                f"{one.weighed}" if one.weighed else UNKNOWN,
                f"{one.passed}" if one.weighed else UNKNOWN,
                UNKNOWN if weakest is None else _margin(weakest.margin),
                where,
            )
        )
    yield _List(title=WEIGHED, shares=_WEIGHED, rows=rows)


def _where(part: str, feature: str, measure: str) -> str:
    place = " / ".join(name for name in (part, feature) if name)
    return f"{place}: {measure.removesuffix(':')}"


def _margin(margin: float) -> str:
    return "plenty" if margin >= PLENTY else f"{margin:.2f} times"


def _size(width_mm: float, height_mm: float) -> str:
    width, height = (format_mm(one, decimals=1) for one in (width_mm, height_mm))
    return f"{width} {TIMES} {height}"


def _flowed(
    plans: PlansOf, lists: Sequence[_List]
) -> tuple[list[_Sheet], tuple[tuple[str, int], ...]]:
    """Return lists on as many pages as they take: titles repeat, no row is torn apart."""
    width, height = plans.paper.reading_mm
    top, foot = height - MARGIN_MM - HEAD_MM, MARGIN_MM + BAR_MM
    sheets, begins, y = [_Sheet(width, height)], [], top
    over = TITLE_MM + BELOW_MM + ROW_MM
    for one in lists:
        columns = one.columns(width - 2 * MARGIN_MM)
        rows = [in_lines(columns, [row]) for row in one.rows]
        weights = [*one.weights, *[None] * (len(rows) - len(one.weights))]
        # A short list stands on one page, of a long one at least so many rows.
        begun = SHORT_ROWS if len(rows) <= SHORT_ROWS else LEAST_LINES
        first = sum(len(row) for row in rows[:begun])
        if y - over - first * ROW_MM < foot and y < top:
            sheets.append(_Sheet(width, height))
            y = top
        begins.append((one.title, len(sheets) - 1))
        said = one.title
        lines: list[tuple[Line, Severity | None]] = []
        sheets[-1].blocks.append((one, said, y, lines))
        y -= over
        for row, weight in zip(rows, weights, strict=True):
            if y - len(row) * ROW_MM < foot and lines:
                sheets.append(_Sheet(width, height))
                said, lines = f"{one.title}, continued", []
                sheets[-1].blocks.append((one, said, top, lines))
                y = top - over
            lines += [(line, weight if k == 0 else None) for k, line in enumerate(row)]
            y -= len(row) * ROW_MM
        y -= APART_MM
    return sheets, tuple(begins)


def _leaf(plans: PlansOf, sheet: _Sheet) -> Leaf:
    called = ", ".join(said for _, said, _, _ in sheet.blocks)

    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=plans.name, says=called, number=number)
        for one, said, top, lines in sheet.blocks:
            _block(press, one, said, top, lines, width_mm=sheet.width_mm - 2 * MARGIN_MM)

    leaf = Leaf(width_mm=sheet.width_mm, height_mm=sheet.height_mm, called=called, draw=draw)
    return leaf


def _block(
    press: Press,
    one: _List,
    said: str,
    top: float,
    lines: Sequence[tuple[Line, Severity | None]],
    *,
    width_mm: float,
) -> None:
    press.text(said, MARGIN_MM, top - TITLE_MM, size_mm=TITLE_MM, bold=True)
    head_mm = top - TITLE_MM - BELOW_MM
    columns = one.columns(width_mm)
    table(press, columns, [line for line, _ in lines], left=MARGIN_MM, top=head_mm)
    for k, (_, weight) in enumerate(lines):
        if weight is not None:
            sign(press, weight, MARGIN_MM + 3.6, head_mm - (k + 1.5) * ROW_MM)
