"""What the page is told, and how errors become a place in a file."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path

import pytest

from platekit.errors import PartError, RecipeError
from platekit.job.recipe import load_recipe
from platekit.live.desk import Desk, as_event
from platekit.live.messages import CONTENT, DONE, PROBLEM, STAGE, Message
from platekit.live.problem import Problem, problem_of, read_problem
from platekit.materials import birch_plywood


def message(kind: str, run: int, said: object) -> Message:
    """Return a message as the worker's speaker writes it."""
    return Message(kind, run, json.dumps(said, separators=(",", ":")).encode())


def test_the_last_good_content_stays_until_there_is_better():
    """Old from the moment a new run begins, and through its trouble; never taken away."""
    told: list[Problem] = []
    desk = Desk(told=told.append)
    assert desk.status()["old"] is False
    desk.begin(1)
    desk.hear(message(CONTENT, 1, {"depth": "laid", "content": {"recipe": "a"}}))
    desk.hear(message(DONE, 1, {"files": [], "printed": ""}))
    good = desk.content
    assert (desk.depth, desk.status()["old"], desk.stage) == ("laid", False, "")
    desk.begin(2)
    desk.hear(message(STAGE, 2, "running the recipe"))
    assert desk.status()["old"] is True
    desk.hear(message(PROBLEM, 2, Problem(says="no", file="a.py", line=3).plain()))
    desk.hear(message(DONE, 2, {"files": [], "printed": ""}))
    assert (desk.content, desk.status()["old"], desk.stage) == (good, True, "")
    assert told == [Problem(says="no", file="a.py", line=3)]
    desk.begin(3)
    assert desk.problem is not None
    desk.hear(message(CONTENT, 3, {"depth": "drawn", "content": {"recipe": "b"}}))
    assert (desk.problem, desk.status()["old"], desk.depth) == (None, False, "drawn")


def test_news_comes_at_once_and_ends_with_the_desk():
    """A listener hears how it stands, then each change, then the end."""

    async def listen() -> list[object]:
        desk = Desk()
        heard: list[object] = []

        async def follow() -> None:
            heard.extend([status["stage"] async for status in desk.news()])

        following = asyncio.create_task(follow())
        await asyncio.sleep(0)
        desk.hear(message(STAGE, 1, "nesting"))
        await asyncio.sleep(0.01)
        desk.close()
        await asyncio.wait_for(following, 1)
        return heard

    assert asyncio.run(listen()) == ["starting", "nesting"]


def test_an_event_is_one_line_of_data_and_when_to_come_again():
    """WHATWG HTML, section 9.2.6: lines within a text must not end the event."""
    text = as_event({"problem": "one\ntwo\r\n\nthree"})
    assert text.startswith("data: {")
    assert text.endswith("\n\n")
    assert text.count("\n") == 3
    assert "\nretry: 1000\n\n" in text


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        pytest.param("def base(:\n", 1, "it does not parse", id="no Python"),
        pytest.param("x = 1\ny = 1 / 0\n", 2, "division by zero", id="raises while read"),
        pytest.param(
            "from platekit import Sheet\ndef base(sheet: Sheet):\n    raise ValueError('a: b')\n",
            3,
            "a: b (ValueError)",
            id="raises when called",
        ),
        pytest.param("def base(width):\n    pass\n", 1, "the first parameter", id="no sheet"),
    ],
)
def test_a_mistake_is_told_by_its_line(tmp_path, text, line, says):
    """File and line are those an editor shows; the quoted line is the one that stands there."""
    path = tmp_path / "base.py"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(RecipeError) as caught:
        load_recipe(path).call(birch_plywood(6.0), values={})
    problem = problem_of(caught.value, recipe=path)
    assert (problem.file, problem.line) == (str(path), line)
    assert problem.says.startswith(says)
    assert text.splitlines()[line - 1].strip() in problem.quoted
    assert "\n" not in problem.says


def test_a_mistake_in_a_module_beside_it_is_told_by_the_modules_line(tmp_path):
    """What does not parse is named where it stands, not where it is imported."""
    module = tmp_path / "sizes_askew.py"
    module.write_text("a = 1\nb = = 2\n", encoding="utf-8")
    path = tmp_path / "base.py"
    path.write_text("import sizes_askew\n", encoding="utf-8")
    with pytest.raises(RecipeError, match="parse") as caught:
        load_recipe(path)
    problem = problem_of(caught.value, recipe=path)
    assert (Path(problem.file).name, problem.line) == ("sizes_askew.py", 2)


def test_the_very_signs_that_fail_are_marked(tmp_path):
    """As Python's own traceback underlines them (PEP 657), counted in signs and not in bytes."""
    path = tmp_path / "base.py"
    text = 'NAME = "K\u00e4se"; WIDE = len(NAME) + 1 / (len(NAME) - 4)\n'
    path.write_text("# one\n" + text + "# three\n", encoding="utf-8")
    with pytest.raises(RecipeError) as caught:
        load_recipe(path)
    problem = problem_of(caught.value, recipe=path)
    assert problem.mark is not None
    first, end = problem.mark
    assert text[first:end] == "1 / (len(NAME) - 4)"
    assert [number for number, _ in problem.about] == [1, 2, 3]
    assert problem.about[1][1] == text.rstrip()
    # It comes through the process's own lines unharmed.
    assert read_problem(json.loads(json.dumps(problem.plain()))) == problem


def test_what_a_helper_raises_is_told_there_and_by_who_called(tmp_path):
    """The innermost line of one's own code is the one to mend; the recipe's line is told too."""
    folder = tmp_path / "helpers_deep"
    folder.mkdir()
    (folder / "sizes.py").write_text("def half(x):\n    return x / 0\n", encoding="utf-8")
    path = tmp_path / "base.py"
    path.write_text("from helpers_deep.sizes import half\n\nhalf(3)\n", encoding="utf-8")
    with pytest.raises(RecipeError) as caught:
        load_recipe(path)
    problem = problem_of(caught.value, recipe=path)
    assert (Path(problem.file).name, problem.line, problem.inside) == ("sizes.py", 2, "half")
    assert problem.called_from == 3
    assert "x / 0" in problem.quoted


def test_a_part_that_cannot_be_made_is_looked_for_by_its_name(tmp_path):
    """When joints are dealt no line of the recipe runs; its name stands somewhere in it."""
    path = tmp_path / "base.py"
    path.write_text('A = 1\nB = ["floor", "lid"]\nC = "lid"\n', encoding="utf-8")
    err = PartError("it is askew", part="floor + lid", feature="hole 7", remedy="mend it")
    problem = problem_of(err, recipe=path)
    assert (problem.line, problem.perhaps) == (2, True)
    assert problem.mark is not None
    assert 'B = ["floor", "lid"]'[slice(*problem.mark)] == '"floor"'
    assert str(problem) == "floor + lid / hole 7: it is askew; mend it"


def test_an_error_without_a_line_names_the_recipe():
    """A part that cannot be made says which; whose line it was nobody knows."""
    err = PartError("diameter is -3 mm", part="lid", feature="hole 2", remedy="give more")
    problem = problem_of(err, recipe=Path("base.py"))
    assert (problem.file, problem.line) == ("base.py", None)
    assert problem.says == "lid / hole 2: diameter is -3 mm; give more"
    assert "fault in platekit" in problem_of(ZeroDivisionError("x"), recipe=Path("b.py")).says
