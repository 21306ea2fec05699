"""Grips and adapters: keys, clamps, set screws, press fits, and the bodies about them.

Each number is worked by hand from a printed formula or example, named beside it.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings, strategies as st

from platekit import coupling, hub, load, motor, reducing_bush, round_device, shaft
from platekit.assembly.loads import Factors
from platekit.checks.hold.adapters import adapters
from platekit.checks.hold.clamps import clamped
from platekit.checks.hold.grips import grips
from platekit.checks.hold.set_screws import HELD_LBF, set_screw_n, set_screws_torque_nmm
from platekit.checks.hold.torques import torques
from platekit.findings import Severity
from tests.checks.hold.turning import DOWN, PLAIN, UP, found, put, spun, subject, turned

FIFTY = load("hub", torque_nm=50, name="gust")
ALL_CHECKS = (torques, grips, adapters)


def _worst(check, job, part=""):
    return min(found(check, job, part=part), key=lambda one: one.margin)


# The trade's case: common practice, no source. About 50 N m through a printed adapter between a
# 14 mm shaft and six M5 on 70 mm destroys it; the same shape of aluminium holds.
def test_a_printed_adapter_is_destroyed_where_the_same_of_aluminium_holds():
    """Loads times 1.5: the print fails at its key slot, five of its sections; aluminium none."""
    used = Factors()
    print_job = subject(turned(made_of="PLA printed"), FIFTY, factors=used)
    metal_job = subject(turned(made_of="aluminium 6082-T6"), FIFTY, factors=used)
    for says in ("ring about the key slot", "outside the key slot"):
        (one,) = found(adapters, print_job, part="hub", says=says)
        assert one.severity is Severity.STOP
        assert one.feature == "key slot"
    worst, best = _worst(adapters, print_job), _worst(adapters, metal_job)
    assert worst.margin < 0.5
    assert best.margin > 1.5
    assert "key slot" in worst.measure
    assert _worst(grips, print_job).margin < 0.5
    assert _worst(grips, metal_job).margin > 1.2
    assert all(one.severity is Severity.PASSED for one in grips(metal_job))


def test_even_without_any_factor_the_print_breaks():
    """16 T D / (pi (D^4 - d^4)) by hand: 50 N m, 30 mm, 14 mm with a 2.3 mm keyway.

    16 x 50000 x 30 / (pi (810000 - 119688)) = 11.07 MPa. Layers hold half of 53 / sqrt 3 = 15.3.
    """
    job = subject(turned(made_of="PLA printed"), FIFTY, factors=Factors(load=1, plastic=1))
    (ring,) = found(adapters, job, part="hub", says="ring about")
    assert ring.value == pytest.approx(11.07, rel=1e-3)
    assert ring.limit == pytest.approx(0.5 * 53 / math.sqrt(3), rel=1e-9)
    (key,) = found(grips, job, part="hub", says="pressure on the sides")
    # 4 T / (D h L), round ends off: 4 x 50000 / (14 x 5 x (28 - 5)) = 124.2 MPa on 53 MPa.
    assert key.value == pytest.approx(124.22, rel=1e-3)
    assert key.margin == pytest.approx(53 / 124.22, rel=1e-3)
    assert key.severity is Severity.STOP


def test_a_key_carries_what_the_book_says():
    """Sarkar, Strength of Materials, problem 7.14, looked up: 100 kW at 120 rpm, shaft of 100 mm.

    A key 25 x 140 mm comes to 45.47 MPa of shear. Scaled to 30 mm with an 8 x 7 key of 22 mm:
    2 T / (D b L) goes with the torque and against the three.
    """
    torque = 100e3 / (2 * math.pi * 120 / 60)
    (shear,) = found(
        grips, subject(spun(), load("hub", torque_nm=30)), part="hub", says="shear of the key"
    )
    scaled = 45.4728 * (30 / torque) * (100 * 25 * 140) / (30 * 8 * (22 - 8))
    assert shear.value == pytest.approx(scaled, rel=1e-4)
    # Key steel, C45 drawn: 340 MPa and von Mises at the least (EN ISO 683-1, from memory).
    assert shear.limit == pytest.approx(340 / math.sqrt(3))


def test_a_key_bears_on_what_both_reach():
    """The rest of the bore is empty: the shaft's end at 98 mm, the collar from 64 to 100."""
    job = subject(turned(key_length_mm=None), FIFTY)
    (one,) = found(grips, job, part="hub", says="pressure")
    # Held from the spigot's end, 60 + spigot, or the collar's at 64, to 98: 34 mm; 32 is the
    # longest key of DIN 6885-1 in it, of which 27 mm are straight.
    assert "L = 27 mm of a key 5x5x32, taken" in one.formula


