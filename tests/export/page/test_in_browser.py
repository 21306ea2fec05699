"""The page in a real browser: it draws, turns, comes apart, is worked by keys, and prints."""

from __future__ import annotations

import re
import subprocess
from itertools import pairwise

import pytest

from platekit.job.paging import page_of, page_text
from tests.export.page.conftest import FILLED, HOSTILE, PHONE, RIG, state, until
from tests.recipes.builds import build, recipe


def look(sheet) -> bytes:
    """What the canvas shows, as pixels, once two frames have passed."""
    sheet.evaluate("new Promise(d => requestAnimationFrame(() => requestAnimationFrame(d)))")
    return sheet.locator("#canvas").screenshot()


def test_the_rig_is_drawn_comes_apart_and_is_put_back(opened):
    """The slider changes what is seen; "Reset" brings the first picture back."""
    with opened(reduced_motion="reduce") as sheet:
        assert state(sheet)["there"] == state(sheet)["things"] > 20
        whole = look(sheet)
        sheet.get_by_label("Apart").fill("100")
        assert state(sheet)["apart"] == 1
        assert look(sheet) != whole
        sheet.get_by_label("Seen from").select_option("Top")
        assert state(sheet)["rise"] == 90
        sheet.get_by_role("button", name="Reset").click()
        sheet.mouse.move(0, 0)
        assert look(sheet) == whole


def test_dragging_and_the_wheel(opened):
    """A drag turns and selects nothing; the wheel zooms and does not scroll the page."""
    with opened() as sheet:
        box = sheet.locator("#canvas").bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        sheet.mouse.move(x, y)
        sheet.mouse.down()
        sheet.mouse.move(x + 80, y + 20, steps=4)
        sheet.mouse.up()
        turned = state(sheet)
        assert (turned["turn"], turned["rise"]) == pytest.approx((-85, 45.264))
        assert turned["selected"] is None
        sheet.mouse.wheel(0, -300)
        assert state(sheet)["zoom"] > 1.3
        assert sheet.evaluate("scrollY") == 0


def test_a_click_selects_what_is_seen_there(opened):
    """From above, a middle of the flange's face is the flange: nothing stands over it."""
    with opened(reduced_motion="reduce") as sheet:
        sheet.get_by_label("Seen from").select_option("Right")
        look(sheet)
        names = sheet.evaluate("buildPage.view.things.map((one) => one.name)")
        hub = next(name for name in names if "hub" in name)
        x, y = sheet.evaluate("(name) => buildPage.view.spotOf(name)", hub)
        box = sheet.locator("#canvas").bounding_box()
        # Off its bore, in the ring of its flange.
        picked = sheet.evaluate("([x, y]) => buildPage.view.pickAt(x, y)", [x, y])
        sheet.mouse.click(box["x"] + x, box["y"] + y)
        card = sheet.get_by_role("region", name="What is selected")
        assert state(sheet)["selected"] == picked
        assert picked is not None
        assert card.get_by_role("heading").text_content() == picked
        sheet.mouse.click(box["x"] + 3, box["y"] + 3)
        assert state(sheet)["selected"] is None
        assert card.text_content() == ""


