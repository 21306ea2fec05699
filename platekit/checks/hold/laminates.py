"""Laminates: whether the glue between layers passes on what only some of them are given."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from platekit.checks.check import Check
from platekit.checks.hold.around import bore_mm, rim_mm
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
from platekit.checks.weighing import untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.glue_and_fingers import wood_glue_mpa
from platekit.formulas.torsion import round_shear_mpa

NAME = "hold.laminate"
GLUE = "D2"


def laminates(subject: Subject) -> Iterator[Finding]:
    """Weigh the glue of every laminate some layers of which a device's screws do not grip."""
    told: set[str] = set()
    for seat in seats(subject):
        one = seat.reaction
        uneven = len(seat.layers) > 1 and len(seat.gripped) < len(seat.layers)
        if not uneven or not (one.torque_nmm or one.radial_n):
            continue
        try:
            found = tuple(_weighed(seat, subject))
        except PlatekitError as error:
            found = (_not(seat, f"its glue could not be weighed: {error}", "check the figures"),)
        for each in found:
            if each.value is not None or each.measure not in told:
                told.add(each.measure)
                yield each


def _not(seat: Seat, measure: str, remedy: str) -> Finding:
    return untold(NAME, part=seat.panel.name, measure=measure, remedy=remedy)


def _weighed(seat: Seat, subject: Subject) -> Iterator[Finding]:
    one, factors = seat.reaction, factors_of(subject)
    strengths = [strength_for(subject, part.sheet) for part, _ in seat.layers]
    known = [strength for strength in strengths if strength is not None]
    planar = [
        figure
        for strength in known
        for figure in (strength.planar_shear_0_mpa, strength.planar_shear_90_mpa)
    ]
    wood = least_of(planar)
    if len(known) < len(strengths) or wood is None:
        yield _not(
            seat,
            f"planar shear of {seat.layers[0][0].sheet.material.name} is not known",
            "give planar_shear_0_mpa and planar_shear_90_mpa with_strengths",
        )
        return
    outer, inner, names = _ring_mm(seat)
    if outer <= inner:
        return
    kmod = kmod_of(known, one.load.duration)
    gamma = max(gamma_of(strength, factors) for strength in known)
    holds = kmod * min(wood / gamma, wood_glue_mpa(GLUE) / factors.glue)
    area = math.pi / 4 * (outer**2 - inner**2)
    pushed = one.radial_n / area
    turned = round_shear_mpa(one.torque_nmm, diameter_mm=outer, bore_mm=inner)
    yield weighed(
        NAME,
        part=seat.panel.name,
        feature=names,
        measure=f"shear of the glue between layers under {seat.device}, {seat.load}:",
        value=factors.load * (pushed + turned),
        most=holds,
        unit="MPa",
        source="the weaker of planar shear of the sheet and EN 204 glue; EN 1995-1-1 2.4.1, from "
        "memory",
        remedy="let the screws grip every layer, or give the layers a larger common face",
        formula=f"factor (F / A + T / Wp) = {factors.load:g} x ({one.radial_n:.4g} / {area:.5g} + "
        f"{turned:.3g}), ring {inner:.4g} to {outer:.4g} mm; limit kmod x least of fr {wood:.3g} / "
        f"{gamma:g} and glue {wood_glue_mpa(GLUE):g} / {factors.glue:g}",
    )


def _ring_mm(seat: Seat) -> tuple[float, float, str]:
    """Return outer and inner diameter of the smallest ring two layers share, and their names."""
    rings = [
        (min(a[0], b[0]), max(a[1], b[1]), f"{one[0].name} + {other[0].name}")
        for one, other in pairwise(seat.layers)
        for a, b in ([_face_mm(seat, one), _face_mm(seat, other)],)
    ]
    return min(rings, key=lambda ring: ring[0] - ring[1])


def _face_mm(seat: Seat, layer: Layer) -> Sequence[float]:
    """Return the diameters of the ring of a layer about the device's axis: outer and inner."""
    at = seat.on_plate(layer)
    profile = layer[0].profile
    return 2 * rim_mm(profile, at), bore_mm(profile, at)


CHECK = Check(
    name=NAME,
    asks="Does the glue between the layers of a laminate pass on what only some are given?",
    by="Where screws do not grip every layer, or nothing but the seat of a bearing holds a device, "
    "all of its torque and force in the plane is taken through the smallest ring that two "
    "neighbouring layers share about its axis: F / A + T / Wp, as in a hollow shaft. Against the "
    "planar shear of the weaker veneer times kmod over factors.timber, or the glue's EN 204 "
    "strength over factors.glue. Peeling is not weighed. An estimate.",
    run=laminates,
)
