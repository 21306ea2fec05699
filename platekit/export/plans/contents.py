"""What a set of plans is made from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from platekit.export.bill import BillLine
from platekit.export.build_assembly import AssemblyRecord
from platekit.export.build_checks import ChecksRecord
from platekit.export.cautions import Caution
from platekit.export.plans.printing.paper import OVERLAP_MM, Paper
from platekit.findings import Finding
from platekit.panel.feature import Placed
from platekit.panel.part import Part
from platekit.views.scene import Scene
from platekit.views.steps import StepView


@dataclass(frozen=True, kw_only=True)
class PlansOf:
    """A rig, as far as paper shows it.

    Attributes:
        name: What the plate or the assembly is called.
        parts: Every kind of part.
        paper: What is printed on.
        overlap_mm: By how much tiles overlap.
        named: What was asked for on each part, by its name, in its coordinates.
        assembly: How it goes together; None for a single plate.
        scene: The rig in space; None for a single plate.
        step_views: Each step of assembly as a picture; none where they are not drawn.
        bill: What to cut and what to buy.
        findings: What the checks said, the gravest first.
        checks: What the checks weighed; None where nobody says.
        summary: What it is, in a line; empty where nobody says.
        cautions: What to mind besides saw and drill.
        withheld: Whether outlines are left out, in full size and to scale: a finding says stop, and
            nobody is to cut by them.
    """

    name: str
    parts: tuple[Part, ...]
    paper: Paper
    overlap_mm: float = OVERLAP_MM
    named: Mapping[str, Sequence[Placed]] = field(default_factory=dict)
    assembly: AssemblyRecord | None = None
    scene: Scene | None = None
    step_views: tuple[StepView, ...] = ()
    bill: tuple[BillLine, ...] = ()
    findings: tuple[Finding, ...] = ()
    checks: ChecksRecord | None = None
    summary: str = ""
    cautions: tuple[Caution, ...] = ()
    withheld: bool = False


# EN 166 (eyes) and EN 149 (masks), numbers from memory; the rest is common practice, no source.
SAW = Caution(
    title="Before you saw and drill",
    lines=(
        "clamp the sheet and support it beside the cut; hands stay out of the blade's line;",
        "wear eye protection (EN 166) and, at machines, hearing protection;",
        "no gloves, loose sleeves or long hair near anything that turns;",
        "drill onto a piece of waste, and centre-punch or prick every mark first;",
        "dust: extraction and a mask, FFP2 or better (EN 149).",
    ),
    foot="Measure the check square of every page before you cut. The rules of your workshop and "
    "country come first.",
)
