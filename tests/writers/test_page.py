"""The review as a page: everything the review says is on it, nothing from the file acts on it, nothing leaves it."""

from __future__ import annotations

import base64
import hashlib
import re
from functools import cache
from pathlib import Path

import page_reader
import pytest
from checkout import ROOT
from design_text import plan_of
from example_reviews import drawn_review
from page_reader import words
from slabwright.cli import main
from slabwright.design.read import read_design
from slabwright.drawing.svg.sheet import SCALES
from slabwright.plan.plan import Plan
from slabwright.review.report import Report
from slabwright.units.amount import Amount, count, length, slope
from slabwright.writers import page_parts, terminal
from slabwright.writers.page import page

JOBS = sorted(ROOT.glob("example_designs/jobs/*.slab.yaml"))
EXAMPLES = sorted(ROOT.glob("example_designs/**/*.slab.yaml"))
TRAILER_BAY = next(path for path in JOBS if path.name.startswith("trailer_bay."))

HOSTILE = """</script></style><script>alert('1')</script><img src=x onerror=alert(2)> & "two" ' ]]> &lt; {{ 7*7 }}"""


@cache
def example(path: Path) -> tuple[Report, str]:
    report = drawn_review(Plan(read_design(path)[0]))
    return report, page(report)


def hostile_pad() -> str:
    name = "'" + HOSTILE.replace("'", "''") + "'"
    return f"""\
format: 1
job: {{name: {name}, pour: 2026-05-04}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [30, 0], C: [30, 10], D: [0, 10]}}
outline: [A, B, C, D]
edges:
  - {{run: [D, A], beside: building, name: {name}}}
  - {{rest: lawn}}
heights: {{datum: {name}, finish: {{A: 100, B: 100.6, C: 99.6, D: 100}}}}
fixtures: [{{kind: post, at: [8, 8], size: 4 in, name: {name}}}]
thickness: {{design: 4 in}}
joints:
  - {{name: {name}, from: [10, 0], to: [10, 10], kind: saw cut, depth: 1/4 in}}
variances:
  - {{rule: joint-depth, at: {name}, reason: {name}, accepted_by: {name}, date: 2026-01-02}}
"""


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_everything_on_the_sheet_of_text_is_on_the_page(path: Path) -> None:
    report, html = example(path)
    told = words(page_reader.read(html).one("body").text)
    hovered = {one.attributes.get("title") for one in page_reader.read(html).all("span", class_="on-plan")}
    lines = ["".join(run.text for run in line).strip() for line in terminal.sheet(report, width=2000, level="full")]
    start = next(number for number, line in enumerate(lines) if line.startswith("Verdict"))
    checked = 0
    for line in lines[start:]:
        label = re.match(r"(Verdict|Besides|where|shown|asked|to pass|source|working|add|for) {2,}(.*)", line)
        comment = re.match(r"\d+\. (.*)", line)
        if label or comment:
            said = words(label[2] if label else comment[1] if comment else "")
            said = said.replace(report.file, path.name)  # its folders stand once, at the head
            name, _, place = said.rpartition(", ")
            if label and label[1] == "where" and name:  # of the plan; the place in the file is told on hover
                assert place in hovered
                said = name
            assert said in told, said
            checked += 1
    assert checked >= 1 + 4 * len(report.comments)
    assert all(words(caution) in told for caution in report.cautions)
    assert all(one.title in told for one in report.met)
    assert all(one.limit.citation in told for one in (*report.comments, *report.met) if one.limit)
    assert all(rule.rule in told for rule in report.does_not_apply)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_every_comment_and_its_place_lead_to_each_other(path: Path) -> None:
    report, html = example(path)
    read = page_reader.read(html)
    placed = {str(comment.number) for comment in report.comments if comment.at.shape}
    assert {one.attributes["id"] for one in read.all("article")} == {f"comment-{c.number}" for c in report.comments}
    links = read.all("a", class_="choose")
    assert {link.attributes["href"] for link in links} == {f"#place-{number}" for number in placed}
    places = [one for one in read.all("g", class_="callout") if "id" in one.attributes]
    assert {one.attributes["id"] for one in places} == {f"place-{number}" for number in placed}
    assert all("plan" in one.inside and one.attributes["role"] == "button" for one in places)
    assert all(one.text.strip() for one in places)  # a name that can be heard


@pytest.mark.long
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_example_gives_one_sound_page(path: Path) -> None:
    _, html = example(path)
    read = page_reader.read(html)
    ids = [one.attributes["id"] for one in read.elements if "id" in one.attributes]
    assert len(ids) == len(set(ids))
    assert len(read.all("h1")) == 1
    local = [one.attributes["href"][1:] for one in read.all("a") if one.attributes["href"].startswith("#")]
    assert set(local) <= set(ids)
    assert set(re.findall(r"url\(#([^)]+)\)", html)) <= set(ids)
    assert {one.attributes.get("aria-labelledby", ids[0]) for one in read.elements} <= set(ids)


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_page_of_an_example_job_is_small(path: Path) -> None:
    assert len(example(path)[1].encode()) < 400_000


