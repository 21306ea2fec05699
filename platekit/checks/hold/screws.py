"""Screws: whether those of a device hold what it passes to its panel."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.hold.screw_groups import across_said, most_across_n, most_along_n
from platekit.checks.hold.screw_strengths import Holds, Stack, across, along, thread_of
from platekit.checks.hold.seats import Seat, factors_of, kmod_of, seats, strength_for
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding, Severity
from platekit.hardware import clearance_hole_mm
from platekit.hardware.solids import solid

NAME = "hold.screws"
STRONGER = "give it more screws, a larger circle, thicker screws or another layer of sheet"
# What counts as standing on the panel: this near its face.
ON_FACE_MM = 0.05


def screws(subject: Subject) -> Iterator[Finding]:
    """Weigh the screws of every device that passes a load to a panel."""
    told: set[str] = set()
    for seat in seats(subject):
        if not seat.screws or not seat.points or not seat.gripped:
            continue
        try:
            found = tuple(_weighed(seat, subject))
        except PlatekitError as error:
            found = (_not(seat, f"its screws could not be weighed: {error}", "check the figures"),)
        for one in found:
            if one.value is not None or one.measure not in told:
                told.add(one.measure)
                yield one


def _not(seat: Seat, measure: str, remedy: str, *, severity: Severity = Severity.NOTE) -> Finding:
    return untold(
        NAME,
        part=seat.panel.name,
        feature=f"{seat.device} screws",
        measure=measure,
        remedy=remedy,
        severity=severity,
    )


def _weighed(seat: Seat, subject: Subject) -> Iterator[Finding]:
    one = seat.reaction
    if len(seat.points) == 1 and one.torque_nmm:
        yield _not(
            seat, "one screw alone holds a torque by friction only", "give it two screws or more"
        )
        return
    asked = one.device.asked
    if asked is not None and asked.travel.length_mm:
        yield _not(
            seat,
            "its screws stand in slots, along which only friction holds",
            "pin it once it stands right, or try it",
        )
        return
    if asked is not None and asked.lift_mm > 0.0:
        yield _not(
            seat, "its screws stand free beside the panel", "mount it without lift_mm, or try it"
        )
        return
    stack = _stack(seat, subject)
    if isinstance(stack, Finding):
        yield stack
        return
    yield from _forces(seat, stack)


def _stack(seat: Seat, subject: Subject) -> Stack | Finding:
    """Return what the screws go through, or what is missing to know it."""
    fixing, asked = seat.reaction.device.device.fixing, seat.reaction.device.asked
    strengths = [(strength_for(subject, part.sheet), part.sheet) for part, _ in seat.gripped]
    missing = next((sheet for strength, sheet in strengths if strength is None), None)
    if missing is not None or fixing is None:
        return _not(
            seat,
            f"nothing is known of what {'it' if missing is None else missing.material.name} bears",
            "give it with_strengths",
            severity=Severity.WARNING,
        )
    known = [(one, sheet.thickness_mm) for one, sheet in strengths if one is not None]
    made_of = seat.reaction.device.device.made_of
    hard = not made_of or solid(made_of).kind == "metal"
    thread, _ = thread_of(seat.screws[0])
    return Stack(
        layers=known,
        kmod=kmod_of([one for one, _ in known], seat.reaction.load.duration),
        factors=factors_of(subject),
        plate_mm=fixing.depth_mm or fixing.flange_mm or 0.0,
        vice=fixing.tapped and hard,
        hole_mm=clearance_hole_mm(thread.thread, fit="medium" if asked is None else asked.fit),
    )


def _forces(seat: Seat, stack: Stack) -> Iterator[Finding]:
    one, screw, n = seat.reaction, seat.screws[0], len(seat.points)
    times = stack.factors.load
    thread, _ = thread_of(screw)
    every = f"{n} {thread.thread}"
    over = times * most_across_n(seat.points, torque_nmm=one.torque_nmm, radial_n=one.radial_n)
    pull = times * most_along_n(
        seat.points,
        moment_nmm=one.moment_nmm,
        axial_n=one.axial_n,
        reach_mm=_reach_mm(seat),
    )
    held, drawn = across(screw, stack), along(screw, stack)
    unknown = (over and held is None) or (pull and drawn is None)
    if unknown:
        yield _not(
            seat,
            f"no rule says how {seat.gripped[0][0].sheet.material.name} bears a screw",
            "try the joint, or use plywood there",
        )
    if over and held is not None:
        said = across_said(
            seat.points, torque_nmm=one.torque_nmm, radial_n=one.radial_n, times=times
        )
        yield _found(seat, f"force across the worst of {every}", over, held, said)
    if math.isinf(pull):
        yield _not(
            seat,
            f"{every} in one line do not hold what tips it",
            "spread the screws, or give the device a foot",
        )
        return
    if pull and drawn is not None:
        said = _pull_said(seat, pull, times)
        yield _found(seat, f"pull in the worst of {every}", pull, drawn, said)
    if over and pull and held is not None and drawn is not None:
        yield from _together(seat, every, (over, held), (pull, drawn))


def _pull_said(seat: Seat, pull_n: float, times: float) -> str:
    """Return how a pull comes about, numbers put in."""
    one, n = seat.reaction, len(seat.points)
    said, put_in = [], []
    if one.axial_n:
        said.append("A / n")
        put_in.append(f"{one.axial_n:.4g} / {n}")
    if one.moment_nmm:
        # The lever that all screws together come to.
        lever = one.moment_nmm / (pull_n / times - one.axial_n / n)
        said.append("M / lever")
        put_in.append(f"{one.moment_nmm:.5g} / {lever:.4g}")
    return f"factor ({' + '.join(said)}) = {times:g} x ({' + '.join(put_in)})"


def _together(
    seat: Seat, every: str, over: tuple[float, Holds], pull: tuple[float, Holds]
) -> Iterator[Finding]:
    """Weigh both forces together, where neither alone is too much already."""
    shares = [force / holds.force_n for force, holds in (over, pull)]
    if max(shares) > 1.0:
        return
    yield weighed(
        NAME,
        part=seat.panel.name,
        feature=f"{seat.device} screws",
        measure=f"force across and pull together, {seat.load}, over what one of {every} holds",
        value=math.hypot(*shares),
        most=1.0,
        unit="",
        source="EN 1995-1-1 8.28, from memory",
        remedy=STRONGER,
        formula=f"sqrt((Fv / Rv)^2 + (Ft / Rt)^2) = sqrt(({over[0]:.4g} / "
        f"{over[1].force_n:.4g})^2 + ({pull[0]:.4g} / {pull[1].force_n:.4g})^2)",
    )


def _found(seat: Seat, measure: str, force_n: float, held: Holds, said: str) -> Finding:
    return weighed(
        NAME,
        part=seat.panel.name,
        feature=f"{seat.device} screws",
        measure=f"{measure}, {seat.load} (at the limit {held.by}):",
        value=force_n,
        most=held.force_n,
        unit="N",
        source=held.source,
        remedy=STRONGER,
        formula=f"{said}; limit {held.formula}",
    )


def _reach_mm(seat: Seat) -> float:
    """Return how far the device's foot reaches from its axis on every side."""
    reach = 0.0
    for block in seat.reaction.device.device.blocks:
        if block.low_mm <= ON_FACE_MM < block.high_mm:
            box = block.profile.bounds
            reach = max(reach, min(-box.left, box.right, -box.bottom, box.top))
    return reach


CHECK = Check(
    name=NAME,
    asks="Do the screws of what is loaded hold in their panel?",
    by="Torque and the force across the axis, times factors.load, are shared by the screws as an "
    "elastic group: F / n + T r / sum r^2, the worst screw in the worst direction. Axial force "
    "counts as a pull; a tipping moment is held about the middle of the screws or the edge of the "
    "foot, whichever asks less. A screw holds across itself the least of EN 1995-1-1 8.2.3 "
    "(plywood on a metal plate: a tapped part is a thick plate, a flange with play a thin one; "
    "embedment 8.36, rope from washer and screw) times kmod over factors.connection, and its own "
    "shear by EN 1993-1-8 over factors.bolt; along itself the least of its washer (EN 1995-1-1 "
    "8.5.2, fc,90 = 0.007 x density after EN 384), the plug it would punch out, and its own "
    "tension. Friction under the heads is not counted: wood creeps, and preload goes with it. "
    "The code's tests were made on thicker plywood and bolts than many a rig has. Codes from "
    "memory. An estimate.",
    run=screws,
)
