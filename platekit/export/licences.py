"""Licences: what a maker lets others do with a published rig, as text to lay beside it.

A short licence stands in full. Of the long ones only the notice stands, with the address of the
text: a wrong word in a licence is worse than none.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from platekit.errors import PlatekitError, UnknownNameError

LONGEST_AUTHOR = 200
LARGEST_FILE_BYTES = 1_000_000
WIDTH = 78


@dataclass(frozen=True, slots=True, kw_only=True)
class Licence:
    """A licence, ready to be laid beside a work.

    Attributes:
        name: What it is called: its SPDX identifier, or the name of a file.
        text: What it says.
    """

    name: str
    text: str


def licence_of(name: str, *, work: str, author: str) -> Licence:
    """Return one of the licences known by name.

    Args:
        name: Its SPDX identifier, in any letters: "cc-by-4.0".
        work: What is licensed.
        author: Whose it is; may be empty where the licence names nobody.

    Raises:
        UnknownNameError: No licence is known by that name.
        PlatekitError: The licence names its author, and none is given.
    """
    known = {one.casefold(): one for one in LICENCES}
    spdx = known.get(name.casefold())
    if spdx is None:
        raise UnknownNameError.among("licence", name, LICENCES)
    if not author and spdx not in _NAMELESS:
        raise PlatekitError(
            f"the licence {spdx} names the author, and none is given",
            remedy="say who made it: --author NAME",
        )
    return Licence(name=spdx, text=LICENCES[spdx](work, author))


def require_author(author: str) -> str:
    """Return a name as files may carry it, blanks at its ends left out.

    Raises:
        PlatekitError: It is empty, of more than one line, not printable, or longer than 200 signs.
    """
    name = author.strip()
    if not name or not name.isprintable() or len(name) > LONGEST_AUTHOR:
        shown = name if len(name) <= 40 else f"{name[:40]}..."
        raise PlatekitError(
            f"the author is {shown!r}",
            remedy=f"give a name of one line, up to {LONGEST_AUTHOR} signs",
        )
    return name


def _filled(text: str) -> str:
    return textwrap.fill(text, WIDTH, break_on_hyphens=False)


def _share(title: str, short: str, address: str) -> Callable[[str, str], str]:
    def notice(work: str, author: str) -> str:
        says = f"{work} by {author} is licensed under {title} ({short})."
        return f"{_filled(says)}\n\nThe licence, in full and in brief:\n{address}\n"

    return notice


def _nothing_kept(work: str, author: str) -> str:
    who = author or "whoever made it"
    says = (
        f"To the extent possible under law, {who} has waived all copyright and related or "
        f"neighbouring rights to {work}."
    )
    title = "CC0 1.0 Universal (CC0 1.0), Public Domain Dedication"
    address = "https://creativecommons.org/publicdomain/zero/1.0/"
    return f"{title}\n\n{_filled(says)}\n\nThe dedication in full:\n{address}\n"


def _mit(work: str, author: str) -> str:
    return f"{work}\n\nMIT License\n\nCopyright (c) {author}\n\n{_MIT}"


# From memory; a test holds it against a copy that ships with another package.
_MIT = """\
Permission is hereby granted, free of charge, to any person obtaining a copy
of this software and associated documentation files (the "Software"), to deal
in the Software without restriction, including without limitation the rights
to use, copy, modify, merge, publish, distribute, sublicense, and/or sell
copies of the Software, and to permit persons to whom the Software is
furnished to do so, subject to the following conditions:

The above copyright notice and this permission notice shall be included in all
copies or substantial portions of the Software.

THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR
IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY,
FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE
AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER
LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM,
OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE
SOFTWARE.
"""

# By SPDX identifier (ISO/IEC 5962); identifiers, titles and addresses from memory.
LICENCES: Mapping[str, Callable[[str, str], str]] = {
    "CC-BY-4.0": _share(
        "Creative Commons Attribution 4.0 International",
        "CC BY 4.0",
        "https://creativecommons.org/licenses/by/4.0/",
    ),
    "CC-BY-SA-4.0": _share(
        "Creative Commons Attribution-ShareAlike 4.0 International",
        "CC BY-SA 4.0",
        "https://creativecommons.org/licenses/by-sa/4.0/",
    ),
    "CC0-1.0": _nothing_kept,
    "MIT": _mit,
}
_NAMELESS = {"CC0-1.0"}
