"""Nails, screws, bolts and dowels across wood: Johansen's ways of failing.

Wood and fastener are rigid until they yield; the joint fails in the way that needs the least force.
Each way is told with its letter in EN 1995-1-1:2004, 8.2.2, the part that comes from yielding and
the part that comes from the fastener's own pull (rope). Forces are characteristic, for one fastener
and one shear plane: `timber_design` turns them into design values, `timber_spacing` says how near
an edge they hold and what a row loses.

Source of all equations: EN 1995-1-1:2004, 8.2.2, from memory; worked examples of others agree.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from platekit.errors import PartError, UnknownNameError
from platekit.formulas.quantities import require_positive, require_zero_up

# 8.2.2 (2): most the rope may add, over the yielding part.
ROPE_CAPS = {
    "round nail": 0.15, "square nail": 0.25, "other nail": 0.50, "screw": 1.00, "bolt": 0.25,
    "dowel": 0.00,
}  # fmt: skip
# 8.2.2: one hinge and two hinges gain a little because partial factors fall on wood and steel.
ONE_HINGE = 1.05
TWO_HINGES = 1.15


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """Wood on one side of a shear plane.

    Attributes:
        embedment_mpa: Its embedment strength in the direction of the force.
        thickness_mm: Of it, or how deep the fastener reaches into it.

    Raises:
        PartError: A number is not above 0.
    """

    embedment_mpa: float
    thickness_mm: float

    def __post_init__(self) -> None:
        require_positive(self.embedment_mpa, "embedment strength", "MPa")
        require_positive(self.thickness_mm, "member thickness", "mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener:
    """A dowel-type fastener.

    Attributes:
        diameter_mm: Its diameter.
        yield_moment_nmm: My,Rk, `timber_embedment.yield_moment_nmm`.
        kind: One of `ROPE_CAPS`; says how much its pull may help.
        axial_n: Fax,Rk, what holds it along its axis: the least of its own tension, its head or
            washer and its thread or point. 0 leaves the rope out.

    Raises:
        UnknownNameError: There is no such kind.
        PartError: A number cannot be.
    """

    diameter_mm: float
    yield_moment_nmm: float
    kind: str = "bolt"
    axial_n: float = 0.0

    def __post_init__(self) -> None:
        require_positive(self.diameter_mm, "fastener diameter", "mm")
        require_positive(self.yield_moment_nmm, "yield moment", "N mm")
        require_zero_up(self.axial_n, "axial strength", "N")
        if self.kind not in ROPE_CAPS:
            raise UnknownNameError.among("kind of fastener", self.kind, ROPE_CAPS)

    def rope_n(self, yielding_n: float) -> float:
        """Return what its pull adds to a bent fastener's part of `yielding_n`, N."""
        return min(self.axial_n / 4, ROPE_CAPS[self.kind] * yielding_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mode:
    """One way of failing, for one fastener and one shear plane.

    Attributes:
        letter: In the standard's figure.
        what: In plain words.
        yielding_n: The part from yielding wood and steel.
        rope_n: The part from the fastener's pull.
    """

    letter: str
    what: str
    yielding_n: float
    rope_n: float = 0.0

    @property
    def strength_n(self) -> float:
        """Both parts together, characteristic."""
        return self.yielding_n + self.rope_n


def weakest(modes: Sequence[Mode]) -> Mode:
    """Return the mode that needs the least force, the first of equals.

    Raises:
        PartError: There is none.
    """
    if not modes:
        raise PartError("no way of failing to choose from", remedy="give one or more")
    return min(modes, key=lambda mode: mode.strength_n)


def bent(letter: str, what: str, yielding_n: float, fastener: Fastener) -> Mode:
    """Return a mode in which the fastener bends, so that its pull helps."""
    return Mode(letter=letter, what=what, yielding_n=yielding_n, rope_n=fastener.rope_n(yielding_n))


def single_shear(first: Member, second: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes a to f of two members and one shear plane.

    Source:
        EN 1995-1-1:2004, 8.6 (from memory).
    """
    return (
        Mode(letter="a", what="the first member crushes", yielding_n=_crush_n(first, fastener)),
        Mode(letter="b", what="the second member crushes", yielding_n=_crush_n(second, fastener)),
        Mode(letter="c", what="both crush, the fastener tilts", yielding_n=_tilt_n(
            first, second, fastener)),
        bent("d", "the first member crushes, the fastener bends in the second",
             _one_hinge_n(first, second, fastener), fastener),
        bent("e", "the second member crushes, the fastener bends in the first",
             _one_hinge_n(second, first, fastener), fastener),
        bent("f", "the fastener bends in both", _two_hinges_n(first, second, fastener), fastener),
    )  # fmt: skip


def double_shear(side: Member, middle: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes g, h, j and k of a middle member between two alike, for each of its two planes.

    Args:
        side: One of the outer members; of unlike ones the weaker.
        middle: The one between, whole thickness.
        fastener: What goes through all three.

    Source:
        EN 1995-1-1:2004, 8.7 (from memory).
    """
    return (
        Mode(letter="g", what="the side members crush", yielding_n=_crush_n(side, fastener)),
        Mode(
            letter="h", what="the middle member crushes", yielding_n=_crush_n(middle, fastener) / 2
        ),
        bent("j", "the side members crush, the fastener bends in the middle",
             _one_hinge_n(side, middle, fastener), fastener),
        bent("k", "the fastener bends in all", _two_hinges_n(side, middle, fastener), fastener),
    )  # fmt: skip


def _crush_n(member: Member, fastener: Fastener) -> float:
    return member.embedment_mpa * member.thickness_mm * fastener.diameter_mm


def _tilt_n(first: Member, second: Member, fastener: Fastener) -> float:
    b = second.embedment_mpa / first.embedment_mpa
    r = second.thickness_mm / first.thickness_mm
    root = math.sqrt(b + 2 * b**2 * (1 + r + r**2) + b**3 * r**2)
    return _crush_n(first, fastener) / (1 + b) * (root - b * (1 + r))


def _one_hinge_n(tilting: Member, other: Member, fastener: Fastener) -> float:
    """Return mode d, and mode e with the members exchanged: the same equation seen from there."""
    b = other.embedment_mpa / tilting.embedment_mpa
    crush = _crush_n(tilting, fastener)
    stiff = fastener.yield_moment_nmm / (crush * tilting.thickness_mm)
    root = math.sqrt(2 * b * (1 + b) + 4 * b * (2 + b) * stiff)
    return ONE_HINGE * crush / (2 + b) * (root - b)


def _two_hinges_n(first: Member, second: Member, fastener: Fastener) -> float:
    b = second.embedment_mpa / first.embedment_mpa
    hinge = math.sqrt(2 * fastener.yield_moment_nmm * first.embedment_mpa * fastener.diameter_mm)
    return TWO_HINGES * math.sqrt(2 * b / (1 + b)) * hinge
