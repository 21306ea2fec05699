"""Grips: whether hubs, couplings and sockets hold their shafts."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.hold.clamps import FRICTION, clamped
from platekit.checks.hold.following import Grasp
from platekit.checks.hold.keyed import key_found
from platekit.checks.hold.set_screws import SAFETY, set_screws_torque_nmm
from platekit.checks.hold.turning import (
    LEAST_NMM,
    NMM_PER_NM,
    Line,
    Stuff,
    is_bush,
    lines,
    stuff_of,
)
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.clamping import clamp_torque_two_lines_nmm
from platekit.formulas.press_fits import (
    Elastic,
    Pressed,
    effective_interference_mm,
    hub_hoop_mpa,
    joint_pressure_mpa,
    pressed_torque_nmm,
)
from platekit.hardware import metric_thread

NAME = "hold.grip"
STRONGER = "give it a key, a longer hub, more or thicker screws, or a thicker shaft"
# Hub pressed on a shaft, dry steel: DIN 7190-1, from memory.
PRESS_FRICTION = 0.12
# Mean roughness depth of turned and reamed faces, micrometres: common practice, no source.
ROUGHNESS_UM = 4.0
# The shaft of whatever is gripped, where nobody says: common practice, no source.
USUAL_SHAFT = "steel C45"


def grips(subject: Subject) -> Iterator[Finding]:
    """Weigh every grip that a torque goes through."""
    told: set[tuple[str, str]] = set()
    for line in lines(subject):
        # What nothing holds is told by "hold.torque", and no grip is asked to.
        if line.torque_nmm <= LEAST_NMM or line.holds is None:
            continue
        for grasp in line.path:
            try:
                found = tuple(_weighed(line.at(grasp), grasp))
            except PlatekitError as error:
                found = (_not(grasp, f"its grip could not be weighed: {error}", "check its sizes"),)
            for one in found:
                if one.value is not None or (one.part, one.measure) not in told:
                    told.add((one.part, one.measure))
                    yield one


def _where(grasp: Grasp) -> str:
    return f"{grasp.grip.hold} on {grasp.shaft.name}"


def _not(grasp: Grasp, measure: str, remedy: str) -> Finding:
    return untold(
        NAME, part=grasp.holder.name, feature=_where(grasp), measure=measure, remedy=remedy
    )


def _weighed(line: Line, grasp: Grasp) -> Iterator[Finding]:
    hub = stuff_of(grasp.holder, line.factors)
    shaft = stuff_of(grasp.shaft, line.factors, usual=USUAL_SHAFT)
    match grasp.grip.hold:
        case "key":
            yield from key_found(NAME, line, grasp, hub=hub, shaft=shaft)
        case "clamp":
            yield _clamp(line, grasp, hub)
        case "set screws":
            yield _set_screws(line, grasp, hub)
        case "press":
            yield from _press(line, grasp, hub, shaft)
        case "flat":
            yield _flat(line, grasp, hub, shaft)
        case "slip":
            yield _torque(
                line,
                grasp,
                held_nmm=0.0,
                said="a plain bore passes on no torque",
                source="no grip, no torque",
                remedy="give it a key, or a slit and a clamp round it, or pin it",
            )


def _torque(
    line: Line,
    grasp: Grasp,
    *,
    held_nmm: float,
    said: str,
    source: str,
    by: str = "",
    remedy: str = STRONGER,
) -> Finding:
    limit = f" (at the limit {by} gives way)" if by else ""
    return weighed(
        NAME,
        part=grasp.holder.name,
        feature=_where(grasp),
        measure=f"torque through the grip, {line.name}{limit}",
        value=line.torque_nmm / NMM_PER_NM,
        most=held_nmm / NMM_PER_NM,
        unit="N m",
        source=source,
        remedy=remedy,
        formula=f"{line.torque_said}; limit {said}",
    )


def _clamp(line: Line, grasp: Grasp, hub: Stuff | None) -> Finding:
    grip = grasp.grip
    thread, screws, presses = grip.thread, grip.screws, hub
    if not thread and is_bush(grasp.holder):
        # A slit bush is pressed on by the clamp around it.
        for around in line.held(grasp.holder):
            if around.grip.hold == "clamp" and around.grip.thread:
                thread, screws = around.grip.thread, around.grip.screws
                presses = stuff_of(around.holder, line.factors)
        if not thread:
            return _not(grasp, "no clamp with known screws lies around it", "say those of the hub")
    if not thread:
        return _not(
            grasp,
            "the screws of its clamp are not said, so its grip is not weighed",
            "give hold_thread and hold_screws",
        )
    found = clamped(thread=thread, screws=screws, shaft_mm=grip.bore_mm, hub=presses)
    return _torque(
        line,
        grasp,
        held_nmm=found.torque_nmm,
        said=found.said,
        by=found.by,
        source="friction on two lines, statics; pull of class 8.8 by EN 1993-1-8 3.9.1, from "
        "memory; friction by common practice, no source",
    )


def _set_screws(line: Line, grasp: Grasp, hub: Stuff | None) -> Finding:
    grip = grasp.grip
    if not grip.thread:
        return _not(
            grasp,
            "its set screws are not said, so its grip is not weighed",
            "give hold_thread and hold_screws",
        )
    d = metric_thread(grip.thread).nominal_mm
    held = set_screws_torque_nmm(screws=grip.screws, diameter_mm=d, shaft_mm=grip.bore_mm) / SAFETY
    said = f"{grip.screws} {grip.thread}, F D / 2 over {SAFETY:g} for the first, half for others"
    if hub is not None and not hub.metal:
        # The thread strips long before the point bites: what is left is friction under the point
        # and opposite. The thread carries on half its skin; common practice, no source.
        wall = (grip.outer_mm - grip.bore_mm) / 2
        strips = grip.screws * 0.5 * math.pi * d * wall * hub.shear_mpa
        soft = clamp_torque_two_lines_nmm(
            clamp_force_n=strips, friction=FRICTION, shaft_mm=grip.bore_mm
        )
        if soft < held:
            held, said = soft, f"mu F D with threads that strip at {strips:.0f} N"
    return _torque(
        line,
        grasp,
        held_nmm=held,
        said=said,
        source="table of holding power, Shigley, Mechanical Engineering Design, from memory; "
        "further screws by common practice, no source",
    )


def _elastic(stuff: Stuff) -> Elastic:
    made = stuff.solid
    # The two moduli of an even material give Poisson's ratio.
    ratio = made.modulus_mpa / (2 * made.shear_modulus_mpa) - 1
    return Elastic(modulus_mpa=made.modulus_mpa, poisson=min(max(ratio, 0.0), 0.5))


def _press(line: Line, grasp: Grasp, hub: Stuff | None, shaft: Stuff | None) -> Iterator[Finding]:
    grip = grasp.grip
    if not grip.interference_mm or hub is None or shaft is None:
        yield _not(
            grasp,
            "how tightly it is pressed on is not said, so its grip is not weighed",
            "give interference_mm and made_of",
        )
        return
    fit = Pressed(
        diameter_mm=grip.bore_mm,
        hub_outside_mm=grip.outer_mm,
        hub=_elastic(hub),
        shaft=_elastic(shaft),
    )
    left = effective_interference_mm(
        grip.interference_mm, hub_rz_um=ROUGHNESS_UM, shaft_rz_um=ROUGHNESS_UM
    )
    pressure = joint_pressure_mpa(fit, interference_mm=left)
    held = pressed_torque_nmm(
        pressure_mpa=pressure,
        friction=PRESS_FRICTION,
        diameter_mm=grip.bore_mm,
        length_mm=grasp.length_mm,
    )
    # Plastics creep out of a press fit: their factor comes off what it holds.
    factor = 1.0 if hub.metal else hub.factor
    yield _torque(
        line,
        grasp,
        held_nmm=held / factor,
        said=f"pi / 2 mu p D^2 L = pi / 2 x {PRESS_FRICTION:g} x {pressure:.3g} x "
        f"{grip.bore_mm:g}^2 x {grasp.length_mm:.3g} / {factor:g}",
        source="Lame's thick rings; friction and loss by roughness after DIN 7190-1, from memory",
    )
    hoop = hub_hoop_mpa(fit, pressure_mpa=pressure)
    yield weighed(
        NAME,
        part=grasp.holder.name,
        feature=_where(grasp),
        measure="stress round the bore by pressing",
        value=math.sqrt(hoop**2 + hoop * pressure + pressure**2),
        most=hub.yield_mpa,
        unit="MPa",
        source=f"Lame, von Mises; {hub.source}",
        remedy="take a lighter fit or a thicker hub",
        formula=f"sqrt(h^2 + h p + p^2), h = {hoop:.3g}, p = {pressure:.3g} MPa; limit "
        f"{hub.yield_said}",
    )


def _flat(line: Line, grasp: Grasp, hub: Stuff | None, shaft: Stuff | None) -> Finding:
    grip = grasp.grip
    if not grip.across_flat_mm or hub is None or shaft is None:
        return _not(
            grasp,
            "how deep its flat is is not said, so its grip is not weighed",
            "give across_flat_mm and made_of",
        )
    radius = grip.bore_mm / 2
    half = math.sqrt(radius**2 - (grip.across_flat_mm - radius) ** 2)
    softer = min(hub, shaft, key=lambda one: one.yield_mpa)
    return weighed(
        NAME,
        part=grasp.holder.name,
        feature=_where(grasp),
        measure=f"pressure at the edge of the flat, {line.name}",
        value=3 * line.torque_nmm / (grasp.length_mm * half**2),
        most=softer.yield_mpa,
        unit="MPa",
        source=f"statics: pressure rising to the edge of half a flat; {softer.source}",
        remedy="give it a longer hub, a deeper flat or a key",
        formula=f"{line.torque_said}; 3 T / (L c^2) = 3 x {line.torque_nmm:.5g} / "
        f"({grasp.length_mm:.3g} x {half:.3g}^2); limit {softer.yield_said}",
    )


CHECK = Check(
    name=NAME,
    asks="Does every hub, coupling and socket hold its shaft?",
    by="The torque, times factors.load, goes through every grip between what is loaded and the "
    "motor. A key: pressure on its sides 4 T / (D h L) against 0.9 of the yield of the softest of "
    "key, hub and shaft (DIN 6892, method C, from memory), and shear 2 T / (D b L); the round "
    "ends do not bear. A clamp: friction 0.15 on two lines, mu n F D, each screw of class 8.8 "
    "pulling with 0.7 of its strength, or with what its head may press into the hub. Set screws: "
    "a handbook's table of holding power over 1.5, each further screw counted half. Pressed on: "
    "Lame's thick rings, roughness taken off, friction 0.12. A flat: pressure rising to its edge, "
    "3 T / (L c^2). A plain bore passes on nothing. Where somebody can be hurt when a grip lets "
    "go, add a key or a pin; a torque that turns to and fro works keys loose well below these "
    "figures. Friction by common practice, no source. An estimate.",
    run=grips,
)
