"""Holes of mounted devices: in space they stand where the maker's pattern says, on every face."""

import math

import pytest

from platekit.assembly import Assembly, lying, standing
from platekit.assembly.frames import Vector
from platekit.assembly.mounting import mounted
from platekit.hardware.devices.hubs import hub
from platekit.hardware.devices.motors import encoder, motor
from platekit.panel.places import around, centre, corners, mirrored
from tests.assembly.bodies import plate
from tests.assembly.mounting.space import holes, holes_on, in_the_way

# A plate of 160 x 120 x 6 mm. For each way it can stand: where its drawn face looks, where its
# (50, 40) lies in space on the drawn face, and for each of its faces: right and up as seen by
# someone who looks at that face, the drawn face first. Worked by hand from the workshop's axes:
# x right, y back, z up.
T = 6.0
LEFT, RIGHT = Vector(-1, 0, 0), Vector(1, 0, 0)
FRONT, BACK = Vector(0, -1, 0), Vector(0, 1, 0)
UP, DOWN = Vector(0, 0, 1), Vector(0, 0, -1)
STANDS = {
    "up": (Vector(60, 60, 106), ("up", RIGHT, BACK), ("down", LEFT, BACK)),
    "down": (Vector(120, 60, 100), ("down", LEFT, BACK), ("up", RIGHT, BACK)),
    "front": (Vector(60, 20, 140), ("front", RIGHT, UP), ("back", LEFT, UP)),
    "back": (Vector(120, 26, 140), ("back", LEFT, UP), ("front", RIGHT, UP)),
    "left": (Vector(10, 130, 140), ("left", FRONT, UP), ("right", BACK, UP)),
    "right": (Vector(16, 70, 140), ("right", BACK, UP), ("left", FRONT, UP)),
}
INTO = {"up": DOWN, "down": UP, "front": BACK, "back": FRONT, "left": RIGHT, "right": LEFT}

# Three holes on a circle of diameter 1, the first at 0 degrees: hole-circle table of machinery
# handbooks (the table from memory, its figures computed).
THREE = ((0.5, 0.0), (-0.25, 0.43301), (-0.25, -0.43301))
# Six holes, from the same table.
SIX = (
    (0.5, 0.0),
    (0.25, 0.43301),
    (-0.25, 0.43301),
    (-0.5, 0),
    (-0.25, -0.43301),
    (0.25, -0.43301),
)


def stand(way):
    """Return the panel that looks that way, its least corner at (10, 20, 100)."""
    slab = plate("wall", T, 160, 120)
    if way in {"up", "down"}:
        return lying(slab, face=way, left_mm=10, front_mm=20, bottom_mm=100)
    return standing(slab, facing=way, left_mm=10, front_mm=20, bottom_mm=100)


def encoder_58():
    """Return an encoder with three M3 holes on 48 mm: common practice, no source."""
    return encoder("58 mm clamping flange", body_length_mm=50, shaft_length_mm=25)


@pytest.mark.parametrize("turn", [0.0, 30.0, 90.0, 197.0])
@pytest.mark.parametrize("behind", [False, True])
@pytest.mark.parametrize("way", STANDS)
def test_three_holes_stand_right_and_up_as_someone_sees_who_looks_at_the_face(way, behind, turn):
    """The maker's drawing shows the first hole at the top: 90 degrees.

    Seen from the back of the plate the same pattern is mirrored: this holds by the table of what
    is right and up for who looks at which face.
    """
    at, *faces = STANDS[way]
    side, right, up = faces[behind]
    if behind:
        at = at.plus(INTO[way], times=T)
    asked = mounted(encoder_58(), on="wall", side=side, at=(50, 40), turn_deg=turn, name="dial")
    resolved = Assembly("a").with_panels(stand(way)).with_hardware(asked).resolve()
    c, s = math.cos(math.radians(90 + turn)), math.sin(math.radians(90 + turn))
    drilled = holes(resolved, 3.4)  # ISO 273 medium, M3
    assert len(drilled) == 3
    for x, y in THREE:
        across, along = 48 * (c * x - s * y), 48 * (s * x + c * y)
        wanted = at.plus(right, times=across).plus(up, times=along)
        apart = min(
            min(one.near.plus(wanted, times=-1).length, one.far.plus(wanted, times=-1).length)
            for one in drilled
        )
        assert apart < 48 * 1e-5  # the table's five decimals
    for fastening in resolved.fastenings:
        assert len(holes_on(resolved, fastening)) == 1
        assert not in_the_way(resolved, fastening)
        # Heads lie behind the plate; the screws are drawn out into what the face looks away from.
        assert fastening.way == pytest.approx(INTO[side])


