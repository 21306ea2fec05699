"""Short recipes in, laser-cut structures of flat plates out.

A recipe imports what it needs from here. Names are loaded when they are first used, so that
``import platekit`` and ``platekit --help`` stay quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from platekit.showing import Drawer as _Drawer, drawn_by as _drawn_by
from platekit.version import VERSION

if TYPE_CHECKING:
    from platekit.assembly import (
        Assembly as Assembly,
        Laminate as Laminate,
        Panel as Panel,
        belted as belted,
        bolted as bolted,
        box as box,
        butted as butted,
        by_belt as by_belt,
        comes_out as comes_out,
        crossed_ribs as crossed_ribs,
        drive as drive,
        drivers as drivers,
        fingers as fingers,
        halving as halving,
        laminate as laminate,
        load as load,
        lying as lying,
        mounted as mounted,
        on_axis as on_axis,
        on_face as on_face,
        passing as passing,
        placed as placed,
        screwed as screwed,
        standing as standing,
        supply as supply,
        tabs as tabs,
        tongue as tongue,
        upright_on as upright_on,
        wire as wire,
    )
    from platekit.cli.commands import run_recipe as run_recipe
    from platekit.errors import (
        GeometryError as GeometryError,
        NestingError as NestingError,
        OutputError as OutputError,
        PartError as PartError,
        PlatekitError as PlatekitError,
        RecipeError as RecipeError,
        UnknownNameError as UnknownNameError,
    )
    from platekit.findings import Finding as Finding, Severity as Severity
    from platekit.geometry.booleans import (
        difference as difference,
        intersection as intersection,
        union as union,
    )
    from platekit.geometry.chains import Contour as Contour, Path as Path, circle as circle
    from platekit.geometry.corners import chamfer as chamfer, fillet as fillet
    from platekit.geometry.distance import distance as distance
    from platekit.geometry.freecurves import bezier as bezier, ellipse as ellipse, spline as spline
    from platekit.geometry.hull import hull as hull
    from platekit.geometry.motion import Motion as Motion
    from platekit.geometry.offset import Join as Join, offset as offset
    from platekit.geometry.points import Point as Point
    from platekit.geometry.profile import Profile as Profile
    from platekit.geometry.shapes import (
        polygon as polygon,
        rectangle as rectangle,
        regular_polygon as regular_polygon,
        ring as ring,
    )
    from platekit.geometry.trace import trace_from as trace_from
    from platekit.hardware.belts.drives import belt_drive as belt_drive
    from platekit.hardware.belts.pulleys import pulley as pulley
    from platekit.hardware.devices.bearings import ball_bearing as ball_bearing
    from platekit.hardware.devices.hubs import hub as hub
    from platekit.hardware.devices.motor_ratings import (
        encoder_rating as encoder_rating,
        motor_rating as motor_rating,
    )
    from platekit.hardware.devices.motors import encoder as encoder, motor as motor
    from platekit.hardware.devices.panel_devices import gland as gland, panel_device as panel_device
    from platekit.hardware.devices.pressed import dowel_pin as dowel_pin, magnet as magnet
    from platekit.hardware.devices.rails import din_rail as din_rail
    from platekit.hardware.devices.shafts import (
        coupling as coupling,
        reducing_bush as reducing_bush,
        shaft as shaft,
    )
    from platekit.hardware.devices.standing_devices import (
        rectangular_device as rectangular_device,
        round_device as round_device,
    )
    from platekit.hardware.devices.table import device as device, own_devices as own_devices
    from platekit.hardware.faces.bearings import own_bearings as own_bearings
    from platekit.hardware.faces.encoders import own_encoder_bodies as own_encoder_bodies
    from platekit.hardware.faces.motor_faces import own_motor_faces as own_motor_faces
    from platekit.hardware.items import Item as Item
    from platekit.hardware.patterns import (
        bolt_circle_points as bolt_circle_points,
        rectangle_points as rectangle_points,
    )
    from platekit.materials import (
        Beam as Beam,
        Hold as Hold,
        Material as Material,
        Sheet as Sheet,
        StockSize as StockSize,
        Strength as Strength,
        birch_plywood as birch_plywood,
        sheet as sheet,
    )
    from platekit.panel.faces import (
        cable_gland as cable_gland,
        encoder_face as encoder_face,
        motor_face as motor_face,
        panel_cutout as panel_cutout,
    )
    from platekit.panel.feature import Feature as Feature
    from platekit.panel.holes import (
        bearing_seat as bearing_seat,
        bolt_circle as bolt_circle,
        bolt_rectangle as bolt_rectangle,
        d_bore as d_bore,
        double_d_bore as double_d_bore,
        hole as hole,
        hub_face as hub_face,
        keyed_bore as keyed_bore,
    )
    from platekit.panel.lightening import lightening as lightening
    from platekit.panel.marking import (
        centre_mark as centre_mark,
        grain_arrow as grain_arrow,
        lettering as lettering,
        reference_line as reference_line,
    )
    from platekit.panel.openings import (
        arc_slot as arc_slot,
        notch as notch,
        nut_pocket as nut_pocket,
        opening as opening,
        slot as slot,
        vent_honeycomb as vent_honeycomb,
        vent_slots as vent_slots,
        window as window,
    )
    from platekit.panel.part import (
        Grain as Grain,
        Laying as Laying,
        Mark as Mark,
        Part as Part,
    )
    from platekit.panel.places import (
        around as around,
        beside as beside,
        centre as centre,
        corners as corners,
        from_edges as from_edges,
        grid as grid,
        mirrored as mirrored,
        on_edge as on_edge,
        places as places,
    )
    from platekit.panel.plate import Plate as Plate

__version__ = VERSION

# Where each public name lives; the imports above say the same to type checkers.
_ROOMS = {
    "platekit.assembly": (
        "Assembly",
        "Laminate",
        "Panel",
        "belted",
        "bolted",
        "box",
        "butted",
        "by_belt",
        "comes_out",
        "crossed_ribs",
        "drive",
        "drivers",
        "fingers",
        "halving",
        "laminate",
        "load",
        "lying",
        "mounted",
        "on_axis",
        "on_face",
        "passing",
        "placed",
        "screwed",
        "standing",
        "supply",
        "tabs",
        "tongue",
        "upright_on",
        "wire",
    ),
    "platekit.cli.commands": ("run_recipe",),
    "platekit.errors": (
        "GeometryError",
        "NestingError",
        "OutputError",
        "PartError",
        "PlatekitError",
        "RecipeError",
        "UnknownNameError",
    ),
    "platekit.findings": ("Finding", "Severity"),
    "platekit.geometry.booleans": ("difference", "intersection", "union"),
    "platekit.geometry.chains": ("Contour", "Path", "circle"),
    "platekit.geometry.corners": ("chamfer", "fillet"),
    "platekit.geometry.freecurves": ("bezier", "ellipse", "spline"),
    "platekit.geometry.distance": ("distance",),
    "platekit.geometry.hull": ("hull",),
    "platekit.geometry.motion": ("Motion",),
    "platekit.geometry.offset": ("Join", "offset"),
    "platekit.geometry.points": ("Point",),
    "platekit.geometry.profile": ("Profile",),
    "platekit.geometry.shapes": ("polygon", "rectangle", "regular_polygon", "ring"),
    "platekit.geometry.trace": ("trace_from",),
    "platekit.hardware.devices.bearings": ("ball_bearing",),
    "platekit.hardware.faces.bearings": ("own_bearings",),
    "platekit.hardware.belts.drives": ("belt_drive",),
    "platekit.hardware.devices.table": ("device", "own_devices"),
    "platekit.hardware.faces.encoders": ("own_encoder_bodies",),
    "platekit.hardware.devices.hubs": ("hub",),
    "platekit.hardware.items": ("Item",),
    "platekit.hardware.faces.motor_faces": ("own_motor_faces",),
    "platekit.hardware.devices.motor_ratings": ("encoder_rating", "motor_rating"),
    "platekit.hardware.devices.motors": ("encoder", "motor"),
    "platekit.hardware.devices.panel_devices": ("gland", "panel_device"),
    "platekit.hardware.patterns": ("bolt_circle_points", "rectangle_points"),
    "platekit.hardware.devices.pressed": ("dowel_pin", "magnet"),
    "platekit.hardware.belts.pulleys": ("pulley",),
    "platekit.hardware.devices.rails": ("din_rail",),
    "platekit.hardware.devices.shafts": ("coupling", "reducing_bush", "shaft"),
    "platekit.hardware.devices.standing_devices": ("rectangular_device", "round_device"),
    "platekit.materials": (
        "Beam",
        "Hold",
        "Material",
        "Sheet",
        "StockSize",
        "Strength",
        "birch_plywood",
        "sheet",
    ),
    "platekit.panel.faces": ("cable_gland", "encoder_face", "motor_face", "panel_cutout"),
    "platekit.panel.feature": ("Feature",),
    "platekit.panel.holes": (
        "bearing_seat",
        "bolt_circle",
        "bolt_rectangle",
        "d_bore",
        "double_d_bore",
        "hole",
        "hub_face",
        "keyed_bore",
    ),
    "platekit.panel.lightening": ("lightening",),
    "platekit.panel.marking": ("centre_mark", "grain_arrow", "lettering", "reference_line"),
    "platekit.panel.openings": (
        "arc_slot",
        "notch",
        "nut_pocket",
        "opening",
        "slot",
        "vent_honeycomb",
        "vent_slots",
        "window",
    ),
    "platekit.panel.part": ("Grain", "Laying", "Mark", "Part"),
    "platekit.panel.places": (
        "around",
        "beside",
        "centre",
        "corners",
        "from_edges",
        "grid",
        "mirrored",
        "on_edge",
        "places",
    ),
    "platekit.panel.plate": ("Plate",),
}
_HOMES = {name: room for room, names in _ROOMS.items() for name in names}

__all__ = sorted(_HOMES)  # noqa: PLE0605 - one table of names, not two


def _notebook() -> _Drawer:
    """Return who draws values for notebooks; everything is loaded then."""
    drawer: _Drawer = import_module("platekit.job.notebook").NOTEBOOK
    return drawer


_drawn_by(_notebook)


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'platekit' has no attribute {name!r}")
    value: object = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return [*__all__, "__version__"]
