"""Started again, a page lives where it lived; nobody else can tell where."""

from __future__ import annotations

import os
from contextlib import closing
from pathlib import Path

import pytest

from platekit.live.address import open_place

pytestmark = pytest.mark.skipif(os.name != "posix", reason="rights of files are POSIX's")
SECRET = Path("platekit") / "show-secret"


@pytest.fixture(autouse=True)
def state(tmp_path, monkeypatch) -> Path:
    """A state folder of its own (XDG Base Directory Specification: XDG_STATE_HOME)."""
    folder = tmp_path / "state"
    monkeypatch.setenv("XDG_STATE_HOME", str(folder))
    return folder


def address_of(recipe: Path, port: int | None = None) -> str:
    """Return where a recipe is shown, its port free again."""
    place = open_place(port, recipe)
    with closing(place.sock):
        return place.address


def test_the_same_recipe_the_same_address(state, tmp_path):
    """Another recipe, or another user's secret, another one; the secret is nobody else's."""
    first = address_of(tmp_path / "a.py")
    assert address_of(tmp_path / "a.py") == first
    other = address_of(tmp_path / "b.py")
    assert other.split("/")[3] != first.split("/")[3]
    assert (state / SECRET).stat().st_mode & 0o077 == 0
    (state / SECRET).unlink()
    assert address_of(tmp_path / "a.py").split("/")[3] != first.split("/")[3]


def test_ports_are_those_for_whoever_comes(tmp_path):
    """49152 to 65535: RFC 6335, section 6. A key holds at least 120 bits of letters."""
    for name in "abcdefgh":
        _, _, where, key, _ = address_of(tmp_path / f"{name}.py").split("/")
        assert 49_152 <= int(where.split(":")[1]) <= 65_535
        assert len(key) * 6 >= 120


def test_two_at_once_share_no_port(tmp_path):
    """The second takes any that is free."""
    first, second = (open_place(None, tmp_path / "a.py") for _ in range(2))
    with closing(first.sock), closing(second.sock):
        assert first.port != second.port
        assert first.key == second.key


@pytest.mark.parametrize("spoilt", ["short", "seen by others", "a folder"])
def test_a_secret_that_is_none_is_not_used(state, tmp_path, spoilt):
    """Then the key is another each time, rather than one that can be guessed."""
    path = state / SECRET
    path.parent.mkdir(parents=True)
    if spoilt == "a folder":
        path.mkdir()
    else:
        path.write_bytes(b"x" * (3 if spoilt == "short" else 32))
        path.chmod(0o600 if spoilt == "short" else 0o644)
    keys = {address_of(tmp_path / "a.py").split("/")[3] for _ in range(2)}
    assert len(keys) == 2
