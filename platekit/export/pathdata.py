"""Curves as the words of an SVG path: lines stay lines, arcs stay arcs."""

from __future__ import annotations

from platekit.export.arcs import split_arcs
from platekit.export.figures import DECIMALS, format_mm, rounded
from platekit.geometry.chains import Chain, Contour
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, R, Table

# A reader finds the centre from the rounded ends and radius: near a half circle it flies off by
# sqrt(2 r times the rounding), 8.9 um at four decimals. Up to a third of a turn it stays put.
THIRD_CIRCLE_DEG = 120.0


def commands(rows: Table, *, decimals: int = DECIMALS) -> str:
    """Return the moves, lines and arcs of an open chain, in its own coordinates.

    Args:
        rows: The chain's table; not a whole circle.
        decimals: Figures after the point.
    """
    cut, _ = split_arcs(rows, most_deg=THIRD_CIRCLE_DEG)

    def at(x: float, y: float) -> str:
        return f"{format_mm(x, decimals=decimals)} {format_mm(y, decimals=decimals)}"

    words = [f"M {at(float(cut[0, X0]), float(cut[0, Y0]))}"]
    for row in cut.tolist():
        end = at(row[X1], row[Y1])
        if row[TURN] == 0.0:
            words.append(f"L {end}")
        else:
            radius = format_mm(row[R], decimals=decimals)
            # The flag asks for growing angles, x towards y: mirrored or not, our ccw.
            words.append(f"A {radius} {radius} 0 0 {int(row[TURN] > 0)} {end}")
    return " ".join(words)


def path_data(chain: Chain, *, decimals: int = DECIMALS) -> str:
    """Return the words of any chain: a contour is closed, a whole circle goes as two halves.

    The halves are written as steps of one rounded radius, so that a reader finds their centre
    where it was rounded to and nowhere else.
    """
    if isinstance(chain, Contour) and chain.is_circle:
        cx, cy, r = (rounded(v, decimals=decimals) for v in chain.table[0, [CX, CY, R]].tolist())
        left, radius, wide = (format_mm(v, decimals=decimals) for v in (cx - r, r, 2 * r))
        turn = int(chain.is_ccw)
        arc = f"a {radius} {radius} 0 1 {turn}"
        middle = format_mm(cy, decimals=decimals)
        return f"M {left} {middle} {arc} {wide} 0 {arc} -{wide} 0 Z"
    end = " Z" if isinstance(chain, Contour) else ""
    return commands(chain.table, decimals=decimals) + end
