"""The page in use, in a real browser: at the bench, by address, saving, finding its parts again."""

from __future__ import annotations

import io
import re
import zipfile
from dataclasses import replace

import pytest

from platekit.findings import Finding, Severity
from platekit.job.drawing_up import ordered
from platekit.job.paging import page_text
from tests.export.page.conftest import FILLED, PHONE, RIG, state, until
from tests.recipes.builds import build

# WCAG 2.2, 2.5.5: a target for a finger is 44 px wide and high; 2.5.8: no target is below 24.
FINGER_PX, LEAST_PX = 44, 24
SMALLEST = {"width": 320, "height": 568}


def bench_words(sheet) -> str:
    """What the step that is on view says of itself."""
    return sheet.locator("#step-says").text_content()


@pytest.mark.parametrize(
    "viewport",
    [SMALLEST, {"width": 740, "height": 360}],
    ids=["a small phone", "a phone lying"],
)
def test_at_the_bench_one_step_fills_the_screen(opened, page, written, viewport):
    """Large buttons, nothing else in reach, nothing cut off; Escape gives the page back."""
    with opened(viewport=viewport, reduced_motion="reduce", has_touch=True) as sheet:
        enter = sheet.get_by_role("button", name="Large steps, one at a time", exact=True)
        enter.click()
        steps = len(page.scene.steps)
        assert state(sheet)["bench"]
        assert bench_words(sheet).startswith(f"Step 1 of {steps}: ")
        after = sheet.get_by_role("button", name="next step")
        assert sheet.evaluate("document.activeElement.textContent").startswith("Next")
        for name in ("step before", "leave the large steps", "next step"):
            box = sheet.get_by_role("button", name=name).bounding_box()
            assert min(box["width"], box["height"]) >= FINGER_PX, name
            assert box["x"] >= 0
            assert box["y"] + box["height"] <= viewport["height"]
            assert box["x"] + box["width"] <= viewport["width"]
        canvas = sheet.locator("#canvas").bounding_box()
        assert canvas["height"] > viewport["height"] / 4
        after.click()
        sheet.keyboard.press("PageDown")
        assert state(sheet)["step"] == 3
        until(sheet, "document.querySelector('#bench-drawing img').naturalWidth > 0")
        assert sheet.locator("#bench-words").text_content() != ""
        sheet.keyboard.press("PageUp")
        assert state(sheet)["step"] == 2
        # Everything that can be reached by Tab lies in the rig.
        for _ in range(8):
            sheet.keyboard.press("Tab")
            inside = "document.activeElement === document.body || document.activeElement.closest"
            assert sheet.evaluate(f"!!({inside}('#rig'))")
        sheet.keyboard.press("Escape")
        assert not state(sheet)["bench"]
        assert sheet.evaluate("document.querySelectorAll('[inert]').length") == 0
        assert sheet.evaluate("document.activeElement.textContent") == enter.text_content()
        # Whoever comes back goes on where they stopped.
        sheet.goto("about:blank")
        sheet.goto(written.as_uri())
        enter.click()
        assert bench_words(sheet).startswith(f"Step 2 of {steps}: ")


def test_without_webgl_the_bench_shows_the_drawing(opened):
    """A step is drawn and told all the same, and goes on."""
    none = "HTMLCanvasElement.prototype.getContext = () => null;"
    with opened(before=none) as sheet:
        sheet.get_by_role("button", name="Large steps, one at a time", exact=True).click()
        sheet.get_by_role("button", name="next step").click()
        until(sheet, "document.querySelector('#bench-drawing img:last-child')?.naturalWidth > 0")
        assert sheet.locator("#bench-drawing img").last.is_visible()
        assert bench_words(sheet).startswith("Step 2 of ")


