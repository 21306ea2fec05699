"""Memory follows from the stock that is filled, not from what anybody writes into a list."""

from __future__ import annotations

import subprocess
import sys

import pytest

# What an interpreter may take in all, bytes: numpy and shapely alone reserve a few hundred MB.
LIMIT = 1_500_000_000

SCRIPT = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, ({limit}, {limit}))
from platekit.errors import NestingError
from platekit.geometry.chains import circle, closed_polyline
from platekit.geometry.profile import Profile
from platekit.nesting import NestPart, Roll, Stock, nest

def bar(name, width, height, quantity=1, turns=(0.0, 90.0, 180.0, 270.0)):
    corners = [(0, 0), (width, 0), (width, height), (0, height)]
    return NestPart(name, Profile(closed_polyline(corners)), quantity, turns)

def disc(name, diameter, quantity=1):
    return NestPart(name, Profile(circle((0, 0), diameter_mm=diameter)), quantity)

def offcut(*corners, hole_mm=0):
    middle = [sum(axis) / len(corners) for axis in zip(*corners)]
    holes = (circle(middle, diameter_mm=hole_mm),) if hole_mm else ()
    return Stock.of_shape(Profile(closed_polyline(corners), holes))

try:
    done = nest({parts}, stock={stock}, gap_mm={gap}, margin_mm={margin}, seconds=0.5)
except NestingError as err:
    print("refused:", err)
else:
    print(len(done.sheets), sum(len(s.placements) for s in done.sheets), len(done.unplaced))
"""


@pytest.mark.parametrize(
    ("parts", "stock", "gap", "margin", "says"),
    [
        pytest.param(
            "[bar('wall', 99999, 300), disc('lid', 600)]",
            "Stock(60, 0.1)", 2, 0, "refused: lid: the smallest part, 600 x 600 mm",
            id="nothing fits a splinter",
        ),
        pytest.param(
            "[bar('wall', 300, 200), bar('rib', 60, 20)]",
            "Stock(40, 12)", 60, 0, "refused: gap is 60 mm",
            id="the gap is wider than the sheet",
        ),
        pytest.param(
            "[bar('pin', 0.5, 0.5, 3)]", "[Stock(1, 1), Stock(600, 0.4)]", 500, 0, "3 3 0",
            id="the gap is hundreds of sheets wide",
        ),
        pytest.param(
            "[bar(f'hull {k}', 99999 - k, 88888 - k) for k in range(30)] + [disc('foot', 40, 4)]",
            "Stock(600, 400)", 2, 5, "1 4 30",
            id="thirty outlines as large as halls",
        ),
        pytest.param(
            "[bar(f'hull {k}', 99999 - k, 70, 1, None) for k in range(9)] + [disc('foot', 40, 4)]",
            "Stock(60, 60)", 0, 0, "4 4 9",
            id="long outlines free to turn",
        ),
        pytest.param(
            "[disc('foot', 40, 20), bar('rib', 120, 9, 9)]",
            "Stock(100000, 100000)", 1e-6, 0, "1 29 0",
            id="a sheet as large as a field",
        ),
        pytest.param(
            "[bar('whole', 100000, 100000), bar('rib', 0.02, 0.02, 5)]",
            "Stock(100000, 100000)", 0, 0, "2 6 0",
            id="a part as large as a field",
        ),
        pytest.param(
            "[bar('rail', 99999, 0.4, 3)]", "Roll(0.5)", 0, 0, "1 3 0", id="a roll like a thread"
        ),
        pytest.param(
            "[bar('chip', 1, 1, 20)]", "Roll(90000)", 0, 0, "1 20 0", id="a roll like a river"
        ),
        pytest.param(
            "[bar('strip', 90000, 0.9), bar('chip', 0.9, 0.9, 9)]",
            "[Stock(100000, 1), Stock(1, 1, 5)]", 0, 0, "1 10 0", id="a sheet like a wire",
        ),
        pytest.param(
            "[bar('chip', 0.01, 0.01, 3)]", "Stock(90000, 90000)", 0, 44999.98, "1 3 0",
            id="a margin that leaves a speck",
        ),
        pytest.param(
            "[bar('chip', 5, 4, 20)]",
            "offcut((0, 0), (1200, 0), (1200, 800), (0, 800), hole_mm=100)", 2, 5, "1 20 0",
            id="a few chips on a large offcut",
        ),
        pytest.param(
            "[bar('chip', 1, 1, 20)]",
            "offcut((0, 0), (1e5, 0), (1e5, 5e4), (5e4, 5e4), (5e4, 1e5), (0, 1e5))", 0, 0,
            "1 20 0", id="an offcut as large as a field",
        ),
        pytest.param(
            "[bar('chip', 1, 1, 20)]",
            "offcut((0, 0), (1e5, 0), (1e5, 2), (5e4, 2), (5e4, 3), (0, 3))", 0, 0,
            "1 20 0", id="an offcut like a wire",
        ),
        pytest.param(
            "[bar('chip', 1, 1, 20)]",
            "offcut((0, 0), (3, 0), (3, 5e4), (2, 5e4), (2, 1e5), (0, 1e5))", 0, 0,
            "1 20 0", id="an offcut like a mast",
        ),
    ],
)  # fmt: skip
def test_memory_is_bounded(parts, stock, gap, margin, says):
    """Sizes far beyond any sheet are placed or refused within a memory limit set from outside."""
    script = SCRIPT.format(limit=LIMIT, parts=parts, stock=stock, gap=gap, margin=margin)
    ran = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.startswith(says)


def test_the_limit_bites():
    """The limit is a real one: an interpreter that asks for more is refused."""
    script = SCRIPT.format(limit=LIMIT, parts="bytearray(2 * 10**9)", stock="1", gap=0, margin=0)
    ran = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, timeout=60, check=False
    )
    assert "MemoryError" in ran.stderr
