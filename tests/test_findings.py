"""Findings in words: figures as a workshop reads them, never one that hides what is wrong."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings, strategies as st

from platekit.findings import Finding, Severity


def finding(**given):
    """Return a finding about a lid."""
    return Finding(
        **{
            "severity": Severity.WARNING,
            "part": "lid",
            "measure": "web",
            "remedy": "widen it",
            "unit": "mm",
        }
        | given
    )


@pytest.mark.parametrize(
    ("value", "limit", "unit", "says"),
    [
        pytest.param(4.860861, 6.0, "mm", "web 4.86 mm (limit 6 mm)", id="hundredths"),
        pytest.param(2.8, 3.0, "mm", "web 2.8 mm (limit 3 mm)", id="no needless zeros"),
        pytest.param(5.999, 6.0, "mm", "web 5.999 mm (limit 6 mm)", id="just below"),
        pytest.param(5.99999964, 6.0, "mm", "web 5.9999996 mm (limit 6 mm)", id="hardly below"),
        pytest.param(2.4361, 2.4375, "mm", "web 2.436 mm (limit 2.438 mm)", id="both close"),
        pytest.param(6.0, 6.0, "mm", "web 6 mm (limit 6 mm)", id="at the limit"),
        pytest.param(-0.001, 2.0, "mm", "web 0 mm (limit 2 mm)", id="no minus nought"),
        pytest.param(12345.678, None, "mm", "web 12345.68 mm;", id="long, no limit"),
        pytest.param(12.3456, 800.0, "N", "web 12.3 N (limit 800 N)", id="three digits"),
        pytest.param(0.0123456, None, "MPa", "web 0.0123 MPa;", id="three digits of little"),
        pytest.param(123456.7, None, "N", "web 123457 N;", id="whole newtons"),
        pytest.param(799.9, 800.0, "N", "web 799.9 N (limit 800 N)", id="nearly enough"),
        pytest.param(3, 0, "", "web 3 (limit 0);", id="a count"),
        pytest.param(math.inf, 5.0, "mm", "web inf mm (limit 5 mm)", id="endless"),
        pytest.param(math.nan, 5.0, "mm", "web nan mm (limit 5 mm)", id="no number"),
        pytest.param(None, None, "", "web; widen it", id="no figures"),
    ],
)
def test_figures_are_as_fine_as_they_need_be(value, limit, unit, says):
    """Lengths to 0.01 mm, the rest to three digits, finer only where the limit asks for it."""
    assert says in str(finding(value=value, limit=limit, unit=unit))


figures = st.floats(-1e5, 1e5).map(lambda x: round(x, 9))


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    limit=figures,
    off=st.one_of(figures, st.floats(-1e-3, 1e-3).map(lambda x: round(x, 9))),
    unit=st.sampled_from(["mm", "N", "deg", ""]),
)
def test_what_is_below_the_limit_reads_below_it(limit, off, unit):
    """Read back as numbers, value and limit compare as they truly do."""
    value = round(limit + off, 9)
    said = re.findall(r"-?\d+\.?\d*", str(finding(value=value, limit=limit, unit=unit)))
    shown, held = map(float, said)
    assert (shown < held, shown > held) == (value < limit, value > limit)


def test_the_place_comes_first():
    """Part and feature stand before the figures, the remedy after."""
    said = str(finding(feature="slot 3", measure="width", value=2.8, limit=3.0))
    assert said == "lid / slot 3: width 2.8 mm (limit 3 mm); widen it"
