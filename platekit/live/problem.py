"""What went wrong in a run, and where in which file, as the page shows it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any, cast

from platekit.errors import PlatekitError
from platekit.live.places import Place, lines_about, named_at, raised_at

# How `job.slips` and `job.recipe` begin what they say of a recipe's own line.
_PLACE = re.compile(r"(?P<file>[^\n]+?\.py), line (?P<line>\d+)(?: in (?P<inside>[^\n:]+))?: ")
_TOO_MUCH = "it takes more memory than a run may; look for a list or a number without end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Why there is nothing new to see.

    Attributes:
        says: The sentence, place left out where it is known.
        file: File it is in; empty where unknown.
        line: Line there, from 1; None where unknown.
        inside: Function it happened in, or empty.
        quoted: The line itself with its number, or empty.
        about: The lines about it with their numbers; none where they are not known.
        mark: First sign of the line that is meant and the one after the last, from 0; None for
            all of it.
        perhaps: Whether the line is only where the thing concerned is named first.
        called_from: Line of the recipe that led there, where it is in a module beside it.
    """

    says: str
    file: str = ""
    line: int | None = None
    inside: str = ""
    quoted: str = ""
    about: tuple[tuple[int, str], ...] = ()
    mark: tuple[int, int] | None = None
    perhaps: bool = False
    called_from: int | None = None

    def plain(self) -> dict[str, object]:
        """Return it as JSON can hold it."""
        return asdict(self)

    def __str__(self) -> str:
        # A guess is for the page, which shows it as one.
        place = f"{self.file}, line {self.line}: " if self.line and not self.perhaps else ""
        return f"{place}{self.says}" + (f"\n{self.quoted}" if self.quoted else "")


def read_problem(said: object) -> Problem:
    """Return the problem that `Problem.plain` gave, after its way as JSON."""
    plain = dict(cast("Mapping[str, Any]", said))
    about = tuple((int(number), str(text)) for number, text in plain.pop("about"))
    mark = plain.pop("mark")
    return Problem(**plain, about=about, mark=None if mark is None else (mark[0], mark[1]))


def problem_of(err: BaseException, *, recipe: Path) -> Problem:
    """Return what to tell of whatever a run raised.

    Args:
        err: The error.
        recipe: The file that ran; errors that name no line at least name it.
    """
    if isinstance(err, MemoryError):
        return Problem(says=_TOO_MUCH, file=str(recipe))
    if isinstance(err, KeyboardInterrupt):
        return Problem(says="it raises KeyboardInterrupt", file=str(recipe))
    if not isinstance(err, PlatekitError):
        return Problem(
            says=f"this is a fault in platekit itself: {type(err).__name__}: {err}",
            file=str(recipe),
        )
    text = str(err)
    told = _PLACE.match(text)
    at = raised_at(err.__cause__ or err, recipe)
    if told is None:
        named = named_at(err, recipe)
        problem = Problem(says=text, file=str(recipe))
        return problem if named is None else _at(named, problem, perhaps=True)
    says, _, quoted = text[told.end() :].partition("\n")
    if isinstance(err.__cause__, MemoryError):
        says = _TOO_MUCH
    problem = Problem(
        says=says,
        file=told["file"],
        line=int(told["line"]),
        inside=told["inside"] or "",
        quoted=quoted,
    )
    if at is None:
        at = Place(file=told["file"], line=int(told["line"]), inside=problem.inside)
    return _at(at, problem)


def _at(place: Place, problem: Problem, *, perhaps: bool = False) -> Problem:
    """Return a problem at a place, with the lines about it."""
    about = lines_about(place.file, place.line)
    line = dict(about).get(place.line, "").strip()
    elsewhere = problem.line is not None and place.file != problem.file
    return replace(
        problem,
        file=place.file,
        line=place.line,
        inside=place.inside,
        quoted="" if perhaps else f"  {place.line} | {line}" if line else problem.quoted,
        about=about,
        mark=place.mark,
        perhaps=perhaps,
        called_from=problem.line if elsewhere else None,
    )
