"""What every nesting test shares: a short search."""

from __future__ import annotations

import pytest

from platekit.nesting.cells import search


@pytest.fixture(autouse=True)
def _short_search(monkeypatch):
    """Try few layouts: soundness must not hang on a long search."""
    monkeypatch.setattr(search, "MOST_LAYOUTS", 10)
