"""The public surface: short, deliberate, and where it says it is."""

from __future__ import annotations

import ast
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import platekit


def test_every_public_name_is_there() -> None:
    """Each name in `__all__` loads; there is no other table of names to drift from it."""
    for name in platekit.__all__:
        assert getattr(platekit, name) is not None
    assert set(platekit.__all__) == set(platekit._HOMES)


def test_type_checkers_are_told_the_same() -> None:
    """What is imported for type checkers is what `__getattr__` gives, from the same module."""
    tree = ast.parse(Path(platekit.__file__).read_text(encoding="utf-8"))
    told = {
        alias.name: node.module
        for branch in tree.body
        if isinstance(branch, ast.If)
        for node in branch.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert told == platekit._HOMES
    for name, home in told.items():
        assert getattr(import_module(str(home)), name) is getattr(platekit, name)


def test_importing_is_light() -> None:
    """`import platekit` and the command line's help load none of the heavy libraries."""
    code = (
        "import sys, platekit, platekit.cli\n"
        "heavy = {'numpy', 'shapely', 'ezdxf', 'manifold3d'} & set(sys.modules)\n"
        "print(sorted(heavy))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
