"""Tools: keys and wrenches that fit, and the room they take."""

import math

import pytest

from platekit.errors import UnknownNameError
from platekit.hardware.fasteners.nuts import known_nut_standards, known_nut_threads, nut
from platekit.hardware.fasteners.screw_kinds import (
    known_screw_standards,
    known_threads_of,
    screw_by,
)
from platekit.hardware.fasteners.tools import TOOL_PLAY_MM, hex_key, socket_wrench, tool_for

# Nominal long arms of bent keys: the R 20 series of preferred numbers, ISO 3, rounded (from
# memory); ISO 2936 lets the arm be up to a tenth longer.
NOMINAL_LONG_MM = {
    1.5: 45, 2: 50, 2.5: 56, 3: 63, 4: 70, 5: 80, 6: 90, 8: 100, 10: 112, 14: 140,
}  # fmt: skip
SCREWS = [screw_by(std, name) for std in known_screw_standards() for name in known_threads_of(std)]
NUTS = [nut(std, name) for std in known_nut_standards() for name in known_nut_threads(std)]


@pytest.mark.parametrize("size", NOMINAL_LONG_MM)
def test_keys_have_arms_of_preferred_lengths(size):
    """The long arm is at most a tenth above the nominal, the short one well below it."""
    key = hex_key(size)
    assert NOMINAL_LONG_MM[size] <= key.long_mm <= 1.1 * NOMINAL_LONG_MM[size]
    assert key.short_mm < key.long_mm / 2


def test_a_cap_screw_takes_its_key_by_the_long_arm():
    """M5: 4 mm key, 4.62 mm over its corners, long arm of ISO 2936 upright above the head."""
    tool = tool_for(screw_by("ISO 4762", "M5"))
    assert tool.name == "hex key 4 mm"
    assert tool.diameter_mm == pytest.approx(4 / math.cos(math.pi / 6) + TOOL_PLAY_MM)
    assert tool.length_mm == hex_key(4).long_mm


@pytest.mark.parametrize("kind", [*SCREWS, *NUTS], ids=lambda one: f"{one.standard} {one.thread}")
def test_every_fastener_has_a_tool_that_goes_around_or_into_it(kind):
    """A key lies within the head it turns, a wrench has a wall around the corners it turns."""
    tool = tool_for(kind)
    if tool.name.startswith("hex key"):
        assert tool.diameter_mm - TOOL_PLAY_MM < kind.head_diameter_mm
    else:
        flats = getattr(kind, "across_flats_mm", None) or kind.drive_mm
        wall_mm = (tool.diameter_mm - TOOL_PLAY_MM - flats * 2 / math.sqrt(3)) / 2
        assert 0.1 * flats < wall_mm < 0.3 * flats
    (room,) = tool.blocks(low_mm=5.0)
    assert (room.low_mm, room.high_mm) == (5.0, 5.0 + tool.length_mm)
    assert room.profile.area_mm2 == pytest.approx(math.pi / 4 * tool.diameter_mm**2)


def test_an_unknown_size_offers_the_nearest():
    """There is no 7 mm key in the series, nor a 9 mm nut here."""
    with pytest.raises(UnknownNameError, match="unknown hex key '7 mm'"):
        hex_key(7)
    with pytest.raises(UnknownNameError, match=r"unknown socket wrench '9 mm'"):
        socket_wrench(9)
