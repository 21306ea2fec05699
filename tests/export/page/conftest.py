"""One run on one page, and a browser to open it in."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from platekit.export.page.page import Page
from platekit.findings import Finding, Severity
from platekit.job.drawing_up import ordered
from platekit.job.paging import page_of, page_text
from tests.recipes.builds import build, recipe

CHROMIUM = Path("/usr/bin/chromium")
RIG = "motor_stand"
# What a finding may hold at worst: ends of elements, entities, quotes, signs of other scripts.
HOSTILE = (
    '</script><script>document.title="taken"</script><img src=x onerror=alert(1)> & " \u2028 é'
)


def shown() -> Page:
    """Return what the page of a rig with screws, laminates and bought parts shows."""
    page = page_of(recipe(RIG), build(RIG))
    nasty = Finding(
        severity=Severity.WARNING, part="bed", measure=HOSTILE, remedy=HOSTILE, check="made.webs"
    )
    record = replace(page.record, findings=ordered(page.record.findings, [nasty]))
    return replace(page, record=record)


@pytest.fixture(scope="session")
def page() -> Page:
    """What a page shows."""
    return shown()


@pytest.fixture(scope="session")
def written(page, tmp_path_factory) -> Path:
    """The page as a file."""
    path = tmp_path_factory.mktemp("built") / "page.html"
    path.write_text(page_text(page), encoding="utf-8")
    return path


@pytest.fixture(scope="module")
def browser():
    """A real browser, its graphics reckoned by the processor."""
    driver = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if not CHROMIUM.exists():
        pytest.skip(f"{CHROMIUM} is not there")
    with driver.sync_playwright() as works:
        opened = works.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--no-sandbox"],
        )
        yield opened
        opened.close()
