"""Screws follow what they grip: lengths worked by hand with the standards' figures.

Heights of washers ISO 7089: M3 0.5, M4 0.8, M5 1, M6 1.6 mm; of nuts ISO 4032: M3 2.4, M4 3.2,
M5 4.7, M6 5.2, ISO 7040 (from memory): M4 6; pitches ISO 261: M4 0.7, M5 0.8. Lengths ISO 888
(from memory): ... 8 10 12 16 20 25 30 35 40 ...
"""

import re

import pytest

from platekit.assembly import Assembly, laminate, lying
from platekit.assembly.mounting import bolted, mounted
from platekit.findings import Severity
from platekit.hardware.devices.motors import encoder
from platekit.hardware.devices.standing_devices import rectangular_device
from tests.assembly.bodies import plate

# ISO 4762's preferred lengths for M4 and M5, ISO 888 (from memory).
MADE = {
    "M4": (6, 8, 10, 12, 16, 20, 25, 30, 35, 40),
    "M5": (8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50),
}


def resolved(sheet_mm, count, asked):
    """Resolve one lying panel of `count` sheets with one bought part."""
    layers = [plate(f"d{k}", float(sheet_mm), 200, 150) for k in range(count)]
    stack = layers[0] if count == 1 else laminate("deck", *layers, dowels=0)
    panel = lying(stack, top_mm=0)
    return Assembly("a").with_panels(panel).with_hardware(asked(panel.name)).resolve()


def dial(depth_mm, **how):
    """Ask for an encoder with three M4 holes so deep in aluminium."""
    device = encoder(
        "58 mm clamping flange M4", body_length_mm=50, shaft_length_mm=30, depth_mm=depth_mm
    )
    return lambda on: mounted(device, on=on, side="up", name="dial", **how)


def said(whole):
    """Return what findings say of screws: severity and value."""
    return [(f.severity, f.value) for f in whole.findings if "screw" in f"{f.feature}{f.measure}"]


@pytest.mark.parametrize(
    ("depth", "sheet", "length", "washers", "engaged", "severity"),
    [
        # In aluminium 2 diameters engage, 8 mm; the tip stays 0.5 mm off the ground (rule of
        # thumb from memory; common practice). Grip + 0.8 mm a washer + what engages = length.
        pytest.param(12, 3, 12, 1, 8.2, None, id="12-3"),
        pytest.param(12, 4, 16, 1, 11.2, None, id="12-4"),
        pytest.param(12, 6, 16, 1, 9.2, None, id="12-6"),
        pytest.param(12, 9, 20, 1, 10.2, None, id="12-9"),
        # 20.8 to 24.3 with one washer: none made; 21.6 to 25.1 with two: 25.
        pytest.param(12, 12, 25, 2, 11.4, None, id="12-12"),
        # Holes of 8 mm: full strength is out of reach, the most that engages is taken and said.
        pytest.param(8, 3, 12, 2, 7.4, Severity.NOTE, id="8-3"),
        # Holes of 5 mm: up to 4.5 mm engage; under three quarters of 8 it is a warning.
        pytest.param(5, 3, 8, 1, 4.2, Severity.WARNING, id="5-3"),
        pytest.param(5, 4, 10, 2, 4.4, Severity.WARNING, id="5-4"),
        pytest.param(5, 6, 12, 2, 4.4, Severity.WARNING, id="5-6"),
        # 13.0 to 14.3, 13.8 to 15.1, 14.6 to 15.9: none of them is made.
        pytest.param(5, 9, None, 0, None, Severity.STOP, id="5-9"),
        # Four turns hold a part, 0.8 diameters or 3.2 mm: 12.8 and 3.2 are 16.
        pytest.param(5, 12, 16, 1, 3.2, Severity.WARNING, id="5-12"),
        pytest.param(4, 6, 10, 1, 3.2, Severity.WARNING, id="4-6"),
        # Less than that and the tip's room: nothing can hold.
        pytest.param(3.5, 6, None, 0, None, Severity.STOP, id="3.5-6"),
    ],
)
def test_a_screw_into_a_device(depth, sheet, length, washers, engaged, severity):  # noqa: PLR0917
    """Sheet after sheet, worked by hand; where none is made a STOP says so."""
    whole = resolved(sheet, 1, dial(depth))
    kinds = {severity: [] for severity in Severity}
    for level, value in said(whole):
        kinds[level].append(value)
    bought = [item for item in whole.items if item.designation.startswith("screw")]
    if length is None:
        assert kinds[Severity.STOP] == [float(sheet)]
        assert not bought
        assert not whole.fastenings
        return
    assert {item.designation for item in bought} == {f"screw ISO 4762 M4x{length} 8.8"}
    assert sum(item.quantity for item in bought) == 3
    under = sum(i.quantity for i in whole.items if i.designation.startswith("washer ISO 7089 M4"))
    assert under == 3 * washers
    assert length - sheet - 0.8 * washers == pytest.approx(engaged)
    assert kinds[Severity.STOP] == []
    said_values = kinds[severity] if severity is not None else []
    assert said_values == ([pytest.approx(engaged)] if severity is not None else [])
    for fastening in whole.fastenings:
        shank = next(b for b in fastening.bodies[0].blocks if b.name == "shank")
        tip = fastening.bodies[0].frame.point(0, 0, shank.low_mm).z
        assert tip == pytest.approx(engaged)  # z = 0 is the device's seat


