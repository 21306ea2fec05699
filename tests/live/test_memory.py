"""What is remembered is what would be found anew; what has moved is found anew."""

from __future__ import annotations

import numpy as np
import pytest

from platekit import Assembly, Plate, birch_plywood, comes_out, load, lying, rectangle, standing
from platekit.assembly.proof import things_in
from platekit.job.beams import CutPart, cut_part
from platekit.job.options import Options
from platekit.job.progress import unheard
from platekit.job.resolving import Given, resolved
from platekit.live import memory as remembering
from platekit.live.memory import HELD, Memory
from platekit.materials import beam_for
from platekit.views import meshing
from platekit.views.scene import scene_of


def rig_of(width_mm: float = 120.0, *, out: str = "") -> Assembly:
    """Return a floor and a wall, made from nothing each time."""
    sheet = birch_plywood(6.0)
    rig = Assembly("rig").with_panels(
        lying(Plate("floor", sheet, rectangle(width_mm, 80.0)), bottom_mm=0),
        standing(
            Plate("wall", sheet, rectangle(width_mm, 60.0)), facing="front", front_mm=0, bottom_mm=0
        ),
    )
    return rig.with_removals(comes_out(out, towards="up")) if out else rig


def given(width_mm: float = 120.0, *, out: str = "") -> Given:
    """Return them with their joints dealt."""
    return resolved(rig_of(width_mm, out=out))


@pytest.fixture
def proved(monkeypatch):
    """How often something was really proved."""
    counted: list[Given] = []
    really = Given.prove

    def prove(self: Given):
        counted.append(self)
        return really(self)

    monkeypatch.setattr(Given, "prove", prove)
    return counted


def test_the_same_rig_is_proved_once(proved):
    """Made anew from the same figures it has the same proof and looks the same."""
    memory = Memory()
    assert memory.known_proof(given()) is None
    first = memory.prove(given())
    assert memory.prove(given()) == first
    assert memory.known_proof(given()) == first
    assert len(proved) == 1
    shown = memory.scene(given(), first)
    assert memory.scene(given(), first) is shown
    assert first == given().prove()


def test_what_has_moved_or_is_to_come_out_is_proved_anew(proved):
    """By the last bit of a length, and by what is asked of it."""
    memory = Memory()
    memory.prove(given())
    memory.prove(given(float(np.nextafter(120.0, 121.0))))
    memory.prove(given(out="wall"))
    assert len(proved) == 3
    wide = memory.scene(given(150.0), memory.prove(given(150.0)))
    # The floor reaches from one end to the other: its width, and that alone.
    assert wide.box[1][0] - wide.box[0][0] == pytest.approx(150.0)


def test_there_and_back_again_is_known_but_not_for_ever(proved):
    """The last few are kept, the oldest goes."""
    memory = Memory()
    widths = [100.0 + 10 * k for k in range(HELD)]
    for width_mm in [*widths, *widths]:
        memory.prove(given(width_mm))
    assert len(proved) == HELD
    memory.prove(given(200.0))
    memory.prove(given(widths[0]))
    assert len(proved) == HELD + 2


def test_steps_or_none_are_two_pictures():
    """Before the proof nothing has a step; after it everything has."""
    memory = Memory()
    rig = given()
    bare = memory.scene(rig, type(rig.prove())((), ()))
    whole = memory.scene(rig, memory.prove(rig))
    assert {one.step for one in bare.things} == {None}
    assert None not in {one.step for one in whole.things}


def test_joints_are_dealt_once_for_all_loads(monkeypatch):
    """Another load, the same plates; the load that counts is that of now, not of then."""
    counted: list[Assembly] = []
    really = Assembly.resolve

    def resolve(self: Assembly):
        counted.append(self)
        return really(self)

    monkeypatch.setattr(Assembly, "resolve", resolve)
    memory = Memory()
    light, heavy = (
        rig_of().with_loads(load(on="floor", mass_kg=kg), held="floor") for kg in (1.0, 9.0)
    )
    first, second = memory.deal(light), memory.deal(heavy)
    assert len(counted) == 1
    assert second.whole is not None
    assert second.whole[0] == heavy
    assert first.parts == second.parts == resolved(heavy).parts
    assert second == resolved(heavy)
    counted.clear()
    memory.deal(rig_of(121.0))
    assert len(counted) == 1


def test_a_thing_of_known_shape_keeps_its_mesh(monkeypatch):
    """A roof like its floor is raised, then made wider: only that is measured anew."""
    measured: list[str] = []
    really = meshing._mesh_about

    def mesh_about(thing, home):
        measured.append(thing.name)
        return really(thing, home)

    monkeypatch.setattr(meshing, "_mesh_about", mesh_about)
    memory = Memory()

    def rig(height_mm: float, width_mm: float) -> Given:
        sheet = birch_plywood(6.0)
        return resolved(
            Assembly("rig").with_panels(
                lying(Plate("floor", sheet, rectangle(120.0, 80.0)), bottom_mm=0),
                lying(Plate("roof", sheet, rectangle(width_mm, 80.0)), bottom_mm=height_mm),
            )
        )

    low, high, wide = rig(60.0, 120.0), rig(75.0, 120.0), rig(75.0, 121.0)
    memory.scene(low, low.prove())
    assert measured == ["floor"]
    memory.scene(high, high.prove())
    assert measured == ["floor"]
    seen = memory.scene(wide, wide.prove())
    assert measured == ["floor", "roof"]
    assert wide.whole is not None
    anew = scene_of("rig", wide.whole[1], wide.prove())
    for one, other in zip(seen.things, anew.things, strict=True):
        assert np.array_equal(one.corners, other.corners)
        assert np.array_equal(one.triangles, other.triangles)
        assert np.array_equal(one.edges, other.edges)
    assert len(things_in(wide.whole[1])) == len(seen.things)


def cut(width_mm: float, *, kerf_mm: float | None = None) -> tuple[CutPart, ...]:
    """Return the parts of the rig, compensated."""
    parts = given(width_mm).parts
    return tuple(
        cut_part(one, beam=beam_for(one.sheet, kerf_mm=kerf_mm), join="round", named={})
        for one in parts
    )


def test_the_same_parts_lie_as_they_lay(monkeypatch):
    """Another kerf or another bed is another layout; another check left out is not."""
    laid: list[int] = []
    really = remembering.lay_on_stock

    def lay_on_stock(parts, **how):
        laid.append(len(parts))
        return really(parts, **how)

    monkeypatch.setattr(remembering, "lay_on_stock", lay_on_stock)
    memory = Memory()
    first = memory.lay(cut(120.0), Options(), progress=unheard)
    assert memory.lay(cut(120.0), Options(skip=("web",)), progress=unheard) is first
    assert len(laid) == 1
    assert memory.known_layout(cut(121.0), Options()) is None
    assert memory.known_layout(cut(120.0, kerf_mm=0.3), Options()) is None
    assert memory.known_layout(cut(120.0), Options(bed_mm=(100.0, 100.0))) is None
    memory.lay(cut(121.0), Options(), progress=unheard)
    assert memory.lay(cut(120.0), Options(), progress=unheard) is first
    assert len(laid) == 2


def test_what_is_on_view_is_known(proved):
    """A rig made anew from the same figures is the one on view; another is not."""
    memory = Memory()
    assert not memory.is_seen(given())
    memory.see(given())
    assert memory.is_seen(given())
    assert not memory.is_seen(given(121.0))
    assert proved == []
