"""Two builds laid beside each other: what changed, as a value and as files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest
from pathlib import Path

from platekit.export.build import (
    BuildRecord,
    Inputs,
    SheetInput,
    file_records,
)
from platekit.export.build_assembly import AssemblyRecord
from platekit.export.build_checks import finding_json
from platekit.export.picture_compare import Legend, compared_picture
from platekit.export.plain_json import json_text
from platekit.job.comparing.as_json import assembly_changes_json, bill_change_json, change_json
from platekit.job.comparing.bill import changed_hardware
from platekit.job.comparing.findings import changed_findings
from platekit.job.comparing.joints import changed_joints
from platekit.job.comparing.order import changed_order
from platekit.job.comparing.parts import changed_parts
from platekit.job.comparing.prices import changed_prices
from platekit.job.comparing.screws import changed_screws
from platekit.job.comparing.sheets import changed_sheets
from platekit.job.comparing.values import (
    SAME_MM,
    Change,
    Comparison,
    JointChange,
    OrderChange,
    PartChange,
    ScrewChange,
    Side,
    changes_between,
)
from platekit.version import VERSION

COMPARISON = "compare.json"
PICTURES = "pictures"


def compare(old: BuildRecord, new: BuildRecord, *, labels: tuple[str, str]) -> Comparison:
    """Return what differs between two builds.

    Args:
        old: The one build.
        new: The other.
        labels: What to call them.
    """
    gone, added, changed = changed_parts(old.parts, new.parts)
    joints, screws, order = _assembly(old.assembly, new.assembly)
    no_longer, not_before, otherwise = changed_findings(old.findings, new.findings)
    return Comparison(
        old=Side(label=labels[0], recipe=old.recipe, platekit=old.platekit),
        new=Side(label=labels[1], recipe=new.recipe, platekit=new.platekit),
        inputs=tuple(_inputs(old, new)),
        gone_parts=gone,
        new_parts=added,
        changed_parts=changed,
        joints=joints,
        screws=screws,
        order=order,
        hardware=changed_hardware(old.bill_of_materials, new.bill_of_materials),
        sheets=changed_sheets(old.sheets, new.sheets),
        prices=changed_prices(old.bill_of_materials, new.bill_of_materials),
        gone_findings=no_longer,
        new_findings=not_before,
        changed_findings=otherwise,
    )


def told_apart(old: Path, new: Path) -> tuple[str, str]:
    """Return what to call two builds: of their paths, as much of the end as tells them apart.

    Example:
        >>> told_apart(Path("thick/base"), Path("thin/base/build.json"))
        ('thick/base', 'thin/base')
    """
    ends = []
    for path in (old, new):
        whole = path.absolute()
        parts = (whole.parent if whole.name == "build.json" else whole).parts
        ends.append([part for part in parts if part != whole.anchor])
    for count, (a, b) in enumerate(zip_longest(*map(reversed, ends)), start=1):
        if a != b:
            return _label(ends[0][-count:]), _label(ends[1][-count:])
    return _label(ends[0][-1:]), _label(ends[1][-1:])


def comparison_json(comparison: Comparison) -> dict[str, object]:
    """Return a comparison in plain values, as ``compare.json`` and ``--json`` say it.

    Every change has ``old`` and ``new``, null where there is nothing. The files are not named.
    """
    return {
        "platekit": VERSION,
        "old": _side(comparison.old),
        "new": _side(comparison.new),
        "same": comparison.same,
        "inputs": [change_json(one) for one in comparison.inputs],
        "parts": {
            "gone": comparison.gone_parts,
            "new": comparison.new_parts,
            "changed": [_part(one) for one in comparison.changed_parts],
        },
        **assembly_changes_json(comparison),
        "hardware": [bill_change_json(one) for one in comparison.hardware],
        "sheets": [change_json(one) for one in comparison.sheets],
        "prices": [change_json(one) for one in comparison.prices],
        "findings": {
            "gone": [finding_json(one) for one in comparison.gone_findings],
            "new": [finding_json(one) for one in comparison.new_findings],
            "changed": [
                {"trend": one.trend, "old": finding_json(one.old), "new": finding_json(one.new)}
                for one in comparison.changed_findings
            ],
        },
    }


def comparison_files(comparison: Comparison) -> dict[str, str]:
    """Return the files of a comparison by path: the record, a picture of every changed shape."""
    files = {}
    for part in comparison.changed_parts:
        if part.shape is not None:
            files[picture_of(part)] = compared_picture(
                part.name,
                overlay=part.shape,
                legend=Legend(old=comparison.old.label, new=comparison.new.label),
            )
    said = comparison_json(comparison)
    said["files"] = [{"path": file.path, "sha256": file.sha256} for file in file_records(files)]
    files[COMPARISON] = json_text(said)
    return files


def picture_of(part: PartChange) -> str:
    """Return the path of the picture that shows a part's old and new outline."""
    return f"{PICTURES}/{part.name}.svg"


