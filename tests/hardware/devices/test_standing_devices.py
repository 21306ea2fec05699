"""What stands on a plate, against outside records; users' own parts, against closed forms."""

import math

import pytest

from platekit import handbook
from platekit.errors import PartError, UnknownNameError
from platekit.hardware.devices.standing_devices import rectangular_device, round_device
from platekit.hardware.devices.table import DEVICE_COLUMNS, device, known_devices, own_devices
from platekit.hardware.patterns import bolt_circle_points

INCH_MM = 25.4


def _spans(points):
    xs, ys = [p.x for p in points], [p.y for p in points]
    return max(xs) - min(xs), max(ys) - min(ys)


def _size(device):
    boxes = [block.profile.bounds for block in device.blocks]
    return (
        max(b.right for b in boxes) - min(b.left for b in boxes),
        max(b.top for b in boxes) - min(b.bottom for b in boxes),
        max(block.high_mm for block in device.blocks),
    )


# Public stock records of switches (looked up), inches: length, height, width, hole pitch along
# and across. NSN 5930-00-588-9880 (miniature) and 5930-00-296-9328 (sub-miniature).
STOCK = {
    "limit switch miniature": (1.094, 0.625, 0.400, 0.875, 0.406),
    "limit switch sub-miniature": (0.765, 0.375, 0.250, 0.375, 0.0),
}


@pytest.mark.parametrize("name", STOCK)
def test_limit_switches_are_those_of_the_stock_records(name):
    """Pitches within 0.05 mm, cases within 0.7 mm: metric makers round up."""
    made = device(name)
    length, height, width, along, across = (INCH_MM * value for value in STOCK[name])
    assert _spans(made.fixing.points) == pytest.approx((along, across), abs=0.05)
    assert _size(made) == pytest.approx((length, height, width), abs=0.7)
    assert made.fixing.flange_mm == pytest.approx(width, abs=0.2)


# Squares the holes of cooling fans stand on, and their screws; common practice, no standard.
FANS = {40: 32, 50: 40, 60: 50, 80: 71.5, 92: 82.5, 120: 105, 140: 124.5}


@pytest.mark.parametrize("size", FANS)
def test_fans_have_the_common_squares_and_blow_through_the_plate(size):
    """The opening leaves the frame something to stand on and misses the screws."""
    made = device(f"fan {size} mm")
    assert _spans(made.fixing.points) == (FANS[size], FANS[size])
    box = made.passages[0].hole.bounds
    opening = box.right - box.left
    assert size * 0.85 < opening < size
    assert math.hypot(*made.fixing.points[0]) - opening / 2 > 2


def test_boards_and_supplies_have_the_common_holes():
    """Common practice, no source: 58 x 49 mm on an 85 x 56 board, 150 x 50 under a 215 x 115 box.

    The board's holes stand 3.5 mm from one short and from both long edges.
    """
    board = device("single-board computer 85 x 56 mm")
    assert _spans(board.fixing.points) == (58, 49)
    assert min(p.x for p in board.fixing.points) + 85 / 2 == pytest.approx(3.5)
    assert min(p.y for p in board.fixing.points) + 56 / 2 == pytest.approx(3.5)
    supply = device("power supply 215 x 115 x 50 mm")
    assert _spans(supply.fixing.points) == (150, 50)
    assert _size(supply) == (215, 115, 50)
    assert "electrician" in supply.doubt


def test_the_controller_boards_holes_lie_on_their_inch_grid():
    """Mils from the lower left: (600, 2000), (2600, 300), (2600, 1400) as a builder measured them.

    Looked up; (550, 100) is from memory.
    """
    corner = (-68.58 / 2, -53.34 / 2)
    mils = [
        tuple(round((v - c) / 0.0254) for v, c in zip(point, corner, strict=True))
        for point in device("controller board 68.6 x 53.3 mm").fixing.points
    ]
    assert mils == [(550, 100), (600, 2000), (2600, 300), (2600, 1400)]


@pytest.mark.parametrize("name", known_devices())
def test_every_device_of_the_table_can_be_screwed_down(name):
    """Holes on the base; a source; what is not looked up says what to check."""
    made = device(name)
    assert made.fixing is not None
    assert made.source
    assert made.doubt
    assert made.blocks


