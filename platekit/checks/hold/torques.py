"""Torques that nothing holds: where the chain from what is loaded to the motor ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platekit.assembly.mounting import Standing
from platekit.checks.check import Check
from platekit.checks.hold.following import followed, on_one_line
from platekit.checks.hold.turning import LEAST_NMM, NMM_PER_NM, Line, lines
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold
from platekit.findings import Finding, Severity
from platekit.hardware.hazards import Hazard

NAME = "hold.torque"


def torques(subject: Subject) -> Iterator[Finding]:
    """Tell every torque that comes to nothing that holds it."""
    if subject.whole is None:
        return
    yield from _unfollowed(subject)
    yield from _held(subject)
    standing = subject.whole[1].standing
    for line in lines(subject):
        entry = line.one.entry
        if entry is None or line.torque_nmm <= LEAST_NMM or line.one.belt:
            continue
        turns = bool(entry.device.grips) or any(entry is grasp.shaft for grasp in line.path)
        if not turns and (entry.device.fixing is not None or entry.device.shaft is None):
            # Screwed to its panel and no part of a shaft: the panel holds the torque.
            continue
        if line.holds is not None:
            yield Finding(
                severity=Severity.PASSED,
                part=entry.name,
                measure=f"a motor holds the torque, {line.name},",
                value=line.own_nmm / NMM_PER_NM,
                unit="N m",
                remedy="",
                check=NAME,
                formula=f"goes through {_chain(line)}",
            )
            continue
        where, remedy = _end(line, standing)
        # No margin: there is no share of it that anything holds.
        yield Finding(
            severity=Severity.STOP,
            part=entry.name,
            measure=f"torque that ends {where}, {line.name}:",
            value=line.own_nmm / NMM_PER_NM,
            unit="N m",
            source="statics: what turns and is not held turns on",
            remedy=remedy,
            check=NAME,
            formula=f"goes through {_chain(line)}",
        )


def _unfollowed(subject: Subject) -> Iterator[Finding]:
    """Tell every load that comes in by nothing that passes it on: no check sees what it does."""
    for one in followed(subject):
        entry = one.entry
        if entry is not None and (entry.device.fixing or one.grasps or one.bearings):
            continue
        where = "nothing there takes" if entry is None else "no screws and no shaft pass on"
        yield untold(
            NAME,
            part=one.load.on,
            measure=f"{where} {one.load.name}, so that nothing is weighed under it",
            remedy="a load is followed from a bought part with screws, or on a shaft: mount what "
            "it acts by, and give the load to that",
            severity=Severity.WARNING,
        )


def _held(subject: Subject) -> Iterator[Finding]:
    """Tell what holds the rig in several places: who takes how much is not known."""
    if subject.whole is None or not subject.whole[0].use.loads:
        return
    assembly, done = subject.whole
    named = {one.name for one in done.standing}
    asked = {one.asked.name for one in done.standing if one.asked is not None}
    for name in assembly.use.held:
        if name in asked and name not in named:
            yield untold(
                NAME,
                part=name,
                measure="it holds the rig in several places, and what each takes is not weighed",
                remedy="share the load out by hand, or hold the rig by one part",
            )


def _chain(line: Line) -> str:
    return " - ".join(part.name for part in line.parts)


def _end(line: Line, standing: Sequence[Standing]) -> tuple[str, str]:
    """Return where a chain ends, in words, and what to do about it."""
    parts = line.parts
    last, entry = parts[-1], parts[0]
    near = [
        one
        for one in standing
        if one not in parts
        and one.device.shaft is not None
        and Hazard.MOTION in one.device.hazards
        and on_one_line(entry, one)
    ]
    if near:
        shaft = near[0].device.shaft
        size = f" of {shaft.diameter_mm:g} mm" if shaft is not None else ""
        return (
            f"at {last.name}: nothing on it grips the shaft{size} of {near[0].name}",
            f"let a bore{size}, a socket or a coupling reach over that shaft",
        )
    return (
        f"at {last.name}: no motor is on its line",
        "put a motor on its line, or leave torque_nm out where it turns freely",
    )


CHECK = Check(
    name=NAME,
    asks="Is every load followed, and every torque held by something?",
    by="Loads of one name are a case and act together, loads of other names are weighed each by "
    "itself. On one line torques add, forces across and along add as it is worst; where the rig is "
    "held all of the case arrive, weights downwards, the rest in whichever direction is worst. "
    "Several loads on one panel's devices bend it each by itself. A case stands as long as the "
    "shortest of it (EN 1995-1-1 3.1.3, from memory); what stands longer is weighed alone too. "
    "From the device that is loaded, every grip on a shaft of its own diameter on the same line "
    "is followed until a motor is reached, or a belt that leads to one. Where none is, the torque "
    "turns what it acts on, and the chain's end is told. A device that only stands on its panel "
    "passes its torque to that. A load on a panel comes in by the hub screwed to it; on one "
    "without, nothing is weighed, and that is told.",
    run=torques,
)
