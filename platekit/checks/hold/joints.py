"""Joints: whether those of a loaded panel pass on what devices bring into it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from platekit.assembly.mounting import Fastening
from platekit.checks.check import Check
from platekit.checks.hold.joint_groups import Spring, shares_across, shares_along
from platekit.checks.hold.joint_lines import JointLine, joint_lines
from platekit.checks.hold.joint_strengths import (
    Pair,
    TabHolds,
    across_n,
    along_n,
    glued,
    holds_across,
)
from platekit.checks.hold.screw_strengths import Stack, along, thread_of
from platekit.checks.hold.seats import Seat, factors_of, kmod_of, seats, strength_for
from platekit.checks.subject import Subject
from platekit.checks.weighing import untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding, Severity
from platekit.hardware import clearance_hole_mm
from platekit.materials import Hold

NAME = "hold.joints"
MORE = "give the joint more or wider tabs, or the panel a further joint or a thicker sheet"


@dataclass(frozen=True, kw_only=True)
class _Met:
    """A joint line with its sheets' strengths and what one of its tabs, or screws, holds."""

    line: JointLine
    pair: Pair


@dataclass(frozen=True, kw_only=True)
class _Asked:
    """What one tab or screw of a joint is asked to hold."""

    each: _Met
    holds: TabHolds
    force_n: float
    said: str
    what: str
    where: str


def joints(subject: Subject) -> Iterator[Finding]:
    """Weigh the joints of every panel that a device passes a load to."""
    told: set[str] = set()
    for seat in seats(subject):
        if subject.whole is None or seat.panel.name in subject.whole[0].use.held:
            continue
        try:
            lines = joint_lines(subject, seat.panel)
            found = tuple(_weighed(seat, lines, subject)) if lines else ()
        except PlatekitError as error:
            found = (_not(seat, f"its joints could not be weighed: {error}", "try them"),)
        for one in found:
            if one.value is not None or one.measure not in told:
                told.add(one.measure)
                yield one


def _not(seat: Seat, measure: str, remedy: str, *, severity: Severity = Severity.NOTE) -> Finding:
    return untold(NAME, part=seat.panel.name, measure=measure, remedy=remedy, severity=severity)


def _weighed(seat: Seat, lines: Sequence[JointLine], subject: Subject) -> Iterator[Finding]:
    met: list[_Met] = []
    for line in lines:
        own, other = (strength_for(subject, sheet) for sheet in (line.own, line.other))
        if own is None or other is None:
            sheet = line.own if own is None else line.other
            yield _not(
                seat,
                f"nothing is known of what {sheet.material.name} bears",
                "give it with_strengths",
                severity=Severity.WARNING,
            )
            return
        kmod = kmod_of([own, other], seat.reaction.load.duration)
        pair = Pair(own=own, other=other, kmod=kmod, factors=factors_of(subject))
        met.append(_Met(line=line, pair=pair))
    yield from _in_plane(seat, met)
    yield from _across(seat, met, subject)


def _from_axis(seat: Seat, place: tuple[float, float]) -> tuple[float, float]:
    """Return a place of the panel's plane, from the device's axis."""
    x, y, _ = seat.panel.frame.coordinates(seat.reaction.device.frame.origin)
    return place[0] - x, place[1] - y


def _in_plane(seat: Seat, met: Sequence[_Met]) -> Iterator[Finding]:
    one, times = seat.reaction, met[0].pair.factors.load
    if not (one.torque_nmm or one.radial_n):
        return
    # Halved panels slide along their slots.
    ways = [
        (each, _spring(seat, each, each.line.middle), "along", float(each.line.count))
        for each in met
        if each.line.made.kind != "halving"
    ]
    shares = _shares(seat, ways)
    if shares is None:
        # Then glue must hold square to some lines as well, and the tabs of one line among them.
        ways = [
            way
            for each in met
            if each.line.made.hold is Hold.GLUED and each.line.made.kind != "halving"
            for spot in each.line.halves()
            for way in (
                (each, _spring(seat, each, spot), "along", 0.5),
                (each, _spring(seat, each, spot, square=True), "square", 0.5),
            )
        ]
    shares = _shares(seat, ways)
    if shares is None:
        yield _not(
            seat,
            "its joints leave it free to slide or turn in its plane",
            "join it on another side, or glue it",
            severity=Severity.WARNING,
        )
        return
    found: list[Finding] = []
    for (each, _, how, n), share in zip(ways, shares, strict=True):
        holds = (glued if how == "square" else along_n)(each.line, each.pair)
        if holds is None:
            yield _unknown(seat, each)
            return
        asked = _Asked(
            each=each,
            holds=holds,
            force_n=times * share / n,
            said=f"factor V / n = {times:g} x {share:.4g} / {n:g}",
            what=each.line.what,
            where="in its plane" if how == "along" else "in its plane, out of its slot",
        )
        found.append(_found(seat, asked))
    yield _worst(found)


def _spring(seat: Seat, each: _Met, at: tuple[float, float], *, square: bool = False) -> Spring:
    x, y = each.line.way
    return Spring(at=_from_axis(seat, at), way=(-y, x) if square else (x, y), stiffness=1.0)


