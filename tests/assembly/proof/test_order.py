"""Orders of assembly of small rigs with known answers, each tried out on a bench of its own."""

import numpy as np
import pytest

from platekit.assembly.frames import Frame, Vector, X, Y, Z
from platekit.assembly.proof import Thing, ThingKind, comes_out, prove
from platekit.assembly.proof.things import Prism
from platekit.findings import Severity
from platekit.geometry.motion import mirror_in_vertical
from platekit.geometry.profile import Profile
from platekit.geometry.shapes import rectangle
from tests.assembly.proof.bench import trouble
from tests.assembly.proof.rigs import UPRIGHT, bar, brick, case, extruded, nutted, screw


def order(things):
    """Return the steps of a rig that goes together, tried on the bench."""
    proved = prove(things)
    assert proved.findings == ()
    assert trouble(things, proved.steps) == []
    return proved.steps


def when(steps, name):
    """Return in which step a thing is brought in."""
    return next(k for k, step in enumerate(steps) if name in step.things)


def driven(steps, name):
    """Return in which step a screw is driven."""
    return next(k for k, step in enumerate(steps) if name in step.fasteners)


def holed_lid():
    """Return a case whose lid is held by two screws, with the screws."""
    *walls, lid = case()
    lid = brick("lid", (0, 0, 54), (100, 80, 60), holes=((20, 3, 5.5), (80, 3, 5.5)))
    front = brick("front", (0, 0, 6), (100, 6, 54))
    screws = [
        screw(f"lid screw {k}", ("lid", "front"), (x, 3, 60), grip=6.0)
        for k, x in enumerate((20, 80), 1)
    ]
    return [*(front if w.name == "front" else w for w in walls), lid, *screws]


def test_a_lid_goes_on_downwards_and_its_screws_with_it():
    """Whatever comes before, the screws are driven when both they hold are there."""
    steps = order(holed_lid())
    lid = steps[when(steps, "lid")]
    assert max(when(steps, "lid"), when(steps, "front")) == driven(steps, "lid screw 1")
    assert driven(steps, "lid screw 1") == driven(steps, "lid screw 2")
    assert lid.says in {"down", "from the front", "to the front", "to the back"}


def test_what_lies_inside_goes_in_before_the_last_wall():
    """A block in a closed case cannot be the last; taken out of the case, it may be anything."""
    things = [*case(), brick("block", (30, 30, 6), (60, 50, 30))]
    steps = order(things)
    assert when(steps, "block") < len(steps) - 1


def test_a_drawer_goes_in_from_the_open_side():
    """A case glued as one, open to the front: the drawer comes last, to the back."""
    shell = Thing(
        "shell",
        ThingKind.PLATE,
        (
            bar((0, 0, 0), (100, 80, 6)),
            bar((0, 0, 44), (100, 80, 50)),
            bar((0, 0, 6), (6, 80, 44)),
            bar((94, 0, 6), (100, 80, 44)),
            bar((6, 74, 6), (94, 80, 44)),
        ),
    )
    for things in ([shell, brick("drawer", (6, 0, 6), (94, 70, 30))],):
        steps = order(things)
        assert [step.says for step in steps][1] in {"to the back", "to the front"}
        assert abs(steps[1].way.y) == 1.0


def test_two_panels_in_a_halving_go_together_upright():
    """Slots half way up: the one slotted above stands, the other comes down on it."""
    low = extruded(
        "low",
        [(0, 0), (60, 0), (60, 40), (33, 40), (33, 20), (27, 20), (27, 40), (0, 40)],
        front=27,
        back=33,
    )
    high = Thing(
        "high",
        ThingKind.PLATE,
        (
            bar((27, 0, 20), (33, 60, 40)),
            bar((27, 0, 0), (33, 27, 20)),
            bar((27, 33, 0), (33, 60, 20)),
        ),
    )
    for things in ([low, high], [high, low]):
        steps = order(things)
        name = steps[1].things[0]
        assert steps[1].says == ("down" if name == "high" else "up")


