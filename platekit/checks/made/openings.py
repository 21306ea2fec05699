"""Openings: holes too small for the thickness, slots too narrow for the beam."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from platekit.checks.made.notes import as_note
from platekit.checks.subject import Piece, Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding
from platekit.geometry.chains import Contour
from platekit.geometry.narrows import narrows
from platekit.geometry.points import between
from platekit.materials.sheets import Sheet

# A hole under this share of the least one is more than a note.
GRAVE = 0.5
# Of a slot two kerfs wide nothing falls out: both cuts have burnt it.
SLOT_KERFS = 2.0
# So many times the least slot is looked at.
LOOKED_AT = 2.0
SAME_PLACE_MM = 0.01


def holes(subject: Subject) -> Iterator[Finding]:
    """Yield the smallest hole of every kind of sheet, and on how many parts there are such."""
    found: defaultdict[Sheet, list[tuple[float, Piece, Contour]]] = defaultdict(list)
    for piece in subject.pieces:
        for ring in piece.part.profile.inners:
            box = ring.bounds
            size_mm = max(box.width_mm, box.height_mm)
            if ring.is_circle or size_mm < piece.part.sheet.least_hole_mm:
                found[piece.part.sheet].append((size_mm, piece, ring))
    for sheet, of_sheet in found.items():
        size_mm, piece, ring = min(of_sheet, key=lambda one: one[0])
        small = [one for one in of_sheet if one[0] < sheet.least_hole_mm]
        parts = len({one.part.name for _, one, _ in small})
        finding = weighed(
            "made.hole",
            part=piece.part.name,
            feature=_name_of(ring, piece),
            measure=f"smallest of {len(small)} small holes on {parts} part{'s' * (parts > 1)}"
            if len(small) > 1
            else "size of a hole",
            value=size_mm,
            least=sheet.least_hole_mm,
            unit="mm",
            source="half the thickness, 1 mm at least (common practice, no source)",
            remedy="it comes out tapered and its edge charred: mark its centre and drill it, or "
            "make it larger",
            formula=f"t / 2 = {sheet.thickness_mm:g} / 2, 1 at least",
            scale=ADVICE,
        )
        grave = size_mm < GRAVE * sheet.least_hole_mm
        yield finding if grave else as_note(finding)


def _name_of(ring: Contour, piece: Piece) -> str:
    at = ring.bounds.centre
    for feature in piece.features:
        for cut in feature.cuts:
            if between(cut.bounds.centre, at) <= SAME_PLACE_MM:
                return feature.name
    return f"hole at x {at.x + 0.0:.1f}, y {at.y + 0.0:.1f} mm"


def slots(subject: Subject) -> Iterator[Finding]:
    """Yield the narrowest slot or notch of every part that has one near two kerfs."""
    for piece in subject.pieces:
        least = SLOT_KERFS * piece.kerf_mm
        found = narrows(piece.part.profile, within_mm=LOOKED_AT * least, of_void=True)
        if not found:
            continue
        narrow = [one for one in found if one.width_mm < least]
        at, ring = found[0].at, piece.part.profile.rings[found[0].ring]
        several = f"width of the narrowest of {len(narrow)} slots"
        yield weighed(
            "made.slot",
            part=piece.part.name,
            feature=_name_of(ring, piece)
            if found[0].ring
            else f"notch at x {at.x + 0.0:.1f}, y {at.y + 0.0:.1f} mm",
            measure=several if len(narrow) > 1 else "width of a slot",
            value=found[0].width_mm,
            least=least,
            unit="mm",
            source="two kerfs: what is left between both cuts burns (common practice, no source)",
            remedy="draw it wider: as drawn its width is left to chance and its walls are charred",
            formula=f"2 x kerf = 2 x {piece.kerf_mm:.4g}",
            scale=ADVICE,
        )
