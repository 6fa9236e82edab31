"""The page of a review in Chromium: choosing, keyboard, layers, sizes, paper, contrast, and that nothing leaves it."""

from __future__ import annotations

import io
import re
import runpy
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import axe_core_python
import browser
import pictures
import pytest
from checkout import ROOT
from PIL import Image
from slabwright.cli import main
from slabwright.drawing import content
from slabwright.review.reviewing import Settings, judge
from slabwright.writers.page import page

pytestmark = pytest.mark.browser

JOBS = {path.name.partition(".")[0]: path for path in sorted(ROOT.glob("example_designs/jobs/*.slab.yaml"))}
TAB, ENTER, ESCAPE, END, HOME, RIGHT = "\ue004", "\ue007", "\ue00c", "\ue010", "\ue011", "\ue014"
AXE = Path(axe_core_python.__file__).with_name("axe.min.js").read_text(encoding="utf-8")


APRON = """\
format: 1
job: {name: Long shop apron, pour: 2027-05-04, number: S-9, revision: B, reviewed_by: plan desk}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [60, 0], C: [60, 18], D: [0, 18], T: [30, 22]}
outline: [A, B, C, {arc_to: D, through: T}]
edges:
  - {run: [A, B], beside: building, name: shop, isolation: {material: foam, thickness: 1/2 in, depth: full}}
  - {run: [B, C], beside: property line, takes_water: false}
  - {rest: lawn}
heights: {datum: shop sill = 100.50, finish: {A: 100, B: 99.9, C: 99.5, D: 99.6, T: 99.4}}
fixed: [{name: shop sill, kind: sill, along: [A, B], height: 100.5}]
fixtures:
  - {kind: drain, at: [15, 5], size: 6 in}
thickness: {design: 5 in}
joints:
  - {name: J1, from: [10, 0], to: [10, 18], kind: saw cut, depth: 1 1/4 in}
  - {name: J2, from: [20, 0], to: [20, 18], kind: saw cut, depth: 1 1/4 in}
  - {name: J3, from: [30, 0], to: [30, 18], kind: saw cut, depth: 1 1/4 in}
  - {name: J4, from: [40, 0], to: [40, 18], kind: saw cut, depth: 1 1/4 in}
  - {name: J5, from: [50, 0], to: [50, 18], kind: saw cut, depth: 1 1/4 in}
  - {name: J6, from: [0, 9], to: [60, 9], kind: tooled groove, depth: 1 in}
reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 2 in, held_by: chairs}}
"""
"""A slab too wide for a phone, so that its plan is drawn for the hand as well."""


