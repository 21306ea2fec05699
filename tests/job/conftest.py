"""What every test of a job shares: a short search."""

from __future__ import annotations

import pytest

from platekit.nesting.cells import search


@pytest.fixture(autouse=True)
def _short_search(monkeypatch):
    """Try few layouts: what a job makes of one does not hang on how tight it lies."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 10)