def test_nothing_leaves_the_page_and_its_policy_says_so() -> None:
    _, html = example(TRAILER_BAY)
    read = page_reader.read(html)
    policy = read.one("meta", http_equiv="Content-Security-Policy").attributes["content"]
    allowed = dict(part.strip().split(" ", 1) for part in policy.split(";"))
    assert allowed["default-src"] == "'none'"
    assert set(allowed) == {"default-src", "script-src", "style-src", "img-src", "base-uri", "form-action"}
    for tag, key in (("script", "script-src"), ("style", "style-src")):
        content = read.one(tag).text.encode()
        assert allowed[key] == f"'sha256-{base64.b64encode(hashlib.sha256(content).digest()).decode()}'"
        assert len(content) > 1000
    for element in read.elements:
        assert not [name for name in element.attributes if name.startswith("on") or name in {"style", "src", "srcset"}]
        assert element.attributes.get("href", "#").startswith(("#", "data:,"))
    assert not re.search(r"@import|url\((?!#)", html)
    assert set(re.findall(r"https?://[^\s\"'<>]+", html)) == set()


def test_names_in_the_file_are_words_and_never_marks() -> None:
    html = page(drawn_review(plan_of(hostile_pad())))
    read = page_reader.read(html)
    assert len(read.all("script")) == len(read.all("style")) == 1
    assert read.all("img") == []
    assert read.one("h1").text.strip() == words(HOSTILE)
    assert read.all("title")[0].text == f"Slab plan review: {words(HOSTILE)}"
    remarks = words("".join(one.text for one in read.all("article")))
    assert remarks.count("<script>alert('1')</script>") >= 2
    assert "{{ 7*7 }}" in remarks
    for element in read.elements:
        assert not [name for name in element.attributes if name.startswith("on")]


def test_marks_that_turn_or_hide_text_are_written_out() -> None:
    text = hostile_pad().replace(HOSTILE.replace("'", "''"), "lane")
    html = page(drawn_review(plan_of(text.replace("job: {name: 'lane'", 'job: {name: "lane \\u202Egnol\\u0007"'))))
    assert "\u202e" not in html and "\x07" not in html
    assert page_reader.read(html).one("h1").text.startswith("lane")


def test_same_report_gives_the_same_page() -> None:
    report, html = example(TRAILER_BAY)
    assert page(report) == html


def drawings(html: str) -> dict[str, str]:
    """Every plan of a page as it stands there, by what it is for: a desk and paper, or the hand."""
    found = re.findall(r'<svg class="slab-plan on-(\w+)".*?</svg>', html, re.DOTALL)
    return dict(
        zip(found, (one[0] for one in re.finditer(r'<svg class="slab-plan .*?</svg>', html, re.DOTALL)), strict=True)
    )


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_scale_bar_is_true_at_any_size(path: Path) -> None:
    """Both are in one drawing; a length on paper is the length over the scale (by definition of a scale)."""
    for html in drawings(example(path)[1]).values():
        read = page_reader.read(html)
        drawing = read.elements[0]
        bar = read.one("g", class_="scale-bar")
        part = html[html.index('<g class="scale-bar"') :]
        widths = [float(w) for w in re.findall(r'<rect [^>]*?width="([\d.]+)"', part)]
        assert len(widths) == 4
        on_paper = float(bar.attributes["data-length-m"]) * 1000 / int(drawing.attributes["data-scale"])
        assert sum(widths) == pytest.approx(on_paper, abs=0.03)
        left, _, wide, _ = map(float, drawing.attributes["viewbox"].split())
        xs = [float(x) for x in re.findall(r'<rect x="([\d.-]+)"', part)]
        assert left <= min(xs) and max(xs) + widths[0] <= left + wide


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_no_letter_on_paper_is_under_seven_points(path: Path) -> None:
    """A point is 1/72 in; on paper the drawing stands to the scale that the title block states."""
    report, html = example(path)
    found = drawings(html)
    for source in found.values():
        assert min(map(float, re.findall(r'font-size="([\d.]+)"', source))) >= 7 / 72 * 25.4
    plan = page_reader.read(found["plan"])
    stated = next(name for n, name in SCALES[report.system] if n == int(plan.elements[0].attributes["data-scale"]))
    assert f"Scale{stated}" in words(page_reader.read(html).one("header").text)
    wide, tall = (plan.elements[0].attributes[side].removesuffix("mm") for side in ("width", "height"))
    assert f"#plan .on-plan{{width:{wide}mm!important;height:{tall}mm!important" in html
    assert float(wide) <= 192 and float(tall) <= 185  # between the margins of letter and of A4, title block above


