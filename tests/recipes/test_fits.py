"""Fits of the finished joints: tabs and slots measured on exact profiles where they meet in space.

Along the line where the middles of two sheets cross, material of one and of the other takes turns;
how much wider each opening is than what goes into it is the clearance.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import permutations

import numpy as np
import pytest
import shapely

from platekit.assembly.frames import Frame
from platekit.panel.part import Part
from tests.recipes.builds import assembly, bare, resolved
from tests.recipes.chorded import polygon

THICKNESS_MM = 6.0
FAR_MM = 2000.0
WITHIN_MM = 1e-6

# Play of 6 mm plywood, opening less what goes in: glued 0 to 0.1 mm, of it fingers 0.05 and tabs
# 0.1; slip, to come apart again, 0.2. Common practice, no source.
FINGER_MM, TAB_MM, SLIP_MM = 0.05, 0.1, 0.2


@dataclass(frozen=True)
class Mated:
    """One tab in one opening.

    Attributes:
        tab: Part that goes in.
        opening: Part that is cut open.
        along_mm: Opening less tab along the joint.
        across_mm: Opening less sheet across it; None where it is open on one side.
    """

    tab: str
    opening: str
    along_mm: float
    across_mm: float | None


def mates(placed: tuple[tuple[Part, Frame], ...]) -> Iterator[Mated]:
    """Yield every tab that stands between two stretches of another part's material."""
    shapes = [(part, frame, polygon(part.profile)) for part, frame in placed]
    for (one, mine, tabbed), (other, theirs, slotted) in permutations(shapes, 2):
        if abs(mine.n.dot(theirs.n)) > 1e-9:
            continue
        line = _crossing(mine, theirs, one.sheet.thickness_mm, other.sheet.thickness_mm)
        tabs = _stretches(tabbed, mine, line)
        walls = _stretches(slotted, theirs, line)
        for low, high in tabs:
            # Judged from the tab's middle: with interference its ends lie within the walls.
            centre = (low + high) / 2
            before = max((end for _, end in walls if end < centre), default=None)
            after = min((start for start, _ in walls if start > centre), default=None)
            if before is None or after is None or any(a <= centre <= b for a, b in walls):
                continue
            middle = line[0] + line[1] * centre
            across = _across(slotted, theirs, middle, np.array(mine.n))
            yield Mated(
                one.name,
                other.name,
                (after - before) - (high - low),
                None if across is None else across - one.sheet.thickness_mm,
            )


def _crossing(
    one: Frame, other: Frame, thick_mm: float, other_thick_mm: float
) -> tuple[np.ndarray, np.ndarray]:
    """Return a point and the direction of the line where the middles of two sheets cross."""
    n, m = np.array(one.n), np.array(other.n)
    way = np.cross(n, m)
    heights = [
        np.array(one.origin) @ n + thick_mm / 2,
        np.array(other.origin) @ m + other_thick_mm / 2,
        0.0,
    ]
    return np.linalg.solve(np.array([n, m, way]), heights), way


def _stretches(
    shape: shapely.Polygon, frame: Frame, line: tuple[np.ndarray, np.ndarray]
) -> list[tuple[float, float]]:
    """Return where a line in space runs in the part's material, as ranges along the line."""
    at, way = line
    axes = np.array([frame.u, frame.v])
    foot, lead = axes @ (at - np.array(frame.origin)), axes @ way
    ruler = shapely.LineString([foot - FAR_MM * lead, foot + FAR_MM * lead])
    cut = shapely.get_parts(shapely.intersection(ruler, shape))
    ranges = []
    for piece in cut:
        if piece.length > WITHIN_MM:
            low, high = sorted(float((np.array(end) - foot) @ lead) for end in piece.coords)
            ranges.append((low, high))
    return sorted(ranges)


def _across(shape: shapely.Polygon, frame: Frame, at: np.ndarray, way: np.ndarray) -> float | None:
    """Return how wide the opening at a place is along `way`; None where it has one wall or none."""
    walls = _stretches(shape, frame, (at, way))
    before = max((end for _, end in walls if end <= 0.0), default=None)
    after = min((start for start, _ in walls if start >= 0.0), default=None)
    return None if before is None or after is None else after - before


def found(name: str) -> list[Mated]:
    """Return the mates of a recipe at 6 mm."""
    return list(mates(resolved(name, THICKNESS_MM).placed))


def pairs(mated: list[Mated]) -> dict[frozenset[str], list[Mated]]:
    """Return the mates by pair of parts."""
    by_pair: dict[frozenset[str], list[Mated]] = {}
    for one in mated:
        by_pair.setdefault(frozenset((one.tab, one.opening)), []).append(one)
    return by_pair


