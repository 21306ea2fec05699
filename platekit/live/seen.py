"""What the live page shows beyond what is drawn up, and how deep it goes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from platekit.export.build_checks import checks_record
from platekit.export.page.content import content
from platekit.export.page.page import Page, PageSheet
from platekit.export.plain_json import Json
from platekit.job.billing import bill_of
from platekit.job.drawing_up import DrawnUp, from_check, ordered
from platekit.job.recording import sheet_record
from platekit.job.run import STOCK
from platekit.job.stocking import Stocked

# How deep what is seen goes: first what it looks like, then whether it holds, what it is cut from,
# and last, since that takes longest, whether it goes together and in which order.
DRAWN, WEIGHED, LAID, PROVED = "drawn", "weighed", "laid", "proved"


def with_weights(page: Page, drawn_up: DrawnUp) -> Page:
    """Return the page of a rig that was drawn, with what has been weighed since.

    To show it in space anew would take longer than the weighing, and it looks the same.
    """
    return replace(
        page,
        record=replace(
            page.record, findings=drawn_up.findings, checks=checks_record(drawn_up.report)
        ),
    )


def seen_again(before: Mapping[str, Json], page: Page) -> dict[str, Json]:
    """Return what `content` says of a page, rig and parts taken from what it said before.

    To put a rig into words takes half as long as to weigh it, and they would be the same words.

    Args:
        before: Content of the same rig, its parts and its steps.
        page: The page as it is since.
    """
    # The places of pieces on sheets ask for the parts, nothing else does.
    parts = page.parts if page.sheets else ()
    said = content(replace(page, scene=None, parts=parts))
    return {**said, **{name: before[name] for name in ("rig", "parts", "steps")}}


def with_sheets(page: Page, drawn_up: DrawnUp, stocked: Stocked) -> Page:
    """Return a page with its parts laid on sheets."""
    found = ordered(page.record.findings, from_check(STOCK, stocked.findings))
    return replace(
        page,
        sheets=tuple(PageSheet(kind=one.sheet.name, nested=one.nested) for one in stocked.sheets),
        record=replace(
            page.record,
            sheets=tuple(map(sheet_record, stocked.sheets)),
            bill_of_materials=bill_of(drawn_up.parts, stocked.sheets, drawn_up.given.items),
            findings=found,
        ),
    )