@pytest.mark.parametrize("way", STANDS)
@pytest.mark.parametrize(
    ("face", "screw_hole", "circle", "spigot"),
    [
        # NEMA ICS 16: bolt circles 2.625 and 3.875 in, spigots 1.5 and 2.875 in; the holes stand
        # on the diagonals. ISO 273 medium: M4 4.5, M5 5.5 mm.
        pytest.param("NEMA 23", 4.5, 2.625, 1.5, id="23"),
        pytest.param("NEMA 34", 5.5, 3.875, 2.875, id="34"),
    ],
)
def test_a_motors_pattern_is_that_of_the_standard(way, face, screw_hole, circle, spigot):
    """Spigot about the axis, four holes about it on the diagonals; 0.2 mm play, no source."""
    at, (side, right, up), _ = STANDS[way]
    drive = motor(face, body_length_mm=80, shaft_length_mm=30, flange_mm=6)
    asked = mounted(drive, on="wall", side=side, at=(80, 60), name="motor")
    resolved = Assembly("a").with_panels(stand(way)).with_hardware(asked).resolve()
    middle = at.plus(right, times=30).plus(up, times=20)
    (bore,) = holes(resolved, spigot * 25.4 + 0.2)
    assert bore.far == pytest.approx(middle)
    far = circle * 25.4 / 2 / math.sqrt(2)
    found = sorted(tuple(one.far) for one in holes(resolved, screw_hole))
    wanted = sorted(
        tuple(middle.plus(right, times=a * far).plus(up, times=b * far))
        for a in (1, -1)
        for b in (1, -1)
    )
    assert len(found) == 4
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=1e-4)


@pytest.mark.parametrize("side", ["up", "down"])
def test_several_spots_give_several_numbered_devices_with_their_own_screws(side):
    """Four encoders in the corners: twelve holes, and every screw runs through one."""
    slab = lying(plate("deck", T, 300, 220), top_mm=0)
    asked = mounted(encoder_58(), on="deck", side=side, at=corners(inset_mm=50), name="dial")
    resolved = Assembly("a").with_panels(slab).with_hardware(asked).resolve()
    assert [body.name for body in resolved.bodies] == ["dial 1", "dial 2", "dial 3", "dial 4"]
    spots = [(50, 50), (250, 50), (250, 170), (50, 170)]
    bores = {(round(h.near.x, 6), round(h.near.y, 6)) for h in holes(resolved, 36.2)}
    assert bores == set(spots)
    assert len(holes(resolved, 3.4)) == 12
    for fastening in resolved.fastenings:
        assert len(holes_on(resolved, fastening)) == 1
        number = int(fastening.name.split()[1])
        x, y, _ = fastening.bodies[0].frame.origin
        assert math.dist((x, y), spots[number - 1]) == pytest.approx(24)


def test_a_hub_of_six_turned_is_the_table_turned():
    """Six holes on 70 mm, the first at 20 degrees, on the underside: x runs to the left there."""
    slab = lying(plate("deck", T, 200, 160), top_mm=0)
    device = hub("six-bolt 70 mm M5", bore_mm=20, thickness_mm=10, start_deg=20)
    asked = mounted(device, on="deck", side="down", at=(100, 80), name="hub")
    resolved = Assembly("a").with_panels(slab).with_hardware(asked).resolve()
    c, s = math.cos(math.radians(20)), math.sin(math.radians(20))
    wanted = sorted((100 - 70 * (c * x - s * y), 80 + 70 * (s * x + c * y)) for x, y in SIX)
    found = sorted((one.near.x, one.near.y) for one in holes(resolved, 5.5))
    assert len(found) == 6
    for one, other in zip(found, wanted, strict=True):
        assert one == pytest.approx(other, abs=70e-5)


@pytest.mark.parametrize("side", ["up", "down"])
@pytest.mark.parametrize(("across", "image"), [("vertical", (-1, 1)), ("horizontal", (1, -1))])
def test_in_a_mirrored_place_a_part_is_turned_and_not_mirrored(side, across, image):
    """No maker sells a mirrored encoder: its own y lies as in a mirror, its holes still fit it.

    The twist from its y to its x is the same for both: they are the same part.
    """
    slab = lying(plate("deck", T, 300, 220), top_mm=0)
    place = mirrored((80, 70), across=across)
    asked = mounted(encoder_58(), on="deck", side=side, at=place, turn_deg=20, name="dial")
    resolved = Assembly("a").with_panels(slab).with_hardware(asked).resolve()
    one, other = (body.frame for body in resolved.bodies)
    assert (other.v.x, other.v.y) == pytest.approx((one.v.x * image[0], one.v.y * image[1]))
    assert one.n == pytest.approx(other.n)
    assert other.origin.x == pytest.approx(80 if image[0] == 1 else 220)
    assert other.origin.y == pytest.approx(70 if image[1] == 1 else 150)
    assert len(resolved.fastenings) == 6
    for fastening in resolved.fastenings:
        assert len(holes_on(resolved, fastening)) == 1


@pytest.mark.parametrize("side", ["up", "down"])
def test_a_turned_place_turns_alike_on_either_face(side):
    """At 30 degrees round the circle its own y leans as far, seen from above, on both."""
    slab = lying(plate("deck", T, 300, 220), top_mm=0)
    place = around(centre(), radius_mm=60, start_deg=30)
    asked = mounted(encoder_58(), on="deck", side=side, at=place, name="dial")
    (body,) = Assembly("a").with_panels(slab).with_hardware(asked).resolve().bodies
    assert tuple(body.frame.v) == pytest.approx((-0.5, math.sqrt(3) / 2, 0))
    assert tuple(body.frame.origin)[:2] == pytest.approx((150 + 30 * math.sqrt(3), 110 + 30))
