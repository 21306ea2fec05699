"""Recipes: loaded from a file, chosen, read, and called; faults told with the recipe's own line."""

import sys
from pathlib import Path
from textwrap import dedent

import pytest

from platekit.errors import PlatekitError, RecipeError
from platekit.job.recipe import Recipe, load_recipe
from platekit.materials import birch_plywood

PLATE = """
from platekit.geometry.shapes import rectangle
from platekit.materials import Sheet, birch_plywood
from platekit.panel.plate import Plate
"""


def write(folder: Path, text: str, *, name: str = "bracket.py") -> Path:
    """Write a recipe file and return its path."""
    path = folder / name
    path.write_text(dedent(text), encoding="utf-8")
    return path


def load(folder: Path, text: str, *, name: str = "bracket.py") -> Recipe:
    """Return the recipe that `text` is."""
    return load_recipe(write(folder, PLATE + dedent(text), name=name))


def refusal(folder: Path, text: str, *, name: str = "bracket.py") -> str:
    """Return what is said about a file that is no recipe."""
    with pytest.raises(RecipeError) as refused:
        load_recipe(write(folder, text, name=name))
    return str(refused.value)


BRACKET = '''
def bracket(sheet: Sheet = birch_plywood(4.0), *, width_mm: float = 80.0) -> Plate:
    """Hold a thing.

    Args:
        sheet: What it is cut from.
        width_mm: Along x.
    """
    return Plate("bracket", sheet, rectangle(width_mm, 40.0))
'''


def test_a_recipe_is_read_from_its_file(tmp_path):
    """Name, summary, default sheet and parameters come from file, docstring and signature."""
    recipe = load(tmp_path, BRACKET)
    assert recipe.name == "bracket"
    assert recipe.summary == "Hold a thing."
    assert recipe.sheet == birch_plywood(4.0)
    assert [(one.name, one.default, one.help) for one in recipe.parameters] == [
        ("width_mm", 80.0, "Along x.")
    ]


def test_a_recipe_makes_what_its_function_makes(tmp_path):
    """The sheet and the values reach the function, and its plate comes back."""
    plate = load(tmp_path, BRACKET).call(birch_plywood(9.0), values={"width_mm": 55.0})
    assert plate.sheet == birch_plywood(9.0)
    assert plate.bounds.width_mm == 55.0


def test_annotations_may_be_texts_and_unresolvable(tmp_path):
    """Postponed annotations and names imported for the type checker alone are understood."""
    path = write(
        tmp_path,
        """
        from __future__ import annotations
        from typing import TYPE_CHECKING, Literal
        from platekit.geometry.shapes import rectangle
        from platekit.panel.plate import Plate as P
        if TYPE_CHECKING:
            from platekit.materials import Sheet
            from platekit.panel.plate import Plate

        def bracket(sheet: Sheet, *, side: Literal["in", "out"] = "in") -> Plate:
            return P("bracket", sheet, rectangle(50.0, 40.0))
        """,
    )
    assert [one.choices for one in load_recipe(path).parameters] == [("in", "out")]


def test_nothing_is_written_beside_a_recipe(tmp_path):
    """Neither the recipe nor a module beside it leaves bytecode, and no path stays behind."""
    write(tmp_path, "HEIGHT_MM = 40.0\n", name="sizes_of_the_shop.py")
    before = list(sys.path)
    load(tmp_path, "from sizes_of_the_shop import HEIGHT_MM\n" + BRACKET)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "bracket.py",
        "sizes_of_the_shop.py",
    ]
    assert sys.path == before
    assert not sys.dont_write_bytecode or "PYTHONDONTWRITEBYTECODE" in __import__("os").environ


def test_a_recipe_named_as_a_module_does_not_hide_it(tmp_path):
    """A recipe called json.py leaves the real json alone."""
    load(tmp_path, BRACKET.replace("def bracket", "def json"), name="json.py")
    import json

    assert json.loads("[1]") == [1]


def test_what_a_recipe_prints_stays_out_of_the_answer(tmp_path, capsys):
    """Printing goes to standard error: standard output may be one JSON object."""
    load(tmp_path, 'print("hello")\n' + BRACKET)
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "hello\n"


