"""What the page is given: held against solids, against an SVG reader, against what was cut."""

from __future__ import annotations

import base64
import gzip
import math
import struct
from collections import Counter
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from svgelements import Path as SvgPath

from platekit.assembly.frames import Vector
from platekit.assembly.proof.things import things_in
from platekit.export.page.content import content
from platekit.export.page.meshes import mesh_of, mesh_table
from platekit.export.picture_steps import step_picture
from tests.export.page.conftest import RIG
from tests.recipes.builds import resolved


@pytest.fixture(scope="module")
def said(page) -> dict:
    """The content as plain JSON."""
    return content(page)


def read(mesh: dict, name: str) -> np.ndarray:
    """Read numbers of a mesh as its description has them, with the standard library alone."""
    data = base64.b64decode(mesh[name], validate=True)
    letter, size = ("I", 4) if mesh["wide"] and name != "corners" else ("H", 2)
    numbers = struct.unpack(f"<{len(data) // size}{letter}", data)
    return np.array(numbers, dtype=float).reshape(-1, 2 if name == "edges" else 3)


def test_every_mesh_has_the_volume_of_its_solid(said):
    """Volume by the divergence theorem, textbook, against the solid kernel's own.

    Corners are off by half a step at most, so a volume is by half a step times the surface: 0.5 %
    is far more than that for every thing there is, and a lost triangle is more.
    """
    rig = said["rig"]
    solids = {thing.name: thing.solid.volume() for thing in things_in(resolved(RIG))}
    assert [one["name"] for one in rig["things"]] == list(solids)
    for thing in rig["things"]:
        mesh = rig["meshes"][thing["mesh"]]
        corners = read(mesh, "corners") / mesh["per_mm"]
        faces = read(mesh, "triangles").astype(int)
        a, b, c = (corners[faces[:, k]] for k in range(3))
        volume = float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6)
        assert volume == pytest.approx(solids[thing["name"]], rel=5e-3), thing["name"]


def test_corners_come_back_within_half_a_step(page, said):
    """What is read back lies where the scene has it."""
    for one, thing in zip(page.scene.things, said["rig"]["things"], strict=True):
        mesh = said["rig"]["meshes"][thing["mesh"]]
        back = read(mesh, "corners") / mesh["per_mm"] + np.array(thing["at"])
        # Half a step, and what a place is rounded by.
        assert np.abs(back - one.corners).max() <= 0.5 / mesh["per_mm"] + 6e-4, one.name


def test_equal_things_share_a_mesh(page, said):
    """Equal screws are carried once; what is moved keeps its mesh, what is stretched does not."""
    some = page.scene.things[0]
    moved = some.moved(Vector(12.3, -4.5, 6.7))
    meshes, which = mesh_table([some, moved])
    assert (len(meshes), which) == (1, [0, 0])
    assert mesh_of(some.moved(Vector(1.0, 0.0, 0.0))) == mesh_of(some)
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
