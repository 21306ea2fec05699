"""Chains of panels: what lies between two of them, size by size."""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from platekit.assembly.made import Made
from platekit.assembly.panels import Panel
from platekit.checks.subject import Subject
from platekit.formulas.tolerance_stacks import Link, Stack, stack_up
from platekit.materials.scatter import scatter_of


@dataclass(frozen=True, slots=True)
class Size:
    """One size that scatters about its place.

    Attributes:
        name: What it is: "slots of front for bearing plate". The same name is the same size.
        half_mm: Half of the band it lies in.
    """

    name: str
    half_mm: float


Joined = Mapping[str, tuple[tuple[str, tuple[Size, ...]], ...]]


def joined(subject: Subject) -> Joined:
    """Return of every panel which panels it is joined to, and the sizes that come between.

    A joint brings three: where the tabs are, where their slots are, and half its clearance to
    either side, within which it may be glued. Plates that only butt lie where the maker puts them.
    """
    if subject.whole is None:
        return {}
    _, done = subject.whole
    panels = {panel.name: panel for panel in done.panels}
    found: dict[str, list[tuple[str, tuple[Size, ...]]]] = {}
    for made in done.joints:
        if made.hold is None:
            continue
        sizes = _sizes(made, panels)
        one, other = made.between
        found.setdefault(one, []).append((other, sizes))
        found.setdefault(other, []).append((one, sizes))
    return {name: tuple(beside) for name, beside in found.items()}


def _sizes(made: Made, panels: Mapping[str, Panel]) -> tuple[Size, ...]:
    one, other = made.between
    play = abs(made.clearance_mm or 0.0) / 2
    return (
        Size(f"place of {one} in {other}", position_mm(panels[one])),
        Size(f"place of {other} for {one}", position_mm(panels[other])),
        *((Size(f"play of {one} in {other}", play),) if play else ()),
    )


def position_mm(panel: Panel) -> float:
    """Return half of the band in which a cut of a panel lies about its place."""
    return scatter_of(panel.plate.sheet.material.kind).position_mm


def chain(links: Joined, start: str, end: str) -> tuple[Size, ...] | None:
    """Return the sizes between two panels by the way that scatters least; None where none leads.

    The way with the least sum of squares, since that is what the panels settle to when several
    hold them.
    """
    queue: list[tuple[float, int, str, tuple[Size, ...]]] = [(0.0, 0, start, ())]
    settled: set[str] = set()
    turn = 0
    while queue:
        variance, _, at, sizes = heapq.heappop(queue)
        if at == end:
            return sizes
        if at in settled:
            continue
        settled.add(at)
        for name, between in links.get(at, ()):
            if name not in settled:
                turn += 1
                more = variance + squares(between)
                heapq.heappush(queue, (more, turn, name, (*sizes, *between)))
    return None


def squares(sizes: Iterable[Size]) -> float:
    """Return the sum of squares of half bands."""
    return sum(size.half_mm**2 for size in sizes)


def stack_of(factors: Mapping[Size, float]) -> Stack:
    """Return what sizes add up to, each by the factor it counts with; at least one not 0."""
    return stack_up(
        [
            Link(
                name=size.name,
                nominal_mm=0.0,
                upper_mm=size.half_mm,
                lower_mm=-size.half_mm,
                factor=factor,
            )
            for size, factor in factors.items()
            if factor
        ]
    )


def worst_words(stack: Stack) -> str:
    """Return the worst case in words, and the size that counts most."""
    name, share = max(stack.shares, key=lambda one: one[1])
    return f"at worst {stack.worst_half_mm:.2g} mm; most is {name}, {100 * share:.0f} %"
