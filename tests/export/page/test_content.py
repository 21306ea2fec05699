"""What the page is given: held against solids, against an SVG reader, against what was cut."""

from __future__ import annotations

import base64
import gzip
import json
import math
from collections import Counter
from dataclasses import dataclass
from xml.etree import ElementTree as ET

import numpy as np
import pytest
import shapely
from svgelements import Path as SvgPath

from platekit.assembly.frames import Vector
from platekit.assembly.proof.things import things_in
from platekit.export.page.content import content
from platekit.export.page.meshes import mesh_of, mesh_table
from platekit.export.picture_steps import step_picture
from tests.export.page.conftest import RIG
from tests.recipes.builds import build, resolved


@pytest.fixture(scope="module")
def said(page) -> dict:
    """The content as plain JSON."""
    return content(page)


@dataclass(frozen=True)
class Read:
    """One mesh as read back: corners in mm, triangles, edges."""

    corners: np.ndarray
    triangles: np.ndarray
    edges: np.ndarray


@pytest.fixture(scope="module")
def meshes(said) -> list[Read]:
    """Meshes read as their description has them: a row of numbers, walked with plain loops."""
    each, packed = said["rig"]["meshes"]["each"], said["rig"]["meshes"]["numbers"]["gzip"]
    data = gzip.decompress(base64.b64decode(packed, validate=True))
    count = len(data) // 4
    row = iter(
        [
            (value + 1) // -2 if value % 2 else value // 2
            for value in (
                int.from_bytes(bytes(data[k + plane * count] for plane in range(4)), "little")
                for k in range(count)
            )
        ]
    )

    def table(rows: int, columns: int, *, from_first: bool) -> np.ndarray:
        made = np.zeros((rows, columns), dtype=int)
        for column in range(columns):
            last = 0
            for k in range(rows):
                last = next(row) + (made[k, 0] if from_first and column else last)
                made[k, column] = last
        return made

    corners = [table(one["corners"], 3, from_first=False) / one["per_mm"] for one in each]
    triangles = [table(one["triangles"], 3, from_first=True) for one in each]
    edges = [table(one["edges"], 2, from_first=True) for one in each]
    assert list(row) == []
    return [Read(*one) for one in zip(corners, triangles, edges, strict=True)]


def test_every_mesh_has_the_volume_of_its_solid(said, meshes):
    """Volume by the divergence theorem, textbook, against the solid kernel's own.

    Corners are off by half a step at most, so a volume is by half a step times the surface: 0.5 %
    is far more than that for every thing there is, and a lost triangle is more.
    """
    rig = said["rig"]
    solids = {thing.name: thing.solid.volume() for thing in things_in(resolved(RIG))}
    assert [one["name"] for one in rig["things"]] == list(solids)
    for thing in rig["things"]:
        mesh = meshes[thing["mesh"]]
        a, b, c = (mesh.corners[mesh.triangles[:, k]] for k in range(3))
        volume = float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)
        assert volume == pytest.approx(solids[thing["name"]], rel=5e-3), thing["name"]


def test_corners_come_back_within_half_a_step(page, said, meshes):
    """What is read back lies where the scene has it."""
    for one, thing in zip(page.scene.things, said["rig"]["things"], strict=True):
        told = said["rig"]["meshes"]["each"][thing["mesh"]]
        mesh = meshes[thing["mesh"]]
        back = mesh.corners + np.array(thing["at"])
        assert mesh.corners.max(axis=0) == pytest.approx(told["size"])
        assert len(mesh.edges) == len(one.edges)
        # Half a step, and what a place is rounded by.
        assert np.abs(back - one.corners).max() <= 0.5 / told["per_mm"] + 6e-4, one.name


def test_equal_things_share_a_mesh(page, said):
    """Equal screws are carried once; what is moved keeps its mesh, what is stretched does not."""
    some = page.scene.things[0]
    moved = some.moved(Vector(12.3, -4.5, 6.7))
    meshes, which = mesh_table([some, moved])
    assert (len(meshes), which) == (1, [0, 0])
    assert mesh_of(some.moved(Vector(1.0, 0.0, 0.0))).key == mesh_of(some).key
    screws = [one for one in said["rig"]["things"] if one["kind"] == "fastener"]
    kinds = Counter(dict(one["says"])["is"] for one in screws)
    for kind, count in kinds.items():
        used = {one["mesh"] for one in screws if dict(one["says"])["is"] == kind}
        assert count == 1 or len(used) < count, kind


def test_the_last_step_has_everything(said):
    """Nothing is lost on the way, nothing is there before it was brought in."""
    steps, things = said["steps"], said["rig"]["things"]
    assert sorted(steps[-1]["there"]) == list(range(len(things)))
    brought = set()
    for step in steps:
        brought |= set(step["new"])
        assert set(step["there"]) <= brought, step["number"]
        assert set(step["bring_in"]) <= {things[k]["name"] for k in step["new"]}


