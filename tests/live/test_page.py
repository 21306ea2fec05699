"""The live page in a browser of its own kind: Chromium, driven by playwright."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.live.conftest import HEAD, HOLES, showing

BROWSER = Path("/usr/bin/chromium")
pytestmark = pytest.mark.skipif(not BROWSER.exists(), reason=f"there is no {BROWSER}")

# A case of two plates: something to see in space.
CASE = """
def base(
    sheet: Sheet = birch_plywood(6.0), *, width_mm: float = 120.0, apart_mm: float = 30.0,
    lid: bool = False,
) -> Assembly:
    \"\"\"A floor and a wall.

    Args:
        sheet: What it is cut from.
        width_mm: Overall.
        apart_mm: From hole to hole.
        lid: Whether it has one.
    \"\"\"
    floor = Plate("floor", sheet, rectangle(width_mm, 80.0)).with_features(
        hole(6.0, at=(30.0, 40.0), name="left"),
        hole(6.0, at=(30.0 + apart_mm, 40.0), name="right"),
    )
    wall = Plate("wall", sheet, rectangle(width_mm, 60.0))
    rig = Assembly("base").with_panels(
        lying(floor, bottom_mm=0), standing(wall, facing="front", front_mm=0, bottom_mm=0)
    )
    if lid:
        top = Plate("lid", sheet, rectangle(width_mm, 80.0))
        rig = rig.with_panels(lying(top, bottom_mm=60.0))
    return rig
"""
PATIENCE_MS = 20_000


@pytest.fixture(scope="module")
def chromium():
    """One browser for all."""
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=str(BROWSER),
            args=["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
        )
        yield browser
        browser.close()


@pytest.fixture(scope="module")
def shown(tmp_path_factory):
    """One server for all that do not end it."""
    with showing(tmp_path_factory.mktemp("page"), CASE) as live:
        yield live


@pytest.fixture
def opened(chromium, shown):
    """The page of the case, drawn up to the end; what its console said is there as well."""
    # Whatever the test before left behind.
    shown.save(CASE)
    shown.wish(values={})
    shown.until(lambda one: not (one["stage"] or one["problem"] or one["old"]))
    page = chromium.new_page(viewport={"width": 1400, "height": 1000})
    page.set_default_timeout(PATIENCE_MS)
    complaints: list[str] = []
    asked: list[str] = []
    page.on("console", lambda said: complaints.append(said.text))
    page.on("pageerror", lambda err: complaints.append(str(err)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto(shown.address)
    settle(page)
    yield shown, page, complaints, asked
    page.close()


def until(page, holds: str) -> None:
    """Wait until an expression holds. The page's policy lets no waiting be put into it."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while not page.evaluate(f"Boolean({holds})"):
        assert time.monotonic() < end, (holds, page.inner_text("#live"))
        page.wait_for_timeout(30)


def shows(page, name: str, text: str) -> None:
    """Wait until the element of that id shows a text."""
    until(page, f"document.getElementById({name!r})?.textContent.includes({text!r})")


def settle(page) -> None:
    """Wait until nothing is under way and all of it is shown."""
    shows(page, "live-line", "up to date")


def picture(page) -> bytes:
    """Return what the canvas shows once it stands still."""
    seen = page.locator("#canvas").screenshot()
    end = time.monotonic() + PATIENCE_MS / 1000
    while True:
        page.wait_for_timeout(60)
        now = page.locator("#canvas").screenshot()
        if now == seen or time.monotonic() > end:
            return now
        seen = now


def another_picture(page, before: bytes) -> None:
    """Wait until the canvas shows something else."""
    end = time.monotonic() + PATIENCE_MS / 1000
    while page.locator("#canvas").screenshot() == before:
        assert time.monotonic() < end, "it is drawn as before"
        page.wait_for_timeout(60)


def test_turning_a_value_changes_the_rig_and_the_findings(opened):
    """Holes of 6 mm, 7 mm apart, leave 1 mm: by hand. Wider is another picture in space."""
    _, page, complaints, asked = opened
    before = picture(page)
    assert "web" not in page.locator("#findings").inner_text()
    page.get_by_label("apart mm", exact=True).fill("7")
    shows(page, "findings", "web between")
    settle(page)
    another_picture(page, before)
    # What the turn did is said below the picture, where one looks.
    shows(page, "live-changes", "web between")
    assert page.locator("#live-changes .live-new").count() >= 1
    shows(page, "live-weakest", "least margin")
    # And beside the finding itself.
    row = page.locator("#findings-list tr", has_text="web between").first
    assert row.locator(".news").inner_text() == "new"

    before = picture(page)
    slider = page.get_by_label("width, slider")
    slider.focus()
    for _ in range(5):
        page.keyboard.press("PageUp")
    assert float(page.get_by_label("width mm (recipe: 120)").input_value()) > 120
    shows(page, "live-same", "width_mm=")
    settle(page)
    another_picture(page, before)
    assert page.evaluate("document.activeElement.id") == "live-width_mm-slide"

    things = page.evaluate("buildPage.state().things")
    page.get_by_label("lid", exact=True).check()
    until(page, f"buildPage.state().things > {things}")
    settle(page)

    page.get_by_role("button", name="As the recipe says").click()
    until(page, f"buildPage.state().things === {things}")
    settle(page)
    assert page.get_by_label("width mm", exact=True).input_value() == "120"
    assert "--set" not in page.locator("#live-same").inner_text()
    assert complaints == []
    assert all(url.startswith(("http://127.0.0.1:", "data:", "blob:")) for url in asked)