def blind_peg(axis):
    """Return a peg sunk in a block that is open above, or to the front."""
    if axis == "z":
        block = Thing(
            "block",
            ThingKind.PLATE,
            (bar((0, 0, 0), (40, 40, 10)), bar((0, 0, 10), (40, 40, 30), holes=((20, 20, 10.2),))),
        )
        peg = brick("peg", (17, 17, 10), (23, 23, 30))
    else:
        hollow = Profile(rectangle(40, 30), (rectangle(10, 10, centre=(20, 15)),))
        block = Thing(
            "block",
            ThingKind.PLATE,
            (Prism(hollow, UPRIGHT, -30, 0), Prism(Profile(rectangle(40, 30)), UPRIGHT, -40, -30)),
        )
        peg = brick("peg", (15, 0, 10), (25, 30, 20))
    return [block, peg]


@pytest.mark.parametrize(("axis", "said"), [("z", "down"), ("y", "to the back")])
def test_a_peg_in_a_blind_hole_has_only_one_way(axis, said):
    """A peg sunk in a block open on one side only goes in from there."""
    steps = order(blind_peg(axis))
    assert steps[1].things == ("peg",)
    assert steps[1].says == said


def links(*, open_at=()):
    """Return two rings that pass through each other, as links of a chain do."""
    flat = Profile(rectangle(60, 60), (rectangle(40, 40, centre=(30, 30)),))
    one = Thing("one", ThingKind.PLATE, (Prism(flat, UPRIGHT, -33, -27),))  # in x, z at y 27..33
    bars = {
        "near": bar((35, 27, 25), (45, 33, 35)),
        "far": bar((75, 27, 25), (85, 33, 35)),
        "front": bar((35, 0, 25), (85, 27, 35)),
        "back": bar((35, 33, 25), (85, 60, 35)),
    }
    return one, Thing("two", ThingKind.PLATE, tuple(b for k, b in bars.items() if k not in open_at))


def test_two_links_of_a_chain_are_stuck_and_name_each_other():
    """Two closed rings cannot be parted; with one of them cut open they can."""
    things = list(links())
    proved = prove([*things, brick("apart", (200, 0, 0), (220, 20, 20))])
    stuck = {f.part: f.measure for f in proved.findings if f.severity is Severity.STOP}
    assert set(stuck) == {"one", "two"}
    assert "two" in stuck["one"]
    assert "one" in stuck["two"]
    assert [s.things for s in proved.steps] == [("apart",)]
    steps = order(list(links(open_at=("far", "front"))))
    assert len(steps) == 2


LOWER_HOOK = [(0, 0), (60, 0), (60, 10), (40, 10), (40, 30), (20, 30), (20, 20), (30, 20), (30, 10)]
UPPER_HOOK = [(0, 12), (28, 12), (28, 18), (18, 18), (18, 32), (60, 32), (60, 40), (0, 40)]


def hooked():
    """Return a double tray with two hooks in each other in either half, which only fit together.

    The tray's floor lies at z -10 to 0; one pair goes in from above, its mirror from below.
    """
    things = [
        Thing(
            "tray",
            ThingKind.PLATE,
            (
                bar((-10, 0, -10), (70, 60, 0)),
                *(
                    bar((*low, z), (*high, z + 50))
                    for z in (0, -60)
                    for low, high in (
                        ((-10, 0), (70, 10)),
                        ((-10, 50), (70, 60)),
                        ((-10, 10), (0, 50)),
                        ((60, 10), (70, 50)),
                    )
                ),
            ),
        )
    ]
    for name, corners in (("lower", [*LOWER_HOOK, (0, 10)]), ("upper", UPPER_HOOK)):
        below = [(x, -10 - z) for x, z in reversed(corners)]
        things.append(extruded(f"{name} hook", corners, front=10, back=50))
        things.append(extruded(f"{name} hook below", below, front=10, back=50))
    return things


