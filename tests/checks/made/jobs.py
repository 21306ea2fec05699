"""Jobs for the checks of the family "made": a plate or an assembly as the checks see it."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from platekit import Assembly, Plate
from platekit.checks.subject import Piece, Subject
from platekit.findings import Finding, Severity
from platekit.job.beams import cut_part
from platekit.job.kinds import kinds_of
from platekit.job.resolving import resolved
from platekit.materials import beam_for


def subject_of(
    made: Plate | Assembly, *, kerf_mm: float = 0.2, bed_mm: tuple[float, float] | None = None
) -> Subject:
    """Return a job drawn up."""
    given = resolved(made)
    cut = [
        cut_part(part, beam=beam_for(part.sheet, kerf_mm=kerf_mm), join="round", named=given.named)
        for part in kinds_of(given.parts)
    ]
    pieces = tuple(
        Piece(
            part=one.part,
            path=one.path,
            kerf_mm=one.beam.kerf_mm,
            features=tuple(given.named.get(one.part.name, ())),
            least_web_mm=given.webs.get(one.part.name),
        )
        for one in cut
    )
    return Subject(pieces=pieces, whole=given.whole, bed_mm=bed_mm)


def told(found: Iterable[Finding]) -> list[Finding]:
    """Return what is worth telling."""
    return [one for one in found if one.severity is not Severity.PASSED]


def only(run: Callable[[Subject], Iterable[Finding]], made: Plate | Assembly) -> Finding:
    """Return the one finding of a check."""
    (finding,) = run(subject_of(made))
    return finding
