"""Motor test stand: a flanged motor turns a shaft between two uprights 18 mm thick.

Each upright is laminated from three layers of 6 mm, so that a thin sheet carries a motor. The
shaft runs in two bearings; a lever on its far end presses on a load cell, which weighs the torque
of the held motor.

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
    drive,
    drivers,
    from_edges,
    hub,
    laminate,
    load,
    lying,
    motor,
    motor_rating,
    mounted,
    on_axis,
    rectangle,
    rectangular_device,
    run_recipe,
    shaft,
    standing,
    supply,
    wire,
)

BEARING, BEARING_MM = "6004", 12.0  # width, ISO 15
SHAFT_MM, MOTOR_SHAFT_MM, MOTOR_SHAFT_LENGTH_MM = 20.0, 14.0, 30.0
COUPLING_MM, HUB_MM, LEVER_WIDTH_MM = 44.0, 14.0, 76.0
# An invented motor with brushes, its figures as a data sheet prints them.
MOTOR = motor_rating(
    voltage_v=24.0,
    power_w=250.0,
    speed_rpm=1500.0,
    current_a=13.5,
    no_load_a=1.0,
    resistance_ohm=0.2,
    peak_a=45.0,
    rotor_inertia_kgcm2=8.0,
    thermal_k_per_w=1.2,
    time_constant_s=1800.0,
    most_winding_c=130.0,
)


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
    held_nm: float = 2.4,
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
        held_nm: Greatest torque of the held motor that is to be weighed, N m.
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

    def upright(name: str, x_mm: float, least_web_mm: float | None = None) -> Panel:
        outline = rectangle(width_mm, height_mm)
        plates = (
            Plate(f"{name} layer {k}", sheet, outline, least_web_mm=least_web_mm)
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
        # The motor's own flange lies on the web between its spigot and its screws, and carries it.
        upright("motor upright", motor_at_mm, least_web_mm=4.0),
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
    arm_mm = lever_mm - LEVER_WIDTH_MM / 2 - 10.0
    press_n = held_nm * 1000 / arm_mm
    shaft_at_mm = coupling_at_mm + COUPLING_MM / 2
    hardware = (
        mounted(
            motor(
                "IEC 71 B14",
                body_length_mm=motor_length_mm,
                shaft_length_mm=MOTOR_SHAFT_LENGTH_MM,
                depth_mm=12.0,
                rating=MOTOR,
            ),
            on="motor upright",
            side="left",
            at=axis,
            name="motor",
        ),
        mounted(
            coupling(
                MOTOR_SHAFT_MM,
                SHAFT_MM,
                outer_mm=40.0,
                length_mm=COUPLING_MM,
                hold_thread="M4",
                hold_screws=2,
            ),
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
            hub(
                "six-bolt 44 mm M5",
                bore_mm=SHAFT_MM,
                thickness_mm=HUB_MM,
                hold="clamp",
                hold_thread="M4",
                hold_screws=2,
            ),
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
        # The lever's tip presses on the load cell, and the cell on the bed.
        .with_loads(
            load("hub", name="held", torque_nm=held_nm, radial_n=press_n),
            load("load cell", name="held", axial_n=press_n),
            held="bed",
        )
        .with_drives(
            drive(
                "motor",
                output="hub",
                supply=supply(voltage_v=24.0, current_a=20.0, peak_a=40.0),
                drivers=drivers(continuous_a=20.0, peak_a=45.0),
                fuse_a=20.0,
                wire=wire(area_mm2=4.0, length_m=1.0, laying="E"),
                current_limit_a=34.0,
                cycle=((held_nm, 5.0), (0.0, 115.0)),
            )
        )
    )


if __name__ == "__main__":
    run_recipe(motor_stand)
