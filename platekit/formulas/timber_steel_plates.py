"""Wood bolted to steel plates: the ways it fails, by the thickness of the plate.

A thin plate (up to half the fastener's diameter) lets the fastener tilt in its hole; a thick one (a
diameter or more, with a hole less than a tenth of it too wide) holds it as in a vice. Between them
the strength is interpolated. Steel itself is checked apart (`bolt_joints`). A motor's metal face
behind plywood is such a plate, whatever the metal.

Forces are characteristic, for one fastener and one shear plane. Letters follow the figure in the
standard; some prints order the three lines for thick plates differently, so go by the words.

Source of all equations: EN 1995-1-1:2004, 8.2.3, from memory.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from platekit.formulas.quantities import require_positive, require_zero_up
from platekit.formulas.timber_dowels import TWO_HINGES, Fastener, Member, Mode, bent, weakest

# 8.9: the pin turns about the plate, so that sqrt(2) - 1 of the wood presses back, rounded.
TILTING_SHARE = 0.4
# 8.2.3 (1): thickness over diameter up to which a plate is thin and from which it is thick.
THIN, THICK = 0.5, 1.0


def thin_plate(wood: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes a and b of a thin plate on one side of the wood.

    Source:
        EN 1995-1-1:2004, 8.9 (from memory).
    """
    return (
        Mode(
            letter="a",
            what="the wood crushes, the fastener tilts",
            yielding_n=TILTING_SHARE * _crush_n(wood, fastener),
        ),
        bent("b", "the fastener bends in the wood", _hinge_in_wood_n(wood, fastener), fastener),
    )


def thick_plate(wood: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes c, d and e of a thick plate on one side of the wood.

    Source:
        EN 1995-1-1:2004, 8.10 (from memory).
    """
    return (
        Mode(letter="c", what="the wood crushes", yielding_n=_crush_n(wood, fastener)),
        *_held(wood, fastener, "de"),
    )


def plate_between(wood: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes f, g and h of a plate of any thickness between two alike members, per plane.

    Args:
        wood: One of the two.
        fastener: What goes through all three.

    Source:
        EN 1995-1-1:2004, 8.11 (from memory).
    """
    return (
        Mode(letter="f", what="the wood crushes", yielding_n=_crush_n(wood, fastener)),
        *_held(wood, fastener, "gh"),
    )


def thin_plates_outside(wood: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes j and k of wood between two thin plates, for each of its two planes.

    Args:
        wood: The one between, whole thickness.
        fastener: What goes through all three.

    Source:
        EN 1995-1-1:2004, 8.12 (from memory).
    """
    return (
        Mode(letter="j", what="the wood crushes", yielding_n=_crush_n(wood, fastener) / 2),
        bent("k", "the fastener bends in the wood", _hinge_in_wood_n(wood, fastener), fastener),
    )


def thick_plates_outside(wood: Member, fastener: Fastener) -> tuple[Mode, ...]:
    """Return modes l and m of wood between two thick plates, for each of its two planes.

    Args:
        wood: The one between, whole thickness.
        fastener: What goes through all three.

    Source:
        EN 1995-1-1:2004, 8.13 (from memory).
    """
    return (
        Mode(letter="l", what="the wood crushes", yielding_n=_crush_n(wood, fastener) / 2),
        bent("m", "the fastener bends in the wood and at the plates",
             _hinges_at_plate_n(wood, fastener), fastener),
    )  # fmt: skip


def plate_strength_n(
    thin: Sequence[Mode], thick: Sequence[Mode], *, plate_mm: float, diameter_mm: float
) -> float:
    """Return the strength with a plate of `plate_mm`, N, for one fastener and plane.

    The weakest thin mode up to half a diameter, the weakest thick one from a whole diameter on,
    a straight line between.

    Args:
        thin: `thin_plate` or `thin_plates_outside`.
        thick: `thick_plate` or `thick_plates_outside`.
        plate_mm: Thickness of the plate.
        diameter_mm: Of the fastener.

    Raises:
        PartError: A number cannot be.

    Source:
        EN 1995-1-1:2004, 8.2.3 (1) (from memory).
    """
    plate = require_zero_up(plate_mm, "plate thickness", "mm")
    ratio = plate / require_positive(diameter_mm, "fastener diameter", "mm")
    share = min(1.0, max(0.0, (ratio - THIN) / (THICK - THIN)))
    return (1 - share) * weakest(thin).strength_n + share * weakest(thick).strength_n


def _held(wood: Member, fastener: Fastener, letters: str) -> tuple[Mode, Mode]:
    """Return the modes of a fastener held upright in steel: one hinge at it, or one more."""
    crush = _crush_n(wood, fastener)
    stiff = fastener.yield_moment_nmm / (crush * wood.thickness_mm)
    at_plate = crush * (math.sqrt(2 + 4 * stiff) - 1)
    return (
        bent(letters[0], "the wood crushes, the fastener bends at the plate", at_plate, fastener),
        bent(letters[1], "the fastener bends in the wood and at the plate",
             _hinges_at_plate_n(wood, fastener), fastener),
    )  # fmt: skip


def _crush_n(wood: Member, fastener: Fastener) -> float:
    return wood.embedment_mpa * wood.thickness_mm * fastener.diameter_mm


def _hinge_in_wood_n(wood: Member, fastener: Fastener) -> float:
    line = wood.embedment_mpa * fastener.diameter_mm
    return TWO_HINGES * math.sqrt(2 * fastener.yield_moment_nmm * line)


def _hinges_at_plate_n(wood: Member, fastener: Fastener) -> float:
    # 2.3 in the standard: twice 1.15.
    line = wood.embedment_mpa * fastener.diameter_mm
    return 2 * TWO_HINGES * math.sqrt(fastener.yield_moment_nmm * line)
