"""Limits of size, ISO 286: what "20 H7" lets a bore measure.

Two tables make every class: the width of the zone (standard tolerance grades IT) and its distance
from the nominal size (fundamental deviation of a letter). Shaft deviations are tabulated; those
of holes follow from them by the rules of ISO 286-1.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from platekit.errors import PartError, UnknownNameError
from platekit.handbook import Row, read

GRADES = tuple(range(4, 15))
# Upper deviation es of these shafts is tabulated (0 or below), lower deviation ei of the others.
_LETTERS_FROM_ABOVE = ("d", "e", "f", "g", "h")
_LETTERS_FROM_BELOW = ("k", "m", "n", "p", "r", "s")
LETTERS = (*_LETTERS_FROM_ABOVE, "js", *_LETTERS_FROM_BELOW)
_CLASS = re.compile(r"([A-Za-z]{1,2})\s*(\d{1,2})")
_SMALLEST_BAND_TO_MM = 3.0  # ISO 286-1: the correction for holes starts above it


@dataclass(frozen=True)
class _Band:
    """One range of nominal sizes: IT grades and shaft deviations, micrometres."""

    over_mm: float
    to_mm: float
    grade_um: dict[int, float]
    deviation_um: dict[str, float]


def _band(grades: Row, deviations: Row) -> _Band:
    over_mm, to_mm = grades.number("over_mm"), grades.length_mm("to_mm")
    if (over_mm, to_mm) != (deviations.number("over_mm"), deviations.length_mm("to_mm")):
        raise deviations.fault("over_mm", "and to_mm differ from the grades' table", remedy="align")
    return _Band(
        over_mm=over_mm,
        to_mm=to_mm,
        grade_um={n: grades.number(f"it{n}_um") for n in GRADES},
        deviation_um={
            letter: deviations.number(f"{letter}_um")
            for letter in (*_LETTERS_FROM_ABOVE, *_LETTERS_FROM_BELOW)
            if deviations.optional_text(f"{letter}_um")
        },
    )


@cache
def _bands() -> tuple[_Band, ...]:
    grades = read("platekit.hardware", "tables/tolerance_grades.csv")
    deviations = read("platekit.hardware", "tables/shaft_deviations.csv")
    return tuple(_band(g, d) for g, d in zip(grades, deviations, strict=True))


def _band_of(diameter_mm: float) -> _Band:
    bands = _bands()
    if math.isfinite(diameter_mm):
        for band in bands:
            if band.over_mm < diameter_mm <= band.to_mm:
                return band
    raise PartError(
        f"no limits of size for a diameter of {diameter_mm} mm",
        remedy=f"the table runs above {bands[0].over_mm:g} mm, to {bands[-1].to_mm:g} mm",
    )


def tolerance_grade_mm(grade: int, *, diameter_mm: float) -> float:
    """Return the width, mm, of the tolerance grade IT `grade` (4 to 14) at `diameter_mm`.

    Raises:
        UnknownNameError: There is no such grade in the table.
        PartError: The diameter is outside the table.

    Source:
        ISO 286-1:2010, table 1.
    """
    if grade not in GRADES:
        raise UnknownNameError.among("tolerance grade", f"IT{grade}", [f"IT{n}" for n in GRADES])
    return _band_of(diameter_mm).grade_um[grade] / 1000


def limits(tolerance_class: str, diameter_mm: float) -> tuple[float, float]:
    """Return the lower and upper deviation, mm, of a class such as "H7" or "g6".

    The size may lie from ``diameter_mm + lower`` to ``diameter_mm + upper``. Capitals are holes,
    small letters shafts: d e f g h js k m n p r s, grades 4 to 14 (k and K, M, N up to where the
    standard's rule for them ends).

    Raises:
        UnknownNameError: The class is none of these.
        PartError: The diameter is outside the table, or the class is not tabulated there.

    Source:
        ISO 286-1:2010: tables of grades and deviations, and its rules for holes.
    """
    letter, grade = _letter_and_grade(tolerance_class)
    band = _band_of(diameter_mm)
    hole = letter.isupper()
    small = letter.lower()
    width_um = band.grade_um[grade]
    if small == "js":
        return -width_um / 2000, width_um / 2000
    if small not in band.deviation_um:
        raise PartError(
            f"{tolerance_class} is not tabulated at {diameter_mm:g} mm",
            remedy=f"use one of {', '.join(sorted(band.deviation_um))} or a smaller diameter",
        )
    near_um = band.deviation_um[small]
    if small in _LETTERS_FROM_ABOVE:
        # A hole's zone is the shaft's, mirrored at the nominal size.
        lower_um, upper_um = (
            (-near_um, -near_um + width_um) if hole else (near_um - width_um, near_um)
        )
    elif hole:
        upper_um = -near_um + _hole_correction_um(band, letter=letter, grade=grade)
        lower_um = upper_um - width_um
    else:
        lower_um, upper_um = near_um, near_um + width_um
    return lower_um / 1000, upper_um / 1000


def middle_mm(tolerance_class: str, diameter_mm: float) -> float:
    """Return the diameter, mm, in the middle of what a class such as "H7" allows.

    Raises:
        UnknownNameError: There is no such class.
        PartError: The diameter is outside the table, or the class is not tabulated there.
    """
    lower, upper = limits(tolerance_class, diameter_mm)
    return diameter_mm + (lower + upper) / 2


def _letter_and_grade(tolerance_class: str) -> tuple[str, int]:
    said = _CLASS.fullmatch(str(tolerance_class).strip())
    letter, grade = (said[1], int(said[2])) if said else ("", 0)
    one_case = letter.islower() or letter.isupper()
    if not (one_case and letter.lower() in LETTERS and grade in GRADES):
        known = [f"{a}{n}" for a in LETTERS for n in (6, 7, 8)]
        raise UnknownNameError.among(
            "tolerance class", tolerance_class, [*known, *(name.upper() for name in known)]
        )
    # ISO 286-1 tabulates another deviation for k, K, M and N beyond these grades.
    most = {"k": 7, "K": 8, "M": 8, "N": 8}.get(letter, GRADES[-1])
    if grade > most:
        raise UnknownNameError(
            f"tolerance class {tolerance_class!r} is not covered",
            remedy=f"{letter} is known up to grade {most}",
        )
    return letter, grade


def _hole_correction_um(band: _Band, *, letter: str, grade: int) -> float:
    """Return delta of ISO 286-1: IT n minus IT n-1, so that H7/p6 and P7/h6 fit alike."""
    most = 8 if letter in {"K", "M", "N"} else 7
    if band.to_mm <= _SMALLEST_BAND_TO_MM or grade > most or grade == GRADES[0]:
        return 0.0
    return band.grade_um[grade] - band.grade_um[grade - 1]
