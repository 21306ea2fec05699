"""Lettering: text as single strokes, never mirrored, inside the part or reported."""

from __future__ import annotations

import math
import unicodedata
from functools import cache

import numpy as np

from platekit.errors import PartError
from platekit.geometry.chains import Path
from platekit.geometry.curves import Arc, Line, Segment
from platekit.geometry.motion import STILL, Motion
from platekit.geometry.points import Pair, Point
from platekit.geometry.tables import TURN, Table
from platekit.panel.measures import require_length
from platekit.panel.strokes import CELL_HEIGHT, GAP, STROKES

LETTERS = frozenset(STROKES)
HALF_STEP = 36  # digits of the table are base 36


def spelt(text: str) -> str:
    """Return `text` in letters that have strokes, accents dropped; empty where that cannot be."""
    plain = unicodedata.normalize("NFKD", text.upper())
    plain = "".join(letter for letter in plain if not unicodedata.combining(letter)).upper()
    return plain.strip() if LETTERS.issuperset(plain) else ""


def text_width_mm(text: str, *, height_mm: float) -> float:
    """Return the width of a line of text, mm.

    Raises:
        PartError: A letter has no strokes, or the height is not above 0.
    """
    require_length(height_mm, "height_mm")
    cells = [_cell(letter)[0] for letter in text.upper()]
    units = sum(cells) + GAP * max(0, len(cells) - 1)
    return units * height_mm / CELL_HEIGHT


def text_paths(text: str, *, height_mm: float) -> tuple[Path, ...]:
    """Return the strokes of a line of text, its lower left corner at (0, 0).

    Small letters are drawn as capitals.

    Args:
        text: Letters, digits, space and ``- _ . , : / + = ( ) #``.
        height_mm: Height of a capital letter, mm.

    Raises:
        PartError: A letter has no strokes, or the height is not above 0.
    """
    return _written(text, height_mm=height_mm, motion=STILL)


def centred_text(
    text: str, *, height_mm: float, turn_deg: float = 0.0, at: Pair = (0.0, 0.0)
) -> tuple[Path, ...]:
    """Return the strokes of a line of text, turned about its middle, which lies at `at`.

    Raises:
        PartError: A letter has no strokes, or the height is not above 0.
    """
    width = text_width_mm(text, height_mm=height_mm)
    to_middle = Motion(dx_mm=-width / 2, dy_mm=-height_mm / 2)
    to_spot = Motion(dx_mm=at[0], dy_mm=at[1], turn_deg=turn_deg)
    return _written(text, height_mm=height_mm, motion=to_middle.then(to_spot))


def _written(text: str, *, height_mm: float, motion: Motion) -> tuple[Path, ...]:
    """Return the strokes, all scaled and moved in one table: a sheet holds thousands."""
    require_length(height_mm, "height_mm")
    strokes: list[Table] = []
    at = 0.0
    for letter in text.upper():
        width, drawn = _cell(letter)
        strokes += [Motion(dx_mm=at).apply_to_table(stroke) if at else stroke for stroke in drawn]
        at += width + GAP
    if not strokes:
        return ()
    rows = np.concatenate(strokes)
    rows[:, :TURN] *= height_mm / CELL_HEIGHT
    ends = np.cumsum([len(stroke) for stroke in strokes])[:-1]
    return tuple(
        Path.trusted(stroke) for stroke in np.split(motion.apply_to_table(rows), ends, axis=0)
    )


@cache
def _cell(letter: str) -> tuple[int, tuple[Table, ...]]:
    """Return the width of a letter and its strokes, in units of its cell."""
    if letter not in STROKES:
        known = "".join(sorted(LETTERS - {" "}))
        raise PartError(f"the letter {letter!r} has no strokes", remedy=f"use spaces and {known}")
    width, strokes = STROKES[letter]
    drawn = (Path.of(_stroke(stroke)) for stroke in strokes.split("|") if stroke)
    return width, tuple(path.table for path in drawn)


def _stroke(written: str) -> tuple[Segment, ...]:
    first, *rest = written.split()
    here = _point(first)
    segments: list[Segment] = []
    for step in rest:
        turns = step.rstrip("0123456789abcdefghijklmnopqrstuvwxyz")
        there = _point(step[len(turns) :])
        if turns:
            segments.append(_arc(here, there, sweep_deg=90.0 * len(turns), ccw=turns[0] == "("))
        else:
            segments.append(Line(here, there))
        here = there
    return tuple(segments)


def _point(digits: str) -> Point:
    return Point(float(int(digits[0], HALF_STEP)), float(int(digits[1], HALF_STEP)))


def _arc(start: Point, end: Point, *, sweep_deg: float, ccw: bool) -> Arc:
    """Return the arc of `sweep_deg` from `start` to `end`."""
    dx, dy = end.x - start.x, end.y - start.y
    half = math.radians(sweep_deg) / 2
    aside = 0.5 / math.tan(half) if sweep_deg < 180.0 else 0.0
    left = aside if ccw else -aside
    centre = Point(start.x + dx / 2 - dy * left, start.y + dy / 2 + dx * left)
    return Arc(start, end, centre, math.hypot(dx, dy) / 2 / math.sin(half), ccw)
