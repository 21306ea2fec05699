"""The figure of a drawing: the part to scale, its dimensions, its numbers and radii."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from platekit.export.figures import format_mm
from platekit.export.plans.drawings.dimensions import (
    ABOVE_MM,
    OFF_MM,
    level_dimension,
    level_lines,
    level_text,
    origin_mark,
    upright_dimension,
)
from platekit.export.plans.drawings.edge_mates import Mate
from platekit.export.plans.drawings.edge_notches import Notch
from platekit.export.plans.drawings.hole_table import (
    CORNER,
    Opening,
    is_crowded,
    letter,
    run_number,
    runs_of,
)
from platekit.export.plans.drawings.labels import Field, Label, Named
from platekit.export.plans.drawings.layout import Layout, is_running
from platekit.export.plans.drawings.mate_names import name_mates
from platekit.export.plans.drawings.opening_shape import DIAMETER
from platekit.export.plans.drawings.outline_steps import Step, Steps
from platekit.export.plans.drawings.running import Running, Side, running
from platekit.export.plans.full_size.tiling import edge_points
from platekit.export.plans.printing.furniture import ARM_MM, check_side_mm
from platekit.export.plans.printing.lettering import CAPITAL
from platekit.export.plans.printing.paper import BAR_MM, HEAD_MM, MARGIN_MM
from platekit.export.plans.printing.pens import CENTRE, FAINT, FINE, MATERIAL, SCORED, Stroke
from platekit.export.plans.printing.press import Press
from platekit.geometry.motion import Motion
from platekit.geometry.tables import Floats
from platekit.panel.part import Part

# One group of lines of ISO 128-2 (from memory): 0.35 mm for edges that are seen, half of it for all
# else; the finest that a hole of 4 mm is still open with at 1:5.
EDGE = Stroke(width_mm=0.35)
MARK_MM = 0.18
# Beyond a hole its centre lines run so far; from this reach on they are dash and dot.
CENTRE_BEYOND_MM, LONG_CENTRE_MM = 1.0, 6.0
# Sizes of the type of numbers; the smaller one for all where more than a share would need it.
NUMBERS_MM = (2.5 / CAPITAL, 1.8 / CAPITAL)
MOST_SMALL_SHARE = 0.15
FELT_MM = 0.6
RING_MM = 1.4  # around the corner from which all counts

Spot = tuple[float, float]
DECIMALS = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What is drawn: a part, what its table tells, its dimensions, and where on the page."""

    part: Part
    openings: tuple[Opening, ...]
    notches: tuple[Notch, ...]
    steps: Steps
    layout: Layout
    mates: tuple[Mate, ...] = ()

    @property
    def scale(self) -> float:
        """Scale of the drawing."""
        return float(self.layout.scale)

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the part on the page."""
        box = self.part.profile.bounds
        return box.width_mm * self.scale, box.height_mm * self.scale

    def on_page(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Return where a place, counted from the corner of the part's bounds, lies on the page."""
        left, bottom = self.layout.corner
        return left + x_mm * self.scale, bottom + y_mm * self.scale


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What came of a figure: how many numbers found no room, how many names of mates did."""

    left_out: int
    mates: int


def drawn_figure(press: Press, figure: Figure) -> Drawn:
    """Draw the figure; return what words below it have to say of it."""
    (left, bottom), (width, height) = figure.layout.corner, figure.size_mm
    page_width, page_height = figure.layout.page_mm
    field = Field(
        (MARGIN_MM, MARGIN_MM + BAR_MM, page_width - MARGIN_MM, page_height - MARGIN_MM - HEAD_MM),
        (left, bottom, left + width, bottom + height),
    )
    _part(press, figure)
    several = list(_running(figure))
    marks = list(_centres(figure))
    for stroke, pair in marks:
        press.lines(pair, stroke=stroke)
        field.take_lines(pair)
    for one in several:
        one.draw(press)
        field.take_lines(one.lines)
        for text in one.figures:
            field.take(text.box)
    _overall(press, figure, field)
    if figure.openings or figure.notches or figure.steps.corners or several:
        origin_mark(press, left, bottom)
        field.take((left - RING_MM, bottom - RING_MM, left + RING_MM, bottom + RING_MM))
    field.take_points(_edge_points(figure))
    field.take_lines(_square(page_width, page_height))
    labels, left_out = _labels(figure, field)
    for label in labels:
        label.draw(press)
    for hole in figure.openings:
        (x, y), half = figure.on_page(*hole.middle_mm), [s / 2 * figure.scale for s in hole.size_mm]
        field.take((x - half[0], y - half[1], x + half[0], y + half[1]))
    mates = name_mates(press, field, figure.mates, corner=(left, bottom), scale=figure.scale)
    return Drawn(left_out=left_out, mates=mates)


def _part(press: Press, figure: Figure) -> None:
    part, scale = figure.part, figure.scale
    box = part.profile.bounds
    home = Motion(dx_mm=-box.left, dy_mm=-box.bottom)
    profile = part.profile.moved(home)
    with press.moved(*figure.layout.corner, scale=scale):
        press.chains(profile.rings, stroke=None, fill=MATERIAL)
        marks = [mark for mark in part.marks if not mark.is_name]
        for layer, colour in (("score", SCORED), ("note", FAINT)):
            drawn = [mark.path.moved(home) for mark in marks if mark.layer == layer]
            press.chains(drawn, stroke=Stroke(width_mm=MARK_MM / scale, colour=colour))
        press.chains(profile.rings, stroke=Stroke(width_mm=EDGE.width_mm / scale))


def _square(width_mm: float, height_mm: float) -> list[tuple[Spot, Spot]]:
    """Return the upper corners of the page's check square, which may lie over the part."""
    side = check_side_mm(width_mm, height_mm)
    left, top = MARGIN_MM, MARGIN_MM + side
    right = left + side
    return [
        ((left, top), (left + ARM_MM, top)),
        ((right - ARM_MM, top), (right, top)),
        ((right, top - ARM_MM), (right, top)),
    ]


