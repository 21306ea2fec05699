"""Seats of bought parts, and dowels of laminates: do they go in, and do they sit."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from platekit.assembly.loads import Factors
from platekit.assembly.mounting import Standing
from platekit.assembly.panels import Panel
from platekit.checks.fit.lots import (
    Drawn,
    Lots,
    chance_for,
    drawn_circle_mm,
    drawn_mm,
    drawn_range_mm,
)
from platekit.checks.fit.shares import PERCENT, as_note, named, share_found
from platekit.checks.subject import Subject
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.hardware.devices.device import Passage
from platekit.hardware.fits import tolerance_grade_mm
from platekit.materials.scatter import Scatter, scatter_of

# A hole wider than this round a bought part centres nothing: nobody asks whether it sits.
CENTRES_MM = 0.4
# What of a part is meant to sit; shafts and openings pass with room.
SITS = frozenset({"seat", "pocket", "spigot"})
# A hole wider than this is not meant to press.
PRESSES_MM = 0.08
SAME_MM = 1e-6
USUAL_GRADE = 7  # of a bearing's seat
DOWEL = " mm dowel"


@dataclass(frozen=True, kw_only=True)
class Seat:
    """A round hole that a bought part sits in; equal ones are alike to chance.

    Attributes:
        device: What sits in it.
        name: What of it: "seat", "spigot", "pocket".
        core_mm: Diameter of the part.
        hole_mm: Diameter of the hole, as it should come out.
        kind: Kind of material.
        layers: How many layers it goes through, each cut by itself.
        pressed: Whether nothing but the hole holds the part.
    """

    device: str
    name: str
    core_mm: float
    hole_mm: float
    kind: str
    layers: int
    pressed: bool

    @property
    def play_mm(self) -> float:
        """Hole less part."""
        return self.hole_mm - self.core_mm

    @property
    def words(self) -> str:
        """The seat in words: "seat of ball bearing 6006, 55.01 mm in 3 layers"."""
        deep = f" in {self.layers} layers" if self.layers > 1 else ""
        return f"{self.name} of {self.device}, {self.hole_mm:.6g} mm{deep}"


def seated(subject: Subject) -> Iterator[Finding]:
    """Weigh the share of seats a part goes into, and of pressed ones that hold it."""
    wanted = Factors().fit if subject.whole is None else subject.whole[0].use.factors.fit
    for seat, where in seats_of(subject).items():
        lots = lots_of_seat(seat, draws=subject.draws, seed=subject.seed)
        part, feature = where[0], named(seat.words, where[1:])
        yield share_found(
            "fit.seat",
            part=part,
            feature=feature,
            measure="share of holes that it goes into",
            share=lots.together(seat.play_mm),
            wanted=wanted,
            draws=subject.draws,
            remedy="cut a test hole in the same sheet, and give the fit or clearance that goes",
            formula=_formula(seat, subject.draws, f">= {lots.least_mm:g}"),
        )
        if seat.pressed:
            yield as_note(
                share_found(
                    "fit.seat",
                    part=part,
                    feature=feature,
                    measure="share of holes that hold it without glue",
                    share=lots.still(seat.play_mm),
                    wanted=wanted,
                    draws=subject.draws,
                    remedy="a laser cuts no ISO fit: cut a test hole first and take the fit that "
                    "sits, or bed the part in glue, or cut under size and scrape it to fit",
                    formula=_formula(seat, subject.draws, "<= 0") + _graded(seat),
                )
            )
    yield from _dowels(subject, wanted)


def seats_of(subject: Subject) -> dict[Seat, list[str]]:
    """Return the seats of a job, and on which panels those alike are."""
    found: dict[Seat, list[str]] = {}
    if subject.whole is None:
        return found
    _, done = subject.whole
    panels = {panel.name: panel for panel in done.panels}
    for one in done.standing:
        for passage in one.device.passages:
            if one.panel in panels and (seat := _seat(one, passage, panels[one.panel])):
                found.setdefault(seat, []).append(one.panel)
    return found


def _seat(one: Standing, passage: Passage, panel: Panel) -> Seat | None:
    """Return the seat of what passes; None where it sits in nothing."""
    round_ = passage.core.is_circle and passage.hole.is_circle
    if passage.name not in SITS or not round_:
        return None
    core, hole = passage.core.bounds.width_mm, passage.hole.bounds.width_mm
    solid = any(
        block.profile.outer.is_circle
        and abs(block.profile.outer.bounds.width_mm - core) <= SAME_MM
        and min(block.high_mm, passage.high_mm) > max(block.low_mm, passage.low_mm)
        for block in one.device.blocks
    )
    travels = one.asked is not None and one.asked.travel.length_mm > 0
    if not solid or travels or hole - core > CENTRES_MM:
        return None
    layers = _layers(one, passage, panel)
    if not layers:
        return None
    return Seat(
        device=one.device.designation,
        name=passage.name,
        core_mm=core,
        hole_mm=hole,
        kind=panel.plate.sheet.material.kind,
        layers=layers,
        pressed=one.device.fixing is None and hole - core <= PRESSES_MM,
    )


def _layers(one: Standing, passage: Passage, panel: Panel) -> int:
    """Return how many layers of its panel something passes."""
    count = 0
    for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True):
        _, _, near = one.frame.coordinates(frame.origin)
        far = near + plate.sheet.thickness_mm * frame.n.dot(one.frame.n)
        low, high = sorted((near, far))
        count += min(high, passage.high_mm) - max(low, passage.low_mm) > SAME_MM
    return count


def lots_of_seat(seat: Seat, *, draws: int, seed: int) -> Lots:
    """Return holes drawn by lot: kerf, roundness, and how far the layers lie beside each other."""
    scatter = scatter_of(seat.kind)
    chance = chance_for(seed, seat.kind, seat.name, seat.core_mm)
    bore = _bore(scatter, draws, chance) - drawn_circle_mm(
        scatter.position_mm, places=seat.layers, count=draws, chance=chance
    )
    least = -scatter.forced_mm if seat.pressed else 0.0
    return Lots(tight_mm=bore, wide_mm=bore, least_mm=least, most_mm=0.0)


def _bore(scatter: Scatter, draws: int, chance: np.random.Generator) -> Drawn:
    """Draw errors of a hole's diameter: the kerf's, and the path's on both sides."""
    kerf = drawn_mm(scatter.kerf_mm, count=draws, chance=chance, name="kerf")
    return kerf + drawn_mm(scatter.position_mm, count=draws, chance=chance, name="path")


