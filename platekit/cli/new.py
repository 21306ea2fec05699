"""``platekit new``: a first recipe that runs as it stands."""

from __future__ import annotations

import keyword
import re
from pathlib import Path

from platekit.cli.arguments import UsageError
from platekit.cli.terminal import say
from platekit.errors import OutputError

# A recipe's name is a function's name, a file's name and a folder's name.
_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]{0,39}")

# Files that a name must not become, whatever the ending (devices of an old operating system),
# and modules a recipe would hide from itself when it is run alone.
_TAKEN = frozenset({"con", "prn", "aux", "nul", "platekit", "numpy", "shapely", "ezdxf"})


def write_first_recipe(name: str, *, folder: Path = Path()) -> int:
    """Write ``NAME.py`` into `folder` and say what to do next; return the exit status.

    Args:
        name: Letters, digits and underscores, beginning with a letter, 40 at most; a trailing
            ``.py`` is dropped.
        folder: Where the file goes.

    Raises:
        UsageError: The name cannot be a function's and a file's name.
        OutputError: The file exists already or cannot be written.
    """
    stem = name.removesuffix(".py")
    if not _NAME.fullmatch(stem) or keyword.iskeyword(stem) or stem.lower() in _TAKEN:
        raise UsageError(
            f"a recipe cannot be called {name!r}",
            remedy="use letters, digits and _, beginning with a letter: motor_base",
        )
    path = folder / f"{stem}.py"
    try:
        file = path.open("x", encoding="utf-8", newline="\n")
    except FileExistsError:
        raise OutputError(
            f"{path} exists already", remedy="choose another name, or move it away"
        ) from None
    except OSError as err:
        raise OutputError(f"{path} cannot be written: {err.strerror or err}") from err
    try:
        with file:
            file.write(first_recipe(stem))
    except OSError as err:
        path.unlink(missing_ok=True)
        raise OutputError(f"{path} cannot be written: {err.strerror or err}") from err
    say(f"wrote {path}")
    say(f"  its parameters:  platekit make {path} --help")
    say(f"  its cut files:   platekit make {path}")
    return 0
