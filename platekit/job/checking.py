"""Checking: what ``platekit check`` writes down, and where.

A run of ``make`` may have left its record and its cut files. The findings of a check go into that
record where it is of the same job; a record of another job is left as it is, since it names the
cut files that lie beside it.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from platekit.errors import NestingError
from platekit.export.build import BuildRecord, build_json
from platekit.export.build_checks import checks_record, finding_json
from platekit.export.plain_json import json_text
from platekit.findings import Finding
from platekit.job.assembling import assembly_record
from platekit.job.billing import bill_of
from platekit.job.drawing_up import DrawnUp, ordered
from platekit.job.options import Options
from platekit.job.recipe import Recipe
from platekit.job.recording import inputs_of, part_record
from platekit.job.records.reading import read_record
from platekit.job.run import PRICES, RECORD, STOCK
from platekit.version import VERSION

# What must be the same for two records to be of one job; what `make` adds to it is its own.
_JOB = ("platekit", "recipe", "parts")
_INPUTS = ("sheet", "beam", "parameters")
# What only a run of `make` can say: kept when the findings of its job are said anew.
_MADE = (STOCK, PRICES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Noted:
    """What a check comes to on disk.

    Attributes:
        path: Where the record lies.
        text: What to write there; None where a record of another job is left alone.
        findings: All that is worth a look, that of the stock from an earlier `make` included.
    """

    path: Path
    text: str | None
    findings: tuple[Finding, ...]


def noted(recipe: Recipe, options: Options, drawn_up: DrawnUp, *, here: Path) -> Noted:
    """Return what the record of a recipe's folder is to say after a check; nothing is written.

    Args:
        recipe: The recipe.
        options: What the job was given.
        drawn_up: The recipe drawn up.
        here: The folder that `options` are meant from.
    """
    told = options.out / recipe.name / RECORD
    path = here / told
    record = BuildRecord(
        platekit=VERSION,
        recipe=recipe.name,
        inputs=inputs_of(drawn_up, options, nesting={}),
        parts=tuple(map(part_record, drawn_up.cut)),
        bill_of_materials=bill_of(drawn_up.parts, (), drawn_up.given.items, prices=None),
        findings=drawn_up.findings,
        checks=checks_record(drawn_up.report),
        assembly=assembly_record(drawn_up.given, drawn_up.proof),
    )
    fresh = build_json(record)
    if not path.exists():
        return Noted(path=told, text=fresh, findings=record.findings)
    new, old = json.loads(fresh), _read(path)
    if old is None or "checks" not in old or not _same_job(old, new):
        by_check = old is not None and not old.get("files")
        return Noted(path=told, text=fresh if by_check else None, findings=record.findings)
    kept = [one for one in read_record(path).findings if one.check in _MADE]
    findings = ordered(record.findings, kept)
    said = {"findings": [finding_json(one) for one in findings], "checks": new["checks"]}
    merged = {name: said.get(name, value) for name, value in old.items()}
    return Noted(path=told, text=json_text(merged), findings=findings)


def _read(path: Path) -> Mapping[str, object] | None:
    """Return a record as plain data; None where it is none that could be read back."""
    try:
        read_record(path)
        said: object = json.loads(path.read_text(encoding="utf-8"))
    except (NestingError, OSError, ValueError):
        return None
    return said if isinstance(said, dict) else None


def _same_job(old: Mapping[str, object], new: Mapping[str, object]) -> bool:
    return all(old.get(name) == new.get(name) for name in _JOB) and all(
        _input(old, name) == _input(new, name) for name in _INPUTS
    )


def _input(record: Mapping[str, object], name: str) -> object:
    inputs = record.get("inputs")
    return inputs.get(name) if isinstance(inputs, dict) else None
