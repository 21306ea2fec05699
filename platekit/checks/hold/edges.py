"""Edges: whether loaded holes stand far enough from edges, and what is left between them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from platekit.checks.check import Check
from platekit.checks.hold.around import bore_mm, edge_mm, rim_mm
from platekit.checks.hold.screw_groups import most_across_n
from platekit.checks.hold.screw_strengths import thread_of
from platekit.checks.hold.seats import (
    Layer,
    Seat,
    factors_of,
    gamma_of,
    kmod_of,
    least_of,
    seats,
    strength_for,
)
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.net_section import HoledRing, net_shear_mpa
from platekit.formulas.timber_spacing import bolt_spacing
from platekit.hardware import clearance_hole_mm
from platekit.materials import Strength

EDGE, NET = "hold.edge", "hold.net"
# Plies that cross do not split as solid wood does: half of what that asks will do, and the faces of
# motors and hubs ask for no more. Common practice, no source.
CROSSED = 0.5
# Places of screws differ by no more than this on one circle.
ON_CIRCLE_MM = 0.01
FEWEST = 2


def edges(subject: Subject) -> Iterator[Finding]:
    """Weigh how far the screws of loaded devices stand from edges and openings."""
    for seat in seats(subject):
        one = seat.reaction
        if not seat.screws or not seat.points or not (one.torque_nmm or one.radial_n):
            continue
        if len(seat.points) < FEWEST and one.torque_nmm:
            continue
        try:
            found = tuple(_at_edge(seat, subject))
        except PlatekitError:
            # What cannot be known is told by hold.screws.
            continue
        yield from found


def _at_edge(seat: Seat, subject: Subject) -> Iterator[Finding]:
    near, layer = _nearest(seat, filled=False)
    strengths = _strengths(seat, subject)
    if layer is None or not strengths or near <= 0.0:
        return
    thread, _ = thread_of(seat.screws[0])
    d = thread.nominal_mm
    least = CROSSED * bolt_spacing(d).free_edge_mm
    if all(one.timber for one in strengths):
        yield weighed(
            EDGE,
            part=layer[0].name,
            feature=f"{seat.device} screws",
            measure=f"from the middle of an {thread.thread} hole to the next edge or opening",
            value=_nearest(seat, filled=True)[0],
            least=least,
            unit="mm",
            source="half of EN 1995-1-1 table 8.4 for solid wood, from memory; the half by common "
            "practice, no source",
            remedy="move the edge or the opening away, or the screws",
            formula=f"limit half of 3 d = 3 x {d:g} / 2",
            scale=ADVICE,
        )
    shear = least_of([one.panel_shear_mpa for one in strengths])
    if shear is None:
        return
    factors, one = factors_of(subject), seat.reaction
    kmod = kmod_of(strengths, one.load.duration)
    gamma = max(gamma_of(strength, factors) for strength in strengths)
    thick = sum(part.sheet.thickness_mm for part, _ in seat.gripped)
    across = most_across_n(seat.points, torque_nmm=one.torque_nmm, radial_n=one.radial_n)
    ligament = near - _hole_mm(seat) / 2
    if ligament <= 0.0:
        return
    yield weighed(
        EDGE,
        part=layer[0].name,
        feature=f"{seat.device} screws",
        measure=f"force of one {thread.thread}, {seat.load}, that would tear its hole out to the "
        "edge",
        value=factors.load * across,
        most=kmod * 2 * ligament * thick * shear / gamma,
        unit="N",
        source="mean shear on two planes, textbook; panel shear of the sheet",
        remedy="move the edge or the opening away, or give more screws or a thicker sheet",
        formula=f"factor V = {factors.load:g} x {across:.4g}; limit kmod 2 c t fv / gamma = "
        f"{kmod:g} x 2 x {ligament:.3g} x {thick:.3g} x "
        f"{shear:.3g} / {gamma:g}",
    )


def net(subject: Subject) -> Iterator[Finding]:
    """Weigh what is left between the holes of a bolt circle that passes a torque."""
    for seat in seats(subject):
        if not seat.reaction.torque_nmm or not seat.screws or not seat.gripped:
            continue
        try:
            found = _left(seat, subject)
        except PlatekitError:
            # Holes that run into each other or the rim are no ring: hold.edge and the web tell.
            continue
        if found is not None:
            yield found


def _left(seat: Seat, subject: Subject) -> Finding | None:
    arms = [math.hypot(x, y) for x, y in seat.points]
    strengths = _strengths(seat, subject)
    shear = least_of([one.panel_shear_mpa for one in strengths])
    if len(arms) < FEWEST or max(arms) - min(arms) > ON_CIRCLE_MM or shear is None:
        return None
    at = {layer[0].name: seat.on_plate(layer) for layer in seat.gripped}
    ring = HoledRing(
        bore_mm=max(bore_mm(part.profile, at[part.name]) for part, _ in seat.gripped),
        outside_mm=2 * min(rim_mm(part.profile, at[part.name]) for part, _ in seat.gripped),
        circle_mm=2 * arms[0],
        holes=len(arms),
        hole_mm=_hole_mm(seat),
        thickness_mm=sum(part.sheet.thickness_mm for part, _ in seat.gripped),
    )
    factors = factors_of(subject)
    kmod = kmod_of(strengths, seat.reaction.load.duration)
    gamma = max(gamma_of(strength, factors) for strength in strengths)
    torque = factors.load * seat.reaction.torque_nmm
    return weighed(
        NET,
        part=seat.panel.name,
        feature=f"{seat.device} screws",
        measure=f"shear between the holes of the bolt circle, {seat.load}",
        value=net_shear_mpa(ring, torque_nmm=torque),
        most=kmod * shear / gamma,
        unit="MPa",
        source="mean shear on what the holes leave, derived; panel shear of the sheet",
        remedy="give a larger bolt circle, fewer or smaller holes, or a thicker sheet",
        formula=f"2 T / (D t S) = 2 x {torque:.5g} / ({ring.circle_mm:.4g} x "
        f"{ring.thickness_mm:.3g} x {ring.net_girth_mm:.4g}); limit kmod fv / gamma = {kmod:g} x "
        f"{shear:.3g} / {gamma:g}",
    )


def _strengths(seat: Seat, subject: Subject) -> list[Strength]:
    """Return what every gripped layer bears; none at all where one is not known."""
    found = [strength_for(subject, part.sheet) for part, _ in seat.gripped]
    known = [one for one in found if one is not None]
    return known if len(known) == len(found) else []


def _hole_mm(seat: Seat) -> float:
    thread, _ = thread_of(seat.screws[0])
    asked = seat.reaction.device.asked
    return clearance_hole_mm(thread.thread, fit="medium" if asked is None else asked.fit)


def _nearest(seat: Seat, *, filled: bool) -> tuple[float, Layer | None]:
    """Return how near the screws come to an edge or opening, and in which layer.

    The opening about the device's own axis counts as closed where it is `filled` by its spigot.
    """
    axis = [(0.0, 0.0)] if filled else []
    found = [
        (
            edge_mm(
                layer[0].profile,
                seat.on_plate(layer, at),
                beside=[seat.on_plate(layer, other) for other in (*seat.points, *axis)],
            ),
            layer,
        )
        for layer in seat.gripped
        for at in seat.points
    ]
    return min(found, key=lambda one: one[0], default=(math.inf, None))


EDGE_CHECK = Check(
    name=EDGE,
    asks="Do the screws of what is loaded stand far enough from edges and openings?",
    by="From the middle of a hole to the nearest edge or opening against half of 3 d, the free "
    "edge of EN 1995-1-1 table 8.4 for solid wood: crossed plies split less (common practice, no "
    "source); nearer than that it warns. The opening that the device's own spigot fills does not "
    "count there. The worst screw's force, times factors.load, against the "
    "shear of two planes from its hole to that edge, 2 c t fv, times kmod over factors.timber: "
    "as if the force pointed there. The 7 d or 80 mm that the code wants at a beam's end are not "
    "asked of a plate. Codes from memory. An estimate.",
    run=edges,
)
NET_CHECK = Check(
    name=NET,
    asks="Is enough left between the holes of a bolt circle that passes a torque?",
    by="The torque, times factors.load, crosses the bolt circle as an even shear on what its holes "
    "leave of it: 2 T / (D t S), against the sheet's panel shear times kmod over factors.timber. "
    "Peaks at the rims of holes, and other openings, are not in it. Derived. An estimate.",
    run=net,
)
