"""Planning: what a recipe comes to on paper, for whoever has no laser."""

from __future__ import annotations

from dataclasses import dataclass

from platekit.export.build_checks import checks_record
from platekit.export.cautions import once_switched_on
from platekit.export.plans.contents import PlansOf
from platekit.export.plans.printing.paper import OVERLAP_MM, Paper, checked_overlap
from platekit.findings import Finding, Severity
from platekit.hardware.hazards import Hazard
from platekit.job.assembling import assembly_record
from platekit.job.billing import bill_of
from platekit.job.drawing_up import DrawnUp, draw_up
from platekit.job.kinds import of_kinds
from platekit.job.options import Options
from platekit.job.progress import Progress, unheard
from platekit.job.purposes import purposes_of
from platekit.job.recipe import Recipe
from platekit.job.space import scene_for
from platekit.views.scene import Scene
from platekit.views.steps import StepView, step_views

PLANS = "plans.pdf"
A4 = Paper.parse("A4")


@dataclass(frozen=True, slots=True, kw_only=True)
class OnPaper:
    """How plans are to be printed.

    Attributes:
        paper: What is printed on.
        overlap_mm: By how much the tiles of a large part overlap.

    Raises:
        PlatekitError: The overlap is out of range.
    """

    paper: Paper = A4
    overlap_mm: float = OVERLAP_MM

    def __post_init__(self) -> None:
        checked_overlap(self.overlap_mm)


@dataclass(frozen=True, kw_only=True)
class Planned:
    """Plans on paper.

    Attributes:
        pdf: The file.
        pages: How many pages it has.
        tiled: Names of the parts that are larger than a page.
        plans: What they were drawn from.
        hazards: How the rig's bought parts can hurt once it is switched on.
    """

    pdf: bytes
    pages: int
    tiled: tuple[str, ...]
    plans: PlansOf
    hazards: tuple[Hazard, ...] = ()

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What the checks found, the gravest first."""
        return self.plans.findings


def plan(recipe: Recipe, options: Options, *, on: OnPaper, progress: Progress = unheard) -> Planned:
    """Return what a recipe comes to on paper; nothing is written.

    A finding that says stop withholds the outlines, unless the options say to cut anyway: steps,
    bill and findings are there all the same.

    Raises:
        PlatekitError: The recipe, an option, a part or the paper is at fault; the message names
            it.
    """
    drawn_up = draw_up(recipe, options, progress=progress)
    progress("drawing the plans")
    stopped = any(one.severity is Severity.STOP for one in drawn_up.findings)
    withheld = stopped and not options.cut_anyway
    return planned(drawn_up, on=on, withheld=withheld, summary=recipe.summary)


def planned(
    drawn_up: DrawnUp,
    *,
    on: OnPaper,
    withheld: bool = False,
    summary: str = "",
    scene: Scene | None = None,
    views: tuple[StepView, ...] | None = None,
) -> Planned:
    """Return a recipe that is drawn up as plans on paper.

    Args:
        drawn_up: What it came out as.
        on: How it is to be printed.
        withheld: Whether outlines are left out, since a finding says stop.
        summary: What it is, in a line.
        scene: The rig in space where it is at hand already; None has it made.
        views: Its steps as pictures where they are at hand already; None has them drawn.

    Raises:
        PlatekitError: The paper leaves no room.
    """
    from platekit.export.plans.book import bound, plan_leaves  # loads reportlab

    given = drawn_up.given
    if scene is None:
        scene = scene_for(given, drawn_up.proof)
    caution = once_switched_on(given.hazards)
    plans = PlansOf(
        name=given.title,
        parts=drawn_up.parts,
        paper=on.paper,
        overlap_mm=on.overlap_mm,
        named=of_kinds(purposes_of(given), drawn_up.parts),
        assembly=assembly_record(given, drawn_up.proof),
        scene=scene,
        step_views=step_views(scene) if views is None else views,
        bill=bill_of(drawn_up.parts, (), given.items),
        findings=drawn_up.findings,
        checks=checks_record(drawn_up.report),
        summary=summary,
        cautions=() if caution is None else (caution,),
        withheld=withheld,
    )
    leaves = plan_leaves(plans)
    return Planned(
        pdf=bound(leaves, title=given.title),
        pages=len(leaves),
        tiled=_tiled(plans),
        plans=plans,
        hazards=given.hazards,
    )


def _tiled(plans: PlansOf) -> tuple[str, ...]:
    from platekit.export.plans.full_size.pages import is_tiled

    shown = () if plans.withheld else plans.parts
    return tuple(part.name for part in shown if is_tiled(part, plans.paper))