def test_a_part_on_spacers_stands_off_the_plate():
    """Board 1.6 mm on 6 mm spacers: screws pass 7.6 mm; body from 6 to 6 + 15."""
    made = rectangular_device(
        "driver",
        width_mm=100,
        depth_mm=60,
        height_mm=15,
        holes=[(-45, -25), (45, 25)],
        thread="M3",
        flange_mm=1.6,
        spacer_mm=6,
    )
    assert made.fixing.flange_mm == pytest.approx(7.6)
    spacers = [block for block in made.blocks if block.name == "spacer"]
    # Hollow of the ISO 273 medium hole for M3, 3.4 mm; twice the thread outside.
    assert spacers[0].profile.area_mm2 == pytest.approx(math.pi / 4 * (6**2 - 3.4**2))
    assert _size(made) == (100, 60, 21)
    assert [(item.designation, item.quantity) for item in made.items] == [
        ("driver", 1),
        ("spacer for M3, 6 mm long", 2),
    ]


def test_screws_through_an_ear_find_room_above_it():
    """Above the ear the part is open for an M4 washer, 9 mm (ISO 7089), and a millimetre."""
    made = rectangular_device(
        "box",
        width_mm=80,
        depth_mm=40,
        height_mm=30,
        holes=[(-36, 0), (36, 0)],
        thread="M4",
        flange_mm=2,
    )
    body = next(block for block in made.blocks if block.name == "body")
    assert (body.low_mm, body.high_mm) == (2, 30)
    # Each circle of radius 5 about a point 4 mm from the edge: less its segment beyond the edge.
    segment = 25 * math.acos(4 / 5) - 4 * 3
    assert body.profile.area_mm2 == pytest.approx(80 * 40 - 2 * (math.pi * 25 - segment))


def test_a_round_part_and_one_that_nothing_holds():
    """Bolt circle of three; glued parts have no screws."""
    made = round_device(
        "sensor",
        diameter_mm=50,
        height_mm=20,
        holes=bolt_circle_points(3, pcd_mm=40),
        thread="M3",
        tapped_mm=6,
        metal="brass",
    )
    assert (made.fixing.depth_mm, made.fixing.metal) == (6, "brass")
    assert made.blocks[0].profile.area_mm2 == pytest.approx(math.pi * 625)
    assert rectangular_device("label", width_mm=20, depth_mm=9, height_mm=1).fixing is None


GOOD = {"width_mm": 40, "depth_mm": 20, "height_mm": 10}


@pytest.mark.parametrize(
    ("sizes", "said"),
    [
        ({"width_mm": 0}, "width_mm"),
        ({"height_mm": 3000}, "height_mm"),
        ({"holes": [(30, 0)], "thread": "M3", "flange_mm": 2}, r"\(30, 0\) lies off its base"),
        ({"holes": [(1, 0), (1, 0)], "thread": "M3", "flange_mm": 2}, "two holes"),
        ({"holes": [(1, 0)], "flange_mm": 2}, "no thread"),
        ({"thread": "M3", "flange_mm": 2}, "no holes"),
        ({"holes": [(1, 0)], "thread": "M3"}, "tapped and screwed through, or neither"),
        (
            {"holes": [(1, 0)], "thread": "M3", "flange_mm": 2, "tapped_mm": 3},
            "tapped and screwed through",
        ),
        ({"holes": [(1, 0)], "thread": "M3", "tapped_mm": 3, "spacer_mm": 5}, "on spacers"),
        ({"holes": [(1, 0)], "thread": "M3", "flange_mm": 12}, "10 mm high"),
        ({"holes": [(1, float("nan"))], "thread": "M3", "flange_mm": 2}, "nan"),
        ({"holes": [1, 2], "thread": "M3", "flange_mm": 2}, "pairs of mm"),
        ({"holes": [(0, 0)] * 65, "thread": "M3", "flange_mm": 2}, "at most 64"),
        ({"spacer_mm": 5}, "nothing to be screwed by"),
        ({"room_mm": -1}, "room_mm"),
    ],
)
def test_a_part_that_cannot_be_is_named_with_its_cure(sizes, said):
    """Part, value, remedy."""
    with pytest.raises(PartError, match=said) as caught:
        rectangular_device("my driver", **{**GOOD, **sizes})
    assert "my driver" in str(caught.value)
    assert caught.value.remedy


def test_an_unknown_thread_or_part_offers_the_known():
    """As every lookup does."""
    with pytest.raises(UnknownNameError, match="M3"):
        rectangular_device("x", **GOOD, holes=[(0, 0)], thread="M3.2", flange_mm=2)
    with pytest.raises(UnknownNameError, match="limit switch miniature"):
        device("limit switch minature")


