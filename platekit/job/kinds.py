"""Kinds of parts: equal pieces are one kind in a larger quantity."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

import numpy as np

from platekit.errors import PartError
from platekit.geometry.chains import Chain
from platekit.hardware import gathered
from platekit.panel.part import Part

Of = TypeVar("Of")

# What a joint dealt here or further along leaves in the last bits; no caliper tells it apart.
SAME_MM = 1e-6

# "rib 2", "rib-2", "rib2": what stands before the number is the kind's name.
_NUMBERED = re.compile(r"(.*[^\d _-])[ _-]*\d+")


def kinds_of(parts: Iterable[Part]) -> tuple[Part, ...]:
    """Return each kind of part once, quantities added up.

    Pieces whose names differ in their number alone ("rib 1", "rib 2") are one kind, called by
    what stands before the number, when they are equal in sheet, shape (within a nanometre),
    marks, grain, wishes for the sheet and bought things. A name scored on the face is a mark:
    lettered pieces stay apart. So do parts with names of their own, however equal: every name
    leads to a file.

    Raises:
        PartError: Two parts have one name, capitals aside: their files would be one.
    """
    given = tuple(parts)
    _require_own_names(given)
    alike: dict[str, list[list[Part]]] = defaultdict(list)
    for part in given:
        groups = alike[_stem(part.name)]
        group = next((group for group in groups if _equal(group[0], part)), None)
        if group is None:
            groups.append([part])
        else:
            group.append(part)
    taken = {part.name.casefold() for part in given}
    return tuple(
        _merged(group, stem=stem, alone=len(groups) == 1 and stem.casefold() not in taken)
        for stem, groups in alike.items()
        for group in groups
    )


def of_kinds(known: Mapping[str, Of], kinds: Iterable[Part]) -> dict[str, Of]:
    """Return what is known of parts, by name, for kinds of them.

    Of a kind that is called by what stands before the number, what is known of its first piece.
    """
    firsts: dict[str, Of] = {}
    for name, of_part in known.items():
        firsts.setdefault(_stem(name), of_part)
    return {
        kind.name: known[kind.name] if kind.name in known else firsts[kind.name]
        for kind in kinds
        if kind.name in known or kind.name in firsts
    }


def kind_of(part: Part, kinds: Iterable[Part]) -> Part | None:
    """Return the kind among `kinds` that a part is a piece of; None where none is."""
    alike = [kind for kind in kinds if _stem(kind.name) == _stem(part.name)]
    return next(
        (kind for kind in alike if kind.name == part.name),
        next((kind for kind in alike if _equal(kind, part)), None),
    )


def _merged(group: Sequence[Part], *, stem: str, alone: bool) -> Part:
    first = group[0]
    if len(group) == 1:
        return first
    return replace(
        first,
        name=stem if alone else first.name,
        quantity=sum(part.quantity for part in group),
        findings=tuple(dict.fromkeys(one for part in group for one in part.findings)),
    )


def _stem(name: str) -> str:
    numbered = _NUMBERED.fullmatch(name)
    return numbered[1] if numbered else name


def _equal(first: Part, second: Part) -> bool:
    return (
        first.sheet == second.sheet
        and first.grain is second.grain
        and first.laying == second.laying
        and _near(first.profile.rings, second.profile.rings)
        and [mark.layer for mark in first.marks] == [mark.layer for mark in second.marks]
        and _near([mark.path for mark in first.marks], [mark.path for mark in second.marks])
        and gathered(first.items) == gathered(second.items)
    )


def _near(first: Sequence[Chain], second: Sequence[Chain]) -> bool:
    return len(first) == len(second) and all(
        one.table.shape == other.table.shape
        and bool(np.all(np.abs(one.table - other.table) <= SAME_MM))
        for one, other in zip(first, second, strict=True)
    )


def _require_own_names(parts: Iterable[Part]) -> None:
    seen: dict[str, str] = {}
    for part in parts:
        other = seen.get(part.name.casefold())
        if other is not None:
            raise PartError(
                "two parts have this name"
                if other == part.name
                else f"the name differs from {other!r} in capitals alone",
                part=part.name,
                remedy="give each part a name of its own",
            )
        seen[part.name.casefold()] = part.name
