"""Necks: where a part's own outline leaves too little material between its walls."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from platekit.assembly.webs import WEB_THICKNESSES
from platekit.checks.subject import Piece, Subject
from platekit.checks.weighing import ADVICE, Scale, weighed
from platekit.findings import Finding
from platekit.geometry.narrows import Narrow, narrows
from platekit.geometry.points import SAME_POINT_MM, between
from platekit.geometry.profile import Profile

# So many times the least web is looked at, so that the weakest neck is known where all will do.
LOOKED_AT = 1.5
# What is thinner than the cut is gone.
BURNS = Scale(stop=1.0, warn=1.0)
# The joints' own finding gives widths to four digits.
SAME_WIDTH_MM = 1e-3
# The same neck before and after joints were cut, found on chords.
SAME_PLACE_MM = 0.05


def necks(subject: Subject) -> Iterator[Finding]:
    """Yield the weakest neck of every part that has one: too thin ones are told once a part."""
    drawn = _before_joints(subject)
    for piece in subject.pieces:
        yield from _of_piece(piece, drawn.get(piece.part.name), _told(subject, piece))


def _before_joints(subject: Subject) -> Mapping[str, Profile]:
    """Return the shapes of plates before joints were cut into them; a single plate has none."""
    if subject.whole is None:
        return {piece.part.name: piece.part.profile for piece in subject.pieces}
    panels = subject.whole[1].panels
    return {plate.name: plate.profile for panel in panels for plate in panel.layers}


def _told(subject: Subject, piece: Piece) -> list[float]:
    """Return widths of webs that were told of the part where its joints were dealt."""
    between_parts = () if subject.whole is None else subject.whole[1].findings
    return [
        one.value
        for one in (*between_parts, *piece.part.findings)
        if one.check == "made.web" and one.part == piece.part.name and one.value is not None
    ]


def _of_piece(piece: Piece, drawn: Profile | None, told: list[float]) -> Iterator[Finding]:
    part, sheet = piece.part, piece.part.sheet
    usual = sheet.least_web_mm if piece.least_web_mm is None else piece.least_web_mm
    # What goes into the openings of joints holds the wood between them on both sides.
    beside_joints = min(
        usual, max(sheet.material.least_web_mm, WEB_THICKNESSES * sheet.thickness_mm)
    )
    found = narrows(part.profile, within_mm=LOOKED_AT * usual)
    if drawn is None or not found:
        own: tuple[Narrow, ...] = ()
    else:
        own = found if drawn is part.profile else narrows(drawn, within_mm=LOOKED_AT * usual)
    held: list[tuple[float, Narrow, float]] = []
    for one in found:
        if any(abs(one.width_mm - width) <= SAME_WIDTH_MM for width in told):
            continue
        is_own = any(between(one.at, other.at) <= SAME_PLACE_MM for other in own)
        least = usual if is_own else beside_joints
        # A neck of just the least width may come out a last bit short of it.
        width = least if abs(one.width_mm - least) <= SAME_POINT_MM else one.width_mm
        held.append((width / least, one, least))
    if not held:
        return
    margin, worst, least = min(held)
    thin = sum(one[0] < 1.0 for one in held)
    burns = worst.width_mm < piece.kerf_mm
    yield weighed(
        "made.neck",
        part=part.name,
        feature=f"neck at x {worst.at.x + 0.0:.1f}, y {worst.at.y + 0.0:.1f} mm",
        measure=f"width of the narrowest of {thin} necks" if thin > 1 else "width of a neck",
        value=margin * least,
        least=piece.kerf_mm if burns else least,
        unit="mm",
        source="width of the cut: what is thinner than that beside it burns away (common practice, "
        "no source)"
        if burns
        else "least web of the sheet, common practice, no source"
        if piece.least_web_mm is None
        else "asked for on the plate",
        remedy="draw it wider, or cut less away on either side; on purpose, give least_web_mm= of "
        "the plate",
        scale=BURNS if burns else ADVICE,
    )
