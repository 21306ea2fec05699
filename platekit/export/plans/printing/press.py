"""The press: a PDF page drawn on in millimetres, y up. The one place that knows reportlab's canvas.

Nothing in the file depends on the day or the machine: the same drawing makes the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from typing import Any

from platekit.export.plans.printing.curves import PathSink
from platekit.export.plans.printing.lettering import (
    BOLD,
    LEADING,
    PLAIN,
    TEXT_MM,
    Anchor,
    broken,
    faces,
    printable,
    width_of,
)
from platekit.export.plans.printing.pens import INK, THIN, Stroke
from platekit.geometry.chains import Contour, Path

POINTS_PER_MM = 72.0 / 25.4
# How far letters reach above the foot of their line and below it, in sizes of the type.
HIGH, DEEP = 0.76, 0.22


@cache
def _ink(colour: str) -> Any:  # noqa: ANN401  reportlab has no types
    from reportlab.lib.colors import HexColor

    return HexColor(colour)


def _page_key(page: int) -> str:
    return f"page{page}"


class Press:
    """Draws pages, one after the other."""

    def __init__(self, *, title: str, subject: str) -> None:
        from reportlab.pdfgen.canvas import Canvas

        faces()
        self._file = io.BytesIO()
        self._canvas = Canvas(self._file, invariant=1, pageCompression=1, initialFontName=PLAIN)
        self._canvas.setTitle(title)
        self._canvas.setSubject(subject)
        self._canvas.setCreator("platekit")
        self._canvas.setProducer("platekit")
        self._canvas.setAuthor("")
        # Where type stands on the page: left, bottom, right, top of each line.
        self._type: list[tuple[float, float, float, float]] = []

    def begin(self, width_mm: float, height_mm: float, *, called: str) -> None:
        """Begin a page; `called` stands in the reader's table of contents."""
        self._type = []
        self._canvas.setPageSize((width_mm * POINTS_PER_MM, height_mm * POINTS_PER_MM))
        self._canvas.scale(POINTS_PER_MM, POINTS_PER_MM)
        self._canvas.setLineJoin(1)
        self._canvas.setLineCap(1)
        key = _page_key(self._canvas.getPageNumber())
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(printable(called), key, 0, closed=False)

    def end(self) -> None:
        """Finish the page."""
        self._canvas.showPage()

    def done(self) -> bytes:
        """Return the file."""
        from reportlab import rl_config

        # Streams go in as bytes: spelt as letters they are a quarter longer and slow to make.
        usual = rl_config.useA85
        rl_config.useA85 = 0
        try:
            self._canvas.save()
        finally:
            rl_config.useA85 = usual
        return self._file.getvalue()

    @contextmanager
    def moved(
        self, x_mm: float, y_mm: float, *, turn_deg: float = 0.0, scale: float = 1.0
    ) -> Iterator[None]:
        """Draw about another origin, turned and scaled; widths of lines are scaled as well."""
        self._canvas.saveState()
        self._canvas.translate(x_mm, y_mm)
        if turn_deg:
            self._canvas.rotate(turn_deg)
        if scale != 1.0:
            self._canvas.scale(scale, scale)
        try:
            yield
        finally:
            self._canvas.restoreState()

    @contextmanager
    def within(
        self, left: float, bottom: float, width_mm: float, height_mm: float
    ) -> Iterator[None]:
        """Draw only inside a rectangle."""
        self._canvas.saveState()
        path = self._canvas.beginPath()
        path.rect(left, bottom, width_mm, height_mm)
        self._canvas.clipPath(path, stroke=0, fill=0)
        try:
            yield
        finally:
            self._canvas.restoreState()

    def line(
        self, *points: tuple[float, float], stroke: Stroke = THIN, closed: bool = False
    ) -> None:
        """Draw a line through points."""
        path = self._canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        if closed:
            path.close()
        self._pen(stroke)
        self._canvas.drawPath(path, stroke=1, fill=0)

    def lines(
        self,
        pairs: Iterable[tuple[tuple[float, float], tuple[float, float]]],
        *,
        stroke: Stroke = THIN,
    ) -> None:
        """Draw many straight lines as one."""
        path, any_drawn = self._canvas.beginPath(), False
        for start, end in pairs:
            path.moveTo(*start)
            path.lineTo(*end)
            any_drawn = True
        if any_drawn:
            self._pen(stroke)
            self._canvas.drawPath(path, stroke=1, fill=0)

    def box(
        self,
        left: float,
        bottom: float,
        width_mm: float,
        height_mm: float,
        *,
        stroke: Stroke | None = THIN,
        fill: str = "",
    ) -> None:
        """Draw a rectangle."""
        if stroke is not None:
            self._pen(stroke)
        if fill:
            self._canvas.setFillColor(_ink(fill))
        self._canvas.rect(
            left, bottom, width_mm, height_mm, stroke=stroke is not None, fill=bool(fill)
        )

    def area(self, *points: tuple[float, float], fill: str = INK) -> None:
        """Fill a polygon."""
        path = self._canvas.beginPath()
        path.moveTo(*points[0])
        for point in points[1:]:
            path.lineTo(*point)
        path.close()
        self._canvas.setFillColor(_ink(fill))
        self._canvas.drawPath(path, stroke=0, fill=1)

    def rings(self, rings: Iterable[Sequence[tuple[float, float]]], *, fill: str) -> None:
        """Fill rings as one area; a ring inside another leaves it open."""
        path = self._canvas.beginPath()
        for ring in rings:
            path.moveTo(*ring[0])
            for point in ring[1:]:
                path.lineTo(*point)
            path.close()
        self._canvas.setFillColor(_ink(fill))
        self._canvas.drawPath(path, stroke=0, fill=1, fillMode=0)

    def polylines(
        self, several: Sequence[Sequence[tuple[float, float]]], *, stroke: Stroke
    ) -> None:
        """Draw many open lines as one."""
        if not several:
            return
        path = self._canvas.beginPath()
        for line in several:
            path.moveTo(*line[0])
            for point in line[1:]:
                path.lineTo(*point)
        self._pen(stroke)
        self._canvas.drawPath(path, stroke=1, fill=0)

    def dot(self, x_mm: float, y_mm: float, *, radius_mm: float, stroke: Stroke = THIN) -> None:
        """Draw a circle."""
        self._pen(stroke)
        self._canvas.circle(x_mm, y_mm, radius_mm, stroke=1, fill=0)

    def disc(self, x_mm: float, y_mm: float, *, radius_mm: float, fill: str) -> None:
        """Fill a circle."""
        self._canvas.setFillColor(_ink(fill))
        self._canvas.circle(x_mm, y_mm, radius_mm, stroke=0, fill=1)

    def chains(
        self, chains: Sequence[Contour | Path], *, stroke: Stroke | None = THIN, fill: str = ""
    ) -> None:
        """Draw chains of lines and arcs as one path; what is filled leaves inner chains open."""
        if not chains:
            return
        path = self._canvas.beginPath()
        for chain in chains:
            chain.draw(PathSink(path))
        if stroke is not None:
            self._pen(stroke)
        if fill:
            self._canvas.setFillColor(_ink(fill))
        self._canvas.drawPath(path, stroke=stroke is not None, fill=bool(fill), fillMode=0)

    def text(
        self,
        text: str,
        x_mm: float,
        y_mm: float,
        *,
        size_mm: float = TEXT_MM,
        bold: bool = False,
        anchor: Anchor = "start",
        colour: str = INK,
        upward: bool = False,
    ) -> None:
        """Set one line of type, its base line at `y_mm`; `upward` reads from bottom to top."""
        said = printable(text)
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor]
        back = share * width_of(said, size_mm=size_mm, bold=bold)
        self._canvas.setFillColor(_ink(colour))
        self._canvas.setFont(BOLD if bold else PLAIN, size_mm)
        if upward:
            with self.moved(x_mm, y_mm, turn_deg=90.0):
                self._canvas.drawString(-back, 0.0, said)
        else:
            self._canvas.drawString(x_mm - back, y_mm, said)
        along = -back, width_of(said, size_mm=size_mm, bold=bold) - back
        across = (-DEEP * size_mm, HIGH * size_mm)
        if upward:
            box = (x_mm - across[1], y_mm + along[0], x_mm - across[0], y_mm + along[1])
        else:
            box = (x_mm + along[0], y_mm + across[0], x_mm + along[1], y_mm + across[1])
        self._type.append(box)

    def meets_type(
        self, start: tuple[float, float], end: tuple[float, float], *, by_mm: float = 0.0
    ) -> bool:
        """Return whether a level or upright line comes closer to type of the page than `by_mm`."""
        left, right = sorted((start[0], end[0]))
        bottom, top = sorted((start[1], end[1]))
        return any(
            left - by_mm < box[2]
            and right + by_mm > box[0]
            and bottom - by_mm < box[3]
            and top + by_mm > box[1]
            for box in self._type
        )

    def paragraph(
        self,
        text: str,
        x_mm: float,
        y_mm: float,
        *,
        width_mm: float,
        size_mm: float = TEXT_MM,
        bold: bool = False,
        colour: str = INK,
    ) -> float:
        """Set text broken to a width; return the base line of what may follow."""
        for line in broken(text, width_mm=width_mm, size_mm=size_mm, bold=bold):
            self.text(line, x_mm, y_mm, size_mm=size_mm, bold=bold, colour=colour)
            y_mm -= LEADING * size_mm
        return y_mm

    def link(
        self, left: float, bottom: float, width_mm: float, height_mm: float, *, page: int
    ) -> None:
        """Let a rectangle lead to a page, counted from 1, where plans are read on a screen."""
        box = (left, bottom, left + width_mm, bottom + height_mm)
        self._canvas.linkRect("", _page_key(page), box, relative=1, thickness=0)

    def _pen(self, stroke: Stroke) -> None:
        self._canvas.setStrokeColor(_ink(stroke.colour))
        self._canvas.setLineWidth(stroke.width_mm)
        self._canvas.setDash(list(stroke.dash_mm))
