"""The book: every page of the plans in their order, bound into one PDF."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from platekit.export.plans.alike import alike
from platekit.export.plans.apart_page import apart_leaves
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.cover import cover_leaf
from platekit.export.plans.drawings.page import drawing_leaves
from platekit.export.plans.full_size.leaves import full_size_leaf
from platekit.export.plans.full_size.pages import FullSizePage, full_size_pages
from platekit.export.plans.lists import lists_leaves
from platekit.export.plans.printing.furniture import Leaf, check_square
from platekit.export.plans.printing.paper import checked_overlap
from platekit.export.plans.printing.press import Press
from platekit.export.plans.steps_page import steps_leaves, told_steps
from platekit.panel.part import Part
from platekit.views.camera import ISOMETRIC
from platekit.views.hidden import drawn

# Longer numbers of pages can make the lists a page longer, once.
MOST_TRIES = 3


def plans_pdf(plans: PlansOf) -> bytes:
    """Return the plans of a rig as the bytes of a PDF file; the same rig makes the same bytes.

    Raises:
        PlatekitError: The overlap is out of range, or the paper leaves no room.
    """
    return bound(plan_leaves(plans), title=plans.name)


def plan_leaves(plans: PlansOf) -> tuple[Leaf, ...]:
    """Return every page: cover, lists, parts in full size, drawings, taken apart, steps.

    Where outlines are withheld, all but those.

    Raises:
        PlatekitError: The overlap is out of range, or the paper leaves no room.
    """
    overlap = checked_overlap(plans.overlap_mm)
    shown = () if plans.withheld else plans.parts
    pages = full_size_pages(shown, paper=plans.paper, overlap_mm=overlap)
    full = [full_size_leaf(page, title=plans.name) for page in pages]
    places = {part.name: number for number, part in enumerate(shown, start=1)}
    groups = alike(shown, plans.named)
    drawings = [
        list(drawing_leaves(group, plans=plans, numbers=[places[one.name] for one in group]))
        for group in groups
    ]
    listed, lists_begin = _lists(plans, pages, list(zip(groups, map(len, drawings), strict=True)))
    sections = [
        ("parts in full size", full),
        ("drawings", [leaf for leaves in drawings for leaf in leaves]),
        ("taken apart", list(apart_leaves(plans))),
        ("assembly", list(steps_leaves(plans, told_steps(plans)))),
    ]
    begins = [(name, 2 + page) for name, page in lists_begin]
    number = 2 + len(listed)
    for name, some in sections:
        if some:
            begins.append((name, number))
        number += len(some)
    whole = None if plans.scene is None else drawn(plans.scene.things, ISOMETRIC)
    cover = cover_leaf(plans, drawing=whole, pages=begins)
    return (cover, *listed, *(leaf for _, some in sections for leaf in some))


def _lists(
    plans: PlansOf, pages: Sequence[FullSizePage], drawings: Sequence[tuple[Sequence[Part], int]]
) -> tuple[tuple[Leaf, ...], tuple[tuple[str, int], ...]]:
    """Return the lists, and which begins on which of their pages, from 0.

    They name pages that come after them. How many they take themselves is known once they are
    made: they are made again until it is what was reckoned with.
    """
    listed, begins = lists_leaves(plans, full_size={}, drawing={})
    for _ in range(MOST_TRIES):
        reckoned = 1 + len(listed)
        on_drawing: dict[str, str] = {}
        at = reckoned + len(pages)
        for group, count in drawings:
            on_drawing |= dict.fromkeys((part.name for part in group), f"{at + 1}")
            at += count
        full_size = _on_pages(pages, reckoned)
        listed, begins = lists_leaves(plans, full_size=full_size, drawing=on_drawing)
        if 1 + len(listed) == reckoned:
            break
    return listed, begins


def bound(leaves: Sequence[Leaf], *, title: str) -> bytes:
    """Return leaves, in their order, as the bytes of a PDF file."""
    press = Press(title=title, subject="plans: full-size outlines, drawings, steps, lists")
    for number, leaf in enumerate(leaves, start=1):
        press.begin(leaf.width_mm, leaf.height_mm, called=leaf.called)
        leaf.draw(press, f"{number} / {len(leaves)}")
        check_square(press, leaf)
        press.end()
    return press.done()


def _on_pages(pages: Iterable[FullSizePage], before: int) -> dict[str, str]:
    """Return the pages of each part in full size: "4", or "4, 7-9"."""
    found: dict[str, list[int]] = {}
    for number, page in enumerate(pages, start=before + 1):
        for part in dict.fromkeys(part for one in page.laid for part in one.pattern.parts):
            found.setdefault(part.name, []).append(number)
    return {name: _ranges(at) for name, at in found.items()}


def _ranges(numbers: Sequence[int]) -> str:
    """Return ascending numbers in short: "4, 7-9"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}" if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)
