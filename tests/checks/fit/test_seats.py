"""Seats against the normal distribution, ISO 286 and circles laid on each other."""

import math
from statistics import NormalDist

import numpy as np
import pytest
import shapely

from platekit.assembly import Assembly, laminate, lying, mounted
from platekit.checks.fit.lots import circle_round_mm
from platekit.checks.fit.seats import (
    Dowelled,
    Seat,
    lots_of_dowels,
    lots_of_seat,
    seated,
    seats_of,
)
from platekit.findings import Severity
from platekit.geometry.shapes import rectangle
from platekit.hardware import ball_bearing, dowel_pin, gland, magnet, motor
from platekit.materials import birch_plywood, sheet
from platekit.panel.plate import Plate
from tests.checks.fit.rigs import MEASURED, subject

DRAWS = 200_000
BORE = NormalDist(0.0, math.hypot(0.03, 0.05) / 3)


def plate_with(*devices, layers=1, sheet_=MEASURED):
    """Return a plate of so many layers with devices in a row, and the checks' findings."""
    plates = [Plate(f"layer {k}", sheet_, rectangle(400.0, 160.0)) for k in range(layers)]
    panel = lying(laminate("deck", *plates, dowels=0) if layers > 1 else plates[0])
    name = "deck" if layers > 1 else "layer 0"
    asked = [
        mounted(device, on=name, side="up", at=(100.0 * (k + 1), 80.0), name=f"part {k}")
        for k, device in enumerate(devices)
    ]
    return subject(Assembly("rig").with_panels(panel).with_hardware(*asked))


def seat(play=0.015, layers=1, kind="plywood", *, pressed=True):
    """Return a seat of 55 mm."""
    return Seat(
        device="ball bearing 6006",
        name="seat",
        core_mm=55.0,
        hole_mm=55.0 + play,
        kind=kind,
        layers=layers,
        pressed=pressed,
    )


@pytest.mark.parametrize("play", [-0.06, -0.015, 0.0, 0.0125])
def test_one_layer_is_its_closed_form(play):
    """Kerf +-0.03 and path +-0.05 on diameter, three sigmas each: NormalDist, by hand."""
    lots = lots_of_seat(seat(), draws=DRAWS, seed=1)
    for share, exact in (
        (lots.together(play), 1.0 - BORE.cdf(-0.1 - play)),
        (lots.still(play), BORE.cdf(-play)),
    ):
        assert abs(share - exact) <= 4 * math.sqrt(exact * (1 - exact) / DRAWS) + 1e-9


@pytest.mark.parametrize("layers", [2, 3, 5])
def test_layers_take_what_circles_take(layers):
    """Circles laid on each other, centres drawn in the plane: the greatest disc in all of them.

    Its centre is searched over a grid, with nothing of ours.
    """
    chance = np.random.default_rng(2)
    spots = np.linspace(-0.05, 0.05, 51)
    x, y = (a.ravel() for a in np.meshgrid(spots, spots))
    free = []
    for _ in range(3000):
        bore = chance.normal(0, 0.03 / 3) + chance.normal(0, 0.05 / 3)
        centres = chance.normal(0, 0.05 / 3, (layers, 2))
        away = np.hypot(x[:, None] - centres[:, 0], y[:, None] - centres[:, 1]).max(axis=1)
        free.append(bore - 2 * away.min())
    lots = lots_of_seat(seat(layers=layers), draws=20_000, seed=2)
    for play in (0.0, 0.05, 0.08):
        circles = float(np.mean(np.array(free) + play >= 0.0))
        ours = float(np.mean(lots.tight_mm + play >= 0.0))
        assert ours == pytest.approx(circles, abs=0.045)


@pytest.mark.parametrize("places", [1, 2, 3, 4, 7])
def test_least_circles_are_those_of_another_library(places):
    """Against shapely's least bounding circle, one by one."""
    points = np.random.default_rng(7).normal(0.0, 1.0, (2000, places, 2))
    theirs = 2 * shapely.minimum_bounding_radius(shapely.multipoints(points))
    ours = circle_round_mm([(points[:, k, 0], points[:, k, 1]) for k in range(places)])
    assert ours == pytest.approx(theirs, abs=1e-6)


