"""What is remembered is what would be found anew; what has moved is found anew."""

from __future__ import annotations

import numpy as np
import pytest

from platekit import Assembly, Plate, birch_plywood, comes_out, load, lying, rectangle, standing
from platekit.job.resolving import Given, resolved
from platekit.live.memory import HELD, Memory


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
