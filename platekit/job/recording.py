"""What went into a run, its parts and its sheets, as the record has them."""

from __future__ import annotations

from collections.abc import Mapping

from platekit.export.build import (
    BeamInput,
    Inputs,
    PartRecord,
    PlacementRecord,
    SheetInput,
    SheetRecord,
)
from platekit.job.beams import CutPart
from platekit.job.billing import stock_name
from platekit.job.drawing_up import DrawnUp
from platekit.job.options import Options
from platekit.job.parameters import plain
from platekit.job.stocking import StockedSheet
from platekit.nesting import NestedSheet


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


def sheet_record(one: StockedSheet) -> SheetRecord:
    """Return a nested sheet and what lies on it."""
    return SheetRecord(
        size_mm=(one.nested.width_mm, one.nested.height_mm),
        used_length_mm=one.nested.used_length_mm,
        utilisation=one.nested.utilisation,
        placements=tuple(
            PlacementRecord(
                part=placed.part,
                copy=placed.copy,
                x_mm=placed.x_mm,
                y_mm=placed.y_mm,
                rotation_deg=placed.rotation_deg,
                mirrored=placed.mirrored,
            )
            for placed in one.nested.placements
        ),
        stock=stock_name(one),
        material=one.sheet.material.name,
        thickness_mm=one.sheet.thickness_mm,
        offcut_mm=_offcut(one.nested),
    )


def _offcut(nested: NestedSheet) -> tuple[float, float] | None:
    if not nested.offcuts:
        return None
    box = max(nested.offcuts, key=lambda offcut: offcut.area_mm2).bounds
    return box.width_mm, box.height_mm
