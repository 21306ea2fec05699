"""What one screw of a device holds in a sheet: across itself and along itself, design values."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.loads import Factors
from platekit.assembly.mounting import BodyKind, Fastening
from platekit.checks.hold.seats import gamma_of, least_of
from platekit.formulas.bolt_joints import (
    GAMMA_M2,
    SHEAR_FACTORS,
    bearing_force_n,
    bolt_tension_n,
    steel_shear_resistance_n,
    washer_limit_n,
)
from platekit.formulas.timber_dowels import Fastener, Member, weakest
from platekit.formulas.timber_embedment import bolt_in_plywood_mpa, yield_moment_nmm
from platekit.formulas.timber_steel_plates import plate_strength_n, thick_plate, thin_plate
from platekit.hardware import Thread, metric_thread
from platekit.materials import Strength

# EN 384, softwoods (from memory): compression across the grain over density. No figure of the
# sheet's own is known, and this is the least of all woods.
ACROSS_GRAIN_MPA_PER_KG_M3 = 0.007
# EN 1993-1-8, table 3.4 (from memory): k2 of a bolt in tension, and of one with a sunk head.
TENSION, SUNK_TENSION = 0.9, 0.63
# ISO 7380-1 and ISO 10642 (from memory): low heads, marked with a 0, bear so much of their class.
LOW_HEAD = 0.8
# Of classes the clause does not cover, the shear factor of the most brittle it does.
CAREFUL_CLASS = "10.9"


@dataclass(frozen=True, slots=True, kw_only=True)
class Holds:
    """What a screw holds.

    Attributes:
        force_n: Design value.
        by: What gives way first, in words.
        formula: How it was worked out, numbers put in.
        source: After whom.
    """

    force_n: float
    by: str
    formula: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """What a screw goes through, and how it is weighed.

    Attributes:
        layers: Strength and thickness of every layer gripped.
        kmod: What is left of a short test under this load.
        factors: Factors of the assembly.
        plate_mm: Thickness of the metal the screw stands in on the other side.
        vice: Whether that holds the screw upright: a tapped hole does, a flange with play not.
        hole_mm: The hole in the sheet.
    """

    layers: Sequence[tuple[Strength, float]]
    kmod: float
    factors: Factors
    plate_mm: float
    vice: bool
    hole_mm: float

    @property
    def thickness_mm(self) -> float:
        """All layers together."""
        return sum(thick for _, thick in self.layers)

    @property
    def wood(self) -> bool:
        """Whether every layer is one that EN 1995 knows."""
        return all(one.timber == "plywood" for one, _ in self.layers)


def ultimate_mpa(property_class: str) -> float:
    """Return the ultimate strength of a screw by its class: 800 for "8.8", 700 for "A2-70".

    Source:
        ISO 898-1 and ISO 3506-1: the first figure is a hundredth of it, of stainless a tenth.
    """
    if "-" in property_class:
        return 10.0 * float(property_class.partition("-")[2])
    return 100.0 * float(property_class.partition(".")[0])


def thread_of(screw: Fastening) -> tuple[Thread, str]:
    """Return thread and property class of a screw by its designation: "ISO 4762 M5x20 8.8"."""
    *_, size, grade = screw.designation.split()
    return metric_thread(size.partition("x")[0]), grade


def across(screw: Fastening, stack: Stack) -> Holds | None:
    """Return what a screw holds across itself; None where nobody knows how the sheet bears it."""
    wall = _wood_wall(screw, stack) if stack.wood else _stiff_wall(screw, stack)
    if wall is None:
        return None
    return min(wall, _shank(screw, stack.factors), key=lambda one: one.force_n)


def along(screw: Fastening, stack: Stack) -> Holds | None:
    """Return what a screw holds along itself: its washer in the sheet, and the screw.

    None where nobody knows how the sheet bears a washer.
    """
    washer = _washer(screw, stack)
    if not washer:
        return None
    return min((*washer, _core(screw, stack.factors)), key=lambda one: one.force_n)


def _wood_wall(screw: Fastening, stack: Stack) -> Holds:
    """Return what plywood against a metal plate holds, for one screw."""
    thread, grade = thread_of(screw)
    d, total = thread.nominal_mm, stack.thickness_mm
    embedment = (
        sum(
            thick * bolt_in_plywood_mpa(one.density_kg_m3, diameter_mm=d)
            for one, thick in stack.layers
        )
        / total
    )
    wood = Member(embedment_mpa=embedment, thickness_mm=total)
    pull = [_washer_n(screw, stack, each) for each, _ in stack.layers]
    fastener = Fastener(
        diameter_mm=d,
        yield_moment_nmm=yield_moment_nmm(ultimate_mpa(grade), diameter_mm=d),
        axial_n=min(*pull, _core_n(screw)),
    )
    thin, thick = thin_plate(wood, fastener), thick_plate(wood, fastener)
    plate_mm = stack.plate_mm if stack.vice else min(stack.plate_mm, d / 2)
    strength = plate_strength_n(thin, thick, plate_mm=plate_mm, diameter_mm=d)
    mode = weakest(thick if plate_mm >= d else thin)
    gamma = stack.factors.connection
    return Holds(
        force_n=stack.kmod * strength / gamma,
        by=mode.what,
        formula=f"kmod Rk / gamma = {stack.kmod:g} x {strength:.4g} / {gamma:g}, "
        f"fh {embedment:.3g} MPa over {total:.3g} mm",
        source="EN 1995-1-1 8.2.3 and 8.36, from memory",
    )


def _stiff_wall(screw: Fastening, stack: Stack) -> Holds | None:
    """Return what the walls of holes in plastics hold; MDF has no rule, and no guess is made."""
    if any(one.timber for one, _ in stack.layers):
        return None
    thread, _ = thread_of(screw)
    strengths = [(one.compression_0_mpa, thick) for one, thick in stack.layers]
    held = sum(
        bearing_force_n(crushing, diameter_mm=thread.nominal_mm, thickness_mm=thick)
        for crushing, thick in strengths
        if crushing is not None
    )
    if not held:
        return None
    gamma = stack.factors.plastic
    return Holds(
        force_n=held / gamma,
        by="the wall of the hole crushes",
        formula=f"fc d t / gamma = {held:.4g} / {gamma:g}",
        source="mean pressure on the wall of a hole; factor by common practice, no source",
    )


def _shank(screw: Fastening, factors: Factors) -> Holds:
    thread, grade = thread_of(screw)
    known = grade.removeprefix("0")
    resistance = steel_shear_resistance_n(
        ultimate_mpa(grade),
        thread.stress_area_mm2,
        bolt_class=known if known in SHEAR_FACTORS else CAREFUL_CLASS,
    )
    # The formula has the standard's own factor in it; the user may ask for another.
    force = resistance * GAMMA_M2 / factors.bolt
    return Holds(
        force_n=force,
        by="the screw shears",
        formula=f"av fub As / gamma = {force:.4g}",
        source="EN 1993-1-8 table 3.4, from memory",
    )


def _core_n(screw: Fastening) -> float:
    thread, grade = thread_of(screw)
    share = LOW_HEAD if grade.startswith("0") else 1.0
    return share * bolt_tension_n(ultimate_mpa(grade), thread.stress_area_mm2)


def _core(screw: Fastening, factors: Factors) -> Holds:
    sunk = "ISO 10642" in screw.designation
    k2 = SUNK_TENSION if sunk else TENSION
    force = k2 * _core_n(screw) / factors.bolt
    return Holds(
        force_n=force,
        by="the screw tears",
        formula=f"k2 fub As / gamma = {k2:g} x {_core_n(screw):.4g} / {factors.bolt:g}",
        source="EN 1993-1-8 table 3.4, from memory",
    )


def _washer(screw: Fastening, stack: Stack) -> tuple[Holds, ...]:
    """Return what the washer holds, and the plug it would punch out, where that can be known."""
    found: list[Holds] = []
    if stack.wood:
        bare = min(_washer_n(screw, stack, one) for one, _ in stack.layers)
        gamma = stack.factors.timber
        found.append(
            Holds(
                force_n=stack.kmod * bare / gamma,
                by="the washer sinks into the wood",
                formula=f"kmod 3 fc,90 A / gamma = {stack.kmod:g} x {bare:.4g} / {gamma:g}",
                source="EN 1995-1-1 8.5.2, fc,90 after EN 384, from memory",
            )
        )
    shear = least_of([one.panel_shear_mpa for one, _ in stack.layers])
    if shear is not None:
        gamma = max(gamma_of(one, stack.factors) for one, _ in stack.layers)
        girth = math.pi * head_mm(screw)
        found.append(
            Holds(
                force_n=stack.kmod * shear * girth * stack.thickness_mm / gamma,
                by="the washer punches through",
                formula=f"kmod fv pi D t / gamma = {stack.kmod:g} x {shear:.3g} x {girth:.4g} x "
                f"{stack.thickness_mm:.3g} / {gamma:g}",
                source="mean shear round the washer; common practice, no source",
            )
        )
    return tuple(found)


def _washer_n(screw: Fastening, stack: Stack, strength: Strength) -> float:
    crushing = ACROSS_GRAIN_MPA_PER_KG_M3 * strength.density_kg_m3
    wide = max(head_mm(screw), stack.hole_mm * 1.01)
    return washer_limit_n(crushing, washer_mm=wide, hole_mm=stack.hole_mm)


def head_mm(screw: Fastening) -> float:
    """Return the diameter of what presses on the sheet: the smallest washer, else the head."""
    washers = [body for body in screw.bodies if body.kind is BodyKind.WASHER]
    bodies = washers or [body for body in screw.bodies if body.kind is BodyKind.SCREW][:1]
    return min(
        max(min(block.profile.bounds.width_mm, block.profile.bounds.height_mm)
            for block in body.blocks)
        for body in bodies
    )  # fmt: skip