class Pages:
    """The pages of the example jobs and of the apron, as the command writes them; each is written once, when asked."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        (folder / "apron.slab.yaml").write_text(APRON, encoding="utf-8")

    def __getitem__(self, name: str) -> Path:
        page = self.folder / f"{name}.html"
        if not page.exists():
            design = JOBS.get(name, self.folder / f"{name}.slab.yaml")
            assert main.main(["review", str(design), "--page", str(page)]) in {0, 1}
        return page


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    return Pages(tmp_path_factory.mktemp("pages"))


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser.opened() as driver:
        yield driver


@pytest.fixture
def bay(chromium: Any, pages: Pages) -> Any:
    """The trailer bay, with comments of every kind of place, freshly opened in a window of 1280 x 900."""
    browser.seen_as(chromium)
    chromium.get(pages["trailer_bay"].as_uri())
    return chromium


def css(driver: Any, selector: str) -> Any:
    return driver.find_element("css selector", selector)


def press(driver: Any, *keys: str) -> None:
    from selenium.webdriver.common.action_chains import ActionChains

    for key in keys:
        ActionChains(driver).send_keys(key).perform()


def placed(driver: Any) -> list[str]:
    """The numbers of the comments that have a place on the plan, as the plan holds them."""
    script = "return [...document.querySelectorAll('#plan .callout[id]')].map(one => one.dataset.comment)"
    return [str(number) for number in driver.execute_script(script)]


def chosen(driver: Any) -> set[str]:
    return {one.get_attribute("id") for one in driver.find_elements("css selector", ".chosen")}


def in_focus(driver: Any) -> str:
    return str(driver.execute_script("return document.activeElement.id || document.activeElement.className"))


def box_of(driver: Any, selector: str) -> dict[str, float]:
    script = "const b = document.querySelector(arguments[0]).getBoundingClientRect(); return b.toJSON()"
    return dict(driver.execute_script(script, selector))


def test_nothing_is_asked_for_and_the_console_stays_empty(bay: Any) -> None:
    bay.get_log("browser")
    browser.asked_for(bay)
    bay.refresh()
    css(bay, "a.choose").click()
    css(bay, '[data-size="more"]').click()
    asked = browser.asked_for(bay)
    assert asked[0] == bay.current_url
    assert [one for one in asked[1:] if not one.startswith("data:,")] == []
    assert bay.get_log("browser") == []


def test_policy_keeps_what_is_put_in_from_loading_and_running(bay: Any) -> None:
    """Shows that the policy works, on an image and a script that a hole in the escaping would let in."""
    kept = bay.execute_async_script(
        """
        const done = arguments[0], kept = [];
        document.addEventListener("securitypolicyviolation", e => kept.push(e.effectiveDirective));
        const image = document.createElement("img"); image.src = "http://127.0.0.1:9/x.png";
        const script = document.createElement("script"); script.textContent = "window.ran = true";
        const style = document.createElement("style"); style.textContent = "body { display: none }";
        document.body.append(image, script, style);
        setTimeout(() => done([kept.sort(), window.ran === true, getComputedStyle(document.body).display]), 300);
        """
    )
    assert kept == [["img-src", "script-src-elem", "style-src-elem"], False, "block"]


def test_choosing_a_comment_shows_its_place(bay: Any) -> None:
    one, other = placed(bay)[2], placed(bay)[4]
    assert chosen(bay) == set()
    css(bay, f"#comment-{one} a.choose").click()
    assert chosen(bay) == {f"comment-{one}", f"place-{one}"}
    assert css(bay, f"#place-{one}").get_attribute("aria-current") == "true"
    assert css(bay, "[role=status]").text.startswith(f"Comment {one}: ")
    css(bay, f"#comment-{other} a.choose").click()
    assert chosen(bay) == {f"comment-{other}", f"place-{other}"}
    assert bay.execute_script("return document.querySelectorAll('[aria-current]').length") == 2
    place, within = box_of(bay, f"#place-{other}"), box_of(bay, "#plan .box")
    assert within["top"] <= place["top"] and place["bottom"] <= within["bottom"]
    press(bay, ESCAPE)
    assert bay.find_elements("css selector", ".chosen, [aria-current]") == []


def test_choosing_a_place_brings_its_comment(bay: Any) -> None:
    number = placed(bay)[-1]
    css(bay, f"#place-{number} text").click()
    assert chosen(bay) == {f"comment-{number}", f"place-{number}"}
    assert bay.execute_script("return document.activeElement.dataset.comment") == number
    comment = box_of(bay, f"#comment-{number}")
    assert comment["top"] >= 0 and comment["bottom"] <= 900


def test_everything_works_from_the_keyboard(bay: Any) -> None:
    numbers = placed(bay)
    assert len(numbers) >= 5
    press(bay, TAB)
    assert in_focus(bay) == "skip"
    for _ in range(12):
        press(bay, TAB)
        if in_focus(bay) == "box":
            break
    assert in_focus(bay) == "box"
    whole = box_of(bay, "#plan .box > svg")["height"]
    press(bay, "+")
    assert box_of(bay, "#plan .box > svg")["height"] > 1.2 * whole
    press(bay, "0", TAB)
    assert in_focus(bay) == f"place-{numbers[0]}"
    press(bay, RIGHT)
    assert in_focus(bay) == f"place-{numbers[1]}"
    press(bay, END)
    assert in_focus(bay) == f"place-{numbers[-1]}"
    press(bay, RIGHT)
    assert in_focus(bay) == f"place-{numbers[0]}"  # round again
    press(bay, END, HOME, RIGHT, RIGHT, ENTER)
    assert bay.execute_script("return document.activeElement.dataset.comment") == numbers[2]
    assert f"place-{numbers[2]}" in chosen(bay)
    summary = css(bay, ".layers summary")
    bay.execute_script("arguments[0].focus()", summary)
    press(bay, ENTER, TAB, " ")  # opened, and the first of the layers hidden
    assert css(bay, "#plan-heights").is_displayed() is False
    press(bay, " ")
    assert css(bay, "#plan-heights").is_displayed() is True
    bay.execute_script("arguments[0].focus()", css(bay, f"#comment-{numbers[2]} a.choose"))
    for _ in range(12):  # past sources to the next comment that has a place
        press(bay, TAB)
        if bay.execute_script("return 'comment' in document.activeElement.dataset"):
            break
    press(bay, ENTER)
    after = bay.execute_script("return document.activeElement.dataset.comment")
    assert after != numbers[2] and chosen(bay) == {f"comment-{after}", f"place-{after}"}


def test_layers_can_be_hidden_and_shown(bay: Any) -> None:
    css(bay, ".layers summary").click()
    for layer in ("heights", "water", "joints", "steel", "dimensions", "names", "callouts"):
        group = css(bay, f"#plan-{layer}")
        assert group.is_displayed()
        css(bay, f'[data-shows="{layer}"]').click()
        assert not group.is_displayed()
        hidden = bay.find_elements("css selector", "#plan .on-plan [data-layer].off")
        assert [one.get_attribute("data-layer") for one in hidden] == [layer]
        css(bay, f'[data-shows="{layer}"]').click()
        assert group.is_displayed()


def test_choosing_a_comment_shows_hidden_callouts_again(bay: Any) -> None:
    css(bay, ".layers summary").click()
    css(bay, '[data-shows="callouts"]').click()
    css(bay, "a.choose").click()
    assert css(bay, "#plan-callouts").is_displayed()
    assert css(bay, '[data-shows="callouts"]').is_selected()


def test_plan_grows_and_fits_again(bay: Any) -> None:
    def width() -> float:
        return box_of(bay, "#plan .box > svg")["width"]

    whole, buttons = width(), {name: css(bay, f'[data-size="{name}"]') for name in ("less", "whole", "more")}
    assert not buttons["less"].is_enabled() and not buttons["whole"].is_enabled()
    while buttons["more"].is_enabled():
        buttons["more"].click()
    assert (
        width() >= 8 * float(css(bay, "#plan .box > svg").get_dom_attribute("viewBox").split()[2]) - 1
    )  # px a mm of paper
    number = placed(bay)[-1]
    css(bay, f"#comment-{number} a.choose").click()
    place, within = box_of(bay, f"#place-{number} .bubble"), box_of(bay, "#plan .box")
    assert within["left"] <= place["left"] and place["right"] <= within["right"]
    assert within["top"] <= place["top"] and place["bottom"] <= within["bottom"]
    buttons["whole"].click()
    assert width() == pytest.approx(whole, abs=0.5)


def test_no_width_needs_scrolling_sideways(bay: Any) -> None:
    narrow = """return [...document.querySelectorAll("h1, h2, h3, p, caption, dd, li")].filter(
      one => one.clientWidth < 90 && one.checkVisibility() && one.textContent.trim().length > 30).length"""
    for width in (1280, 1920, 768, 390, 320):
        browser.seen_as(bay, width)
        assert bay.execute_script("return document.documentElement.scrollWidth") <= width
        plan = box_of(bay, "#plan .box")
        assert plan["left"] >= 0 and plan["right"] <= width
        assert bay.execute_script(narrow) == 0


def test_on_a_phone_choosing_leads_to_the_place_and_back(bay: Any) -> None:
    browser.seen_as(bay, 390, 844)
    bay.refresh()
    number = placed(bay)[3]
    css(bay, f"#comment-{number} a.choose").click()
    place = box_of(bay, f"#place-{number} .bubble")
    assert place["top"] >= 0 and place["bottom"] <= 844
    assert 0 <= box_of(bay, "[role=status]")["top"] <= 844
    css(bay, "[role=status] a").click()
    assert 0 <= box_of(bay, f"#comment-{number}")["top"] <= 100


def test_a_plan_for_the_hand_leads_to_comments_too(chromium: Any, pages: Pages) -> None:
    browser.seen_as(chromium, 390, 844)
    chromium.get(pages["apron"].as_uri())
    css(chromium, ".on-hand .callout[role] .mark").click()
    number = chromium.execute_script("return document.activeElement.dataset.comment")
    assert chosen(chromium) >= {f"comment-{number}"}
    css(chromium, f"#comment-{number} a.choose").click()
    assert css(chromium, ".on-hand .callout.chosen").get_attribute("aria-current") == "true"
    place = box_of(chromium, ".on-hand .callout.chosen .mark")
    assert place["left"] >= 0 and place["right"] <= 390 and place["top"] >= 0 and place["bottom"] <= 844
    browser.seen_as(chromium)  # turned to a wide screen, the other drawing is seen, the same comment chosen
    assert shown_plan(chromium) == "plan"
    assert css(chromium, f"#place-{number}.chosen").is_displayed()
    css(chromium, "a.choose").click()
    assert len(chromium.find_elements("css selector", ".on-hand .callout.chosen, .on-plan .callout.chosen")) == 2


def test_two_fingers_enlarge_the_plan_about_the_place_between_them(bay: Any) -> None:
    browser.seen_as(bay, 390, 844)
    bay.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 2})
    bay.refresh()
    shown = f"#plan .on-{shown_plan(bay)}"
    before, within = box_of(bay, shown), box_of(bay, "#plan .box")
    x, y = within["left"] + 150, min(within["top"] + 200, 700)

    def touch(kind: str, apart: float) -> None:
        fingers = [{"x": x - apart / 2, "y": y, "id": 0}, {"x": x + apart / 2, "y": y, "id": 1}]
        points = [] if kind == "touchEnd" else fingers
        bay.execute_cdp_cmd("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    try:
        touch("touchStart", 60)
        for apart in (80, 100, 120):
            touch("touchMove", apart)
        touch("touchEnd", 0)
        after = box_of(bay, shown)
        assert after["width"] / before["width"] == pytest.approx(2, rel=0.05)
        middle = ((x - before["left"]) / before["width"], (x - after["left"]) / after["width"])
        assert middle[0] == pytest.approx(middle[1], abs=0.02)
    finally:
        bay.execute_cdp_cmd("Emulation.setTouchEmulationEnabled", {"enabled": False})


def test_a_chosen_callout_is_larger(bay: Any) -> None:
    number = placed(bay)[1]
    before = box_of(bay, f"#place-{number} .mark")["width"]
    css(bay, f"#comment-{number} a.choose").click()
    assert box_of(bay, f"#place-{number} .mark")["width"] == pytest.approx(1.5 * before, rel=0.15)  # and a wider rim


def test_without_a_script_comments_still_lead_to_their_places(chromium: Any, pages: Pages) -> None:
    browser.seen_as(chromium)
    chromium.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        chromium.get("about:blank")
        chromium.get(pages["trailer_bay"].as_uri())
        assert not css(chromium, ".tools").is_displayed()
        css(chromium, "a.choose").click()
        number = chromium.current_url.partition("#place-")[2]
        assert number.isdecimal()
        assert css(chromium, f"#place-{number} [class^=spot-]").value_of_css_property("stroke") == "rgb(0, 114, 178)"
    finally:
        chromium.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


LETTERS = """
const small = [], plan = [];
const seen = one => one.checkVisibility({visibilityProperty: true}) && !one.closest(".heard");
for (const one of document.querySelectorAll("svg text")) {
  if (!seen(one)) { continue; }
  const px = parseFloat(getComputedStyle(one).fontSize) * Math.hypot(one.getScreenCTM().a, one.getScreenCTM().b);
  if (one.closest(".slab-plan")) { plan.push(px); }
  if (px < arguments[0]) { small.push([one.textContent, px]); }
}
const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walker.nextNode()) {
  const one = walker.currentNode.parentElement;
  if (walker.currentNode.textContent.trim() && !one.closest("svg, script, style") && seen(one)) {
    const px = parseFloat(getComputedStyle(one).fontSize);
    if (px < arguments[0]) { small.push([walker.currentNode.textContent, px]); }
  }
}
return [small, plan.length];
"""


@pytest.mark.parametrize(("width", "least"), [(1280, 10), (1920, 10), (390, 9), (320, 9)])
@pytest.mark.parametrize("job", ["school_walk", "apron"])
def test_no_letter_is_too_small_to_read(chromium: Any, pages: Pages, job: str, width: int, least: float) -> None:
    """At first sight, nothing enlarged; on a narrow screen the whole width of the slab is seen so."""
    browser.seen_as(chromium, width, 844)
    chromium.get(pages[job].as_uri())
    small, letters = chromium.execute_script(LETTERS, least)
    assert small == []
    seen = "return [...document.querySelectorAll('.slab-plan')].filter(one => one.checkVisibility()).length"
    assert chromium.execute_script(seen) == 1
    assert (shown_plan(chromium) == "hand") == (job == "apron" and width < 992)
    assert letters > 15
    slab, within = box_of(chromium, f"#plan .on-{shown_plan(chromium)} .concrete"), box_of(chromium, "#plan .box")
    if width >= 390:
        assert within["left"] - 1 <= slab["left"] and slab["right"] <= within["right"] + 1


def shown_plan(driver: Any) -> str:
    """Which of the drawings of a page is seen."""
    script = "return [...document.querySelectorAll('.slab-plan')].find(one => one.checkVisibility()).classList[1]"
    return str(driver.execute_script(script)).removeprefix("on-")


@pytest.mark.parametrize("job", ["trailer_bay", "garden_patio", "apron"])
def test_on_paper_the_plan_stands_to_scale_on_the_first_page(chromium: Any, pages: Pages, job: str) -> None:
    """A CSS inch is 96 px and 25.4 mm; nothing is under 7 points, and no comment goes over to another page."""
    browser.seen_as(chromium, 748, 900)  # as wide as letter paper between its margins
    chromium.get(pages[job].as_uri())
    chromium.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        small, letters = chromium.execute_script(LETTERS, 7 * 96 / 72 - 1e-3)
        assert (small, letters > 15) == ([], True)
        mm_a_px = chromium.execute_script("return document.querySelector('.on-plan.slab-plan').getScreenCTM().a")
        assert mm_a_px == pytest.approx(96 / 25.4, rel=1e-3)
        assert box_of(chromium, "#plan .on-plan")["bottom"] < (279.4 - 22) / 25.4 * 96
        assert box_of(chromium, "#plan .on-plan")["right"] <= (210 - 18) / 25.4 * 96 + 1  # and on A4
        assert chromium.execute_script(
            "return [...document.querySelectorAll('.remark')].every(a => getComputedStyle(a).breakInside == 'avoid')"
        )
        assert shown_plan(chromium) == "plan"
        assert box_of(chromium, ".signed")["height"] > 10 and box_of(chromium, ".legend")["height"] > 10
    finally:
        chromium.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    browser.seen_as(chromium, scheme="dark")  # paper is white whatever the screen is set to
    assert 2 <= len(re.findall(rb"/Type\s*/Page\b(?!s)", browser.printed(chromium, 8.5, 11))) <= 5


def test_paper_is_white_and_holds_what_is_shown(bay: Any) -> None:
    browser.seen_as(bay, scheme="dark")
    css(bay, '[data-size="more"]').click()
    css(bay, ".layers summary").click()
    css(bay, '[data-shows="steel"]').click()
    bay.execute_cdp_cmd(
        "Emulation.setEmulatedMedia",
        {"media": "print", "features": [{"name": "prefers-color-scheme", "value": "dark"}]},
    )
    try:
        look = "return getComputedStyle(document.querySelector(arguments[0]))[arguments[1]]"
        assert bay.execute_script(look, "body", "backgroundColor") == "rgb(255, 255, 255)"
        assert bay.execute_script(look, "body", "color") == "rgb(0, 0, 0)"
        assert bay.execute_script(look, "#plan .concrete", "fill") == "rgb(247, 246, 243)"
        assert bay.execute_script(look, ".tools", "display") == "none"
        assert bay.execute_script(look, ".no-use", "display") == "none"
        assert "Only on the screen: rules that do not apply" in css(bay, "footer").text
        assert bay.execute_script(look, "#plan-steel", "display") == "none"  # hidden, so not printed
        plan, page_box = box_of(bay, "#plan .box > svg"), box_of(bay, "body")
        assert plan["right"] <= page_box["right"] + 1
    finally:
        bay.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})


CONTRAST = """
const lum = c => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3).map(v => v / 255)
  .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
