"""Short recipes in, laser-cut structures of flat plates out.

A recipe imports what it needs from here. Names are loaded when they are first used, so that
``import platekit`` and ``platekit --help`` stay quick.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

from platekit.version import VERSION

if TYPE_CHECKING:
    from platekit.assembly import (
        Assembly as Assembly,
    )
    from platekit.assembly import (
        Laminate as Laminate,
    )
    from platekit.assembly import (
        Panel as Panel,
    )
    from platekit.assembly import (
        box as box,
    )
    from platekit.assembly import (
        butted as butted,
    )
    from platekit.assembly import (
        crossed_ribs as crossed_ribs,
    )
    from platekit.assembly import (
        fingers as fingers,
    )
    from platekit.assembly import (
        halving as halving,
    )
    from platekit.assembly import (
        laminate as laminate,
    )
    from platekit.assembly import (
        lying as lying,
    )
    from platekit.assembly import (
        on_face as on_face,
    )
    from platekit.assembly import (
        passing as passing,
    )
    from platekit.assembly import (
        placed as placed,
    )
    from platekit.assembly import (
        screwed as screwed,
    )
    from platekit.assembly import (
        standing as standing,
    )
    from platekit.assembly import (
        tabs as tabs,
    )
    from platekit.assembly import (
        tongue as tongue,
    )
    from platekit.assembly import (
        upright_on as upright_on,
    )
    from platekit.cli.commands import (
        run_recipe as run_recipe,
    )
    from platekit.errors import (
        GeometryError as GeometryError,
    )
    from platekit.errors import (
        NestingError as NestingError,
    )
    from platekit.errors import (
        OutputError as OutputError,
    )
    from platekit.errors import (
        PartError as PartError,
    )
    from platekit.errors import (
        PlatekitError as PlatekitError,
    )
    from platekit.errors import (
        RecipeError as RecipeError,
    )
    from platekit.errors import (
        UnknownNameError as UnknownNameError,
    )
    from platekit.findings import (
        Finding as Finding,
    )
    from platekit.findings import (
        Severity as Severity,
    )
    from platekit.geometry.booleans import (
        difference as difference,
    )
    from platekit.geometry.booleans import (
        intersection as intersection,
    )
    from platekit.geometry.booleans import (
        union as union,
    )
    from platekit.geometry.chains import (
        Contour as Contour,
    )
    from platekit.geometry.chains import (
        Path as Path,
    )
    from platekit.geometry.chains import (
        circle as circle,
    )
    from platekit.geometry.corners import (
        chamfer as chamfer,
    )
    from platekit.geometry.corners import (
        fillet as fillet,
    )
    from platekit.geometry.freecurves import (
        bezier as bezier,
    )
    from platekit.geometry.freecurves import (
        ellipse as ellipse,
    )
    from platekit.geometry.freecurves import (
        spline as spline,
    )
    from platekit.geometry.hull import (
        hull as hull,
    )
    from platekit.geometry.motion import (
        Motion as Motion,
    )
    from platekit.geometry.points import (
        Point as Point,
    )
    from platekit.geometry.profile import (
        Profile as Profile,
    )
    from platekit.geometry.shapes import (
        polygon as polygon,
    )
    from platekit.geometry.shapes import (
        rectangle as rectangle,
    )
    from platekit.geometry.shapes import (
        regular_polygon as regular_polygon,
    )
    from platekit.geometry.shapes import (
        ring as ring,
    )
    from platekit.geometry.trace import (
        trace_from as trace_from,
    )
    from platekit.hardware.items import (
        Item as Item,
    )
    from platekit.materials import (
        Beam as Beam,
    )
    from platekit.materials import (
        Hold as Hold,
    )
    from platekit.materials import (
        Material as Material,
    )
    from platekit.materials import (
        Sheet as Sheet,
    )
    from platekit.materials import (
        StockSize as StockSize,
    )
    from platekit.materials import (
        birch_plywood as birch_plywood,
    )
    from platekit.materials import (
        sheet as sheet,
    )
    from platekit.panel.faces import (
        cable_gland as cable_gland,
    )
    from platekit.panel.faces import (
        encoder_face as encoder_face,
    )
    from platekit.panel.faces import (
        motor_face as motor_face,
    )
    from platekit.panel.faces import (
        panel_cutout as panel_cutout,
    )
    from platekit.panel.feature import (
        Feature as Feature,
    )
    from platekit.panel.holes import (
        bearing_seat as bearing_seat,
    )
    from platekit.panel.holes import (
        bolt_circle as bolt_circle,
    )
    from platekit.panel.holes import (
        bolt_rectangle as bolt_rectangle,
    )
    from platekit.panel.holes import (
        d_bore as d_bore,
    )
    from platekit.panel.holes import (
        double_d_bore as double_d_bore,
    )
    from platekit.panel.holes import (
        hole as hole,
    )
    from platekit.panel.holes import (
        hub_face as hub_face,
    )
    from platekit.panel.holes import (
        keyed_bore as keyed_bore,
    )
    from platekit.panel.lightening import (
        lightening as lightening,
    )
    from platekit.panel.marking import (
        centre_mark as centre_mark,
    )
    from platekit.panel.marking import (
        grain_arrow as grain_arrow,
    )
    from platekit.panel.marking import (
        lettering as lettering,
    )
    from platekit.panel.marking import (
        reference_line as reference_line,
    )
    from platekit.panel.openings import (
        arc_slot as arc_slot,
    )
    from platekit.panel.openings import (
        notch as notch,
    )
    from platekit.panel.openings import (
        nut_pocket as nut_pocket,
    )
    from platekit.panel.openings import (
        opening as opening,
    )
    from platekit.panel.openings import (
        slot as slot,
    )
    from platekit.panel.openings import (
        vent_honeycomb as vent_honeycomb,
    )
    from platekit.panel.openings import (
        vent_slots as vent_slots,
    )
    from platekit.panel.openings import (
        window as window,
    )
    from platekit.panel.part import (
        Grain as Grain,
    )
    from platekit.panel.part import (
        Mark as Mark,
    )
    from platekit.panel.part import (
        Part as Part,
    )
    from platekit.panel.places import (
        around as around,
    )
    from platekit.panel.places import (
        beside as beside,
    )
    from platekit.panel.places import (
        centre as centre,
    )
    from platekit.panel.places import (
        corners as corners,
    )
    from platekit.panel.places import (
        from_edges as from_edges,
    )
    from platekit.panel.places import (
        grid as grid,
    )
    from platekit.panel.places import (
        mirrored as mirrored,
    )
    from platekit.panel.places import (
        on_edge as on_edge,
    )
    from platekit.panel.places import (
        places as places,
    )
    from platekit.panel.plate import (
        Plate as Plate,
    )

__version__ = VERSION

# Where each public name lives; the imports above say the same to type checkers.
_HOMES = {
    "Assembly": "platekit.assembly",
    "Laminate": "platekit.assembly",
    "Panel": "platekit.assembly",
    "box": "platekit.assembly",
    "butted": "platekit.assembly",
    "crossed_ribs": "platekit.assembly",
    "fingers": "platekit.assembly",
    "halving": "platekit.assembly",
    "laminate": "platekit.assembly",
    "lying": "platekit.assembly",
    "on_face": "platekit.assembly",
    "passing": "platekit.assembly",
    "placed": "platekit.assembly",
    "screwed": "platekit.assembly",
    "standing": "platekit.assembly",
    "tabs": "platekit.assembly",
    "tongue": "platekit.assembly",
    "upright_on": "platekit.assembly",
    "run_recipe": "platekit.cli.commands",
    "GeometryError": "platekit.errors",
    "NestingError": "platekit.errors",
    "OutputError": "platekit.errors",
    "PartError": "platekit.errors",
    "PlatekitError": "platekit.errors",
    "RecipeError": "platekit.errors",
    "UnknownNameError": "platekit.errors",
    "Finding": "platekit.findings",
    "Severity": "platekit.findings",
    "difference": "platekit.geometry.booleans",
    "intersection": "platekit.geometry.booleans",
    "union": "platekit.geometry.booleans",
    "Contour": "platekit.geometry.chains",
    "Path": "platekit.geometry.chains",
    "circle": "platekit.geometry.chains",
    "chamfer": "platekit.geometry.corners",
    "fillet": "platekit.geometry.corners",
    "bezier": "platekit.geometry.freecurves",
    "ellipse": "platekit.geometry.freecurves",
    "spline": "platekit.geometry.freecurves",
    "hull": "platekit.geometry.hull",
    "Motion": "platekit.geometry.motion",
    "Point": "platekit.geometry.points",
    "Profile": "platekit.geometry.profile",
    "polygon": "platekit.geometry.shapes",
    "rectangle": "platekit.geometry.shapes",
    "regular_polygon": "platekit.geometry.shapes",
    "ring": "platekit.geometry.shapes",
    "trace_from": "platekit.geometry.trace",
    "Item": "platekit.hardware.items",
    "Beam": "platekit.materials",
    "Hold": "platekit.materials",
    "Material": "platekit.materials",
    "Sheet": "platekit.materials",
    "StockSize": "platekit.materials",
    "birch_plywood": "platekit.materials",
    "sheet": "platekit.materials",
    "cable_gland": "platekit.panel.faces",
    "encoder_face": "platekit.panel.faces",
    "motor_face": "platekit.panel.faces",
    "panel_cutout": "platekit.panel.faces",
    "Feature": "platekit.panel.feature",
    "bearing_seat": "platekit.panel.holes",
    "bolt_circle": "platekit.panel.holes",
    "bolt_rectangle": "platekit.panel.holes",
    "d_bore": "platekit.panel.holes",
    "double_d_bore": "platekit.panel.holes",
    "hole": "platekit.panel.holes",
    "hub_face": "platekit.panel.holes",
    "keyed_bore": "platekit.panel.holes",
    "lightening": "platekit.panel.lightening",
    "centre_mark": "platekit.panel.marking",
    "grain_arrow": "platekit.panel.marking",
    "lettering": "platekit.panel.marking",
    "reference_line": "platekit.panel.marking",
    "arc_slot": "platekit.panel.openings",
    "notch": "platekit.panel.openings",
    "nut_pocket": "platekit.panel.openings",
    "opening": "platekit.panel.openings",
    "slot": "platekit.panel.openings",
    "vent_honeycomb": "platekit.panel.openings",
    "vent_slots": "platekit.panel.openings",
    "window": "platekit.panel.openings",
    "Grain": "platekit.panel.part",
    "Mark": "platekit.panel.part",
    "Part": "platekit.panel.part",
    "around": "platekit.panel.places",
    "beside": "platekit.panel.places",
    "centre": "platekit.panel.places",
    "corners": "platekit.panel.places",
    "from_edges": "platekit.panel.places",
    "grid": "platekit.panel.places",
    "mirrored": "platekit.panel.places",
    "on_edge": "platekit.panel.places",
    "places": "platekit.panel.places",
    "Plate": "platekit.panel.plate",
}

__all__ = [
    "Assembly",
    "Beam",
    "Contour",
    "Feature",
    "Finding",
    "GeometryError",
    "Grain",
    "Hold",
    "Item",
    "Laminate",
    "Mark",
    "Material",
    "Motion",
    "NestingError",
    "OutputError",
    "Panel",
    "Part",
    "PartError",
    "Path",
    "Plate",
    "PlatekitError",
    "Point",
    "Profile",
    "RecipeError",
    "Severity",
    "Sheet",
    "StockSize",
    "UnknownNameError",
    "arc_slot",
    "around",
    "bearing_seat",
    "beside",
    "bezier",
    "birch_plywood",
    "bolt_circle",
    "bolt_rectangle",
    "box",
    "butted",
    "cable_gland",
    "centre",
    "centre_mark",
    "chamfer",
    "circle",
    "corners",
    "crossed_ribs",
    "d_bore",
    "difference",
    "double_d_bore",
    "ellipse",
    "encoder_face",
    "fillet",
    "fingers",
    "from_edges",
    "grain_arrow",
    "grid",
    "halving",
    "hole",
    "hub_face",
    "hull",
    "intersection",
    "keyed_bore",
    "laminate",
    "lettering",
    "lightening",
    "lying",
    "mirrored",
    "motor_face",
    "notch",
    "nut_pocket",
    "on_edge",
    "on_face",
    "opening",
    "panel_cutout",
    "passing",
    "placed",
    "places",
    "polygon",
    "rectangle",
    "reference_line",
    "regular_polygon",
    "ring",
    "run_recipe",
    "screwed",
    "sheet",
    "slot",
    "spline",
    "standing",
    "tabs",
    "tongue",
    "trace_from",
    "union",
    "upright_on",
    "vent_honeycomb",
    "vent_slots",
    "window",
]


def __getattr__(name: str) -> object:
    if name not in _HOMES:
        raise AttributeError(f"module 'platekit' has no attribute {name!r}")
    value: object = getattr(import_module(_HOMES[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return [*__all__, "__version__"]