def test_the_function_named_as_the_file_is_the_recipe(tmp_path):
    """Helpers beside it, public or not, with or without a sheet, do not matter."""
    helpers = """
def wall(sheet: Sheet) -> Plate: ...
def width_of(thing: int) -> float: ...
def _hidden(sheet: Sheet) -> Plate: ...
"""
    assert load(tmp_path, helpers + BRACKET).function.__name__ == "bracket"


def test_the_only_function_that_takes_a_sheet_is_the_recipe(tmp_path):
    """Where none is named as the file, the one that takes a sheet is taken."""
    text = "def width_of(thing: int) -> float: ...\n" + BRACKET
    assert load(tmp_path, text, name="other.py").function.__name__ == "bracket"


def test_a_dash_in_the_file_is_an_underscore_in_the_function(tmp_path):
    """``motor-base.py`` holds ``motor_base``."""
    text = "def wall(sheet: Sheet) -> Plate: ...\ndef motor_base(sheet: Sheet) -> Plate: ...\n"
    assert load(tmp_path, text, name="motor-base.py").function.__name__ == "motor_base"


# --- what is no recipe -----------------------------------------------------------------------


def test_a_missing_file_is_named_and_a_near_one_offered(tmp_path):
    """The message names the file asked for and the one that may be meant."""
    write(tmp_path, "", name="bracket.py")
    with pytest.raises(RecipeError, match=r"no recipe .*braket\.py; did you mean bracket\.py"):
        load_recipe(tmp_path / "braket.py")
    with pytest.raises(RecipeError, match="platekit new shelf"):
        load_recipe(tmp_path / "shelf.py")


@pytest.mark.parametrize("name", ["bracket.txt", "bracket", "bracket.pyc", ".py"])
def test_a_file_of_another_kind_is_refused(tmp_path, name):
    """Only NAME.py is a recipe."""
    (tmp_path / name).write_text("x = 1", encoding="utf-8")
    with pytest.raises(RecipeError, match="not a recipe"):
        load_recipe(tmp_path / name)


def test_a_folder_is_no_recipe(tmp_path):
    """A folder with the name of a recipe cannot be read."""
    (tmp_path / "bracket.py").mkdir()
    with pytest.raises(RecipeError, match="cannot be read"):
        load_recipe(tmp_path / "bracket.py")


@pytest.mark.parametrize("name", ["a:b.py", "..py", "con.py", "x" * 90 + ".py"])
def test_a_name_that_cannot_be_a_folder_is_refused(tmp_path, name):
    """The recipe's name becomes a folder's on every system."""
    with pytest.raises(RecipeError, match="cannot name the folder"):
        load(tmp_path, BRACKET, name=name)


def test_a_recipe_that_does_not_parse_shows_its_own_line(tmp_path):
    """File, line number, the line itself and a mark under the place."""
    said = refusal(tmp_path, "x = 1\nif x = 2:\n    pass\n")
    assert "bracket.py, line 2: it does not parse" in said
    assert "\n  2 | if x = 2:\n" in said
    mark = said.splitlines()[-1]
    assert said.splitlines()[-2][mark.index("^")] == "x"


@pytest.mark.parametrize("content", [b"\xff\xfe\x00x", b"x = '\x00'\n", b"\xe9 = 1\n"])
def test_bytes_that_are_no_text_do_not_parse(tmp_path, content):
    """Binary content is refused as a recipe that does not parse."""
    path = tmp_path / "bracket.py"
    path.write_bytes(content)
    with pytest.raises(RecipeError, match="does not parse"):
        load_recipe(path)


def test_a_module_beside_the_recipe_that_does_not_parse_is_named(tmp_path):
    """The message names the file that is at fault."""
    write(tmp_path, "def (\n", name="broken_bits_of_the_shop.py")
    said = refusal(tmp_path, "import broken_bits_of_the_shop\n")
    assert "broken_bits_of_the_shop.py, line 1: it does not parse" in said


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("width = 1 / 0", "division by zero (ZeroDivisionError)"),
        ("import no_such_thing_anywhere", "No module named 'no_such_thing_anywhere'"),
        ("raise RuntimeError", "RuntimeError"),
        ("exit(3)", "it ends the program (exit 3)"),
        ("import sys; sys.exit('enough')", "it ends the program (exit enough)"),
        ("assert 1 > 2, 'too small'", "too small (AssertionError)"),
        ("raise MemoryError('full')", "full (MemoryError)"),
        ("(lambda f: f(f))(lambda f: f(f))", "calls itself without end"),
        ("raise BaseException('odd')", "odd"),
        ("rectangle(-3.0, 5.0)", "-3"),
    ],
)
def test_a_recipe_that_raises_shows_its_own_line(tmp_path, line, said):
    """While it is loaded: its file, its line, what was raised, and none of our frames."""
    text = f"{PLATE}\n# a comment\n{line}\n"
    told = refusal(tmp_path, text)
    assert f"bracket.py, line 7: {said}" in told or said in told
    assert f"\n  7 | {line}" in told
    assert "Traceback" not in told
    assert "platekit/job" not in told


