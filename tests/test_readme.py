"""What the README shows must run as it stands."""

from __future__ import annotations

import re
from pathlib import Path

from platekit.cli import main

README = Path(__file__).parent.parent / "README.md"


def test_the_recipe_runs_and_is_short(tmp_path: Path) -> None:
    """The recipe in the README makes its parts with no findings, in about 30 lines."""
    blocks = re.findall(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
    (recipe,) = [block for block in blocks if "run_recipe" in block]
    lines = [line for line in recipe.splitlines() if line.strip()]
    assert len(lines) <= 36
    file = tmp_path / "winding_drive.py"
    file.write_text(recipe, encoding="utf-8")
    assert main(["make", str(file), "--out", str(tmp_path / "out")]) == 0
    made = {path.stem for path in (tmp_path / "out/winding_drive/parts").glob("*.dxf")}
    assert made == {"base", "upright", "left brace", "right brace"}


def test_every_command_is_one_the_tool_knows() -> None:
    """Options named in the README are options of the command line."""
    from platekit.cli.arguments import parser

    text = README.read_text(encoding="utf-8")
    known = parser().format_help() + "".join(
        sub.format_help()
        for action in parser()._actions
        if hasattr(action, "choices") and isinstance(action.choices, dict)
        for sub in action.choices.values()
    )
    told = "\n".join(line for line in text.splitlines() if "platekit " in line)
    for option in set(re.findall(r"(?<=\s)--[a-z]+", told)):
        assert option in known, option


def test_pictures_and_links_exist() -> None:
    """Every file the README points at is in the project."""
    text = README.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#:]+)\)", text):
        assert (README.parent / target).exists(), target
