"""The dish rotator weighed: it passes as designed, and each change for the worse is seen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from platekit.assembly.assembly import Assembly
from platekit.assembly.mounting import Mounted
from platekit.checks.check import FAMILIES
from platekit.checks.examine import Report
from platekit.findings import Finding, Severity
from platekit.hardware.devices.device import Device
from platekit.job.drawing_up import draw_up
from platekit.job.options import Options
from tests.recipes.builds import FLAGSHIP, recipe

SERIOUS = (Severity.STOP, Severity.WARNING)


def report(
    change: Callable[[Assembly], Assembly] = lambda whole: whole, **chosen: object
) -> Report:
    """Return what the checks say of the rotator after a change to what its recipe gives."""
    taken = recipe(FLAGSHIP)
    thickness = chosen.pop("thickness_mm", None)

    def changed(*given, **values):
        return change(taken.function(*given, **values))

    options = Options(
        thickness_mm=thickness, chosen=tuple((name, str(value)) for name, value in chosen.items())
    )
    return draw_up(replace(taken, function=changed), options).report


def of(found: Report, check: str, word: str = "") -> list[Finding]:
    """Return what a check weighed about something."""
    return [
        one
        for one in found.weighed
        if one.check == check and word in f"{one.part} {one.feature} {one.measure}"
    ]


def least(found: list[Finding]) -> float:
    """Return the least margin."""
    return min(one.margin for one in found if one.margin is not None)


def with_device(name: str, change: Callable[[Device], Device]) -> Callable[[Assembly], Assembly]:
    """Return the change of one bought part."""

    def changed(whole: Assembly) -> Assembly:
        hardware = tuple(
            replace(one, device=change(one.device))
            if isinstance(one, Mounted) and one.name == name
            else one
            for one in whole.hardware
        )
        assert hardware != whole.hardware
        return replace(whole, hardware=hardware)

    return changed


@pytest.fixture(scope="module")
def designed() -> Report:
    """The rotator as it stands in the recipe."""
    return report()


def test_it_passes_in_all_four_families(designed):
    """35 N m of gust and a dish of 12 kg: nothing says stop or warns, every margin is above 1."""
    assert [one for one in designed.weighed if one.severity in SERIOUS] == []
    for family in FAMILIES:
        assert len(designed.of(family)) > 10
        assert designed.weakest(family).margin > 1.0


def test_every_figure_has_its_formula_and_source(designed):
    """What was reckoned says by what and after whom; a plain measurement says at least the rule."""
    for one in designed.weighed:
        assert one.check
        if one.margin is not None:
            assert one.source
    reckoned = [one for one in designed.weighed if one.check.startswith(("hold", "drive"))]
    assert all(one.formula for one in reckoned if one.margin is not None)


def test_a_thinner_sheet_does_not_bear_it(designed):
    """At 4 mm the floors bend: bending and sag name the panels, with less margin than at 6."""
    thin = report(thickness_mm=4.0)
    for panel in ("head", "bearing plate", "base"):
        weak = [one for one in of(thin, "hold.plate", panel) if one.severity in SERIOUS]
        assert weak, panel
        assert least(of(thin, "hold.plate", panel)) < least(of(designed, "hold.plate", panel))
    assert any(one.severity is Severity.STOP for one in of(thin, "hold.plate"))


def test_a_printed_hub_is_named_with_its_weakest_section(designed):
    """The same hub, printed: the sides of its key slot give way, all else stays as it was.

    By hand: 0.9 of the yield of aluminium 6082-T6 (255 MPa) against that of printed plastic
    (53 MPa) over its factor of 2.
    """
    printed = report(with_device("hub", lambda hub: replace(hub, made_of="PLA printed")))
    key = of(printed, "hold.grip", "pressure on the sides of the key")
    (weak,) = [one for one in key if one.severity is Severity.STOP]
    assert (weak.part, weak.feature) == ("hub", "key on main shaft")
    (strong,) = [one for one in of(designed, "hold.grip", "pressure") if one.part == "hub"]
    assert strong.margin / weak.margin == pytest.approx(0.9 * 255 / (53 / 2.0))
    assert strong.margin > 2.0
    assert weak.margin < 0.3
    assert [one for one in printed.weighed if one.severity in SERIOUS] == [weak]


def test_fewer_bolts_leave_less_margin(designed):
    """A mast flange on two bolts of its four: each carries more, the flange is named."""

    def halved(device: Device) -> Device:
        points = device.fixing.points[::2]
        return replace(device, fixing=replace(device.fixing, points=points))

    fewer = report(with_device("mast flange", halved))
    was, now = (least(of(found, "hold.screws", "mast flange")) for found in (designed, fewer))
    assert now < 0.75 * was


def test_without_glue_joints_bear_less(designed):
    """Slip joints for glued ones: fingers and tabs carry by bearing alone."""
    loose = report(lambda whole: whole.with_practice(hold="slip"))
    assert least(of(loose, "hold.joints")) < least(of(designed, "hold.joints"))


def test_more_wind_than_it_was_designed_for_is_seen(designed):
    """Three times the gust: the drive cannot hold it, and the tool says where it gives first."""
    blown = report(gust_nm=105.0)
    assert [one for one in of(blown, "drive.torque") if one.severity in SERIOUS]
    assert [one for one in of(blown, "drive.gearbox") if one.severity in SERIOUS]
    assert least(of(blown, "hold.screws", "motor")) == pytest.approx(
        least(of(designed, "hold.screws", "motor")) / 3, rel=1e-6
    )


def test_the_same_seed_says_the_same(designed):
    """Joints drawn by lot come out alike, to the last figure."""
    assert report() == designed
