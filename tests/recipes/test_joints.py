"""The joints a recipe is said to have, counted on its finished parts.

Witness: plain shapely. Along the line where the middles of two sheets cross, every stretch of a
part's material is a finger or a tab.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
import shapely

from platekit.assembly.frames import Frame
from platekit.assembly.made import Made
from platekit.assembly.resolve import Resolved
from platekit.geometry.profile import Profile
from tests.recipes.builds import FLAGSHIP, NAMES, resolved
from tests.recipes.chorded import polygon

FAR_MM = 2000.0
SHRED_MM = 1e-6
Placed = tuple[shapely.Polygon, Frame, float]


def layers(done: Resolved) -> dict[str, list[Placed]]:
    """Return for every panel its finished layers: shape, place, thickness."""
    parts = {part.name: (part, frame) for part, frame in done.placed}
    return {
        panel.name: [
            (polygon(part.profile), frame, part.sheet.thickness_mm)
            for part, frame in (parts[plate.name] for plate in panel.layers)
        ]
        for panel in done.panels
    }


def slabs(done: Resolved) -> dict[str, list[Placed]]:
    """Return for every panel its layers as they were drawn, before anything was cut."""
    return {
        panel.name: [
            (polygon(Profile(plate.outline.outer)), frame, plate.sheet.thickness_mm)
            for plate, frame in zip(panel.layers, panel.layer_frames(), strict=True)
        ]
        for panel in done.panels
    }


def stretches(one: Placed, other: Placed) -> list[tuple[float, float]]:
    """Return where the material of `one` lies along the line where both middles cross."""
    (shape, mine, thick), (_, theirs, other_thick) = one, other
    n, m = np.array(mine.n), np.array(theirs.n)
    # The same way whichever comes first, so that places along it can be compared.
    way = np.abs(np.cross(n, m))
    heights = [mine.origin.dot(mine.n) + thick / 2, theirs.origin.dot(theirs.n) + other_thick / 2]
    at = np.linalg.solve(np.array([n, m, way]), [*heights, 0.0])
    axes = np.array([mine.u, mine.v])
    foot, lead = axes @ (at - np.array(mine.origin)), axes @ way
    ruler = shapely.LineString([foot - FAR_MM * lead, foot + FAR_MM * lead])
    pieces = shapely.get_parts(shapely.intersection(ruler, shape))
    ranges = (
        sorted(float((np.array(end) - foot) @ lead) for end in piece.coords)
        for piece in pieces
        if piece.length > SHRED_MM
    )
    return sorted((low, high) for low, high in ranges)


def counted(made: Made, panels: dict[str, list[Placed]]) -> int:
    """Return how many fingers or tabs shapely finds in a joint."""
    one, other = (panels[name] for name in made.between)
    # Layers that lie flat on each other have the same teeth: those of one count.
    teeth = max(len(stretches(a, b)) for a in one for b in other)
    if made.kind == "fingers":
        teeth += max(len(stretches(b, a)) for a in one for b in other)
    return teeth


def met_mm(made: Made, panels: dict[str, list[Placed]]) -> float:
    """Return how far two whole slabs lie in each other, along the line."""
    one, other = (panels[name] for name in made.between)
    return max(
        sum(
            max(0.0, min(high, end) - max(low, start))
            for low, high in stretches(a, b)
            for start, end in stretches(b, a)
        )
        for a in one
        for b in other
    )


@pytest.mark.parametrize("thickness_mm", [4.0, 6.0])
@pytest.mark.parametrize("name", NAMES)
def test_fingers_and_tabs_are_as_many_as_the_parts_have(name: str, thickness_mm: float) -> None:
    """Every joint that interlocks, in every recipe, on two sheets."""
    done = resolved(name, thickness_mm)
    panels = layers(done)
    for made in done.joints:
        if made.tabs:
            assert made.tabs == counted(made, panels), made


@pytest.mark.parametrize("name", NAMES)
def test_the_clearance_is_that_between_tab_and_opening(name: str) -> None:
    """Every tab between two walls has the play stated, opening less tab."""
    done = resolved(name)
    panels = layers(done)
    measured = 0
    for made in done.joints:
        one, other = (panels[called] for called in made.between)
        for a, b in product(one, other) if made.tabs else ():
            walls = stretches(b, a)
            for low, high in stretches(a, b):
                middle = (low + high) / 2
                before = [end for _, end in walls if end < middle]
                after = [start for start, _ in walls if start > middle]
                if before and after:
                    play_mm = min(after) - max(before) - (high - low)
                    assert play_mm == pytest.approx(made.clearance_mm, abs=1e-6), made
                    measured += 1
    assert measured or not any(made.tabs for made in done.joints)


@pytest.mark.parametrize("name", NAMES)
def test_the_length_is_that_on_which_the_slabs_meet(name: str) -> None:
    """Corners included: as long as the line on which two whole slabs lie in each other."""
    done = resolved(name)
    panels = slabs(done)
    for made in done.joints:
        assert made.length_mm == pytest.approx(met_mm(made, panels), abs=1e-6), made


def test_lengths_of_the_sample_are_its_outer_sizes() -> None:
    """Housing 320 x 240 x 330 mm, ribs 48 mm high: the sizes the recipe states."""
    lengths = {frozenset(one.between): one.length_mm for one in resolved(FLAGSHIP).joints}
    for pair, length in (
        ({"base", "front"}, 320.0),
        ({"base", "left"}, 240.0),
        ({"front", "left"}, 330.0),
        ({"long rib", "cross rib"}, 48.0),
    ):
        assert lengths[frozenset(pair)] == pytest.approx(length)


def test_screws_of_joints_are_those_of_the_bill() -> None:
    """Screws in joints and screws of mounted devices are together all there are."""
    done = resolved(FLAGSHIP)
    own = [one for one in done.fastenings if " + " in one.name]  # named for both panels
    assert sum(made.screws for made in done.joints) == len(own) == 5
    assert all(made.screws == 0 for made in done.joints if made.kind != "screwed")
