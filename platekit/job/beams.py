"""Parts as the beam has to go, and what the beam is too wide for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from platekit.cutting.compensate import GRAVE, compensate, loss_findings, place_of
from platekit.errors import PartError
from platekit.findings import Finding
from platekit.geometry.offset import Join
from platekit.geometry.offset.losses import Loss, LossKind
from platekit.geometry.points import Point
from platekit.geometry.profile import Profile
from platekit.job.options import JoinName
from platekit.materials import Beam
from platekit.panel.feature import Placed
from platekit.panel.part import Part

# Names of the features on each part, so that a message can say "slot 3" and not "a hole".
Named = Mapping[str, Sequence[Placed]]

_JOINS: Mapping[JoinName, Join] = {"round": Join.ROUND, "mitre": Join.MITRE}


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
    findings: dict[tuple[str, LossKind], Finding] = {}
    for loss, finding in zip(cut.losses, loss_findings(cut, part=part.name), strict=True):
        feature = _feature(part, loss, named)
        if loss.kind in GRAVE:
            width = "" if loss.width_mm is None else f", which is {loss.width_mm:.3g} mm wide"
            raise PartError(
                f"the kerf of {beam.kerf_mm:g} mm is too wide for it{width}: {GRAVE[loss.kind]}",
                part=part.name,
                feature=feature,
                remedy="make it wider, leave it out, or cut with a finer beam (--kerf)",
            )
        findings.setdefault((feature, loss.kind), replace(finding, feature=feature))
    return CutPart(part=part, beam=beam, path=cut.profile, findings=tuple(findings.values()))


def _feature(part: Part, loss: Loss, named: Named) -> str:
    """Return the name of the feature at a loss, or else where it lies."""
    for placed in named.get(part.name, ()):
        if placed.cuts and _near(placed, loss.at):
            return placed.name
    return place_of(loss)


def _near(placed: Placed, at: Point) -> bool:
    # A loss is located on chords, so it may lie a hair outside the feature's bounds.
    slack_mm = 0.01
    return any(
        box.left - slack_mm <= at.x <= box.right + slack_mm
        and box.bottom - slack_mm <= at.y <= box.top + slack_mm
        for box in (cut.bounds for cut in placed.cuts)
    )