def test_layers_that_can_be_hidden_are_those_that_are_drawn() -> None:
    def layers(path: Path) -> set[str]:
        return {one.attributes["data-shows"] for one in page_reader.read(example(path)[1]).all("input")}

    patio = next(path for path in JOBS if path.name.startswith("garden_patio."))
    assert layers(TRAILER_BAY) == {"heights", "water", "joints", "steel", "dimensions", "names", "callouts"}
    assert layers(patio) == layers(TRAILER_BAY) - {"steel", "callouts"}  # fiber is in the mix; nothing falls short


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.name.partition(".")[0])
def test_every_drawing_of_a_plan_shows_the_same_things(path: Path) -> None:
    """Alone, in the page for a desk, and in the page for the hand: the same panels, joints, places of comments."""
    from slabwright.drawing.svg.plan_svg import plan_svg

    report, html = example(path)
    shown = [
        {name: sorted(re.findall(rf' data-{name}="([^"]*)"', source)) for name in ("panel", "joint", "comment", "pond")}
        for source in (plan_svg(report), *drawings(html).values())
    ]
    assert len(shown) >= 2 and shown[0]["panel"]
    assert all(one == shown[0] for one in shown)
    for source in drawings(html).values():  # and every comment with a place has its sign there
        assert source.count('class="mark"') == len(re.findall(r'class="callout"[^>]* role="button"', source))


def shallow_joints(count: int) -> str:
    along = [2 * k for k in range(1, count + 1)]
    cuts = [f"{{name: S{x}, from: [{x}, 0], to: [{x}, 2], kind: saw cut, depth: 1/4 in}}" for x in along]
    joints = "\n".join(f"  - {cut}" for cut in cuts)
    size = 2 * count + 2
    return f"""\
format: 1
job: {{name: Long walk}}
units: {{plan: ft, height: ft}}
use: walk
points: {{A: [0, 0], B: [{size}, 0], C: [{size}, 2], D: [0, 2]}}
outline: [A, B, C, D]
edges: [{{rest: lawn}}]
heights: {{finish: {{A: 100, B: 100, C: 99.95, D: 99.95}}}}
thickness: {{design: 4 in}}
joints:
{joints}
"""


def test_many_comments_of_one_rule_get_a_line_each_and_the_rest_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(page_parts, "IN_A_LINE", 7)
    report = drawn_review(plan_of(shallow_joints(30)))
    found = [comment for comment in report.comments if comment.rule == "joint-depth"]
    assert len(found) == 30
    read = page_reader.read(page(report))
    ids = {
        one.attributes["id"]: one.tag for one in read.elements if one.attributes.get("id", "").startswith("comment-")
    }
    tags = [ids.get(f"comment-{comment.number}") for comment in found]
    assert tags == ["article"] * 20 + ["li"] * 7 + [None] * 3
    text = words(read.one("body").text)
    assert "And 3 more by joint-depth; slabwright review FILE --json lists them all." in text
    assert "3 comments are not on this page; slabwright review FILE --json lists them all." in text
    shown = {one.attributes["data-comment"] for one in read.all("g", class_="callout")}
    assert {str(comment.number) for comment in found} <= shown  # on the plan all of them are


def test_one_group_says_that_no_other_was_looked_at() -> None:
    report, _ = example(TRAILER_BAY)
    assert "the rules of group joints; numbers are those of the whole review" in page(report, "joints")


def _colors(css: str) -> dict[str, str]:
    return dict(re.findall(r"--([a-z]+): (#[0-9a-f]{3,6})", css))


def _luminance(color: str) -> float:
    """Relative luminance, WCAG 2.2 (W3C, 2023)."""
    digits = color[1:] if len(color) == 7 else "".join(2 * digit for digit in color[1:])
    parts = [int(digits[k : k + 2], 16) / 255 for k in (0, 2, 4)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio, WCAG 2.2."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_measured_as_published() -> None:
    assert contrast("#000000", "#fff") == pytest.approx(21.0)  # WCAG 2.2, "contrast ratio": 1 to 21
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)  # the usual example of the least gray


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_from_what_is_behind_them(scheme: str) -> None:
    """4.5 to 1 for text, 3 to 1 for what is no text (WCAG 2.2, 1.4.3 and 1.4.11)."""
    css = (ROOT / "checker/slabwright/writers/templates/review.css.j2").read_text(encoding="utf-8")
    light, dark = re.search(r"^:root \{.*?\}", css, re.S | re.M), re.search(r"dark\) \{\s*:root \{.*?\}", css, re.S)
    assert light and dark
    colors = _colors(light[0]) | (_colors(dark[0]) if scheme == "dark" else {})
    for behind in ("desk", "paper", "band", "pick"):
        for text in ("ink", "soft", "link"):
            assert contrast(colors[text], colors[behind]) >= 4.5, (text, behind)
        assert contrast(colors["place"], colors[behind]) >= 3.0, behind
    for sign in ("hold", "caution", "note", "met"):
        assert contrast("#000", colors[sign]) >= 4.5, sign