def test_keys_alone_do_all(opened):
    """Arrows turn, signs zoom, Escape lets go; Tab leads to the list of things and on."""
    with opened(reduced_motion="reduce") as sheet:
        canvas = sheet.locator("#canvas")
        canvas.focus()
        for key in ("ArrowLeft", "ArrowUp", "+", "+", "-"):
            sheet.keyboard.press(key)
        now = state(sheet)
        assert now["turn"] == pytest.approx(-45 + 7.5)
        assert now["rise"] == pytest.approx(35.264 - 7.5)
        assert now["zoom"] == pytest.approx(1.2)
        sheet.keyboard.press("0")
        assert state(sheet)["zoom"] == 1
        for _ in range(12):
            sheet.keyboard.press("Tab")
            if sheet.evaluate("document.activeElement.id") == "things-title":
                break
        sheet.keyboard.press("Enter")
        sheet.keyboard.press("Tab")
        sheet.keyboard.type("screw 1")
        found = sheet.locator("#found").text_content()
        assert found.endswith(f" of {state(sheet)['things']}")
        assert sheet.locator("#things-list button:visible").count() == int(found.split()[0]) > 0
        sheet.keyboard.press("ControlOrMeta+a")
        sheet.keyboard.press("Delete")
        sheet.keyboard.press("Tab")
        sheet.keyboard.press("Enter")
        first = sheet.evaluate("buildPage.view.things[0].name")
        assert state(sheet)["selected"] == first
        outline = sheet.evaluate("getComputedStyle(document.activeElement).outlineStyle")
        assert outline == "solid"
        canvas.focus()
        sheet.keyboard.press("Escape")
        assert state(sheet)["selected"] is None


def test_a_step_shows_the_rig_as_far_as_that(opened):
    """Step by step there is more; what a step brings in is told and set off."""
    with opened(reduced_motion="reduce") as sheet:
        counts = []
        sheet.get_by_role("button", name="show step 1", exact=True).click()
        first = look(sheet)
        while True:
            counts.append(state(sheet)["there"])
            after = sheet.get_by_role("button", name="next step")
            if after.is_disabled():
                break
            after.click()
        assert counts == sorted(counts)
        assert counts[-1] == state(sheet)["things"]
        assert look(sheet) != first
        told = sheet.locator("#step-says").text_content()
        assert told.startswith(f"Step {len(counts)} of {len(counts)}: ")
        sheet.get_by_role("button", name="Whole rig").click()
        assert state(sheet)["step"] is None


def test_every_step_has_its_drawing(opened, page):
    """The browser itself undoes what was squeezed and draws it; each says what it shows."""
    with opened() as sheet:
        until(sheet, FILLED)
        drawings = sheet.locator("#steps li[id] img")
        assert drawings.count() == len(page.scene.steps)
        says = drawings.first.get_attribute("alt")
        assert says == f"step 1: {', '.join(page.scene.steps[0].things)}"


def test_motion_only_where_it_is_wanted(opened):
    """Where the system asks for less motion no frame shows anything between before and after."""
    between = {}
    for wish in ("reduce", "no-preference"):
        with opened(reduced_motion=wish) as sheet:
            look(sheet)
            sheet.evaluate(
                """() => {
                  const view = buildPage.view, drawn = view.drawNow.bind(view);
                  window.turns = [];
                  view.drawNow = () => { window.turns.push(view.turn); drawn(); };
                }"""
            )
            sheet.get_by_label("Seen from").select_option("Front")
            until(sheet, "window.turns.at(-1) === -90 && !buildPage.view.easing")
            between[wish] = [turn for turn in sheet.evaluate("window.turns") if turn != -90]
    assert between["reduce"] == []
    assert between["no-preference"] != []
    assert all(-90 < turn <= -45 for turn in between["no-preference"])


def test_findings_are_filtered_and_counted(opened):
    """The count is told to whoever cannot see; hostile text stands there as text."""
    with opened() as sheet:
        rows = sheet.locator("#findings-list tbody tr")
        few = rows.count()
        sheet.get_by_label("what passed as well").check()
        many = rows.count()
        assert many > few > 0
        sheet.get_by_label("Question").select_option("made")
        assert few != rows.count() < many
        status = sheet.locator("#findings-count")
        assert status.get_attribute("aria-live") == "polite"
        told = sum(int(one) for one in re.findall(r"\d+", status.text_content()))
        assert told == rows.count()
        assert sheet.title() == "motor stand: build page"
        rows.filter(has_text="taken").get_by_role("button", name="bed").click()
        assert state(sheet)["selected"] == "bed"
        measured = HOSTILE.partition("\u2028")[0]
        assert measured in rows.filter(has_text="taken").text_content()


