"""Grain: long parts under load whose face grain runs, or may run, across them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

from platekit.checks.hold.reactions import reactions
from platekit.checks.made.notes import as_note
from platekit.checks.subject import Piece, Subject
from platekit.checks.weighing import ADVICE, weighed
from platekit.errors import PlatekitError
from platekit.findings import Finding
from platekit.materials.strengths import Strength, strength_of
from platekit.panel.part import Grain

# A part this many times as long as wide spans along its length. Common practice, no source.
SLENDER = 3.0
# Across the grain a sheet should bend this well, over how well it does along it, not to care.
# Common practice, no source.
LEAST_SHARE = 0.6


def grain(subject: Subject) -> Iterator[Finding]:
    """Yield for every slender part under load how well it bends as its grain lies."""
    loaded = _loaded(subject)
    free: list[tuple[float, Piece, Strength]] = []
    for piece in subject.pieces:
        strength = strength_of(piece.part.sheet)
        share = None if strength is None else _share(strength)
        if piece.part.name not in loaded or strength is None or share is None:
            continue
        if not piece.part.sheet.grain or _slender(piece) < SLENDER:
            continue
        if piece.part.grain is Grain.ANY:
            free.append((share, piece, strength))
        else:
            along = piece.part.grain is _lengthwise(piece)
            yield _finding(piece, 1.0 if along else share, strength, several=1)
    if free:
        share, piece, strength = min(free, key=lambda one: one[0])
        yield as_note(_finding(piece, share, strength, several=len(free)))


def _loaded(subject: Subject) -> set[str]:
    """Return the parts of panels that a load comes to; of laminates every layer."""
    if subject.whole is None:
        return set()
    assembly, done = subject.whole
    names = {one.on for one in assembly.use.loads}
    with suppress(PlatekitError):  # a load that leads nowhere is other checks' to tell
        names |= {one.panel for one in reactions(subject)}
    return {
        plate.name
        for panel in done.panels
        for plate in panel.layers
        if {panel.name, plate.name} & names
    }


def _share(strength: Strength) -> float | None:
    along, across = strength.bending_0_mpa, strength.bending_90_mpa
    return None if along is None or across is None else across / along


def _slender(piece: Piece) -> float:
    box = piece.part.profile.bounds
    return max(box.width_mm, box.height_mm) / min(box.width_mm, box.height_mm)


def _lengthwise(piece: Piece) -> Grain:
    box = piece.part.profile.bounds
    return Grain.ALONG_X if box.width_mm >= box.height_mm else Grain.ALONG_Y


def _finding(piece: Piece, share: float, strength: Strength, *, several: int) -> Finding:
    free = piece.part.grain is Grain.ANY
    how = "should its grain come to lie across it" if free else "as its grain lies"
    others = f", as of {several - 1} more parts under load" if several > 1 else ""
    wish = _lengthwise(piece).name
    return weighed(
        "made.grain",
        part=piece.part.name,
        measure=f"bending strength along its length {how}, over the best{others}",
        value=share,
        least=LEAST_SHARE,
        unit="",
        source=f"{strength.source} ({LEAST_SHARE:g}: common practice, no source)",
        remedy=f"let the face grain run along it: grain=Grain.{wish} of the plate",
        formula="1, the grain lies along it"
        if share == 1.0
        else f"f 90 / f 0 = {strength.bending_90_mpa:.4g} / {strength.bending_0_mpa:.4g}",
        scale=ADVICE,
    )
