"""The page of a review in Chromium: choosing, keyboard, layers, sizes, paper, contrast, and that nothing leaves it."""

from __future__ import annotations

import re
import runpy
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import axe_core_python
import browser
import pytest
from slabwright.cli import main
from slabwright.drawing import content
from slabwright.review.reviewing import Settings, judge
from slabwright.writers.page import page

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[1]
JOBS = {path.name.partition(".")[0]: path for path in sorted(ROOT.glob("example_designs/jobs/*.slab.yaml"))}
TAB, ENTER, ESCAPE, END, HOME, RIGHT = "\ue004", "\ue007", "\ue00c", "\ue010", "\ue011", "\ue014"
AXE = Path(axe_core_python.__file__).with_name("axe.min.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The pages of the example jobs, as the command writes them."""
    folder = tmp_path_factory.mktemp("pages")
    for name, design in JOBS.items():
        assert main.main(["review", str(design), "--page", str(folder / f"{name}.html")]) in {0, 1}
    return {name: folder / f"{name}.html" for name in JOBS}


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    with browser.opened() as driver:
        yield driver


@pytest.fixture
def bay(chromium: Any, pages: dict[str, Path]) -> Any:
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
    press(bay, TAB, " ")  # the first of the layers
    assert css(bay, "#plan-heights").is_displayed() is False
    press(bay, " ")
    assert css(bay, "#plan-heights").is_displayed() is True
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
    press(bay, TAB, ENTER)  # the next comment, and its place
    after = bay.execute_script("return document.activeElement.dataset.comment")
    assert after != numbers[2] and chosen(bay) == {f"comment-{after}", f"place-{after}"}


@pytest.mark.parametrize("layer", ["heights", "water", "joints", "steel", "dimensions", "names", "callouts"])
def test_layers_can_be_hidden_and_shown(bay: Any, layer: str) -> None:
    group = css(bay, f"#plan-{layer}")
    assert group.is_displayed()
    css(bay, f'[data-shows="{layer}"]').click()
    assert not group.is_displayed()
    hidden = bay.find_elements("css selector", "#plan [data-layer].off")
    assert [one.get_attribute("data-layer") for one in hidden] == [layer]
    css(bay, f'[data-shows="{layer}"]').click()
    assert group.is_displayed()


def test_choosing_a_comment_shows_hidden_callouts_again(bay: Any) -> None:
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


@pytest.mark.parametrize("width", [320, 390, 768, 1280, 1920])
def test_no_width_needs_scrolling_sideways(bay: Any, width: int) -> None:
    browser.seen_as(bay, width)
    bay.refresh()
    assert bay.execute_script("return document.documentElement.scrollWidth") <= width
    plan = box_of(bay, "#plan .box > svg")
    assert plan["left"] >= 0 and plan["right"] <= width
    narrow = """return [...document.querySelectorAll("h1, h2, h3, p, caption, dd, li")].filter(
      one => one.clientWidth < 90 && one.checkVisibility() && one.textContent.trim().length > 30).length"""
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


def test_without_a_script_comments_still_lead_to_their_places(chromium: Any, pages: dict[str, Path]) -> None:
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


@pytest.mark.parametrize("job", JOBS)
@pytest.mark.parametrize("paper", [(8.5, 11.0), (8.27, 11.69)], ids=["letter", "A4"])
def test_prints_on_one_or_two_sheets(
    chromium: Any, pages: dict[str, Path], job: str, paper: tuple[float, float]
) -> None:
    browser.seen_as(chromium, scheme="dark")  # paper is white whatever the screen is set to
    chromium.get(pages[job].as_uri())
    pdf = browser.printed(chromium, *paper)
    assert 1 <= len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf)) <= 2


