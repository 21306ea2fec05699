"""How a rig goes together, as the record of a run has it: joints, screws, order of assembly."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FastenerRecord:
    """One screw: its name, what it is, what it holds, the device its thread is in, if one is."""

    name: str
    designation: str
    holds: tuple[str, ...]
    threaded_in: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepRecord:
    """One step of assembly.

    Attributes:
        bring_in: Names of what is brought in, as one.
        direction: Which way it moves, in workshop words.
        way: The same as a unit vector.
        fasteners: Names of the screws driven then.
        belts: Names of the belts laid on then.
        fitted: Names of what was clamped into it before: buttons, glands.
        heap: Where it is done: empty for the rig, "A", "B"... for a group put together apart.
        brings: Which group is brought in; empty for a single thing.
        layers: Names of the plates it was glued of before, the lowest first; empty for no laminate.
    """

    bring_in: tuple[str, ...]
    direction: str
    way: tuple[float, float, float]
    fasteners: tuple[str, ...] = ()
    belts: tuple[str, ...] = ()
    fitted: tuple[str, ...] = ()
    heap: str = ""
    brings: str = ""
    layers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRecord:
    """The joint between two panels.

    Attributes:
        between: Names of both; where one has the tabs or passes through, it stands first.
        kind: What it is, in workshop words: "fingers", "tabs", "screwed".
        hold: What keeps it together: press, glued or slip; None where the two only butt.
        clearance_mm: Opening less what goes in, mm; None where the two only butt.
        tabs: Fingers of both together, or tabs; 0 where there are none.
        screws: How many screws draw it together.
        length_mm: Length of the line on which both meet, mm.
    """

    between: tuple[str, str]
    kind: str
    hold: str | None
    clearance_mm: float | None
    tabs: int
    screws: int
    length_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyRecord:
    """How the rig goes together: its joints, its screws, and the steps in their order.

    The joints are None where they are not known, as in records of older versions.
    """

    joints: tuple[JointRecord, ...] | None = None
    fasteners: tuple[FastenerRecord, ...] = ()
    steps: tuple[StepRecord, ...] = ()


def assembly_json(assembly: AssemblyRecord) -> dict[str, object]:
    """Return how a rig goes together in the words of ``build.json``."""
    joints = {} if assembly.joints is None else {"joints": [_joint(one) for one in assembly.joints]}
    return {
        **joints,
        "fasteners": [
            {
                "name": one.name,
                "designation": one.designation,
                "holds": one.holds,
                "threaded_in": one.threaded_in,
            }
            for one in assembly.fasteners
        ],
        "steps": [
            {
                "bring_in": step.bring_in,
                "direction": step.direction,
                "way": step.way,
                "fasteners": step.fasteners,
                "belts": step.belts,
                "fitted": step.fitted,
                "heap": step.heap,
                "brings": step.brings,
                "layers": step.layers,
            }
            for step in assembly.steps
        ],
    }


def _joint(joint: JointRecord) -> dict[str, object]:
    return {
        "between": joint.between,
        "kind": joint.kind,
        "hold": joint.hold,
        "clearance_mm": joint.clearance_mm,
        "tabs": joint.tabs,
        "screws": joint.screws,
        "length_mm": joint.length_mm,
    }
