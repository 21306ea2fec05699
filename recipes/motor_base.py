"""Motor base: one plate that carries a geared motor, slotted so that its belt can be tensioned.

platekit make recipes/motor_base.py
"""

from platekit import (
    Plate,
    Sheet,
    birch_plywood,
    corners,
    from_edges,
    hole,
    motor_face,
    rectangle,
    run_recipe,
)


def motor_base(
    sheet: Sheet = birch_plywood(nominal_mm=6.0),
    *,
    width_mm: float = 160.0,
    depth_mm: float = 110.0,
    travel_mm: float = 12.0,
    foot: str = "M5",
) -> Plate:
    """Base plate for a geared motor with a slotted face.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Size along the belt.
        depth_mm: Size across the belt.
        travel_mm: How far the motor can be moved to tension the belt; 0 for round holes.
        foot: Screw size of the four holes at the corners.
    """
    # The motor's own flange bridges the webs between its pilot and its screws.
    outline = rectangle(width_mm, depth_mm, fillet_mm=8.0)
    return Plate("motor base", sheet, outline, least_web_mm=4.0).with_features(
        motor_face("NEMA 23", at=from_edges(left_mm=70.0), travel_mm=travel_mm, name="motor"),
        hole(foot, at=corners(inset_mm=12.0), name="foot"),
    )


if __name__ == "__main__":
    run_recipe(motor_base)