@pytest.mark.parametrize("says", ["pressure", "shear"])
def test_a_longer_key_never_holds_less(says):
    """One change at a time; 10 to 32 mm are preferred lengths of DIN 6885-1."""
    margins = [
        found(grips, subject(turned(key_length_mm=mm), FIFTY), part="hub", says=says)[0].margin
        for mm in (10, 14, 20, 28, 32)
    ]
    assert margins == sorted(margins)
    assert margins[0] < margins[-1]


def _clamped(**changed):
    given = {"hold": "clamp", "hold_thread": "M5", "hold_screws": 2, "key_length_mm": None}
    return turned(**{**given, **changed})


def test_a_clamp_holds_by_friction_on_two_lines():
    """Two M5 8.8: 0.7 x 800 x 14.2 mm2 = 7952 N each (ISO 898-1 area; EN 1993-1-8 3.9.1).

    mu n F D = 0.15 x 2 x 7952 x 14 = 33.4 N m: catalogues of clamp hubs say 15 to 20 N m for one
    M5 on 14 mm (common practice, no source).
    """
    job = subject(_clamped(), load("hub", torque_nm=20))
    (one,) = grips(job)
    assert one.limit == pytest.approx(33.4, rel=2e-3)
    assert one.margin == pytest.approx(1.67, rel=2e-3)
    assert one.severity is Severity.PASSED
    assert 15 <= one.limit / 2 <= 20


def test_the_book_holds_more_with_its_even_pressure():
    """Khurmi & Gupta's clamp coupling (from memory): the even form is pi / 2 of two lines.

    30 kW, 75 mm, three bolts a shaft of 22.17 mm core at 70 MPa, mu 0.3: 2865 N m.
    """
    force = math.pi / 4 * 22.1687**2 * 70
    book = 2865e3
    one = clamped(thread="M5", screws=3, shaft_mm=75, hub=None)
    pull = 0.7 * 800 * 14.2
    assert one.torque_nmm * (0.3 * force) / (0.15 * pull) * math.pi / 2 == pytest.approx(
        book, rel=1e-3
    )


def test_a_printed_clamp_gives_way_under_its_screws():
    """Head of an M5 socket screw 8.5 mm over a 5.5 mm hole (ISO 4762, ISO 273): 33 mm2."""
    job = subject(_clamped(made_of="PLA printed"), load("hub", torque_nm=20))
    (one,) = grips(job)
    pull = 53 / 2 * math.pi / 4 * (8.5**2 - 5.5**2)
    assert one.limit == pytest.approx(0.15 * 2 * pull * 14 / 1000, rel=1e-6)
    assert one.severity is Severity.STOP
    assert "PLA printed under the heads" in one.measure


@settings(max_examples=30, deadline=None)
@given(screws=st.integers(1, 8), torque=st.floats(1, 500), thread=st.sampled_from(["M4", "M6"]))
def test_more_screws_in_a_clamp_never_lower_its_margin(screws, torque, thread):
    """Twice the screws hold twice the torque; twice the torque halves the margin."""
    ask = load("hub", torque_nm=torque)

    def margin(count, times=1.0):
        job = subject(
            _clamped(hold_thread=thread, hold_screws=count),
            replace(ask, torque_nmm=times * ask.torque_nmm),
        )
        (one,) = grips(job)
        return one.margin

    assert margin(2 * screws) == pytest.approx(2 * margin(screws))
    assert margin(screws, 2.0) == pytest.approx(margin(screws) / 2)


def test_set_screws_hold_what_the_handbook_lists():
    """Shigley, table of holding power (from memory): 1/4 in 1000 lbf, 3/8 in 2000 lbf."""
    assert set_screw_n(6.35) == pytest.approx(1000 * 4.44822, rel=1e-5)
    assert set_screw_n(9.525) == pytest.approx(2000 * 4.44822, rel=1e-5)
    # M5 lies between no. 10 (4.826 mm, 540 lbf) and 1/4 in.
    assert 540 * 4.448 < set_screw_n(5) < 1000 * 4.448
    sizes = [25.4 * inches * k for inches, _ in HELD_LBF for k in (0.99, 1.0, 1.01)]
    held = [set_screw_n(size) for size in sorted(sizes)]
    assert held == sorted(held)


