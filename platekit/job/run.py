"""The chain: recipe, plates, parts, beam, stock, drawings, files. Each step a plain call."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from platekit.cutting.doubles import double_cuts
from platekit.export.bill import bill_csv
from platekit.export.build import (
    BuildRecord,
    build_json,
    file_records,
)
from platekit.export.build_checks import checks_record
from platekit.export.step_table import steps_csv
from platekit.export.totals import Totals
from platekit.findings import Finding, Severity
from platekit.hardware.hazards import Hazard
from platekit.job.assembling import assembly_record
from platekit.job.billing import bill_of, price_findings
from platekit.job.drawing_up import DrawnUp, draw_up, from_check, ordered
from platekit.job.drawings import drawn, part_drawings, sheet_drawings
from platekit.job.laid import LaidSheet
from platekit.job.leftovers import sheet_lists
from platekit.job.options import Options
from platekit.job.pictures import pictures
from platekit.job.prices import read_prices
from platekit.job.progress import Progress, unheard
from platekit.job.recipe import Recipe
from platekit.job.recording import inputs_of, part_record, sheet_record
from platekit.job.shelf import serves, stock_words
from platekit.job.space import RIG, rig_file, scene_for
from platekit.job.stocking import Stocked, StockedSheet, lay_on_stock
from platekit.materials import Beam, Sheet
from platekit.panel.flipping import face_of
from platekit.panel.part import Part
from platekit.showing import Shows
from platekit.version import VERSION
from platekit.views.scene import Scene

BILL = "bill_of_materials.csv"
RECORD = "build.json"
STEPS = "assembly_steps.csv"
# What stock and price list have to say is no check of its own, but bears a name as well.
STOCK, PRICES = "stock", "prices"


@dataclass(frozen=True, kw_only=True)
class Build(Shows):
    """What one run made.

    Attributes:
        recipe: Name of the recipe.
        sheet: The sheet it was made for.
        beam: The beam it was made for.
        parts: Every kind of part.
        sheets: The nested sheets.
        findings: What the checks said, the gravest first.
        files: Every file to write, by its path in the run's folder.
        interrupted: Whether the nesting was stopped from the keyboard, at its best so far.
        hazards: How its bought parts can hurt once it is switched on.
        totals: What it comes to: pieces, sheets, cuts, prices; None until it is recorded.
        cut_anyway: Whether the user wants cut files whatever a finding says.
        drawn_up: What it was made from, for whoever shows more of it than its files do.
        record: What its record says; None until it is recorded.
        scene: The rig in space; None for a single plate.
    """

    recipe: str
    sheet: Sheet
    beam: Beam
    parts: tuple[Part, ...]
    sheets: tuple[StockedSheet, ...]
    findings: tuple[Finding, ...]
    files: Mapping[str, str | bytes]
    interrupted: bool = False
    totals: Totals | None = None
    hazards: tuple[Hazard, ...] = ()
    cut_anyway: bool = False
    drawn_up: DrawnUp | None = None
    record: BuildRecord | None = None
    scene: Scene | None = None

    @property
    def title(self) -> str:
        """What the plate or the assembly is called."""
        return self.recipe if self.drawn_up is None else self.drawn_up.given.title

    @property
    def laid(self) -> tuple[LaidSheet, ...]:
        """The nested sheets as files show them."""
        return tuple(
            LaidSheet(
                nested=one.nested,
                kind=one.sheet.name,
                material=one.sheet.material.name,
                thickness_mm=one.sheet.thickness_mm,
                kerf_mm=one.kerf_mm,
            )
            for one in self.sheets
        )

    @property
    def withheld(self) -> bool:
        """Whether a finding says stop and nobody overruled it: there are no cut files then."""
        return not self.cut_anyway and self.stopped

    @property
    def stopped(self) -> bool:
        """Whether a finding says stop."""
        return any(finding.severity is Severity.STOP for finding in self.findings)


def make(recipe: Recipe, options: Options, *, progress: Progress = unheard) -> Build:
    """Return what `recipe` comes out as; nothing is written.

    A finding that says stop withholds the cut files, parts and sheets, unless the options say to
    cut anyway. The bill and the record are there all the same.

    Raises:
        PlatekitError: The recipe, an option, a part or the stock is at fault; the message names
            it.
    """
    prices = None if options.prices is None else read_prices(options.prices)
    drawn_up = draw_up(recipe, options, progress=progress)
    sheet, beam = drawn_up.sheet, drawn_up.beam
    given, proof, parts, cut = drawn_up.given, drawn_up.proof, drawn_up.parts, drawn_up.cut
    stocked = lay_on_stock(cut, options=options, progress=progress)
    progress("drawing the cut files")
    on_parts = part_drawings(cut, names=options.names)
    bill = bill_of(parts, stocked.sheets, given.items, prices=prices)
    findings = ordered(
        drawn_up.found,
        *(double_cuts(drawing) for drawing in on_parts.values()),
        from_check(STOCK, stocked.findings),
        from_check(PRICES, [] if prices is None else price_findings(bill, prices)),
        skipped=drawn_up.report.skipped,
    )
    build = Build(
        recipe=recipe.name,
        sheet=sheet,
        beam=beam,
        parts=parts,
        sheets=stocked.sheets,
        findings=findings,
        files={},
        interrupted=stocked.interrupted,
        hazards=given.hazards,
        cut_anyway=options.cut_anyway,
        drawn_up=drawn_up,
        scene=scene_for(given, proof),
    )
    files: dict[str, str | bytes] = {}
    if not build.withheld:
        faces = [face_of(part) for part in parts]
        paths = {one.part.name: one.path for one in cut}
        on_sheets = sheet_drawings(build.laid, faces=faces, paths=paths, names=options.names)
        files |= drawn({**on_parts, **on_sheets}, dxf=options.dxf)
        files |= pictures(
            given.title, sheets=build.laid, faces=faces, parts=parts, scene=build.scene
        )
        files |= sheet_lists(build.laid, stocked.shelf)
        if options.glb and build.scene is not None:
            files[RIG] = rig_file(given, build.scene)
    together = assembly_record(given, proof)
    if together is not None and len(together.steps) > 1:
        files[STEPS] = steps_csv(together)
    files[BILL] = bill_csv(bill)
    record = BuildRecord(
        platekit=VERSION,
        recipe=recipe.name,
        inputs=inputs_of(drawn_up, options, nesting=_nesting(options, stocked)),
        parts=tuple(map(part_record, cut)),
        sheets=tuple(map(sheet_record, stocked.sheets)),
        bill_of_materials=bill,
        findings=findings,
        checks=checks_record(drawn_up.report),
        assembly=together,
        files=file_records(files),
    )
    files[RECORD] = build_json(record)
    return replace(build, files=files, totals=record.totals, record=record)


def _nesting(options: Options, stocked: Stocked) -> dict[str, object]:
    spacing = options.spacing
    return {
        "stock": {kind.name: _stock_words(stocked, kind) for kind in stocked.kinds},
        "gap_mm": spacing.gap_mm,
        "margin_mm": spacing.margin_mm,
        "seconds": spacing.seconds,
        "seed": spacing.seed,
    }


def _stock_words(stocked: Stocked, kind: Sheet) -> list[str]:
    stock = stocked.shelf.stock
    rack = stock if isinstance(stock, list) else [stock]
    return [stock_words(one) for one in rack if serves(one, kind)]
