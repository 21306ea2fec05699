"""Belt turntable: a turning plate for photographs, driven through a toothed belt.

A flat geared motor stands on the deck with its shaft down; the belt runs covered in the case. The
turning plate sits on a hub on an upright shaft in two bearings. Slots let the motor tension the
belt. The right wall comes off, which is the way to the belt and to the motor's nuts.

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
    drive,
    drivers,
    from_edges,
    gland,
    hub,
    laminate,
    load,
    lying,
    motor,
    motor_rating,
    mounted,
    on_axis,
    rectangle,
    run_recipe,
    screwed,
    shaft,
    standing,
    supply,
    tabs,
    wire,
)

BEARING, BEARING_MM = "6004", 12.0  # width, ISO 15
SHAFT_MM = 20.0
# An invented flat motor without brushes on one stage of planets, its figures as a data sheet
# prints them.
MOTOR = motor_rating(
    voltage_v=24.0,
    power_w=30.0,
    speed_rpm=3000.0,
    current_a=1.8,
    no_load_a=0.2,
    resistance_ohm=1.4,
    peak_a=5.4,
    gear_ratio=9.0,
    gear_efficiency=0.9,
    gear_continuous_nm=3.0,
    gear_peak_nm=6.0,
    gear_radial_n=250.0,
    gear_axial_n=100.0,
    backlash_deg=0.5,
    rotor_inertia_kgcm2=0.2,
    thermal_k_per_w=5.0,
    time_constant_s=600.0,
    most_winding_c=120.0,
)


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
    piece_kg: float = 6.0,
    hand_n: float = 30.0,
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
        piece_kg: Mass of what is photographed; it may stand off the axis.
        hand_n: Push of a hand at the rim, across and round: what the drive and the shaft must
            hold, N.
    """
    t = sheet.thickness_mm
    belt = belt_drive("curvilinear 5 mm", teeth=(teeth, 20), belt_teeth=belt_teeth, width_mm=9.0)
    layers = math.ceil(BEARING_MM / t)
    ring = circle((axis_mm, depth_mm / 2), diameter_mm=90.0)

    floor = Plate("floor plate", sheet, rectangle(width_mm, depth_mm))
    # The motor's own flange lies on the web between its boss and its screws, and carries it.
    deck = Plate("deck plate", sheet, rectangle(width_mm, depth_mm), least_web_mm=4.0)

    def rings(of: str) -> list[Plate]:
        return [Plate(f"{of} ring {k}", sheet, ring) for k in range(1, layers + 1)]

    case = (
        lying(laminate("floor", floor, *rings("floor")), bottom_mm=skirt_mm),
        lying(laminate("deck", deck, *rings("deck")), bottom_mm=height_mm - rim_mm - t),
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
            hub(
                "six-bolt 44 mm M5",
                bore_mm=SHAFT_MM,
                thickness_mm=14.0,
                hold="clamp",
                hold_thread="M4",
                hold_screws=2,
            ),
            on="table",
            side="down",
            at=on_axis("main shaft"),
            name="hub",
        ),
        mounted(
            motor(
                "NEMA 23 metric",
                body_length_mm=56.0,
                shaft_mm=6.35,
                shaft_length_mm=31.0,
                rating=MOTOR,
            ),
            on="deck",
            side="up",
            at=by_belt(belt, of="main shaft"),
            travel_mm=travel_mm,
            name="motor",
        ),
        # The pulleys turn below the motor's nuts.
        belted(belt, between=("main shaft", "motor"), on="deck", side="down", gap_mm=8.0),
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
        # The hand pushes a piece that stands 100 mm above the table.
        .with_loads(
            load(
                "hub",
                name="hand",
                torque_nm=hand_n * table_mm / 2 / 1000,
                radial_n=hand_n,
                at_mm=100.0,
                mass_kg=piece_kg,
            ),
            held="floor",
        )
        .with_drives(
            drive(
                "motor",
                output="hub",
                supply=supply(voltage_v=24.0, current_a=2.5),
                drivers=drivers(continuous_a=4.0, peak_a=6.0),
                fuse_a=3.15,
                wire=wire(area_mm2=0.75, length_m=1.0),
                current_limit_a=3.4,
                speed_rpm=6.0,
                speed_up_s=1.0,
                inertia_kgm2=0.03,
                cycle=((1.0, 2.0), (0.2, 20.0)),
                belt="belt",
                belt_limit_n_per_mm=18.0,
                belt_pull_n=45.0,
            )
        )
    )


if __name__ == "__main__":
    run_recipe(belt_turntable)
