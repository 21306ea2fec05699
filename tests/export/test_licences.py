"""Licences: the one that stands in full against the copy another package ships."""

from __future__ import annotations

import re
from importlib import metadata

import pytest

from platekit.errors import PlatekitError, UnknownNameError
from platekit.export.licences import LICENCES, licence_of, require_author


def words(text: str) -> str:
    """Return a text without regard to how its lines are broken."""
    return " ".join(text.split())


def test_the_mit_licence_is_the_one_that_ships_with_pytest():
    """The same words after the line that names whose it is (pytest's own LICENSE file)."""
    (path,) = (one for one in metadata.files("pytest") if one.name == "LICENSE")
    theirs = words(path.read_text(encoding="utf-8")).partition("Permission is")
    ours = words(licence_of("MIT", work="rig", author="A. Maker").text).partition("Permission is")
    assert theirs[1]
    assert ours[2] == theirs[2]
    assert "Copyright (c) A. Maker" in ours[0]


@pytest.mark.parametrize(
    ("name", "address", "title"),
    [
        # Titles and addresses of the public licences, from memory.
        (
            "CC-BY-4.0",
            "https://creativecommons.org/licenses/by/4.0/",
            "Creative Commons Attribution 4.0 International",
        ),
        (
            "CC-BY-SA-4.0",
            "https://creativecommons.org/licenses/by-sa/4.0/",
            "Creative Commons Attribution-ShareAlike 4.0 International",
        ),
        (
            "CC0-1.0",
            "https://creativecommons.org/publicdomain/zero/1.0/",
            "Public Domain Dedication",
        ),
    ],
)
def test_long_licences_are_notices_with_their_address(name, address, title):
    """The notice names the work, the author, the title and where the text stands."""
    text = licence_of(name.lower(), work="dish_rotator", author="A. Maker").text
    assert address in text
    for said in (title, "dish_rotator", "A. Maker"):
        assert said in words(text)


def test_every_licence_has_an_spdx_identifier():
    """Letters, digits, points and dashes (SPDX 2.3, annex D, from memory)."""
    for name in LICENCES:
        assert re.fullmatch(r"[A-Za-z0-9.-]+", name)
        assert licence_of(name, work="x", author="y").name == name


def test_a_licence_that_is_not_known_offers_the_nearest():
    """A slip of the keyboard is answered with what was meant."""
    with pytest.raises(UnknownNameError, match=r"did you mean .*CC-BY-4\.0"):
        licence_of("CC-BY-4", work="x", author="y")


def test_a_licence_that_names_its_author_needs_one():
    """Only the dedication does without."""
    assert licence_of("CC0-1.0", work="x", author="").text
    for name in set(LICENCES) - {"CC0-1.0"}:
        with pytest.raises(PlatekitError, match="--author"):
            licence_of(name, work="x", author="")


@pytest.mark.parametrize("author", ["", "  ", "two\nlines", "bell\a", "x" * 201])
def test_an_author_is_a_line_of_text(author):
    """What no line of a text file can carry is refused."""
    with pytest.raises(PlatekitError, match="author"):
        require_author(author)


def test_an_author_may_have_any_letters():
    """Names are not ASCII."""
    assert require_author(" Søren Ångström-Łuk ") == "Søren Ångström-Łuk"
