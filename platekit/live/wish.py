"""What the page wishes: values for the recipe's parameters, and another sheet or beam."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from platekit.errors import PlatekitError
from platekit.job.options import Options

# Far more than any recipe offers; beyond it somebody plays tricks.
MOST_VALUES = 500
LONGEST_TEXT = 2000

_NUMBERS = {"thickness_mm": "thickness", "kerf_mm": "kerf"}
_KNOWN = {"values", "material", *_NUMBERS}


class WishError(PlatekitError, ValueError):
    """A wish that cannot be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be drawn up otherwise than the recipe says.

    Attributes:
        values: Texts for the recipe's parameters by name, as after ``--set NAME=``.
        thickness_mm: Measured thickness of the sheet; None takes the recipe's.
        material: Name of the sheet's material; None takes the recipe's.
        kerf_mm: Width of the cut; None takes the usual one.
    """

    values: Mapping[str, str] = field(default_factory=dict)
    thickness_mm: float | None = None
    material: str | None = None
    kerf_mm: float | None = None

    def plain(self) -> dict[str, object]:
        """Return it as JSON can hold it; `wish_of` reads it back."""
        return {
            "values": dict(self.values),
            "thickness_mm": self.thickness_mm,
            "material": self.material,
            "kerf_mm": self.kerf_mm,
        }

    def on(self, options: Options) -> Options:
        """Return the options of a job with this wish fulfilled."""
        return replace(
            options,
            chosen=tuple(self.values.items()),
            thickness_mm=self.thickness_mm,
            material=self.material,
            kerf_mm=self.kerf_mm,
        )


def wish_in(options: Options) -> Wish:
    """Return what a command line wished. A parameter set twice keeps its last text."""
    return Wish(
        values=dict(options.chosen),
        thickness_mm=options.thickness_mm,
        material=options.material,
        kerf_mm=options.kerf_mm,
    )


def read_wish(text: bytes) -> Wish:
    """Return the wish in a piece of JSON.

    Raises:
        WishError: It is no JSON, or not of the form `Wish.plain` gives.
    """
    try:
        said: object = json.loads(text)
    except (ValueError, RecursionError):
        raise WishError("the wish is no JSON", remedy="send one JSON object") from None
    return wish_of(said)


def wish_of(said: object) -> Wish:
    """Return the wish in plain data.

    Raises:
        WishError: It is not of the form `Wish.plain` gives.
    """
    if not isinstance(said, dict):
        raise WishError("the wish is no object", remedy="send one JSON object")
    strange = sorted(str(name) for name in said if name not in _KNOWN)
    if strange:
        raise WishError(f"a wish has no {strange[0]!r}", remedy=f"known: {', '.join(_KNOWN)}")
    numbers = {name: _number(words, said.get(name)) for name, words in _NUMBERS.items()}
    material = said.get("material")
    return Wish(
        values=_values(said.get("values", {})),
        material=None if material is None else _text("material", material),
        **numbers,
    )


def _values(said: object) -> dict[str, str]:
    if not isinstance(said, dict) or len(said) > MOST_VALUES:
        raise WishError("values are no object of texts by name", remedy="send one")
    return {_text("a name", name): _text(str(name), value) for name, value in said.items()}


def _text(what: str, said: object) -> str:
    if not isinstance(said, str) or len(said) > LONGEST_TEXT:
        raise WishError(f"{what} is no text", remedy=f"send up to {LONGEST_TEXT} signs")
    return said


def _number(what: str, said: object) -> float | None:
    if said is None:
        return None
    # A bool is an int to Python, and JSON as Python reads it knows NaN and Infinity.
    if isinstance(said, bool) or not isinstance(said, int | float):
        raise WishError(f"{what} is {said!r}, no number", remedy="send a number, or null")
    try:
        number = float(said)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise WishError(f"{what} is not finite", remedy="send a number, or null")
    return number
