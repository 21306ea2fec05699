"""The drawing protocol between shapes and file formats.

Shapes draw themselves onto a sink; a format is a sink, a transform is a sink around a sink and
the test double is a recorder. Geometry never learns DXF or SVG.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Protocol

from platekit.geometry.motion import Motion
from platekit.geometry.points import Point


class Sink(Protocol):
    """What a shape draws onto. Coordinates in mm, y up.

    A chain is `begin`, any number of `line` and `arc`, then `close` (back to the start; the last
    segment already ends there) or `end` (left open). A whole circle is one `circle` call.
    """

    def begin(self, start: Point) -> None:
        """Start a chain at `start`."""

    def line(self, end: Point) -> None:
        """Draw a straight line to `end`."""

    def arc(self, end: Point, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Draw an arc of less than a whole turn about `centre` to `end`."""

    def close(self) -> None:
        """Finish the chain as a closed one."""

    def end(self) -> None:
        """Finish the chain as an open one."""

    def circle(self, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Draw a whole circle."""


@dataclass(slots=True)
class RecordingSink:
    """Keeps every call as a tuple: ``("line", (3.0, 4.0))``. What the tests look at."""

    calls: list[tuple[object, ...]] = field(default_factory=list)

    def begin(self, start: Point) -> None:
        """Record it."""
        self.calls.append(("begin", start))

    def line(self, end: Point) -> None:
        """Record it."""
        self.calls.append(("line", end))

    def arc(self, end: Point, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Record it."""
        self.calls.append(("arc", end, centre, radius_mm, ccw))

    def close(self) -> None:
        """Record it."""
        self.calls.append(("close",))

    def end(self) -> None:
        """Record it."""
        self.calls.append(("end",))

    def circle(self, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Record it."""
        self.calls.append(("circle", centre, radius_mm, ccw))


@dataclass(frozen=True, slots=True)
class MovedSink:
    """Passes everything on to `sink`, moved by `motion`."""

    sink: Sink
    motion: Motion

    def begin(self, start: Point) -> None:
        """Pass on, moved."""
        self.sink.begin(self.motion.apply(start))

    def line(self, end: Point) -> None:
        """Pass on, moved."""
        self.sink.line(self.motion.apply(end))

    def arc(self, end: Point, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Pass on, moved; a mirror image turns the other way."""
        self.sink.arc(
            self.motion.apply(end),
            centre=self.motion.apply(centre),
            radius_mm=radius_mm,
            ccw=ccw != self.motion.mirrored,
        )

    def close(self) -> None:
        """Pass on."""
        self.sink.close()

    def end(self) -> None:
        """Pass on."""
        self.sink.end()

    def circle(self, *, centre: Point, radius_mm: float, ccw: bool) -> None:
        """Pass on, moved; a mirror image turns the other way."""
        self.sink.circle(
            centre=self.motion.apply(centre),
            radius_mm=radius_mm,
            ccw=ccw != self.motion.mirrored,
        )
