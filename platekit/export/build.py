"""The record of one run: what went in, what came out. Written as ``build.json``.

No dates and no places: the same inputs give the same bytes on any machine.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, field

from platekit.export.bill import BillLine
from platekit.export.build_assembly import AssemblyRecord, assembly_json
from platekit.export.build_checks import ChecksRecord, checks_json, finding_json
from platekit.export.money import EACH_DECIMALS, rounded_price
from platekit.export.pathdata import path_data
from platekit.export.plain_json import Json, json_text, plain_mapping
from platekit.export.totals import Totals, totals_json, totals_of
from platekit.findings import Finding
from platekit.geometry.profile import Profile

# An outline is to be read back to a nanometre: the middle of an arc moves by four times what its
# ends and its radius are rounded by.
OUTLINE_DECIMALS = 7


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetInput:
    """The sheet a run was made for; thicknesses in mm."""

    material: str
    nominal_mm: float
    thickness_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BeamInput:
    """The beam a run was made for, and where its kerf (mm) comes from."""

    kerf_mm: float
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """All that decides what a run writes.

    Attributes:
        sheet: The sheet.
        beam: The beam.
        parameters: The recipe's own parameters by name: text, numbers, yes or no, lists of these.
        cutting: How cut paths are made and written: join at corners, flavour of the DXF.
        nesting: What steers the nesting: stock, gap, margin, seed...
    """

    sheet: SheetInput
    beam: BeamInput
    parameters: Mapping[str, object] = field(default_factory=dict)
    cutting: Mapping[str, object] = field(default_factory=dict)
    nesting: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class PartRecord:
    """One kind of part, at its finished size.

    Attributes:
        name: Its name, and that of its files.
        quantity: How many are needed.
        material: Sheet material.
        thickness_mm: Measured thickness, mm.
        size_mm: Width and height, mm.
        area_mm2: Area of the material, mm2.
        cut_length_mm: Length of all cuts through the sheet, mm.
        contours: Number of closed cuts, the outside one included.
        profile: Its shape at finished size, without kerf, in its own coordinates.
    """

    name: str
    quantity: int
    material: str
    thickness_mm: float
    size_mm: tuple[float, float]
    area_mm2: float
    cut_length_mm: float
    contours: int
    profile: Profile


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacementRecord:
    """Where one copy of a part lies: mirrored in its own y axis if so, turned, then moved."""

    part: str
    copy: int
    x_mm: float
    y_mm: float
    rotation_deg: float
    mirrored: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetRecord:
    """One nested sheet.

    Attributes:
        size_mm: Width and height, mm.
        used_length_mm: How far the parts reach along x, mm.
        utilisation: Share of the sheet that is parts, 0..1.
        placements: Where the parts lie.
        stock: Name of the stock it was taken from; left out when empty.
        material: What it is; left out when empty.
        thickness_mm: Its measured thickness, mm; left out when None.
        offcut_mm: Width and height of the largest clean offcut, mm; left out when None.
    """

    size_mm: tuple[float, float]
    used_length_mm: float
    utilisation: float
    placements: tuple[PlacementRecord, ...]
    stock: str = ""
    material: str = ""
    thickness_mm: float | None = None
    offcut_mm: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FileRecord:
    """A file written: its path inside the output folder and the SHA-256 of its bytes."""

    path: str
    sha256: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BuildRecord:
    """Everything ``build.json`` says.

    Attributes:
        platekit: Version of platekit.
        recipe: Name of the recipe.
        inputs: What went in.
        parts: Every kind of part.
        sheets: The nested sheets.
        bill_of_materials: The bill.
        findings: What is worth a look, the gravest first.
        checks: What the checks weighed; None where it was not kept.
        assembly: How it goes together; None for a single plate.
        files: The other files of the run.
    """

    platekit: str
    recipe: str
    inputs: Inputs
    parts: tuple[PartRecord, ...] = ()
    sheets: tuple[SheetRecord, ...] = ()
    bill_of_materials: tuple[BillLine, ...] = ()
    findings: tuple[Finding, ...] = ()
    checks: ChecksRecord | None = None
    assembly: AssemblyRecord | None = None
    files: tuple[FileRecord, ...] = ()

    @property
    def totals(self) -> Totals:
        """What parts and bill come to."""
        return totals_of(
            self.parts,
            self.bill_of_materials,
            fasteners=None if self.assembly is None else len(self.assembly.fasteners),
        )


def file_records(files: Mapping[str, str | bytes]) -> tuple[FileRecord, ...]:
    """Return the records of `files` (path to content), sorted by path."""
    return tuple(
        FileRecord(path=path, sha256=hashlib.sha256(as_bytes(files[path])).hexdigest())
        for path in sorted(files)
    )


def as_bytes(content: str | bytes) -> bytes:
    """Return what is written to disk for `content`: text is UTF-8, lines end as they are."""
    return content.encode() if isinstance(content, str) else content


def build_json(record: BuildRecord) -> str:
    """Return `record` as the text of ``build.json``.

    Figures are rounded to a nanometre; one that is not finite becomes null. A part's outline is a
    list of rings, its edge first, each the words of an SVG path, y up: lines and arcs.

    Raises:
        TypeError: A parameter is of a type JSON does not know.
    """
    inputs = record.inputs
    said: dict[str, object] = {
        "platekit": record.platekit,
        "recipe": record.recipe,
        "inputs": {
            "sheet": {
                "material": inputs.sheet.material,
                "nominal_mm": inputs.sheet.nominal_mm,
                "thickness_mm": inputs.sheet.thickness_mm,
            },
            "beam": {"kerf_mm": inputs.beam.kerf_mm, "source": inputs.beam.source},
            "parameters": inputs.parameters,
            "cutting": inputs.cutting,
            "nesting": inputs.nesting,
        },
        "parts": [_part(part) for part in record.parts],
        "sheets": [sheet_json(sheet) for sheet in record.sheets],
        "bill_of_materials": [bill_line_json(line) for line in record.bill_of_materials],
        "totals": totals_json(record.totals),
        "findings": [finding_json(finding) for finding in record.findings],
        **({"checks": checks_json(record.checks)} if record.checks else {}),
        **({"assembly": assembly_json(record.assembly)} if record.assembly else {}),
        "files": [{"path": file.path, "sha256": file.sha256} for file in record.files],
    }
    return json_text(said)


def sheet_json(sheet: SheetRecord) -> dict[str, Json]:
    """Return a nested sheet in the words of ``build.json`` and of ``platekit nest --json``."""
    said: dict[str, object] = {
        "size_mm": sheet.size_mm,
        "used_length_mm": sheet.used_length_mm,
        "utilisation": sheet.utilisation,
    }
    if sheet.stock:
        said["stock"] = sheet.stock
    if sheet.material:
        said["material"] = sheet.material
    if sheet.thickness_mm is not None:
        said["thickness_mm"] = sheet.thickness_mm
    if sheet.offcut_mm is not None:
        said["offcut_mm"] = sheet.offcut_mm
    said["placements"] = [
        {
            "part": placed.part,
            "copy": placed.copy,
            "x_mm": placed.x_mm,
            "y_mm": placed.y_mm,
            "rotation_deg": placed.rotation_deg,
            **({"mirrored": True} if placed.mirrored else {}),
        }
        for placed in sheet.placements
    ]
    return plain_mapping(said)


def _part(part: PartRecord) -> dict[str, object]:
    return {
        "name": part.name,
        "quantity": part.quantity,
        "material": part.material,
        "thickness_mm": part.thickness_mm,
        "size_mm": part.size_mm,
        "area_mm2": part.area_mm2,
        "cut_length_mm": part.cut_length_mm,
        "contours": part.contours,
        "outline": [path_data(ring, decimals=OUTLINE_DECIMALS) for ring in part.profile.rings],
    }


def bill_line_json(line: BillLine) -> dict[str, object]:
    """Return a line of the bill in the words of ``build.json``."""
    said: dict[str, object] = {
        "kind": line.kind.value,
        "name": line.name,
        "quantity": line.quantity,
        "material": line.material,
        "thickness_mm": line.thickness_mm,
        "size_mm": line.size_mm,
        "note": line.note,
    }
    if line.price_each is not None and line.price_total is not None:
        said["price_each"] = float(rounded_price(line.price_each, decimals=EACH_DECIMALS))
        said["price_total"] = float(line.price_total)
    return said
