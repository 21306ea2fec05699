"""The order of assembly as one table: a line for each step, the first to be done first."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from platekit.export.build_assembly import AssemblyRecord, FastenerRecord, JointRecord, StepRecord
from platekit.export.cells import text_cell
from platekit.views.layups import LayUpView

COLUMNS = (
    "step",
    "group",
    "bring_in",
    "already_on_it",
    "moves",
    "joins",
    "screws",
    "belts",
)
GLUED = "glued"
# What to mind at a step: common practice, no source.
BELT = "Belt: keep the drive without power, fingers off the pulleys."
GLUE = "Glue: try it dry first, clamp until it has set, wipe off what comes out."
# The first of a heap moves nowhere: it is what everything else is brought to.
FIRST = "set down"
APART = "set down apart"


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One step in words.

    Attributes:
        number: Its number, from 1.
        step: The step itself.
        before: What was done to what is brought in: "glued of ring 1, ring 2", "button clamped in".
        moves: Which way it moves; the first of a heap is set down.
        joins: The joints it closes: "glued to base, left".
        screws: The screws driven: "4 ISO 4762 M5x25 8.8".
        cautions: What to mind while it is done.
    """

    number: int
    step: StepRecord
    before: tuple[str, ...]
    moves: str
    joins: tuple[str, ...]
    screws: tuple[str, ...]
    cautions: tuple[str, ...] = ()


def step_lines(assembly: AssemblyRecord) -> Iterator[StepLine]:
    """Yield the steps in words, in their order."""
    screws = {one.name: one for one in assembly.fasteners}
    heaps: dict[str, set[str]] = {}
    for number, step in enumerate(assembly.steps, start=1):
        there = heaps.setdefault(step.heap, set())
        first = APART if step.heap else FIRST
        before, joins = tuple(_before(step)), tuple(_joins(step, assembly.joints or (), there))
        yield StepLine(
            number=number,
            step=step,
            before=before,
            moves=step.direction if there else first,
            joins=joins,
            screws=tuple(_screws(step, screws)),
            cautions=tuple(_cautions(step, (*before, *joins))),
        )
        there |= set(step.bring_in)


def steps_csv(assembly: AssemblyRecord) -> str:
    r"""Return the steps as comma-separated text with one header line.

    Lines end in ``\n``. A step names what is brought in, what was clamped into it and which plates
    it was glued of before, which way it moves, the joints it closes (and whether with glue), the
    screws driven and the belts laid on then. A group ("A") is put together apart, in lines of its
    own, and brought in whole.
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(COLUMNS)
    for line in step_lines(assembly):
        step = line.step
        whole = f"group {step.brings}: " if step.brings else ""
        writer.writerow(
            [
                line.number,
                step.heap,
                text_cell(whole + ", ".join(step.bring_in)),
                text_cell("; ".join(line.before)),
                line.moves,
                text_cell("; ".join(line.joins)),
                text_cell("; ".join(line.screws)),
                text_cell(", ".join(step.belts)),
            ]
        )
    return stream.getvalue()


def layup_words(view: LayUpView) -> str:
    """Return how layers are glued: "ring (1) lies down, on it top (2); 2 dowels keep them..."."""
    numbered = [f"{name} ({number})" for number, name in enumerate(view.layers, start=1)]
    stack = f"{numbered[0]} lies down, on it {', '.join(numbered[1:])}"
    if not view.dowels:
        return stack
    one = view.dowels == 1
    return f"{stack}; {view.dowels} dowel{'' if one else 's'} keep{'s' if one else ''} them in line"


def _cautions(step: StepRecord, words: Iterable[str]) -> Iterable[str]:
    """Yield what to mind at a step, by what it asks for."""
    if step.belts:
        yield BELT
    if any(said.startswith(GLUED) for said in words):
        yield GLUE


def _before(step: StepRecord) -> Iterable[str]:
    """Yield what was done to a thing before it is brought in."""
    if step.layers:
        yield f"glued of {', '.join(step.layers)}"
    if step.fitted:
        yield f"{', '.join(step.fitted)} clamped in"


def _joins(step: StepRecord, joints: Iterable[JointRecord], there: set[str]) -> Iterable[str]:
    """Yield the joints that a step closes: "glued to base, left"."""
    moved = set(step.bring_in)
    holds: dict[str, list[str]] = {}
    for joint in joints:
        one, other = joint.between
        if (one in moved) == (other in moved):
            continue
        partner = other if one in moved else one
        if partner in there:
            holds.setdefault(_how(joint), []).append(partner)
    for how, partners in holds.items():
        yield f"{how} to {', '.join(dict.fromkeys(partners))}"


def _how(joint: JointRecord) -> str:
    return joint.hold if joint.hold == GLUED else f"{joint.kind}, no glue,"


def _screws(step: StepRecord, known: Mapping[str, FastenerRecord]) -> Iterable[str]:
    """Yield the screws of a step: "4 ISO 4762 M5x25 8.8"."""
    counts = Counter(known[name].designation for name in step.fasteners)
    for designation, count in sorted(counts.items()):
        yield f"{count} {designation}"