@pytest.mark.parametrize("turn", range(5))
def test_two_pieces_hooked_in_each_other_go_in_as_one(turn):
    """Neither hook goes in alone: two are hooked on the bench and brought in together.

    The first pair may stand on the bench and take the tray over it; the second pair cannot.
    """
    things = hooked()
    steps = order(things[turn:] + things[:turn])
    (pair,) = (step for step in steps if len(step.things) > 1)
    assert (set(pair.things), pair.says) in (
        ({"lower hook", "upper hook"}, "down"),
        ({"lower hook below", "upper hook below"}, "up"),
    )
    apart = [step for step in steps if step.heap]
    assert {name for step in apart for name in step.things} == set(pair.things)
    assert {step.heap for step in apart} == {pair.brings}
    assert steps.index(pair) == max(map(steps.index, apart)) + 1


def covered_screw(*, cover_moves=True):
    """Return a plate screwed to a base, and a cover right over the screw's head.

    Args:
        cover_moves: Whether cover and base are two; else the cover belongs to the base.
    """
    foot, roof = bar((0, 0, 10), (10, 60, 50)), bar((0, 0, 50), (80, 60, 56))
    plate = brick("plate", (12, 0, 10), (80, 60, 16), holes=((40, 30, 5.5),))
    sunk = bar((0, 0, 0), (80, 60, 10), holes=((40, 30, 5.0),))
    held = screw("screw", ("plate", "base"), (40, 30, 16), grip=16.0)
    if cover_moves:
        return [
            Thing("base", ThingKind.PLATE, (sunk,)),
            Thing("cover", ThingKind.PLATE, (foot, roof)),
            plate,
            held,
        ]
    return [Thing("base", ThingKind.PLATE, (sunk, foot, roof)), plate, held]


def test_a_screw_under_a_cover_is_driven_before_the_cover_goes_on():
    """The tool reaches 60 mm up, the cover hangs 29 mm over the head: the screw itself gets in."""
    steps = order(covered_screw())
    assert driven(steps, "screw") < when(steps, "cover")


def test_a_screw_whose_tool_is_blocked_for_ever_is_a_stop():
    """The cover belongs to the base: no order lets the key in, and the findings say so."""
    proved = prove(covered_screw(cover_moves=False))
    said = [f for f in proved.findings if f.severity is Severity.STOP]
    assert {f.part for f in said} == {"base", "plate"}
    assert all("no tool reaches screw, base in the way" in f.measure for f in said)
    assert proved.steps == ()


def boxed_fan():
    """Return a case, a fan on its lid, and a bolt through both: its nut is inside the case."""
    *walls, _ = case()
    lid = brick("lid", (0, 0, 54), (100, 80, 60), holes=((50, 60, 5.5),))
    fan = brick("fan", (30, 40, 60), (70, 78, 70), holes=((50, 60, 5.5),), kind=ThingKind.DEVICE)
    held = screw("bolt", ("fan", "lid"), (50, 60, 70), grip=22.0)
    return [*walls, lid, fan, nutted(held, grip=16.0)]


def lidded_tub(*, open_front):
    """Return a tub with a rim under its lid, bolted through both, the nut below the rim."""
    floor, front, *walls, _ = case()
    rim = bar((30, 44, 48), (70, 74, 54), holes=((50, 60, 5.5),))
    glued = [floor, *walls] if open_front else [floor, front, *walls]
    tub = Thing("tub", ThingKind.PLATE, (*(w.prisms[0] for w in glued), rim))
    lid = brick("lid", (0, 0, 54), (100, 80, 60), holes=((50, 60, 5.5),))
    held = screw("bolt", ("lid", "tub"), (50, 60, 60), grip=18.0)
    return [tub, lid, nutted(held, grip=12.0)]


def test_a_nut_inside_a_case_is_put_on_before_the_case_is_shut():
    """The key reaches the head from outside at any time; the nut needs a hand inside."""
    steps = order(boxed_fan())
    walls = ("floor", "front", "back", "left", "right")
    assert driven(steps, "bolt") < max(when(steps, wall) for wall in walls)


