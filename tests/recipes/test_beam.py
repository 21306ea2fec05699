"""Finished parts: what a round beam leaves of every part of every recipe, in 6 mm sheet.

Twice over: by the package's own simulation, and by plain shapely on polygons chorded here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import pytest
import shapely

from platekit.cutting.compensate import compensate
from platekit.cutting.simulate import simulate
from platekit.geometry.profile import Profile
from tests.amounts import examples
from tests.recipes.builds import FLAGSHIP, NAMES, build
from tests.recipes.chorded import SAGITTA_MM, inside_corners, polygon, ring_points

# The project's promise for a finished part: 0.01 mm, but for the slivers of inside corners.
GOUGE_MM = 0.01
KERFS_MM = (0.1, 0.5, 0.25)[: examples(2, thorough=3)]
# Both shapes compared are chorded, and the disc is a polygon of 96 sides.
CHORDS_MM = 4 * SAGITTA_MM


@dataclass(frozen=True)
class Cut:
    """What shapely says a beam leaves of the sheet."""

    wanted: shapely.Polygon
    finished: shapely.Polygon
    pieces: int

    @property
    def gouge_mm(self) -> float:
        """How deep the beam went into the part at worst."""
        lost = shapely.get_coordinates(shapely.difference(self.wanted, self.finished))
        return float(np.max(shapely.distance(self.finished, shapely.points(lost)), initial=0.0))

    @property
    def standing(self) -> shapely.Geometry:
        """What stands before the nominal edge by more than the chords explain."""
        grown = self.wanted.buffer(CHORDS_MM, join_style="mitre")
        return shapely.difference(self.finished, grown)


def swept(nominal: Profile, path: Profile, *, kerf_mm: float) -> Cut:
    """Return the sheet less a disc as wide as the kerf along every ring of `path`."""
    wanted = polygon(nominal)
    rings = [ring_points(ring) for ring in path.rings]
    lines = shapely.MultiLineString([[*ring, ring[0]] for ring in rings])
    sheet = shapely.box(*wanted.bounds).buffer(5.0, join_style="mitre")
    pieces = shapely.get_parts(
        shapely.difference(sheet, shapely.buffer(lines, kerf_mm / 2, quad_segs=24))
    )
    shared = shapely.area(shapely.intersection(pieces, wanted))
    return Cut(wanted, pieces[int(np.argmax(shared))], len(pieces))


@pytest.mark.parametrize("kerf_mm", KERFS_MM)
@pytest.mark.parametrize("name", NAMES)
def test_the_beam_leaves_the_part_that_was_drawn(name: str, kerf_mm: float) -> None:
    """By plain shapely: no gouge beyond 0.01 mm, one slug a hole, leftovers in corners alone.

    At an inside corner of angle a, a round beam of radius d stays d (1 / sin(a/2) - 1) away:
    plane geometry; d (root 2 - 1) where it is square. No corner of these parts is sharper.
    """
    d = kerf_mm / 2
    for part in build(name).parts:
        cut = swept(
            part.profile, compensate(part.profile, kerf_mm=kerf_mm).profile, kerf_mm=kerf_mm
        )
        assert cut.pieces == 2 + len(part.profile.inners), f"{part.name}: part, frame and slugs"
        assert cut.gouge_mm <= GOUGE_MM, part.name
        corners = inside_corners(part.profile)
        for corner, angle_deg in corners:
            assert angle_deg >= 90.0 - 1e-6, f"{part.name}: {corner}"
            reach = d * (1.0 / math.sin(math.radians(angle_deg) / 2) - 1.0)
            away = cut.finished.boundary.distance(shapely.Point(corner))
            assert away == pytest.approx(reach, abs=CHORDS_MM), f"{part.name}: {corner}"
        near = shapely.MultiPoint([tuple(corner) for corner, _ in corners])
        # The sliver of a square corner ends where the round touches its sides, d away.
        stray = shapely.difference(cut.standing, near.buffer(d * math.sqrt(2)))
        assert stray.is_empty, f"{part.name}: {stray.centroid}"


@pytest.mark.parametrize("kerf_mm", KERFS_MM)
@pytest.mark.parametrize("name", NAMES)
def test_the_package_s_own_simulation_agrees(name: str, kerf_mm: float) -> None:
    """No gouge beyond 0.01 mm, no leftover beyond the sliver of a square inside corner."""
    sliver = kerf_mm / 2 * (math.sqrt(2) - 1)
    for part in build(name).parts:
        path = compensate(part.profile, kerf_mm=kerf_mm).profile
        seen = simulate(part.profile, path, kerf_mm=kerf_mm, tolerance_mm=2 * SAGITTA_MM)
        assert seen.gouge_mm <= GOUGE_MM, f"{part.name}: {seen.gouge_at}"
        square = any(angle < 90.0 + 1e-6 for _, angle in inside_corners(part.profile))
        if square:
            assert seen.leftover_mm == pytest.approx(sliver, abs=CHORDS_MM), part.name
        else:
            assert seen.leftover_mm <= sliver + CHORDS_MM, part.name


def test_a_path_that_was_not_compensated_is_seen() -> None:
    """The check can fail: along the nominal edge the beam takes d, and d root 2 at a corner."""
    (base,) = [part for part in build(FLAGSHIP).parts if part.name == "base"]
    cut = swept(base.profile, base.profile, kerf_mm=0.25)
    assert cut.gouge_mm == pytest.approx(0.125 * math.sqrt(2), abs=1e-3)
    wide = swept(base.profile, compensate(base.profile, kerf_mm=0.5).profile, kerf_mm=0.25)
    assert shapely.area(wide.standing) == pytest.approx(0.125 * base.profile.length_mm, rel=0.05)