def test_tapped_holes_are_as_deep_as_whoever_measured_them_says():
    """Only where there are any."""
    name = "power supply 215 x 115 x 50 mm"
    assert device(name, depth_mm=6).fixing.depth_mm == 6
    assert device(name).fixing.depth_mm == 4
    with pytest.raises(PartError, match=r"fan 80 mm: it has no tapped holes"):
        device("fan 80 mm", depth_mm=6)
    with pytest.raises(PartError, match="depth_mm is -6"):
        device(name, depth_mm=-6)


OWN = {
    "designation": "motor driver",
    "width_mm": "118",
    "depth_mm": "75.5",
    "height_mm": "34",
    "holes": "-56 0; 56 0",
    "screw": "M4",
    "flange_mm": "2",
    "known": "measured",
    "source": "the part in hand",
}


def _table(folder, changed, mark=""):
    cells = {**OWN, **changed}
    lines = [",".join(DEVICE_COLUMNS), ",".join(cells.get(name, "") for name in DEVICE_COLUMNS)]
    path = folder / "parts.csv"
    path.write_text(mark + "\r\n".join(lines), encoding="utf-8")
    return path


@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_users_table_gives_devices_like_ours(tmp_path, mark):
    """Same form, same function behind it; found whatever the case."""
    found = own_devices(_table(tmp_path, {}, mark))["Motor Driver"]
    by_hand = rectangular_device(
        "motor driver",
        width_mm=118,
        depth_mm=75.5,
        height_mm=34,
        holes=[(-56, 0), (56, 0)],
        thread="M4",
        flange_mm=2,
        source="the part in hand (measured)",
    )
    assert found == by_hand


@pytest.mark.parametrize(
    ("changed", "column", "said"),
    [
        ({"width_mm": "-118"}, "width_mm", "-118"),
        ({"width_mm": ""}, "width_mm", "both empty"),
        ({"diameter_mm": "20"}, "width_mm", "both given"),
        ({"depth_mm": ""}, "depth_mm", "empty"),
        ({"height_mm": "2001"}, "height_mm", "2001"),
        ({"height_mm": "tall"}, "height_mm", "tall"),
        ({"holes": "56"}, "holes", "'56'"),
        ({"holes": "-56 0; 56 nan"}, "holes", "nan"),
        ({"holes": "-66 0; 56 0"}, "holes", r"\(-66, 0\)"),
        ({"holes": "56 0; 56 0"}, "holes", r"\(56, 0\)"),
        ({"screw": "M4.5"}, "screw", "M4.5"),
        ({"screw": "M3.5", "flange_mm": "", "tapped_mm": "5"}, "screw", "M3.5"),
        ({"screw": ""}, "screw", "no thread"),
        ({"flange_mm": "", "tapped_mm": ""}, "flange_mm", "tapped and screwed through"),
        ({"flange_mm": "40"}, "flange_mm", "40"),
        ({"metal": "wood"}, "metal", "wood"),
        ({"known": "guessed"}, "known", "guessed"),
        ({"source": ""}, "source", "empty"),
        ({"designation": ""}, "designation", "empty"),
    ],
)
def test_a_missing_or_absurd_value_names_file_line_column_and_value(
    tmp_path, changed, column, said
):
    """So that the user finds the cell."""
    path = _table(tmp_path, changed)
    with pytest.raises(handbook.TableError, match=said) as caught:
        own_devices(path)
    assert f"table {path}, line 2, column {column} " in str(caught.value)
    assert caught.value.remedy


def test_a_table_that_lacks_columns_says_which_it_needs(tmp_path):
    """All of them, ready to paste as the header."""
    path = tmp_path / "parts.csv"
    path.write_text("designation,width_mm\nx,3\n", encoding="utf-8")
    with pytest.raises(handbook.TableError, match="no column depth_mm") as caught:
        own_devices(path)
    assert ",".join(DEVICE_COLUMNS) in str(caught.value)


def test_two_parts_of_one_name_are_refused_with_the_table(tmp_path):
    """Else one would hide the other."""
    path = _table(tmp_path, {})
    head, row = path.read_text().splitlines()
    path.write_text(f"{head}\n{row}\n{row}")
    with pytest.raises(handbook.TableError, match="stands twice"):
        own_devices(path)
