"""Lines: where one screw runs through the layers, and the holes it asks for there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from platekit.assembly.mounting.asked import Travel
from platekit.assembly.mounting.bodies import Fastening
from platekit.assembly.mounting.columns import Layer, gripped
from platekit.assembly.mounting.piercing import Cut, moving
from platekit.assembly.mounting.stacks import Chosen, washer_for
from platekit.assembly.panels import Panel
from platekit.errors import PartError, UnknownNameError
from platekit.findings import Finding
from platekit.geometry.chains import Contour, circle
from platekit.geometry.points import Point
from platekit.hardware import Item, Nut, ScrewKind, clearance_hole_mm, tool_for, washer
from platekit.hardware.play import ACCESS_CLEARANCE_MM

# From the edge of a screw's hole to the plate's: 3 diameters less half of one.
EDGE_DIAMETERS = 2.5


@dataclass
class Fixed:
    """What screws ask for: holes, bodies, lines of the bill, findings."""

    cuts: list[Cut] = field(default_factory=list)
    fastenings: list[Fastening] = field(default_factory=list)
    items: list[Item] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def take(self, chosen: Chosen) -> None:
        """Add what came of one grip."""
        if chosen.fastening is not None:
            self.fastenings.append(chosen.fastening)
        self.items += chosen.items
        self.findings += [one for one in chosen.findings if one not in self.findings]

    def join(self, more: Fixed) -> None:
        """Add what others ask for."""
        self.cuts += more.cuts
        self.fastenings += more.fastenings
        self.items += more.items
        self.findings += more.findings


@dataclass(frozen=True, kw_only=True)
class Line:
    """One screw's line through the layers, in the coordinates of what it fixes.

    Attributes:
        owner: Names the feature its holes belong to.
        kind: What the feature is.
        name: What messages call the screw.
        at: Where it stands.
        layers: All layers along the axis, the nearest first.
        run: The layers it grips.
        screw: The screw.
        fit: Of its holes.
        travel: How far it can be moved, its direction in these coordinates.
        panel: The panel it is asked for on.
        moves_in: Names of the panels it can be moved in.
        of: The device it holds; empty for a bolt of its own.
    """

    owner: str
    kind: str
    name: str
    at: Point
    layers: tuple[Layer, ...]
    run: tuple[Layer, ...]
    screw: ScrewKind
    fit: str
    travel: Travel
    panel: str
    moves_in: frozenset[str]
    of: str = ""

    @property
    def bottom_mm(self) -> float:
        """Where the gripped layers end."""
        return self.run[-1].low_mm

    @property
    def hole_mm(self) -> float:
        """Diameter of the clearance hole."""
        return clearance_hole_mm(self.screw.thread, fit=self.fit)

    def cut(self, layer: Layer, core_mm: float, hole_mm: float) -> Cut:
        """Return a round hole in one layer."""
        core = circle(self.at, diameter_mm=core_mm)
        hole = circle(self.at, diameter_mm=hole_mm)
        return self.shaped(layer, core, hole)

    def shaped(self, layer: Layer, core: Contour, hole: Contour) -> Cut:
        """Return a hole in one layer, drawn out where the screw can be moved in it."""
        if layer.panel in self.moves_in and hole.is_circle:
            length, along = self.travel.length_mm, self.travel.along_deg
            core = moving(core, travel_mm=length, along_deg=along)
            hole = moving(hole, travel_mm=length, along_deg=along)
        core, hole = core.moved(layer.motion), hole.moved(layer.motion)
        return Cut(layer.panel, layer.plate.name, self.owner, self.kind, core, hole, of=self.of)

    def clearances(self, layers: Sequence[Layer]) -> list[Cut]:
        """Return the holes that the screw itself passes."""
        return [self.cut(layer, self.screw.nominal_mm, self.hole_mm) for layer in layers]

    def beyond(self) -> tuple[Layer, ...]:
        """Return the layers that lie against the last one gripped."""
        radius = bearing_radius(self.screw)
        return gripped(self.layers, self.at, top_mm=self.bottom_mm, radius_mm=radius)

    def head_room(self, layer: Layer) -> Cut:
        """Return the hole for head, washer and tool in a layer."""
        return self._room(layer, 2 * bearing_radius(self.screw), self.screw)

    def nut_room(self, layer: Layer, closing: Nut) -> Cut:
        """Return the hole for nut, washer and wrench in a layer."""
        under = washer("ISO 7089", self.screw.thread)
        return self._room(layer, max(under.outer_mm, closing.across_corners_mm), closing)

    def _room(self, layer: Layer, widest_mm: float, turned: ScrewKind | Nut) -> Cut:
        wide = max(widest_mm, tool_for(turned).diameter_mm)
        return self.cut(layer, wide, wide + ACCESS_CLEARANCE_MM)

    def access(self, names: Sequence[str], panels: Sequence[Panel]) -> list[Cut]:
        """Return the holes for the tool in panels named for it.

        Raises:
            UnknownNameError: There is no such panel.
            PartError: The panel is one it grips, or does not lie across its axis.
        """
        require_across(names, panels, self.layers, what="access")
        held = {layer.panel for layer in self.run}
        for name in names:
            if name in held:
                raise PartError(
                    f"access names {name}, which it grips: its head would fall through",
                    part=self.panel,
                    feature=self.name,
                    remedy=f"leave {name} out of access; deeper layers than grip_layers get "
                    "their hole by themselves",
                )
        return [self.head_room(layer) for layer in self.layers if layer.panel in names]


def require_across(
    names: Sequence[str], panels: Sequence[Panel], layers: Sequence[Layer], *, what: str
) -> None:
    """Raise unless every panel named for a hole lies across the axis.

    Raises:
        UnknownNameError: There is no such panel.
        PartError: It does not lie across the axis.
    """
    across = {layer.panel for layer in layers}
    for name in names:
        if name not in across:
            if name not in {panel.name for panel in panels}:
                raise UnknownNameError.among("panel", name, (panel.name for panel in panels))
            raise PartError(
                f"{what} names {name}, which does not lie across its axis",
                remedy="name panels that lie square to it",
            )


def bearing_radius(kind: ScrewKind) -> float:
    """Return the radius of what bears under a screw's head: its washer, or the head itself."""
    under = washer_for(kind)
    widest = kind.head_diameter_mm if under is None else under.outer_mm
    return widest / 2


