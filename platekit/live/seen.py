"""What the live page shows beyond what is drawn up, and how deep it goes."""

from __future__ import annotations

from dataclasses import replace

from platekit.export.build_checks import checks_record
from platekit.export.page.page import Page, PageSheet
from platekit.job.billing import bill_of
from platekit.job.drawing_up import DrawnUp, from_check, ordered
from platekit.job.options import Options
from platekit.job.progress import Progress
from platekit.job.recording import sheet_record
from platekit.job.run import STOCK
from platekit.job.stocking import lay_on_stock

# How deep what is seen goes.
DRAWN, WEIGHED, PROVED, LAID = "drawn", "weighed", "proved", "laid"
# The first layout that comes to mind: sheets are there to be seen, not to be cut.
QUICK_S = 1e-9


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


def with_sheets(page: Page, drawn_up: DrawnUp, options: Options, *, progress: Progress) -> Page:
    """Return a page with its parts laid on sheets, quickly rather than well.

    Raises:
        NestingError: Stock and parts cannot come together.
    """
    quick = replace(options, spacing=replace(options.spacing, seconds=QUICK_S))
    stocked = lay_on_stock(drawn_up.cut, options=quick, progress=progress)
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
