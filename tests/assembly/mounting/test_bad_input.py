"""What a recipe may get wrong: always one of platekit's own errors, with what, where and remedy."""

import math

import pytest

from platekit.assembly import Assembly, lying
from platekit.assembly.mounting import belted, bolted, by_belt, mounted, on_axis
from platekit.errors import PartError, PlatekitError, UnknownNameError
from platekit.hardware import belt_drive
from platekit.hardware.devices.motors import encoder
from platekit.panel.places import corners, grid
from tests.assembly.bodies import plate

DIAL = encoder("58 mm clamping flange", body_length_mm=50, shaft_length_mm=25, depth_mm=9)
DRIVE = belt_drive("curvilinear 3 mm", teeth=(60, 30), belt_teeth=120, width_mm=9)

NO_TEXT = (None, True, 5, math.nan, [], {}, (), ("a", "b"), b"deck", ["deck"], {"deck"}, object())
NO_NAME = ("", "  ", *NO_TEXT)
NO_NUMBER = (None, True, math.nan, math.inf, -math.inf, "", "6", [], (1,), object(), 1e9, 10**30)
NO_LENGTH = (-1, -1e-9, *NO_NUMBER)
NO_COUNT = (0, -1, 1.5, 2.0, True, math.nan, math.inf, "2", [], (1,), 10**6, 10**30)
NO_LIST = (None, True, 5, "deck", b"deck", {}, {"deck"}, (5,), ("deck", None), object())
NO_PLACE = (
    *(None, True, 5, math.nan, "", "middle", b"x", [], [10, 20], {}, object(), ()),
    *((10,), (1, 2, 3), ("a", "b"), (math.nan, 0), (0, math.inf), (None, None)),
)
NO_SIDE = (None, True, 5, "", "Up", "top", "outer", ["up"], ("up",), object())
NO_STANDARD = ("ISO 9999", "M5", *NO_NAME)
NO_FIT = ("tight", "MEDIUM", *NO_NAME)


def rig():
    """Return a plate to mount on."""
    return Assembly("rig").with_panels(lying(plate("deck", 6.0, 300, 200), top_mm=90))


def mount(**how):
    """Ask for a device and resolve."""
    asked = {"device": DIAL, "on": "deck", "side": "up", "name": "dial"} | how
    return rig().with_hardware(mounted(asked.pop("device"), **asked)).resolve()


def bolt(**how):
    """Ask for a bolt and resolve."""
    asked = {"thread": "M5", "on": "deck", "side": "up", "name": "pin"} | how
    return rig().with_hardware(bolted(asked.pop("thread"), **asked)).resolve()


def run(**how):
    """Ask for a belt between two devices and resolve."""
    asked = {"drive": DRIVE, "between": ("a", "b"), "on": "deck", "side": "down"} | how
    return (
        rig()
        .with_hardware(
            mounted(DIAL, on="deck", side="up", at=(60, 100), name="a"),
            mounted(DIAL, on="deck", side="up", at=by_belt(DRIVE, of="a"), name="b"),
            belted(asked.pop("drive"), **asked),
        )
        .resolve()
    )


def beside(**how):
    """Ask for a device on the axis of another."""
    return mount(at=on_axis(**({"of": "a"} | how)))


def driven(**how):
    """Ask for a device as far from another as a belt says."""
    asked = {"drive": DRIVE, "of": "a"} | how
    return mount(at=by_belt(asked.pop("drive"), **asked))


