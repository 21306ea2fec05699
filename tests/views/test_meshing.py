"""Meshes of things: volumes are the kernel's; where a thing stands changes no shape."""

import numpy as np
import pytest
import trimesh

from platekit import circle, rectangle
from platekit.assembly.frames import Frame, Vector
from platekit.assembly.proof.things import Prism, Thing, ThingKind
from platekit.geometry.profile import Profile
from platekit.views import meshing
from platekit.views.meshing import Meshes, mesh_of


def round_bar(diameter_mm: float) -> Profile:
    """Return the section of a round bar."""
    return Profile(circle((0, 0), diameter_mm=diameter_mm))


def screw(name: str, at: tuple[float, float, float], *, turned: bool = False) -> Thing:
    """Return a shank with a head, standing somewhere."""
    frame = Frame(Vector(*at), Vector(0, 1, 0), Vector(0, 0, 1)) if turned else Frame(Vector(*at))
    shank = round_bar(4)
    head = round_bar(7)
    return Thing(
        name, ThingKind.FASTENER, (Prism(shank, frame, -20.0, 0.0), Prism(head, frame, 0.0, 4.0))
    )


def test_what_stands_elsewhere_is_measured_once(monkeypatch):
    """Twenty alike at odd places and one lying: two are measured, all are where they stand."""
    measured = []
    really = meshing._mesh_about
    monkeypatch.setattr(
        meshing,
        "_mesh_about",
        lambda thing, home: measured.append(thing.name) or really(thing, home),
    )
    chance = np.random.default_rng(6)
    things = [screw(f"screw {k}", tuple(chance.uniform(-300, 300, 3))) for k in range(20)]
    things.append(screw("lying", (1.0, 2.0, 3.0), turned=True))
    meshes = Meshes()
    for thing in things:
        mesh = meshes(thing)
        read = trimesh.Trimesh(mesh.corners, mesh.triangles, process=False)
        assert read.volume == pytest.approx(thing.solid.volume(), rel=1e-5)
        assert read.bounds.ravel() == pytest.approx(thing.solid.bounding_box(), abs=1e-4)
    assert measured == ["screw 0", "lying"]


def test_another_shape_is_another_mesh():
    """A head that stands a little higher, or a bored one, is not the same screw."""
    meshes, plain = Meshes(), screw("plain", (0, 0, 0))
    shank, head = plain.prisms
    tall = Thing("tall", plain.kind, (shank, Prism(head.profile, head.frame, 0.0, 4.001)))
    aside = Frame(Vector(0.001, 0, 0))
    askew = Thing("askew", plain.kind, (shank, Prism(head.profile, aside, 0.0, 4.0)))
    bore = Prism(round_bar(2), Frame(), 1.0, 5.0)
    bored = Thing("bored", plain.kind, plain.prisms, (bore,))
    for thing in (plain, tall, askew, bored):
        mesh = meshes(thing)
        read = trimesh.Trimesh(mesh.corners, mesh.triangles, process=False)
        assert read.volume == pytest.approx(thing.solid.volume(), rel=1e-6)


def test_the_oldest_are_forgotten(monkeypatch):
    """Two are held: the third drives out the one that was asked for longest ago."""
    measured = []
    really = meshing._mesh_about
    monkeypatch.setattr(
        meshing,
        "_mesh_about",
        lambda thing, home: measured.append(thing.name) or really(thing, home),
    )
    meshes = Meshes(held=2)
    plates = {
        name: Thing(name, ThingKind.PLATE, (Prism(Profile(rectangle(w, 10)), Frame(), 0.0, 3.0),))
        for name, w in (("a", 10), ("b", 20), ("c", 30))
    }
    for name in "abacab":
        meshes(plates[name])
    assert measured == ["a", "b", "c", "b"]
    assert mesh_of(plates["a"]).corners == pytest.approx(meshes(plates["a"]).corners)
