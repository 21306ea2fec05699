"""``platekit new``: a first recipe, never over an existing file."""

import pytest

from platekit.cli import main


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)


@pytest.mark.parametrize("name", ["bracket", "Motor_Base2", "x.py"])
def test_a_first_recipe_is_written_and_named(tmp_path, capsys, name):
    """NAME.py appears in this folder, and the answer says what to do next."""
    assert main(["new", name]) == 0
    stem = name.removesuffix(".py")
    assert [path.name for path in tmp_path.iterdir()] == [f"{stem}.py"]
    said = capsys.readouterr()
    assert f"platekit make {stem}.py --help" in said.out
    assert said.err == ""


def test_an_existing_file_is_never_touched(tmp_path, capsys):
    """The file stays as it is and the message names it."""
    (tmp_path / "bracket.py").write_text("mine", encoding="utf-8")
    assert main(["new", "bracket"]) == 2
    assert (tmp_path / "bracket.py").read_text(encoding="utf-8") == "mine"
    assert "bracket.py exists already" in capsys.readouterr().err


@pytest.mark.parametrize(
    "name",
    [
        "",
        ".py",
        "../up",
        "a/b",
        "a\\b",
        "2fast",
        "with space",
        "dash-ed",
        "class",
        "con",
        "platekit",
        "caf\u00e9",
        "x" * 41,
        "a\n",
    ],
)
def test_a_name_that_cannot_be_a_function_and_a_file_is_refused(tmp_path, capsys, name):
    """Exit 2, one message with the name, nothing written."""
    assert main(["new", name]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("platekit: a recipe cannot be called")
    assert list(tmp_path.iterdir()) == []


def test_a_full_disk_leaves_no_half_recipe(tmp_path, capsys, monkeypatch):
    """When writing fails halfway the file goes again."""
    import platekit.cli.new as writer

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(writer, "first_recipe", full)
    assert main(["new", "bracket"]) == 2
    assert "No space left" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
