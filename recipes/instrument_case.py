"""Instrument case: a box for bench electronics whose lid is held by screws in nut pockets.

platekit make recipes/instrument_case.py --thickness 3
"""

from platekit import (
    Assembly,
    Sheet,
    birch_plywood,
    bolt_rectangle,
    box,
    cable_gland,
    centre,
    from_edges,
    hole,
    mirrored,
    panel_cutout,
    run_recipe,
    vent_honeycomb,
    vent_slots,
    window,
)


def instrument_case(
    sheet: Sheet = birch_plywood(nominal_mm=4.0),
    *,
    width_mm: float = 200.0,
    depth_mm: float = 150.0,
    height_mm: float = 90.0,
    display_mm: float = 72.0,
    thread: str = "M4",
) -> Assembly:
    """Case for bench electronics, its lid on nut-pocket screws.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Outer width.
        depth_mm: Outer depth.
        height_mm: Outer height, lid included.
        display_mm: Width of the display window; its height is a third of it.
        thread: Thread of the lid's screws.
    """
    vent = from_edges(left_mm=depth_mm / 2, top_mm=height_mm / 2)
    return (
        box(
            "instrument case",
            sheet,
            width_mm=width_mm,
            depth_mm=depth_mm,
            height_mm=height_mm,
            lid="screwed",
            thread=thread,
        )
        .with_features(
            "front",
            window(
                display_mm, display_mm / 3, fillet_mm=2.0, at=from_edges(left_mm=70), name="display"
            ),
            panel_cutout("push button 16 mm", at=from_edges(right_mm=38), name="start"),
        )
        .with_features("back", cable_gland("M16", at=from_edges(left_mm=40), name="lead"))
        .with_features("left", vent_slots(80.0, 30.0, at=vent, name="vent"))
        .with_features("right", vent_honeycomb(80.0, 34.0, at=vent, name="vent"))
        .with_features(
            "bottom",
            bolt_rectangle(70.0, 50.0, "M3", at=centre(), name="board"),
            hole(
                5.5, at=mirrored(from_edges(left_mm=25, bottom_mm=25), across="both"), name="foot"
            ),
        )
    )


if __name__ == "__main__":
    run_recipe(instrument_case)
