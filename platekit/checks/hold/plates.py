"""Plates: how a panel bends and sags under what pushes and tips a device on it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from platekit.checks.check import Check
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
from platekit.formulas.beams import Beam, Bending, cantilever_end_load, resting_load_at
from platekit.formulas.plates import Slab, even_modulus_mpa
from platekit.formulas.rectangular_plates import rectangle_resting_centre
from platekit.materials import Strength

NAME = "hold.plate"
STIFFER = "glue a further layer on, join a rib beneath it, or give a thicker sheet"
# A plate carries a load on its foot's width and half the span besides: common practice, no source.
SPREAD = 0.5
# A foot that stays flat bends the panel more at its own rim: finite elements of six panels by an
# independent program gave 1.1 to 2.0 times the stress of the strip; the exact solution of a stiff
# boss in a resting disc is 1.2 times that of a pressed circle (Roark). The greatest is taken.
RIM = 2.0
# The formulas of plates take a load on a circle up to a quarter of the short side.
LARGEST_CIRCLE = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Bent:
    """What a load does to a panel, without factors.

    Attributes:
        pushed_mpa: Stress at the skin by the force across the panel.
        tipped_mpa: Stress by the moment.
        sag_mm: Sag where the device stands, by both.
        span: The span that counts.
        said: How the stress was worked out, numbers put in.
    """

    pushed_mpa: float
    tipped_mpa: float
    sag_mm: float
    span: Span
    said: str


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
        most=factors.most_sag * bent.span.length_mm,
        unit="mm",
        source="most_sag of the factors, common practice, no source",
        remedy=STIFFER,
        formula=f"{bent.said}, E {modulus:.4g} MPa; limit most_sag L = "
        f"{factors.most_sag:.3g} x {bent.span.length_mm:.4g}",
        scale=ADVICE,
    )


def modulus_mpa(strength: Strength) -> float | None:
    """Return one modulus for both ways of the grain: the geometric mean of what is known."""
    along, across = strength.modulus_0_mpa, strength.modulus_90_mpa
    if along is None or across is None:
        return along or across
    return even_modulus_mpa(along_mpa=along, across_mpa=across)


def bending(
    across: Sequence[Span],
    *,
    axial_n: float,
    moment_nmm: float,
    foot_mm: float,
    modulus_mpa: float,
) -> Bent:
    """Return what a force and a tipping moment on a stiff round foot do to a panel.

    Joined on four sides, the force bends it as a rectangle resting on its edges, loaded in the
    middle; on two, or over a rib, as a strip: whichever sags least takes it. The moment M is held
    by M / L at both ends of a span, and bends it outside the foot by M / L times the way from foot
    to joint; the span that is bent most counts. A rib along a span bends with its strip, each
    taking its share by its stiffness; they are not counted as one section.

    Args:
        across: The panel's spans, one or two.
        axial_n: Across the panel.
        moment_nmm: That tips the foot, about any line in the panel.
        foot_mm: Radius of the foot, which stays flat.
        modulus_mpa: Of elasticity.

    Raises:
        PartError: A number cannot be.

    Source:
        Plate: `rectangle_resting_centre`. Strip and moment: balance, and the beams of any
        handbook; the strip's width by common practice, no source.
    """
    short = min(across, key=lambda one: one.length_mm)
    pushes = [_pushed(one, axial_n, foot_mm, modulus_mpa) for one in across]
    if len(across) > 1:
        sides = (across[0].length_mm, across[1].length_mm)
        plate = rectangle_resting_centre(
            Slab(thickness_mm=min(one.thickness_mm for one in across), modulus_mpa=modulus_mpa),
            sides_mm=sides,
            load_n=axial_n,
            load_radius_mm=min(foot_mm, LARGEST_CIRCLE * min(sides)),
        )
        pushes.append((plate.stress_mpa, plate.sag_mm))
    pushed, sag = min(pushes, key=lambda push: push[1])
    tips = [(_tipped(one, moment_nmm, foot_mm, modulus_mpa), one) for one in across]
    (tipped, raised), span = max(tips, key=lambda tip: tip[0][0])
    span = span if tipped else short
    arm = max(span.longer_mm - foot_mm, 0.0)
    rib = "" if span.rib_mm is None else f", rib {span.rib_mm[0]:.4g} x {span.rib_mm[1]:.3g} mm"
    return Bent(
        pushed_mpa=pushed,
        tipped_mpa=tipped,
        sag_mm=sag + raised,
        span=span,
        said=f"A {axial_n:.4g} N, M / L x arm = {moment_nmm:.5g} / {span.length_mm:.4g} x "
        f"{arm:.4g} N mm, t {span.thickness_mm:.3g} mm{rib}",
    )


def _bars(span: Span, length_mm: float, foot_mm: float, modulus_mpa: float) -> tuple[Beam, ...]:
    """Return a strip of the panel, and the rib under it where there is one."""
    wide = min(span.breadth_mm, 2 * foot_mm + SPREAD * span.length_mm)
    strip = Beam(
        span_mm=length_mm, width_mm=wide, depth_mm=span.thickness_mm, modulus_mpa=modulus_mpa
    )
    if span.rib_mm is None:
        return (strip,)
    deep, thick = span.rib_mm
    return strip, replace(strip, width_mm=thick, depth_mm=deep)


def _shared(bars: Sequence[Beam], bend: Callable[[Beam, float], Bending]) -> tuple[float, float]:
    """Return stress and sag of bars that bend alike: each takes its share by its stiffness."""
    whole = sum(bar.second_moment_mm4 for bar in bars)
    bent = [bend(bar, bar.second_moment_mm4 / whole) for bar in bars]
    alone = bend(bars[0], 1.0)
    stress = min(max(one.stress_mpa for one in bent), alone.stress_mpa)
    return stress, bent[0].sag_mm


def _pushed(span: Span, axial_n: float, foot_mm: float, modulus_mpa: float) -> tuple[float, float]:
    """Return stress and sag of a strip, with its rib, that a force presses at the foot."""
    return _shared(
        _bars(span, span.length_mm, foot_mm, modulus_mpa),
        lambda beam, share: resting_load_at(beam, load_n=share * axial_n, at_mm=span.before_mm),
    )


def _tipped(
    span: Span, moment_nmm: float, foot_mm: float, modulus_mpa: float
) -> tuple[float, float]:
    """Return the stress at the foot's edge and how far that edge rises."""
    arm = span.longer_mm - foot_mm
    if not moment_nmm or arm <= 0.0:
        return 0.0, 0.0
    force = moment_nmm / span.length_mm
    stress, sag = _shared(
        _bars(span, arm, foot_mm, modulus_mpa),
        lambda beam, share: cantilever_end_load(beam, load_n=share * force),
    )
    # The foot turns until the panel's end lies in its joint again.
    return stress, sag / span.longer_mm * foot_mm


CHECK = Check(
    name=NAME,
    asks="Does a panel bear being pushed and tipped across its plane, and how far does it sag?",
    by="A panel between joints on all four sides of a device bends under the force across it as a "
    "rectangle resting on its edges, loaded in the middle on a circle as large as the screws' "
    "(Timoshenko, Roark); between joints on two sides as a strip as wide as the foot and half "
    "the span. A tipping moment M is held by M / L at both joints and bends the strip by that "
    "times the way from the foot, which stays flat, to the farther joint. A rib joined under "
    "the foot bends along with its strip, by its own stiffness. At the rim of a foot that stays"
    " flat the push counts twice, as finite elements of six panels said at the most. Rings "
    "glued on that do not reach the joints count as its foot where they double the plate. The "
    "plate's weight is not counted. Stress, times factors.load, against the bending strength of"
    " the weaker way of the grain (a plate may be laid either way) times kmod over "
    "factors.timber; sag, without factors and creep, by the geometric mean of both moduli "
    "against factors.most_sag times the span. A panel that is not joined on two opposite sides "
    "is not weighed. An estimate.",
    run=plates,
)