def test_set_screws_slip_where_a_key_would_hold():
    """Two M5 on 14 mm: by hand 1.5 x 2636 N x 7 mm / 1.5 = 18.4 N m."""
    fixed = {"hold": "set screws", "hold_thread": "M5", "hold_screws": 2, "key_length_mm": None}
    (one,) = grips(subject(turned(**fixed), FIFTY))
    # 540 + 460 x (5 - 4.826) / (6.35 - 4.826) lbf.
    by_hand = (540 + 460 * 0.174 / 1.524) * 4.44822 * 7 / 1000
    assert one.limit == pytest.approx(by_hand, rel=1e-4)
    assert one.severity is Severity.STOP
    (soft,) = grips(subject(turned(**fixed, made_of="PETG printed"), FIFTY))
    assert soft.margin < one.margin
    assert "strip" in soft.formula
    alone = set_screws_torque_nmm(screws=1, diameter_mm=5, shaft_mm=14)
    assert set_screws_torque_nmm(screws=2, diameter_mm=5, shaft_mm=14) == pytest.approx(1.5 * alone)


def test_a_press_fit_of_one_metal_has_a_closed_form():
    """Lame, one material, solid shaft: p = E d / (2 D) (1 - D^2 / Do^2), textbook.

    Roughness takes 0.8 x (4 + 4) um off (DIN 7190-1, from memory).
    """
    fixed = {
        "hold": "press",
        "key_length_mm": None,
        "interference_mm": 0.03,
        "made_of": "steel C45",
        "metal": "steel",
    }
    job = subject(turned(**fixed), load("hub", torque_nm=20))
    torque, stress = grips(job)
    # The shaft of a motor is taken as steel too; held over 34 mm.
    pressure = 210000 * (0.03 - 0.0064) / (2 * 14) * (1 - 14**2 / 30**2)
    held = math.pi / 2 * 0.12 * pressure * 14**2 * 34
    assert torque.limit == pytest.approx(held / 1000, rel=1e-6)
    hoop = pressure * (30**2 + 14**2) / (30**2 - 14**2)
    assert stress.value == pytest.approx(
        math.sqrt(((hoop + pressure) ** 2 + hoop**2 + pressure**2) / 2), rel=1e-6
    )


def test_a_printed_hub_creeps_out_of_a_press_fit():
    """Lame, two materials, as in any textbook; plastics lose their factor of 2 by creep.

    Poisson's ratios from the moduli: E / (2 G) - 1.
    """
    fixed = {
        "hold": "press",
        "key_length_mm": None,
        "interference_mm": 0.1,
        "made_of": "PLA printed",
    }
    torque, stress = grips(subject(turned(**fixed), load("hub", torque_nm=20)))
    soft, stiff = (3500, 3500 / 2500 - 1), (210000, 210000 / 162000 - 1)
    gives = ((30**2 + 14**2) / (30**2 - 14**2) + soft[1]) / soft[0] + (1 - stiff[1]) / stiff[0]
    pressure = (0.1 - 0.0064) / (14 * gives)
    assert torque.limit == pytest.approx(
        math.pi / 2 * 0.12 * pressure * 14**2 * 34 / 2 / 1000, rel=1e-6
    )
    assert stress.limit == 53 / 2


def test_a_flat_presses_at_its_edge():
    """Pressure rising from the middle to the edge, summed in strips: the couple is the torque."""
    fixed = {"hold": "flat", "across_flat_mm": 12.5, "key_length_mm": None}
    (one,) = grips(subject(turned(**fixed), load("hub", torque_nm=10)))
    half, strips = math.sqrt(7**2 - 5.5**2), 20000
    step = half / strips
    sums = sum(
        (one.value * x / half) * x * 34 * step for x in (step * (k + 0.5) for k in range(strips))
    )
    assert sums == pytest.approx(10_000, rel=1e-6)
    # The softer of both counts: aluminium, 255 MPa, before steel (EN 485-2, from memory).
    assert one.limit == 255


def test_a_plain_bush_passes_on_nothing_and_a_slit_one_does():
    """A bush between a 20 mm hub and a 14 mm shaft; a slit lets the hub's clamp reach through."""
    jobs = {}
    for hold in ("slip", "clamp"):
        standing = _clamped(bore_mm=20)
        standing.append(put("bush", reducing_bush(20, 14, length_mm=30, hold=hold), UP, 66))
        jobs[hold] = subject(standing, load("hub", torque_nm=10))
    (slip,) = found(grips, jobs["slip"], part="bush")
    assert slip.severity is Severity.STOP
    assert slip.limit == 0
    (slit,) = found(grips, jobs["clamp"], part="bush")
    assert slit.limit == pytest.approx(0.15 * 2 * 7952 * 14 / 1000, rel=1e-4)
    assert slit.severity is Severity.PASSED