@pytest.mark.parametrize("sheet", [3, 4, 6, 9, 12])
@pytest.mark.parametrize("layers", [1, 2, 3])
@pytest.mark.parametrize("depth", [6, 9, 10, 15])
def test_a_stop_is_said_only_where_no_length_made_would_do(sheet, layers, depth):
    """Every length of ISO 888 with one to three washers is tried here, by itself."""
    whole = resolved(sheet, layers, dial(depth))
    would = [
        (length, n)
        for length in MADE["M4"]
        for n in (1, 2, 3)
        if 3.2 - 1e-9 <= length - sheet * layers - 0.8 * n <= depth - 0.5 + 1e-9
    ]
    stops = [value for level, value in said(whole) if level is Severity.STOP]
    assert bool(stops) == (not would)
    for fastening in whole.fastenings:
        length = float(re.search(r"M4x([\d.]+)", fastening.designation)[1])
        n = sum(body.kind.value == "washer" for body in fastening.bodies)
        assert (length, n) in would


@pytest.mark.parametrize(
    ("sheet", "length"), [(3, 12), (4, 12), (6, 16), (9, 20), (12, 20)], ids=str
)
def test_a_screw_through_a_flange_takes_a_nut(sheet, length):
    """2 mm of flange, the sheet, washer 0.8, nut 3.2, two pitches of 0.7: 7.4 mm and the sheet."""
    device = rectangular_device(
        "board",
        width_mm=80,
        depth_mm=60,
        height_mm=30,
        holes=[(-30, -20), (30, 20)],
        thread="M4",
        flange_mm=2,
    )
    whole = resolved(sheet, 1, lambda on: mounted(device, on=on, side="up", name="board"))
    screws = [i.designation for i in whole.items if i.designation.startswith("screw")]
    assert set(screws) == {f"screw ISO 4762 M4x{length} 8.8"}
    assert min(n for n in MADE["M4"] if n >= 7.4 + sheet) == length
    for fastening in whole.fastenings:
        (nut,) = [body for body in fastening.bodies if body.kind.value == "nut"]
        assert nut.frame.origin.z == pytest.approx(-sheet - 0.8)


@pytest.mark.parametrize(
    ("sheet", "length"), [(3, 16), (4, 20), (6, 25), (9, 30), (12, 35)], ids=str
)
def test_a_bolt_through_two_sheets(sheet, length):
    """M5: twice the sheet, washers 1 and 1, nut 4.7, two pitches of 0.8: 8.3 mm and the sheets."""
    whole = resolved(sheet, 2, lambda on: bolted("M5", on=on, side="up", name="pin"))
    (pin,) = whole.fastenings
    assert pin.designation == f"ISO 4762 M5x{length} 8.8"
    assert min(n for n in MADE["M5"] if n >= 8.3 + 2 * sheet) == length


@pytest.mark.parametrize(
    ("thread", "sheet", "count", "how", "length"),
    [
        # ISO 7040, 6 mm high: 6 + 1.6 + 6 + 1.4 = 15 mm.
        pytest.param("M4", 6, 1, {"nut": "ISO 7040"}, 16, id="locking nut"),
        # ISO 7380-1 M4 is made to 16 mm (from memory): 6 + 1.6 + 3.2 + 1.4 = 12.2 mm.
        pytest.param("M4", 6, 1, {"screw": "ISO 7380-1"}, 16, id="button"),
        # 12 + 6.2 = 18.2 mm: none so long.
        pytest.param("M4", 12, 1, {"screw": "ISO 7380-1"}, None, id="button too short"),
        # ISO 4762 M3 is made to 30 mm: 36 + 1 + 2.4 + 1 = 40.4 mm.
        pytest.param("M3", 9, 4, {}, None, id="stack too thick"),
        # ISO 4017 M5 from 10 mm: 4 + 2 + 4.7 + 1.6 = 12.3 mm.
        pytest.param("M5", 4, 1, {"screw": "ISO 4017"}, 16, id="hexagon"),
        pytest.param("M3", 9, 4, {"grip_layers": 2}, 25, id="two layers only"),
    ],
)
def test_other_screws_and_nuts(thread, sheet, count, how, length):
    """Worked by hand; a STOP names the standard, the thread and the length that is wanted."""
    whole = resolved(sheet, count, lambda on: bolted(thread, on=on, side="up", name="pin", **how))
    if length is not None:
        (pin,) = whole.fastenings
        assert f" {thread}x{length} " in pin.designation
        assert not said(whole)
        return
    (stop,) = [f for f in whole.findings if f.severity is Severity.STOP]
    assert stop.part in {"deck", "d0"}
    assert "pin" in stop.feature
    assert thread in stop.measure
    assert "grip_layers" in stop.remedy
    assert not whole.fastenings


def test_spacers_are_gripped_and_bought():
    """10 mm of spacer and 3 mm of sheet, washer 0.8, 8 mm engaged: 21.8 to 25.3, so 25 mm."""
    whole = resolved(3, 1, dial(12, lift_mm=10))
    bought = {}
    for item in whole.items:
        bought[item.designation] = bought.get(item.designation, 0) + item.quantity
    assert bought["screw ISO 4762 M4x25 8.8"] == 3
    assert bought["spacer tube for M4, 10 mm long"] == 3
    (body,) = whole.bodies
    assert body.frame.origin.z == pytest.approx(10.0)


def test_a_tapped_hole_too_shallow_for_any_screw_is_to_be_measured():
    """3.5 mm of M4 less the tip's room are under four turns: no length helps, a caliper may."""
    (stop,) = [f for f in resolved(4, 1, dial(3.5)).findings if f.severity is Severity.STOP]
    assert "depth_mm" in stop.remedy
    assert "measure" in stop.remedy
