"""How a stiff foot that is pushed and tipped bends the panel it stands on."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from platekit.checks.hold.spans import Span
from platekit.formulas.beams import Beam, Bending, cantilever_end_load, resting_load_at
from platekit.formulas.plates import Slab
from platekit.formulas.rectangular_plates import rectangle_resting_centre

# A plate carries a load on its foot's width and half the span besides: common practice, no source.
SPREAD = 0.5
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
        sags_over_mm: The length its sag is held against.
        said: How the stress was worked out, numbers put in.
    """

    pushed_mpa: float
    tipped_mpa: float
    sag_mm: float
    span: Span
    sags_over_mm: float
    said: str


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

    A rib across the span beneath the foot holds it up, and ends the span as it would just beside
    the foot. Where it would be tipped worse so than without it, as much of that counts as the rib
    lies out of the axis, of the foot's radius.

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
    held = [one.near or one for one in across]
    pushed, sag = min(
        (_pushed_on(spans, axial_n, foot_mm, modulus_mpa) for spans in (across, held)),
        key=lambda push: push[1],
    )
    tips = [_tipped_on(one, moment_nmm, foot_mm, modulus_mpa) for one in across]
    worst = max(tips, key=lambda tip: tip.stress_mpa)
    span = worst.span if worst.stress_mpa else short
    over = worst.over_mm if worst.stress_mpa else short.length_mm
    arm = max(span.longer_mm - foot_mm, 0.0)
    rib = "" if span.rib_mm is None else f", rib {span.rib_mm[0]:.4g} x {span.rib_mm[1]:.3g} mm"
    return Bent(
        pushed_mpa=pushed,
        tipped_mpa=worst.stress_mpa,
        sag_mm=sag + worst.raised_mm,
        span=span,
        sags_over_mm=over,
        said=f"A {axial_n:.4g} N, M / L x arm = {moment_nmm:.5g} / {span.length_mm:.4g} x "
        f"{arm:.4g} N mm, t {span.thickness_mm:.3g} mm{rib}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Tip:
    """What a moment does on one span: stress, how far the foot's edge rises, over which length."""

    stress_mpa: float
    raised_mm: float
    span: Span
    over_mm: float


def _tipped_on(span: Span, moment_nmm: float, foot_mm: float, modulus_mpa: float) -> _Tip:
    """Return what a moment does on a span, with what joints beneath the foot hold of it."""
    stress, raised = _tipped(span, moment_nmm, foot_mm, modulus_mpa)
    far = _Tip(stress_mpa=stress, raised_mm=raised, span=span, over_mm=span.length_mm)
    if span.near is None:
        return far
    stress, raised = _tipped(span.near, moment_nmm, foot_mm, modulus_mpa)
    if stress <= far.stress_mpa:
        return _Tip(
            stress_mpa=stress, raised_mm=raised, span=span.near, over_mm=span.near.length_mm
        )

    def eased(far: float, near: float) -> float:
        return far + span.near_share * (near - far)

    return _Tip(
        stress_mpa=eased(far.stress_mpa, stress),
        raised_mm=eased(far.raised_mm, raised),
        span=span,
        over_mm=eased(far.over_mm, span.near.length_mm),
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


def _pushed_on(
    across: Sequence[Span], axial_n: float, foot_mm: float, modulus_mpa: float
) -> tuple[float, float]:
    """Return stress and sag by a force: of strips, and of a plate, what sags least takes it."""
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
    return min(pushes, key=lambda push: push[1])


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