def _formula(seat: Seat, draws: int, limit: str) -> str:
    scatter = scatter_of(seat.kind)
    layers = (
        f" - circle round {seat.layers} layers +-{scatter.position_mm:g}" if seat.layers > 1 else ""
    )
    return (
        f"{seat.hole_mm:.6g} - {seat.core_mm:.6g} + kerf +-{scatter.kerf_mm:g} + path "
        f"+-{scatter.position_mm:g}{layers} {limit} in {draws} drawn"
    )


def _graded(seat: Seat) -> str:
    """Return which share of such holes keeps within the grade that such seats have."""
    try:
        width = tolerance_grade_mm(USUAL_GRADE, diameter_mm=seat.core_mm)
    except PlatekitError:
        return ""
    scatter = scatter_of(seat.kind)
    sigma = math.hypot(scatter.kerf_mm, scatter.position_mm) / 3
    share = math.erf(width / 2 / sigma / math.sqrt(2))
    return f"; IT{USUAL_GRADE} of ISO 286, {1000 * width:g} um, is held by {PERCENT * share:.0f} %"


@dataclass(frozen=True, kw_only=True)
class Dowelled:
    """The dowels of a laminate, as chance sees them."""

    kind: str
    words: str
    count: int
    layers: int
    clearance_mm: float


def _dowels(subject: Subject, wanted: float) -> Iterator[Finding]:
    found: dict[Dowelled, list[str]] = {}
    for panel in () if subject.whole is None else subject.whole[1].panels:
        if (one := _dowelled(panel)) is not None:
            found.setdefault(one, []).append(panel.name)
    for one, where in found.items():
        scatter = scatter_of(one.kind)
        lots = lots_of_dowels(one, draws=subject.draws, seed=subject.seed)
        yield share_found(
            "fit.seat",
            part=where[0],
            feature=named(f"{one.count} x {one.words} through {one.layers} layers", where[1:]),
            measure="share of laminates whose dowels all go in",
            share=lots.together(one.clearance_mm),
            wanted=wanted,
            draws=subject.draws,
            remedy="use fewer dowels, or leave one hole a size wider: two are enough to align",
            formula=f"{one.clearance_mm:g} + kerf +-{scatter.kerf_mm:g} + path "
            f"+-{scatter.position_mm:g} - range of {one.count} places +-{scatter.pitch_mm:g} "
            f">= {lots.least_mm:g} on every layer in {subject.draws} drawn",
        )


def _dowelled(panel: Panel) -> Dowelled | None:
    holes = [f for f in panel.plate.features if f.kind.endswith(DOWEL)]
    if len(panel.layers) < 2 or not holes:
        return None
    material = panel.plate.sheet.material
    return Dowelled(
        kind=material.kind,
        words=holes[0].kind,
        count=len(holes),
        layers=len(panel.layers),
        clearance_mm=material.fits["laminate dowel"],
    )


def lots_of_dowels(one: Dowelled, *, draws: int, seed: int) -> Lots:
    """Return laminates drawn by lot: of the layers after the first, the one that has least play.

    The dowels stand where the first layer has its holes, and each further layer finds its own
    setting: one joint of as many tabs as there are dowels.
    """
    scatter = scatter_of(one.kind)
    chance = chance_for(seed, one.kind, one.words, one.count, one.layers)
    least = np.full(draws, math.inf)
    for _ in range(one.layers - 1):
        offsets = drawn_range_mm(scatter.pitch_mm, places=one.count, count=draws, chance=chance)
        least = np.minimum(least, _bore(scatter, draws, chance) - offsets)
    return Lots(tight_mm=least, wide_mm=least, least_mm=-scatter.forced_mm, most_mm=math.inf)