def test_a_nut_that_its_own_lid_shuts_in_is_a_stop():
    """Nothing else comes off the tub: with the lid on, no hand gets below the rim any more."""
    said = prove(lidded_tub(open_front=False)).findings
    assert {f.part for f in said} == {"tub", "lid"}
    assert all(f.severity is Severity.STOP for f in said)
    assert all("no hand brings bolt or its nut" in f.measure for f in said)
    assert order(lidded_tub(open_front=True))


@pytest.mark.parametrize("wide", [14.0, 9.2])
def test_a_nut_in_a_recess_is_first_drawn_out_of_it(wide):
    """Off its thread it still lies 9 mm deep; below the recess it may go to any side.

    The floor under it leaves no way straight down.
    """
    block = Thing(
        "block",
        ThingKind.PLATE,
        (
            bar((0, 0, 0), (60, 60, 6), holes=((30, 30, 5.5),)),
            bar((0, 0, -9), (60, 60, 0), holes=((30, 30, wide),)),
        ),
    )
    post, floor = (
        brick("post", (0, 0, -46), (6, 60, -9)),
        brick("floor", (0, 0, -52), (60, 60, -46)),
    )
    box = brick("box", (10, 10, 6), (50, 50, 16), holes=((30, 30, 5.5),), kind=ThingKind.DEVICE)
    held = screw("bolt", ("box", "block"), (30, 30, 16), grip=22.0)
    things = [floor, post, block, box, nutted(held, grip=16.0)]
    assert prove(things, [comes_out("box", towards="up")]).findings == ()
    low = brick("floor", (0, 0, -17), (60, 60, -11))  # too near for the nut to get below the recess
    (said,) = prove([low, *things[2:]], [comes_out("box", towards="up")]).findings
    assert (said.feature, "out of reach" in said.measure) == ("bolt", True)


def test_a_part_is_put_straight_onto_the_face_it_stands_on():
    """A foot goes up against the underside, though it could be slid in from any side."""
    floor = brick("floor", (0, 0, 0), (100, 80, 6))
    under = Frame(Vector(50, 40, 0), Vector(1, 0, 0), Vector(0, -1, 0))  # n looks down
    foot = Thing("foot", ThingKind.DEVICE, (Prism(Profile(rectangle(20, 20)), under, 0.0, 10.0),))
    said = {step.things[0]: step.says for step in order([floor, foot])}
    assert said["foot"] == "up"


def test_a_lid_whose_nuts_no_hand_reaches_does_not_come_off():
    """Closed, its bolt cannot be undone; with the front open it can."""
    wish = [comes_out("lid", towards="up")]
    (said,) = (f for f in prove(lidded_tub(open_front=False), wish).findings if f.feature)
    assert (said.part, said.feature) == ("lid", "bolt")
    assert "out of reach" in said.measure
    assert prove(lidded_tub(open_front=True), wish).findings == ()


def test_a_motor_comes_out_of_its_box_where_it_is_open():
    """Open above: up, but not down; and down once the floor is off."""
    motor = brick("motor", (30, 25, 6), (70, 55, 40), kind=ThingKind.DEVICE)
    things = [*case(lid=False), motor]

    def said(**how):
        return [str(f) for f in prove(things, [comes_out("motor", **how)]).findings]

    assert said(towards="up") == []
    (down,) = said(towards="down")
    assert "floor" in down
    assert said(towards="down", after=("floor",)) == []
    (left,) = said(towards="left")
    assert "left" in left
    assert "right" not in left


def test_a_motor_whose_screws_are_under_a_shelf_says_so():
    """Its screw has no room for the key under the shelf, though the way to the front is free."""
    motor = Thing(
        "motor",
        ThingKind.DEVICE,
        (bar((30, 10, 6), (70, 50, 16), holes=((50, 30, 5.5),)),),
    )
    floor = brick("floor", (0, 0, 0), (100, 80, 6), holes=((50, 30, 5.0),))
    shelf = brick("shelf", (0, 0, 40), (100, 80, 46))
    held = screw("motor screw", ("motor", "floor"), (50, 30, 16), grip=15.0)
    things = [floor, motor, shelf, held]
    (said,) = prove(things, [comes_out("motor", towards="front")]).findings
    assert (said.part, said.feature) == ("motor", "motor screw")
    assert "shelf" in said.measure
    assert prove(things, [comes_out("motor", towards="front", after=("shelf",))]).findings == ()


