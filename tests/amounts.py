"""How many random examples a test draws: enough to find what broke, or all it was grown with."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(slots=True)
class _Asked:
    thorough: bool = False


_asked = _Asked()


def ask_for_all(*, asked: bool) -> None:
    """Say before any test is read whether every test draws its full number."""
    _asked.thorough = asked


def examples(usual: int, *, thorough: int) -> int:
    """Return how many examples to draw.

    Args:
        usual: In every run. The first of them are the small and the odd ones.
        thorough: With ``--thorough``: before a release, or where geometry was touched.
    """
    return thorough if _asked.thorough else usual