def test_what_is_selected_stands_out_everywhere_and_in_the_address(opened, page):
    """From a sheet to the rig, its card, the part's own card and back; an address leads there."""
    with opened(reduced_motion="reduce") as sheet:
        listed = sheet.locator("#sheets figcaption button").first
        listed.click()
        number, _, name = listed.text_content().partition(" ")
        part = page.parts[int(number) - 1]
        assert part.name == name
        chosen = state(sheet)["selected"]
        held = next(one for one in page.scene.things if one.name == chosen)
        assert part.name in {page.kinds.get(plate, plate) for plate in held.plates}
        # As many pieces stand out as are cut of that part, each with its card.
        parts = [page.kinds.get(plate, plate) for plate in held.plates]
        pieces = sum(one.quantity for one in page.record.parts if one.name in parts)
        assert sheet.locator("#sheets .lying.chosen").count() == pieces
        assert sheet.locator("#parts li.chosen").count() == len(set(parts))
        assert listed.get_attribute("aria-pressed") == "true"
        address = sheet.url
        assert "#part-" in address
        listed.click()
        assert state(sheet)["selected"] is None
        assert sheet.locator(".chosen").count() == 0
        assert "#" not in sheet.url
        sheet.goto(f"{sheet.url}#step-3")
        until(sheet, "buildPage.state().step === 3")
        sheet.get_by_role("button", name="next step").click()
        assert sheet.url.endswith("#step-4")
        sheet.goto("about:blank")
        sheet.goto(address)
        assert state(sheet)["selected"] == chosen


def test_what_is_pressed_stays_readable_below_the_mouse(opened):
    """WCAG 2.2, 1.4.3: text is 4.5 times its ground, here where one has just clicked."""
    with opened(reduced_motion="reduce") as sheet:
        number = sheet.get_by_role("button", name="show step 2", exact=True)
        number.click()
        assert number.get_attribute("aria-pressed") == "true"
        number.hover()  # the page has scrolled to the rig
        assert number.evaluate("(one) => one.matches(':hover')")
        ink, ground = number.evaluate(
            "(one) => { const style = getComputedStyle(one);"
            " return [style.color, style.backgroundColor]; }"
        )
        assert _contrast(ink, ground) >= 4.5


def _contrast(*colours: str) -> float:
    """Contrast of two colours of CSS, by the formula of WCAG 2.2 (relative luminance)."""
    lights = []
    for colour in colours:
        shares = [int(one) / 255 for one in re.findall(r"\d+", colour)[:3]]
        linear = [x / 12.92 if x <= 0.04045 else ((x + 0.055) / 1.055) ** 2.4 for x in shares]
        lights.append(0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2])
    return (max(lights) + 0.05) / (min(lights) + 0.05)


