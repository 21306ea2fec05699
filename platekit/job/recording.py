"""What went into a run, and its parts, as the record has them."""

from __future__ import annotations

from collections.abc import Mapping

from platekit.export.build import BeamInput, Inputs, PartRecord, SheetInput
from platekit.job.beams import CutPart
from platekit.job.drawing_up import DrawnUp
from platekit.job.options import Options
from platekit.job.parameters import plain


def inputs_of(drawn_up: DrawnUp, options: Options, *, nesting: Mapping[str, object]) -> Inputs:
    """Return all that decides what a run writes.

    Args:
        drawn_up: The recipe drawn up.
        options: What the job was given.
        nesting: What steers the nesting.
    """
    sheet, beam = drawn_up.sheet, drawn_up.beam
    return Inputs(
        sheet=SheetInput(
            material=sheet.material.name,
            nominal_mm=sheet.nominal_mm,
            thickness_mm=sheet.thickness_mm,
        ),
        beam=BeamInput(kerf_mm=beam.kerf_mm, source=beam.source),
        parameters={name: plain(value) for name, value in drawn_up.values.items()},
        cutting={"join": options.join, "dxf": options.dxf, "names": options.names},
        nesting=nesting,
    )


def part_record(cut: CutPart) -> PartRecord:
    """Return a kind of part at its finished size."""
    part = cut.part
    return PartRecord(
        name=part.name,
        quantity=part.quantity,
        material=part.sheet.material.name,
        thickness_mm=part.sheet.thickness_mm,
        size_mm=(part.profile.bounds.width_mm, part.profile.bounds.height_mm),
        area_mm2=part.profile.area_mm2,
        cut_length_mm=cut.path.length_mm,
        contours=len(cut.path.rings),
        profile=part.profile,
    )