def _label(parts: Sequence[str]) -> str:
    # A file system may hold names that are no text; a record may not.
    return "/".join(parts).encode("utf-8", "replace").decode() or "/"


def _assembly(
    old: AssemblyRecord | None, new: AssemblyRecord | None
) -> tuple[tuple[JointChange, ...], tuple[ScrewChange, ...], OrderChange]:
    """Return what differs in how both go together; nothing where a record does not say."""
    if old is None or new is None:
        return (), (), OrderChange()
    joints: tuple[JointChange, ...] = ()
    if old.joints is not None and new.joints is not None:
        joints = changed_joints(old.joints, new.joints)
    return (
        joints,
        changed_screws(old.fasteners, new.fasteners),
        changed_order(old.steps, new.steps),
    )


def _inputs(old: BuildRecord, new: BuildRecord) -> Iterator[Change]:
    if old.platekit != new.platekit:
        yield Change(name="version of platekit", old=old.platekit, new=new.platekit)
    was, now = old.inputs, new.inputs
    yield from _sheet(was.sheet, now.sheet)
    if abs(was.beam.kerf_mm - now.beam.kerf_mm) > SAME_MM:
        yield Change(name="kerf", old=was.beam.kerf_mm, new=now.beam.kerf_mm, unit="mm")
    if was.beam.source != now.beam.source:
        yield Change(name="source of the kerf", old=was.beam.source, new=now.beam.source)
    yield from changes_between(was.parameters, now.parameters)
    yield from changes_between(was.cutting, now.cutting)
    yield from changes_between(*_nesting(was, now))


def _sheet(was: SheetInput, now: SheetInput) -> Iterator[Change]:
    if was.material != now.material:
        yield Change(name="material", old=was.material, new=now.material)
    for name, old, new in (
        ("sold as", was.nominal_mm, now.nominal_mm),
        ("measured thickness", was.thickness_mm, now.thickness_mm),
    ):
        if abs(old - new) > SAME_MM:
            yield Change(name=name, old=old, new=new, unit="mm")


def _nesting(was: Inputs, now: Inputs) -> tuple[Mapping[str, object], Mapping[str, object]]:
    """Return what steered the nesting of both.

    Stock is named by the sheet it is for. Where one sheet took the place of another and its stock
    comes in the same sizes, the sheet has been told already.
    """
    old, new = dict(was.nesting), dict(now.nesting)
    stock = old.get("stock"), new.get("stock")
    if all(isinstance(one, Mapping) for one in stock):
        said = [list(one.values()) for one in stock if isinstance(one, Mapping)]
        if said[0] == said[1]:
            old.pop("stock")
            new.pop("stock")
    return old, new


def _side(side: Side) -> dict[str, object]:
    return {"label": side.label, "recipe": side.recipe, "platekit": side.platekit}


def _part(part: PartChange) -> dict[str, object]:
    said: dict[str, object] = {
        "name": part.name,
        "changes": [change_json(one) for one in part.changes],
    }
    if part.shape is not None:
        said["outline"] = {
            "removed_mm2": part.shape.removed_mm2,
            "added_mm2": part.shape.added_mm2,
            "picture": picture_of(part),
        }
    return said
