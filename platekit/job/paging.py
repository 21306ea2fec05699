"""The build page of a run: from what a run made to what its page shows."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from platekit.errors import OutputError
from platekit.export.build import BuildRecord, as_bytes
from platekit.export.build_checks import checks_record
from platekit.export.cautions import ESTIMATES, LASER, Caution, once_switched_on
from platekit.export.page.content import content
from platekit.export.page.html import MARK, page_html
from platekit.export.page.page import Page, PageFile, PageSheet
from platekit.job import pictures
from platekit.job.assembling import assembly_record
from platekit.job.billing import bill_of
from platekit.job.drawing_up import DrawnUp
from platekit.job.kinds import kind_of
from platekit.job.options import Options
from platekit.job.recipe import Recipe
from platekit.job.recording import inputs_of, part_record
from platekit.job.run import RECORD, Build
from platekit.job.space import scene_for
from platekit.version import VERSION
from platekit.views.scene import Scene, scene_of_part
from platekit.views.steps import StepView, step_views

PAGE = "page.html"

# What the files of a run are, by how their paths begin.
_WORDS = (
    ("parts/", "one part, cut file"),
    ("sheets/", "a whole sheet, cut file"),
    ("pictures/", "picture"),
    ("sheets.csv", "how full each sheet is"),
    ("offcuts.json", "what is left to keep, as a stock file"),
    ("bill_of_materials.csv", "bill of materials"),
    ("assembly_steps.csv", "steps of assembly"),
    (RECORD, "record of the run"),
    ("", "file"),
)


def page_of(
    recipe: Recipe,
    build: Build,
    *,
    folder: Path | None = None,
    views: tuple[StepView, ...] | None = None,
) -> Page:
    """Return what the page of a run shows.

    Args:
        recipe: The recipe it was made from.
        build: The run, as ``make`` gave it back.
        folder: Where its files would lie. Text files the page carries along; to the others, like
            pictures, it leads where they lie there as they came out of this run. None leads to all
            of them: they are to be written beside the page.
        views: Its steps as pictures where they are at hand already; None has them drawn.
    """
    if build.drawn_up is None or build.record is None:
        message = "a page is made of a finished run"
        raise ValueError(message)
    sheets = tuple(PageSheet(kind=one.sheet.name, nested=one.nested) for one in build.sheets)
    return _page(
        recipe,
        build.drawn_up,
        build.record,
        scene=build.scene,
        sheets=sheets,
        withheld=build.withheld,
        picture=_as_text(build.files.get(pictures.RIG, "")),
        picture_apart=_as_text(build.files.get(pictures.EXPLODED, "")),
        step_views=step_views(build.scene) if views is None else views,
        files=tuple(_files(build.files, folder)),
    )


def drawn_page(
    recipe: Recipe, options: Options, drawn_up: DrawnUp, *, scene: Scene | None = None
) -> Page:
    """Return what the page of a recipe shows before anything is laid on stock.

    Args:
        recipe: The recipe.
        options: What the job was given.
        drawn_up: The recipe drawn up.
        scene: The rig in space where it is at hand already; None has it made.
    """
    record = BuildRecord(
        platekit=VERSION,
        recipe=recipe.name,
        inputs=inputs_of(drawn_up, options, nesting={}),
        parts=tuple(map(part_record, drawn_up.cut)),
        bill_of_materials=bill_of(drawn_up.parts, (), drawn_up.given.items, prices=None),
        findings=drawn_up.findings,
        checks=checks_record(drawn_up.report),
        assembly=assembly_record(drawn_up.given, drawn_up.proof),
    )
    if scene is None:
        scene = scene_for(drawn_up.given, drawn_up.proof)
    return _page(recipe, drawn_up, record, scene=scene)


def page_text(page: Page) -> str:
    """Return the page as the text of one HTML file that needs nothing else."""
    return page_html(content(page))


def require_own(path: Path) -> None:
    """Raise unless a page may be written to `path`: nothing is there, or a page of ours.

    Raises:
        OutputError: Something else is there.
    """
    if not path.exists():
        return
    try:
        ours = path.is_file() and MARK in path.read_text(encoding="utf-8")[:4096]
    except (OSError, ValueError):
        ours = False
    if not ours:
        raise OutputError(
            f"{path} is in the way: it is no page of ours",
            remedy="move it or choose another folder with --out",
        )


def _page(
    recipe: Recipe,
    drawn_up: DrawnUp,
    record: BuildRecord,
    *,
    scene: Scene | None,
    sheets: tuple[PageSheet, ...] = (),
    withheld: bool = False,
    picture: str = "",
    picture_apart: str = "",
    step_views: tuple[StepView, ...] = (),
    files: tuple[PageFile, ...] = (),
) -> Page:
    kinds = {part.name: kind_of(part, drawn_up.parts) for part in drawn_up.given.parts}
    return Page(
        title=drawn_up.given.title,
        record=record,
        sheet=drawn_up.sheet.name,
        summary=recipe.summary,
        parts=drawn_up.parts,
        kinds={name: kind.name for name, kind in kinds.items() if kind is not None},
        sheets=sheets,
        scene=scene or _lone(drawn_up),
        withheld=withheld,
        helps={one.name: one.help for one in recipe.parameters if one.help},
        recipe_text=_text_of(recipe.path),
        files=files,
        picture=picture,
        picture_apart=picture_apart,
        step_views=step_views,
        cautions=tuple(_cautions(drawn_up)),
    )


def _lone(drawn_up: DrawnUp) -> Scene | None:
    """Return a single plate in space."""
    return scene_of_part(drawn_up.parts[0]) if len(drawn_up.parts) == 1 else None


def _as_text(content: str | bytes) -> str:
    return content if isinstance(content, str) else content.decode()


def _cautions(drawn_up: DrawnUp) -> Iterator[Caution]:
    yield LASER
    hazards = once_switched_on(drawn_up.given.hazards)
    if hazards is not None:
        yield hazards
    report = drawn_up.report
    if hazards is not None or any(report.of(family) for family in ("hold", "drive")):
        yield Caution(title="Before anyone relies on it", lines=(ESTIMATES,))


def _text_of(path: Path) -> str:
    """Return the recipe; empty where it cannot be read again, which harms no page."""
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return ""


def _files(files: Mapping[str, str | bytes], folder: Path | None) -> Iterator[PageFile]:
    for path in _in_order(files):
        there = folder is None or _is_same(folder / path, files[path])
        says = next(words for start, words in _WORDS if path.startswith(start))
        yield PageFile(path=path, says=says, there=there, text=_carried(path, files[path]))


def _carried(path: str, content: str | bytes) -> str | None:
    """Return a file that the page carries along: all that is text, but pictures, which it draws."""
    if path.startswith("pictures/") or isinstance(content, bytes):
        return None
    return content


def _in_order(paths: Iterable[str]) -> list[str]:
    """Return paths sorted, those in folders after those beside the page."""
    return sorted(paths, key=lambda path: (path.count("/"), path))


def _is_same(path: Path, content: str | bytes) -> bool:
    try:
        there = path.read_bytes()
    except OSError:
        return False
    return hashlib.sha256(there).digest() == hashlib.sha256(as_bytes(content)).digest()
