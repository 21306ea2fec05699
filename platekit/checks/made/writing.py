"""Writing: letters too small to read once they are burnt in."""

from __future__ import annotations

from collections.abc import Iterator

from platekit.checks.made.notes import as_note
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.findings import Finding
from platekit.geometry.motion import Motion
from platekit.panel.feature import Placed

KIND = "lettering"
# Height of a capital over the width of its stroke: lettering type B of ISO 3098-1, from memory.
HEIGHT_PER_STROKE = 10.0


def letters(subject: Subject) -> Iterator[Finding]:
    """Yield the lowest line of scored lettering of every part that has some.

    A scored line is taken to be as wide as the cut; a weak pass burns a finer one.
    """
    for piece in subject.pieces:
        heights = [
            (height, one.name)
            for one in piece.features
            if one.kind == KIND and (height := height_mm(one)) > 0.0
        ]
        if not heights or not piece.kerf_mm:
            continue
        low, name = min(heights)
        yield as_note(
            weighed(
                "made.text",
                part=piece.part.name,
                feature=name,
                measure="height of scored letters",
                value=low,
                least=HEIGHT_PER_STROKE * piece.kerf_mm,
                unit="mm",
                source="ISO 3098-1 type B, ten widths of a stroke, from memory",
                remedy="write larger, or score with a finer and weaker beam than it cuts with",
                formula=f"10 x kerf = 10 x {piece.kerf_mm:.4g}",
                scale=ADVICE,
            )
        )


def height_mm(lettering: Placed) -> float:
    """Return the height of a line of scored lettering, however it is turned; 0 for a note."""
    level = Motion(turn_deg=-lettering.motion.turn_deg)
    boxes = [mark.path.moved(level).bounds for mark in lettering.marks if mark.layer == "score"]
    if not boxes:
        return 0.0
    return max(box.top for box in boxes) - min(box.bottom for box in boxes)
