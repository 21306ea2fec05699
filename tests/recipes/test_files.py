"""Files of the flagship, read back by three readers that know nothing of the package."""

from __future__ import annotations

import json
import math
from collections import Counter
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from shapely import affinity

from platekit.geometry.chains import Contour
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.job.run import Build
from tests.export.examples import distances_to, shoelace_mm2
from tests.export.test_dxf import read_by_ezdxf, read_by_gdal
from tests.export.test_svg import measured, parsed
from tests.recipes.builds import FLAGSHIP, build, paths
from tests.recipes.chorded import SAGITTA_MM, polygon

# The project's promise for files read back.
READ_BACK_MM = 1e-3
CUTS = ("CUT_INSIDE", "CUT_OUTSIDE")
# Okabe and Ito's vermillion and blue: a laser's program tells layers of an SVG by colour.
LAYER_OF = {"#d55e00": "CUT_INSIDE", "#0072b2": "CUT_OUTSIDE"}


@dataclass(frozen=True)
class Ring:
    """One closed cut as a reader found it: points on it, signed area, whether a whole circle."""

    layer: str
    points: np.ndarray
    area_mm2: float

    @property
    def box(self) -> np.ndarray:
        """Least and greatest coordinates of the points."""
        return np.concatenate([self.points.min(axis=0), self.points.max(axis=0)])


def flagship() -> Build:
    """Return the flagship as everything here reads it."""
    return build(FLAGSHIP)


def stems() -> list[str]:
    """Return the path of every cut file without its ending."""
    made = flagship()
    sheets = [f"sheets/{number}" for number in range(1, len(made.sheets) + 1)]
    return [f"parts/{part.name}" for part in made.parts] + sheets


@cache
def record() -> dict[str, Any]:
    """Return what build.json says."""
    said: dict[str, Any] = json.loads(flagship().files["build.json"])
    return said


def at_origin(path: Profile) -> Profile:
    """Return a part as its own file should show it: its lower left corner at the origin."""
    return path.moved(Motion(dx_mm=-path.bounds.left, dy_mm=-path.bounds.bottom))


def on_sheet(number: str) -> list[Profile]:
    """Return the paths of a sheet, placed by the words of the contract.

    Turned counter-clockwise about their own origin, then moved.
    """
    return [
        paths(FLAGSHIP)[place["part"]].moved(
            Motion(turn_deg=place["rotation_deg"], dx_mm=place["x_mm"], dy_mm=place["y_mm"])
        )
        for place in record()["sheets"][int(number) - 1]["placements"]
    ]


def wanted(stem: str) -> list[Profile]:
    """Return the paths that the file at `stem` should hold."""
    folder, _, name = stem.partition("/")
    return on_sheet(name) if folder == "sheets" else [at_origin(paths(FLAGSHIP)[name])]


def by_ezdxf(text: str) -> list[Ring]:
    """Return the cuts of a DXF: circles by their radius, polylines by closed form of bulges.

    A bulge is the tangent of a quarter of the swept angle (DXF reference, LWPOLYLINE).
    """
    rings = []
    for entity in read_by_ezdxf(text).modelspace():
        if entity.dxf.layer not in CUTS:
            continue
        if entity.dxftype() == "CIRCLE":
            centre, r = np.array(entity.dxf.center.vec2), entity.dxf.radius
            turns = np.radians(np.arange(0, 360, 15))
            points = centre + r * np.stack([np.cos(turns), np.sin(turns)], axis=1)
            area = math.pi * r**2
        else:
            assert entity.dxftype() == "LWPOLYLINE"
            assert entity.closed
            rows = np.array(list(entity.get_points("xyb")))
            points, area = _bulged(rows)
        rings.append(Ring(entity.dxf.layer, points, abs(area)))
    return rings


def _bulged(rows: np.ndarray) -> tuple[np.ndarray, float]:
    points, area = [], shoelace_mm2(rows[:, :2])
    for (x0, y0, bulge), (x1, y1, _) in zip(rows, np.roll(rows, -1, axis=0), strict=True):
        points.append((x0, y0))
        if bulge:
            chord, sweep = math.hypot(x1 - x0, y1 - y0), 4 * math.atan(bulge)
            radius = chord / 2 / math.sin(abs(sweep) / 2)
            area += math.copysign(radius**2 * (abs(sweep) - math.sin(abs(sweep))) / 2, bulge)
            # The arc's middle stands off the chord by bulge times half of it, to its right.
            points.append(
                ((x0 + x1) / 2 + bulge * (y1 - y0) / 2, (y0 + y1) / 2 - bulge * (x1 - x0) / 2)
            )
    return np.array(points), area


