"""Belt turntable: a turning plate for photographs, driven by a stepper through a toothed belt.

The motor stands on the deck with its shaft down; the belt runs covered in the case. The turning
plate sits on a hub on an upright shaft in two bearings. Slots let the motor tension the belt. The
right wall comes off, which is the way to the belt and to the motor's nuts.

    platekit make recipes/belt_turntable.py
"""

import math

from platekit import (
    Assembly,
    Plate,
    Sheet,
    ball_bearing,
    belt_drive,
    belted,
    birch_plywood,
    by_belt,
    circle,
    comes_out,
    corners,
    device,
    from_edges,
    gland,
    hub,
    laminate,
    lying,
    motor,
    mounted,
    on_axis,
    rectangle,
    run_recipe,
    screwed,
    shaft,
    standing,
    tabs,
)

BEARING, BEARING_MM = "6004", 12.0  # width, ISO 15
SHAFT_MM = 20.0


def belt_turntable(
    sheet: Sheet = birch_plywood(nominal_mm=6.0),
    *,
    width_mm: float = 310.0,
    depth_mm: float = 190.0,
    height_mm: float = 100.0,
    skirt_mm: float = 12.0,
    rim_mm: float = 8.0,
    table_mm: float = 190.0,
    axis_mm: float = 95.0,
    teeth: int = 72,
    belt_teeth: int = 100,
    travel_mm: float = 12.0,
) -> Assembly:
    """Belt-driven turntable.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Outer width of the case.
        depth_mm: Outer depth of the case.
        height_mm: Height of the case.
        skirt_mm: How far the walls stand out below the floor.
        rim_mm: How far they stand out above the deck.
        table_mm: Diameter of the turning plate.
        axis_mm: Distance of its axis from the left face.
        teeth: Teeth of the large pulley; the motor's has 20.
        belt_teeth: Teeth of the belt, 5 mm pitch.
        travel_mm: Travel of the motor for belt tension.
    """
    t = sheet.thickness_mm
    drive = belt_drive("curvilinear 5 mm", teeth=(teeth, 20), belt_teeth=belt_teeth, width_mm=9.0)
    layers = math.ceil(BEARING_MM / t)
    ring = circle((axis_mm, depth_mm / 2), diameter_mm=90.0)

    def floor(name: str) -> Plate:
        return Plate(name, sheet, rectangle(width_mm, depth_mm))

    def rings(of: str) -> list[Plate]:
        return [Plate(f"{of} ring {k}", sheet, ring) for k in range(1, layers + 1)]

    case = (
        lying(laminate("floor", floor("floor plate"), *rings("floor")), bottom_mm=skirt_mm),
        lying(
            laminate("deck", floor("deck plate"), *rings("deck")), bottom_mm=height_mm - rim_mm - t
        ),
        standing(Plate("front", sheet, rectangle(width_mm, height_mm)), facing="front"),
        standing(
            Plate("back", sheet, rectangle(width_mm, height_mm)), facing="back", back_mm=depth_mm
        ),
        standing(Plate("left", sheet, rectangle(depth_mm, height_mm)), facing="left"),
        standing(
            Plate("right", sheet, rectangle(depth_mm, height_mm)), facing="right", right_mm=width_mm
        ),
    )
    seat_mm = layers * t
    table_at_mm = height_mm - rim_mm + seat_mm + 26.0
    table = lying(
        Plate("table", sheet, circle((0.0, 0.0), diameter_mm=table_mm)),
        middle_x_mm=axis_mm,
        middle_y_mm=depth_mm / 2,
        bottom_mm=table_at_mm,
    )
    axis = from_edges(left_mm=axis_mm)
    hardware = (
        # It stands on the floor's lower bearing and ends under the turning plate.
        mounted(
            shaft(SHAFT_MM, table_at_mm - 1.0 - skirt_mm - t - seat_mm, below_mm=BEARING_MM),
            on="floor",
            side="up",
            at=axis,
            name="main shaft",
        ),
        mounted(ball_bearing(BEARING), on="floor", side="up", at=axis, name="lower bearing"),
        mounted(ball_bearing(BEARING), on="deck", side="up", at=axis, name="upper bearing"),
        mounted(
            hub("six-bolt 44 mm M5", bore_mm=SHAFT_MM, thickness_mm=14.0, hold="clamp"),
            on="table",
            side="down",
            at=on_axis("main shaft"),
            name="hub",
        ),
        mounted(
            motor("NEMA 23 metric", body_length_mm=56.0, shaft_mm=6.35, shaft_length_mm=31.0),
            on="deck",
            side="up",
            at=by_belt(drive, of="main shaft"),
            travel_mm=travel_mm,
            name="motor",
        ),
        # The pulleys turn below the motor's nuts.
        belted(drive, between=("main shaft", "motor"), on="deck", side="down", gap_mm=8.0),
        mounted(
            device("rubber foot 38 mm"),
            on="floor",
            side="down",
            at=corners(inset_mm=32.0),
            name="foot",
        ),
        mounted(
            gland("M12", thread_length_mm=15.0),
            on="back",
            side="back",
            at=from_edges(right_mm=40.0),
            name="lead",
        ),
    )
    return (
        Assembly("belt turntable")
        .with_panels(*case, table)
        .with_joints(
            *(screwed(plate, to="right", thread="M4", screws=2) for plate in ("floor", "deck")),
            *(tabs(wall, into="right", hold="slip") for wall in ("front", "back")),
        )
        .with_hardware(*hardware)
        .with_removals(
            comes_out("right", towards="right"),
            comes_out("motor", towards="up", after=("right", "table")),
        )
    )


if __name__ == "__main__":
    run_recipe(belt_turntable)