def test_a_bearing_goes_in_and_is_a_gamble():
    """ISO 286-1, IT7 over 50 to 80 mm: 30 um (from memory). Half of it over the bore's sigma."""
    rig = plate_with(ball_bearing("6006"), sheet_=birch_plywood(12.0, thickness_mm=12.1))
    goes, holds = seated(rig)
    assert (goes.severity, goes.part) == (Severity.PASSED, "layer 0")
    assert holds.severity is Severity.NOTE
    assert holds.margin is None
    share = 100 * (2 * BORE.cdf(0.015) - 1)
    assert f"30 um, is held by {share:.0f} %" in holds.formula
    assert holds.value == pytest.approx(100 * BORE.cdf(-0.015), abs=1.5)


def test_acrylic_cracks_where_plywood_gives():
    """The same seat: what goes into plywood often enough is a warning in acrylic."""
    clear = sheet("cast acrylic", nominal_mm=15.0, thickness_mm=15.1)
    goes, _ = seated(plate_with(ball_bearing("6006"), sheet_=clear))
    assert goes.severity is Severity.WARNING
    assert goes.value == pytest.approx(100 * (1 - BORE.cdf(-0.015)), abs=1.5)


def test_only_what_sits_is_a_seat():
    """A gland's opening has a nut, a motor's spigot has screws, a pin and a magnet have nothing."""
    rig = plate_with(
        gland("M16", thread_length_mm=15.0),
        motor("NEMA 23", body_length_mm=56.0, shaft_length_mm=21.0, flange_mm=5.0),
        dowel_pin(6, 20),
        sheet_=birch_plywood(9.0, thickness_mm=9.2),
    )
    assert {(one.name, one.pressed) for one in seats_of(rig)} == {
        ("spigot", False),
        ("pocket", True),
    }
    assert all(one.severity <= Severity.NOTE for one in seated(rig))
    loose = seats_of(plate_with(magnet(10, 5, play_mm=0.2)))
    assert {one.pressed for one in loose} == {False}


def test_layers_a_seat_goes_through():
    """A bearing 13 mm wide in plates of 6.1 mm: three of five layers."""
    (one,) = seats_of(plate_with(ball_bearing("6006"), layers=5))
    assert (one.layers, one.play_mm) == (3, pytest.approx(0.015))
    assert one.core_mm == 55.0


def test_seats_alike_are_one_finding():
    """Two equal bearings: one finding of each sort."""
    rig = plate_with(ball_bearing("6004"), ball_bearing("6004"), layers=2)
    found = tuple(seated(rig))
    assert len(found) == 2
    assert "as deck" in found[0].feature


@pytest.mark.parametrize("clearance", [-0.08, -0.05])
def test_two_dowels_of_two_layers(clearance):
    """Two places: their distance is off by root 2 sigmas, either way: folded normal, integrated."""
    one = Dowelled(kind="plywood", words="4 mm dowel", count=2, layers=2, clearance_mm=0.05)
    lots = lots_of_dowels(one, draws=DRAWS, seed=3)
    apart = NormalDist(0.0, math.sqrt(2) * 0.05 / 3)
    steps = [BORE.stdev * (k / 200 - 5) for k in range(2001)]
    weights = [BORE.pdf(e) for e in steps]
    rooms = [max(clearance + e + 0.1, 0.0) for e in steps]
    exact = math.fsum(w * (2 * apart.cdf(r) - 1) for w, r in zip(weights, rooms, strict=True))
    exact /= math.fsum(weights)
    share = lots.together(clearance)
    assert 0.2 < exact < 0.95
    assert abs(share - exact) <= 4 * math.sqrt(exact * (1 - exact) / DRAWS) + 5e-4


def test_more_dowels_and_layers_go_in_less_often():
    """Every dowel and every layer only adds."""

    def share(count, layers):
        one = Dowelled(
            kind="fibreboard", words="4 mm dowel", count=count, layers=layers, clearance_mm=0.05
        )
        return lots_of_dowels(one, draws=20_000, seed=4).together(0.0)

    assert share(2, 2) > share(4, 2) > share(8, 2)
    assert share(2, 2) > share(2, 4) > share(2, 8)


def test_dowels_of_a_laminate_are_found():
    """A laminate of three layers with its usual dowels: sound in plywood."""
    plates = [Plate(f"layer {k}", MEASURED, rectangle(200.0, 120.0)) for k in range(3)]
    (found,) = seated(subject(Assembly("rig").with_panels(lying(laminate("deck", *plates)))))
    assert (found.part, found.severity) == ("deck", Severity.PASSED)
    assert found.feature.startswith("2 x")