def test_a_finger_that_scrolls_the_page_leaves_the_rig_as_it_was(opened):
    """Down over the rig it scrolls; begun sideways it turns, and then up and down as well."""
    with opened(viewport=PHONE, has_touch=True, is_mobile=True) as sheet:
        fingers = sheet.context.new_cdp_session(sheet)
        box = sheet.locator("#canvas").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

        def drag(*way: tuple[float, float]) -> tuple[float, float]:
            touch = "Input.dispatchTouchEvent"
            fingers.send(touch, {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
            for dx, dy in way:
                spot = {"x": x + dx, "y": y + dy}
                fingers.send(touch, {"type": "touchMove", "touchPoints": [spot]})
                sheet.wait_for_timeout(16)
            fingers.send(touch, {"type": "touchEnd", "touchPoints": []})
            sheet.wait_for_timeout(50)
            now = state(sheet)
            return now["turn"], now["rise"]

        turn, rise = state(sheet)["turn"], state(sheet)["rise"]
        sideways = [(10.0 * k, 0.0) for k in range(1, 5)]
        turned, risen = drag(*sideways, *((40.0, 10.0 * k) for k in range(1, 5)))
        assert turned < turn - 10
        assert risen > rise + 10
        assert drag(*((0.0, -10.0 * k) for k in range(1, 9))) == (turned, risen)
        until(sheet, "scrollY > 20")


def test_a_stop_leads_to_what_it_says(opened, page, tmp_path):
    """How many there are, and the way there."""
    graver = Finding(
        severity=Severity.STOP, part="bed", measure="thin", remedy="none", check="made.webs"
    )
    record = replace(page.record, findings=ordered(page.record.findings, [graver]))
    path = tmp_path / "stopped.html"
    path.write_text(page_text(replace(page, record=record)), encoding="utf-8")
    with opened(path=path) as sheet:
        told = sheet.locator("#stopped")
        assert "1 finding" in told.text_content()
        told.get_by_role("link").click()
        until(sheet, "document.getElementById('findings').getBoundingClientRect().top < 100")


def test_plates_are_seen_through_or_away(opened, page):
    """What is away is not there to click; what is hidden one by one comes back at one press."""
    with opened(reduced_motion="reduce") as sheet:
        plates = sum(bool(one.plates) for one in page.scene.things)
        things = len(page.scene.things)
        sheet.get_by_label("Plates").select_option("hidden")
        assert state(sheet)["seen"] == things - plates
        sheet.get_by_label("Plates").select_option("see-through")
        assert state(sheet)["seen"] == things
        # A grid over the canvas: only what is bought is ever hit.
        box = sheet.locator("#canvas").bounding_box()
        hit = set()
        for x in range(20, int(box["width"]), 40):
            for y in range(20, int(box["height"]), 40):
                hit.add(sheet.evaluate("([x, y]) => buildPage.view.pickAt(x, y)", [x, y]))
        assert len(hit - {None}) >= 2
        assert hit - {None} <= {one.name for one in page.scene.things if not one.plates}
        sheet.get_by_label("Plates").select_option("solid")
        sheet.evaluate("buildPage.select(buildPage.view.things[0].name)")
        closer = sheet.get_by_role("button", name="Come closer")
        closer.click()
        assert closer.get_attribute("aria-pressed") == "true"
        sheet.get_by_role("button", name="Hide", exact=True).click()
        assert state(sheet)["seen"] == things - 1
        assert sheet.evaluate("document.activeElement.id") == "canvas"
        sheet.get_by_role("button", name="Show all (1 hidden)").click()
        assert state(sheet)["seen"] == things


def test_cut_files_are_saved_from_the_page_alone(opened, page):
    """Python's own reader of ZIP finds no fault; each file is byte for byte that of the run."""
    files = build(RIG).files
    part = page.parts[0].name
    with opened() as sheet:
        with sheet.expect_download() as saved:
            sheet.get_by_role("button", name=f"Save DXF of {part}", exact=True).click()
        assert saved.value.suggested_filename == f"{part}.dxf"
        assert saved.value.path().read_bytes().decode() == files[f"parts/{part}.dxf"]
        with sheet.expect_download() as saved:
            sheet.get_by_role("button", name=re.compile(r"^Save all \d+ as one ZIP$")).click()
        raw = saved.value.path().read_bytes()
        with sheet.expect_download() as saved:
            sheet.get_by_role("button", name="Save picture").click()
        picture = saved.value.path().read_bytes()
    with zipfile.ZipFile(io.BytesIO(raw)) as archive:
        assert archive.testzip() is None
        told = {one.removeprefix(f"{RIG}/"): archive.read(one) for one in archive.namelist()}
    assert told == {
        path: text.encode() for path, text in files.items() if not path.startswith("pictures/")
    }
    # PNG, ISO/IEC 15948: signature, then the header with width and height.
    assert picture[:8] == b"\x89PNG\r\n\x1a\n"
    assert [int.from_bytes(picture[k : k + 4], "big") for k in (16, 20)] == [2400, 1600]


CONTROLS = """() => [...document.querySelectorAll(
    "a[href], button, input, select, summary, [tabindex]")]
  .filter((one) => one.checkVisibility() && !one.disabled)
  .map((one) => {
    const box = one.getBoundingClientRect();
    const label = one.labels && one.labels.length ? one.labels[0].textContent : "";
    const name = one.getAttribute("aria-label") || label || one.textContent || one.title;
    const inText = one.matches("a, .name, input[type=checkbox]");
    return { name: name.trim(), tab: one.tabIndex, is: one.outerHTML.slice(0, 90),
             size: Math.min(box.width, box.height), inText };
  })"""


def test_every_control_has_a_name_and_room_for_a_finger(opened):
    """WCAG 2.2: 4.1.2 names, 2.4.3 no order of their own, 2.5.8 size, 1.4.10 at 320 px."""
    with opened(viewport=SMALLEST, has_touch=True, is_mobile=True) as sheet:
        sheet.evaluate("buildPage.select(buildPage.view.things[0].name)")
        sheet.evaluate(
            "document.querySelectorAll('details').forEach((one) => { one.open = true; })"
        )
        controls = sheet.evaluate(CONTROLS)
        assert len(controls) > 60
        for one in controls:
            assert one["name"], one["is"]
            assert one["tab"] <= 0, one["is"]
            assert one["inText"] or one["size"] >= LEAST_PX, one["is"]
        assert sheet.evaluate("document.documentElement.scrollWidth") <= SMALLEST["width"]
        ids = sheet.evaluate("[...document.querySelectorAll('[id]')].map((one) => one.id)")
        assert len(ids) == len(set(ids))
        until(sheet, FILLED)
        assert sheet.evaluate("[...document.images].every((one) => one.alt.trim() !== '')")


def test_findings_have_the_whole_width_of_a_phone(opened):
    """What a finding says stands below how grave it is, and is a table still to a screen reader."""
    with opened(viewport=SMALLEST, has_touch=True, is_mobile=True) as sheet:
        table = sheet.get_by_role("table", name="Worst first")
        row = table.get_by_role("row").last
        grave, what = row.get_by_role("rowheader"), row.get_by_role("cell").last
        above, below = grave.bounding_box(), what.bounding_box()
        assert above["y"] + above["height"] <= below["y"] + 1
        assert below["width"] > 0.85 * SMALLEST["width"]
        assert table.get_by_role("columnheader").count() == 3


def test_pieces_on_no_sheet_are_named_below_the_sheets(opened, page):
    """Of a sheet that is taken away, every piece is told, and no other."""
    gone, *rest = page.sheets
    with opened() as sheet:
        assert sheet.locator("#unlaid").count() == 0
        sheet.evaluate(
            "() => { const all = JSON.parse(document.getElementById('content').textContent);"
            " buildPage.show({ ...all, sheets: all.sheets.slice(1) }); }"
        )
        told = sheet.locator("#unlaid").text_content().partition(": ")[2].split(", ")
        kept = {placed.part for one in rest for placed in one.nested.placements}
        assert set(told) == {placed.part for placed in gone.nested.placements}
        assert not kept & set(told)


def test_a_dark_page_has_dark_drawings(opened):
    """The same drawing, as the browser paints it: pale lines where the page is dark, and back."""
    lightness = {}
    with opened(color_scheme="dark", viewport={"width": 500, "height": 700}) as sheet:
        until(sheet, FILLED)
        for theme in ("dark", "light"):
            sheet.get_by_label("Colours").select_option(theme)
            shot = sheet.locator("#steps img").first.screenshot(type="png")
            lightness[theme] = _mean(shot)
    assert lightness["dark"] < 110
    assert lightness["light"] > 180


def _mean(png: bytes) -> float:
    """Mean of all channels of a picture, by Pillow."""
    image = pytest.importorskip("PIL.Image").open(io.BytesIO(png)).convert("L")
    histogram = image.histogram()
    return sum(k * count for k, count in enumerate(histogram)) / sum(histogram)
