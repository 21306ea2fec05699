"""Bought parts in the catalogue: what is mounted, and the calls that take it."""

from __future__ import annotations

from platekit.job.catalogue.tables import Column, Kind, Table

_KNOWN = Column("known", "{known}")
_THREAD = Column("thread", "{thread}")
_DESIGNATION = Column("designation", "{designation}")
_LENGTHS = Column("lengths|mm", "{shortest_mm} to {longest_mm}")
_HOLES = Column("holes", "{hole_count} x {screw}")
_CIRCLE = Column("circle|mm", "{pcd_mm}")
_SPIGOT = Column("spigot|mm", "{pilot_diameter_mm}")
_HARDWARE = "hardware/tables/"

DEVICES = (
    Kind(
        name="motors",
        about="faces of motors and gearboxes",
        calls=(
            'motor("NEMA 34", body_length_mm=120, shaft_length_mm=37, flange_mm=10)',
            'motor_face("NEMA 34")',
        ),
        own="own_motor_faces",
        other_names=("motor faces", "gearboxes", "gearbox", "motor_face"),
        tables=(
            Table(
                file=f"{_HARDWARE}motor_faces.csv",
                columns=(
                    _DESIGNATION,
                    Column("face|mm", "{square} {body_mm}", words=("sq", "dia")),
                    _HOLES,
                    _CIRCLE,
                    Column("bored|mm", "{hole_diameter_mm}", missing="tapped"),
                    _SPIGOT,
                    Column("shaft|mm", "{shaft_diameter_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="encoders",
        about="faces of encoders",
        calls=(
            'encoder("58 mm clamping flange", body_length_mm=50, shaft_length_mm=20)',
            'encoder_face("58 mm clamping flange")',
        ),
        own="own_encoder_bodies",
        other_names=("encoder faces", "encoder_face", "encoder bodies"),
        tables=(
            Table(
                file=f"{_HARDWARE}encoders.csv",
                columns=(
                    _DESIGNATION,
                    Column("body|mm", "{body_mm}"),
                    _HOLES,
                    _CIRCLE,
                    _SPIGOT,
                    Column("shaft|mm", "{shaft_diameter_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="bearings",
        about="deep groove ball bearings",
        calls=('ball_bearing("6004")', 'bearing_seat("6004", fit="H7")'),
        own="own_bearings",
        other_names=("ball bearings", "ball_bearing", "bearing_seat"),
        tables=(
            Table(
                file=f"{_HARDWARE}bearings.csv",
                columns=(
                    _DESIGNATION,
                    Column("also", "{other_names}", missing=""),
                    Column("bore|mm", "{bore_mm}"),
                    Column("outer|mm", "{outer_mm}"),
                    Column("width|mm", "{width_mm}"),
                    Column("chamfer|mm", "{chamfer_mm}"),
                    Column("C|N", "{dynamic_n}", missing=""),
                    Column("C0|N", "{static_n}", missing=""),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="hubs",
        about="bolt patterns of flanged shaft hubs",
        calls=(
            'hub("six-bolt 70 mm M5", bore_mm=12, thickness_mm=8)',
            'hub_face("six-bolt 70 mm M5")',
        ),
        other_names=("hub patterns", "hub_face", "flanges", "shaft hubs"),
        tables=(
            Table(
                file=f"{_HARDWARE}hubs.csv",
                columns=(
                    _DESIGNATION,
                    _HOLES,
                    _CIRCLE,
                    Column("spigot|mm", "{pilot_diameter_mm}", missing="none"),
                    Column("flange|mm", "{outer_diameter_mm}"),
                    Column("dowel|mm", "{dowel_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="belts",
        about="synchronous belts and the pulleys for them",
        calls=(
            'belt_drive("T5", teeth=(20, 60), width_mm=16, belt_teeth=100)',
            'pulley("T5", 20, bore_mm=8, width_mm=16)',
        ),
        other_names=("belt profiles", "pulleys", "belt_drive", "pulley"),
        tables=(
            Table(
                file=f"{_HARDWARE}belt_profiles.csv",
                columns=(
                    _DESIGNATION,
                    Column("pitch|mm", "{pitch_mm}"),
                    Column("least|teeth", "{least_teeth}"),
                    Column("widths|mm", "{widths_mm}"),
                    _KNOWN,
                ),
            ),
            Table(
                title="closed belts known, by their teeth",
                file=f"{_HARDWARE}belt_lengths.csv",
                aside=True,
                columns=(Column("profile", "{profile}"), _KNOWN, Column("teeth", "{teeth}")),
            ),
        ),
    ),
    Kind(
        name="cutouts",
        about="what is put through a panel: buttons, sockets, switches",
        calls=(
            'panel_device("emergency stop 22 mm")',
            'panel_cutout("emergency stop 22 mm")',
        ),
        other_names=("panel devices", "panel_device", "panel_cutout", "buttons", "sockets"),
        tables=(
            Table(
                file=f"{_HARDWARE}cutouts.csv",
                columns=(
                    _DESIGNATION,
                    Column("hole|mm", "dia {diameter_mm}", otherwise="{width_mm} x {height_mm}"),
                    Column("screws", "{screw}"),
                    Column("behind|mm", "{behind_reach_mm}"),
                    Column("panel|most mm", "{most_panel_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="glands",
        about="cable glands",
        calls=('gland("M20")', 'cable_gland("M20")'),
        other_names=("cable glands", "cable_gland"),
        tables=(
            Table(
                file=f"{_HARDWARE}cable_glands.csv",
                columns=(
                    _THREAD,
                    Column("hole|mm", "{hole_diameter_mm}"),
                    Column("cable|mm", "{cable_least_mm} to {cable_most_mm}"),
                    Column("room|mm", "{room_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="devices",
        about="what is screwed down by a pattern of holes: supplies, boards, fans, feet",
        calls=('device("fan 80 mm")',),
        own="own_devices",
        other_names=("fans", "power supplies", "boards", "limit switches", "feet"),
        tables=(
            Table(
                file=f"{_HARDWARE}devices.csv",
                columns=(
                    _DESIGNATION,
                    Column("sides|mm", "{width_mm} x {depth_mm}", otherwise="dia {diameter_mm}"),
                    Column("high|mm", "{height_mm}"),
                    Column("screws", "{screw}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="pins",
        about="parallel pins",
        calls=('dowel_pin(6, 20, standard="ISO 8734")',),
        other_names=("dowels", "dowel pins", "dowel_pin", "parallel pins"),
        tables=(
            Table(
                file=f"{_HARDWARE}pins.csv",
                by="standard",
                columns=(
                    Column("diameter|mm", "{diameter_mm}"),
                    Column("class", "{tolerance}"),
                    _LENGTHS,
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="sized",
        about="what has no table and is made to the sizes you give",
        calls=(
            "din_rail(500)  # a rail TH 35-7.5, EN 60715",
            "shaft(12, 200)",
            "coupling(10, 12, outer_mm=30, length_mm=40)",
            "reducing_bush(12, 8, length_mm=20)",
            "magnet(10, 3)",
            'round_device("siren", diameter_mm=60, height_mm=40)',
        ),
        other_names=("rails", "din_rail", "shafts", "couplings", "bushes", "magnets"),
        tables=(),
    ),
)