WRONG = [
    (mount, "device", ("motor", *NO_TEXT)),
    (mount, "on", ("Deck", "lid", *NO_NAME)),
    (mount, "side", ("left", "front", *NO_SIDE)),
    (mount, "at", NO_PLACE),
    (mount, "turn_deg", NO_NUMBER),
    (mount, "lift_mm", NO_NUMBER),
    (mount, "travel_mm", NO_LENGTH),
    (mount, "travel_deg", NO_NUMBER),
    (mount, "grip_layers", NO_COUNT),
    (mount, "access", (("lid",), ("",), *NO_LIST)),
    (mount, "through", (("lid",), ("",), *NO_LIST)),
    (mount, "screw", NO_STANDARD),
    (mount, "fit", NO_FIT),
    (mount, "name", ("a/b", "x" * 65, "aux", " a", *NO_TEXT)),
    (bolt, "thread", ("M5.5", "M999", "5", *NO_NAME)),
    (bolt, "on", ("Deck", "lid", *NO_NAME)),
    (bolt, "side", ("left", "front", *NO_SIDE)),
    (bolt, "at", NO_PLACE),
    (bolt, "travel_mm", NO_LENGTH),
    (bolt, "travel_deg", NO_NUMBER),
    (bolt, "grip_layers", NO_COUNT),
    (bolt, "access", (("lid",), ("",), *NO_LIST)),
    (bolt, "screw", NO_STANDARD),
    (bolt, "nut", NO_STANDARD),
    (bolt, "nut_pocket", (None, 0, 1, "", "yes", [], math.nan, object())),
    (bolt, "fit", NO_FIT),
    (bolt, "name", ("a/b", "x" * 65, "aux", " a", *NO_TEXT)),
    (run, "drive", ("belt", *NO_TEXT)),
    (run, "between", (("a",), ("a", "a"), ("a", "b", "a"), ("a", "x"), "ab", *NO_LIST)),
    (run, "on", ("Deck", "lid", *NO_NAME)),
    (run, "side", ("left", "front", *NO_SIDE)),
    (run, "gap_mm", NO_LENGTH),
    (run, "name", ("", "a/b", "x" * 65, "aux", " a", *NO_TEXT)),
    (beside, "of", ("nobody", "dial", *NO_NAME)),
    (beside, "dx_mm", NO_NUMBER),
    (beside, "dy_mm", NO_NUMBER),
    (driven, "drive", ("belt", *NO_TEXT)),
    (driven, "of", ("nobody", "dial", *NO_NAME)),
    (driven, "heading_deg", NO_NUMBER),
]


@pytest.mark.parametrize(
    ("ask", "argument", "value"),
    [
        pytest.param(ask, argument, value, id=f"{ask.__name__}-{argument}-{k}")
        for ask, argument, values in WRONG
        for k, value in enumerate(values)
    ],
)
def test_a_wrong_value_is_named_with_its_remedy(ask, argument, value):
    """Always platekit's own error, with feature and remedy; the panel too, once it is known."""
    with pytest.raises(PlatekitError) as caught:
        ask(**{argument: value})
    said = caught.value
    assert said.remedy
    assert said.feature
    assert said.part or ask in {beside, driven}
    for text in (said.part, said.feature, said.problem, said.remedy):
        assert isinstance(text, str)
    shown = str(said)
    assert len(shown) < 2000
    named = repr(value)[:12] in shown or str(value)[:12] in shown
    # A number is said in mm, a point by its coordinates; an empty name may stand for many.
    assert named or isinstance(value, (int, float, tuple))


def test_what_is_right_passes():
    """The same calls, unharmed: so what fails above fails for the value."""
    assert len(mount().fastenings) == 3
    assert len(bolt().fastenings) == 1
    assert len(run().fastenings) == 6


@pytest.mark.parametrize("thing", [None, 5, "motor", DIAL, DRIVE, [mounted], (), object()])
def test_hardware_that_says_not_where_it_goes_is_refused(thing):
    """A device without mounted() is the likeliest slip."""
    with pytest.raises(PartError, match=r"rig / hardware: a bought part is .*mounted\(device"):
        rig().with_hardware(thing)
    with pytest.raises(PartError, match="say where it goes"):
        Assembly("rig", hardware=(thing,))