def test_outlines_measure_what_is_said(said):
    """svgelements, another author's reader of paths, finds the size that is printed."""
    for part in said["parts"]:
        left, top, right, bottom = SvgPath(" ".join(part["outline"])).bbox()
        assert (right - left, bottom - top) == pytest.approx(part["size_mm"], abs=0.02)
        assert [left, top, right - left, bottom - top] == pytest.approx(part["box"], abs=0.02)


def chords(path: SvgPath) -> list[shapely.LineString]:
    """Return a path in chords, a mm long or so."""
    count = max(8, int(path.length(error=1e-3)))
    points = [path.point(k / count) for k in range(count + 1)]
    return [shapely.LineString([(one.x, one.y) for one in points])]


def test_every_piece_lies_on_its_sheet(said):
    """As many pieces as the parts say; each, moved by the reader of SVG, within its sheet."""
    laid = Counter(piece["part"] for sheet in said["sheets"] for piece in sheet["pieces"])
    assert laid == {k: part["quantity"] for k, part in enumerate(said["parts"])}
    for sheet in said["sheets"]:
        for piece in sheet["pieces"]:
            mirror = " scale(-1 1)" if piece["mirrored"] else ""
            words = f"translate({piece['x']} {piece['y']}) rotate({piece['turn_deg']}){mirror}"
            shape = SvgPath(said["parts"][piece["part"]]["outline"][0]) * words
            left, bottom, right, top = shape.bbox()
            assert min(left, bottom) > 0
            assert right < sheet["size_mm"][0]
            assert top < sheet["size_mm"][1]


def test_numbers_stand_clear_of_cuts_and_marks(said):
    """Shapely, on the paths as svgelements reads them: a box about each number meets no line."""
    crowded = []
    for sheet in said["sheets"]:
        for piece in sheet["pieces"]:
            part = said["parts"][piece["part"]]
            mirror = " scale(-1 1)" if piece["mirrored"] else ""
            words = f"translate({piece['x']} {piece['y']}) rotate({piece['turn_deg']}){mirror}"
            rings = [(SvgPath(d) * words).reify() for d in part["outline"]]
            lines = [one for d in rings for one in chords(d)]
            for mark in part["marks"]:
                marked = (SvgPath(mark["d"]) * words).reify()
                lines += [one for d in marked.as_subpaths() for one in chords(SvgPath(d))]
            x, y, high = piece["label"]
            wide = 0.35 * high * len(str(piece["part"] + 1))
            about = shapely.box(x - wide, y - 0.36 * high, x + wide, y + 0.36 * high)
            if any(about.intersects(one) for one in lines):
                crowded.append(part["name"])
    # A piece narrower than its number has it across its edge; none of this rig is.
    assert crowded == []


def test_the_page_carries_the_files_of_its_run(said):
    """Undone by the standard library: each file byte for byte as make writes it, but pictures."""
    files = build(RIG).files
    carried = json.loads(gzip.decompress(base64.b64decode(said["carried"]["gzip"])))
    assert set(carried) == {path for path in files if not path.startswith("pictures/")}
    assert carried == {path: files[path] for path in carried}
    assert {one["path"] for one in said["files"] if one["carried"]} == set(carried)
    assert {one["path"] for one in said["files"]} == set(files)


def test_findings_come_worst_first(said):
    """Stop, warning, note, passed; among equals the least margin first."""
    rank = {"stop": 0, "warning": 1, "note": 2, "passed": 3}
    order = [
        (rank[one["severity"]], one.get("margin") or 1e9)
        for one in said["findings"]
        if "margin" in one
    ]
    assert order == sorted(order)
    assert [rank[one["severity"]] for one in said["findings"]] == sorted(
        rank[one["severity"]] for one in said["findings"]
    )


def test_drawings_come_back_as_svg(page, said):
    """Undone by the standard library, each drawing is XML whose root is an SVG element."""
    squeezed = [said["picture"], said["picture_apart"], *(one["picture"] for one in said["steps"])]
    given = [page.picture, page.picture_apart, *map(step_picture, page.step_views)]
    for one, text in zip(squeezed, given, strict=True):
        back = gzip.decompress(base64.b64decode(one["gzip"])).decode()
        assert back == text
        assert ET.fromstring(back).tag == "{http://www.w3.org/2000/svg}svg"  # noqa: S314  our own


def test_steps_are_seen_in_space_as_they_are_drawn(page, said):
    """The way to the eye by the page's two angles, spherical coordinates of any textbook."""
    for view, step in zip(page.step_views, said["steps"], strict=True):
        turn, rise = (math.radians(step["seen"][name]) for name in ("turn", "rise"))
        eye = [math.cos(rise) * math.cos(turn), math.cos(rise) * math.sin(turn), math.sin(rise)]
        assert view.camera.axes[2] == pytest.approx(eye, abs=1e-4)
