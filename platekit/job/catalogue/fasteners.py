"""Screws and what goes with them in the catalogue, and the calls that take them."""

from __future__ import annotations

from platekit.job.catalogue.tables import Column, Kind, Table

_KNOWN = Column("known", "{known}")
_THREAD = Column("thread", "{thread}")
_LENGTHS = Column("lengths|mm", "{shortest_mm} to {longest_mm}")
_HARDWARE = "hardware/tables/"

FASTENERS = (
    Kind(
        name="screws",
        about="by standard and thread",
        calls=('bolted("M5", on="base", side="up", screw="ISO 4762")',),
        other_names=("bolts", "bolted", "screw standards"),
        tables=(
            Table(
                title="standards",
                file=f"{_HARDWARE}screw_standards.csv",
                aside=True,
                columns=(
                    Column("standard", "{standard}"),
                    Column("head", "{form}"),
                    Column("driven by", "{drive}"),
                    Column("class", "{property_class}"),
                    _KNOWN,
                ),
            ),
            Table(
                file=f"{_HARDWARE}screws.csv",
                by="standard",
                columns=(
                    _THREAD,
                    Column("head|mm", "{head_diameter_mm}"),
                    Column("high|mm", "{head_height_mm}"),
                    Column("key|mm", "{drive_mm}"),
                    _LENGTHS,
                    _KNOWN,
                ),
            ),
            Table(
                title="ISO 4017, and ISO 4014 with a shank",
                file=f"{_HARDWARE}hexagon_heads.csv",
                columns=(
                    _THREAD,
                    Column("flats|mm", "{across_flats_mm}"),
                    Column("high|mm", "{height_mm}"),
                    Column("ISO 4017|lengths mm", "{shortest_mm} to {longest_mm}"),
                    Column("ISO 4014|lengths mm", "{shortest_shank_mm} to {longest_shank_mm}"),
                    _KNOWN,
                ),
            ),
            Table(
                title="lengths made, mm, within the range of each",
                file=f"{_HARDWARE}screw_lengths.csv",
                aside=True,
                listed=True,
                columns=(Column("length|mm", "{length_mm}"), _KNOWN),
            ),
        ),
    ),
    Kind(
        name="nuts",
        about="hexagon nuts by standard and thread",
        calls=(
            'bolted("M5", on="base", side="up", nut="ISO 7040")',
            'nut_pocket("M5", reach_mm=20, at=on_edge("top"))',
        ),
        other_names=("nut_pocket", "hexagon nuts"),
        tables=(
            Table(
                file=f"{_HARDWARE}nuts.csv",
                by="standard",
                columns=(
                    _THREAD,
                    Column("flats|mm", "{across_flats_mm}"),
                    Column("corners|mm", "{across_corners_mm}"),
                    Column("high|mm", "{height_mm}"),
                    Column("class", "{property_class}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="washers",
        about="laid under heads and nuts without being asked for",
        tables=(
            Table(
                file=f"{_HARDWARE}washers.csv",
                by="standard",
                columns=(
                    _THREAD,
                    Column("inner|mm", "{inner_mm}"),
                    Column("outer|mm", "{outer_mm}"),
                    Column("high|mm", "{height_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="inserts",
        about="heat-set inserts: cut the hole of the one you bought, here M5",
        calls=('hole(6.4, name="insert M5")',),
        other_names=("heat-set inserts", "heat set inserts"),
        tables=(
            Table(
                file=f"{_HARDWARE}inserts.csv",
                columns=(
                    _THREAD,
                    Column("hole|mm", "{hole_mm}"),
                    Column("outer|mm", "{outer_mm}"),
                    Column("length|mm", "{length_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="holes",
        about="clearance holes for screws",
        calls=('hole("M5", fit="medium")', 'bolt_circle(4, "M5", pcd_mm=60)'),
        other_names=("clearance holes", "clearance", "bolt_circle"),
        tables=(
            Table(
                file=f"{_HARDWARE}clearance_holes.csv",
                columns=(
                    _THREAD,
                    Column("fine|mm", "{fine_mm}"),
                    Column("medium|mm", "{medium_mm}"),
                    Column("coarse|mm", "{coarse_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="threads",
        about="metric threads, coarse series",
        calls=('bolted("M5", on="base", side="up")',),
        other_names=("metric threads", "tapping drills"),
        tables=(
            Table(
                file=f"{_HARDWARE}threads.csv",
                columns=(
                    _THREAD,
                    Column("pitch|mm", "{pitch_mm}"),
                    Column("drill|mm", "{tapping_drill_mm}"),
                    Column("area|mm2", "{stress_area_mm2}"),
                    _KNOWN,
                ),
            ),
            Table(
                title="how far a screw must enter a thread",
                file=f"{_HARDWARE}thread_engagement.csv",
                aside=True,
                columns=(
                    Column("metal", "{metal}"),
                    Column("screw|diameters", "{diameters}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="tools",
        about="keys and sockets that must reach every screw",
        other_names=("hexagon keys", "socket wrenches", "wrenches"),
        tables=(
            Table(
                title="hexagon keys",
                file=f"{_HARDWARE}hex_keys.csv",
                columns=(
                    Column("size|mm", "{size_mm}"),
                    Column("long arm|mm", "{long_mm}"),
                    Column("short arm|mm", "{short_mm}"),
                    _KNOWN,
                ),
            ),
            Table(
                title="socket wrenches",
                file=f"{_HARDWARE}socket_wrenches.csv",
                columns=(
                    Column("flats|mm", "{across_flats_mm}"),
                    Column("outer|mm", "{outer_mm}"),
                    Column("room above|mm", "{free_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
)
