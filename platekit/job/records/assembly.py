"""Records read back: how the rig goes together."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from platekit.export.build_assembly import AssemblyRecord, FastenerRecord, JointRecord, StepRecord
from platekit.job.records.fields import (
    direction_of,
    entries_of,
    figure_of,
    inner_of,
    maybe,
    number_of,
    signed_of,
    text_of,
    texts_of,
)
from platekit.nesting.json_entry import Entry, short

T = TypeVar("T")


def assembly_of(entry: Entry, field: str) -> AssemblyRecord:
    """Return how a rig goes together: joints, screws, steps.

    Raises:
        NestingError: It says something that no record says, or names a screw that is not there.
    """
    inner = inner_of(entry, field)
    joints = None
    if "joints" in inner.data:
        joints = _each(inner, "joints", _joint)
    fasteners = _each(inner, "fasteners", _fastener)
    steps = _each(inner, "steps", _step)
    known = {one.name for one in fasteners}
    for step, one in zip(steps, entries_of(inner, "steps"), strict=True):
        for name in step.fasteners:
            if name not in known:
                one.fail("fasteners", f"names {short(name)}", "name screws of the list")
    return AssemblyRecord(joints=joints, fasteners=fasteners, steps=steps)


def _each(entry: Entry, field: str, read: Callable[[Entry], T]) -> tuple[T, ...]:
    return tuple(map(read, entries_of(entry, field)))


def _joint(entry: Entry) -> JointRecord:
    between = texts_of(entry, "between")
    if len(between) != 2:
        entry.fail("between", f"has {len(between)} names", "give those of two panels")
    return JointRecord(
        between=(between[0], between[1]),
        kind=text_of(entry, "kind"),
        hold=maybe(entry, "hold", text_of),
        clearance_mm=maybe(entry, "clearance_mm", signed_of),
        tabs=number_of(entry, "tabs"),
        screws=number_of(entry, "screws"),
        length_mm=figure_of(entry, "length_mm"),
    )


def _fastener(entry: Entry) -> FastenerRecord:
    return FastenerRecord(
        name=text_of(entry, "name"),
        designation=text_of(entry, "designation"),
        holds=texts_of(entry, "holds"),
        threaded_in=text_of(entry, "threaded_in"),
    )


def _step(entry: Entry) -> StepRecord:
    return StepRecord(
        bring_in=texts_of(entry, "bring_in"),
        direction=text_of(entry, "direction"),
        way=direction_of(entry, "way"),
        fasteners=texts_of(entry, "fasteners"),
        belts=texts_of(entry, "belts"),
        fitted=texts_of(entry, "fitted"),
        heap=text_of(entry, "heap"),
        brings=text_of(entry, "brings"),
        layers=maybe(entry, "layers", texts_of) or (),
    )
