"""Seats: where a device passes a load to a panel, with the screws and the layers they grip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.frames import Frame
from platekit.assembly.loads import Factors
from platekit.assembly.mounting import Fastening
from platekit.assembly.panels import Panel
from platekit.checks.hold.following import Reaction
from platekit.checks.hold.reactions import reactions
from platekit.checks.subject import Subject
from platekit.formulas.timber_design import DURATIONS, MODIFICATION
from platekit.geometry.points import Point
from platekit.materials import Sheet, Strength, strength_of
from platekit.panel.part import Part

Layer = tuple[Part, Frame]
# Loads below these are none: rounding of zero.
LEAST_N, LEAST_NMM = 1e-6, 1e-3


@dataclass(frozen=True, kw_only=True)
class Seat:
    """A device on a panel under one load.

    Attributes:
        reaction: What it passes on, without factors.
        panel: The panel.
        layers: The panel's plates as they are cut, and where they lie, from its foot up.
        gripped: Those that the device's screws go through.
        screws: The device's screws.
    """

    reaction: Reaction
    panel: Panel
    layers: tuple[Layer, ...]
    gripped: tuple[Layer, ...]
    screws: tuple[Fastening, ...]

    @property
    def device(self) -> str:
        """Name of the device."""
        return self.reaction.device.name

    @property
    def load(self) -> str:
        """Name of the load."""
        return self.reaction.load.name

    @property
    def points(self) -> tuple[tuple[float, float], ...]:
        """Where its screws stand in the device's own plane, from its axis."""
        fixing = self.reaction.device.device.fixing
        return () if fixing is None else tuple((at.x, at.y) for at in fixing.points)

    def on_plate(self, layer: Layer, at: tuple[float, float] = (0.0, 0.0)) -> Point:
        """Return where a place in the device's plane lies in the coordinates of a layer."""
        x, y, _ = layer[1].coordinates(self.reaction.device.frame.point(*at))
        return Point(x, y)


def seats(subject: Subject) -> tuple[Seat, ...]:
    """Return every seat through which a load of any size passes."""
    if subject.whole is None:
        return ()
    done = subject.whole[1]
    placed = {part.name: (part, frame) for part, frame in done.placed}
    panels = {panel.name: panel for panel in done.panels}
    found = []
    for one in reactions(subject):
        if one.panel not in panels or not _acts(one):
            continue
        panel = panels[one.panel]
        # What is drawn only to be told, a fitting or a stand, has no plates among the parts.
        layers = tuple(placed[plate.name] for plate in panel.layers if plate.name in placed)
        screws = tuple(each for each in done.fastenings if one.device.name in each.holds)
        held = {name for each in screws for name in each.holds}
        found.append(
            Seat(
                reaction=one,
                panel=panel,
                layers=layers,
                gripped=tuple(layer for layer in layers if layer[0].name in held),
                screws=screws,
            )
        )
    return tuple(found)


def _acts(one: Reaction) -> bool:
    forces, moments = (one.radial_n, one.axial_n), (one.torque_nmm, one.moment_nmm)
    return any(force > LEAST_N for force in forces) or any(each > LEAST_NMM for each in moments)


def factors_of(subject: Subject) -> Factors:
    """Return with what loads and strengths are weighed."""
    return Factors() if subject.whole is None else subject.whole[0].use.factors


def strength_for(subject: Subject, sheet: Sheet) -> Strength | None:
    """Return what a sheet bears: the user's own figures, else the table's; None without either."""
    own = {} if subject.whole is None else subject.whole[0].use.strengths
    return own.get(sheet.material.name) or strength_of(sheet)


def kmod_of(strengths: Sequence[Strength], duration: str) -> float:
    """Return kmod of the least lasting of several sheets; 1 of what is no wood.

    Source:
        EN 1995-1-1:2004, table 3.1 (from memory).
    """
    known = [one.timber for one in strengths if one.timber in MODIFICATION]
    return min((MODIFICATION[name][DURATIONS.index(duration)] for name in known), default=1.0)


def gamma_of(strength: Strength, factors: Factors) -> float:
    """Return the factor on a sheet's own strength: that of wood, else that of plastics."""
    return factors.timber if strength.timber else factors.plastic


def least_of(figures: Sequence[float | None]) -> float | None:
    """Return the least of the figures that are known; None where none is."""
    known = [figure for figure in figures if figure is not None]
    return min(known) if known else None
