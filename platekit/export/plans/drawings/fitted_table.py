"""Tables of places fitted to a width: each column as wide as its texts ask for, and no wider."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platekit.export.plans.drawings.outline_steps import Step
from platekit.export.plans.drawings.table_flow import Section
from platekit.export.plans.printing.lettering import SMALL_MM, width_of
from platekit.export.plans.printing.tables import AIR_MM, Column

# Widest that columns of a table become: number, x, y, size; and what a pair of figures takes.
MOST_MM, PAIR_MM = (16.0, 46.0, 15.0, 36.0), 21.0
# Widths tried for a column that tells many places in a row.
PLACES_MM = (22.0, 26.0, 30.0, 34.0, 38.0, 42.0, 46.0)
GAP_MM = 0.7
# So many ordinates of a side stand in one row: a row is never broken from column to column.
TOGETHER = 24
EDGE_MM, AXIS_MM = 14.0, 14.0


def side_section(listed: Sequence[tuple[str, str, Sequence[Step]]], width_mm: float) -> Section:
    """Return a table of ordinates that find no room beside the part: side, axis, steps."""

    def rows() -> Iterator[tuple[str, str, str]]:
        for name, axis, steps in listed:
            for k in range(0, len(steps), TOGETHER):
                said = ", ".join(one.said for one in steps[k : k + TOGETHER])
                yield name, axis, said

    columns = (
        Column(head="edge", width_mm=EDGE_MM),
        Column(head="along", width_mm=AXIS_MM),
        Column(head="steps at", width_mm=width_mm - EDGE_MM - AXIS_MM),
    )
    return Section.of(columns, list(rows()))


def fitted(heads: tuple[str, ...], rows: Sequence[tuple[str, ...]], width_mm: float) -> Section:
    """Return a table whose columns are as wide as their texts, the last takes what is left.

    Where a row tells many places, that column is as wide as makes the table lowest.
    """
    needed = [max(_wide(row[k]) for row in (heads, *rows)) for k in range(len(heads))]
    several = [needed[1]] if needed[1] <= MOST_MM[2] else PLACES_MM
    made = (_fitted(heads, rows, width_mm, (needed[0], x, *needed[2:])) for x in several)
    return min(made, key=lambda one: sum(map(len, one.rows)))


def _fitted(
    heads: tuple[str, ...],
    rows: Sequence[tuple[str, ...]],
    width_mm: float,
    needed: Sequence[float],
) -> Section:
    no, x, y, size = (min(need, most) for need, most in zip(needed[:4], MOST_MM, strict=True))
    spare = width_mm - no - x - y - size - GAP_MM - needed[4]
    if spare < 0.0:  # before purposes are broken, sizes are, to what a pair of figures takes
        size = max(min(size, PAIR_MM), size + spare)
    columns = (
        Column(head=heads[0], width_mm=no, anchor="end"),
        Column(head=heads[1], width_mm=x, anchor="end"),
        Column(head=heads[2], width_mm=y, anchor="end"),
        Column(head="", width_mm=GAP_MM),
        Column(head=heads[3], width_mm=size),
        Column(head=heads[4], width_mm=width_mm - no - x - y - size - GAP_MM),
    )
    return Section.of(columns, [(*row[:3], "", *row[3:]) for row in rows])


def _wide(said: str) -> float:
    return width_of(said, size_mm=SMALL_MM, bold=True) + 2 * AIR_MM + 0.1
