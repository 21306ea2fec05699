"""The one family of exceptions.

PlatekitError                       everything platekit raises on purpose
├── GeometryError (ValueError)      a shape that cannot be
├── PartError (ValueError)          a plate, feature or joint that cannot be made as asked
├── UnknownNameError (LookupError)  a screw size, material, face... that no table holds
├── NestingError (ValueError)       parts and stock that cannot come together
├── RecipeError (ValueError)        a recipe that is missing, broken or called wrongly
└── OutputError (OSError)           a file or folder that cannot be written

A fault is data first and a sentence second: the message is put together from the part,
the feature, the value and the remedy, so that every message names all it knows.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from contextlib import contextmanager


class PlatekitError(Exception):
    """Root of everything platekit raises on purpose.

    Args:
        problem: What is wrong, offending value included: ``"diameter is -3 mm"``.
        part: Name of the plate or part concerned, if one is.
        feature: Name of the hole, joint, slot... concerned, if one is.
        remedy: What to do about it: ``"give a diameter above 0"``.
    """

    def __init__(
        self, problem: str, *, part: str = "", feature: str = "", remedy: str = ""
    ) -> None:
        super().__init__(problem)
        self.problem = problem
        self.part = part
        self.feature = feature
        self.remedy = remedy

    def __str__(self) -> str:
        where = " / ".join(name for name in (self.part, self.feature) if name)
        said = f"{where}: {self.problem}" if where else self.problem
        return f"{said}; {self.remedy}" if self.remedy else said


class GeometryError(PlatekitError, ValueError):
    """A shape that cannot be: it crosses itself, is open, has no area, is not finite."""


class PartError(PlatekitError, ValueError):
    """A plate, feature or joint that cannot be made as asked."""


class UnknownNameError(PlatekitError, LookupError):
    """A name that no table holds. The message offers the nearest known ones."""

    @classmethod
    def among(cls, kind: str, name: object, known: Iterable[str]) -> UnknownNameError:
        """Return the error for `name`, which is no `kind` among `known`."""
        names = sorted(set(known))
        near = difflib.get_close_matches(str(name), names, n=3, cutoff=0.5)
        offer = f"did you mean {' or '.join(near)}? " if near else ""
        return cls(f"unknown {kind} {name!r}", remedy=f"{offer}known: {', '.join(names)}")


class NestingError(PlatekitError, ValueError):
    """Parts and stock that cannot come together."""


class RecipeError(PlatekitError, ValueError):
    """A recipe that is missing, does not parse, raises, or is called wrongly."""


class OutputError(PlatekitError, OSError):
    """A file or folder that cannot be written."""

    __str__ = PlatekitError.__str__


@contextmanager
def concerning(*, part: str = "", feature: str = "") -> Iterator[None]:
    """Add the names known here to any platekit error raised inside.

    A hole does not know the plate it is drilled in; the plate does, and says so on the way up.
    Names already set stay.
    """
    try:
        yield
    except PlatekitError as err:
        err.part = err.part or part
        err.feature = err.feature or feature
        raise


class ApproximationWarning(UserWarning):
    """An exact construction failed its proof and a fine polyline stands in its place.

    Rare, and never silent: the shape is right within a micron, but its arcs are chords.
    """