def _edge_points(figure: Figure) -> Floats:
    profile = figure.part.profile
    box = profile.bounds
    points = edge_points(profile.rings, step_mm=FELT_MM / figure.scale)
    home = np.array([box.left, box.bottom])
    found: Floats = (points - home) * figure.scale + np.array(figure.layout.corner)
    return found


def _running(figure: Figure) -> Iterator[Running]:
    steps = figure.steps
    sides: tuple[tuple[Side, tuple[Step, ...]], ...] = (
        ("bottom", steps.bottom),
        ("top", steps.top),
        ("left", steps.left),
        ("right", steps.right),
    )
    for side, shown in sides:
        if is_running(shown):
            yield running(
                side,
                shown,
                corner=figure.layout.corner,
                size_mm=figure.size_mm,
                scale=figure.scale,
                text_mm=figure.layout.figure_mm,
            )


def _overall(press: Press, figure: Figure, field: Field) -> None:
    """Draw the dimensions from end to end where a side has no other, and diameters."""
    steps, box = figure.steps, figure.part.profile.bounds
    left, bottom = figure.layout.corner
    width, height = figure.size_mm
    size = figure.layout.figure_mm
    high = ABOVE_MM + size * CAPITAL
    if not is_running(steps.bottom) and not is_running(steps.top):
        sign = DIAMETER if steps.diameter_mm else ""
        said = sign + format_mm(box.width_mm, decimals=DECIMALS)
        ends, at = (left, left + width), bottom - OFF_MM
        # A circle has its ends at half its height.
        begins = bottom + (height / 2 if steps.diameter_mm else 0.0)
        level_dimension(press, *ends, part_mm=begins, line_mm=at, said=said, size_mm=size)
        field.take_lines(level_lines(*ends, part_mm=begins, line_mm=at))
        start, end = level_text(*ends, said=said, size_mm=size)
        field.take((start, at, end, at + high))
    if not steps.diameter_mm and not is_running(steps.left) and not is_running(steps.right):
        said = format_mm(box.height_mm, decimals=DECIMALS)
        ends, at = (bottom, bottom + height), left - OFF_MM
        upright_dimension(press, *ends, part_mm=left, line_mm=at, said=said, size_mm=size)
        turned = level_lines(*ends, part_mm=left, line_mm=at)
        field.take_lines([[(x, y) for y, x in line] for line in turned])
        start, end = level_text(*ends, said=said, size_mm=size)
        field.take((at - high, start, at, end))


