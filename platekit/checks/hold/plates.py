"""Plates: how a panel bends and sags under what pushes and tips a device on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from platekit.checks.check import Check
from platekit.checks.hold.bent_plates import bending
from platekit.checks.hold.joint_lines import joint_lines
from platekit.checks.hold.seats import (
    Seat,
    factors_of,
    gamma_of,
    kmod_of,
    least_of,
    seats,
    strength_for,
)
from platekit.checks.hold.spans import Span, foot_mm, spans
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.formulas.plates import even_modulus_mpa
from platekit.materials import Strength

NAME = "hold.plate"
STIFFER = "glue a further layer on, join a rib beneath it, or give a thicker sheet"
# A foot that stays flat bends the panel more at its own rim: finite elements of six panels by an
# independent program gave 1.1 to 2.0 times the stress of the strip; the exact solution of a stiff
# boss in a resting disc is 1.2 times that of a pressed circle (Roark). The greatest is taken.
RIM = 2.0


def plates(subject: Subject) -> Iterator[Finding]:
    """Weigh bending and sag of every panel that a device pushes or tips across its plane."""
    told: set[str] = set()
    for seat in seats(subject):
        if not (seat.reaction.axial_n or seat.reaction.moment_nmm):
            continue
        try:
            lines = joint_lines(subject, seat.panel)
            across = spans(seat, lines, subject, foot_mm=foot_mm(seat, lines))
            found = tuple(_weighed(seat, across, foot_mm(seat, lines), subject)) if across else ()
        except PlatekitError as error:
            found = (_not(seat, f"its bending could not be weighed: {error}", "check the figures"),)
        for one in found:
            if one.value is not None or one.measure not in told:
                told.add(one.measure)
                yield one


def _not(seat: Seat, measure: str, remedy: str) -> Finding:
    return untold(NAME, part=seat.panel.name, measure=measure, remedy=remedy)


def _weighed(
    seat: Seat, across: Sequence[Span], foot: float, subject: Subject
) -> Iterator[Finding]:
    sheet = seat.panel.layers[-1].sheet
    strength = strength_for(subject, sheet)
    bears = (
        None if strength is None else least_of([strength.bending_0_mpa, strength.bending_90_mpa])
    )
    modulus = None if strength is None else modulus_mpa(strength)
    if strength is None or bears is None or modulus is None:
        yield _not(
            seat,
            f"bending of {sheet.material.name} is not known",
            "give bending_0_mpa and modulus_0_mpa with_strengths",
        )
        return
    factors, load = factors_of(subject), seat.reaction.load
    kmod, gamma = kmod_of([strength], load.duration), gamma_of(strength, factors)
    bent = bending(
        across,
        axial_n=seat.reaction.axial_n,
        moment_nmm=seat.reaction.moment_nmm,
        foot_mm=foot,
        modulus_mpa=modulus,
    )
    where = f"{seat.device}, {seat.load}, {bent.span.name}"
    yield weighed(
        NAME,
        part=seat.panel.name,
        measure=f"bending stress under {where}:",
        value=factors.load * (RIM * bent.pushed_mpa + bent.tipped_mpa),
        most=kmod * bears / gamma,
        unit="MPa",
        source=f"{strength.source}; EN 1995-1-1 2.4.1, from memory",
        remedy=STIFFER,
        formula=f"factor (rim push + tip) = {factors.load:g} x ({RIM:g} x {bent.pushed_mpa:.3g} + "
        f"{bent.tipped_mpa:.3g}), {bent.said}; limit kmod fm / gamma = {kmod:g} x {bears:.3g} / "
        f"{gamma:g}",
    )
    yield weighed(
        NAME,
        part=seat.panel.name,
        measure=f"sag under {where}:",
        value=bent.sag_mm,
        most=factors.most_sag * bent.sags_over_mm,
        unit="mm",
        source="most_sag of the factors, common practice, no source",
        remedy=STIFFER,
        formula=f"{bent.said}, E {modulus:.4g} MPa; limit most_sag L = "
        f"{factors.most_sag:.3g} x {bent.sags_over_mm:.4g}",
        scale=ADVICE,
    )


def modulus_mpa(strength: Strength) -> float | None:
    """Return one modulus for both ways of the grain: the geometric mean of what is known."""
    along, across = strength.modulus_0_mpa, strength.modulus_90_mpa
    if along is None or across is None:
        return along or across
    return even_modulus_mpa(along_mpa=along, across_mpa=across)


CHECK = Check(
    name=NAME,
    asks="Does a panel bear being pushed and tipped across its plane, and how far does it sag?",
    by="A panel between joints on all four sides of a device bends under the force across it as a "
    "rectangle resting on its edges, loaded in the middle on a circle as large as the screws' "
    "(Timoshenko, Roark); between joints on two sides as a strip as wide as the foot and half "
    "the span. A tipping moment M is held by M / L at both joints and bends the strip by that "
    "times the way from the foot, which stays flat, to the farther joint. A rib joined under "
    "the foot bends along with its strip, by its own stiffness; one across beneath the foot holds "
    "it up as one beside it does. At the rim of a foot that stays"
    " flat the push counts twice, as finite elements of six panels said at the most. Rings "
    "glued on that do not reach the joints count as its foot where they double the plate. The "
    "plate's weight is not counted. Stress, times factors.load, against the bending strength of"
    " the weaker way of the grain (a plate may be laid either way) times kmod over "
    "factors.timber; sag, without factors and creep, by the geometric mean of both moduli "
    "against factors.most_sag times the span. A panel that is not joined on two opposite sides "
    "is not weighed. An estimate.",
    run=plates,
)