def test_a_function_that_raises_shows_its_own_line(tmp_path):
    """While it is called: the innermost line of the recipe's own file."""
    recipe = load(
        tmp_path,
        """
def _spacing(count: int) -> float:
    return 100.0 / count

def bracket(sheet: Sheet, *, count: int = 0) -> Plate:
    return Plate("bracket", sheet, rectangle(_spacing(count), 40.0))
""",
    )
    with pytest.raises(RecipeError) as told:
        recipe.call(birch_plywood(6.0), values={"count": 0})
    assert str(told.value).endswith(
        "bracket.py, line 7 in _spacing: float division by zero (ZeroDivisionError)\n"
        "  7 | return 100.0 / count"
    )


def test_an_interrupt_passes_through(tmp_path):
    """Ctrl-C is no fault of the recipe."""
    with pytest.raises(KeyboardInterrupt):
        load_recipe(write(tmp_path, "raise KeyboardInterrupt\n"))


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ("return None", "gives back nothing"),
        ("return [1]", "gives back a list"),
        ("return rectangle(4.0, 5.0)", "gives back a Contour"),
        ("yield 1", "gives back a generator"),
        ("return Plate", "gives back a type"),
    ],
)
def test_what_is_no_plate_is_refused_with_the_line_of_the_function(tmp_path, given, said):
    """A recipe gives back a plate or an assembly; the message shows where it begins."""
    recipe = load(tmp_path, f"def bracket(sheet: Sheet):\n    {given}\n")
    with pytest.raises(RecipeError) as told:
        recipe.call(birch_plywood(6.0), values={})
    assert said in str(told.value)
    assert "\n  5 | def bracket(sheet: Sheet):" in str(told.value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "no public function"),
        ("class Bracket: ...", "no public function"),
        ("def _bracket(sheet: Sheet): ...", "no public function"),
        ("def bracket(): ...", "first parameter of bracket is not a sheet"),
        ("def bracket(width_mm: float = 3.0): ...", "first parameter of bracket is not a sheet"),
        ("def bracket(*, sheet: Sheet): ...", "first parameter of bracket is not a sheet"),
        ("def bracket(*sheets: Sheet): ...", "first parameter of bracket is not a sheet"),
        ("def bracket(sheet): ...", "first parameter of bracket is not a sheet"),
        ("def bracket(sheet: Sheet = 6.0): ...", "default of sheet is 6.0"),
        ("def bracket(sheet: Sheet, width_mm: float = 3.0): ...", "width_mm is positional"),
        ("def bracket(sheet: Sheet, *, width_mm: float): ...", "width_mm has no default"),
        (
            "def left(sheet: Sheet): ...\ndef right(sheet: Sheet): ...",
            "2 public functions, left, right",
        ),
    ],
)
def test_a_file_without_one_recipe_is_refused(tmp_path, text, said):
    """The message says what is missing, or which functions stand side by side."""
    with pytest.raises(RecipeError, match=said) as told:
        load(tmp_path, text)
    assert "bracket.py" in str(told.value)


def test_a_function_from_elsewhere_is_no_recipe_of_the_file(tmp_path):
    """Imported functions do not count."""
    with pytest.raises(RecipeError, match="no public function"):
        load(tmp_path, "from textwrap import dedent, indent\n")


def test_run_recipe_at_load_time_is_told_where_to_go(tmp_path):
    """A file that runs itself without looking whether it is run is told how to."""
    with pytest.raises(PlatekitError, match='if __name__ == "__main__":'):
        load(tmp_path, BRACKET + "\nfrom platekit.cli import run_recipe\nrun_recipe(bracket)\n")