@pytest.mark.parametrize(
    ("fixed", "asks"),
    [
        ({"hold": "clamp"}, "hold_thread"),
        ({"hold": "set screws"}, "hold_thread"),
        ({"hold": "flat"}, "across_flat_mm"),
        ({"hold": "press"}, "interference_mm"),
    ],
)
def test_what_is_not_said_is_asked_for_once(fixed, asks):
    """One note for two loads, no error, nothing guessed."""
    job = subject(turned(key_length_mm=None, **fixed), FIFTY, load("hub", torque_nm=9, name="wind"))
    (one,) = grips(job)
    assert one.severity is Severity.NOTE
    assert asks in one.remedy


def test_a_coupling_grips_with_each_half_and_the_weaker_is_told():
    """12 to 16 mm: the same screws hold 12/16 of it on the thinner shaft."""
    joint = coupling(12, 16, outer_mm=44, length_mm=60, hold_thread="M5", hold_screws=2)
    gearbox = motor("NEMA 34", body_length_mm=90, shaft_mm=12, shaft_length_mm=38, flange_mm=8)
    top = hub("six-bolt 44 mm M5", bore_mm=16, thickness_mm=20, hold="key", key_length_mm=14)

    standing = [
        put("gearbox", gearbox, DOWN, 60, "floor"),
        put("coupling", joint, UP, 66),
        put("upper", shaft(16, 100), UP, 98),
        put("hub", top, DOWN, 200),
    ]
    job = subject(standing, load("hub", torque_nm=10))
    thin, thick = sorted(found(grips, job, part="coupling"), key=lambda one: one.margin)
    assert thin.feature == "clamp on gearbox"
    assert thin.margin / thick.margin == pytest.approx(12 / 16)
    assert {one.part for one in adapters(job)} == {"coupling", "hub"}


# What follows: the bodies.


def test_bolt_holes_against_a_cut_counted_out():
    """The girth between six 5 mm holes on 70 mm, counted in 72000 steps; statics."""
    job = subject(turned(), FIFTY)
    (one,) = found(adapters, job, part="hub", says="between the bolt holes")
    n, free = 72_000, 0
    for k in range(n):
        turn = 2 * math.pi * k / n
        x, y = 35 * math.cos(turn), 35 * math.sin(turn)
        free += all(
            math.hypot(x - 35 * math.cos(h * math.pi / 3), y - 35 * math.sin(h * math.pi / 3)) > 2.5
            for h in range(6)
        )
    girth = 2 * math.pi * 35 * free / n
    assert one.value == pytest.approx(50_000 / (35 * 10 * girth), rel=1e-3)
    (thread,) = found(adapters, job, part="hub", says="on its thread")
    assert thread.value == pytest.approx(50_000 / (6 * 35) / (5 * 10))


def test_a_hollow_ring_against_the_book():
    """Gere, example 3-6, looked up: 4 kN m on 80/60 mm is 58.2 MPa; scaled by 4:1, torque by 64.

    A clamp's bore has no keyway: 20 over 15 mm and 62.5 N m come to the same stress.
    """
    fixed = {"bore_mm": 15, "collar_mm": 20, "hold": "clamp", "key_length_mm": None}
    gearbox = motor("NEMA 34", body_length_mm=90, shaft_mm=15, shaft_length_mm=38, flange_mm=8)
    standing = turned(**fixed)
    standing[0] = replace(standing[0], device=gearbox)
    job = subject(standing, load("hub", torque_nm=62.5))
    (ring,) = found(adapters, job, part="hub", says="ring about the bore")
    assert ring.value == pytest.approx(58.2, rel=2e-3)


def test_a_keyway_that_reaches_into_the_screws_is_told():
    """44 mm circle, M5 tapped: inside lies 39 mm. A 30 mm bore with 3.3 mm leaves 1.2 mm.

    DIN 6885-1 (from memory): 30 mm takes 8 x 7 with 3.3 mm in the hub; 32 mm takes 10 x 8, 3.3.
    """
    walls = {}
    for bore in (30, 32, 34):
        top = hub("six-bolt 44 mm M5", bore_mm=bore, thickness_mm=22, hold="key")
        standing = spun(shaft_mm=bore, bore_mm=14)
        standing[-1] = put("hub", top, standing[-1].frame, 0)
        (one,) = found(
            adapters, subject(standing, load("hub", torque_nm=5)), part="hub", says="and screws"
        )
        walls[bore] = one
    assert walls[30].value == pytest.approx((44 - 5 - 30) / 2 - 3.3)
    assert walls[30].severity is Severity.PASSED
    assert walls[32].severity is not Severity.PASSED
    assert walls[34].severity is Severity.STOP
    assert "key slot and screws" in walls[34].measure


