"""The terminal: colours and progress only where a person looks."""

import io

import pytest

from platekit.cli.terminal import ProgressLine, colours_wanted, tinted


class Screen(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Return True."""
        return True


@pytest.fixture(autouse=True)
def _plain_environment(monkeypatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")


def test_a_pipe_gets_no_progress():
    """Nothing is written to what is no terminal, however long it takes."""
    pipe = io.StringIO()
    line = ProgressLine(stream=pipe, began=-100.0)
    line("nesting", 0.5)
    line.wipe()
    assert pipe.getvalue() == ""


def test_short_work_shows_no_progress():
    """Within the first second the terminal stays as it is."""
    screen = Screen()
    line = ProgressLine(stream=screen)
    line("nesting", 0.5)
    line.wipe()
    assert screen.getvalue() == ""


def test_long_work_says_what_goes_on_and_leaves_no_trace():
    """After a second the stage, its share and the time stand on one line, which is wiped."""
    screen = Screen()
    line = ProgressLine(stream=screen, began=-100.0)
    line("nesting", 0.5)
    assert "nesting  50 %" in screen.getvalue()
    assert "\n" not in screen.getvalue()
    line.wipe()
    last = screen.getvalue().split("\r")
    assert last[-1] == ""
    assert last[-2].strip() == ""
    assert len(last[-2]) >= len(last[1])


def test_no_color_is_respected(monkeypatch):
    """NO_COLOR set to anything (no-color.org) and TERM=dumb switch colours off."""
    screen = Screen()
    assert colours_wanted(screen)
    assert "\x1b[" in tinted("x", 31, stream=screen)
    assert not colours_wanted(io.StringIO())
    monkeypatch.setenv("NO_COLOR", "1")
    assert tinted("x", 31, stream=screen) == "x"
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not colours_wanted(screen)
