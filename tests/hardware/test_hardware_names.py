"""The hardware room's names: each loads, some only when they are asked for."""

import ast
from importlib import import_module
from pathlib import Path

import pytest

from platekit import hardware


@pytest.mark.parametrize("name", hardware.__all__)
def test_every_name_of_the_room_is_there(name):
    """What `__all__` promises can be had."""
    assert getattr(hardware, name) is not None


def test_type_checkers_are_told_the_same_as_is_loaded_later():
    """What is imported for type checkers is what `__getattr__` gives, from the same module."""
    tree = ast.parse(Path(hardware.__file__).read_text(encoding="utf-8"))
    told = {
        alias.name: node.module
        for branch in tree.body
        if isinstance(branch, ast.If)
        for node in branch.body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }
    assert told == {n: f"platekit.hardware.{m}" for n, m in hardware._HOMES.items()}
    for name, home in told.items():
        assert getattr(import_module(str(home)), name) is getattr(hardware, name)
    with pytest.raises(AttributeError, match="no_such_part"):
        _ = hardware.no_such_part
