"""Standard parts: their dimensions from tables, every row with its source.

Numbers, patterns, and bought parts as they are mounted; the rooms above turn them into holes.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from platekit.hardware.belts.profiles import BeltProfile, belt_profile, known_belt_profiles
from platekit.hardware.faces.bearings import Bearing, bearing, known_bearings, own_bearings
from platekit.hardware.faces.cutouts import (
    CableGland,
    PanelCutout,
    cable_gland,
    known_cable_glands,
    known_panel_cutouts,
    panel_cutout,
)
from platekit.hardware.faces.encoders import (
    EncoderBody,
    encoder_body,
    known_encoder_bodies,
    own_encoder_bodies,
)
from platekit.hardware.faces.hubs import HubPattern, hub_pattern, known_hub_patterns
from platekit.hardware.faces.motor_faces import (
    MotorFace,
    known_motor_faces,
    motor_face,
    own_motor_faces,
)
from platekit.hardware.fasteners.clearance import (
    ClearanceFit,
    clearance_hole_mm,
    known_clearance_threads,
)
from platekit.hardware.fasteners.engagement import engagement_diameters, least_engagement_mm
from platekit.hardware.fasteners.inserts import Insert, heat_set_insert, known_heat_set_inserts
from platekit.hardware.fasteners.nuts import Nut, known_nut_standards, known_nut_threads, nut
from platekit.hardware.fasteners.screw_kinds import (
    ScrewKind,
    known_screw_standards,
    known_threads_of,
    screw_by,
)
from platekit.hardware.fasteners.screws import Screw, known_screws, screw
from platekit.hardware.fasteners.threads import Thread, known_threads, metric_thread
from platekit.hardware.fasteners.washers import (
    Washer,
    known_washer_standards,
    known_washer_threads,
    washer,
)
from platekit.hardware.fits import limits
from platekit.hardware.items import Item, gathered, purchased
from platekit.hardware.keys import ParallelKey, key_for
from platekit.hardware.metals import Metal
from platekit.hardware.patterns import bolt_circle_points, rectangle_points

if TYPE_CHECKING:
    from platekit.hardware.belts.drives import BeltDrive, belt_drive
    from platekit.hardware.belts.pulleys import belt_above_face_mm, pulley
    from platekit.hardware.devices.bearings import ball_bearing
    from platekit.hardware.devices.device import Device, Fixing, Passage, ShaftEnd
    from platekit.hardware.devices.hubs import hub
    from platekit.hardware.devices.motors import encoder, motor
    from platekit.hardware.devices.panel_devices import gland, panel_device
    from platekit.hardware.devices.pressed import ParallelPin, dowel_pin, magnet, parallel_pin
    from platekit.hardware.devices.rails import din_rail
    from platekit.hardware.devices.shafts import coupling, reducing_bush, shaft
    from platekit.hardware.devices.standing_devices import rectangular_device, round_device
    from platekit.hardware.devices.table import device, known_devices, own_devices
    from platekit.hardware.fasteners.tools import Tool, hex_key, socket_wrench, tool_for

# Bought parts with bodies load the geometry, and that takes time: each when it is first asked for.
_LATER = {
    "devices.bearings": ("ball_bearing",),
    "belts.drives": ("BeltDrive", "belt_drive"),
    "devices.device": ("Device", "Fixing", "Passage", "ShaftEnd"),
    "devices.table": ("device", "known_devices", "own_devices"),
    "devices.hubs": ("hub",),
    "devices.motors": ("encoder", "motor"),
    "devices.panel_devices": ("gland", "panel_device"),
    "devices.pressed": ("ParallelPin", "dowel_pin", "magnet", "parallel_pin"),
    "belts.pulleys": ("belt_above_face_mm", "pulley"),
    "devices.rails": ("din_rail",),
    "devices.shafts": ("coupling", "reducing_bush", "shaft"),
    "devices.standing_devices": ("rectangular_device", "round_device"),
    "fasteners.tools": ("Tool", "hex_key", "socket_wrench", "tool_for"),
}
_HOMES = {name: module for module, names in _LATER.items() for name in names}


def __getattr__(name: str) -> object:
    """Return a bought part's function or value, loaded when it is first used."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found: object = getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    globals()[name] = found
    return found


__all__ = [
    "Bearing",
    "BeltDrive",
    "BeltProfile",
    "CableGland",
    "ClearanceFit",
    "Device",
    "EncoderBody",
    "Fixing",
    "HubPattern",
    "Insert",
    "Item",
    "Metal",
    "MotorFace",
    "Nut",
    "PanelCutout",
    "ParallelKey",
    "ParallelPin",
    "Passage",
    "Screw",
    "ScrewKind",
    "ShaftEnd",
    "Thread",
    "Tool",
    "Washer",
    "ball_bearing",
    "bearing",
    "belt_above_face_mm",
    "belt_drive",
    "belt_profile",
    "bolt_circle_points",
    "cable_gland",
    "clearance_hole_mm",
    "coupling",
    "device",
    "din_rail",
    "dowel_pin",
    "encoder",
    "encoder_body",
    "engagement_diameters",
    "gathered",
    "gland",
    "heat_set_insert",
    "hex_key",
    "hub",
    "hub_pattern",
    "key_for",
    "known_bearings",
    "known_belt_profiles",
    "known_cable_glands",
    "known_clearance_threads",
    "known_devices",
    "known_encoder_bodies",
    "known_heat_set_inserts",
    "known_hub_patterns",
    "known_motor_faces",
    "known_nut_standards",
    "known_nut_threads",
    "known_panel_cutouts",
    "known_screw_standards",
    "known_screws",
    "known_threads",
    "known_threads_of",
    "known_washer_standards",
    "known_washer_threads",
    "least_engagement_mm",
    "limits",
    "magnet",
    "metric_thread",
    "motor",
    "motor_face",
    "nut",
    "own_bearings",
    "own_devices",
    "own_encoder_bodies",
    "own_motor_faces",
    "panel_cutout",
    "panel_device",
    "parallel_pin",
    "pulley",
    "purchased",
    "rectangle_points",
    "rectangular_device",
    "reducing_bush",
    "round_device",
    "screw",
    "screw_by",
    "shaft",
    "socket_wrench",
    "tool_for",
    "washer",
]
