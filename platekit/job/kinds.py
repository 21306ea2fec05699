"""Kinds of parts: the same piece asked for twice is one kind in a larger quantity."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from platekit.errors import PartError
from platekit.hardware.items import gathered
from platekit.panel.part import Part


def kinds_of(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return each kind of part once, with the quantities of identical ones added up.

    Parts are the same when all but quantity, bought items and findings is: name, sheet, shape,
    marks, grain. The items a kind asks for are for one copy, and so are kept from the first.

    Raises:
        PartError: One name is used for two different parts, capitals aside: their files would
            be one.
    """
    kinds: dict[str, Part] = {}
    for part in parts:
        key = part.name.casefold()
        first = kinds.get(key)
        if first is None:
            kinds[key] = part
        elif _same(first, part):
            kinds[key] = replace(first, quantity=first.quantity + part.quantity)
        else:
            raise PartError(
                "the name is used for two different parts"
                if first.name == part.name
                else f"the name differs from that of {first.name!r} in capitals alone",
                part=part.name,
                remedy="give each part a name of its own",
            )
    return tuple(kinds.values())


def _same(first: Part, second: Part) -> bool:
    return (
        first.name == second.name
        and first.sheet == second.sheet
        and first.grain is second.grain
        and first.profile == second.profile
        and first.marks == second.marks
        and gathered(first.items) == gathered(second.items)
    )