def test_something_far_away_changes_nothing():
    """The same steps, and one more for what stands a metre off."""
    things = holed_lid()
    far = brick("far", (1000, 0, 0), (1020, 20, 20))
    with_it = prove([*things, far])
    steps = [step for step in with_it.steps if step.things != ("far",)]
    assert steps == list(prove(things).steps)
    assert with_it.findings == ()


def turned(thing, about, angle):
    """Return a thing turned about an axis through the origin."""
    prisms = tuple(
        Prism(p.profile, p.frame.turned(about=about, angle_deg=angle), p.low_mm, p.high_mm)
        for p in thing.prisms
    )
    return Thing(thing.name, thing.kind, prisms, plates=thing.plates)


@pytest.mark.parametrize("angle", [90, 180, 30, 137])
@pytest.mark.parametrize("axis", ["x", "y", "z"])
@pytest.mark.parametrize(
    "rig",
    [
        pytest.param(case, id="case"),
        pytest.param(lambda: [*case(), brick("block", (30, 30, 6), (60, 50, 30))], id="filled"),
        pytest.param(lambda: blind_peg("z"), id="peg"),
        pytest.param(lambda: blind_peg("y"), id="lying peg"),
        pytest.param(lambda: list(links()), id="links"),
        pytest.param(lambda: list(links(open_at=("far", "front"))), id="open link"),
    ],
)
def test_a_rig_turned_in_space_is_judged_alike(rig, axis, angle):
    """Whether it goes together, and what is stuck, is the same at any angle."""
    still = rig()
    tilted = [turned(t, {"x": X, "y": Y, "z": Z}[axis], angle) for t in still]
    one, other = prove(still), prove(tilted)
    assert {f.part for f in one.findings} == {f.part for f in other.findings}
    assert len(one.steps) == len(other.steps)
    stuck = {f.part for f in other.findings}
    assert trouble(tilted, other.steps, standing=stuck) == []


def mirrored(thing):
    """Return a thing seen in a mirror that stands at x = 0."""
    prisms = []
    for p in thing.prisms:
        u, v, o = p.frame.u, p.frame.v, p.frame.origin
        # The mirror swaps the hand of a frame: u is turned round and the cross-section with it.
        frame = Frame(Vector(-o.x, o.y, o.z), Vector(u.x, -u.y, -u.z), Vector(-v.x, v.y, v.z))
        prisms.append(Prism(p.profile.moved(mirror_in_vertical()), frame, p.low_mm, p.high_mm))
    return Thing(thing.name, thing.kind, tuple(prisms), plates=thing.plates)


@pytest.mark.parametrize("rig", [hooked, links, case], ids=["hooked", "links", "case"])
def test_a_rig_in_a_mirror_is_judged_alike(rig):
    """The same is stuck, and as many steps lead to it."""
    still = list(rig())
    other = [mirrored(thing) for thing in still]
    assert sum(t.solid.volume() for t in other) == pytest.approx(
        sum(t.solid.volume() for t in still)
    )
    one, two = prove(still), prove(other)
    assert {f.part for f in one.findings} == {f.part for f in two.findings}
    assert len(one.steps) == len(two.steps)
    stuck = {f.part for f in two.findings}
    assert trouble(other, two.steps, standing=stuck) == []


