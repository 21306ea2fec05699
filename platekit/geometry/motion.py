"""Rigid motions of the plane: turn, mirror, move."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from platekit.geometry.points import Pair, Point, cos_sin
from platekit.geometry.tables import CX, CY, TURN, X0, X1, Y0, Y1, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """Mirror in the y axis (x changes sign) if asked, turn about the origin, then move.

    Attributes:
        dx_mm: Move along x, after turning.
        dy_mm: Move along y, after turning.
        turn_deg: Turn counter-clockwise; exact at quarter turns.
        mirrored: Whether x changes sign first.
    """

    dx_mm: float = 0.0
    dy_mm: float = 0.0
    turn_deg: float = 0.0
    mirrored: bool = False

    def apply(self, point: Pair) -> Point:
        """Return where `point` goes."""
        c, s = cos_sin(self.turn_deg)
        x = -point[0] if self.mirrored else point[0]
        return Point(c * x - s * point[1] + self.dx_mm, s * x + c * point[1] + self.dy_mm)

    def then(self, after: Motion) -> Motion:
        """Return the motion that does this one first and `after` second."""
        moved = after.apply((self.dx_mm, self.dy_mm))
        turn = -self.turn_deg if after.mirrored else self.turn_deg
        return Motion(
            dx_mm=moved.x,
            dy_mm=moved.y,
            turn_deg=after.turn_deg + turn,
            mirrored=self.mirrored != after.mirrored,
        )

    def apply_to_table(self, table: Table) -> Table:
        """Return the moved copy of a table of curves."""
        moved = table.copy()
        c, s = cos_sin(self.turn_deg)
        flip = -1.0 if self.mirrored else 1.0
        arc = table[:, TURN] != 0.0
        xs, ys = [X0, X1, CX], [Y0, Y1, CY]
        x, y = flip * table[:, xs], table[:, ys]
        moved[:, xs] = c * x - s * y + self.dx_mm
        moved[:, ys] = s * x + c * y + self.dy_mm
        moved[:, CX] = np.where(arc, moved[:, CX], 0.0)
        moved[:, CY] = np.where(arc, moved[:, CY], 0.0)
        moved[:, TURN] = flip * table[:, TURN] + 0.0
        return moved


STILL = Motion()


def turn_about(centre: Pair, *, angle_deg: float) -> Motion:
    """Return the turn by `angle_deg` counter-clockwise that leaves `centre` in place."""
    c, s = cos_sin(angle_deg)
    return Motion(
        dx_mm=centre[0] - (c * centre[0] - s * centre[1]),
        dy_mm=centre[1] - (s * centre[0] + c * centre[1]),
        turn_deg=angle_deg,
    )


def mirror_in_vertical(*, x_mm: float = 0.0) -> Motion:
    """Return the mirror image in the vertical line at `x_mm`: left and right change places."""
    return Motion(dx_mm=2 * x_mm, mirrored=True)


def mirror_in_horizontal(*, y_mm: float = 0.0) -> Motion:
    """Return the mirror image in the horizontal line at `y_mm`: up and down change places."""
    return Motion(dy_mm=2 * y_mm, turn_deg=180.0, mirrored=True)
