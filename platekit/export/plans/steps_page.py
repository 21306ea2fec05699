"""Steps of assembly on paper: a picture each, what is brought in, what it is held by."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from platekit.export.plans.contents import PlansOf
from platekit.export.plans.line_picture import layup_picture, picture
from platekit.export.plans.printing.furniture import Leaf, check_side_mm, head
from platekit.export.plans.printing.lettering import (
    HEAD_MM as NUMBER_MM,
    LEADING,
    SMALL_MM,
    TEXT_MM,
    broken,
    width_of,
)
from platekit.export.plans.printing.paper import BAR_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.printing.pens import FAINT, Stroke
from platekit.export.plans.printing.press import Press
from platekit.export.step_table import APART, FIRST, GLUE, GLUED, StepLine, layup_words, step_lines
from platekit.views.camera import ISOMETRIC, Camera
from platekit.views.layups import LayUpView
from platekit.views.steps import StepView

AIR_MM = 4.0
# Pictures keep so far off the number of their step.
CLEAR_MM = 1.0
# So many beside and above each other, as long as words leave this share of a cell to the picture.
GRIDS = ((2, 3), (2, 2))
PICTURE_SHARE = 0.5
# Rows grow or shrink by this share of their height, no more.
LEANING = 0.2
LINE_MM = LEADING * SMALL_MM
BORDER = Stroke(width_mm=0.13, colour=FAINT)


@dataclass(frozen=True, slots=True, kw_only=True)
class ToldStep:
    """A step, or what is glued of layers before it.

    Attributes:
        number: Number of the step.
        before: Whether it is what is glued before.
        title: Its heading.
        lines: What to do.
        view: How it looks while it is done; None for no picture.
    """

    number: int
    title: str
    lines: tuple[str, ...]
    view: StepView | LayUpView | None
    before: bool = False


def told_steps(plans: PlansOf) -> tuple[ToldStep, ...]:
    """Return the steps of a rig, ready to be laid out; none where there is but one thing."""
    if plans.assembly is None or len(plans.assembly.steps) < 2:
        return ()
    told = []
    camera = ISOMETRIC
    for line in step_lines(plans.assembly):
        view = next((one for one in plans.step_views if one.number == line.number), None)
        if view is not None and view.layup is not None:
            told.append(_glued_before(line.number, view.layup))
        seen = []
        if view is not None and view.camera != camera:
            camera = view.camera
            seen.append(f"seen from the {_from(camera)}")
        told.append(
            ToldStep(
                number=line.number,
                title=_title(line),
                lines=(*_lines(line, view), *seen),
                view=view,
            )
        )
    return tuple(told)


def _glued_before(number: int, layup: LayUpView) -> ToldStep:
    return ToldStep(
        number=number,
        title=f"{layup.name}: glue {len(layup.layers)} layers first",
        lines=(layup_words(layup), GLUE),
        view=layup,
        before=True,
    )


def steps_leaves(plans: PlansOf, steps: Sequence[ToldStep]) -> Iterator[Leaf]:
    """Yield pages of steps, six or four to a page."""
    page = plans.paper.reading_mm
    grids = [Grid.of(page, columns, rows) for columns, rows in GRIDS]
    grid = next((one for one in grids if _fits(steps, one)), grids[-1])
    for start in range(0, len(steps), grid.count):
        yield _leaf(plans, steps[start : start + grid.count], page, grid)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """How a page is divided among steps.

    Attributes:
        columns: Left end of each column.
        width_mm: Width of a column.
        rows: Lower end and height of each row, the topmost first.
    """

    columns: tuple[float, ...]
    width_mm: float
    rows: tuple[tuple[float, float], ...]

    @property
    def count(self) -> int:
        """How many steps a page holds."""
        return len(self.columns) * len(self.rows)

    @classmethod
    def of(cls, page: tuple[float, float], columns: int, rows: int) -> Grid:
        """Return a page's grid; the upper side of the check square runs between two rows.

        Where that would take more than `LEANING` of a row, all are of one height.
        """
        wide = (page[0] - 2 * MARGIN_MM - (columns - 1) * AIR_MM) / columns
        base = MARGIN_MM + BAR_MM
        high = (page[1] - MARGIN_MM - HEAD_MM - base - (rows - 1) * AIR_MM) / rows
        heights = [high] * rows  # from below
        square = MARGIN_MM + check_side_mm(*page) + AIR_MM / 4
        off = {k: square - (base + k * (high + AIR_MM) - AIR_MM / 2) for k in range(1, rows)}
        below = min(off, key=lambda k: abs(off[k]))
        if abs(off[below]) <= LEANING * high * min(below, rows - below):
            for k in range(rows):
                heights[k] += off[below] / (below if k < below else below - rows)
        ends = [base + sum(heights[:k]) + k * AIR_MM for k in range(rows)]
        return cls(
            columns=tuple(MARGIN_MM + k * (wide + AIR_MM) for k in range(columns)),
            width_mm=wide,
            rows=tuple(zip(ends, heights, strict=True))[::-1],
        )


def _fits(steps: Sequence[ToldStep], grid: Grid) -> bool:
    room = (1 - PICTURE_SHARE) * min(high for _, high in grid.rows)
    return all(_words_mm(one, grid.width_mm) <= room for one in steps)


def _words_mm(step: ToldStep, width_mm: float) -> float:
    lines = sum(len(broken(said, width_mm=width_mm, size_mm=SMALL_MM)) for said in step.lines)
    titles = len(broken(step.title, width_mm=width_mm - 12.0, size_mm=TEXT_MM, bold=True))
    return LINE_MM * lines + LEADING * TEXT_MM * titles + 3.0


def _leaf(plans: PlansOf, steps: Sequence[ToldStep], page: tuple[float, float], grid: Grid) -> Leaf:
    def draw(press: Press, number: str) -> None:
        head(press, leaf, title=plans.name, says=leaf.called, number=number)
        cells = ((left, row) for row in grid.rows for left in grid.columns)
        for step, (left, (bottom, high)) in zip(steps, cells, strict=False):
            _step(press, step, (left, bottom, grid.width_mm, high))

    first, last = steps[0].number, steps[-1].number
    leaf = Leaf(
        width_mm=page[0],
        height_mm=page[1],
        called=f"assembly, step {first}" if first == last else f"assembly, steps {first} to {last}",
        draw=draw,
    )
    return leaf


def _step(press: Press, step: ToldStep, cell: tuple[float, float, float, float]) -> None:
    left, bottom, width, height = cell
    press.box(*cell, stroke=BORDER)
    words = _words_mm(step, width - 4.0)
    x, room = left + 2.0, width - 4.0
    y = bottom + words - TEXT_MM
    number = f"before {step.number}" if step.before else f"{step.number}"
    foot = bottom + height - 2.0 - NUMBER_MM
    press.text(number, x, foot, size_mm=NUMBER_MM, bold=True)
    # A figure in the corner stands clear of most pictures, a word does not.
    above = NUMBER_MM + 2.0 if step.before else 0.0
    frame = (left + 3.0, bottom + words + 2.0, width - 6.0, height - words - 4.0 - above)
    if isinstance(step.view, LayUpView):
        layup_picture(press, step.view, room=frame)
    elif step.view is not None:
        shown = step.view
        wide = width_of(number, size_mm=NUMBER_MM, bold=True)
        clear = (left, foot - CLEAR_MM, x + wide + CLEAR_MM - left, bottom + height - foot)
        picture(press, shown.drawing, room=frame, guides=shown.guides, glue=shown.glue, clear=clear)
    y = press.paragraph(step.title, x, y, width_mm=room, bold=True)
    for said in step.lines:
        y = press.paragraph(said, x, y, width_mm=room, size_mm=SMALL_MM)


def _title(line: StepLine) -> str:
    step = line.step
    whole = f"group {step.brings}: " if step.brings else ""
    where = f" (group {step.heap})" if step.heap else ""
    return f"{whole}{', '.join(step.bring_in)}{where}"


def _lines(line: StepLine, view: StepView | None) -> Iterator[str]:
    # What is glued of layers has been told, with a picture of its own.
    glued = view is not None and view.layup is not None
    for said in line.before:
        if not (glued and said.startswith(GLUED)):
            yield f"before: {said}"
    yield line.moves if line.moves in {FIRST, APART} else f"moves: {line.moves}"
    if line.joins:
        yield f"joins: {'; '.join(line.joins)}"
    if line.screws:
        yield f"screws: {'; '.join(line.screws)}"
    if line.step.belts:
        yield f"belts: {', '.join(line.step.belts)}"
    glues = any(said.startswith(GLUED) for said in line.joins)
    yield from (said for said in line.cautions if said != GLUE or glues or not glued)


def _from(camera: Camera) -> str:
    """Return from where a camera looks, in workshop words: "back left, from below"."""
    turn = camera.azimuth_deg % 360.0
    side = "front" if turn < 90.0 or turn > 270.0 else "back"
    hand = "right" if turn < 180.0 else "left"
    return f"{side} {hand}, from {'below' if camera.elevation_deg < 0 else 'above'}"
