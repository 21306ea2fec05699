"""Drawing up: from a recipe to parts ready for the beam, and what was noticed on the way.

All that needs no stock: ``make`` goes on from here, ``check`` ends here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from platekit.assembly.assembly import Assembly
from platekit.assembly.proof import Proof
from platekit.checks.examine import Report, examine
from platekit.checks.subject import Piece, Subject
from platekit.cutting.doubles import double_cuts
from platekit.findings import Finding
from platekit.job.beams import CutPart, cut_part
from platekit.job.drawings import part_drawings
from platekit.job.kinds import kinds_of, of_kinds
from platekit.job.names import without_name
from platekit.job.options import Options
from platekit.job.parameters import Value, values_of
from platekit.job.progress import Progress, unheard
from platekit.job.recipe import Recipe
from platekit.job.resolving import Given, resolved
from platekit.job.sheets import job_sheet
from platekit.materials import Beam, Sheet, beam_for, sheet_findings
from platekit.panel.part import Part
from platekit.panel.plate import Plate


@dataclass(frozen=True, kw_only=True)
class DrawnUp:
    """A recipe as far as it goes without stock: every part, ready for the beam.

    Attributes:
        sheet: The sheet it was made for.
        beam: The beam it was made for.
        values: The recipe's own parameters.
        given: What the recipe gave, its joints dealt.
        proof: Whether it goes together, and in which order.
        parts: Every kind of part.
        cut: The same, compensated.
        found: What was noticed on the way, as it came.
        report: What the checks weighed.
    """

    sheet: Sheet
    beam: Beam
    values: Mapping[str, Value]
    given: Given
    proof: Proof
    parts: tuple[Part, ...]
    cut: tuple[CutPart, ...]
    found: tuple[Finding, ...]
    report: Report

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Each finding once, the gravest first; doubled cuts on a part among them."""
        doubles = (double_cuts(one) for one in part_drawings(self.cut, names="none").values())
        return ordered(self.found, *doubles, skipped=self.report.skipped)


def draw_up(
    recipe: Recipe,
    options: Options,
    *,
    progress: Progress = unheard,
    early: Callable[[DrawnUp], None] | None = None,
    deal: Callable[[Plate | Assembly], Given] = resolved,
    prove: Callable[[Given], Proof] = Given.prove,
) -> DrawnUp:
    """Return what `recipe` comes out as before anything is laid on stock.

    Args:
        recipe: The recipe.
        options: What the job is given.
        progress: Hears how far it is.
        early: Is shown the parts as soon as they are there, with what was noticed on the way
            alone; then once more when they are weighed, still without proof: no steps, and
            nothing of what clashes. For eyes that do not want to wait.
        deal: Deals out the joints of what the recipe gave, and
        prove: gives its proof: for whoever remembers earlier ones.

    Raises:
        PlatekitError: The recipe, an option or a part is at fault; the message names it.
    """
    sheet = job_sheet(recipe.sheet, options=options)
    beam = beam_for(sheet, kerf_mm=options.kerf_mm)
    values = values_of(recipe.parameters, chosen=options.chosen)
    progress("running the recipe")
    made = recipe.call(sheet, values=values)
    progress("dealing out the joints")
    given = deal(made)
    parts = kinds_of(given.parts)
    if options.names != "score":
        parts = tuple(map(without_name, parts))
    named = of_kinds(given.named, parts)
    progress("compensating for the beam")
    cut = tuple(
        cut_part(
            part,
            beam=beam if part.sheet == sheet else beam_for(part.sheet, kerf_mm=options.kerf_mm),
            join=options.join,
            named=named,
        )
        for part in parts
    )
    kinds = dict.fromkeys(part.sheet for part in parts)
    on_sheets = tuple(finding for kind in kinds for finding in sheet_findings(kind))
    on_parts = (
        *(finding for part in parts for finding in part.findings),
        *(finding for one in cut for finding in one.findings),
    )
    drawn = DrawnUp(
        sheet=sheet,
        beam=beam,
        values=values,
        given=given,
        proof=Proof((), ()),
        parts=parts,
        cut=cut,
        found=(*on_sheets, *given.findings, *on_parts),
        report=Report(),
    )
    if early is not None:
        early(drawn)
    progress("weighing what it must bear")
    report = _weighed(given, cut, options)

    def judged(proof: Proof) -> DrawnUp:
        found = (*on_sheets, *given.findings, *proof.findings, *on_parts)
        # What came up while parts were drawn counts among what their checks weighed.
        told = tuple(one for one in found if one.check and one.check not in report.skipped)
        return replace(
            drawn,
            proof=proof,
            found=(*found, *report.findings),
            report=replace(report, weighed=(*told, *report.weighed)),
        )

    if early is not None:
        early(judged(drawn.proof))
    progress("proving that it goes together")
    return judged(prove(given))


def _weighed(given: Given, cut: Sequence[CutPart], options: Options) -> Report:
    """Return what the checks say of it; those the recipe or the user switched off are left out."""
    parts = [one.part for one in cut]
    named, webs = of_kinds(given.named, parts), of_kinds(given.webs, parts)
    pieces = tuple(
        Piece(
            part=one.part,
            path=one.path,
            kerf_mm=one.beam.kerf_mm,
            features=tuple(named.get(one.part.name, ())),
            least_web_mm=webs.get(one.part.name),
        )
        for one in cut
    )
    skipped = () if given.whole is None else given.whole[0].use.skipped
    subject = Subject(
        pieces=pieces,
        whole=given.whole,
        bed_mm=options.bed_mm,
        grid_mm=options.grid_mm,
        seed=options.spacing.seed,
    )
    return examine(subject, skip=(*options.skip, *skipped))


def ordered(*several: Iterable[Finding], skipped: Collection[str] = ()) -> tuple[Finding, ...]:
    """Return each finding once, the gravest first, of these the one with the least margin.

    Those without a margin come after those with one, in the order found.

    Args:
        several: Findings.
        skipped: Names of checks that are switched off: what comes from them is left out.
    """
    found = dict.fromkeys(
        finding for findings in several for finding in findings if finding.check not in skipped
    )
    return tuple(
        sorted(
            found,
            key=lambda one: (-one.severity, math.inf if one.margin is None else one.margin),
        )
    )


def from_check(name: str, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return findings as those of a check of that name."""
    return tuple(replace(finding, check=name) for finding in findings)
