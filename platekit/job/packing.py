"""Packing: a recipe made for one or several thicknesses, as one archive to publish.

Every thickness is a folder that is whole in itself: joints, lengths of screws, plans and page all
go with it. What is the same for all lies beside: recipe, licence, the text that explains.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import chdir
from dataclasses import dataclass, replace
from pathlib import Path

from platekit.errors import PlatekitError, RecipeError, UnknownNameError
from platekit.export.cautions import ESTIMATES, LASER, Caution, once_switched_on
from platekit.export.figures import format_mm
from platekit.export.licences import (
    LARGEST_FILE_BYTES,
    LICENCES,
    Licence,
    licence_of,
    require_author,
)
from platekit.export.pack import pack
from platekit.export.pack_readme import PackedRun, Readme, readme_text
from platekit.findings import Severity
from platekit.hardware.hazards import Hazard
from platekit.job.options import Options
from platekit.job.pack_command import pack_command
from platekit.job.paging import PAGE, page_of, page_text
from platekit.job.planning import PLANS, OnPaper, planned
from platekit.job.progress import Progress, unheard
from platekit.job.recipe import Recipe
from platekit.job.run import Build, make
from platekit.views.steps import step_views

README, LICENCE = "README.txt", "LICENCE.txt"


@dataclass(frozen=True, kw_only=True)
class Packed:
    """A pack, not yet written.

    Attributes:
        recipe: Name of the recipe.
        builds: The run of every thickness, by its folder in the pack.
        files: Every file but the list of sums, by its path in the pack.
        raw: The archive.
    """

    recipe: str
    builds: Mapping[str, Build]
    files: Mapping[str, str | bytes]
    raw: bytes

    @property
    def withheld(self) -> bool:
        """Whether a finding keeps back the cut files of any thickness."""
        return any(build.withheld for build in self.builds.values())


def packed(
    recipe: Recipe,
    options: Options,
    *,
    thicknesses_mm: Sequence[float] = (),
    licence: str = "",
    author: str | None = None,
    progress: Progress = unheard,
) -> Packed:
    """Return a recipe as a pack; nothing is written.

    Args:
        recipe: The recipe.
        options: What its runs are given; its thickness counts where no other is given.
        thicknesses_mm: Measured thickness of the sheet, for each run; none for the recipe's.
        licence: SPDX identifier of a licence that is known, or a text file; empty for none.
        author: Who made it.
        progress: Hears how far it is.

    Raises:
        PlatekitError: The same thickness stands twice, a licence is not known or needs an author,
            a file cannot be read, or a run fails.
    """
    thicknesses = _distinct(thicknesses_mm or [options.thickness_mm])
    who = "" if author is None else require_author(author)
    chosen = _licence(licence, work=recipe.name, author=who)
    source = f"recipe/{recipe.path.name}"
    files: dict[str, str | bytes] = {source: _source(recipe.path)}
    builds: dict[str, Build] = {}
    for thickness_mm in thicknesses:
        with chdir(Path.cwd()):  # a recipe may change the working folder; the next run begins here
            build = make(
                recipe, replace(options, thickness_mm=thickness_mm, glb=True), progress=progress
            )
        folder = _folder(build.sheet.thickness_mm)
        builds[folder] = build
        progress("drawing page and plans")
        whole = {**build.files, **_beside(recipe, build)}
        files |= {f"{folder}/{path}": content for path, content in whole.items()}
    if chosen is not None:
        files[LICENCE] = chosen.text
    files[README] = readme_text(
        Readme(
            title=next(iter(builds.values())).title,
            summary=recipe.summary,
            author=who,
            runs=tuple(_told(folder, build, files) for folder, build in builds.items()),
            recipe=source,
            licence="" if chosen is None else chosen.name,
            licence_path=LICENCE,
            command=pack_command(recipe, options, thicknesses, licence=licence, author=author),
            repeatable=options.spacing.seconds is None,
            cautions=tuple(_cautions(builds.values())),
        )
    )
    return Packed(recipe=recipe.name, builds=builds, files=files, raw=pack(recipe.name, files))


def _beside(recipe: Recipe, build: Build) -> dict[str, str | bytes]:
    """Return what shows a run besides its own files: its plans, and the page that leads to all.

    Plans in true size are as good as cut files: what is withheld has none.
    """
    plans: dict[str, str | bytes] = {}
    views = step_views(build.scene)
    if build.drawn_up is not None and not build.withheld:
        plans[PLANS] = planned(
            build.drawn_up, on=OnPaper(), summary=recipe.summary, scene=build.scene, views=views
        ).pdf
    whole = replace(build, files={**build.files, **plans})
    return {PAGE: page_text(page_of(recipe, whole, views=views)), **plans}


def _distinct(thicknesses_mm: Sequence[float | None]) -> tuple[float | None, ...]:
    folders: dict[str, float | None] = {}
    for one in thicknesses_mm:
        name = "" if one is None else _folder(one)
        if name in folders:
            raise PlatekitError(
                f"the thickness {one:g} mm stands twice",
                remedy="give each --thickness once",
            )
        folders[name] = one
    return tuple(folders.values())


def _folder(thickness_mm: float) -> str:
    return f"{format_mm(thickness_mm, decimals=2)}mm"


def _licence(name: str, *, work: str, author: str) -> Licence | None:
    if not name:
        return None
    path = Path(name)
    if name.casefold() in {one.casefold() for one in LICENCES}:
        return licence_of(name, work=work, author=author)
    if not (path.suffix or len(path.parts) > 1 or os.path.lexists(path)):
        told = UnknownNameError.among("licence", name, LICENCES)
        told.remedy += "; or give a text file"
        raise told
    return Licence(name=path.name, text=_text(path))


def _text(path: Path) -> str:
    """Return a licence file's text, line ends as they are everywhere else in a pack."""
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE_BYTES + 1)
    except OSError as err:
        raise PlatekitError(
            f"the licence {path} cannot be read: {err.strerror or err}",
            remedy=f"give a text file, or one of {', '.join(LICENCES)}",
        ) from err
    if len(raw) > LARGEST_FILE_BYTES:
        raise PlatekitError(
            f"the licence {path} has more than {LARGEST_FILE_BYTES} bytes",
            remedy="give its text alone",
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = ""
    if not text.strip() or "\0" in text:
        raise PlatekitError(
            f"the licence {path} is no text, or empty", remedy="give a text file in UTF-8"
        )
    return text.replace("\r\n", "\n")


def _counted(number: int, noun: str) -> str:
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"


def _source(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as err:
        raise RecipeError(f"{path} cannot be read: {err.strerror or err}") from err


def _told(folder: str, build: Build, files: Mapping[str, str | bytes]) -> PackedRun:
    head = f"{folder}/"
    pieces = _counted(sum(part.quantity for part in build.parts), "piece")
    kinds = _counted(len(build.parts), "kind")
    sheets = _counted(len(build.sheets), "sheet")
    return PackedRun(
        folder=folder,
        sheet=build.sheet.name,
        says=f"{pieces} of {kinds} on {sheets}",
        kerf_mm=build.beam.kerf_mm,
        kerf_source=build.beam.source,
        paths=tuple(path.removeprefix(head) for path in sorted(files) if path.startswith(head)),
        withheld=build.withheld,
        overruled=build.stopped and not build.withheld,
        stops=tuple(str(one) for one in build.findings if one.severity is Severity.STOP),
    )


def _cautions(builds: Iterable[Build]) -> Iterator[Caution]:
    made = list(builds)
    yield LASER
    hazards: dict[Hazard, None] = {}
    for build in made:
        hazards |= dict.fromkeys(build.hazards)
    moving = once_switched_on(hazards)
    if moving is not None:
        yield moving
    reports = [build.drawn_up.report for build in made if build.drawn_up is not None]
    if moving or any(one.of(family) for one in reports for family in ("hold", "drive")):
        yield Caution(title="Before anyone relies on it", lines=(ESTIMATES,))
