"""Shafts: twist and bending at their diameter, keyways and sockets, and how far they wind up."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platekit.assembly.mounting import Standing
from platekit.checks.check import Check
from platekit.checks.hold.following import Grasp
from platekit.checks.hold.shaft_bending import BentByAll, bent
from platekit.checks.hold.turning import (
    LEAST_NMM,
    Line,
    Stuff,
    is_bush,
    key_in,
    lines,
    slot_mm,
    stuff_of,
)
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.torsion import round_shear_mpa, round_twist_deg

NAME = "hold.shaft"
THICKER = "take a thicker shaft or a stronger steel, or bring the load nearer to a bearing"
# Shafts of gearboxes are mostly of tempered steel: common practice, no source.
USUAL = "steel C45+QT"
# A position is lost in a shaft that winds up further: common practice, no source.
MOST_TWIST_DEG = 1.0
# H. F. Moore, The effect of keyways on the strength of shafts, Urbana 1909 (from memory): what is
# left of a shaft at its keyway, 1 - 0.2 w / D - 1.1 h / D.
MOORE_WIDTH, MOORE_DEPTH = 0.2, 1.1


def keyway_share(diameter_mm: float) -> float:
    """Return what a standard keyway leaves of a shaft's strength.

    Raises:
        PartError: No standard key is made for the shaft.

    Source:
        Moore 1909 (from memory).
    """
    key = key_in(diameter_mm)
    lost = MOORE_WIDTH * key.width_mm + MOORE_DEPTH * key.shaft_depth_mm
    return 1.0 - lost / diameter_mm


def bending_mpa(moment_nmm: float, *, diameter_mm: float, bore_mm: float = 0.0) -> float:
    """Return the stress at the skin of a bent round bar, 32 M D / (pi (D^4 - d^4)), in MPa.

    Source:
        Gere, Mechanics of Materials (from memory).
    """
    return 32 * moment_nmm * diameter_mm / (math.pi * (diameter_mm**4 - bore_mm**4))


def shafts(subject: Subject) -> Iterator[Finding]:
    """Weigh every shaft that a torque goes through."""
    told: set[str] = set()
    for line in lines(subject):
        if line.torque_nmm <= LEAST_NMM and line.one.radial_n <= 0.0:
            continue
        for part in line.parts:
            if part.device.shaft is None or is_bush(part):
                continue
            try:
                found = tuple(_weighed(line.through(part), part))
            except PlatekitError as error:
                found = (
                    untold(
                        NAME,
                        part=part.name,
                        measure=f"its shaft could not be weighed: {error}",
                        remedy="check its sizes",
                    ),
                )
            for one in found:
                if one.value is not None or part.name not in told:
                    yield one
            told.add(part.name)


def _weighed(line: Line, part: Standing) -> Iterator[Finding]:
    stuff = stuff_of(part, line.factors, usual=USUAL)
    end = part.device.shaft
    if stuff is None or end is None:
        return
    one = line.one
    across = bent(one, times=line.factors.load)
    # A motor's shaft is told from its spigot on; it is held at the face behind that.
    places = (end.low_mm, end.high_mm, *((0.0,) if part is one.motor else ()))
    along = [one.place_mm(part, z) for z in places]
    diameter = _round_mm(part, end.diameter_mm)
    yield _section(
        line,
        part,
        stuff,
        feature="shaft",
        measure="stress of the shaft",
        diameter_mm=diameter,
        moment_nmm=across.most_nmm(min(along), max(along)),
    )
    for grasp in line.held(part):
        if grasp.grip.hold == "key":
            yield _section(
                line,
                part,
                stuff,
                feature="keyway",
                measure=f"stress at the keyway under {grasp.holder.name}",
                diameter_mm=diameter,
                moment_nmm=_most_in(line, across, grasp),
                share=keyway_share(end.diameter_mm),
            )
    for grasp in line.holding(part):
        yield _section(
            line,
            part,
            stuff,
            feature="socket",
            measure="stress about the bore of its socket",
            diameter_mm=diameter,
            bore_mm=slot_mm(grasp),
            moment_nmm=_most_in(line, across, grasp),
        )
    if line.torque_nmm > LEAST_NMM and part is not one.motor:
        yield from _twist(line, part, stuff, diameter)


def _most_in(line: Line, across: BentByAll, grasp: Grasp) -> float:
    """Return the largest moment where a grip lies."""
    grip = grasp.grip
    ends = sorted(line.one.place_mm(grasp.holder, z) for z in (grip.low_mm, grip.high_mm))
    return across.most_nmm(*ends)


def _section(
    line: Line,
    part: Standing,
    stuff: Stuff,
    *,
    feature: str,
    measure: str,
    diameter_mm: float,
    moment_nmm: float,
    bore_mm: float = 0.0,
    share: float = 1.0,
) -> Finding:
    shear = round_shear_mpa(line.torque_nmm, diameter_mm=diameter_mm, bore_mm=bore_mm) / share
    bending = bending_mpa(moment_nmm, diameter_mm=diameter_mm, bore_mm=bore_mm) / share
    size = f"D = {diameter_mm:.4g}" + (f", d = {bore_mm:.4g}" if bore_mm else "") + " mm"
    keyed = "" if share == 1.0 else f", both over {share:.2f} for the keyway"
    source = "von Mises; Gere, Mechanics of Materials, from memory"
    if keyed:
        source += "; keyway after Moore 1909, from memory"
    return weighed(
        NAME,
        part=part.name,
        feature=feature,
        measure=f"{measure}, {line.name},",
        value=math.hypot(bending, 3**0.5 * shear),
        most=stuff.yield_mpa,
        unit="MPa",
        source=f"{source}; {stuff.source}",
        remedy=THICKER,
        formula=f"{line.torque_said}, M = {moment_nmm / 1000:.3g} N m; sqrt(s^2 + 3 t^2), s = "
        f"{bending:.3g}, t = {shear:.3g} MPa, {size}{keyed}; limit {stuff.yield_said}",
    )


def _twist(line: Line, part: Standing, stuff: Stuff, diameter_mm: float) -> Iterator[Finding]:
    """Tell how far a shaft winds up between the middles of its outer grips, without factors."""
    middles = [
        line.one.place_mm(grasp.holder, (grasp.grip.low_mm + grasp.grip.high_mm) / 2)
        for grasp in (*line.held(part), *line.holding(part))
    ]
    if len(middles) < 2 or max(middles) - min(middles) <= 0.0:
        return
    length = max(middles) - min(middles)
    modulus = stuff.solid.shear_modulus_mpa
    yield weighed(
        NAME,
        part=part.name,
        feature="shaft",
        measure=f"twist between its grips, {line.name},",
        value=round_twist_deg(
            line.own_nmm,
            length_mm=length,
            shear_modulus_mpa=modulus,
            diameter_mm=diameter_mm,
        ),
        most=MOST_TWIST_DEG,
        unit="deg",
        source="Gere, Mechanics of Materials, from memory; limit by common practice, no source",
        remedy="take a thicker or shorter shaft where its position matters",
        formula=f"T L / (G J), L = {length:.4g} mm, G = {modulus:g} MPa, D = {diameter_mm:.4g} mm",
        scale=ADVICE,
    )


def _round_mm(part: Standing, diameter_mm: float) -> float:
    """Return the largest circle that lies in a shaft's section: less than it where it has a flat.

    That is careful: what lies beside the circle carries too.
    """
    across = [
        min(box.right - box.left, box.top - box.bottom)
        for block in part.device.blocks
        if block.name == "shaft"
        for box in (block.profile.bounds,)
    ]
    return min((diameter_mm, *across))


CHECK = Check(
    name=NAME,
    asks="Do the shafts bear what twists and bends them?",
    by="Torque and the force across the axis, times factors.load. The force bends what lies on the "
    "line as a beam on its outer two bearings; one bearing does so with the motor's face; without "
    "any, the motor's shaft is held at its face and takes all. Twist 16 T D / (pi (D^4 - d^4)) and "
    "bending 32 M D / (pi (D^4 - d^4)) are joined by von Mises and held against yield over "
    "factors.metal: at the diameter, at the socket (its bore as wide as the keyway reaches), and "
    "at keyways, where Moore's 1 - 0.2 w / D - 1.1 h / D is left. A shaft with a flat counts as "
    "the circle within it. Steps and fatigue are not in it: a shaft that is bent at every turn "
    "wants twice the margin and more. A motor's shaft is taken as tempered steel where nobody "
    "says; common practice, no source. How far a shaft winds up is advice. An estimate.",
    run=shafts,
)
