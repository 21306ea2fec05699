"""The parameters a recipe offers, read from its function's signature."""

from __future__ import annotations

import difflib
import enum
import inspect
import math
import re
import types
import typing
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from platekit.errors import RecipeError

Value = float | int | bool | str | enum.Enum | None

# The end of a parameter's name says its unit; the longest end that fits counts.
UNITS = {
    "_mm": "mm",
    "_mm2": "mm2",
    "_mm3": "mm3",
    "_m": "m",
    "_deg": "deg",
    "_n": "N",
    "_n_m": "N m",
    "_nm": "N m",
    "_mpa": "MPa",
    "_kg": "kg",
    "_g": "g",
    "_s": "s",
    "_rpm": "rpm",
    "_v": "V",
    "_a": "A",
    "_w": "W",
    "_percent": "%",
}

# 100 m: a length beyond it is a slip of the keyboard, and squares of it drown 1e-6 mm in rounding.
MAX_LENGTH_MM = 100_000.0

_YES = frozenset({"yes", "true", "on", "1"})
_NO = frozenset({"no", "false", "off", "0"})


class Unreadable(ValueError):  # noqa: N818  what a parser of one text says, never leaves this module
    """A text that is no value of the type asked for; its message says what would be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Parameter:
    """One thing a recipe lets its user choose.

    Attributes:
        name: Name in the signature, unit included: ``width_mm``.
        kind: What a value looks like, in words: "number", "whole number", "yes or no", "text".
        default: Value taken when nothing is said.
        help: The line in the docstring's Args section; empty when there is none.
        choices: Every text allowed, when only some are.
        read: Turns a text into a value; raises `Unreadable`.
    """

    name: str
    kind: str
    default: Value
    read: Callable[[str], Value]
    help: str = ""
    choices: tuple[str, ...] = ()

    @property
    def unit(self) -> str:
        """Unit the end of the name stands for, or an empty text."""
        ends = [end for end in UNITS if self.name.endswith(end)]
        return UNITS[max(ends, key=len)] if ends else ""

    def parse(self, text: str) -> Value:
        """Return the value `text` stands for.

        Raises:
            RecipeError: It is not of this parameter's type, not finite, or beyond 100 m.
        """
        try:
            value = self.read(text.strip())
        except Unreadable as err:
            raise RecipeError(f"{self.name} cannot be {text!r}", remedy=str(err)) from None
        if self.unit == "mm" and isinstance(value, float | int) and abs(value) > MAX_LENGTH_MM:
            raise RecipeError(
                f"{self.name} is {text} mm",
                remedy=f"lengths end at {MAX_LENGTH_MM:.0f} mm (100 m) here",
            )
        return value


def show(value: Value) -> str:
    """Return `value` as it would be written after ``--set NAME=``."""
    if isinstance(value, enum.Enum):
        return value.name.lower()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return "none"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def plain(value: Value) -> float | int | bool | str | None:
    """Return `value` as JSON can hold it."""
    return value.name.lower() if isinstance(value, enum.Enum) else value


def parameters_of(
    signature: inspect.Signature, *, hints: Mapping[str, object], docstring: str
) -> tuple[Parameter, ...]:
    """Return the parameters of a recipe function, its sheet left aside.

    Args:
        signature: Of the function; the first parameter is the sheet.
        hints: Type of each parameter by name.
        docstring: Of the function; its Args section has the help.

    Raises:
        RecipeError: A parameter cannot be named on the command line: positional, variadic,
            without default or annotation, of a type no text stands for, or with a default that
            is not of its own type.
    """
    helps = args_section(docstring)
    found = []
    for taken in list(signature.parameters.values())[1:]:
        name = taken.name
        if taken.kind in (taken.VAR_POSITIONAL, taken.VAR_KEYWORD):
            raise RecipeError(
                f"it takes {'*' if taken.kind is taken.VAR_POSITIONAL else '**'}{name}",
                remedy="name every parameter, with a type and a default",
            )
        if taken.kind is not taken.KEYWORD_ONLY:
            raise RecipeError(
                f"parameter {name} is positional",
                remedy="put a * after the sheet: (sheet: Sheet, *, width_mm: float = 100.0)",
            )
        if name not in hints:
            raise RecipeError(f"parameter {name} has no type", remedy=f"write {name}: float = ...")
        if taken.default is taken.empty:
            raise RecipeError(
                f"parameter {name} has no default",
                remedy="give one, so that the recipe runs as it stands",
            )
        found.append(
            _parameter(name, hint=hints[name], default=taken.default, said=helps.get(name, ""))
        )
    return tuple(found)


def values_of(
    parameters: Iterable[Parameter], *, chosen: Iterable[tuple[str, str]]
) -> dict[str, Value]:
    """Return the value of each parameter: its default, or what was chosen.

    Args:
        parameters: What the recipe offers.
        chosen: Names and texts, as given by ``--set NAME=VALUE``.

    Raises:
        RecipeError: An unknown name (near ones are offered), a name given twice, or a text that
            is no value of the parameter's type.
    """
    known = {parameter.name: parameter for parameter in parameters}
    values: dict[str, Value] = {}
    for name, text in chosen:
        if name not in known:
            raise RecipeError(f"it has no parameter {name!r}", remedy=_offer(name, known))
        if name in values:
            raise RecipeError(f"{name} is set twice", remedy="set it once")
        values[name] = known[name].parse(text)
    return {name: values.get(name, parameter.default) for name, parameter in known.items()}


def args_section(docstring: str) -> dict[str, str]:
    """Return the text for each name in a docstring's Args section, on one line each."""
    lines = inspect.cleandoc(docstring).splitlines()
    start = next((i for i, line in enumerate(lines) if line.strip() in {"Args:", "Arguments:"}), -1)
    if start < 0:
        return {}
    said: dict[str, str] = {}
    name, indent = "", 0
    for line in lines[start + 1 :]:
        if not line.strip():
            continue
        depth = len(line) - len(line.lstrip())
        if depth == 0:
            break
        entry = re.match(r"\s+\*{0,2}(\w+)(?:\s*\([^)]*\))?:\s*(.*)$", line)
        indent = indent or depth
        if entry and depth == indent:
            name = entry[1]
            said[name] = entry[2].strip()
        elif name:
            said[name] = f"{said[name]} {line.strip()}".strip()
    return said


