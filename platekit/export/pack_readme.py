"""The page of text that lies on top of a pack: what is in it, how to print, cut and build it."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.cutting.drawing import Layer
from platekit.export.cautions import Caution
from platekit.export.palette import PALETTE
from platekit.version import VERSION

WIDTH = 78

# What lies in the folder of a thickness, by how its path begins; told where it is there.
_WORDS = (
    ("page.html", "the whole build as one page, for any browser, offline"),
    ("plans.pdf", "plans on paper: full size, dimensioned, step by step"),
    ("rig.glb", "the rig in space (glTF 2.0), for any viewer of 3-D files"),
    ("assembly_steps.csv", "the order in which it goes together, as a table"),
    ("bill_of_materials.csv", "what to buy and what to cut"),
    ("sheets/", "cut files: whole sheets, parts laid close (DXF, SVG)"),
    ("parts/", "cut files: one for each kind of part (DXF, SVG)"),
    ("pictures/", "pictures for people, not for the laser"),
    ("sheets.csv", "how full each sheet is"),
    ("offcuts.json", "what is left of the sheets"),
    ("build.json", "the record: every input, part and finding"),
)
# The colour of a layer in words; the hex value stands with it.
_LAYERS = (
    (Layer.SCORE, "burn a line into the face, first and at low power"),
    (Layer.INSIDE_CUT, "cut through: holes, before what they lie in comes loose"),
    (Layer.OUTSIDE_CUT, "cut through: the outside, last"),
    (Layer.NOTE, "leave out: for people to read"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PackedRun:
    """One thickness in a pack.

    Attributes:
        folder: Where its files lie in the pack.
        sheet: What it is cut from, in words.
        says: How much there is to cut.
        kerf_mm: Width of the cut that its cut files allow for.
        kerf_source: Where that comes from.
        paths: Its files, within the folder.
        withheld: Whether a finding keeps back its cut files.
        overruled: Whether a finding says stop and the cut files are there all the same.
        stops: The findings that say stop.
    """

    folder: str
    sheet: str
    says: str
    kerf_mm: float
    kerf_source: str
    paths: tuple[str, ...]
    withheld: bool
    overruled: bool
    stops: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Readme:
    """What the text tells.

    Attributes:
        title: What the plate or the assembly is called.
        summary: What it is, in a line; may be empty.
        author: Who made it; may be empty.
        runs: Every thickness.
        recipe: Path of the recipe in the pack.
        licence: Name of the licence; empty where none was chosen.
        licence_path: Path of its text in the pack.
        command: The command that made the pack.
        repeatable: Whether the same command makes the same files again.
        cautions: What to mind.
    """

    title: str
    summary: str
    author: str
    runs: tuple[PackedRun, ...]
    recipe: str
    licence: str
    licence_path: str
    command: str
    repeatable: bool
    cautions: tuple[Caution, ...]


def readme_text(told: Readme) -> str:
    """Return the text, lines of 78 signs at most where words allow it."""
    lines = [told.title, "=" * len(told.title), ""]
    lines += _wrapped(told.summary)
    lines += _wrapped(f"By {told.author}." if told.author else "")
    parts = [
        ("What is in here", _contents(told)),
        ("Printing", _printing(told.runs)),
        ("Cutting", _cutting(told.runs)),
        ("Putting it together", _assembling(told.runs)),
        *((one.title, _caution(one)) for one in told.cautions),
        ("Licence", _licence(told)),
        ("Where it comes from", _origin(told)),
    ]
    for title, body in parts:
        listed = list(body)
        if listed:
            lines += ["", title, "-" * len(title), "", *listed]
    return "\n".join(lines) + "\n"


def _contents(told: Readme) -> Iterator[str]:
    yield from _wrapped(
        "A folder for each thickness of sheet, whole in itself. Measure your sheet and take the "
        "folder nearest to what it measures, not to what it is sold as: slots and fingers are "
        "drawn to that."
    )
    yield ""
    for run in told.runs:
        yield from _item(f"{run.folder}/", f"{run.sheet}: {run.says}")
        if run.withheld:
            yield from _item("", "NO CUT FILES, NO PLANS: a finding says stop.")
            for stop in run.stops:
                yield from _item("", f"stop: {stop}")
        elif run.overruled:
            yield from _item("", "CUT FILES THOUGH A FINDING SAYS STOP: read it first.")
            for stop in run.stops:
                yield from _item("", f"stop: {stop}")
    yield ""
    yield "In such a folder:"
    yield ""
    every = {path for run in told.runs for path in run.paths}
    for start, words in _WORDS:
        if any(path.startswith(start) for path in every):
            yield from _item(start, words)
    yield ""
    yield "Beside them:"
    yield ""
    yield from _item(told.recipe, "the recipe all of it was made from")
    if told.licence:
        yield from _item(told.licence_path, "what you may do with it")
    yield from _item("SHA256SUMS", "fingerprints of all files: sha256sum -c SHA256SUMS")


def _printing(runs: Sequence[PackedRun]) -> Iterator[str]:
    if not any("plans.pdf" in run.paths for run in runs):
        return
    yield from _points(
        "print plans.pdf at 100 %, never fitted to the page;",
        "measure the check square on the first sheet before anything is marked out: it says how "
        "large it must be, to half a millimetre;",
        "pages of one part carry crosses: lay them on each other and tape;",
        "the outlines are those of the finished part: saw outside the line and work down to it.",
    )


def _cutting(runs: Sequence[PackedRun]) -> Iterator[str]:
    if all(run.withheld for run in runs):
        return
    yield from _wrapped("Files are in millimetres, in true size. The laser tells by colour:")
    yield ""
    for layer, words in _LAYERS:
        pen = PALETTE.of(layer)
        yield from _item(f"{pen.layer_name}  {pen.colour}", words, indent=24)
    yield ""
    yield from _points(
        f"the width of the cut is in the paths already, {_kerfs(runs)}: set the machine to follow "
        "the lines and to allow for nothing;",
        "cut one small part first and measure it: if your cut is wider or narrower, make the "
        "files anew with your figure, platekit make RECIPE --kerf MM;",
        "holes first, outsides last, on a sheet that lies flat and is held down.",
    )


def _kerfs(runs: Sequence[PackedRun]) -> str:
    """Return the kerf of each folder, its source told once."""
    by_source: dict[str, list[str]] = {}
    for run in runs:
        by_source.setdefault(run.kerf_source, []).append(f"{run.kerf_mm:.3g} mm in {run.folder}/")
    return "; ".join(f"{', '.join(kerfs)} ({source})" for source, kerfs in by_source.items())


def _assembling(runs: Sequence[PackedRun]) -> Iterator[str]:
    if not any("assembly_steps.csv" in run.paths for run in runs):
        return
    yield from _points(
        "dry first: put it together without glue as far as it goes, and take it apart again;",
        "keep to the order of the steps: later parts close the way of earlier ones;",
        "screws and nuts are those of the bill of your folder: their lengths go with the sheet.",
    )


def _caution(one: Caution) -> Iterator[str]:
    yield from _points(*one.lines)
    yield from _wrapped(one.foot)


def _licence(told: Readme) -> Iterator[str]:
    if told.licence:
        yield from _wrapped(f"{told.licence}; see {told.licence_path}.")
    else:
        yield from _wrapped(
            "None was chosen: all rights stay with whoever made it. Ask before you publish or "
            "sell what is in here."
        )


def _origin(told: Readme) -> Iterator[str]:
    yield from _wrapped(f"Made by platekit {VERSION}, with")
    yield ""
    yield f"  {told.command}"
    yield ""
    if told.repeatable:
        yield from _wrapped("The same command makes the same files again.")
    else:
        yield from _wrapped("Its nesting was given a time, so that another run may lay it anew.")


def _points(*texts: str) -> Iterator[str]:
    for text in texts:
        yield from textwrap.wrap(text, WIDTH, initial_indent="- ", subsequent_indent="  ")


def _item(name: str, words: str, *, indent: int = 26) -> list[str]:
    head = f"  {name}".ljust(indent)
    if len(head) > indent:
        return [head.rstrip(), *_item("", words, indent=indent)]
    return textwrap.wrap(words, WIDTH, initial_indent=head, subsequent_indent=" " * indent)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH)