def by_gdal(text: str, folder: Path) -> list[Ring]:
    """Return the cuts of a DXF as GDAL draws them.

    Arcs in steps of half a degree: at 85 mm chords stand 0.8 um off and cost 0.6 um of area
    for each mm of length.
    """
    rings = []
    for layer, _, shape in read_by_gdal(text, folder, step_deg=0.5):
        if layer in CUTS:
            line = shape.exterior if shape.geom_type == "Polygon" else shape
            assert line.is_closed
            points = shapely.get_coordinates(line)
            rings.append(Ring(layer, points, shapely.Polygon(points).area))
    return rings


def by_svgelements(text: str, height_mm: float) -> list[Ring]:
    """Return the cuts of an SVG, arcs by closed form."""
    rings = []
    for shape in parsed(text):
        layer = LAYER_OF.get(shape.stroke.hex if shape.stroke is not None else "")
        if layer is not None:
            points, _, area = measured(shape, height_mm)
            rings.append(Ring(layer, points, abs(area)))
    return rings


def require_same(found: list[Ring], profiles: list[Profile], stem: str) -> None:
    """Raise unless the rings are those of the profiles, each once, within 0.001 mm."""
    due: list[tuple[str, Contour]] = []
    for profile in profiles:
        due.append(("CUT_OUTSIDE", profile.outer))
        due += [("CUT_INSIDE", ring) for ring in profile.inners]
    assert Counter(ring.layer for ring in found) == Counter(layer for layer, _ in due), stem
    boxes = np.array([ring.box for ring in found])
    taken = set()
    for layer, ring in due:
        box = ring.bounds
        away = np.abs(boxes - [box.left, box.bottom, box.right, box.top]).max(axis=1)
        k = int(np.argmin(away))
        # Points of an arc between its own corners may stop short of its furthest reach.
        assert found[k].layer == layer, stem
        assert k not in taken, stem
        taken.add(k)
        assert distances_to(ring, found[k].points).max() <= READ_BACK_MM, stem
        corners = np.array([tuple(segment.start) for segment in ring.segments])
        if not ring.is_circle:
            assert _furthest(corners, found[k].points) <= READ_BACK_MM, stem
        # A ring moved outwards by e grows by e times its length.
        assert abs(found[k].area_mm2 - abs(ring.signed_area_mm2)) <= READ_BACK_MM * ring.length_mm


def _furthest(points: np.ndarray, others: np.ndarray) -> float:
    """Return how far the loneliest of `points` lies from the nearest of `others`."""
    gaps = np.linalg.norm(points[:, None] - others[None], axis=2)
    return float(gaps.min(axis=1).max())


def test_dxf_reads_back_by_ezdxf() -> None:
    """Clean audits; every cut where and as large as compensation left it, within 0.001 mm."""
    for stem in stems():
        require_same(by_ezdxf(flagship().files[f"{stem}.dxf"]), wanted(stem), stem)


def test_dxf_reads_back_by_gdal(tmp_path: Path) -> None:
    """GDAL's own DXF reader sees the same cuts."""
    for stem in stems():
        require_same(by_gdal(flagship().files[f"{stem}.dxf"], tmp_path), wanted(stem), stem)


def test_svg_reads_back() -> None:
    """An independent SVG parser sees the same cuts, at real size."""
    for stem in stems():
        profiles = wanted(stem)
        folder, _, name = stem.partition("/")
        height = (
            record()["sheets"][int(name) - 1]["size_mm"][1]
            if folder == "sheets"
            else profiles[0].bounds.height_mm
        )
        require_same(by_svgelements(flagship().files[f"{stem}.svg"], height), profiles, stem)


def test_every_round_hole_is_a_circle() -> None:
    """As many CIRCLEs as the nominal parts have whole circles; nothing but arcs and lines."""
    nominal = {part.name: part.profile for part in flagship().parts}
    for stem in stems():
        space = read_by_ezdxf(flagship().files[f"{stem}.dxf"]).modelspace()
        kinds = Counter(entity.dxftype() for entity in space)
        assert set(kinds) <= {"CIRCLE", "LWPOLYLINE", "TEXT"}, stem
        folder, _, name = stem.partition("/")
        placed = (
            [place["part"] for place in record()["sheets"][int(name) - 1]["placements"]]
            if folder == "sheets"
            else [name]
        )
        round_ones = sum(ring.is_circle for one in placed for ring in nominal[one].rings)
        assert kinds["CIRCLE"] == round_ones, stem


