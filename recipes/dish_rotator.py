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
    bearing_seat,
    beside,
    birch_plywood,
    bolt_circle,
    bolt_rectangle,
    cable_gland,
    circle,
    corners,
    encoder_face,
    from_edges,
    hole,
    hub_face,
    laminate,
    lying,
    mirrored,
    motor_face,
    panel_cutout,
    rectangle,
    run_recipe,
    screwed,
    slot,
    standing,
    tabs,
    vent_honeycomb,
    vent_slots,
    window,
)

# The outer ring rests on a shoulder that clears the inner one.
BEARING, BEARING_WIDTH_MM, SHOULDER_MM = "6006", 13.0, 45.0
ENCODER_BODY_MM = 58.0
HUB = "ISO 9409-1-80-6-M8"


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
    belt_centres_mm: float = 111.6,
    belt_travel_mm: float = 8.0,
    turntable_mm: float = 170.0,
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
        belt_centres_mm: Distance from main shaft to encoder, at the middle of its travel: 111.6
            is a belt of 120 teeth, 3 mm pitch, on 60 and 30 teeth.
        belt_travel_mm: Travel of the encoder for belt tension.
        turntable_mm: Diameter of the turntable that carries the dish.
    """
    t = sheet.thickness_mm
    axis = from_edges(left_mm=axis_mm)
    seat_layers = math.ceil(BEARING_WIDTH_MM / t)

    def floor(name: str) -> Plate:
        return Plate(name, sheet, rectangle(width_mm, depth_mm))

    def wall(name: str, across_mm: float) -> Plate:
        return Plate(name, sheet, rectangle(across_mm, height_mm))

    def seat_rings(of: str) -> list[Plate]:
        outline = circle((axis_mm, depth_mm / 2), diameter_mm=110.0)
        return [
            Plate(f"{of} ring {k}", sheet, outline).with_features(
                bearing_seat(BEARING, bought=k == 1, name="seat")
            )
            for k in range(1, seat_layers + 1)
        ]

    base = floor("base").with_features(
        bolt_circle(4, "M8", pcd_mm=130.0, start_deg=45.0, at=axis, name="mast flange"),
        hole(30.0, at=from_edges(left_mm=axis_mm, bottom_mm=80.0), name="mast cable"),
    )
    tray = floor("tray").with_features(
        bolt_rectangle(150.0, 50.0, "M4", at=from_edges(left_mm=105, bottom_mm=58), name="supply"),
        bolt_rectangle(60.0, 45.0, "M3", at=from_edges(right_mm=70, top_mm=65), name="controller"),
        bolt_rectangle(30.0, 0.0, "M4", at=from_edges(right_mm=70, bottom_mm=45), name="fuse"),
        vent_slots(90.0, 45.0, at=from_edges(left_mm=90, top_mm=60), name="vent"),
        hole(16.0, at=from_edges(left_mm=105, bottom_mm=102), name="mast cable"),
    )
    motor_plate = floor("motor plate").with_features(
        motor_face("NEMA 34", at=axis, name="motor"),
        hole(30.0, at=mirrored(from_edges(right_mm=45, bottom_mm=50), across="horizontal")),
    )
    # The encoder's body hangs through a window in the bearing plate from a carrier that lies on
    # top and slides; the window lets it travel.
    encoder_axis = beside("shaft", dx_mm=belt_centres_mm)
    window_mm = ENCODER_BODY_MM + 2.0
    fixing_mm = (window_mm + belt_travel_mm + 24.0, window_mm + 14.0)
    bearing_plate = laminate(
        "bearing plate",
        *seat_rings("lower"),
        floor("bearing plate top").with_features(
            hole(SHOULDER_MM, at=axis, name="shaft"),
            window(
                window_mm + belt_travel_mm,
                window_mm,
                fillet_mm=8.0,
                at=encoder_axis,
                name="encoder body",
            ),
            bolt_rectangle(*fixing_mm, "M4", at=encoder_axis, name="carrier"),
        ),
    )
    # The encoder's own screws stand 4 mm from its boss: its flange carries there, not the plate.
    flat = rectangle(fixing_mm[0] + 28.0, fixing_mm[1] + 24.0, fillet_mm=6.0)
    carrier = Plate("encoder carrier", sheet, flat, least_web_mm=4.0).with_features(
        encoder_face("58 mm clamping flange", turn_deg=90.0, name="encoder"),
        slot(
            4.5 + belt_travel_mm,
            4.5,
            at=corners(inset_mm=14.0, inset_y_mm=12.0),
            name="tension",
        ),
    )
    head = laminate(
        "head",
        *seat_rings("upper"),
        floor("head top").with_features(hole(SHOULDER_MM, at=axis, name="shaft")),
    )
    disc = circle((axis_mm, depth_mm / 2), diameter_mm=turntable_mm)
    turntable = laminate(
        "turntable",
        *(
            Plate(f"turntable {side}", sheet, disc).with_features(
                hub_face(HUB, name="hub"),
                bolt_circle(4, "M8", pcd_mm=turntable_mm - 34.0, start_deg=45.0, name="dish"),
            )
            for side in ("lower", "upper")
        ),
    )
    front = wall("front", width_mm).with_features(
        panel_cutout(
            "emergency stop 22 mm", at=from_edges(right_mm=50, bottom_mm=125), name="stop"
        ),
    )
    back = wall("back", width_mm).with_features(
        cable_gland("M20", at=from_edges(left_mm=45, bottom_mm=95), name="supply lead"),
        cable_gland("M16", at=from_edges(left_mm=90, bottom_mm=95), name="signal lead"),
        vent_honeycomb(diameter_mm=60.0, at=from_edges(right_mm=80, bottom_mm=120), name="vent"),
    )
    left = wall("left", depth_mm).with_features(
        vent_slots(120.0, 50.0, at=from_edges(bottom_mm=125), name="vent")
    )
    long_rib = Plate("long rib", sheet, rectangle(width_mm, tray_mm + t - skirt_mm))
    cross_rib = Plate("cross rib", sheet, rectangle(depth_mm, tray_mm + t - skirt_mm))
    floors = ("tray", "motor plate", "bearing plate", "long rib")
    return (
        Assembly("dish rotator")
        .with_panels(
            lying(base, bottom_mm=skirt_mm),
            standing(front, facing="front"),
            standing(back, facing="back", back_mm=depth_mm),
            standing(left, facing="left"),
            standing(wall("lid", depth_mm), facing="right", right_mm=width_mm),
            lying(tray, bottom_mm=tray_mm),
            lying(motor_plate, bottom_mm=motor_plate_mm),
            lying(bearing_plate, top_mm=bearing_plate_mm + t),
            lying(head, top_mm=height_mm - skirt_mm),
            standing(long_rib, facing="front", front_mm=depth_mm / 2, bottom_mm=skirt_mm),
            standing(cross_rib, facing="left", left_mm=axis_mm + 65.0, bottom_mm=skirt_mm),
            lying(
                carrier,
                middle_x_mm=axis_mm + belt_centres_mm,
                middle_y_mm=depth_mm / 2,
                bottom_mm=bearing_plate_mm + t,
            ),
            lying(
                turntable,
                middle_x_mm=axis_mm,
                middle_y_mm=depth_mm / 2,
                bottom_mm=height_mm + 20.0,
            ),
        )
        .with_joints(
            screwed("base", to="lid", thread="M4"),
            screwed("head", to="lid", thread="M4"),
            *(tabs(panel, into="lid", hold="slip") for panel in ("front", "back", *floors)),
        )
        .with_items(
            Item("nut ISO 4032 M8", 4, "glued over the mast flange before the tray goes in"),
            Item(
                "main shaft 30 mm, lower end bored 16 mm with keyway", 1, "fits bearings and motor"
            ),
            Item("parallel key DIN 6885-1 A 5x5x25", 1, "16 mm gearbox shaft"),
            Item(f"hub, face {HUB}, bore 30 mm", 1, "carries the turntable"),
            Item("toothed belt 3 mm pitch, 120 teeth, 9 mm wide", 1, "main shaft to encoder"),
            Item("pulley 3 mm pitch, 60 teeth, bore 30 mm", 1, "main shaft"),
            Item("pulley 3 mm pitch, 30 teeth, bore 10 mm", 1, "encoder"),
        )
    )


if __name__ == "__main__":
    run_recipe(dish_rotator)
