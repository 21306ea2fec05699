"""Removal: what must come out by itself later, a lid or a motor, along one line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from platekit.assembly.frames import Vector
from platekit.assembly.mounting.asked import Side, require_looks
from platekit.assembly.mounting.seats import LOOKS
from platekit.assembly.proof.blocking import STAYING, Blocking
from platekit.assembly.proof.things import Thing, ThingKind
from platekit.errors import PartError, UnknownNameError, concerning
from platekit.findings import Finding, Severity


@dataclass(frozen=True, slots=True, kw_only=True)
class Removal:
    """Something that must come out along a line, its own screws drawn first.

    Attributes:
        name: The panel or device.
        towards: Where it goes.
        after: What is taken out before it.
    """

    name: str
    towards: Side
    after: tuple[str, ...] = ()


def comes_out(name: str, *, towards: Side, after: tuple[str, ...] = ()) -> Removal:
    """Return the wish that a panel or device can be taken out of the finished rig.

    Args:
        name: The panel or device.
        towards: Where it goes: up, down, left, right, front, back.
        after: What is taken out before: ``comes_out("motor", towards="down", after=("base",))``.

    Raises:
        PartError: A direction or name that cannot be.
    """
    with concerning(part=name):
        if isinstance(after, str):
            raise PartError(f"after is {after!r}", remedy='give names in brackets: after=("lid",)')
        return Removal(name=name, towards=require_looks(towards), after=tuple(after))


def removal_findings(
    wishes: Sequence[Removal], things: Sequence[Thing], blocking: Blocking
) -> tuple[Finding, ...]:
    """Return a stop for everything that cannot come out as wished.

    Raises:
        UnknownNameError: A wish names what is not there.
    """
    known = {thing.name: thing for thing in things}
    found = []
    for wish in wishes:
        for name in (wish.name, *wish.after):
            if name not in known:
                listed = [t.name for t in things if t.kind is not ThingKind.FASTENER]
                raise UnknownNameError.among("panel or device", name, listed)
        found += _blocked(wish, things, blocking)
    return tuple(found)


def _blocked(wish: Removal, things: Sequence[Thing], blocking: Blocking) -> list[Finding]:
    goes = _with_its_own({wish.name}, things)
    gone = goes | _with_its_own(set(wish.after), things)
    own = [thing for thing in things if _holds(thing, things) & gone]
    between = [thing for thing in own if (held := _holds(thing, things)) & goes and held - goes]
    left = [
        thing.name
        for thing in things
        if thing.name not in gone and thing not in own and thing.kind not in STAYING
    ]
    way: Vector = LOOKS[wish.towards]
    found = []
    for screw in between:
        hidden = blocking.tool_blockers(screw.name, left)
        shut = blocking.hand_blockers(screw.name, left)
        stuck = blocking.blockers(screw.name, screw.fastening.way, left) if screw.fastening else ()
        if hidden or stuck or shut:
            why = (*hidden, *stuck, *shut)
            found.append(_finding(wish, screw.name, why, "its screw is out of reach"))
    inner = {thing.name for thing in own if _holds(thing, things) <= goes}
    blockers = [
        other
        for name in sorted(goes | inner)
        for other in blocking.blockers(name, way, left, carried=True)
    ]
    if blockers:
        found.append(_finding(wish, "", blockers, f"it cannot come out towards {wish.towards}"))
    return found


def _holds(thing: Thing, things: Sequence[Thing]) -> set[str]:
    """Return the names of the things a screw holds together; nothing for what is no screw."""
    if thing.fastening is None:
        return set()
    plates = {plate: one.name for one in things for plate in one.plates}
    return {plates.get(name, name) for name in thing.fastening.holds}


def _with_its_own(names: set[str], things: Sequence[Thing]) -> set[str]:
    """Return things with the devices that are screwed to them and to nothing else."""
    held = [found for thing in things if (found := _holds(thing, things))]
    devices = {thing.name for thing in things if thing.kind is ThingKind.DEVICE}
    whole = set(names)
    for device in devices - names:
        partners = set().union(*(found for found in held if device in found)) - {device}
        if partners and partners <= whole:
            whole.add(device)
    return whole


def _finding(wish: Removal, feature: str, blockers: Sequence[str], what: str) -> Finding:
    names = ", ".join(dict.fromkeys(blockers))
    return Finding(
        severity=Severity.STOP,
        part=wish.name,
        feature=feature,
        measure=f"{what}: {names} in the way",
        source="swept bodies, by an independent kernel",
        remedy="move what is in the way, choose another direction, or name it in after=",
    )
