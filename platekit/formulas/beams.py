"""Straight bars of rectangular section, bent: the moment, the stress at the skin, the sag.

For slender bars of one material, spans of ten depths or more, small sags. In a shorter bar of
plywood the panel's shear adds a sag that is not in these numbers. How the ends are really held
lies between the cases: a tab in a slot is nearer to resting than to being built in.
"""

from __future__ import annotations

from dataclasses import dataclass

from platekit.errors import PartError
from platekit.formulas.quantities import require_positive, require_zero_up


@dataclass(frozen=True, slots=True, kw_only=True)
class Beam:
    """A straight bar of rectangular section.

    A plate on edge has its thickness as width and is deep; laid flat, the other way round.
    """

    span_mm: float  # between its supports, or from the wall to the free end
    width_mm: float  # across the load
    depth_mm: float  # along the load
    modulus_mpa: float  # of elasticity, in bending along the span

    def __post_init__(self) -> None:
        require_positive(self.span_mm, "span", "mm")
        require_positive(self.width_mm, "width", "mm")
        require_positive(self.depth_mm, "depth", "mm")
        require_positive(self.modulus_mpa, "modulus", "MPa")

    @property
    def second_moment_mm4(self) -> float:
        """Second moment of area of the section, b h^3 / 12, in mm^4."""
        return self.width_mm * self.depth_mm**3 / 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Bending:
    """What a load does to a beam, each at its largest."""

    moment_nmm: float
    stress_mpa: float  # at the skin
    sag_mm: float


def cantilever_end_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar built in at one end, loaded at the other: F L, F L^3 / (3 E I).

    Raises:
        PartError: The load is below 0.

    Source:
        Beam tables of any handbook, e.g. Roark, Formulas for Stress and Strain, ch. 8 (memory).
    """
    load = require_zero_up(load_n, "load", "N")
    return _bending(beam, moment=load * beam.span_mm, sag=load * beam.span_mm**3 / 3)


def cantilever_even_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar built in at one end, `load_n` spread over it.

    W L / 2 and W L^3 / (8 E I), W the whole load.

    Raises:
        PartError: The load is below 0.

    Source:
        As `cantilever_end_load`.
    """
    load = require_zero_up(load_n, "load", "N")
    return _bending(beam, moment=load * beam.span_mm / 2, sag=load * beam.span_mm**3 / 8)


def resting_centre_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar resting on both ends, loaded in the middle.

    F L / 4 and F L^3 / (48 E I).

    Raises:
        PartError: The load is below 0.

    Source:
        As `cantilever_end_load`.
    """
    return resting_load_at(beam, load_n=load_n, at_mm=beam.span_mm / 2)


def resting_load_at(beam: Beam, *, load_n: float, at_mm: float) -> Bending:
    """Return the bending of a bar resting on both ends, loaded `at_mm` from one of them.

    Moment F a b / L under the load; largest sag F c (L^2 - c^2)^1.5 / (9 sqrt(3) L E I), c the
    shorter of the two distances a and b.

    Raises:
        PartError: The load is below 0, or does not stand on the span.

    Source:
        As `cantilever_end_load`.
    """
    load = require_zero_up(load_n, "load", "N")
    span = beam.span_mm
    if not 0 <= at_mm <= span:
        raise PartError(
            f"load stands at {at_mm:g} mm on a span of {span:g} mm",
            remedy="give a place between the supports",
        )
    near = min(at_mm, span - at_mm)
    return _bending(
        beam,
        moment=load * near * (span - near) / span,
        sag=load * near * (span**2 - near**2) ** 1.5 / (9 * 3**0.5 * span),
    )


def resting_even_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar resting on both ends, `load_n` spread over it.

    W L / 8 and 5 W L^3 / (384 E I), W the whole load.

    Raises:
        PartError: The load is below 0.

    Source:
        As `cantilever_end_load`.
    """
    load = require_zero_up(load_n, "load", "N")
    return _bending(beam, moment=load * beam.span_mm / 8, sag=5 * load * beam.span_mm**3 / 384)


def built_in_centre_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar built in at both ends, loaded in the middle.

    F L / 8, at the ends and the middle alike, and F L^3 / (192 E I).

    Raises:
        PartError: The load is below 0.

    Source:
        As `cantilever_end_load`.
    """
    load = require_zero_up(load_n, "load", "N")
    return _bending(beam, moment=load * beam.span_mm / 8, sag=load * beam.span_mm**3 / 192)


def built_in_even_load(beam: Beam, *, load_n: float) -> Bending:
    """Return the bending of a bar built in at both ends, `load_n` spread over it.

    W L / 12 at the ends and W L^3 / (384 E I), W the whole load.

    Raises:
        PartError: The load is below 0.

    Source:
        As `cantilever_end_load`.
    """
    load = require_zero_up(load_n, "load", "N")
    return _bending(beam, moment=load * beam.span_mm / 12, sag=load * beam.span_mm**3 / 384)


def _bending(beam: Beam, *, moment: float, sag: float) -> Bending:
    """Return the bending by a moment in N mm and a sag still to be divided by E I."""
    return Bending(
        moment_nmm=moment,
        stress_mpa=moment * beam.depth_mm / 2 / beam.second_moment_mm4,
        sag_mm=sag / (beam.modulus_mpa * beam.second_moment_mm4),
    )
