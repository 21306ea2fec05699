"""Wishes: what the page sends is read strictly, and comes back as it was."""

from __future__ import annotations

import json

import pytest

from platekit.job.options import Options
from platekit.live.wish import Wish, WishError, read_wish, wish_in, wish_of


def test_a_wish_comes_back_as_it_was():
    """Through JSON, as Python's own reader and writer have it (RFC 8259)."""
    wish = Wish(values={"width_mm": "120"}, thickness_mm=5.8, material="MDF", kerf_mm=0.2)
    assert wish_of(json.loads(json.dumps(wish.plain()))) == wish
    assert wish_of({}) == Wish()


def test_a_wish_changes_what_the_command_line_gave_and_keeps_the_rest():
    """Bed, join and skipped checks are not the page's to turn."""
    options = Options(join="mitre", skip=("fit",), bed_mm=(600.0, 400.0), grid_mm=30.0, kerf_mm=0.3)
    job = Wish(values={"a": "1"}, thickness_mm=3.0).on(options)
    assert (job.join, job.skip) == ("mitre", ("fit",))
    assert (job.bed_mm, job.grid_mm) == ((600.0, 400.0), 30.0)
    assert (job.chosen, job.thickness_mm, job.kerf_mm) == ((("a", "1"),), 3.0, None)
    assert wish_in(job) == Wish(values={"a": "1"}, thickness_mm=3.0)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        pytest.param(b"{", "no JSON", id="cut off"),
        pytest.param(b"\xff\xfe{", "no JSON", id="no text"),
        pytest.param(b"[" * 60_000, "no JSON", id="nested without end"),
        pytest.param(b"[]", "no object", id="a list"),
        pytest.param(b'{"out": "/etc"}', "'out'", id="an unknown word"),
        pytest.param(b'{"values": []}', "values", id="values as a list"),
        pytest.param(b'{"values": {"a": 1}}', "a is no text", id="a number for a text"),
        pytest.param(b'{"material": 4}', "material", id="a number for a material"),
        pytest.param(b'{"kerf_mm": "0.2"}', "kerf", id="a text for a number"),
        pytest.param(b'{"kerf_mm": true}', "kerf", id="a truth for a number"),
        pytest.param(b'{"kerf_mm": NaN}', "not finite", id="no number at all"),
        pytest.param(b'{"thickness_mm": 1e999}', "not finite", id="beyond all numbers"),
        pytest.param(b'{"thickness_mm": 1' + b"0" * 400 + b"}", "not finite", id="400 digits"),
        pytest.param(json.dumps({"values": {"a": "x" * 3000}}).encode(), "a is no", id="too long"),
        pytest.param(
            json.dumps({"values": {str(k): "" for k in range(600)}}).encode(), "values", id="many"
        ),
    ],
)
def test_what_is_no_wish_is_refused_by_name(text, names):
    """The error names what is wrong; nothing of it is taken."""
    with pytest.raises(WishError, match=names):
        read_wish(text)