@settings(max_examples=25, deadline=None)
@given(collar=st.floats(22, 60), more=st.floats(0.1, 5), torque=st.floats(1, 300))
def test_a_thicker_collar_never_holds_less(collar, more, torque):
    """Of the ring and of the wall outside the key slot."""
    ask = load("hub", torque_nm=torque)
    for says in ("ring about", "outside the key slot"):
        thin, thick = (
            found(adapters, subject(turned(collar_mm=mm), ask), part="hub", says=says)[0].margin
            for mm in (collar, collar + more)
        )
        assert thin < thick


def test_what_it_is_made_of_is_asked_for_where_nobody_says():
    """A bored device of unknown matter."""
    standing = turned()
    bare = replace(standing[1].device, made_of="")
    standing[1] = replace(standing[1], device=bare)
    job = subject(standing, FIFTY)
    for check in (adapters, grips):
        (one,) = check(job)
        assert one.severity is Severity.NOTE
        assert "made_of" in one.remedy


# Torques that nothing holds.


def test_a_shaft_of_another_diameter_holds_nothing():
    """A 14 mm bore over a 16 mm shaft: the chain ends at the hub, the shaft beside it is named."""
    standing = turned()
    other = motor("NEMA 34", body_length_mm=90, shaft_mm=16, shaft_length_mm=38, flange_mm=8)
    standing[0] = replace(standing[0], device=other)
    (one,) = torques(subject(standing, FIFTY))
    assert one.severity is Severity.STOP
    assert one.part == "hub"
    assert "ends at hub: nothing on it grips the shaft of 16 mm of gearbox" in one.measure
    assert (one.value, one.limit, one.margin) == (50, None, None)


def test_a_line_without_a_motor_says_where_it_ends():
    """The motor left out: the socket at the spindle's end grips nothing."""
    (one,) = torques(subject(spun()[1:], FIFTY))
    assert one.severity is Severity.STOP
    assert "ends at spindle: no motor" in one.measure
    assert "hub - spindle" in one.formula


def test_a_torque_that_is_held_passes_and_a_push_is_none():
    """Nothing told of a force alone."""
    (one,) = torques(subject(turned(), FIFTY))
    assert one.severity is Severity.PASSED
    assert list(torques(subject(spun()[1:], load("hub", radial_n=100)))) == []


def test_a_bracket_passes_its_torque_to_its_panel():
    """What is only screwed down is no chain that could end."""
    flange = round_device(
        "flange", diameter_mm=100, height_mm=8, holes=[(40, 0), (-40, 0)], thread="M6", flange_mm=8
    )
    job = subject([put("flange", flange, UP, 10)], load("flange", torque_nm=50))
    for check in ALL_CHECKS:
        assert list(check(job)) == []


def test_what_hangs_on_elsewhere_bears_nothing_of_the_load():
    """A weak coupling above the hub, on the far end of the same shaft, is not in the way."""
    standing = spun()
    weak = coupling(30, 30, outer_mm=40, length_mm=20, hold_thread="M3", hold_screws=1)
    standing[1] = put("spindle", shaft(30, 250, socket_mm=16, socket_depth_mm=32), UP, 66)
    standing.append(put("far coupling", weak, UP, 290))
    job = subject(standing, FIFTY)
    assert not found(grips, job, part="far coupling")
    assert not found(adapters, job, part="far coupling")


def test_a_rig_without_loads_is_not_talked_about():
    """Nor a single plate."""
    for check in ALL_CHECKS:
        assert list(check(subject(spun()))) == []
        assert list(check(replace(subject(spun()), whole=None))) == []


def test_factors_are_the_users():
    """1.5 on loads divides every margin by it."""
    ask = (turned(), FIFTY)
    for check in (grips, adapters):
        bare, factored = (
            [one.margin for one in check(subject(*ask, factors=factors)) if one.unit != "mm"]
            for factors in (PLAIN, Factors(load=1.5))
        )
        assert [m / 1.5 for m in bare] == pytest.approx(factored)
