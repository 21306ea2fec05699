"""Parts, sheets, findings and inputs, as the page is given them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from platekit.checks.check import FAMILIES
from platekit.export.build import PartRecord, PlacementRecord
from platekit.export.build_checks import finding_json
from platekit.export.figures import format_mm
from platekit.export.money import price_text
from platekit.export.page.number_spots import Spot, number_spots
from platekit.export.page.page import Page
from platekit.export.page.rig import things_of_parts
from platekit.export.pathdata import path_data
from platekit.export.picture_ground import shape_of
from platekit.findings import Finding, Severity, figures_of
from platekit.geometry.chains import Chain
from platekit.panel.part import Part

# A hundredth of a millimetre is finer than any screen shows.
DECIMALS = 2
# What is found without a check of its own is filed under this word.
OTHER = "other"


def parts_json(page: Page) -> list[dict[str, object]]:
    """Return every kind of part with its outline."""
    known = {one.name: one for one in page.record.parts}
    held = things_of_parts(page)
    return [_part(part, known[part.name], held.get(part.name, [])) for part in page.parts]


def _part(part: Part, record: PartRecord, things: list[int]) -> dict[str, object]:
    box = part.profile.bounds
    return {
        "name": part.name,
        "quantity": record.quantity,
        "material": record.material,
        "thickness_mm": record.thickness_mm,
        "size_mm": list(record.size_mm),
        "area_mm2": record.area_mm2,
        "cut_length_mm": record.cut_length_mm,
        "box": [box.left, box.bottom, box.width_mm, box.height_mm],
        "outline": [path_data(ring, decimals=DECIMALS) for ring in part.profile.rings],
        "marks": [
            {
                "layer": layer,
                "d": _words(mark.path for mark in part.marks if mark.layer == layer),
            }
            for layer in dict.fromkeys(mark.layer for mark in part.marks)
        ],
        "things": things,
    }


def sheets_json(page: Page) -> list[dict[str, object]]:
    """Return every nested sheet with what lies on it."""
    places = {part.name: number for number, part in enumerate(page.parts)}
    said: list[dict[str, object]] = []
    for number, (one, record) in enumerate(zip(page.sheets, page.record.sheets, strict=True), 1):
        shape = shape_of(one.nested)
        said.append(
            {
                "number": number,
                "name": one.kind,
                "stock": record.stock,
                "size_mm": list(record.size_mm),
                "utilisation": record.utilisation,
                "used_length_mm": record.used_length_mm,
                "offcut_mm": None if record.offcut_mm is None else list(record.offcut_mm),
                "outline": None if shape is None else _words(shape.rings),
                "free": [_words(offcut.rings) for offcut in one.nested.offcuts],
                "pieces": [
                    _piece(placed, places[placed.part], label)
                    for placed, label in zip(
                        record.placements, number_spots(one.nested, page.parts), strict=True
                    )
                ],
            }
        )
    return said


def _words(chains: Iterable[Chain]) -> str:
    return " ".join(path_data(chain, decimals=DECIMALS) for chain in chains)


def _piece(placed: PlacementRecord, part: int, label: Spot) -> dict[str, object]:
    return {
        "part": part,
        "copy": placed.copy,
        "x": placed.x_mm,
        "y": placed.y_mm,
        "turn_deg": placed.rotation_deg,
        "mirrored": placed.mirrored,
        "label": [round(label.x, DECIMALS), round(label.y, DECIMALS), round(label.high, DECIMALS)],
    }


def findings_json(page: Page) -> list[dict[str, object]]:
    """Return all findings, worst first; what passed comes last, the least margin first."""
    checks = page.record.checks
    passed = () if checks is None else checks.passed
    by_margin = sorted(passed, key=lambda one: float("inf") if one.margin is None else one.margin)
    return [_finding(one) for one in (*page.record.findings, *by_margin)]


def _finding(finding: Finding) -> dict[str, object]:
    family = finding.check.partition(".")[0]
    return {
        **finding_json(finding),
        "figures": figures_of(finding),
        "family": family if family in FAMILIES else OTHER,
        "check": finding.check,
    }


def figures_json(page: Page) -> list[tuple[str, str]]:
    """Return the few figures that stand at the head of the page."""
    record, totals = page.record, page.record.totals
    said = [("pieces", _pieces(totals.pieces, totals.kinds))]
    if page.sheets:
        said.append(("sheets", f"{totals.sheet_count}, {totals.sheet_area_mm2 / 1e6:.2f} m\u00b2"))
    said.append(("cut", f"{totals.cut_length_mm / 1000:.1f} m"))
    if totals.bought:
        said.append(("to buy", f"{totals.bought} {_plural('piece', totals.bought)}"))
    if record.assembly is not None and len(record.assembly.steps) > 1:
        said.append(("steps", str(len(record.assembly.steps))))
    if totals.prices is not None:
        said.append(("price", price_text(totals.prices.rig)))
    worst = max((one.severity for one in record.findings), default=Severity.PASSED)
    count = sum(one.severity is worst for one in record.findings)
    if worst is not Severity.PASSED:
        said.append(("findings", f"{count} {_plural(worst.name.lower(), count)}"))
    return said


def _pieces(pieces: int, kinds: int) -> str:
    if kinds == 1:
        return str(pieces) if pieces == 1 else f"{pieces}, all alike"
    return f"{pieces}, all different" if kinds == pieces else f"{pieces} of {kinds} kinds"


def _plural(word: str, count: int) -> str:
    return word if count == 1 else f"{word}s"


def inputs_json(page: Page) -> list[dict[str, object]]:
    """Return all that decided what came out, in groups of lines."""
    inputs = page.record.inputs
    sheet, beam = inputs.sheet, inputs.beam
    groups: list[tuple[str, list[tuple[str, str]]]] = [
        (
            "Sheet",
            [
                ("material", sheet.material),
                ("nominal thickness", f"{format_mm(sheet.nominal_mm)} mm"),
                ("measured thickness", f"{format_mm(sheet.thickness_mm)} mm"),
            ],
        ),
        ("Beam", [("kerf", f"{format_mm(beam.kerf_mm)} mm"), ("known from", beam.source)]),
        ("The recipe's own", _rows(inputs.parameters, page.helps)),
        ("Cutting", _rows(inputs.cutting)),
        ("Nesting", _rows(inputs.nesting)),
    ]
    return [
        {"title": title, "rows": [row for row in rows if row[1]]}
        for title, rows in groups
        if any(text for _, text in rows)
    ]


def _rows(
    values: Mapping[str, object], helps: Mapping[str, str] | None = None
) -> list[tuple[str, str]]:
    rows = []
    for name, value in values.items():
        told = (helps or {}).get(name, "").rstrip(".")
        rows.append((name, f"{_value(value)} ({told})" if told else _value(value)))
    return rows


def _value(value: object) -> str:
    """Return a plain value in words."""
    if value is None:
        return "none"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, Mapping):
        return "; ".join(f"{name}: {_value(one)}" for name, one in value.items())
    if isinstance(value, list | tuple):
        return ", ".join(map(_value, value))
    return str(value)
