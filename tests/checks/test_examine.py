"""Putting checks to a job: what is weighed, what is told, what is switched off."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, strategies as st

from platekit.checks.check import FAMILIES
from platekit.checks.examine import CHECKS, Report, checks_named, examine
from platekit.checks.subject import Subject
from platekit.checks.weighing import ADVICE, STRENGTH, Scale, severity_at, untold, weighed
from platekit.errors import UnknownNameError
from platekit.findings import Severity

FIGURES = st.floats(min_value=1e-6, max_value=1e6)


def held(value: float, **limits):
    """Weigh a value in newtons."""
    return weighed(
        "hold.screws",
        part="lid",
        measure="pull of a screw",
        value=value,
        unit="N",
        source="a table",
        remedy="take more screws",
        **limits,
    )


@given(value=FIGURES, limit=FIGURES)
def test_a_margin_says_how_many_times_over(value, limit):
    """At most: limit over value. At least: value over limit. 1 is just so."""
    assert held(value, most=limit).margin == pytest.approx(limit / value)
    assert held(value, least=limit).margin == pytest.approx(value / limit)
    assert held(value, most=value).margin == 1.0


@given(margin=st.floats(min_value=-10, max_value=10), stop=FIGURES, more=FIGURES)
def test_less_margin_is_never_less_grave(margin, stop, more):
    """Stop below one bound, warning below the other, passed above."""
    scale = Scale(stop=stop, warn=stop + more)
    grave = severity_at(margin, scale)
    assert grave is (
        Severity.STOP if margin < stop else Severity.WARNING if margin < stop + more
        else Severity.PASSED
    )  # fmt: skip
    assert severity_at(margin + 1.0, scale) <= grave


def test_nothing_that_acts_has_no_end_of_margin():
    """A load of 0 passes; no figure stands for endless margins, which JSON does not know."""
    found = held(0.0, most=10.0)
    assert (found.severity, found.margin) == (Severity.PASSED, None)
    assert held(5.0, most=0.0).severity is Severity.STOP
    assert held(math.inf, most=5.0).severity is Severity.STOP


def test_one_limit_is_asked_for():
    """Neither and both are slips of whoever writes a check."""
    for limits in ({}, {"most": 1.0, "least": 1.0}):
        with pytest.raises(ValueError, match="one limit"):
            held(1.0, **limits)


def test_strength_stops_and_advice_never_does():
    """A strength that does not do wastes a rig; advice is advice."""
    assert severity_at(0.99, STRENGTH) is Severity.STOP
    assert severity_at(0.01, ADVICE) is Severity.WARNING


def test_every_check_has_a_name_of_its_own_in_a_family():
    """Names are what users switch off; each asks a question and says how it is worked out."""
    names = [check.name for check in CHECKS]
    assert len(set(names)) == len(names)
    for check in CHECKS:
        family, _, word = check.name.partition(".")
        assert family in FAMILIES
        assert word.replace("_", "").isalpha()
        assert check.asks.endswith("?")


def test_names_stand_for_checks_or_families():
    """A family stands for all of it; an unknown name is refused, the known ones listed."""
    made = {check.name for check in CHECKS if check.family == "made"}
    assert set(checks_named(["made"])) == made
    assert set(checks_named(["made.web", "made.web"])) == {"made.web"}
    assert not checks_named([])
    with pytest.raises(UnknownNameError, match=r"made\.web"):
        checks_named(["made.wep"])
    with pytest.raises(UnknownNameError, match="check"):
        examine(Subject(pieces=()), skip=["strength"])


def test_an_empty_job_has_nothing_to_say():
    """No parts, no loads: no check invents a finding."""
    assert examine(Subject(pieces=())).findings == ()


def test_a_report_sorts_what_passed_from_what_is_worth_telling():
    """The weakest of a family is the one with the least margin, passed or not."""
    strong, weak = held(1.0, most=9.0), held(5.0, most=4.0)
    silent = untold("hold.plate", part="base", measure="strength not known", remedy="give it")
    report = Report(weighed=(strong, weak, silent))
    assert report.passed == (strong,)
    assert report.findings == (weak, silent)
    assert report.weakest("hold") is weak
    assert report.weakest("fit") is None
    assert report.of("hold") == (strong, weak, silent)