def require_held(line: Line) -> None:
    """Raise unless a screw grips a layer, and its holes keep off every edge.

    Raises:
        PartError: There is none, or a hole is nearer an edge than the rule.

    Source:
        The sheet's thickness is common practice, no source; EN 1995-1-1 table 8.4, from memory,
        keeps a bolt's middle 3 diameters from an unloaded edge.
    """
    if not line.run:
        own = next((layer for layer in line.layers if layer.panel == line.panel), None)
        spot = own.spot(line.at) if own is not None else line.at
        raise PartError(
            f"there is no panel under it, at ({spot.x:.6g}, {spot.y:.6g})",
            part=line.panel,
            feature=line.name,
            remedy="move it onto the material, close the opening there, or let it in by whole "
            "layers",
        )
    for layer in line.run:
        web = layer.reach_to_edge_mm(line.at) - line.hole_mm / 2
        least = min(layer.thickness_mm, EDGE_DIAMETERS * line.screw.nominal_mm)
        if web < least:
            raise PartError(
                f"its hole is {web:.4g} mm from the edge of {layer.plate.name}, and a screw's "
                f"hole keeps {least:.4g} mm away: the sheet's thickness (common practice, no "
                f"source), or {EDGE_DIAMETERS:g} diameters where that is less",
                part=layer.panel,
                feature=line.name,
                remedy="move it inwards or make the panel larger",
            )
