"""Loads and factors as a recipe gives them: what is taken, what is refused and how it is said."""

from __future__ import annotations

import pytest

from platekit import (
    Assembly,
    PartError,
    Plate,
    Strength,
    UnknownNameError,
    birch_plywood,
    load,
    lying,
    mounted,
    rectangle,
    shaft,
)
from platekit.assembly.loads import Factors
from platekit.formulas import timber_design


@pytest.fixture
def rig() -> Assembly:
    """A plate with a shaft on it."""
    plate = Plate("deck", birch_plywood(6.0), rectangle(100, 80))
    return (
        Assembly("rig")
        .with_panels(lying(plate))
        .with_hardware(mounted(shaft(10, 40), on="deck", side="up", name="axle"))
    )


def test_newton_metres_become_newton_millimetres_and_mass_a_weight():
    """1 N m is 1000 N mm; 12 kg weigh 12 x 9.80665 N (standard gravity, ISO 80000-3)."""
    one = load("hub", torque_nm=35.0, mass_kg=12.0, radial_n=80, at_mm=60, name="gust")
    assert one.torque_nmm == pytest.approx(35_000)
    assert one.weight_n == pytest.approx(117.68, abs=0.005)
    assert (one.name, one.on, one.radial_n, one.at_mm) == ("gust", "hub", 80, 60)


@pytest.mark.parametrize(
    ("given", "says"),
    [
        pytest.param({}, "nothing acts", id="nothing"),
        pytest.param({"torque_nm": -1}, "torque_nm is -1", id="below 0"),
        pytest.param({"torque_nm": float("nan")}, "torque_nm is nan", id="no number"),
        pytest.param({"torque_nm": 50_000}, "from 0 to 10000 N m", id="N mm given for N m"),
        pytest.param({"mass_kg": 12_000}, "mass_kg is 12000", id="grams given for kilograms"),
        pytest.param({"radial_n": "80"}, "radial_n is '80'", id="a text"),
        pytest.param({"radial_n": True}, "radial_n is True", id="a yes"),
        pytest.param({"radial_n": 1, "at_mm": float("inf")}, "at_mm is inf", id="endlessly far"),
        pytest.param({"radial_n": 1, "at_mm": 10**400}, "at_mm is inf", id="hundreds of digits"),
        pytest.param({"radial_n": 1, "name": ""}, "empty", id="no name"),
    ],
)
def test_what_cannot_be_is_refused_by_name(given, says):
    """The message names what it acts on, the value and what to give."""
    with pytest.raises(PartError, match="hub") as caught:
        load("hub", **given)
    assert says in str(caught.value)


def test_durations_are_those_of_the_standard():
    """EN 1995-1-1 2.3.1.2 has five, as the formulas have them."""
    for duration in timber_design.DURATIONS:
        assert load("hub", torque_nm=1, duration=duration).duration == duration
    with pytest.raises(UnknownNameError, match="permanent"):
        load("hub", torque_nm=1, duration="for ever")


def test_loads_act_on_what_is_there(rig):
    """A device or a panel; another name is refused and those there are listed."""
    loaded = rig.with_loads(load("axle", torque_nm=1), load("deck", mass_kg=1), held=("deck",))
    assert [one.on for one in loaded.use.loads] == ["axle", "deck"]
    assert loaded.use.held == ("deck",)
    assert loaded.with_loads(held="axle").use.held == ("deck", "axle")
    for wrong in ({"held": ("wall",)}, {}):
        loads = () if wrong else (load("axel", torque_nm=1),)
        with pytest.raises(UnknownNameError, match=r"axle.*deck|deck.*axle"):
            rig.with_loads(*loads, **wrong)
    with pytest.raises(PartError, match="loads"):
        rig.with_loads("gust")


@pytest.mark.parametrize(
    "wrong", [5, None, 2.5, (5,), [None], "", ("deck", " "), {"deck": 1, 2: 3}]
)
def test_what_holds_the_rig_is_said_by_name(rig, wrong):
    """A number, nothing or a blank is refused in our own words, naming rig and value."""
    with pytest.raises(PartError, match=r"rig.*held is") as caught:
        rig.with_loads(load("axle", torque_nm=1), held=wrong)
    assert "held=" in caught.value.remedy
    assert rig.with_loads(held={"deck"}).use.held == ("deck",)


def test_factors_are_changed_by_name(rig):
    """One at a time; an unknown name and a number that cannot be are refused."""
    changed = rig.with_factors(load=1.35, connection=1.25).use.factors
    assert (changed.load, changed.connection) == (1.35, 1.25)
    assert changed.timber == Factors().timber
    with pytest.raises(UnknownNameError, match="friction"):
        rig.with_factors(frictoin=0.2)
    for wrong in (0.0, -1.0, float("nan"), 1e9, "1.5"):
        with pytest.raises(PartError, match="load is"):
            rig.with_factors(load=wrong)


def test_factors_begin_as_the_standard_has_them():
    """Gamma M of plywood and of connections: EN 1995-1-1 table 2.3 (from memory)."""
    assert Factors().timber == timber_design.partial_factor("plywood")
    assert Factors().connection == timber_design.partial_factor("connection")


def test_own_strengths_go_by_the_materials_name(rig):
    """A name with blanks is written with underscores."""
    own = Strength(bending_0_mpa=60, density_kg_m3=700, source="own test")
    assert rig.with_strengths(birch_plywood=own).use.strengths == {"birch plywood": own}
