"""Parameters of recipes: read from a signature, filled from texts."""

import enum
import inspect
import math
from typing import Literal

import pytest
from hypothesis import given, strategies as st

from platekit.errors import RecipeError
from platekit.job.parameters import (
    MAX_LENGTH_MM,
    Parameter,
    args_section,
    parameters_of,
    show,
    values_of,
)


class Finish(enum.Enum):
    """How the face is left."""

    RAW = 1
    OILED = 2


def read(function) -> dict[str, Parameter]:
    """Return the parameters of `function` by name."""
    found = parameters_of(
        inspect.signature(function),
        hints=dict(function.__annotations__),
        docstring=function.__doc__ or "",
    )
    return {parameter.name: parameter for parameter in found}


def shelf(  # noqa: D417
    sheet: object,
    *,
    width_mm: float = 300,
    tilt_deg: float = 2.5,
    boards: int = 3,
    open_back: bool = True,
    label: str = "books",
    hand: Literal["left", "right"] = "left",
    finish: Finish = Finish.RAW,
    load_n: float | None = None,
) -> None:
    """Stand books up.

    Args:
        sheet: Not a parameter.
        width_mm: Clear width
            between the walls.
        tilt_deg (float): Lean of the boards.
        boards: How many.

    Returns:
        nothing: to see here.
    """


def test_types_defaults_units_and_help_come_from_the_signature():
    """Every kind of parameter is read with its default, its unit and its line of help."""
    found = read(shelf)
    assert [(p.name, p.kind, show(p.default), p.unit) for p in found.values()] == [
        ("width_mm", "number", "300", "mm"),
        ("tilt_deg", "number", "2.5", "deg"),
        ("boards", "whole number", "3", ""),
        ("open_back", "yes or no", "yes", ""),
        ("label", "text", "books", ""),
        ("hand", "choice", "left", ""),
        ("finish", "choice", "raw", ""),
        ("load_n", "number", "none", "N"),
    ]
    assert found["width_mm"].help == "Clear width between the walls."
    assert found["tilt_deg"].help == "Lean of the boards."
    assert found["label"].help == ""
    assert isinstance(found["width_mm"].default, float)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("width_mm", "12.5", 12.5),
        ("width_mm", " 1e2 ", 100.0),
        ("width_mm", "-3", -3.0),
        ("boards", "4", 4),
        ("open_back", "No", False),
        ("open_back", "on", True),
        ("label", "a = b", "a = b"),
        ("hand", "RIGHT", "right"),
        ("finish", "oiled", Finish.OILED),
        ("load_n", "none", None),
        ("load_n", "20", 20.0),
    ],
)
def test_a_text_becomes_a_value_of_the_type(name, text, value):
    """A text that fits is read as the parameter's own type."""
    got = read(shelf)[name].parse(text)
    assert got == value
    assert type(got) is type(value)


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("width_mm", "wide", "give a number"),
        ("width_mm", "", "give a number"),
        ("width_mm", "nan", "finite"),
        ("width_mm", "-inf", "finite"),
        ("width_mm", "12,5", "decimal point: 12.5"),
        ("width_mm", "12.5 mm", "without its unit: 12.5"),
        ("width_mm", "1e9", "100000 mm"),
        ("boards", "2.5", "whole number"),
        ("open_back", "perhaps", "yes or no"),
        ("hand", "middle", "left, right"),
        ("finish", "painted", "raw, oiled"),
        ("load_n", "nan", "finite"),
    ],
)
def test_a_text_that_does_not_fit_is_refused_by_name(name, text, said):
    """The message names the parameter, what was given, and what would do."""
    with pytest.raises(RecipeError) as refused:
        read(shelf)[name].parse(text)
    assert name in str(refused.value)
    assert said in str(refused.value)


@given(value=st.floats(-MAX_LENGTH_MM, MAX_LENGTH_MM))
def test_any_finite_length_is_read_back(value):
    """A number written by Python is read back as the same number."""
    assert read(shelf)["width_mm"].parse(repr(value)) == value


@given(text=st.text(max_size=12))
def test_no_text_gets_through_as_a_number_that_is_not_finite(text):
    """Whatever is typed, the recipe sees a finite number within 100 m, or nothing at all."""
    try:
        value = read(shelf)["width_mm"].parse(text)
    except RecipeError:
        return
    assert math.isfinite(value)
    assert abs(value) <= MAX_LENGTH_MM


def test_chosen_values_replace_defaults():
    """What is not chosen keeps its default."""
    found = read(shelf).values()
    values = values_of(found, chosen=[("boards", "7"), ("hand", "right")])
    assert values == {
        "width_mm": 300.0,
        "tilt_deg": 2.5,
        "boards": 7,
        "open_back": True,
        "label": "books",
        "hand": "right",
        "finish": Finish.RAW,
        "load_n": None,
    }


@pytest.mark.parametrize(
    ("chosen", "said"),
    [
        ([("widht_mm", "3")], "did you mean width_mm"),
        ([("width", "3")], "did you mean width_mm"),
        ([("zzz", "3")], "known: width_mm, tilt_deg"),
        ([("boards", "3"), ("boards", "4")], "boards is set twice"),
    ],
)
def test_an_unknown_or_repeated_name_is_refused(chosen, said):
    """A name the recipe has not is answered with the near ones, else with all."""
    with pytest.raises(RecipeError, match=said):
        values_of(read(shelf).values(), chosen=chosen)


def _positional(sheet: object, width_mm: float = 3.0) -> None: ...
def _variadic(sheet: object, *widths_mm: float) -> None: ...
def _anything(sheet: object, **widths_mm: float) -> None: ...
def _untyped(sheet: object, *, width_mm=3.0) -> None: ...
def _needed(sheet: object, *, width_mm: float) -> None: ...
def _listed(sheet: object, *, widths_mm: list[float] = []) -> None: ...  # noqa: B006
def _either(sheet: object, *, width: float | str = 3.0) -> None: ...
def _wrong(sheet: object, *, width_mm: float = "3") -> None: ...
def _endless(sheet: object, *, width_mm: float = math.inf) -> None: ...
def _odd(sheet: object, *, hand: Literal["left"] = "up") -> None: ...


@pytest.mark.parametrize(
    ("function", "said"),
    [
        (_positional, "width_mm is positional"),
        (_variadic, r"takes \*widths_mm"),
        (_anything, r"takes \*\*widths_mm"),
        (_untyped, "width_mm has no type"),
        (_needed, "width_mm has no default"),
        (_listed, "widths_mm is a list"),
        (_either, "width is a"),
        (_wrong, "default of width_mm is '3', not a number"),
        (_endless, "default of width_mm is inf"),
        (_odd, "default of hand is 'up', not one of left"),
    ],
)
def test_a_parameter_the_command_line_cannot_fill_is_refused(function, said):
    """A signature that is not a recipe's is refused with the parameter's name."""
    with pytest.raises(RecipeError, match=said):
        read(function)


def test_the_longest_unit_counts():
    """``_n_m`` is a torque, not metres; a name without unit has none."""

    def f(
        sheet: object, *, torque_n_m: float = 1.0, area_mm2: float = 1.0, name: str = ""
    ) -> None: ...

    assert [p.unit for p in read(f).values()] == ["N m", "mm2", ""]


def test_a_docstring_without_args_gives_no_help():
    """No Args section, no help, no fault."""
    assert args_section("Only a summary.") == {}