def test_the_mast_flange_has_its_four_circles() -> None:
    """M8 medium is 9 mm (ISO 273): four CIRCLEs of 9 mm less the kerf on a circle of 130 mm.

    Neighbours of four on a pitch circle are PCD sin 45 apart.
    """
    space = read_by_ezdxf(flagship().files["parts/base.dxf"]).modelspace()
    r = (9.0 - flagship().beam.kerf_mm) / 2
    holes = [
        np.array(one.dxf.center.vec2)
        for one in space.query("CIRCLE")
        if abs(one.dxf.radius - r) <= 5e-4
    ]
    assert len(holes) == 4
    middle = np.mean(holes, axis=0)
    assert [np.linalg.norm(at - middle) for at in holes] == pytest.approx([65.0] * 4, abs=1e-3)
    apart = sorted(float(np.linalg.norm(a - holes[0])) for a in holes[1:])
    side = 130.0 * math.sin(math.pi / 4)
    assert apart == pytest.approx([side, side, 130.0], abs=1e-3)


def test_the_record_says_what_the_parts_are() -> None:
    """Area, size, length of cut and number of cuts in build.json, by plain shapely.

    A polygon within 0.0002 mm of its arcs gives the area within as much times the length.
    """
    rows = {row["name"]: row for row in record()["parts"]}
    assert set(rows) == {part.name for part in flagship().parts}
    for part in flagship().parts:
        row, shape = rows[part.name], polygon(part.profile, sagitta_mm=2e-4)
        assert row["quantity"] == part.quantity
        assert row["area_mm2"] == pytest.approx(shape.area, abs=2e-4 * shape.length)
        left, low, right, high = shape.bounds
        assert row["size_mm"] == pytest.approx([right - left, high - low], abs=1e-3)
        path = polygon(paths(FLAGSHIP)[part.name], sagitta_mm=2e-4)
        assert row["cut_length_mm"] == pytest.approx(path.length, rel=1e-5)
        assert row["contours"] == 1 + len(shape.interiors)


def test_the_paths_differ_from_the_parts_by_half_the_kerf() -> None:
    """Each path lies half a kerf outside its part: plain shapely, Hausdorff both ways."""
    d = flagship().beam.kerf_mm / 2
    for part in flagship().parts:
        nominal, path = polygon(part.profile), polygon(paths(FLAGSHIP)[part.name])
        assert path.covers(nominal.buffer(d - 3e-3)), part.name
        assert nominal.buffer(d + 3e-3).covers(path), part.name


def test_parts_lie_on_their_sheet_and_apart() -> None:
    """By plain shapely: inside the margin, no two nearer than the gap, cut paths both times."""
    nesting = record()["inputs"]["nesting"]
    for sheet in record()["sheets"]:
        shapes = []
        for place in sheet["placements"]:
            shape = polygon(paths(FLAGSHIP)[place["part"]])
            turned = affinity.rotate(shape, place["rotation_deg"], origin=(0, 0))
            shapes.append(affinity.translate(turned, place["x_mm"], place["y_mm"]))
        room = shapely.box(0, 0, *sheet["size_mm"]).buffer(-nesting["margin_mm"] + 1e-5)
        assert all(room.covers(shape) for shape in shapes)
        tree = shapely.STRtree(shapes)
        least = nesting["gap_mm"] - 2 * SAGITTA_MM
        near = tree.query(shapes, predicate="dwithin", distance=least).T
        assert [(i, j) for i, j in near if i < j] == []


def test_every_copy_is_placed_once() -> None:
    """Copies 1 to the quantity of each part, each on one sheet."""
    placed = Counter(
        (place["part"], place["copy"])
        for sheet in record()["sheets"]
        for place in sheet["placements"]
    )
    due = {(row["name"], k) for row in record()["parts"] for k in range(1, row["quantity"] + 1)}
    assert set(placed) == due
    assert set(placed.values()) == {1}


def test_the_bill_lists_every_part_and_sheet() -> None:
    """Quantities on the bill are those of the parts and of the nested sheets."""
    rows = record()["bill_of_materials"]
    parts = {row["name"]: row["quantity"] for row in rows if row["kind"] == "part"}
    assert parts == {part.name: part.quantity for part in flagship().parts}
    assert sum(row["quantity"] for row in rows if row["kind"] == "sheet") == len(flagship().sheets)