def test_new_content_keeps_what_was_set(opened):
    """Shown again, as a live page does: turned, apart, selected and filtered as before."""
    with opened(reduced_motion="reduce") as sheet:
        sheet.locator("#canvas").focus()
        sheet.keyboard.press("ArrowLeft")
        sheet.get_by_label("Apart").fill("40")
        name = sheet.evaluate("buildPage.view.things[2].name")
        sheet.evaluate("(name) => buildPage.select(name)", name)
        sheet.get_by_label("Question").select_option("made")
        sheet.get_by_role("button", name="show step 4", exact=True).click()
        sheet.evaluate("(name) => buildPage.select(name)", name)
        keys = ("turn", "rise", "zoom", "apart", "step", "selected")
        before = {key: state(sheet)[key] for key in keys}
        sheet.evaluate(
            """() => {
              const next = JSON.parse(document.getElementById("content").textContent);
              next.title = "changed"; next.sheets = []; next.steps.pop();
              buildPage.show(next);
            }"""
        )
        assert {key: state(sheet)[key] for key in keys} == before
        assert sheet.get_by_label("Question").input_value() == "made"
        assert sheet.get_by_role("heading", level=1).text_content() == "changed"


def test_the_recipe_is_saved_as_it_is(opened, page):
    """What the browser writes to disk is the recipe, sign by sign."""
    with opened() as sheet:
        sheet.get_by_text(f"The recipe, {RIG}.py").click()
        with sheet.expect_download() as saved:
            sheet.get_by_role("link", name="Save it").click()
        assert saved.value.suggested_filename == f"{RIG}.py"
        assert saved.value.path().read_text(encoding="utf-8") == page.recipe_text


def test_a_single_plate_lies_there_in_space(opened, tmp_path):
    """Nothing to take apart and no steps, so nothing offers them."""
    path = tmp_path / "plate.html"
    path.write_text(page_text(page_of(recipe("motor_base"), build("motor_base"))), "utf-8")
    with opened(path=path) as sheet:
        assert (state(sheet)["things"], state(sheet)["works"]) == (1, True)
        assert sheet.get_by_role("heading", name="The plate").is_visible()
        assert not sheet.get_by_label("Apart").is_visible()
        assert not sheet.get_by_role("button", name="next step").is_visible()
        assert sheet.locator("#steps").count() == 0
        lying = look(sheet)
        sheet.locator("#canvas").focus()
        sheet.keyboard.press("ArrowUp")
        assert look(sheet) != lying


def _lightness(colour: str) -> float:
    """Relative luminance of "rgb(...)", WCAG 2.2, its definition."""
    channels = [int(one) / 255 for one in re.findall(r"\d+", colour)[:3]]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


COLOURS = """() => {
  const found = new Set();
  for (const one of document.querySelectorAll("body *")) {
    const own = [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim());
    if (!own || !one.checkVisibility() || one.closest("svg") || one.disabled) continue;
    let ground = one;
    while (/, 0\\)$/.test(getComputedStyle(ground).backgroundColor)) ground = ground.parentElement;
    found.add(getComputedStyle(one).color + "|" + getComputedStyle(ground).backgroundColor);
  }
  return [...found];
}"""


