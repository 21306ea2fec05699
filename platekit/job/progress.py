"""How a long job says where it is."""

from __future__ import annotations

from typing import Protocol


class Progress(Protocol):
    """Anything that listens."""

    def __call__(self, stage: str, share: float | None = None) -> None:
        """Hear that `stage` is under way and, where known, which share (0 to 1) is done."""


def unheard(stage: str, share: float | None = None) -> None:
    """Listen to nothing."""
    del stage, share