@pytest.mark.parametrize("seed", range(12))
def test_boxes_square_to_the_axes_always_go_together(seed):
    """However they lie, the box with the highest underside has nothing above it: it can be lifted.

    So an order always exists, and the one found is tried on the bench. (A proof of one line, no
    source needed; for boxes turned against each other it does not hold.)
    """
    rng = np.random.default_rng(seed)
    things = []
    while len(things) < 14:
        low = rng.integers(0, 60, 3)
        size = rng.integers(4, 45, 3)
        high = low + size
        if all(np.any(low >= t.box[1] - 1e-9) or np.any(high <= t.box[0] + 1e-9) for t in things):
            things.append(brick(f"box {len(things)}", low.tolist(), high.tolist()))
    assert len(order(things)) >= len(things)


@pytest.mark.parametrize("seed", range(12))
def test_whatever_order_is_found_for_random_combs_passes_the_bench(seed):
    """U and L pieces that may lock each other: steps pass, and the rest is said to be stuck."""
    rng = np.random.default_rng(100 + seed)
    things, tries = [], 0
    while len(things) < 9 and tries < 3000:
        tries += 1
        low, size = rng.integers(0, 50, 3), rng.integers(12, 40, 3)
        x0, y0, z0 = low.tolist()
        x1, y1, z1 = (low + size).tolist()
        arms = [bar((x0, y0, z0), (x1, y1, z0 + 4)), bar((x0, y0, z0 + 4), (x0 + 4, y1, z1))]
        if rng.random() < 0.7:
            arms.append(bar((x1 - 4, y0, z0 + 4), (x1, y1, z1)))
        new = Thing(f"piece {len(things)}", ThingKind.PLATE, tuple(arms))
        if all((new.solid ^ t.solid).volume() < 1e-6 for t in things):
            things.append(new)
    proved = prove(things)
    stuck = {f.part for f in proved.findings}
    brought = {name for step in proved.steps for name in step.things}
    assert stuck | brought == {t.name for t in things}
    assert trouble(things, proved.steps, standing=stuck - brought) == []


def bracketed(*, lip=False):
    """Return a double frame into which two plates, screwed to each other, slide from either end.

    The heads of their screws stand 5 mm above them, under a roof 6 mm higher than the plates: no
    key gets there.

    Args:
        lip: Whether the right mouth of the frame is 2 mm high above the plates only.
    """
    frame = [
        bar((-100, 0, -6), (100, 60, 0)),
        bar((-100, 0, 18), (100, 60, 24)),
        bar((-100, 0, 0), (100, 6, 18)),
        bar((-100, 54, 0), (100, 60, 18)),
        bar((-6, 6, 0), (6, 54, 18)),
    ]
    if lip:
        frame.append(bar((94, 6, 14), (100, 54, 18)))
    things = [Thing("frame", ThingKind.PLATE, tuple(frame))]
    for side, x0, x1, x in (("left", -90, -6, -40), ("right", 6, 90, 40)):
        low, high = f"{side} lower", f"{side} upper"
        things += [
            brick(low, (x0, 6, 0), (x1, 54, 6), holes=((x, 30, 5.0),)),
            brick(high, (x0, 6, 6), (x1, 54, 12), holes=((x, 30, 5.5),)),
            screw(f"{side} screw", (high, low), (x, 30, 12), grip=12.0),
        ]
    return things


def test_screws_driven_on_the_bench_go_in_with_their_plates():
    """The plates are screwed together first; one pair slides in, the frame over the other."""
    steps = order(bracketed())
    (group,) = (step for step in steps if len(step.things) > 1)
    side = group.things[0].split()[0]
    assert set(group.things) == {f"{side} lower", f"{side} upper"}
    assert group.says == ("to the right" if side == "left" else "to the left")
    assert driven(steps, f"{side} screw") < steps.index(group)
    assert max(driven(steps, f"{end} screw") for end in ("left", "right")) < len(steps) - 1


def test_a_screw_whose_head_meets_a_lip_keeps_its_plates_out():
    """The plates would pass the mouth, the head of the screw they carry would not."""
    proved = prove(bracketed(lip=True))
    assert {f.part for f in proved.findings} == {"frame", "right lower", "right upper"}
    assert any("right screw" in f.measure for f in proved.findings)
    assert {n for step in proved.steps for n in step.things} == {"left lower", "left upper"}