def test_signs_have_colors_anyone_can_tell_apart() -> None:
    """Those of M. Okabe and K. Ito, Color Universal Design (2008), and black and white; shapes differ as well."""
    published_colors = {"#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"}
    css = (ROOT / "checker/slabwright/writers/templates/review.css.j2").read_text(encoding="utf-8")
    colors = _colors(css.partition("}")[0])
    assert {colors[sign] for sign in ("hold", "caution", "met", "place")} <= published_colors
    html = example(TRAILER_BAY)[1]
    marks = re.findall(r'<svg class="sign sign-hold".*?</svg>', html)
    shapes = {shape for mark in marks for shape in re.findall(r"<(?:path|circle)[^>]*>", mark)}
    assert shapes == {'<path d="M7.6 1.5h8.8l6.1 6.1v8.8l-6.1 6.1H7.6l-6.1-6.1V7.6z"/>'}


def test_review_writes_the_page_beside_its_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "review.html"
    assert main.main(["review", str(TRAILER_BAY), "--page", str(out)]) == 1
    line = re.search(r"^Verdict +(.*)$", capsys.readouterr().out, re.M)
    assert line and "holds" in line[1]
    read = page_reader.read(out.read_text(encoding="utf-8"))
    assert line[1] in words(read.one("header").text)
    assert len(read.all("article")) == len(example(TRAILER_BAY)[0].comments)
    assert main.main(["review", str(TRAILER_BAY), "--page", str(out), "--only", "joints", "--metric"]) == 1
    text = words(page_reader.read(out.read_text(encoding="utf-8")).one("body").text)
    assert "numbers are those of the whole review" in text and "25 mm" in text


@pytest.mark.parametrize(
    ("files", "name", "wrong"),
    [
        ([str(TRAILER_BAY)], "review.txt", "a page is an HTML file"),
        ([str(ROOT / "example_designs/jobs")], "review.html", "a page holds the review of one design"),
        ([str(TRAILER_BAY), "--against", "HEAD"], "review.html", "a page holds a whole review, not what changed"),
        ([str(TRAILER_BAY)], "no/such/folder.html", "it cannot be written"),
    ],
)
def test_page_that_cannot_be_is_refused(
    files: list[str], name: str, wrong: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main.main(["review", *files, "--page", str(tmp_path / name)]) == 2
    assert wrong in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_title_block_holds_what_the_file_knows_and_lines_for_the_rest() -> None:
    html = page(drawn_review(plan_of(hostile_pad().replace("job: {", "job: {revision: 2, reviewed_by: plan desk, "))))
    signed = words(page_reader.read(html).one("div", class_="signed").text)
    assert signed == "Reviewed by plan desk Date Revision 2 Signature"
    blank = words(page_reader.read(example(TRAILER_BAY)[1]).one("div", class_="signed").text)
    assert blank == "Reviewed by Date Revision Signature"


def test_sources_stand_once_and_are_cited_by_number() -> None:
    report, html = example(TRAILER_BAY)
    read = page_reader.read(html)
    listed = [one for one in read.all("li") if one.attributes.get("id", "").startswith("source-")]
    assert len({words(one.text) for one in listed}) == len(listed) > 5
    by_number = {one.attributes["id"].removeprefix("source-"): words(one.text) for one in listed}
    cited = dict.fromkeys(re.findall(r'href="#source-(\d+)"', html))
    assert list(cited) == [str(number) for number in range(1, len(listed) + 1)]  # numbered as they come up
    for comment in report.comments:
        part = html[html.index(f'id="comment-{comment.number}"') :]
        number = re.search(r'href="#source-(\d+)"', part)
        assert number and by_number[number[1]].startswith(comment.limit.citation)


@pytest.mark.parametrize(
    ("slack", "asked", "says"),
    [
        (0.0263, slope(0.05), "3 % of the limit"),
        (2.0, length(0.1), "200 % of the limit"),
        (11.7, length(0.1), "over 200 % of the limit"),
        (-0.01, slope(0.02), "none: within tolerance"),  # met by what a rule gives
        (4.0, count(1), ""),  # five edges that take water are not four times one
        (0.3, length(0.0), ""),
    ],
)
def test_what_is_to_spare_is_told_as_a_share_where_there_is_one(slack: float, asked: Amount, says: str) -> None:
    assert page_parts._to_spare(slack, asked).replace("\u00a0", " ") == says
