"""Parts as the beam has to go, and what the beam is too wide for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from platekit.cutting.compensate import compensate
from platekit.errors import PartError
from platekit.findings import Finding, Severity
from platekit.geometry.losses import Loss, LossKind
from platekit.geometry.offset import Join
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.job.options import JoinName
from platekit.materials import Beam
from platekit.panel.feature import Placed
from platekit.panel.part import Part

# Names of the features on each part, so that a message can say "slot 3" and not "a hole".
Named = Mapping[str, Sequence[Placed]]

_JOINS: Mapping[JoinName, Join] = {"round": Join.ROUND, "mitre": Join.MITRE}

# After these the part would not be the one that was drawn: the beam is wider than the feature.
_TOO_WIDE_FOR = {
    LossKind.VANISHED: "nothing of it is left to cut",
    LossKind.SPLIT: "it would fall apart into several",
    LossKind.CLOSED_NOTCH: "its walls would meet",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """A kind of part and the path that leaves it at its nominal size.

    Attributes:
        part: The nominal part.
        beam: The beam it is cut with.
        path: Where the middle of the beam runs; the part's own coordinates.
        findings: What the beam cannot do quite as drawn.
    """

    part: Part
    beam: Beam
    path: Profile
    findings: tuple[Finding, ...]


def cut_part(part: Part, *, beam: Beam, join: JoinName, named: Named) -> CutPart:
    """Return `part` compensated for the beam.

    Args:
        part: The nominal part.
        beam: The beam.
        join: How the path runs around outside corners.
        named: Features by part name, in the part's coordinates.

    Raises:
        PartError: The kerf is wider than one of its features; the message names the feature.
    """
    cut = compensate(part.profile, kerf_mm=beam.kerf_mm, join=_JOINS[join])
    for loss in cut.losses:
        if loss.kind in _TOO_WIDE_FOR:
            width = "" if loss.width_mm is None else f", which is {loss.width_mm:.3g} mm wide"
            raise PartError(
                f"the kerf of {beam.kerf_mm:g} mm is wider than this feature{width}: "
                f"{_TOO_WIDE_FOR[loss.kind]}",
                part=part.name,
                feature=_feature(part, loss, named),
                remedy="make it wider, leave it out, or cut with a finer beam (--kerf)",
            )
    findings = tuple(_findings(part, cut.losses, beam=beam, named=named))
    return CutPart(part=part, beam=beam, path=cut.profile, findings=findings)


def _findings(part: Part, losses: Iterable[Loss], *, beam: Beam, named: Named) -> Iterable[Finding]:
    told: set[tuple[str, LossKind]] = set()
    for loss in losses:
        feature = _feature(part, loss, named)
        if (feature, loss.kind) in told:
            continue
        told.add((feature, loss.kind))
        if loss.kind is LossKind.APPROXIMATED:
            yield Finding(
                severity=Severity.NOTE,
                part=part.name,
                feature=feature,
                measure="beam path in fine chords instead of arcs",
                source="no exact construction could be proved",
                remedy="nothing to do; tell us if the recipe is simple",
            )
            continue
        rounds = loss.kind is LossKind.FEATURE_LOST
        yield Finding(
            severity=Severity.NOTE if rounds else Severity.WARNING,
            part=part.name,
            feature=feature,
            measure="detail finer than the beam" if rounds else "width at the limit of the kerf",
            value=loss.width_mm,
            limit=beam.kerf_mm,
            unit="mm",
            source="width of the cut",
            remedy=f"near x {loss.at.x:.1f}, y {loss.at.y:.1f} mm; it comes out rounder than drawn"
            if rounds
            else f"near x {loss.at.x:.1f}, y {loss.at.y:.1f} mm; make it clearly wider",
        )


def _feature(part: Part, loss: Loss, named: Named) -> str:
    """Return the name of the feature at a loss, or else where it lies."""
    for placed in named.get(part.name, ()):
        if placed.cuts and _near(placed, loss.at):
            return placed.name
    where = f"at x {loss.at.x:.1f}, y {loss.at.y:.1f} mm"
    return f"outline {where}" if loss.ring == 0 else f"opening {where}"


def _near(placed: Placed, at: Point) -> bool:
    # A loss is located on chords, so it may lie a hair outside the feature's bounds.
    slack_mm = 0.01
    return any(
        box.left - slack_mm <= at.x <= box.right + slack_mm
        and box.bottom - slack_mm <= at.y <= box.top + slack_mm
        for box in (cut.bounds for cut in placed.cuts)
    )
