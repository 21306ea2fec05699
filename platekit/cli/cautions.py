"""The few lines about laser work that every job ends with, and those about a motorised rig."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator

from platekit.export.cautions import (
    ESTIMATES as _ESTIMATES,
    LASER,
    Caution,
    once_switched_on,
)
from platekit.hardware.hazards import Hazard

WIDTH = 98


def switched_on(hazards: Iterable[Hazard]) -> Iterator[str]:
    """Yield what to mind before a rig with these hazards is switched on; nothing without any."""
    caution = once_switched_on(hazards)
    if caution is not None:
        yield from _told(caution)


def _told(caution: Caution) -> Iterator[str]:
    yield f"{caution.title}:"
    for line in caution.lines:
        yield from textwrap.wrap(line, width=WIDTH, initial_indent="  - ", subsequent_indent="    ")
    if caution.foot:
        yield from textwrap.wrap(caution.foot, width=WIDTH)


CAUTIONS = tuple(_told(LASER))
ESTIMATES = tuple(textwrap.wrap(_ESTIMATES, width=WIDTH))
