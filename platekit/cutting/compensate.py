"""Compensation: from the finished part to the path of the beam's middle.

The cut is as wide as the kerf and the beam runs along its middle, so the outer edge moves out by
half the kerf and every hole moves in by as much. What the beam is too wide for is said, not hidden.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from platekit.errors import PartError
from platekit.findings import Finding, Severity
from platekit.geometry.offset import Join, offset_rings
from platekit.geometry.offset.losses import Loss, LossKind
from platekit.geometry.profile import Profile

# No beam is finer, and an offset of much less drowns in the rounding of coordinates.
MIN_KERF_MM = 0.01

# After these the part would not be the one that was drawn.
GRAVE = {
    LossKind.VANISHED: "nothing of it is left to cut",
    LossKind.SPLIT: "it would fall apart into several",
    LossKind.CLOSED_NOTCH: "its walls would meet",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Compensated:
    """The path that leaves a part at its nominal size.

    Attributes:
        profile: Where the middle of the beam runs.
        losses: What the beam is too wide for, ring by ring of the nominal profile.
        kerf_mm: Full width of the cut.
    """

    profile: Profile
    losses: tuple[Loss, ...] = ()
    kerf_mm: float


def compensate(profile: Profile, *, kerf_mm: float, join: Join = Join.ROUND) -> Compensated:
    """Return the path of the beam that leaves the part at its nominal size.

    Args:
        profile: The finished shape. Never modified.
        kerf_mm: Full width of the cut: 0, or at least `MIN_KERF_MM`.
        join: How the path turns outside corners. Both leave the same finished part; a pointed
            corner reaches further into what lies beside it.

    Raises:
        PartError: The kerf is below 0, between 0 and `MIN_KERF_MM`, or not a finite number.

    Source:
        Minkowski sum with a disc of radius kerf_mm / 2: de Berg et al., Computational Geometry,
        3rd ed. (2008), chapter 13.
    """
    if not (math.isfinite(kerf_mm) and (kerf_mm == 0.0 or kerf_mm >= MIN_KERF_MM)):
        raise PartError(
            f"the kerf is {kerf_mm:g} mm",
            remedy=f"give the full width of the cut, {MIN_KERF_MM:g} mm or more, or 0 for none",
        )
    if kerf_mm == 0.0:
        return Compensated(profile=profile, kerf_mm=0.0)
    result = offset_rings(profile, growth_mm=kerf_mm / 2, join=join)
    return Compensated(profile=result.profile, losses=result.losses, kerf_mm=kerf_mm)


def require_kept(compensated: Compensated, *, part: str = "") -> None:
    """Raise when the beam is too wide for a feature.

    Raises:
        PartError: A hole vanished, fell into several, or a notch closed. Names the place, how
            wide it is, and the kerf.
    """
    for loss in compensated.losses:
        if loss.kind in GRAVE:
            raise PartError(
                f"the kerf of {compensated.kerf_mm:g} mm is too wide for it{_wide(loss)}: "
                f"{GRAVE[loss.kind]}",
                part=part,
                feature=place_of(loss),
                remedy="make it wider, leave it out, or cut with a finer beam",
            )


def loss_findings(compensated: Compensated, *, part: str = "") -> tuple[Finding, ...]:
    """Return what the beam is too wide for, one finding a loss."""
    return tuple(_finding(loss, compensated.kerf_mm, part) for loss in compensated.losses)


def place_of(loss: Loss) -> str:
    """Return where a loss lies, for people: ``hole at x 12.0, y 3.5 mm``."""
    what = "outline" if loss.ring == 0 else "hole"
    return f"{what} at x {loss.at.x + 0.0:.1f}, y {loss.at.y + 0.0:.1f} mm"


def _wide(loss: Loss) -> str:
    return "" if loss.width_mm is None else f", which is {loss.width_mm:.3g} mm wide"


def _finding(loss: Loss, kerf_mm: float, part: str) -> Finding:
    severity, measure, remedy = {
        LossKind.VANISHED: (
            Severity.STOP,
            "width of a hole narrower than the kerf",
            "make it wider, leave it out, or cut with a finer beam",
        ),
        LossKind.SPLIT: (
            Severity.STOP,
            "narrowest width of a hole that would fall into several",
            "make the neck wider, or cut with a finer beam",
        ),
        LossKind.CLOSED_NOTCH: (
            Severity.STOP,
            "width of a notch whose walls would meet",
            "make it wider, leave it out, or cut with a finer beam",
        ),
        LossKind.FEATURE_LOST: (
            Severity.NOTE,
            "detail finer than the beam",
            "nothing, if it may come out rounder than drawn",
        ),
        LossKind.KERF_LIMIT: (
            Severity.WARNING,
            "width within 0.004 mm of the kerf",
            "make it clearly wider or clearly narrower",
        ),
        LossKind.APPROXIMATED: (
            Severity.NOTE,
            "path in fine chords instead of arcs",
            "nothing: it is right within a micron",
        ),
    }[loss.kind]
    return Finding(
        severity=severity,
        part=part,
        feature=place_of(loss),
        measure=measure,
        value=loss.width_mm,
        limit=None if loss.kind is LossKind.APPROXIMATED else kerf_mm,
        unit="mm",
        source="width of the cut",
        remedy=remedy,
        check="made.kerf",
    )
