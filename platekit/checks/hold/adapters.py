"""Adapters: whether the bodies of hubs and couplings bear the torque that goes through them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from platekit.assembly.mounting import Standing
from platekit.checks.check import Check
from platekit.checks.hold.following import Grasp
from platekit.checks.hold.keyed import bearing_length_mm
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
from platekit.checks.weighing import Scale, untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.bolt_joints import bearing_stress_mpa
from platekit.formulas.net_section import HoledRing, circle_shear_mpa, net_shear_mpa
from platekit.formulas.torsion import round_shear_mpa
from platekit.hardware import clearance_hole_mm, metric_thread
from platekit.hardware.devices.device import Fixing

NAME = "hold.adapter"
STRONGER = "give it a stronger material, a thicker collar and flange, or two grips"
# The least wall between a bore, its keyway included, and the screws; common practice, no source.
LEAST_WALL_MM = {True: 1.0, False: 2.0}  # by whether it is metal
# Half of that is no wall.
WALL = Scale(stop=0.5, warn=1.0)


def adapters(subject: Subject) -> Iterator[Finding]:
    """Weigh every body between a shaft and what it turns."""
    told: set[str] = set()
    for line in lines(subject):
        if line.torque_nmm <= LEAST_NMM or line.holds is None:
            continue
        for part in line.parts:
            held = line.holding(part)
            if not held or is_bush(part):
                continue
            stuff = stuff_of(part, line.factors)
            if stuff is None:
                found: Sequence[Finding] = (_not(part, "what it is made of is not said"),)
            else:
                found = _tried(line.through(part), part, stuff, held)
            for one in found:
                if one.value is not None or part.name not in told:
                    yield one
            told.add(part.name)


def _not(part: Standing, measure: str) -> Finding:
    return untold(
        NAME,
        part=part.name,
        measure=f"{measure}, so its body is not weighed",
        remedy='give made_of: "aluminium 6082-T6", "PLA printed"',
    )


def _tried(line: Line, part: Standing, stuff: Stuff, held: Sequence[Grasp]) -> tuple[Finding, ...]:
    try:
        return (
            *(one for grasp in held for one in _round_the_shaft(line, part, stuff, grasp)),
            *_flange(line, part, stuff, held),
        )
    except PlatekitError as error:
        return (_not(part, str(error)),)


def _slot(grasp: Grasp) -> str:
    """Return what the weakest ring about a shaft is called."""
    return "key slot" if grasp.grip.hold == "key" else "bore"


def _round_the_shaft(line: Line, part: Standing, stuff: Stuff, grasp: Grasp) -> Iterator[Finding]:
    """Weigh the ring about a shaft: twisted, and torn open by the key.

    Raises:
        PartError: No standard key is made for the bore, or its keyway cuts the ring through.
    """
    grip, bore = grasp.grip, slot_mm(grasp)
    wall = (grip.outer_mm - bore) / 2
    if wall <= 0:
        what = f"wall outside the {_slot(grasp)}"
        yield _wall(part, stuff, grasp, wall_mm=wall, what=what)
        return
    # The body of a shaft with a socket is the shaft's own matter: there it is bent too.
    if part.device.shaft is None:
        yield weighed(
            NAME,
            part=part.name,
            feature=_slot(grasp),
            measure=f"shear of the ring about the {_slot(grasp)}, {line.name},",
            value=round_shear_mpa(line.torque_nmm, diameter_mm=grip.outer_mm, bore_mm=bore),
            most=stuff.shear_mpa,
            unit="MPa",
            source=f"hollow bar twisted, Gere, Mechanics of Materials, from memory; {stuff.source}",
            remedy=STRONGER,
            formula=f"{line.torque_said}; 16 T D / (pi (D^4 - d^4)), D = {grip.outer_mm:g}, "
            f"d = {bore:.4g} mm; limit {stuff.shear_said}",
        )
    if grip.hold == "key":
        length, _ = bearing_length_mm(grasp, key_in(grip.bore_mm))
        force = 2 * line.torque_nmm / grip.bore_mm
        yield weighed(
            NAME,
            part=part.name,
            feature="key slot",
            measure=f"pull in the wall outside the key slot, {line.name},",
            value=force / (2 * wall * length),
            most=stuff.yield_mpa,
            unit="MPa",
            source=f"statics: half of the key's force pulls at the wall of the slot, half pushes; "
            f"{stuff.source}",
            remedy=STRONGER,
            formula=f"{line.torque_said}; (2 T / D) / (2 w L) = {force:.4g} / "
            f"(2 x {wall:.3g} x {length:.3g}); limit {stuff.yield_said}",
        )


def _flange(line: Line, part: Standing, stuff: Stuff, held: Sequence[Grasp]) -> Iterator[Finding]:
    """Weigh the flange a torque leaves by: about the shaft, at its screws, between both.

    Raises:
        PartError: A size that cannot be.
    """
    fixing = part.device.fixing
    entered = any(act.on is part for act in line.one.acts)
    if fixing is None or not entered or len(fixing.points) < 2:
        return
    thick = _thick_mm(part, fixing)
    hole = metric_thread(fixing.thread).nominal_mm
    if not fixing.tapped:
        hole = clearance_hole_mm(fixing.thread)
    circle = 2 * sum(math.hypot(at.x, at.y) for at in fixing.points) / len(fixing.points)
    grasp = max(held, key=slot_mm)
    bore = slot_mm(grasp)
    wall = (circle - hole - bore) / 2
    what = f"wall between {_slot(grasp)} and screws"
    yield _wall(part, stuff, grasp, wall_mm=wall, what=what)
    if wall <= 0:
        return
    # The torque comes into the flange from its collar where one is; else from the bore.
    root = grasp.grip.outer_mm if grasp.grip.outer_mm < circle - hole else bore
    yield _shear(
        line,
        part,
        stuff,
        feature="flange",
        measure="shear of the flange about its collar" if root > bore else "shear about its bore",
        value=circle_shear_mpa(line.torque_nmm, diameter_mm=root, thickness_mm=thick),
        said=f"2 T / (pi D^2 t), D = {root:.4g}, t = {thick:.3g} mm",
    )
    ring = HoledRing(
        bore_mm=bore,
        outside_mm=_outside_mm(part, circle + 2 * hole),
        circle_mm=circle,
        holes=len(fixing.points),
        hole_mm=hole,
        thickness_mm=thick,
    )
    yield _shear(
        line,
        part,
        stuff,
        feature="bolt holes",
        measure="shear between the bolt holes",
        value=net_shear_mpa(ring, torque_nmm=line.torque_nmm),
        said=f"2 T / (D t S), D = {circle:.4g}, t = {thick:.3g}, S = {ring.net_girth_mm:.4g} mm",
    )
    force = 2 * line.torque_nmm / (circle * len(fixing.points))
    d = metric_thread(fixing.thread).nominal_mm
    deep = thick if fixing.depth_mm is None else min(thick, fixing.depth_mm)
    yield weighed(
        NAME,
        part=part.name,
        feature="bolt holes",
        measure=f"pressure of each screw on its {'thread' if fixing.tapped else 'hole'}, "
        f"{line.name},",
        value=bearing_stress_mpa(force, diameter_mm=d, thickness_mm=deep),
        most=stuff.yield_mpa,
        unit="MPa",
        source=f"mean pressure on d t; {stuff.source}",
        remedy="give it more screws, a larger circle or a thicker flange",
        formula=f"{line.torque_said}; T / (n R d t) = {line.torque_nmm:.5g} / "
        f"({len(fixing.points)} x {circle / 2:.4g} x {d:g} x {deep:.3g}); limit "
        f"{stuff.yield_said}",
    )


def _shear(
    line: Line,
    part: Standing,
    stuff: Stuff,
    *,
    feature: str,
    measure: str,
    value: float,
    said: str,
) -> Finding:
    return weighed(
        NAME,
        part=part.name,
        feature=feature,
        measure=f"{measure}, {line.name},",
        value=value,
        most=stuff.shear_mpa,
        unit="MPa",
        source=f"statics: an even shear on what is left of the circle; {stuff.source}",
        remedy=STRONGER,
        formula=f"{line.torque_said}; {said}; limit {stuff.shear_said}",
    )


def _wall(part: Standing, stuff: Stuff, grasp: Grasp, *, wall_mm: float, what: str) -> Finding:
    return weighed(
        NAME,
        part=part.name,
        feature=_slot(grasp),
        measure=what,
        value=wall_mm,
        least=LEAST_WALL_MM[stuff.metal],
        unit="mm",
        source="common practice, no source",
        remedy="take a smaller bore, a clamp in place of a key, or a larger hub",
        formula=f"outside a bore of {slot_mm(grasp):.4g} mm, keyway included",
        scale=WALL,
    )


def _thick_mm(part: Standing, fixing: Fixing) -> float:
    """Return the thickness of a flange: that of what stands on the face."""
    on_face = [one.high_mm for one in part.device.blocks if one.low_mm <= 0.0 < one.high_mm]
    return min(on_face) if on_face else fixing.flange_mm or fixing.depth_mm or 0.0


def _outside_mm(part: Standing, least_mm: float) -> float:
    """Return the diameter of a flange; that about the holes where nothing is drawn."""
    bounds = [one.profile.bounds for one in part.device.blocks if one.low_mm <= 0 < one.high_mm]
    return max((box.right - box.left for box in bounds), default=least_mm)


CHECK = Check(
    name=NAME,
    asks="Do the bodies of hubs, adapters and couplings bear the torque that goes through them?",
    by="The torque, times factors.load, at every section on its way: the ring about the shaft, its "
    "bore taken as wide as the keyway reaches, twisted as a hollow bar, 16 T D / (pi (D^4 - d^4)); "
    "the wall outside the keyway, pulled by half of the key's force; the flange cut through about "
    "collar or bore, 2 T / (pi D^2 t), and along the bolt circle, the holes taken out; each "
    "screw's pressure on its thread or hole, T / (n R d t). Limits: yield of the material over "
    "factors.metal or factors.plastic, in shear by von Mises; of prints the share across their "
    "layers. What notches add is not in it: metal yields there first, plastic has its factor. "
    "Walls thinner than 1 mm of metal or 2 mm of plastic between keyway and screws are told; "
    "common practice, no source. An estimate.",
    run=adapters,
)
