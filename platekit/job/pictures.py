"""The pictures for people: one of the sheets, one of the parts.

They go with the cut files: a drawing in true proportion is easily taken for one that may be cut,
so where a finding withholds the cut files there are no pictures either.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from platekit.export.picture_parts import parts_picture
from platekit.export.picture_sheets import PicturedSheet, sheets_picture
from platekit.job.beams import CutPart
from platekit.job.stocking import StockedSheet

SHEETS = "pictures/sheets.svg"
PARTS = "pictures/parts.svg"


def pictures(
    recipe: str, *, parts: Sequence[CutPart], sheets: Iterable[StockedSheet]
) -> dict[str, str]:
    """Return the pictures of a run, by path.

    Args:
        recipe: Name of the recipe.
        parts: Every kind of part.
        sheets: The nested sheets.
    """
    kerfs = {one.part.sheet: one.beam.kerf_mm for one in parts}
    kinds = [one.part for one in parts]
    shown = [
        PicturedSheet(sheet=one.sheet, nested=one.nested, kerf_mm=kerfs[one.sheet])
        for one in sheets
    ]
    return {
        SHEETS: sheets_picture(recipe, parts=kinds, sheets=shown),
        PARTS: parts_picture(recipe, parts=kinds),
    }
