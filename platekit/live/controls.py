"""What the page offers to turn: the recipe's own parameters, and the sheet and the beam."""

from __future__ import annotations

import shlex
from collections.abc import Callable, Iterator
from contextlib import suppress

from platekit.errors import PlatekitError, RecipeError
from platekit.job.options import Options
from platekit.job.parameters import UNITS, Parameter, show
from platekit.job.recipe import Recipe
from platekit.job.sheets import job_sheet
from platekit.live.wish import Wish
from platekit.materials import Sheet, beam_for, known_materials


def controls_of(recipe: Recipe, options: Options, wish: Wish) -> dict[str, object]:
    """Return the controls of a recipe as plain JSON, and how they stand.

    ``parameters`` (name, words, kind, unit, default and text as ``--set`` takes them, help,
    choices, may_be_none, fault: why the text is none of its values, or empty), ``sheet``
    (own_material and, unless another is given, usual_thickness_mm), ``materials`` a laser may cut,
    ``kerf_mm`` that is usual for the sheet, ``faults`` of material, thickness_mm and kerf_mm where
    they cannot be had, ``dropped`` names of the wish that the recipe does not know, and
    ``command``, what makes the same files.

    Args:
        recipe: The recipe.
        options: What the command line gave.
        wish: What the page wishes.
    """
    fitting = wish_for(recipe, wish)
    own = job_sheet(recipe.sheet, options=Options())
    used, usual = own, own
    # A wish that cannot be had is told by the run; the controls stand there all the same.
    with suppress(PlatekitError):
        usual = job_sheet(recipe.sheet, options=Options(material=wish.material))
        used = job_sheet(recipe.sheet, options=fitting.on(options))
    return {
        "recipe": recipe.name,
        "parameters": [
            _control(one, fitting.values.get(one.name, show(one.default)))
            for one in recipe.parameters
        ],
        "sheet": {
            "own_material": own.material.name,
            "usual_thickness_mm": usual.thickness_mm,
        },
        "materials": list(known_materials()),
        "kerf_mm": beam_for(used, kerf_mm=None).kerf_mm,
        "faults": dict(_faults(recipe, wish, usual)),
        "wish": fitting.plain(),
        "dropped": sorted(set(wish.values) - set(fitting.values)),
        "command": " ".join(_words(recipe, options, fitting)),
    }


def wish_for(recipe: Recipe, wish: Wish) -> Wish:
    """Return a wish without values for what the recipe no longer offers."""
    known = {one.name for one in recipe.parameters}
    return Wish(
        values={name: text for name, text in wish.values.items() if name in known},
        thickness_mm=wish.thickness_mm,
        material=wish.material,
        kerf_mm=wish.kerf_mm,
    )


def _control(parameter: Parameter, text: str) -> dict[str, object]:
    return {
        "name": parameter.name,
        "words": _words_of(parameter),
        "kind": parameter.kind,
        "unit": parameter.unit,
        "default": show(parameter.default),
        "text": text,
        "help": parameter.help,
        "choices": list(parameter.choices),
        "may_be_none": _may_be_none(parameter),
        "fault": _fault(lambda: parameter.parse(text)),
    }


def _faults(recipe: Recipe, wish: Wish, usual: Sheet) -> Iterator[tuple[str, str]]:
    """Yield what of sheet and beam cannot be had, and why: each by itself, to be said beside it."""
    ways: dict[str, Callable[[], object]] = {
        "material": lambda: job_sheet(recipe.sheet, options=Options(material=wish.material)),
        "thickness_mm": lambda: job_sheet(usual, options=Options(thickness_mm=wish.thickness_mm)),
        "kerf_mm": lambda: beam_for(usual, kerf_mm=wish.kerf_mm),
    }
    for name, way in ways.items():
        fault = _fault(way)
        if fault:
            yield name, fault


def _fault(way: Callable[[], object]) -> str:
    try:
        way()
    except PlatekitError as err:
        return str(err)
    return ""


def _words_of(parameter: Parameter) -> str:
    """Return a name as a person reads it, its unit left to stand beside: "rise" for "rise_mm"."""
    ends = (end for end, unit in UNITS.items() if unit == parameter.unit)
    fitting = [end for end in ends if parameter.name.endswith(end)]
    end = max(fitting, key=len, default="")
    return parameter.name.removesuffix(end).replace("_", " ").strip() or parameter.name


def _may_be_none(parameter: Parameter) -> bool:
    if parameter.choices or parameter.kind == "text":
        return parameter.default is None
    try:
        return parameter.parse("none") is None
    except RecipeError:
        return False


def _words(recipe: Recipe, options: Options, wish: Wish) -> Iterator[str]:
    """Yield the words of the command that makes what is shown."""
    yield "platekit make"
    yield shlex.quote(str(recipe.path))
    defaults = {one.name: show(one.default) for one in recipe.parameters}
    for name, text in wish.values.items():
        if text != defaults[name]:
            yield f"--set {shlex.quote(f'{name}={text}')}"
    if wish.material is not None:
        yield f"--material {shlex.quote(wish.material)}"
    for word, number in (("thickness", wish.thickness_mm), ("kerf", wish.kerf_mm)):
        if number is not None:
            yield f"--{word} {number:.10g}"
    if options.join != Options().join:
        yield f"--join {options.join}"
    for check in options.skip:
        yield f"--skip {shlex.quote(check)}"
    if options.bed_mm is not None:
        yield f"--bed {options.bed_mm[0]:g}x{options.bed_mm[1]:g}"
    if options.grid_mm != Options().grid_mm:
        yield f"--bed-grid {options.grid_mm:.10g}"
