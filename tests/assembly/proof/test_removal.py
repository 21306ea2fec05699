"""What is to come out of a finished rig: with its screws, or what keeps it, in plain words."""

import pytest

from platekit.assembly.proof import Thing, ThingKind, comes_out, prove
from platekit.errors import PartError, UnknownNameError
from tests.assembly.proof.rigs import bar, brick, case, screw


def said(things, *args, **how):
    """Return the findings about one wish as lines."""
    return [str(f) for f in prove(things, [comes_out(*args, **how)]).findings]


def motor_on_a_hatch():
    """Return a case with a hatch in its floor, 60 x 50 mm, and a motor screwed to the hatch.

    The hatch lies under the floor and is held to it by one screw from below; the motor stands on
    the hatch, inside the case, held from below too: gravity's way is the only way out.
    """
    floor = Thing(
        "floor",
        ThingKind.PLATE,
        (
            bar((0, 0, 0), (20, 80, 6), holes=((12, 40, 5.0),)),
            bar((80, 0, 0), (100, 80, 6)),
            bar((20, 0, 0), (80, 15, 6)),
            bar((20, 65, 0), (80, 80, 6)),
        ),
    )
    hatch = brick("hatch", (5, 5, -6), (95, 75, 0), holes=((12, 40, 5.5), (50, 40, 5.5)))
    motor = Thing(
        "motor",
        ThingKind.DEVICE,
        (bar((25, 20, 0), (75, 60, 30), holes=((50, 40, 5.0),)),),
    )
    down = {"way": -1}
    return [
        floor,
        *case()[1:],
        hatch,
        motor,
        screw("hatch screw", ("hatch", "floor"), (12, 40, -6), grip=12.0, **down),
        screw("motor screw", ("motor", "hatch"), (50, 40, -6), grip=16.0, **down),
    ]


def test_a_hatch_takes_its_motor_along():
    """The motor is screwed to the hatch only: it goes down with it, and not up."""
    things = motor_on_a_hatch()
    assert said(things, "hatch", towards="down") == []
    (up,) = said(things, "hatch", towards="up")
    assert "floor" in up


def test_a_motor_taller_than_its_hatch_is_wide_is_held_by_what_it_meets():
    """With the floor's opening too small for the motor the hatch cannot take it along."""
    things = motor_on_a_hatch()
    bore = ((50, 40, 5.0),)
    body, foot = (
        bar((15, 20, 6), (75, 60, 30), holes=bore),
        bar((45, 35, 0), (55, 45, 6), holes=bore),
    )
    wide = Thing("motor", ThingKind.DEVICE, (body, foot))
    things = [wide if t.name == "motor" else t for t in things]
    (line,) = said(things, "hatch", towards="down")
    assert "floor" in line


def test_a_screw_that_goes_along_needs_room_too():
    """A hatch slides out sideways under a bar; the motor screw's head, below it, hits the bar."""
    things = [
        brick("hatch", (0, 0, 0), (60, 60, 6), holes=((30, 30, 5.5),)),
        Thing("motor", ThingKind.DEVICE, (bar((20, 20, 6), (40, 40, 20), holes=((30, 30, 5.0),)),)),
        screw("motor screw", ("motor", "hatch"), (30, 30, 0), grip=12.0, way=-1),
        brick("sill", (70, 0, -10), (80, 60, 0)),
    ]
    (line,) = said(things, "hatch", towards="right")
    assert "sill" in line
    assert said(things, "hatch", towards="left") == []


@pytest.mark.parametrize(("towards", "meets"), [("left", "lid"), ("up", ""), ("down", "front")])
def test_a_screw_may_be_asked_for_itself(towards, meets):
    """Up it comes out; sideways and downwards it meets what it sits in."""
    things = [
        brick("front", (0, 0, 0), (100, 6, 54)),
        brick("lid", (0, 0, 54), (100, 80, 60), holes=((20, 3, 5.5),)),
        screw("screw", ("lid",), (20, 3, 60), grip=6.0),
    ]
    lines = said(things, "screw", towards=towards)
    assert len(lines) == bool(meets)
    assert all(meets in line for line in lines)


def test_a_name_that_is_not_there_lists_what_is():
    """A slip of the pen names the panels and devices, not the screws."""
    with pytest.raises(UnknownNameError, match="hatch") as caught:
        prove(motor_on_a_hatch(), [comes_out("hatsch", towards="down")])
    assert "hatch screw" not in str(caught.value)
    with pytest.raises(UnknownNameError, match="florr"):
        prove(motor_on_a_hatch(), [comes_out("hatch", towards="down", after=("florr",))])


@pytest.mark.parametrize("how", [{"towards": "sideways"}, {"towards": "up", "after": "lid"}])
def test_a_wish_that_cannot_be_is_refused(how):
    """A direction there is not; a name given without brackets."""
    with pytest.raises(PartError, match="hatch"):
        comes_out("hatch", **how)


def test_a_rig_of_nothing_or_of_belts_alone_is_proved():
    """Nothing can block nothing."""
    assert prove([]).steps == ()
    belt = Thing("belt", ThingKind.BELT, (bar((0, 0, 0), (80, 10, 6)),))
    assert prove([belt]).findings == ()