def _offer(name: str, known: Mapping[str, Parameter]) -> str:
    if not known:
        return "it has no parameters at all"
    # A unit left out or mistaken is the likeliest slip: compare without the ends as well.
    near = difflib.get_close_matches(name, known, n=3, cutoff=0.5)
    near += [k for k in known if k not in near and k.startswith(f"{name}_")]
    offer = f"did you mean {' or '.join(near)}? " if near else ""
    return f"{offer}known: {', '.join(known)}"


def _parameter(name: str, *, hint: object, default: object, said: str) -> Parameter:
    optional = False
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        kinds = [kind for kind in typing.get_args(hint) if kind is not type(None)]
        optional = len(kinds) < len(typing.get_args(hint))
        hint = kinds[0] if len(kinds) == 1 else hint
    kind, read, choices, fits = _reader(name, hint)
    if optional:
        read, choices = _or_none(read), (*choices, "none") if choices else ()
    if not (fits(default) or (optional and default is None)):
        raise RecipeError(
            f"the default of {name} is {default!r}, not a {kind}"
            if not choices
            else f"the default of {name} is {default!r}, not one of {', '.join(choices)}",
            remedy="mend the default or the type",
        )
    value = typing.cast("Value", default)
    if hint is float and isinstance(value, int):
        value = float(value)
    return Parameter(name=name, kind=kind, default=value, read=read, help=said, choices=choices)


_Reader = tuple[str, Callable[[str], Value], tuple[str, ...], Callable[[object], bool]]


def _reader(name: str, hint: object) -> _Reader:
    """Return kind, reader of texts, allowed texts, and the test for a default, for one type."""
    if typing.get_origin(hint) is typing.Literal:
        allowed = {show(value): value for value in typing.get_args(hint)}
        return "choice", _choice(allowed), tuple(allowed), lambda v: v in allowed.values()
    if isinstance(hint, type) and issubclass(hint, enum.Enum):
        members: dict[str, Value] = {show(member): member for member in hint}
        return "choice", _choice(members), tuple(members), lambda v: isinstance(v, hint)
    if hint is bool:
        return "yes or no", _yes_or_no, (), lambda v: isinstance(v, bool)
    if hint is int:
        return "whole number", _whole, (), lambda v: isinstance(v, int) and not isinstance(v, bool)
    if hint is float:
        return "number", _number, (), _is_number
    if hint is str:
        return "text", str, (), lambda v: isinstance(v, str)
    shown = getattr(hint, "__name__", str(hint))
    raise RecipeError(
        f"parameter {name} is a {shown}, which no text on a command line stands for",
        remedy="use float, int, bool, str, Literal or an Enum",
    )


def _is_number(value: object) -> bool:
    return isinstance(value, float | int) and not isinstance(value, bool) and math.isfinite(value)


def _number(text: str) -> float:
    try:
        value = float(text)
    except ValueError:
        raise Unreadable(_number_remedy(text)) from None
    if not math.isfinite(value):
        raise Unreadable("give a finite number")
    return value


def _number_remedy(text: str) -> str:
    if re.fullmatch(r"[+-]?\d+,\d+", text):
        return f"write a decimal point: {text.replace(',', '.')}"
    if number := re.fullmatch(r"([+-]?[\d.]+)\s*[A-Za-z\u00b5\u00b0%]+", text):
        return f"write the number alone, without its unit: {number[1]}"
    return "give a number"


def _whole(text: str) -> int:
    try:
        return int(text)
    except ValueError:
        raise Unreadable("give a whole number") from None


def _yes_or_no(text: str) -> bool:
    if text.lower() in _YES | _NO:
        return text.lower() in _YES
    raise Unreadable("say yes or no")


def _choice(allowed: Mapping[str, Value]) -> Callable[[str], Value]:
    def read(text: str) -> Value:
        by_lower = {name.lower(): value for name, value in allowed.items()}
        if text in allowed:
            return allowed[text]
        if text.lower() in by_lower:
            return by_lower[text.lower()]
        raise Unreadable(f"choose from {', '.join(allowed)}")

    return read


def _or_none(read: Callable[[str], Value]) -> Callable[[str], Value]:
    return lambda text: None if text.lower() == "none" else read(text)
