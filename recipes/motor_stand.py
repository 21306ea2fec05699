"""Motor test stand: a flanged motor turns a shaft between two uprights 18 mm thick.

Each upright is laminated from three layers of 6 mm, so that a thin sheet carries a motor. The
shaft runs in two bearings; a lever on its far end presses on a load cell.

    platekit make recipes/motor_stand.py
"""

from platekit import (
    Assembly,
    Panel,
    Plate,
    Sheet,
    ball_bearing,
    birch_plywood,
    comes_out,
    coupling,
    from_edges,
    hub,
    laminate,
    lying,
    motor,
    mounted,
    on_axis,
    rectangle,
    rectangular_device,
    run_recipe,
    shaft,
    standing,
)

BEARING, BEARING_MM = "6004", 12.0  # width, ISO 15
SHAFT_MM, MOTOR_SHAFT_MM, MOTOR_SHAFT_LENGTH_MM = 20.0, 14.0, 30.0
COUPLING_MM, HUB_MM, LEVER_WIDTH_MM = 44.0, 14.0, 76.0


def motor_stand(
    sheet: Sheet = birch_plywood(nominal_mm=6.0),
    *,
    width_mm: float = 200.0,
    height_mm: float = 150.0,
    upright_mm: float = 18.0,
    axis_mm: float = 95.0,
    motor_length_mm: float = 190.0,
    span_mm: float = 90.0,
    lever_mm: float = 120.0,
) -> Assembly:
    """Test stand for a small flanged motor.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Width of the bed.
        height_mm: Height of the uprights.
        upright_mm: Thickness of each upright, laminated from as many layers as it takes.
        axis_mm: Height of the shaft above the bed's underside.
        motor_length_mm: Length of the motor behind its face.
        span_mm: Clear distance between the two uprights with bearings.
        lever_mm: Length of the lever that presses on the load cell.
    """
    t = sheet.thickness_mm
    layers = max(2, round(upright_mm / t))
    thick_mm = layers * t
    motor_at_mm = motor_length_mm + 20.0
    # The coupling bridges the motor's shaft, as far as it stands out, and the main shaft.
    coupling_at_mm = motor_at_mm + thick_mm + 2.0
    near_at_mm = coupling_at_mm + COUPLING_MM + 14.0
    far_at_mm = near_at_mm + thick_mm + span_mm
    lever_at_mm = far_at_mm + thick_mm + 6.0 + HUB_MM
    length_mm = lever_at_mm + t + 40.0

    def upright(name: str, x_mm: float) -> Panel:
        plates = (
            Plate(f"{name} layer {k}", sheet, rectangle(width_mm, height_mm))
            for k in range(1, layers + 1)
        )
        stack = laminate(name, *plates)
        return standing(stack, facing="right", left_mm=x_mm, bottom_mm=0.0)

    bed = laminate(
        "bed",
        *(
            Plate(f"bed {side}", sheet, rectangle(length_mm, width_mm))
            for side in ("lower", "upper")
        ),
    )
    lever = Plate("lever", sheet, rectangle(lever_mm, LEVER_WIDTH_MM, fillet_mm=10.0))
    panels = (
        lying(bed, bottom_mm=0.0),
        upright("motor upright", motor_at_mm),
        upright("near upright", near_at_mm),
        upright("far upright", far_at_mm),
        standing(
            lever,
            facing="right",
            left_mm=lever_at_mm,
            front_mm=width_mm / 2 - LEVER_WIDTH_MM / 2,
            bottom_mm=axis_mm - LEVER_WIDTH_MM / 2,
        ),
    )
    axis = from_edges(bottom_mm=axis_mm)
    shaft_at_mm = coupling_at_mm + COUPLING_MM / 2
    hardware = (
        mounted(
            motor(
                "IEC 71 B14",
                body_length_mm=motor_length_mm,
                shaft_length_mm=MOTOR_SHAFT_LENGTH_MM,
                depth_mm=12.0,
            ),
            on="motor upright",
            side="left",
            at=axis,
            name="motor",
        ),
        mounted(
            coupling(MOTOR_SHAFT_MM, SHAFT_MM, outer_mm=40.0, length_mm=COUPLING_MM),
            on="motor upright",
            side="right",
            at=on_axis("motor"),
            lift_mm=2.0,
            name="coupling",
        ),
        mounted(
            shaft(SHAFT_MM, lever_at_mm - 1.0 - shaft_at_mm),
            on="motor upright",
            side="right",
            at=on_axis("motor"),
            lift_mm=2.0 + COUPLING_MM / 2,
            name="main shaft",
        ),
        mounted(
            ball_bearing(BEARING),
            on="near upright",
            side="left",
            at=on_axis("motor"),
            name="near bearing",
        ),
        mounted(
            ball_bearing(BEARING),
            on="far upright",
            side="right",
            at=on_axis("motor"),
            name="far bearing",
        ),
        mounted(
            hub("six-bolt 44 mm M5", bore_mm=SHAFT_MM, thickness_mm=HUB_MM, hold="clamp"),
            on="lever",
            side="left",
            at=from_edges(left_mm=LEVER_WIDTH_MM / 2),
            name="hub",
        ),
        mounted(
            rectangular_device(
                "bar load cell",
                width_mm=12.7,
                depth_mm=80.0,
                height_mm=12.7,
                holes=[(0.0, -33.0), (0.0, -18.0)],
                thread="M5",
                flange_mm=12.7,
            ),
            on="bed",
            side="up",
            at=from_edges(right_mm=length_mm - lever_at_mm - t / 2, top_mm=60.0),
            name="load cell",
        ),
    )
    return (
        Assembly("motor stand")
        .with_panels(*panels)
        .with_hardware(*hardware)
        .with_removals(comes_out("motor", towards="left"))
    )


if __name__ == "__main__":
    run_recipe(motor_stand)