ON_SHEETS = """() => {
  const fill = (one) => getComputedStyle(one).fill;
  const number = fill(document.querySelector(".labels text"));
  return [...document.querySelectorAll(".lying .piece")].map((one) => number + "|" + fill(one));
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_both_sets_of_colours_can_be_read(opened, scheme):
    """Contrast of all text 4.5 or more, WCAG 2.2, 1.4.3; what is chosen beats the system."""
    with opened(color_scheme=scheme, viewport=PHONE) as sheet:
        assert state(sheet)["dark"] == (scheme == "dark")
        pairs = sheet.evaluate(COLOURS)
        assert len(pairs) >= 3
        # Numbers on the sheets, on pieces that are selected and on those that are not.
        sheet.evaluate(
            "buildPage.select(buildPage.view.things.find((one) => one.plates.length).name)"
        )
        pairs += sheet.evaluate(ON_SHEETS)
        assert len(set(pairs)) >= 5
        for pair in pairs:
            one, other = sorted(map(_lightness, pair.split("|")))
            assert (other + 0.05) / (one + 0.05) >= 4.5, pair
        ground = "getComputedStyle(document.body).backgroundColor"
        before = sheet.evaluate(ground)
        sheet.get_by_label("Colours").select_option("light" if scheme == "dark" else "dark")
        assert sheet.evaluate(ground) != before
        assert state(sheet)["dark"] == (scheme != "dark")


def test_a_phone_scrolls_one_way(opened):
    """Nothing is wider than the screen; wide tables scroll in themselves."""
    with opened(viewport=PHONE, has_touch=True, is_mobile=True) as sheet:
        assert sheet.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
        sheet.get_by_label("what passed as well").check()
        assert sheet.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_a_screen_reader_finds_its_way(opened, page):
    """Landmarks, headings in order, pictures and tables with names, in the browser's own tree."""
    with opened() as sheet:
        tree = sheet.locator("body").aria_snapshot()
        for landmark in ("banner", "main", 'navigation "Sections"', "contentinfo"):
            assert re.search(rf"^- {landmark}", tree, re.MULTILINE), landmark
        for name in ("The rig", "Parts", "Sheets", "Bill of materials", "Findings", "Cautions"):
            assert f'region "{name}"' in tree
        levels = [int(one) for one in re.findall(r"heading .*\[level=(\d)\]", tree)]
        assert levels[0] == 1
        assert levels.count(1) == 1
        assert all(after - before <= 1 for before, after in pairwise(levels))
        assert 'img "motor stand in space' in tree
        for part in page.parts:
            assert f'img "outline of {part.name}"' in tree
        assert sheet.locator("table:not(:has(caption))").count() == 0
        assert sheet.locator("th:not([scope])").count() == 0
        assert sheet.locator("button:not([type])").count() == 0


def test_paper_has_every_part_and_no_switches(opened, page, tmp_path):
    """What poppler reads of what the browser prints: each part by name, the rig as a picture."""
    with opened(color_scheme="dark") as sheet:
        until(sheet, FILLED)
        path = tmp_path / "page.pdf"
        sheet.pdf(path=str(path), format="A4", print_background=True)
    told = subprocess.run(
        ["pdftotext", "-layout", path, "-"], capture_output=True, text=True, check=True
    ).stdout
    words = " ".join(told.split())
    assert [part.name for part in page.parts if part.name not in words] == []
    last = len(page.scene.steps)
    assert re.search(rf"\b{last}\b.*\b{re.escape(page.scene.steps[-1].things[0])}\b", words)
    assert "Seen from" not in words
    assert "Show in the rig" not in words
    assert "Whole rig" not in words
    shot = subprocess.run(
        ["pdftoppm", "-r", "20", "-f", "1", "-l", "1", path], capture_output=True, check=True
    ).stdout
    # P6, width, height, most, then the pixels: paper is white at its edge, something is drawn.
    head, pixels = re.match(rb"P6\s+\d+\s+\d+\s+255\s", shot), shot
    pixels = pixels[head.end() :]
    assert pixels[:3] == b"\xff\xff\xff"
    assert len(set(pixels)) > 30


def test_without_webgl_the_lists_are_there(opened, page):
    """A browser that draws nothing in space says so, and shows everything else."""
    none = "HTMLCanvasElement.prototype.getContext = () => null;"
    with opened(before=none) as sheet:
        assert not state(sheet)["works"]
        assert not sheet.locator("#canvas").is_visible()
        still = sheet.locator("#still")
        assert still.is_visible()
        until(sheet, FILLED)
        assert still.locator("img").count() == 2
        assert sheet.locator("#parts li").count() == len(page.parts)
        sheet.get_by_label("what passed as well").check()
