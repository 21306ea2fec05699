"""Standard parts: their dimensions from tables, every row with its source.

Numbers and patterns only; the panel room turns them into holes.
"""

from platekit.hardware.bearings import Bearing, bearing, known_bearings
from platekit.hardware.clearance import ClearanceFit, clearance_hole_mm, known_clearance_threads
from platekit.hardware.cutouts import (
    CableGland,
    PanelCutout,
    cable_gland,
    known_cable_glands,
    known_panel_cutouts,
    panel_cutout,
)
from platekit.hardware.encoders import EncoderBody, encoder_body, known_encoder_bodies
from platekit.hardware.fits import limits
from platekit.hardware.hubs import HubPattern, hub_pattern, known_hub_patterns
from platekit.hardware.items import Item, gathered
from platekit.hardware.keys import ParallelKey, key_for
from platekit.hardware.motor_faces import MotorFace, known_motor_faces, motor_face
from platekit.hardware.patterns import bolt_circle_points, rectangle_points
from platekit.hardware.screws import Screw, known_screws, screw

__all__ = [
    "Bearing",
    "CableGland",
    "ClearanceFit",
    "EncoderBody",
    "HubPattern",
    "Item",
    "MotorFace",
    "PanelCutout",
    "ParallelKey",
    "Screw",
    "bearing",
    "bolt_circle_points",
    "cable_gland",
    "clearance_hole_mm",
    "encoder_body",
    "gathered",
    "hub_pattern",
    "key_for",
    "known_bearings",
    "known_cable_glands",
    "known_clearance_threads",
    "known_encoder_bodies",
    "known_hub_patterns",
    "known_motor_faces",
    "known_panel_cutouts",
    "known_screws",
    "limits",
    "motor_face",
    "panel_cutout",
    "rectangle_points",
    "screw",
]
