"""A page as a value: all that the build page shows, before it is words and figures."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from platekit.export.build import BuildRecord
from platekit.export.cautions import Caution
from platekit.nesting import NestedSheet
from platekit.panel.part import Part
from platekit.views.scene import Scene
from platekit.views.steps import StepView


@dataclass(frozen=True, slots=True, kw_only=True)
class PageSheet:
    """One nested sheet: what it is cut from, in words, and what lies on it."""

    kind: str
    nested: NestedSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFile:
    """Another file of the run.

    Attributes:
        path: Where it lies, from the folder of the page.
        says: What it is, in words.
        there: Whether it lies there as this run writes it: only then the page leads to it.
        text: The file itself, for a page that carries it along; None for one that does not.
    """

    path: str
    says: str
    there: bool
    text: str | None = None


@dataclass(frozen=True, eq=False, slots=True, kw_only=True)
class Page:
    """What a build page shows.

    Attributes:
        title: What the plate or the assembly is called.
        record: The record of the run.
        sheet: What it is cut from, in words.
        summary: The recipe in one line.
        parts: Every kind of part, in the order of the record.
        kinds: Which kind of part every plate of the rig is a piece of, by the plate's name.
        sheets: The nested sheets; none where nothing was laid on stock.
        scene: The rig in space; None where it is not shown in space.
        withheld: Whether cut files are withheld because a finding says stop.
        helps: What a recipe says of its parameters, by their names.
        recipe_text: The recipe itself; empty where it is not shown.
        files: Other files of the run.
        cautions: What can hurt.
        picture: The rig as a line drawing, text of an SVG file; empty for none.
        picture_apart: The same, taken apart.
        step_views: Each step of assembly as a picture; none where they are not drawn.
    """

    title: str
    record: BuildRecord
    sheet: str
    summary: str = ""
    parts: tuple[Part, ...] = ()
    kinds: Mapping[str, str] = field(default_factory=dict)
    sheets: tuple[PageSheet, ...] = ()
    scene: Scene | None = None
    withheld: bool = False
    helps: Mapping[str, str] = field(default_factory=dict)
    recipe_text: str = ""
    files: tuple[PageFile, ...] = ()
    cautions: tuple[Caution, ...] = ()
    picture: str = ""
    picture_apart: str = ""
    step_views: tuple[StepView, ...] = ()
