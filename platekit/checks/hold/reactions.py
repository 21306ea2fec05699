"""Reactions: what a load comes to where devices pass it to panels. All without factors."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from platekit.assembly.mounting import Standing
from platekit.checks.hold.belted import acting, holder
from platekit.checks.hold.following import SAME_LINE_MM, Followed, Reaction, axial_of
from platekit.checks.hold.where_held import where_held
from platekit.checks.subject import Subject


def reactions(subject: Subject) -> tuple[Reaction, ...]:
    """Return what every case comes to where devices pass it to panels."""
    found: list[Reaction] = []
    for one in acting(subject):
        found += _on_the_line(one, subject)
    found += where_held(subject)
    return tuple(found)


def bearing_forces(one: Followed) -> tuple[tuple[Standing, float], ...]:
    """Return the force across the axis that each bearing of a line takes, N, the worst case.

    Two bearings share it as a beam on two supports does; of more, the outer two; one alone shares
    it with the motor's face. One without a motor takes it all, and what tips it goes elsewhere.
    Of several forces each may point where it adds to the others.

    Source:
        Statics: a beam on two supports.
    """
    if not one.bearings:
        return ()
    if len(one.bearings) == 1:
        return ((one.bearings[0], beside_motor_n(one)[0]),)
    first, last = one.bearings[0], one.bearings[-1]
    on_first, on_last = _shared_n(one, one.middle_mm(first), one.middle_mm(last))
    inner = tuple((bearing, 0.0) for bearing in one.bearings[1:-1])
    return ((first, on_first), *inner, (last, on_last))


def beside_motor_n(one: Followed) -> tuple[float, float]:
    """Return what the only bearing of a line takes across, and what the motor's face takes.

    Source:
        Statics: a beam on two supports.
    """
    if one.motor is None:
        return one.radial_n, 0.0
    face, bearing = one.place_mm(one.motor, 0.0), one.middle_mm(one.bearings[0])
    if abs(bearing - face) <= SAME_LINE_MM:
        return one.radial_n, one.radial_n
    on_face, on_bearing = _shared_n(one, face, bearing)
    return on_bearing, on_face


def _shared_n(one: Followed, a_mm: float, b_mm: float) -> tuple[float, float]:
    shares = [((push.at_mm - a_mm) / (b_mm - a_mm), push.force_n) for push in one.pushes]
    return (
        sum(abs(1.0 - share) * force for share, force in shares),
        sum(abs(share) * force for share, force in shares),
    )


def _on_the_line(one: Followed, subject: Subject) -> Iterator[Reaction]:
    """Yield what goes into panels on the load's own line."""
    motor = one.motor
    # What nothing holds turns on, and presses on no screws.
    turned = bool(one.grasps) and holder(subject, one) is None
    entries = {act.on.name: act.on for act in one.acts}
    for entry in entries.values():
        if entry.device.fixing is not None and entry is not motor:
            own = _own(one, entry)
            yield replace(own, torque_nmm=0.0) if turned else own
    if motor is not None:
        yield _at_motor(one, motor)
    # Which bearing takes the thrust hangs on how the shaft is shouldered: each may have to.
    for bearing, force in bearing_forces(one):
        yield Reaction(
            load=one.load, device=bearing, panel=bearing.panel, radial_n=force, axial_n=one.axial_n
        )


def _own(one: Followed, entry: Standing) -> Reaction:
    """Return what loads that enter by a device come to at its own seat."""
    loads = [act.load for act in one.acts if act.on is entry]
    pushes = [push for push in one.pushes if push.on is entry]
    seat = one.place_mm(entry, 0.0)
    return Reaction(
        load=one.load,
        device=entry,
        panel=entry.panel,
        torque_nmm=sum(load.torque_nmm for load in loads),
        radial_n=sum(push.force_n for push in pushes),
        axial_n=sum(axial_of(entry, load) for load in loads),
        moment_nmm=sum(push.force_n * abs(push.at_mm - seat) for push in pushes),
    )


def _at_motor(one: Followed, motor: Standing) -> Reaction:
    """Return what comes to a motor's screws: all torque, and what bearings leave of the rest."""
    found = _own(one, motor)
    if one.bearings:
        across = beside_motor_n(one)[1] if len(one.bearings) == 1 else 0.0
        radial, axial, tips = max(found.radial_n, across), found.axial_n, found.moment_nmm
    else:
        face = one.place_mm(motor, 0.0)
        radial, axial = one.radial_n, one.axial_n
        tips = sum(push.force_n * abs(push.at_mm - face) for push in one.pushes)
    return replace(
        found, torque_nmm=one.load.torque_nmm, radial_n=radial, axial_n=axial, moment_nmm=tips
    )
