"""What went wrong in a run, and where in which file, as the page shows it."""

from __future__ import annotations

import re
from dataclasses import asdict, dataclass
from pathlib import Path

from platekit.errors import PlatekitError

# How `job.slips` and `job.recipe` begin what they say of a recipe's own line.
_PLACE = re.compile(r"(?P<file>[^\n]+?\.py), line (?P<line>\d+)(?: in (?P<inside>[^\n:]+))?: ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Why there is nothing new to see.

    Attributes:
        says: The sentence, place left out where it is known.
        file: File it is in; empty where unknown.
        line: Line there, from 1; None where unknown.
        inside: Function it happened in, or empty.
        quoted: The line itself with its number, or empty.
    """

    says: str
    file: str = ""
    line: int | None = None
    inside: str = ""
    quoted: str = ""

    def plain(self) -> dict[str, object]:
        """Return it as JSON can hold it."""
        return asdict(self)

    def __str__(self) -> str:
        place = f"{self.file}, line {self.line}: " if self.line else ""
        return f"{place}{self.says}" + (f"\n{self.quoted}" if self.quoted else "")


def problem_of(err: BaseException, *, recipe: Path) -> Problem:
    """Return what to tell of whatever a run raised.

    Args:
        err: The error.
        recipe: The file that ran; errors that name no line at least name it.
    """
    if isinstance(err, MemoryError):
        return Problem(says="it takes more memory than there is", file=str(recipe))
    if isinstance(err, KeyboardInterrupt):
        return Problem(says="it raises KeyboardInterrupt", file=str(recipe))
    if not isinstance(err, PlatekitError):
        return Problem(
            says=f"this is a fault in platekit itself: {type(err).__name__}: {err}",
            file=str(recipe),
        )
    text = str(err)
    place = _PLACE.match(text)
    if place is None:
        return Problem(says=text, file=str(recipe))
    says, _, quoted = text[place.end() :].partition("\n")
    return Problem(
        says=says,
        file=place["file"],
        line=int(place["line"]),
        inside=place["inside"] or "",
        quoted=quoted,
    )
