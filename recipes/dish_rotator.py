"""Dish rotator: the azimuth drive of a small radio dish on a mast.

A geared motor hangs under the motor plate and turns an upright main shaft in two bearings, one in
the bearing plate and one in the head, each in a seat laminated from rings. The dish bolts to a
turntable on a hub above the head. A toothed belt turns an encoder that can be moved to tension it.
Supply, fuse and controller stand on a tray over crossed ribs. The right wall comes off.

    platekit make recipes/dish_rotator.py
"""

import math

from platekit import (
    Assembly,
    Item,
    Plate,
    Sheet,
    ball_bearing,
    belt_drive,
    belted,
    birch_plywood,
    bolt_circle,
    bolt_circle_points,
    bolted,
    circle,
    comes_out,
    corners,
    drive,
    drivers,
    encoder,
    encoder_rating,
    from_edges,
    gland,
    hole,
    hub,
    laminate,
    load,
    lying,
    mirrored,
    motor,
    motor_rating,
    mounted,
    on_axis,
    panel_device,
    rectangle,
    rectangular_device,
    round_device,
    run_recipe,
    screwed,
    shaft,
    standing,
    supply,
    tabs,
    vent_honeycomb,
    vent_slots,
    window,
    wire,
)

BEARING, BEARING_MM = "6006", 13.0  # width, ISO 15
ENCODER, ENCODER_BODY_MM, ENCODER_BOSS_MM = "58 mm clamping flange", 58.0, 10.0
HUB = "ISO 9409-1-80-6-M8"
SHAFT_MM, GEARBOX_SHAFT_MM = 30.0, 16.0
# An invented motor with a planetary gearbox, its figures as a data sheet prints them.
MOTOR = motor_rating(
    voltage_v=24.0,
    power_w=150.0,
    speed_rpm=3000.0,
    current_a=8.0,
    no_load_a=0.5,
    resistance_ohm=0.25,
    peak_a=24.0,
    gear_ratio=100.0,
    gear_efficiency=0.75,
    gear_continuous_nm=60.0,
    gear_peak_nm=120.0,
    gear_radial_n=1500.0,
    gear_axial_n=1000.0,
    backlash_deg=0.3,
    rotor_inertia_kgcm2=1.2,
    thermal_k_per_w=3.0,
    time_constant_s=900.0,
    most_winding_c=130.0,
)


