"""Pockets: nuts that wait in the edge of a sheet too thin to guide their screw."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.subject import Piece, Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding
from platekit.hardware.fasteners.screws import screw
from platekit.panel.feature import Placed

KIND = " nut pocket"


def nut_pockets(subject: Subject) -> Iterator[Finding]:
    """Yield for every part and thread whether its sheet guides a screw that enters its edge."""
    for piece in subject.pieces:
        by_thread: dict[str, list[Placed]] = {}
        for one in piece.features:
            if one.kind.endswith(KIND):
                by_thread.setdefault(one.kind.removesuffix(KIND), []).append(one)
        for thread, pockets in by_thread.items():
            names = [one.name for one in pockets]
            yield weighed(
                "made.nut_pocket",
                part=piece.part.name,
                feature=names[0] if len(names) == 1 else f"{names[0]} and {len(names) - 1} more",
                measure=f"thickness of the sheet beside an {thread} screw in its edge",
                value=_thickness_mm(subject, piece, pockets[0]),
                least=screw(thread).nominal_mm,
                unit="mm",
                source="the screw's diameter, common practice, no source",
                remedy="use a thinner thread or a thicker sheet: the pocket no longer guides the "
                "screw, and the nut turns out of it",
                scale=ADVICE,
            )


def _thickness_mm(subject: Subject, piece: Piece, pocket: Placed) -> float:
    """Return the thickness of all layers of a laminate that have the pocket."""
    own = piece.part.sheet.thickness_mm
    if subject.whole is None:
        return own
    for panel in subject.whole[1].panels:
        if any(plate.name == piece.part.name for plate in panel.layers):
            return sum(
                plate.sheet.thickness_mm
                for plate in panel.layers
                if any(one.kind == pocket.kind and one.at == pocket.at for one in plate.features)
            )
    return own
