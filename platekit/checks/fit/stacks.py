"""Shafts in line: what panels, joints and holes add up to between the supports of one."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from platekit.checks.fit.belts import belts_in_reach
from platekit.checks.fit.chains import (
    Joined,
    Size,
    chain,
    joined,
    position_mm,
    stack_of,
    worst_words,
)
from platekit.checks.fit.lines import Support, lines, names_of
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, untold, weighed
from platekit.findings import Finding
from platekit.formulas.tolerance_stacks import Stack

# Bearings nearer than this along their line are one support.
APART_MM = 1.0
# What a shaft in two bearings and a motor bears to be drawn off its line by: wood gives. Common
# practice, no source: 0.1 to 0.2 mm for a rigid grip.
RIGID_MM = 0.2
RIGID_SOURCE = "a rigid grip bears 0.1 to 0.2 mm; common practice, no source"
# Deep-groove bearings bear 2 to 10 minutes of arc between their rings; makers' catalogues, from
# memory. The greater, since a plate of wood gives with the rest.
MOST_TILT_DEG = 10.0 / 60.0
TILT_SOURCE = "deep-groove bearings bear 2 to 10 minutes of arc; makers' catalogues, from memory"
ALIGN = (
    "fit the bearings with the shaft in them before glue sets, draw the motor's screws last with "
    "the shaft turning, or take a coupling that gives"
)


@dataclass(frozen=True, kw_only=True)
class _Centres:
    """Errors of the supports' centres across their line, as sums of sizes.

    Attributes:
        supports: The supports.
        sizes: Of each, what lies between the first one's panel and its centre.
    """

    supports: tuple[Support, ...]
    sizes: tuple[tuple[Size, ...], ...]

    def stack(self, weights: Iterable[float]) -> Stack:
        """Return what the centres come to, each taken by its weight; a size shared counts once."""
        factors: dict[Size, float] = {}
        for weight, sizes in zip(weights, self.sizes, strict=True):
            for size in sizes:
                factors[size] = factors.get(size, 0.0) + weight
        return stack_of(factors)


def in_line(subject: Subject) -> Iterator[Finding]:
    """Weigh how far supports of one shaft lie off their line, and belts off their distance."""
    if subject.whole is None:
        return
    links = joined(subject)
    for line in lines(subject.whole[1].standing):
        yield from _line(line, links, subject)
    yield from belts_in_reach(subject, links)


def _line(line: tuple[Support, ...], links: Joined, subject: Subject) -> Iterator[Finding]:
    centres = _centres(line, links, subject)
    if centres is None:
        yield untold(
            "fit.stack",
            part=names_of(line),
            measure="their panels are joined by nothing that is known",
            remedy="align them by hand with the shaft in place, and draw the screws last",
        )
        return
    bearings = [k for k, one in enumerate(line) if not one.motor]
    outer = [line[k].at_mm for k in (bearings[0], bearings[-1])] if bearings else [0.0, 0.0]
    if outer[1] - outer[0] > APART_MM:
        ends = (bearings[0], bearings[-1])
        yield _tilt(centres, ends)
        for k in range(len(line)):
            if k not in ends:
                yield _beside(centres, k, ends)
    elif bearings:
        for k, one in enumerate(line):
            if one.motor:
                yield _apart(centres, k, bearings[0])


def _centres(line: tuple[Support, ...], links: Joined, subject: Subject) -> _Centres | None:
    panels = {} if subject.whole is None else {one.name: one for one in subject.whole[1].panels}
    found = []
    for one in line:
        between = chain(links, line[0].panel, one.panel)
        if between is None:
            return None
        own = Size(f"hole of {one.standing.name}", position_mm(panels[one.panel]))
        found.append((*between, own))
    return _Centres(supports=line, sizes=tuple(found))


def _tilt(centres: _Centres, ends: tuple[int, int]) -> Finding:
    """Return the tilt of a shaft in its two outer bearings."""
    first, last = (centres.supports[k] for k in ends)
    stack = centres.stack(_weights(len(centres.supports), {ends[0]: -1.0, ends[1]: 1.0}))
    apart = abs(last.at_mm - first.at_mm)
    tilt_deg = math.degrees(math.atan2(stack.rss_half_mm, apart))
    return weighed(
        "fit.stack",
        part=names_of((first, last)),
        feature=_panels((first, last)),
        measure="tilt of the shaft in its bearings",
        value=tilt_deg,
        most=MOST_TILT_DEG,
        unit="deg",
        source=TILT_SOURCE,
        remedy="set the bearings further apart, or fit them with the shaft before glue sets",
        formula=f"atan(root of squares / distance) = atan({stack.rss_half_mm:.2g} / {apart:.4g}); "
        f"{worst_words(stack)}",
        scale=ADVICE,
    )


def _beside(centres: _Centres, k: int, ends: tuple[int, int]) -> Finding:
    """Return how far a third support lies off the line through two bearings."""
    first, last, third = (centres.supports[n] for n in (*ends, k))
    share = (third.at_mm - first.at_mm) / (last.at_mm - first.at_mm)
    weights = _weights(len(centres.supports), {ends[0]: share - 1.0, ends[1]: -share, k: 1.0})
    return _off(centres.stack(weights), third, (first, last))


def _apart(centres: _Centres, k: int, bearing: int) -> Finding:
    """Return how far one bearing lies off a motor's shaft."""
    weights = _weights(len(centres.supports), {bearing: -1.0, k: 1.0})
    return _off(centres.stack(weights), centres.supports[k], (centres.supports[bearing],))


def _off(stack: Stack, third: Support, others: Sequence[Support]) -> Finding:
    most = RIGID_MM + third.float_mm
    play = f" and {third.float_mm:.3g} mm its spigot has to either side" if third.float_mm else ""
    return weighed(
        "fit.stack",
        part=names_of((third, *others)),
        feature=_panels((third, *others)),
        measure=f"{third.standing.name} off the line of the "
        f"{'bearings' if len(others) > 1 else 'bearing'}",
        value=stack.rss_half_mm,
        most=most,
        unit="mm",
        source=RIGID_SOURCE + play,
        remedy=ALIGN,
        formula=f"root of the squares of {len(stack.shares)} sizes; {worst_words(stack)}",
        scale=ADVICE,
    )


def _weights(count: int, given: Mapping[int, float]) -> tuple[float, ...]:
    return tuple(given.get(k, 0.0) for k in range(count))


def _panels(supports: Iterable[Support]) -> str:
    return "in " + ", ".join(dict.fromkeys(one.panel for one in supports))
