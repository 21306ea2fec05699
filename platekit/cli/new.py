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


def first_recipe(name: str) -> str:
    """Return the text of a first recipe whose function is called `name`."""
    return _FIRST.replace("NAME", name)


_FIRST = '''"""A first recipe: change it, and make it again.

platekit make NAME.py            its cut files, in out/NAME
platekit make NAME.py --help     its parameters, and all else that can be asked for
"""

from platekit import (
    Plate,
    Sheet,
    birch_plywood,
    bolt_circle,
    corners,
    hole,
    rectangle,
    run_recipe,
)


def NAME(
    sheet: Sheet = birch_plywood(6.0),
    *,
    width_mm: float = 120.0,
    height_mm: float = 100.0,
    bore_mm: float = 40.0,
    pcd_mm: float = 60.0,
    bolts: int = 4,
) -> Plate:
    """A plate that holds a motor by its face.

    Args:
        sheet: What it is cut from; its measured thickness comes with the job.
        width_mm: Width of the plate.
        height_mm: Height of the plate.
        bore_mm: Diameter of the hole in the middle.
        pcd_mm: Diameter of the circle on which the bolts stand.
        bolts: How many M5 bolts hold the motor.
    """
    plate = Plate("NAME", sheet, rectangle(width_mm, height_mm, fillet_mm=8.0))
    return plate.with_features(
        hole(bore_mm, name="motor bore"),
        bolt_circle(bolts, "M5", pcd_mm=pcd_mm, start_deg=45.0, name="motor bolts"),
        hole("M6", at=corners(inset_mm=12.0), name="foot"),
    )


if __name__ == "__main__":
    run_recipe(NAME)
'''
