"""One run on one page, and a browser to open it in."""

from __future__ import annotations

import time
from contextlib import contextmanager
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


WIDE, PHONE = {"width": 1400, "height": 900}, {"width": 360, "height": 740}


def until(sheet, says: str, *, seconds: float = 15.0) -> None:
    """Wait until an expression holds; the page itself runs no script made of text."""
    end = time.monotonic() + seconds
    while not sheet.evaluate(says):
        assert time.monotonic() < end, says
        sheet.wait_for_timeout(20)


# Every drawing that came squeezed has been filled in.
FILLED = "[...document.images].every((one) => one.complete && one.naturalWidth > 0)"


@pytest.fixture
def opened(browser, written):
    """Return a way to open the page; in the end nobody complained and nothing was fetched."""
    complaints, wanted, contexts, pages = [], [], [], set()

    @contextmanager
    def go(*, viewport=WIDE, before="", path=written, **options):
        context = browser.new_context(viewport=viewport, **options)
        contexts.append(context)
        sheet = context.new_page()
        sheet.on("console", lambda said: complaints.append(said.text))
        sheet.on("pageerror", lambda err: complaints.append(str(err)))
        sheet.on("request", lambda asked: wanted.append(asked.url))
        if before:
            sheet.add_init_script(before)
        pages.add(path.as_uri())
        sheet.goto(path.as_uri())
        until(sheet, "!buildPage.state().works || buildPage.state().frames > 0")
        yield sheet

    yield go
    for context in contexts:
        context.close()
    assert complaints == []
    assert {url for url in wanted if not url.startswith("data:")} == pages


def state(sheet) -> dict:
    """What the page says is on view."""
    return sheet.evaluate("buildPage.state()")
