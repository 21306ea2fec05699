"""Recipes: a Python file with one function that takes a sheet and gives back plates."""

from __future__ import annotations

import difflib
import inspect
import sys
import types
import typing
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from platekit.errors import PartError, RecipeError
from platekit.job.parameters import Parameter, Value, parameters_of
from platekit.job.slips import RECIPE_MODULE, quoted, recipe_at_work

if TYPE_CHECKING:
    from platekit.assembly.assembly import Assembly
    from platekit.materials import Sheet
    from platekit.panel.plate import Plate

Function = Callable[..., object]


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """A recipe ready to be called.

    Attributes:
        name: Name of the file without its ending; names the folder that receives the files.
        path: The file, as the user named it.
        function: The function itself.
        summary: First line of its docstring.
        parameters: What it lets its user choose.
        sheet: The sheet it is drawn for, where its signature has one as default.
    """

    name: str
    path: Path
    function: Function
    summary: str
    parameters: tuple[Parameter, ...]
    sheet: Sheet | None

    def call(self, sheet: Sheet, *, values: Mapping[str, Value]) -> Plate | Assembly:
        """Return what the recipe makes of `sheet` with the parameters at `values`.

        Raises:
            RecipeError: It raises, or gives back neither a plate nor an assembly.
        """
        from platekit.assembly.assembly import Assembly
        from platekit.panel.plate import Plate

        with recipe_at_work(self.path):
            made = self.function(sheet, **values)
        if isinstance(made, Plate | Assembly):
            return made
        given = "nothing" if made is None else f"a {type(made).__name__}"
        raise _refused(
            self.path,
            self.function,
            f"{self.function.__name__} gives back {given}",
            remedy="return a Plate or an Assembly",
        )


def load_recipe(path: Path) -> Recipe:
    """Return the recipe in the file at `path`.

    Args:
        path: A Python file. It is run; nothing is written beside it.

    Raises:
        RecipeError: The file is missing, is not Python, does not parse, raises, or has no
            function, or no single one, that takes a sheet.
    """
    source = _source(path)
    _require_name(path)
    module = types.ModuleType(f"{RECIPE_MODULE}{path.stem}")
    module.__file__ = str(path)
    sys.modules[module.__name__] = module  # where dataclasses and enums look themselves up
    with recipe_at_work(path):
        exec(compile(source, str(path), "exec", dont_inherit=True), module.__dict__)  # noqa: S102
    return recipe_of(_chosen(module, path), path=path)


def recipe_of(function: Function, *, path: Path) -> Recipe:
    """Return `function` as a recipe.

    Args:
        function: Takes a sheet, then keyword parameters with type and default.
        path: The file it stands in.

    Raises:
        RecipeError: Its signature is not that of a recipe.
    """
    signature = inspect.signature(function)
    taken = list(signature.parameters.values())
    hints = _hints(function)
    by_place = taken and taken[0].kind in (
        inspect.Parameter.POSITIONAL_ONLY,
        inspect.Parameter.POSITIONAL_OR_KEYWORD,
    )
    if not by_place or not _is_sheet(hints.get(taken[0].name)):
        raise _refused(
            path,
            function,
            f"the first parameter of {function.__name__} is not a sheet",
            remedy=f"begin it with: def {function.__name__}(sheet: Sheet, ...)",
        )
    doc = inspect.getdoc(function) or ""
    try:
        parameters = parameters_of(signature, hints=hints, docstring=doc)
    except RecipeError as err:
        raise _refused(
            path, function, f"{function.__name__}: {err.problem}", remedy=err.remedy
        ) from err
    return Recipe(
        name=path.stem,
        path=path,
        function=function,
        summary=doc.strip().partition("\n")[0],
        parameters=parameters,
        sheet=_default_sheet(taken[0], path=path, function=function),
    )


def _source(path: Path) -> bytes:
    if path.suffix != ".py":
        raise RecipeError(f"{path} is not a recipe", remedy="give a Python file, NAME.py")
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise RecipeError(f"there is no recipe {path}", remedy=_nearby(path)) from None
    except OSError as err:
        raise RecipeError(f"{path} cannot be read: {err.strerror or err}") from err


def _require_name(path: Path) -> None:
    from platekit.panel.part import require_safe_name

    try:
        require_safe_name(path.stem)
    except PartError as err:
        raise RecipeError(
            f"{path}: its name cannot name the folder of its files", remedy=err.remedy
        ) from err


def _nearby(path: Path) -> str:
    try:
        others = sorted(other.stem for other in path.parent.glob("*.py"))
    except OSError:
        others = []
    near = difflib.get_close_matches(path.stem, others, n=3, cutoff=0.7)
    if near:
        return f"did you mean {' or '.join(f'{stem}.py' for stem in near)}?"
    return f"platekit new {path.stem} writes a first one"


def _chosen(module: types.ModuleType, path: Path) -> Function:
    """Return the one function of the file that is its recipe."""
    own = [
        function
        for name, function in vars(module).items()
        if inspect.isfunction(function)
        and function.__module__ == module.__name__
        and not name.startswith("_")
        and name == function.__name__
    ]
    named = [function for function in own if function.__name__ == path.stem.replace("-", "_")]
    takers = [function for function in own if _takes_sheet(function)]
    for candidates in (named, takers, own):
        if len(candidates) == 1:
            return candidates[0]
    if not own:
        raise RecipeError(
            f"{path}: it has no public function",
            remedy=f"write def {path.stem.replace('-', '_')}(sheet: Sheet) -> Plate",
        )
    raise RecipeError(
        f"{path}: it has {len(own)} public functions, "
        f"{', '.join(function.__name__ for function in own)}",
        remedy=f"call one {path.stem.replace('-', '_')}, as the file, "
        "or begin the others' names with _",
    )


def _takes_sheet(function: Function) -> bool:
    taken = list(inspect.signature(function).parameters)
    return bool(taken) and _is_sheet(_hints(function).get(taken[0]))


def _hints(function: Function) -> dict[str, object]:
    """Return the type of each parameter; one that cannot be resolved stays as it is written."""
    hints: dict[str, object] = {}
    for name, parameter in inspect.signature(function).parameters.items():
        hint = parameter.annotation
        if hint is parameter.empty:
            continue
        if isinstance(hint, str):
            # One by one: a name imported for the type checker alone must not hide the rest.
            stub = types.SimpleNamespace(__annotations__={name: hint}, __wrapped__=None)
            with suppress(NameError, AttributeError, SyntaxError, TypeError):
                known = getattr(inspect.unwrap(function), "__globals__", {})
                hint = typing.get_type_hints(stub, globalns=known)[name]
        hints[name] = hint
    return hints


def _is_sheet(hint: object) -> bool:
    from platekit.materials import Sheet

    return hint is Sheet or (isinstance(hint, str) and hint.rpartition(".")[2] == "Sheet")


def _default_sheet(first: inspect.Parameter, *, path: Path, function: Function) -> Sheet | None:
    from platekit.materials import Sheet

    if first.default is first.empty:
        return None
    if isinstance(first.default, Sheet):
        return first.default
    raise _refused(
        path,
        function,
        f"the default of {first.name} is {first.default!r}, not a sheet",
        remedy="leave it out, or give a sheet",
    )


def _refused(path: Path, function: Function, problem: str, *, remedy: str) -> RecipeError:
    line = inspect.unwrap(function).__code__.co_firstlineno
    return RecipeError(f"{path}, line {line}: {problem}; {remedy}{quoted(path, line)}")