def test_a_value_that_cannot_be_is_told_beside_it_and_put_back_alone(opened):
    """Half a figure is not sent; one the recipe cannot take is answered beside its box."""
    live, page, complaints, _ = opened
    before = live.status()["run"]
    width, apart = page.locator("#live-width_mm"), page.locator("#live-apart_mm")
    width.focus()
    page.keyboard.press("End")
    page.keyboard.type("e")  # 120e is no number yet
    assert page.locator("#live-width_mm-fault").inner_text() == "give a number"
    assert width.get_attribute("aria-invalid") == "true"
    page.keyboard.type("0")  # 120e0 is 120
    assert page.locator("#live-width_mm-fault").is_hidden()
    width.fill("1e9")
    shows(page, "live-width_mm-fault", "lengths end at")
    alert = page.get_by_role("alert")
    alert.wait_for()
    assert live.status()["run"] > before
    apart.fill("20")
    page.get_by_role("button", name="put width back").click()
    alert.wait_for(state="hidden")
    settle(page)
    assert (width.input_value(), apart.input_value()) == ("120", "20")
    assert page.locator("#live-width_mm-fault").is_hidden()
    assert page.evaluate("document.activeElement.id") == "live-width_mm"
    page.get_by_role("button", name="As the recipe says").click()
    until(page, "document.getElementById('live-apart_mm').value === '30'")
    settle(page)
    assert complaints == []


def test_a_save_reloads_and_a_mistake_is_shown_over_the_last_good_picture(opened):
    """How the rig is turned and what is selected stay; the mistake says file, line and text."""
    live, page, complaints, _ = opened
    settle(page)
    page.locator("#canvas").focus()
    turn = page.evaluate("buildPage.state().turn")
    page.keyboard.press("ArrowRight")
    until(page, f"buildPage.state().turn !== {turn}")
    page.evaluate("buildPage.select('wall')")
    until(page, "buildPage.state().selected === 'wall'")
    turn = page.evaluate("buildPage.state().turn")
    step = page.locator("#lists [data-step='2']")
    step.focus()
    live.save(CASE.replace("rectangle(width_mm, 60.0)", "rectangle(width_mm, 75.0)"))
    shows(page, "parts", "75")
    settle(page)
    assert page.evaluate("document.activeElement.dataset.step") == "2"
    state = page.evaluate("buildPage.state()")
    assert (state["turn"], state["selected"]) == (turn, "wall")

    live.save(CASE.replace("rectangle(width_mm, 60.0)", "rectangle(width_mm, <b>)"))
    alert = page.get_by_role("alert")
    alert.wait_for()
    said = alert.inner_text()
    line = (
        (HEAD + CASE)
        .splitlines()
        .index('    wall = Plate("wall", sheet, rectangle(width_mm, 60.0))')
    )
    assert f"base.py, line {line + 1}" in said
    assert "does not parse" in said
    assert "rectangle(width_mm, <b>)" in said
    # The lines about it are there, and a pointer below the sign that does not parse.
    assert "lying(floor, bottom_mm=0)" in said
    pointed = alert.locator("mark")
    assert pointed.count() == 1
    assert pointed.inner_text().startswith("<")
    assert "What you see is the last that went well." in said
    assert "75" in page.locator("#parts").inner_text()
    assert page.title().startswith("(!)")
    assert alert.locator("b").count() == 0

    live.save(CASE)
    alert.wait_for(state="hidden")
    settle(page)
    assert complaints == []


def test_two_pages_agree_on_a_phone_too(opened, chromium):
    """What one turns the other shows; a narrow page has no need to be pushed sideways."""
    live, page, _, _ = opened
    other = chromium.new_page(viewport={"width": 390, "height": 844})
    other.set_default_timeout(PATIENCE_MS)
    other.goto(live.address)
    settle(other)
    assert other.evaluate("document.documentElement.scrollWidth <= innerWidth")
    other.get_by_text("Turn its values").click()
    other.get_by_label("apart mm", exact=True).fill("25")
    until(page, "document.getElementById('live-apart_mm').value === '25'")
    settle(page)
    other.get_by_role("button", name="As the recipe says").click()
    shows_value = "document.getElementById('live-apart_mm').value === '30'"
    until(page, shows_value)
    other.close()