@pytest.mark.parametrize(
    ("add", "said"),
    [
        (lambda whole: whole.with_panels(plate("bare", 4.0, 50, 50)), r"rig / panels: .*lying\("),
        (lambda whole: whole.with_joints("deck"), r"rig / joints: one is 'deck'; give tabs\("),
        (lambda whole: whole.with_items("glue"), r"rig / items: one is 'glue'; give Item\("),
        (lambda whole: whole.with_removals("dial"), r"rig / removals: .*give comes_out\("),
    ],
    ids=["a plate", "a joint's name", "an item's name", "a device's name"],
)
def test_what_came_without_its_own_function_is_refused(add, said):
    """A name where a value belongs is met where it is given, with what to write."""
    with pytest.raises(PartError, match=said):
        add(rig())


def test_an_axis_of_nothing_says_what_comes_first():
    """Nothing is mounted yet: there is no list to choose from."""
    early = mounted(DIAL, on="deck", side="up", at=on_axis("b"), name="a")
    with pytest.raises(UnknownNameError, match=r"deck / a: .*'b'; nothing is; mount that one fir"):
        rig().with_hardware(early).resolve()


@pytest.mark.parametrize("names", [("dial", "dial"), ("dial", "Dial")])
def test_two_of_one_name_are_refused(names):
    """Asked for at once, one after the other, or built directly; a file system sees no case."""
    one, other = (
        mounted(DIAL, on="deck", side="up", at=at, name=name)
        for name, at in zip(names, ((60, 100), (200, 100)), strict=True)
    )
    for build in (
        lambda: rig().with_hardware(one, other),
        lambda: rig().with_hardware(one).with_hardware(other),
        lambda: Assembly("rig", hardware=(one, other)),
    ):
        with pytest.raises(PartError, match="two bought parts are called") as caught:
            build()
        assert (caught.value.part, caught.value.feature) == ("rig", names[1])


def test_a_numbered_device_and_one_of_that_name_are_refused():
    """Four in the corners are called dial 1 to dial 4."""
    four = mounted(DIAL, on="deck", side="up", at=corners(inset_mm=50), name="dial")
    one = mounted(DIAL, on="deck", side="up", name="dial 3")
    for order in ((four, one), (one, four)):
        with pytest.raises(PartError, match=r"deck / dial.*two .* are called 'dial 3'"):
            rig().with_hardware(*order).resolve()


def test_names_that_a_plate_has_already_are_refused_or_told_apart():
    """A device called as its panel is: messages and steps could not tell which is meant."""
    with pytest.raises(PartError, match=r"deck.*called 'deck' too"):
        mount(name="deck")


def test_huge_counts_are_refused_before_they_are_laid():
    """A slip of a nought: said at once, not after an hour."""
    crowd = grid(columns=100, rows=100, pitch_mm=1)
    with pytest.raises(PartError, match=r"deck / pin.*10000 places.*at most"):
        bolt(at=crowd)
    with pytest.raises(PartError, match=r"deck / dial.*10000 places.*at most"):
        mount(at=crowd)


def test_a_panel_at_45_degrees_has_its_faces_under_either_word():
    """Its upper face looks up and to the front alike; a hole there is square to it."""
    slant = lying(plate("deck", 6.0, 300, 200), top_mm=90).turned(about="x", angle_deg=45)
    whole = Assembly("rig").with_panels(slant)
    up, front = (
        whole.with_hardware(mounted(DIAL, on="deck", side=side, name="dial")).resolve()
        for side in ("up", "front")
    )
    assert up.parts[0].profile == front.parts[0].profile
    assert len(up.fastenings) == 3
    with pytest.raises(PartError, match=r"deck / dial: no face looks 'left'; its faces look up"):
        whole.with_hardware(mounted(DIAL, on="deck", side="left", name="dial")).resolve()


def test_a_device_asked_for_later_is_not_there_yet():
    """They find their places in order; the message lists those that have."""
    early = mounted(DIAL, on="deck", side="up", at=on_axis("b"), name="a")
    late = mounted(DIAL, on="deck", side="up", at=(60, 100), name="b")
    with pytest.raises(UnknownNameError, match=r"deck / a: unknown device mounted before it 'b'"):
        rig().with_hardware(early, late).resolve()
