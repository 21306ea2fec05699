"""Stopping: whoever interrupts the search keeps the best so far, and hears how far it got."""

from __future__ import annotations

import re

import pytest

from platekit.nesting import NestPart, Stock, nest
from tests.nesting.shapes import angle_piece, faults, rectangle

PIECES = [(w, 20 + w // 2) for w in range(30, 80, 9)]


def pieces(material="", *, quantity=3):
    """Return parts unlike enough that there is something to search for."""
    shapes = [angle_piece(w, h, 12) for w, h in PIECES]
    return [
        (NestPart(f"{material}{k}", shape.profile, quantity, material=material), shape)
        for k, shape in enumerate(shapes)
    ]


def test_an_interrupted_search_keeps_its_best():
    """Stopped at the first word: everything lies, and the nesting says that it was stopped."""
    heard = []

    def stop(_share, said):
        heard.append(said)
        raise KeyboardInterrupt

    wanted = pieces()
    done = nest([part for part, _ in wanted], stock=Stock(150, 130), gap_mm=1, progress=stop)
    assert len(heard) == 1
    assert done.interrupted
    assert not done.unplaced
    assert faults(done, wanted, gap_mm=1, margin_mm=0) == []
    assert not nest([wanted[0][0]], stock=Stock(150, 130)).interrupted


def test_the_groups_after_it_are_laid_and_not_searched():
    """Stopped in the first group, the second is never heard of, but lies on its sheets."""
    heard = []

    def stop(_share, said):
        heard.append(said)
        if len(heard) == 2:
            raise KeyboardInterrupt

    wanted = [*pieces("oak"), *pieces("ash")]
    done = nest([part for part, _ in wanted], stock=Stock(150, 130), gap_mm=1, progress=stop)
    assert done.interrupted
    assert [said.split(":")[0] for said in heard] == ["oak", "oak"]
    assert {sheet.material for sheet in done.sheets} == {"oak", "ash"}
    assert faults(done, wanted, gap_mm=1, margin_mm=0) == []


def test_before_there_is_a_layout_there_is_nothing_to_keep(monkeypatch):
    """Interrupted in its first layout, the nesting gives up."""

    def pressed(*_args, **_named):
        raise KeyboardInterrupt

    monkeypatch.setattr("platekit.nesting.nester.Search", pressed)
    with pytest.raises(KeyboardInterrupt):
        nest([pieces()[0][0]], stock=Stock(150, 130))


def test_progress_says_sheets_fill_and_length():
    """Two tiles of 50 x 50 on 60 x 80: two sheets, 5000 of 9600 mm2, used to 50 mm."""
    heard = []
    tile = NestPart("tile", rectangle(50, 50).profile, 2)
    nest([tile], stock=Stock(60, 80), progress=lambda _, said: heard.append(said))
    assert heard[0] == "2 sheets, 52.1 % filled, last used to 50 mm"
    wanted = [part for part, _ in pieces()]
    nest(wanted, stock=Stock(500, 500), progress=lambda _, said: heard.append(said))
    pattern = re.compile(r"\d+ sheets?, \d+\.\d % filled, last used to \d+ mm")
    assert all(pattern.fullmatch(said) for said in heard)