const ratio = (a, b) => { const [x, y] = [lum(a), lum(b)].sort((p, q) => q - p); return (x + 0.05) / (y + 0.05); };
const fill = one => getComputedStyle(one).fill;
const concrete = fill(document.querySelector("#plan .concrete")), paper = fill(document.querySelector("#plan .paper"));
const low = [];
for (const one of document.querySelectorAll("#plan svg text")) {
  const sign = one.previousElementSibling;
  const behind = sign && sign.classList.contains("bubble") ? [fill(sign)] : [concrete, paper];
  for (const other of behind) {
    if (ratio(fill(one), other) < 4.5) { low.push([one.textContent, fill(one), other]); }
  }
}
for (const name of ["outline", "saw-cut", "contour", "trail", "fall", "steel", "isolation", "dimension"]) {
  for (const one of document.querySelectorAll("#plan svg.slab-plan .line." + name + ", #plan svg.slab-plan ." + name)) {
    const stroke = getComputedStyle(one).stroke;
    if (stroke !== "none" && ratio(stroke, concrete) < arguments[0]) { low.push([name, stroke, concrete]); }
  }
}
return [low, document.querySelectorAll("#plan svg text").length];
"""


@pytest.mark.long
@pytest.mark.parametrize("job", JOBS)
def test_drawing_stands_out_light_and_dark(chromium: Any, pages: Pages, job: str) -> None:
    """Words 4.5 to 1 (WCAG 2.2, 1.4.3), lines 2.7 to 1: steel is the published purple, 2.8 to 1 on the concrete."""
    browser.seen_as(chromium)
    chromium.get(pages[job].as_uri())
    for scheme in ("light", "dark"):
        browser.seen_as(chromium, scheme=scheme)
        low, texts = chromium.execute_script(CONTRAST, 2.7)
        assert texts > 20
        assert low == []
        dark = chromium.execute_script("return getComputedStyle(document.body).backgroundColor")
        assert (sum(map(int, re.findall(r"\d+", dark)[:3])) < 150) == (scheme == "dark")


@pytest.mark.long
@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("job", ["trailer_bay", "apron"])
def test_accessibility_audit_finds_nothing(chromium: Any, pages: Pages, job: str, scheme: str, width: int) -> None:
    """By axe-core, all its rules; also with a comment chosen, and with the plan for the hand."""
    browser.seen_as(chromium, width, scheme=scheme)
    chromium.get(pages[job].as_uri())
    chromium.execute_script(AXE)
    for choose in (False, True):
        if choose:
            css(chromium, "a.choose").click()
        found = chromium.execute_async_script("axe.run(document).then(arguments[0])")
        assert len(found["passes"]) > 30
        assert [(one["id"], one["nodes"][0]["html"]) for one in found["violations"]] == []


def test_audit_finds_what_is_wrong(chromium: Any) -> None:
    """The audit itself works: a button without a name is a critical finding."""
    chromium.get("data:text/html,<html lang=en><title>a page</title><button></button>")
    chromium.execute_script(AXE)
    found = chromium.execute_async_script("axe.run(document).then(arguments[0])")
    assert ("button-name", "critical") in {(one["id"], one["impact"]) for one in found["violations"]}


def test_page_looks_as_in_the_pictures_that_are_kept(chromium: Any, tmp_path: Path) -> None:
    """Where this falls short after a change that was meant: look at the page, then take them anew."""
    looks = dict(pictures.taken(chromium, pictures.written(tmp_path), some=("390-light", "1280-light", "1280-dark")))
    assert len(looks) == 4
    kept = {name: (pictures.PICTURES / f"{name}.png").read_bytes() for name in looks}
    assert {name: unlike for name in looks if (unlike := pictures.unlike(looks[name], kept[name])) > 0.04} == {}
    assert pictures.unlike(kept["review-page-1280-light"], kept["review-page-1280-dark"]) > 0.5
    moved = Image.open(io.BytesIO(kept["review-page-1280-light"])).rotate(0, translate=(0, 60), fillcolor=0)
    moved.save(shifted := io.BytesIO(), "png")
    assert pictures.unlike(shifted.getvalue(), kept["review-page-1280-light"]) > 0.04  # a page that slips is noticed


def test_floor_of_1200_panels_opens_and_scrolls(chromium: Any, tmp_path: Path) -> None:
    """Nearly every joint too shallow and every panel too long: few comments, with more than a thousand places."""
    write_floor = runpy.run_path(str(ROOT / "tests" / "benchmarks" / "floors.py"))["write_floor"]
    design = write_floor(tmp_path, 1200, 1200)
    text = design.read_text(encoding="utf-8").replace("design: 6 in", "design: 3 in")
    design.write_text(text.replace("depth: 1 1/2 in", "depth: 1/2 in"), encoding="utf-8")
    judged = judge(design, Settings())
    report = content.drawn(judged.report, judged.plan)
    assert sum(len(one.alike) or 1 for one in report.comments) > 1200
    out = tmp_path / "floor.html"
    out.write_text(page(report), encoding="utf-8")
    assert out.stat().st_size < 5_000_000
    browser.seen_as(chromium)
    chromium.get("about:blank")
    start = time.monotonic()
    chromium.get(out.as_uri())
    took = time.monotonic() - start
    seen = "new PerformanceObserver(l => done(l.getEntries()[0].startTime)).observe({type: 'paint', buffered: true})"
    assert chromium.execute_async_script(f"const done = arguments[0]; {seen}") < 5000
    assert took < 15
    frame = "const done = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => done(scrollY)))"
    for place in (2000, 5000, 0):
        chromium.execute_script("window.scrollTo(0, arguments[0])", place)
        start = time.monotonic()
        assert chromium.execute_async_script(frame) == place
        assert time.monotonic() - start < 5
    last = chromium.find_elements("css selector", "a.choose")[-1]
    number = last.get_attribute("data-comment")
    chromium.execute_script("arguments[0].click()", last)
    place, within = box_of(chromium, f"#place-{number}"), box_of(chromium, "#plan .box")
    assert place["width"] > 3  # large enough to see, wherever it was before
    assert within["left"] <= (place["left"] + place["right"]) / 2 <= within["right"]
    assert within["top"] <= (place["top"] + place["bottom"]) / 2 <= within["bottom"]
    told = css(chromium, "body").text
    assert re.search(r"Panel P\d+ is long for its thickness; likewise P.* and 1,\d\d\d more", told)


# --- the stake sheet ---


@pytest.mark.parametrize(("width", "letters"), [(390, 9.0), (1280, 10.0)])
def test_the_stake_sheet_is_read_on_a_phone_and_on_a_desk(
    chromium: Any, tmp_path: Path, width: int, letters: float
) -> None:
    """No number of the key plan under 9 px on a phone, or 10 px on a desk, and nothing hangs over the right margin.

    Forty pins with three readings each are cards of at most 200 px on a phone.
    """
    path = tmp_path / "stakes.html"
    design = str(JOBS["trailer_bay"])
    assert main.main(["stake", design, "--bench", "hub=100", "--backsight", "4.25", "--page", str(path)]) == 0
    browser.seen_as(chromium, width, 844)
    chromium.get(path.as_uri())
    sizes = chromium.execute_script(
        "const s = document.querySelector('#key-plan'), k = s.getBoundingClientRect().width / s.viewBox.baseVal.width;"
        "return [...s.querySelectorAll('text')].map(t => k * Number(t.getAttribute('font-size')))"
    )
    assert len(sizes) > 40
    assert min(sizes) >= letters
    assert chromium.execute_script("return document.documentElement.scrollWidth <= innerWidth")
    heights = chromium.execute_script(
        "return [...document.querySelectorAll('#places tbody tr')].map(r => r.getBoundingClientRect().height)"
    )
    assert len(heights) == 40
    assert max(heights) <= (200 if width < 500 else 70)
    if width < 500:
        return
    chromium.execute_script(AXE)
    found = chromium.execute_async_script("const done = arguments[0]; axe.run().then(r => done(r.violations))")
    serious = [one["id"] for one in found if one["impact"] in ("serious", "critical")]
    assert serious == []