def require_play(mated: list[Mated], *, tab: str, play_mm: float) -> None:
    """Raise unless every tab has the play both ways, as has the bridge between two slots along."""
    slots = [one for one in mated if one.tab == tab]
    assert len(slots) >= 2
    for one in mated:
        assert one.along_mm == pytest.approx(play_mm, abs=WITHIN_MM), one
    for one in slots:
        assert one.across_mm == pytest.approx(play_mm, abs=WITHIN_MM), one


def test_fingers_have_the_play_of_glued_fingers() -> None:
    """Case: every finger between two others is narrower than its gap by 0.05 mm, both ways."""
    by_pair = pairs(found("instrument_case"))
    for one, other in (
        ("bottom", "front"),
        ("bottom", "left"),
        ("front", "left"),
        ("back", "right"),
    ):
        fingers = by_pair[frozenset((one, other))]
        assert {finger.tab for finger in fingers} == {one, other}
        for finger in fingers:
            assert finger.along_mm == pytest.approx(FINGER_MM, abs=WITHIN_MM), finger
            assert finger.across_mm is None, "a finger's notch is open at the edge"


def test_tabs_have_the_play_of_glued_tabs() -> None:
    """Flagship: each tab of the floors is 0.1 mm narrower than its slot, which is 6.1 mm wide."""
    by_pair = pairs(found("dish_rotator"))
    for wall in ("front", "back", "left"):
        for floor in ("base", "tray", "motor plate", "bearing plate top", "head top"):
            require_play(by_pair[frozenset((floor, wall))], tab=floor, play_mm=TAB_MM)


def test_the_wall_that_comes_off_slips() -> None:
    """Flagship: its slots have the 0.2 mm of play of the slip fit that the recipe asks for."""
    by_pair = pairs(found("dish_rotator"))
    for floor in ("tray", "motor plate", "bearing plate top"):
        require_play(by_pair[frozenset((floor, "right"))], tab=floor, play_mm=SLIP_MM)
    for floor in ("base", "head top"):
        # The bridges between these slots also span the screws' slots, so only tabs are judged.
        tabs = [one for one in by_pair[frozenset((floor, "right"))] if one.tab == floor]
        require_play(tabs, tab=floor, play_mm=SLIP_MM)


@pytest.mark.parametrize(
    ("name", "one", "other"),
    [("dish_rotator", "long rib", "cross rib"), ("rib_table", "long 1", "cross 2")],
)
def test_halvings_take_half_and_grip_the_sheet(name: str, one: str, other: str) -> None:
    """Each rib's slot is 0.1 mm wider than the sheet, and the two bottoms stay apart a little.

    What is left between the bottoms is half of the clearance: both faces are cut, and each gives
    way by a quarter.
    """
    placed = {part.name: (part, frame) for part, frame in resolved(name, THICKNESS_MM).placed}
    (a, mine), (b, theirs) = placed[one], placed[other]
    line = _crossing(mine, theirs, a.sheet.thickness_mm, b.sheet.thickness_mm)
    held = [
        _stretches(polygon(part.profile), frame, line)
        for part, frame in (placed[one], placed[other])
    ]
    ((low_a, high_a),), ((low_b, high_b),) = held
    apart = max(low_a, low_b) - min(high_a, high_b)
    assert apart == pytest.approx(TAB_MM / 2, abs=WITHIN_MM)
    for (part, frame), (mate, across), (low, high) in (
        ((a, mine), (b, theirs), (low_b, high_b)),
        ((b, theirs), (a, mine), (low_a, high_a)),
    ):
        at = line[0] + line[1] * (low + high) / 2
        wide = _across(polygon(part.profile), frame, at, np.array(across.n))
        assert wide == pytest.approx(mate.sheet.thickness_mm + TAB_MM, abs=WITHIN_MM)


@pytest.mark.parametrize("clearance_mm", [-0.05, 0.0, 0.3])
def test_a_clearance_asked_for_is_the_clearance_cut(clearance_mm: float) -> None:
    """Interference, none, and plenty: measured between tab and opening, it comes out as asked."""
    made = bare(assembly("instrument_case", THICKNESS_MM))
    plain = made.__class__(made.name, panels=made.panels)
    asked = plain.with_practice(clearance_mm=clearance_mm).resolve()
    mated = list(mates(asked.placed))
    assert len(mated) > 40
    for one in mated:
        assert one.along_mm == pytest.approx(clearance_mm, abs=WITHIN_MM), one
        if one.across_mm is not None:
            assert one.across_mm == pytest.approx(clearance_mm, abs=WITHIN_MM), one
