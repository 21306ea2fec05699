"""Rib table: a levelled top on a grid of ribs that cross in halving joints.

platekit make recipes/rib_table.py --set lengthwise=3
"""

from platekit import (
    Assembly,
    Plate,
    Sheet,
    birch_plywood,
    corners,
    crossed_ribs,
    hole,
    lying,
    rectangle,
    run_recipe,
)


def rib_table(
    sheet: Sheet = birch_plywood(nominal_mm=6.0),
    *,
    width_mm: float = 360.0,
    depth_mm: float = 240.0,
    height_mm: float = 60.0,
    lengthwise: int = 2,
    crosswise: int = 3,
) -> Assembly:
    """Table for a test stand: a top tabbed onto crossed ribs.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Size along x.
        depth_mm: Size along y.
        height_mm: Height over all.
        lengthwise: Ribs along x.
        crosswise: Ribs along y.
    """
    top = Plate("top", sheet, rectangle(width_mm, depth_mm)).with_features(
        hole("M6", at=corners(inset_mm=14.0), name="fixing")
    )
    return crossed_ribs(
        "rib table",
        sheet,
        width_mm=width_mm,
        depth_mm=depth_mm,
        height_mm=height_mm,
        lengthwise=lengthwise,
        crosswise=crosswise,
    ).with_panels(lying(top, top_mm=height_mm))


if __name__ == "__main__":
    run_recipe(rib_table)