def _centres(figure: Figure) -> Iterator[tuple[Stroke, list[tuple[Spot, Spot]]]]:
    """Yield the centre lines of round holes, of slots along arcs, of a round outline."""
    rounds = [
        (
            figure.on_page(one.x_mm, one.y_mm),
            one.size_mm[0] / 2 * figure.scale if one.is_round else 0.0,
        )
        for one in figure.openings
        if one.is_round or _is_beside(one)
    ]
    if figure.steps.diameter_mm:
        radius = figure.steps.diameter_mm / 2
        rounds.append((figure.on_page(radius, radius), radius * figure.scale))
    # Circles about one centre share the lines of the largest.
    largest: dict[tuple[float, float], float] = {}
    for (x, y), radius in rounds:
        at = round(x, 2), round(y, 2)
        largest[at] = max(radius, largest.get(at, 0.0))
    for (x, y), radius in largest.items():
        reach = radius + CENTRE_BEYOND_MM
        stroke = CENTRE if reach > LONG_CENTRE_MM else FINE
        yield stroke, [((x - reach, y), (x + reach, y)), ((x, y - reach), (x, y + reach))]


def _is_beside(one: Opening) -> bool:
    """Return whether the centre that an opening's place is told by lies outside its bounds."""
    off = (one.x_mm - one.middle_mm[0], one.y_mm - one.middle_mm[1])
    return any(abs(o) > size / 2 for o, size in zip(off, one.size_mm, strict=True))


def _labels(figure: Figure, field: Field) -> tuple[list[Label], int]:
    """Return every number and radius that finds room, and how many numbers find none."""
    labels: list[Label] = []
    for rounding in figure.steps.roundings:
        said = f"R{format_mm(rounding.radius_mm, decimals=DECIMALS)}"
        if len(rounding.at) > 1:
            said = f"{len(rounding.at)}\N{MULTIPLICATION SIGN} {said}"
        places = [(figure.on_page(*at), away) for at, away in rounding.at]
        label = field.radius(said, places, figure.layout.figure_mm)
        if label is not None:
            labels.append(label)
    named = list(_named(figure))
    field.know(named)
    large, small = NUMBERS_MM
    tried = field.copy()
    found = [tried.label(one, large, may_lead=False) for one in named]
    missing = found.count(None)
    if missing > MOST_SMALL_SHARE * len(named):
        found = [field.label(one, small, may_lead=True) for one in named]
    elif missing:
        # A few stand smaller, with lines that lead to them, where the others leave room.
        found = [
            label if label is not None else tried.label(one, small, may_lead=True)
            for one, label in zip(named, found, strict=True)
        ]
    return labels + [label for label in found if label is not None], found.count(None)


def _named(figure: Figure) -> Iterator[Named]:
    s = figure.scale
    for run in runs_of(figure.openings):
        for several in [run] if is_crowded(run, s) else [(one,) for one in run]:
            first, last = several[0], several[-1]
            middle = (first.middle_mm[0] + last.middle_mm[0]) / 2, first.middle_mm[1]
            yield Named(
                said=run_number(several),
                at=figure.on_page(*middle),
                half_mm=(
                    ((last.x_mm - first.x_mm) + first.size_mm[0]) / 2 * s,
                    first.size_mm[1] / 2 * s,
                ),
                is_round=first.is_round and len(several) == 1,
            )
    box = figure.part.profile.bounds
    for k, notch in enumerate(figure.notches):
        # Beside its bottom, inside the part.
        deep = notch.depth_mm
        x, y = notch.mouth.x + notch.inward.x * deep, notch.mouth.y + notch.inward.y * deep
        yield Named(
            said=letter(k), at=figure.on_page(x - box.left, y - box.bottom), half_mm=(0.0, 0.0)
        )
    for k, corner in enumerate(figure.steps.corners, start=1):
        yield Named(
            said=f"{CORNER}{k}",
            at=figure.on_page(corner.x_mm, corner.y_mm),
            half_mm=(0.0, 0.0),
            is_round=True,
            is_inside=False,
        )
