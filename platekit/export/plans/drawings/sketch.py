"""What a drawing shows, and the tables that tell it."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.export.plans.drawings.edge_mates import Mate
from platekit.export.plans.drawings.edge_notches import Notch
from platekit.export.plans.drawings.fitted_table import fitted, side_section
from platekit.export.plans.drawings.hole_table import (
    Opening,
    corner_rows,
    grouped_rows,
    notch_rows,
    opening_rows,
)
from platekit.export.plans.drawings.outline_steps import Steps
from platekit.export.plans.drawings.table_flow import Section
from platekit.export.plans.drawings.title_block import called
from platekit.panel.part import Part


@dataclass(frozen=True, slots=True, kw_only=True)
class Sketch:
    """What a drawing shows.

    Attributes:
        parts: The part, or several that differ in nothing but their names.
        openings: Their holes.
        notches: What is cut in from their edge.
        steps: What their outline asks of the drawing.
        mates: What meets their edges.
        numbers: Which of the rig's parts they are, from 1.
        count: How many the rig has.
        rig: What it is called.
    """

    parts: tuple[Part, ...]
    openings: tuple[Opening, ...]
    notches: tuple[Notch, ...]
    steps: Steps
    mates: tuple[Mate, ...]
    numbers: tuple[int, ...]
    count: int
    rig: str

    @property
    def part(self) -> Part:
        """The part that is drawn."""
        return self.parts[0]

    @property
    def title(self) -> str:
        """The names of all of them."""
        return called([part.name for part in self.parts])

    def tabled(self, width_mm: float, *, grouped: bool = False) -> tuple[Section, ...]:
        """Return the tables beside the drawing, each of a width.

        Args:
            width_mm: The width.
            grouped: Whether openings that are alike and level share a row.
        """
        openings = grouped_rows(self.openings) if grouped else opening_rows(self.openings)
        rows = [*openings, *notch_rows(self.notches, self.part)]
        sections = []
        if rows:
            what_for = "what for" if any(row[-1] for row in rows) else ""
            sections.append(fitted(("no.", "x", "y", "size", what_for), rows, width_mm))
        corners = list(corner_rows(self.steps.corners))
        for one in self.openings:
            corners += corner_rows(one.corners, of=f"{one.number}.")
        if corners:
            sections.append(fitted(("corner", "x", "y", "to the next", ""), corners, width_mm))
        if self.steps.listed:
            sections.append(side_section(self.steps.listed, width_mm))
        return tuple(sections)