def _shares(
    seat: Seat, ways: Sequence[tuple[_Met, Spring, str, float]]
) -> tuple[float, ...] | None:
    """Return the force along every way that holds, as stiff as it has tabs."""
    return shares_along(
        [replace(spring, stiffness=n) for _, spring, _, n in ways],
        torque_nmm=seat.reaction.torque_nmm,
        radial_n=seat.reaction.radial_n,
    )


def _across(seat: Seat, met: Sequence[_Met], subject: Subject) -> Iterator[Finding]:
    one, times = seat.reaction, met[0].pair.factors.load
    if not (one.axial_n or one.moment_nmm):
        return
    places: list[tuple[float, float]] = []
    of: list[tuple[_Met, TabHolds, str]] = []
    for each in met:
        screws = _screws_of(each.line, subject)
        if holds_across(each.line):
            holds, spots = across_n(each.line, each.pair), each.line.spread(each.line.count)
            what = each.line.what
        elif screws:
            holds, spots = _screw_holds(each, screws[0]), each.line.spread(len(screws))
            what = "screw"
        else:
            continue
        if holds is None:
            yield _unknown(seat, each)
            return
        places += [_from_axis(seat, spot) for spot in spots]
        of += [(each, holds, what) for _ in spots]
    shares = shares_across(places, axial_n=one.axial_n, moment_nmm=one.moment_nmm)
    if shares is None:
        yield _not(
            seat,
            "no more than one line of joints holds it against being pushed or tipped out of its "
            "plane, which is not weighed",
            "join it along another side, glue it, or let its own tabs go into its neighbours",
            severity=Severity.WARNING,
        )
        return
    found = []
    for (each, holds, what), share in zip(of, shares, strict=True):
        asked = _Asked(
            each=each,
            holds=holds,
            force_n=times * share,
            said=f"factor (A / n + M y / sum y^2) = {times:g} x {share:.4g}, n = {len(of)}",
            what=what,
            where="across its plane",
        )
        found.append(_found(seat, asked))
    yield _worst(found)


def _screws_of(line: JointLine, subject: Subject) -> tuple[Fastening, ...]:
    """Return the screws that draw a joint together."""
    if subject.whole is None or not line.made.screws:
        return ()
    panels = {one.name: one for one in subject.whole[1].panels}
    mates = {plate.name for plate in panels[line.mate].layers}
    # Screws of a device hold the device too.
    return tuple(
        one
        for one in subject.whole[1].fastenings
        if set(one.holds) & set(line.layers)
        and set(one.holds) & mates
        and set(one.holds) <= {*line.layers, *mates}
    )


def _screw_holds(each: _Met, screw: Fastening) -> TabHolds | None:
    thread, _ = thread_of(screw)
    stack = Stack(
        layers=[(each.pair.own, each.line.own_mm)],
        kmod=each.pair.kmod,
        factors=each.pair.factors,
        plate_mm=0.0,
        vice=False,
        hole_mm=clearance_hole_mm(thread.thread),
    )
    held = along(screw, stack)
    if held is None:
        return None
    return TabHolds(force_n=held.force_n, by=held.by, formula=held.formula)


def _unknown(seat: Seat, each: _Met) -> Finding:
    known = each.pair.own.timber == "plywood"
    sheet = each.line.other if known else each.line.own
    return _not(
        seat,
        f"shear or compression of {sheet.material.name} is not known, so that its tabs cannot be "
        "weighed",
        "give it with_strengths",
    )


def _found(seat: Seat, asked: _Asked) -> Finding:
    line, holds = asked.each.line, asked.holds
    return weighed(
        NAME,
        part=f"{seat.panel.name} + {line.mate}",
        feature=line.made.kind,
        measure=f"force on one {asked.what} {asked.where}, {seat.device}, {seat.load} "
        f"(at the limit {holds.by}):",
        value=asked.force_n,
        most=holds.force_n,
        unit="N",
        source="share of joints by balance; strengths of the sheet, EN 1995-1-1 2.4.1, from memory",
        remedy=MORE,
        formula=f"{asked.said}; limit {holds.formula}",
    )


def _worst(found: Sequence[Finding]) -> Finding:
    return min(found, key=lambda one: float("inf") if one.margin is None else one.margin)


CHECK = Check(
    name=NAME,
    asks="Do the joints of a loaded panel pass on what comes into it?",
    by="Torque and force in the panel's plane are shared as by a stiff floor on walls: each joint "
    "holds along itself, as stiff as its tabs are many (elastic centre); only where that does not "
    "hold the panel do the tabs of glued joints hold square to their line too, a single one "
    "against the shoulder at the line's end. "
    "A tab holds the least of its end pressing on its slot (fc t t) and shear at its root "
    "(fv w t); glue is not counted along the joint. "
    "Force and tipping moment across the plane are shared by all tabs as by equal springs under a "
    "rigid plate, A / n + M y / sum y^2: the panel's own tabs roll, bend or crush their slots; "
    "its mate's tabs would be drawn out, and hold by glue (2 fr w t, the weaker of wood and glue) "
    "or by the joint's screws alone. Press fits count for nothing there. Tabs are taken as wide "
    "as asked or as usual, evenly spread. Times kmod over factors.connection. A panel without "
    "joints passes on its screws; one by which the rig is held is not asked. An estimate.",
    run=joints,
)