def test_paper_is_white_and_holds_what_is_shown(bay: Any) -> None:
    browser.seen_as(bay, scheme="dark")
    css(bay, '[data-size="more"]').click()
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


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("job", JOBS)
def test_drawing_stands_out_light_and_dark(chromium: Any, pages: dict[str, Path], job: str, scheme: str) -> None:
    """Words 4.5 to 1 (WCAG 2.2, 1.4.3), lines 2.7 to 1: steel is the published purple, 2.8 to 1 on the concrete."""
    browser.seen_as(chromium, scheme=scheme)
    chromium.get(pages[job].as_uri())
    low, texts = chromium.execute_script(CONTRAST, 2.7)
    assert texts > 20
    assert low == []
    dark = chromium.execute_script("return getComputedStyle(document.body).backgroundColor")
    assert (sum(map(int, re.findall(r"\d+", dark)[:3])) < 150) == (scheme == "dark")


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("job", ["trailer_bay", "garden_patio"])
def test_accessibility_audit_finds_nothing(
    chromium: Any, pages: dict[str, Path], job: str, scheme: str, width: int
) -> None:
    """By axe-core, all its rules; the bay is also looked at with a comment chosen, the patio has none to choose."""
    browser.seen_as(chromium, width, scheme=scheme)
    chromium.get(pages[job].as_uri())
    chromium.execute_script(AXE)
    for choose in (False, True) if job == "trailer_bay" else (False,):
        if choose:
            css(chromium, "a.choose").click()
        found = chromium.execute_async_script("axe.run(document).then(arguments[0])")
        assert len(found["passes"]) > 30
        assert [(one["id"], one["nodes"][0]["html"]) for one in found["violations"]] == []


def test_audit_finds_what_is_wrong(chromium: Any, pages: dict[str, Path]) -> None:
    """The audit itself works: a button without a name is a critical finding."""
    browser.seen_as(chromium)
    chromium.get(pages["trailer_bay"].as_uri())
    chromium.execute_script(AXE + ";document.body.appendChild(document.createElement('button'))")
    found = chromium.execute_async_script("axe.run(document).then(arguments[0])")
    assert ("button-name", "critical") in {(one["id"], one["impact"]) for one in found["violations"]}


def test_floor_of_5000_panels_opens_and_scrolls(chromium: Any, tmp_path: Path) -> None:
    """Nearly every joint too shallow: thousands of comments."""
    write_floor = runpy.run_path(str(ROOT / "tests" / "benchmarks" / "floors.py"))["write_floor"]
    design = write_floor(tmp_path, 5000, 5000)
    text = design.read_text(encoding="utf-8").replace("design: 6 in", "design: 3 in")
    design.write_text(text.replace("depth: 1 1/2 in", "depth: 1/2 in"), encoding="utf-8")
    judged = judge(design, Settings())
    report = content.drawn(judged.report, judged.plan)
    assert len(report.comments) > 5000
    out = tmp_path / "floor.html"
    out.write_text(page(report), encoding="utf-8")
    assert out.stat().st_size < 20_000_000
    browser.seen_as(chromium)
    chromium.get("about:blank")
    start = time.monotonic()
    chromium.get(out.as_uri())
    took = time.monotonic() - start
    seen = "new PerformanceObserver(l => done(l.getEntries()[0].startTime)).observe({type: 'paint', buffered: true})"
    assert chromium.execute_async_script(f"const done = arguments[0]; {seen}") < 5000
    assert took < 15
    frame = "const done = arguments[0]; requestAnimationFrame(() => requestAnimationFrame(() => done(scrollY)))"
    for place in (2000, 20_000, 0):
        chromium.execute_script("window.scrollTo(0, arguments[0])", place)
        start = time.monotonic()
        assert chromium.execute_async_script(frame) == place
        assert time.monotonic() - start < 5
    last = chromium.find_elements("css selector", ".short a.choose")[-1]
    number = last.get_attribute("data-comment")
    chromium.execute_script("arguments[0].click()", last)
    place, within = box_of(chromium, f"#place-{number}"), box_of(chromium, "#plan .box")
    assert place["width"] > 3  # large enough to see, wherever it was before
    assert within["left"] <= (place["left"] + place["right"]) / 2 <= within["right"]
    assert within["top"] <= (place["top"] + place["bottom"]) / 2 <= within["bottom"]
    told = css(chromium, "body").text
    assert re.search(r"And [\d,]+ more by panel-spacing", told)
    assert re.search(r"[\d,]+ comments are not on this page; slabwright review FILE --json lists them all\.", told)


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
    chromium.execute_script(AXE)
    found = chromium.execute_async_script("const done = arguments[0]; axe.run().then(r => done(r.violations))")
    serious = [one["id"] for one in found if one["impact"] in ("serious", "critical")]
    assert serious == []