def dish_rotator(
    sheet: Sheet = birch_plywood(nominal_mm=6.0),
    *,
    width_mm: float = 320.0,
    depth_mm: float = 240.0,
    height_mm: float = 330.0,
    skirt_mm: float = 14.0,
    axis_mm: float = 130.0,
    tray_mm: float = 56.0,
    motor_plate_mm: float = 188.0,
    bearing_plate_mm: float = 252.0,
    belt_teeth: int = 120,
    belt_travel_mm: float = 8.0,
    turntable_mm: float = 170.0,
    gust_nm: float = 35.0,
    dish_kg: float = 12.0,
) -> Assembly:
    """Azimuth drive for a small radio dish on a mast.

    Args:
        sheet: Sheet it is cut from.
        width_mm: Outer width of the housing.
        depth_mm: Outer depth of the housing.
        height_mm: Outer height of the housing.
        skirt_mm: How far the walls stand out below the base and above the head.
        axis_mm: Distance of the main shaft from the left face.
        tray_mm: Height of the tray's underside; the ribs stand below it.
        motor_plate_mm: Height of the motor plate's underside; the motor hangs from it and has
            the room down to the tray and what stands there.
        bearing_plate_mm: Height of the bearing plate's underside; the belt runs above it.
        belt_teeth: Teeth of the encoder's belt, 3 mm pitch, on 60 and 30 teeth; sets the distance
            from main shaft to encoder.
        belt_travel_mm: Travel of the encoder for belt tension.
        turntable_mm: Diameter of the turntable that carries the dish.
        gust_nm: Torque of the strongest gust on the dish about the mast, N m.
        dish_kg: Mass of the dish with its arms.
    """
    t = sheet.thickness_mm
    middle_mm = depth_mm / 2
    axis = from_edges(left_mm=axis_mm)
    belt = belt_drive("curvilinear 3 mm", teeth=(60, 30), belt_teeth=belt_teeth, width_mm=9.0)
    encoder_mm = axis_mm + belt.centres_mm
    seat_layers = math.ceil(BEARING_MM / t)
    seat_mm = seat_layers * t
    turntable_at_mm = height_mm + 20.0

    def floor(name: str) -> Plate:
        return Plate(name, sheet, rectangle(width_mm, depth_mm))

    def wall(name: str, across_mm: float) -> Plate:
        return Plate(name, sheet, rectangle(across_mm, height_mm))

    def seat_rings(of: str) -> list[Plate]:
        outline = circle((axis_mm, middle_mm), diameter_mm=110.0)
        return [Plate(f"{of} ring {k}", sheet, outline) for k in range(1, seat_layers + 1)]

    base = floor("base").with_features(
        hole(30.0, at=from_edges(left_mm=axis_mm, bottom_mm=80.0), name="mast cable"),
    )
    tray = floor("tray").with_features(
        vent_slots(70.0, 60.0, at=from_edges(left_mm=axis_mm, top_mm=58.0), name="vent"),
        hole(16.0, at=from_edges(left_mm=axis_mm, bottom_mm=70.0), name="mast cable"),
    )
    cable_hole = hole(30.0, at=mirrored(from_edges(right_mm=45, bottom_mm=50), across="horizontal"))
    # The encoder's body hangs through a window in the bearing plate from a carrier that lies on
    # top and slides; the window lets it travel.
    window_mm = ENCODER_BODY_MM + 2.0
    carrier_mm = (window_mm + belt_travel_mm + 52.0, window_mm + 38.0)
    bearing_plate = laminate(
        "bearing plate",
        *seat_rings("lower"),
        floor("bearing plate top").with_features(
            window(
                window_mm + belt_travel_mm,
                window_mm,
                fillet_mm=8.0,
                at=(encoder_mm, middle_mm),
                name="encoder body",
            ),
        ),
    )
    # The encoder's own screws stand 4 mm from its boss: its flange carries there, not the plate.
    flat = rectangle(*carrier_mm, fillet_mm=6.0)
    carrier = Plate("encoder carrier", sheet, flat, least_web_mm=4.0)
    head = laminate("head", *seat_rings("upper"), floor("head top"))
    disc = circle((axis_mm, middle_mm), diameter_mm=turntable_mm)
    turntable = laminate(
        "turntable",
        *(
            Plate(f"turntable {side}", sheet, disc).with_features(
                bolt_circle(4, "M8", pcd_mm=turntable_mm - 34.0, start_deg=45.0, name="dish"),
            )
            for side in ("lower", "upper")
        ),
    )
    back = wall("back", width_mm).with_features(
        vent_honeycomb(diameter_mm=60.0, at=from_edges(right_mm=80, bottom_mm=120), name="vent"),
    )
    left = wall("left", depth_mm).with_features(
        vent_slots(120.0, 50.0, at=from_edges(bottom_mm=125), name="vent")
    )
    long_rib = Plate("long rib", sheet, rectangle(width_mm, tray_mm + t - skirt_mm))
    cross_rib = Plate("cross rib", sheet, rectangle(depth_mm, tray_mm + t - skirt_mm))
    floors = ("tray", "motor plate", "bearing plate", "long rib")
    panels = (
        lying(base, bottom_mm=skirt_mm),
        standing(wall("front", width_mm), facing="front"),
        standing(back, facing="back", back_mm=depth_mm),
        standing(left, facing="left"),
        standing(wall("right", depth_mm), facing="right", right_mm=width_mm),
        lying(tray, bottom_mm=tray_mm),
        lying(floor("motor plate").with_features(cable_hole), bottom_mm=motor_plate_mm),
        lying(bearing_plate, top_mm=bearing_plate_mm + t),
        lying(head, top_mm=height_mm - skirt_mm),
        standing(long_rib, facing="front", front_mm=middle_mm, bottom_mm=skirt_mm),
        standing(cross_rib, facing="left", left_mm=axis_mm + 65.0, bottom_mm=skirt_mm),
        lying(
            carrier,
            middle_x_mm=encoder_mm,
            middle_y_mm=middle_mm,
            bottom_mm=bearing_plate_mm + t,
        ),
        lying(turntable, middle_x_mm=axis_mm, middle_y_mm=middle_mm, bottom_mm=turntable_at_mm),
    )
    joints = (
        screwed("base", to="right", thread="M4", screws=2),
        screwed("head", to="right", thread="M4"),
        *(tabs(panel, into="right", hold="slip") for panel in ("front", "back", *floors)),
    )
    shaft_mm = turntable_at_mm - 2.0 - (motor_plate_mm + t)
    turning = (
        mounted(
            motor(
                "NEMA 34",
                body_length_mm=112.0,
                shaft_mm=GEARBOX_SHAFT_MM,
                shaft_length_mm=38.0,
                flange_mm=8.0,
                shaft_kind="with a key",
                rating=MOTOR,
            ),
            on="motor plate",
            side="down",
            at=axis,
            name="motor",
        ),
        mounted(
            shaft(SHAFT_MM, shaft_mm, socket_mm=GEARBOX_SHAFT_MM, socket_depth_mm=40.0),
            on="motor plate",
            side="up",
            at=on_axis("motor"),
            lift_mm=2.0,
            name="main shaft",
        ),
        # Both bearings lie against the plate above their rings.
        *(
            mounted(
                ball_bearing(BEARING),
                on=plate,
                side="down",
                at=on_axis("motor"),
                lift_mm=BEARING_MM - seat_mm,
                name=name,
            )
            for plate, name in (("bearing plate", "lower bearing"), ("head", "upper bearing"))
        ),
        mounted(
            hub(HUB, bore_mm=SHAFT_MM, thickness_mm=18.0, hold="key"),
            on="turntable",
            side="down",
            at=on_axis("motor"),
            name="hub",
        ),
        mounted(
            encoder(
                ENCODER,
                body_length_mm=48.0,
                shaft_length_mm=30.0,
                depth_mm=6.0,
                rating=encoder_rating(lines=1024),
            ),
            on="encoder carrier",
            side="down",
            name="encoder",
        ),
        bolted(
            "M4",
            on="encoder carrier",
            side="up",
            at=corners(inset_mm=14.0, inset_y_mm=12.0),
            travel_mm=belt_travel_mm,
            name="tension bolt",
        ),
        # The pulleys turn above the encoder's boss, which stands out of the carrier.
        belted(
            belt,
            between=("main shaft", "encoder"),
            on="encoder carrier",
            side="up",
            gap_mm=max(ENCODER_BOSS_MM - t, 0.0) + 2.0,
        ),
    )
    supply_holes = [(x, y) for x in (-40.0, 40.0) for y in (-55.0, 55.0)]
    board_holes = [(x, y) for x in (-22.5, 22.5) for y in (-30.0, 30.0)]
    mast_holes = bolt_circle_points(4, pcd_mm=130.0, start_deg=45.0)
    boxes = (
        mounted(
            round_device(
                "mast flange",
                diameter_mm=160.0,
                height_mm=10.0,
                holes=mast_holes,
                thread="M8",
                flange_mm=10.0,
            ),
            on="base",
            side="down",
            at=axis,
        ),
        mounted(
            rectangular_device(
                "supply 24 V 10 A",
                width_mm=98.0,
                depth_mm=130.0,
                height_mm=32.0,
                holes=supply_holes,
                hazards=("mains",),
                thread="M4",
                tapped_mm=6.0,
            ),
            on="tray",
            side="up",
            at=from_edges(right_mm=62.0, bottom_mm=82.0),
            name="supply",
        ),
        mounted(
            rectangular_device(
                "motor controller",
                width_mm=55.0,
                depth_mm=70.0,
                height_mm=22.0,
                holes=board_holes,
                thread="M3",
                flange_mm=1.6,
                spacer_mm=10.0,
            ),
            on="tray",
            side="up",
            at=from_edges(left_mm=48.0, bottom_mm=60.0),
            name="controller",
        ),
        mounted(
            panel_device("emergency stop 22 mm"),
            on="front",
            side="front",
            at=from_edges(right_mm=50, bottom_mm=125),
            name="stop",
        ),
        mounted(
            gland("M20", thread_length_mm=15.0),
            on="back",
            side="back",
            at=from_edges(left_mm=45, bottom_mm=95),
            name="supply lead",
        ),
        mounted(
            gland("M16", thread_length_mm=15.0),
            on="back",
            side="back",
            at=from_edges(left_mm=90, bottom_mm=95),
            name="signal lead",
        ),
    )
    return (
        Assembly("dish rotator")
        .with_panels(*panels)
        .with_joints(*joints)
        .with_hardware(*turning, *boxes)
        .with_removals(comes_out("right", towards="right"))
        .with_loads(
            load(
                "hub", name="gust", torque_nm=gust_nm, radial_n=100.0, at_mm=60.0, mass_kg=dish_kg
            ),
            held=("mast flange",),
        )
        .with_drives(
            drive(
                "motor",
                output="hub",
                supply=supply(voltage_v=24.0, current_a=10.0),
                drivers=drivers(continuous_a=15.0, peak_a=30.0),
                fuse_a=16.0,
                wire=wire(area_mm2=2.5, length_m=0.8, laying="E"),
                current_limit_a=14.0,
                speed_rpm=2.0,
                speed_up_s=1.5,
                inertia_kgm2=3.0,
                cycle=((gust_nm, 6.0), (0.35 * gust_nm, 30.0)),
                encoder="encoder",
                belt="belt",
                resolution_deg=0.1,
                backlash_deg=0.5,
            )
        )
        .with_items(Item("parallel key DIN 6885-1 A 5x5x25", 1, "16 mm gearbox shaft"))
    )


if __name__ == "__main__":
    run_recipe(dish_rotator)