def test_the_page_notices_the_end(chromium, live):
    """When the server has ended the page says so, and what to do; the picture stays."""
    ended = live(HOLES)
    page = chromium.new_page()
    page.goto(ended.address)
    settle(page)
    assert ended.end() == 0
    shows(page, "live-line", "platekit show starts it again")
    shows(page, "parts", "base")
    page.close()


def test_a_server_started_again_is_found_and_goes_on_where_the_page_stood(chromium, tmp_path):
    """The same recipe has the same address; what was turned is wished for again."""
    page = chromium.new_page()
    page.set_default_timeout(PATIENCE_MS)
    with showing(tmp_path, CASE) as live:
        address = live.address
        page.goto(address)
        settle(page)
        page.get_by_label("apart mm", exact=True).fill("25")
        shows(page, "live-same", "apart_mm=25")
        settle(page)
        assert live.end() == 0
        shows(page, "live-line", "has ended")
    with showing(tmp_path, CASE) as live:
        assert live.address == address
        live.until(lambda one: one["run"] > 1 and not one["stage"])
        shows(page, "live-line", "up to date")
        assert page.locator("#live-apart_mm").input_value() == "25"
        assert live.get("controls")["wish"]["values"] == {"apart_mm": "25"}
    page.close()


def test_steps_stay_while_they_are_proved_anew(opened):
    """A list that comes and goes cannot be read: the old one says that it is being proved."""
    live, page, _, _ = opened
    page.evaluate(
        """() => {
            window.seen = [];
            const count = () => document.querySelectorAll("#steps li").length;
            new MutationObserver(() => window.seen.push(count())).observe(
                document.getElementById("lists"), { childList: true });
        }"""
    )
    count = page.locator("#steps li").count()
    assert count >= 2
    live.save(CASE.replace("rectangle(width_mm, 60.0)", "rectangle(width_mm, 66.0)"))
    shows(page, "parts", "66")
    settle(page)
    assert set(page.evaluate("window.seen")) == {count}
    live.save(CASE)
    shows(page, "parts", "60")
    settle(page)


def test_no_other_page_reads_or_turns_it(opened, chromium):
    """A page of another origin in the same browser: its requests come to nothing."""
    live, _, _, _ = opened
    before = live.status()["run"]
    far = chromium.new_page()
    far.goto("data:text/html,<title>far</title>")
    said = far.evaluate(
        """async (address) => {
            const tried = [];
            const json = {"Content-Type": "application/json"};
            for (const [path, how] of [["content", {}], ["wish", {method: "POST", body: "{}"}],
                ["wish", {method: "POST", body: "{}", headers: json}]])
                tried.push(await fetch(address + path, how).then(() => "read", () => "refused"));
            return tried;
        }""",
        live.address,
    )
    assert said == ["refused"] * 3
    assert live.status()["run"] == before
    far.close()


def test_after_a_sleep_the_page_asks_anew(chromium, shown):
    """A line dead through a sleep says nothing at all: after so much silence there is another."""
    page = chromium.new_page()
    page.set_default_timeout(PATIENCE_MS)
    lines: list[str] = []
    page.on("request", lambda asked: lines.append(asked.url))
    page.clock.install()
    page.goto(shown.address)
    settle(page)
    assert sum(url.endswith("/events") for url in lines) == 1
    # The computer's clock goes on while nothing runs.
    page.clock.fast_forward(40_000)
    end = time.monotonic() + PATIENCE_MS / 1000
    while sum(url.endswith("/events") for url in lines) < 2:
        assert time.monotonic() < end, lines
        page.wait_for_timeout(30)
    shown.save(CASE.replace("rectangle(width_mm, 60.0)", "rectangle(width_mm, 71.0)"))
    shows(page, "parts", "71")
    settle(page)
    shown.save(CASE)
    shows(page, "parts", "60")
    page.close()


def test_what_is_meant_in_a_long_line_is_in_view_on_a_phone(chromium, shown):
    """The lines about a mistake are moved as far as it takes."""
    page = chromium.new_page(viewport={"width": 360, "height": 740})
    page.set_default_timeout(PATIENCE_MS)
    page.goto(shown.address)
    settle(page)
    shown.save(CASE.replace('wall, facing="front"', f"wall, {'  ' * 40}facing=front"))
    mark = page.get_by_role("alert").locator("mark")
    mark.wait_for()
    box = mark.bounding_box()
    assert box is not None
    assert box["x"] >= 0
    assert box["x"] + box["width"] <= 360
    shown.save(CASE)
    settle(page)
    page.close()
