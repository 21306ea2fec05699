"""What the answer calls the weakest link: what gives under load, and what nothing holds at all."""

from __future__ import annotations

from dataclasses import replace

from platekit import load
from platekit.checks.examine import Report, examine
from platekit.checks.weighing import weighed
from platekit.cli.check import weakest_link
from tests.checks.hold.turning import spun, subject


def found(measure: str, unit: str, *, most: float):
    """Return a finding of 1 against a limit."""
    return weighed(
        "hold.plate",
        part="floor",
        measure=measure,
        value=1.0,
        most=most,
        unit=unit,
        source="made up",
        remedy=f"mend the {measure}",
    )


def told(*findings) -> str:
    """Return the lines as one."""
    return " ".join(line.strip() for line in weakest_link(Report(weighed=findings)))


def test_the_weakest_link_is_a_force_a_stress_or_a_torque():
    """A wall that is a little thin and a sag do not break: the pull does, though it has more."""
    wall, sag = found("wall", "mm", most=1.1), found("sag", "mm", most=1.05)
    pull = found("pull", "N", most=1.4)
    said = told(wall, sag, pull)
    assert "weakest link under load, 1.40 times: floor: pull" in said
    assert "for more: mend the pull" in said
    # Where nothing else is weighed it is better than silence.
    assert "1.05 times: floor: sag" in told(wall, sag)
    assert told() == ""


def test_a_torque_that_nothing_holds_is_no_margin_of_nothing():
    """The motor left out: told by itself, before what is weakest of all that does hold."""
    job = subject(spun()[1:], load("hub", torque_nm=35, radial_n=100))
    report = examine(replace(job, pieces=()))
    said = " ".join(line.strip() for line in weakest_link(report)).strip()
    assert said.startswith("held by nothing: hub: torque that ends at spindle")
    assert "35 N m" in said
    assert "0.00 times" not in said
