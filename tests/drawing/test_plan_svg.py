"""The plan and the section as drawings: what is on them, to which scale, and that no two labels overlap."""

from __future__ import annotations

import itertools
import math
import random
import re
import sys
from functools import cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as Xml

import pytest
import shapely
from changed import changed as replace
from checkout import ROOT
from design_text import plan_of
from example_reviews import drawn_review
from slabwright.cli import main as cli
from slabwright.design.read import read_design
from slabwright.drawing import content, section
from slabwright.drawing.svg.place import Box, Room, overlap
from slabwright.drawing.svg.plan_svg import LAYERS, plan_svg, sheet_for
from slabwright.drawing.svg.section_svg import section_svg
from slabwright.drawing.svg.sheet import SCALES
from slabwright.drawing.svg.text import escaped, shortened, text_width, wrapped
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report, VarianceNote
from slabwright.source.place import Place

EXAMPLES = sorted(ROOT.glob("example_designs/**/*.slab.yaml"))
FT = 0.3048
SVG = "{http://www.w3.org/2000/svg}"

PAD = """\
format: 1
job: {name: Kennel yard, pour: 2026-05-04, number: K-3}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [20, 0], C: [20, 10], D: [0, 10], G: [3, 3], H: [5, 3], I: [5, 5], J: [3, 5]}
outline: [A, B, C, D]
openings: [{name: tree, corners: [G, H, I, J], holds: tree}]
edges:
  - {run: [D, A], beside: building, name: kennel, isolation: {material: foam, thickness: 1/2 in, depth: full}}
  - {run: [A, B], beside: wall, name: garden wall}
  - {run: [B, C], beside: existing slab}
  - {rest: lawn}
heights: {datum: kennel sill = 100.50, finish: {A: 100, B: 99.6, C: 99.6, D: 100}}
fixed: [{name: kennel sill, kind: sill, along: [D, A], height: 100.5}]
fixtures:
  - {kind: drain, at: [15, 5], size: 6 in}
  - {kind: post, at: [8, 8], size: 4 in}
thickness: {design: 4 in}
joints:
  - {name: J1, from: [10, 0], to: [10, 10], kind: saw cut, depth: 1 in}
  - {name: J2, from: [0, 6], to: [20, 6], kind: tooled groove, depth: 1 in}
reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 2 in, held_by: chairs}}
"""

HOSTILE = """<script>alert('1')</script> & "two" ]]> &lt; {x}"""


@cache
def example(file: Path) -> tuple[Plan, Report]:
    plan = Plan(read_design(file)[0])
    return plan, drawn_review(plan)


@cache
def pad() -> tuple[Report, Xml.Element]:
    report = drawn_review(plan_of(PAD))
    return report, Xml.fromstring(plan_svg(report))


def layer(svg: Xml.Element, name: str) -> Xml.Element:
    return next(group for group in svg.iter(f"{SVG}g") if group.get("data-layer") == name)


def marked(svg: Xml.Element, key: str) -> list[Xml.Element]:
    return [one for one in svg.iter() if one.get(key) is not None]


def words(svg: Xml.Element) -> list[str]:
    return [text.text or "" for text in svg.iter(f"{SVG}text")]


def points(d: str) -> list[tuple[float, float]]:
    numbers = [float(n) for n in re.findall(r"-?\d+(?:\.\d+)?", d)]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


# --- labels ---


def boxes(svg: Xml.Element) -> list[tuple[str, shapely.Polygon]]:
    """What every text covers, measured from the drawing itself: capitals and figures from the line to 0.72 of their
    size above it, tails to 0.2 below; widths are those of a wide sans-serif."""
    found = []
    for text in svg.iter(f"{SVG}text"):
        size, x, y = (float(text.get(key, "")) for key in ("font-size", "x", "y"))
        width = text_width(text.text or "", size, text.get("font-weight") == "bold")
        left = {"start": x, "middle": x - width / 2, "end": x - width}[text.get("text-anchor", "start")]
        box: shapely.Geometry = shapely.box(left, y - 0.72 * size, left + width, y + 0.2 * size)
        if turned := text.get("transform"):
            angle, at_x, at_y = (float(n) for n in re.findall(r"-?[\d.]+", turned))
            box = turned_about(box, angle, at_x, at_y)
        found.append((text.text or "", box))
    return found


def turned_about(box: shapely.Geometry, angle: float, x: float, y: float) -> shapely.Geometry:
    c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    return shapely.transform(box, lambda xy: (xy - [x, y]) @ [[c, s], [-s, c]] + [x, y])


def overlaps(labels: list[tuple[str, shapely.Polygon]]) -> list[tuple[str, str]]:
    tree = shapely.STRtree([box for _, box in labels])
    pairs = []
    for k, (text, box) in enumerate(labels):
        for other in tree.query(box, predicate="intersects"):
            if other > k and box.intersection(labels[other][1]).area > 0.01:
                pairs.append((text, labels[other][0]))
    return pairs


def bubbles(svg: Xml.Element) -> list[tuple[str, shapely.Polygon]]:
    """The signs of callouts, by the number in them."""
    found = []
    for callout in marked(svg, "data-comment"):
        number = callout.get("data-comment", "")
        for sign in callout.iter():
            if "bubble" in (sign.get("class") or ""):
                circle = shapely.Point(float(sign.get("cx") or 0), float(sign.get("cy") or 0)).buffer(
                    float(sign.get("r") or 0)
                )
                found.append((number, shapely.Polygon(points(sign.get("d", ""))) if sign.get("d") else circle))
    return found


@pytest.mark.long
@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("file", EXAMPLES, ids=lambda file: f"{file.parent.name}-{file.name}")
def test_no_two_labels_overlap_and_all_lie_on_the_sheet(file: Path, system: Any) -> None:
    svg = Xml.fromstring(plan_svg(replace(example(file)[1], system=system)))
    labels = boxes(svg)
    assert len(labels) > 10
    assert overlaps(labels) == []
    signs = bubbles(svg)
    assert overlaps(signs) == []
    assert [(t, n) for t, box in labels for n, sign in signs if t != n and box.intersection(sign).area > 0.01] == []
    frame = next(rect for rect in svg.iter(f"{SVG}rect") if rect.get("class") == "frame")
    x, y, width, height = (float(frame.get(key, "")) for key in ("x", "y", "width", "height"))
    sheet = shapely.box(x, y, x + width, y + height)
    assert [text for text, box in labels if not sheet.covers(box)] == []


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize(("wide", "tall"), [(0.3, 0.2), (1.2, 1), (200, 1.2), (1.2, 150), (900, 600)])
def test_any_size_of_slab_gets_a_standard_scale_and_fits(wide: float, tall: float, system: Any) -> None:
    text = f"""\
format: 1
job: {{name: "{"A very long name of a job " * 9}"}}
units: {{plan: m, height: m}}
use: patio
points: {{A: [0, 0], B: [{wide}, 0], C: [{wide}, {tall}], D: [0, {tall}]}}
outline: [A, B, C, D]
heights: {{finish: {{A: 10, B: 10, C: 9.9, D: 9.95}}}}
thickness: {{design: 100 mm}}
"""
    plan = plan_of(text)
    for source in (
        plan_svg(replace(content.drawn(run.review(plan, (), {}), plan), system=system)),
        section_svg(replace(cut_report(plan, "A-C"), system=system)),
    ):
        svg = Xml.fromstring(source)
        assert int(svg.get("data-scale") or 0) in {n for n, _ in SCALES[system]}
        labels = boxes(svg)
        assert overlaps(labels) == []
        sheet = shapely.box(0, 0, *(float(n) for n in (svg.get("viewBox") or "").split()[2:]))
        assert [words for words, box in labels if not sheet.covers(box)] == []


@pytest.mark.parametrize("angle", [0, 30, -90, 75])
def test_a_line_through_a_label_is_noticed(angle: float) -> None:
    rng = random.Random(5)
    box = Box(20, 20, 9, 2.5, angle)
    wide = shapely.Polygon(Box(20, 20, 9.6, 3.1, angle).corners())
    seen = 0
    for _ in range(300):
        line = [(rng.uniform(10, 30), rng.uniform(10, 30)) for _ in range(2)]
        room = Room((0, 0), (60, 60))
        room.keep_clear(line, 2.0)
        crossing = shapely.LineString(line).intersects(wide)
        seen += crossing
        assert room.crossed(box) == (2.0 if crossing else 0)
    assert 30 < seen < 270


@pytest.mark.parametrize("angle", [0, 20, -90, 133])
def test_boxes_overlap_as_shapes_do(angle: float) -> None:
    rng = random.Random(6)
    one = Box(0, 0, 9, 3, angle)
    found = 0
    for _ in range(300):
        other = Box(rng.uniform(-9, 9), rng.uniform(-9, 9), 5, 2, rng.choice([0, 0, 45, 90]))
        shared = shapely.Polygon(one.corners()).intersection(shapely.Polygon(other.corners())).area
        found += shared > 0
        assert overlap(one, other) == (shared > 0)
    assert 30 < found < 270


def test_the_measure_of_overlap_finds_one() -> None:
    one = '<svg xmlns="http://www.w3.org/2000/svg"><text x="10" y="10" font-size="2">99.90</text>'
    near = '<text x="13" y="11" font-size="2" text-anchor="middle" transform="rotate(-90 13 11)">J1</text></svg>'
    assert overlaps(boxes(Xml.fromstring(one + near))) == [("99.90", "J1")]
    assert overlaps(boxes(Xml.fromstring(one + near.replace('"13"', '"33"').replace("90 13", "90 33")))) == []


# --- what is drawn ---


def test_every_thing_of_the_plan_is_drawn_once() -> None:
    report, svg = pad()
    assert [group.get("data-layer") for group in svg.findall(f"{SVG}g")] == list(LAYERS)
    assert [group.get("id") for group in svg.findall(f"{SVG}g")] == [f"plan-{name}" for name in LAYERS]
    assert sorted(one.get("data-panel") or "" for one in marked(svg, "data-panel")) == ["P1", "P2", "P3", "P4"]
    kinds = [(one.get("data-joint"), one.get("data-kind")) for one in marked(svg, "data-joint")]
    assert kinds == [("J1", "saw cut"), ("J2", "tooled groove")]
    assert [one.get("data-fixture") for one in marked(svg, "data-fixture")] == ["drain", "post"]
    assert [one.get("data-name") for one in marked(svg, "data-name")] == ["tree"]
    heights = [float(one.get("data-height-m") or 0) / FT for one in layer(svg, "heights").iter(f"{SVG}g")
               if one.get("class") == "spot-height"]  # fmt: skip
    assert sorted(heights) == pytest.approx([99.6, 99.6, 100, 100], abs=1e-3)
    assert {"A 100.00", "B 99.60", "C 99.60", "D 100.00", "J1", "J2", "tree"} <= set(words(svg))
    assert len(report.drawing["contours"]["lines"]) == sum(
        one.get("class") == "line contour" for one in layer(svg, "heights").iter()
    )


def test_only_walls_are_hatched() -> None:
    _, svg = pad()
    hatched = {one.get("data-edge") for one in marked(svg, "data-hatch")}
    assert hatched == {"kennel", "garden wall"}
    using = {one.get("data-edge") for one in layer(svg, "edges").iter() if one.get("fill") == "url(#plan-wall)"}
    assert using == hatched
    pattern = next(one for one in svg.iter(f"{SVG}pattern") if one.get("id") == "plan-wall")
    assert pattern.get("patternTransform") == "rotate(45)"


def test_the_scale_is_true() -> None:
    _, svg = pad()
    scale = int(svg.get("data-scale") or 0)
    assert (scale, '1/4" = 1\'-0" on letter') == (48, next(w for w in words(svg) if "on letter" in w))
    outline = next(one for one in layer(svg, "edges").iter() if one.get("class") == "outline")
    (ax, ay), (bx, by), (cx, cy), _ = points(outline.get("d", ""))
    # 20 ft and 10 ft at 1/4 in to the foot are 5 in and 2.5 in of paper.
    assert math.dist((ax, ay), (bx, by)) == pytest.approx(5 * 25.4, abs=0.02)
    assert math.dist((bx, by), (cx, cy)) == pytest.approx(2.5 * 25.4, abs=0.02)
    width = float((svg.get("width") or "").removesuffix("mm"))
    assert svg.get("viewBox") == f"0 0 {width:g} {float((svg.get('height') or '').removesuffix('mm')):g}"
    bar = next(one for one in svg.iter(f"{SVG}g") if one.get("class") == "scale-bar")
    drawn = sum(float(part.get("width") or 0) for part in bar.iter(f"{SVG}rect"))
    assert drawn == pytest.approx(float(bar.get("data-length-m") or 0) * 1000 / scale, abs=0.03)


def test_dimensions_say_the_sides_and_where_joints_meet_them() -> None:
    _, svg = pad()
    said = words(layer(svg, "dimensions"))
    # 20 ft in two halves; 10 ft parted at 6 ft. Opposite sides are not said twice.
    assert sorted(said) == sorted(["20'-0\"", "10'-0\"", "10'-0\"", "10'-0\"", "6'-0\"", "4'-0\""])


def test_the_arrow_of_a_plane_points_downhill_and_says_its_fall() -> None:
    _, svg = pad()
    arrow = next(one for one in svg.iter() if one.get("class") == "fall-arrow")
    shaft = next(one for one in arrow if one.get("class") == "line fall")
    (x0, y0), (x1, y1) = points(shaft.get("d", ""))
    assert x1 > x0 + 5  # 2 % to the right
    assert y1 == pytest.approx(y0, abs=0.02)
    assert words(arrow)[0].startswith("2 %")


@pytest.mark.parametrize("file", [file for file in EXAMPLES if file.parent.name == "jobs"], ids=lambda file: file.name)
def test_every_arrow_agrees_with_the_facet_under_it(file: Path) -> None:
    plan, report = example(file)
    svg = Xml.fromstring(plan_svg(report))
    assert plan.finish.surface is not None
    arrows = [one for one in svg.iter() if one.get("class") == "fall-arrow"]
    assert arrows
    for arrow in arrows:
        at = shapely.Point(float(arrow.get("data-x") or 0), float(arrow.get("data-y") or 0))
        facet = int(plan.finish.surface.tree.nearest(at))
        gx, gy = plan.finish.surface.gradients[facet]
        (x0, y0), (x1, y1) = points(next(one for one in arrow if one.get("class") == "line fall").get("d", ""))
        downhill = (-gx * (x1 - x0) + gy * (y1 - y0)) / math.hypot(gx, gy) / math.dist((x0, y0), (x1, y1))
        assert downhill > 0.999
        assert float(arrow.get("data-slope") or 0) == pytest.approx(math.hypot(gx, gy), rel=0.05)


def test_standing_water_is_shaded_by_depth_and_hatched() -> None:
    sunk = PAD.replace("A: 100, B: 99.6, C: 99.6, D: 100", "A: 99.6, B: 99.6, C: 99.6, D: 99.6, P: 99.5")
    sunk = sunk.replace("G: [3, 3]", "P: [15, 3], G: [3, 3]").replace("kind: drain", "kind: cleanout")
    sunk = sunk.replace("rest: lawn", "rest: wall").replace("beside: existing slab", "beside: wall")
    report = drawn_review(plan_of(sunk))
    svg = Xml.fromstring(plan_svg(report))
    ponds = [one for one in svg.iter() if one.get("data-pond")]
    assert len(ponds) == len(report.drawing["ponds"]) == 1
    deeper = [float(one.get("data-deeper-m") or 0) for one in ponds[0].iter() if one.get("data-deeper-m")]
    assert deeper == pytest.approx([0, 0.003175, 0.00635, 0.0127, 0.0254], abs=1e-4)
    fills = [one.get("fill") for one in ponds[0].iter() if one.get("data-deeper-m")]
    assert fills == [f"url(#plan-water-{k})" for k in range(1, 6)]
    for pattern in svg.iter(f"{SVG}pattern"):
        if "water" in (pattern.get("id") or ""):
            assert [part.tag for part in pattern] == [f"{SVG}rect", f"{SVG}path"]
    assert "low spot 1: about 1 1/4 in deep" in words(svg)


def test_every_comment_has_its_callout() -> None:
    file = next(file for file in EXAMPLES if file.name == "trailer_bay.slab.yaml")
    _, report = example(file)
    svg = Xml.fromstring(plan_svg(report))
    callouts = marked(svg, "data-comment")
    assert [int(one.get("data-comment") or 0) for one in callouts] == [c.number for c in report.comments]
    for callout, comment in zip(callouts, report.comments, strict=True):
        assert callout.get("data-weight") == comment.weight
        if comment.at.shape:
            kinds = [one.get("class") or "" for one in callout.iter()]
            assert f"spot-{comment.weight}" in kinds
            assert words(callout) == [str(comment.number)]
    unplaced = [str(c.number) for c in report.comments if not c.at.shape]
    assert unplaced
    assert f"Comments with no place on the plan: {', '.join(unplaced)}." in " ".join(words(svg))


def test_the_title_block_says_what_a_foreman_asks() -> None:
    report, svg = pad()
    said = words(layer(svg, "sheet"))
    for expected in ("Kennel yard", "slab plan", "patio", "K-3", "2026-05-04", "4 in", "not given",
                     "ft; kennel sill = 100.50", "Local code and licensed practice govern.",
                     "building or wall", "existing slab", "isolation", "saw cut, 1 in deep",
                     "tooled groove, 1 in deep", "contour every 0.05 ft"):  # fmt: skip
        assert expected in said
    assert "Steel: #4 at 18 in each way, 2 in top cover, on" in " ".join(said)
    counts = f"{report.holds} hold"
    assert any(one.startswith(counts) for one in said) or report.holds == 0


@pytest.mark.parametrize(
    ("said", "turn"), [("up", 0), ("30 deg right of up", 30), ("left", 270), ("20° left of down", 160)]
)
def test_north_points_where_the_file_says(said: str, turn: float) -> None:
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(PAD + f"permit: {{north: {said}, address: 3 Kiln Lane}}\n"))))
    (north,) = (one for one in svg.iter() if one.get("class") == "north")
    assert float(north.get("data-north-deg") or -1) == turn
    circle = next(north.iter(f"{SVG}circle"))
    letter = next(north.iter(f"{SVG}text"))
    dx = float(letter.get("x") or 0) - float(circle.get("cx") or 0)
    dy = float(letter.get("y") or 0) - 1.0 - float(circle.get("cy") or 0)
    assert math.degrees(math.atan2(dx, -dy)) % 360 == pytest.approx(turn, abs=0.5)
    assert "3 Kiln Lane" in words(svg)
    assert overlaps(boxes(svg)) == []


def test_north_that_cannot_be_drawn_is_written() -> None:
    said = "towards the old mill"
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(PAD + f"permit: {{north: {said}}}\n"))))
    assert not [one for one in svg.iter() if one.get("class") == "north"]
    assert said in words(layer(svg, "sheet"))
    assert not [one for one in pad()[1].iter() if one.get("class") == "north"]  # nothing said, nothing drawn
    assert "not given" in words(layer(pad()[1], "sheet"))


@pytest.mark.parametrize("system", ["us", "metric"])
def test_both_unit_systems(system: Any) -> None:
    svg = Xml.fromstring(plan_svg(replace(drawn_review(plan_of(PAD)), system=system)))
    dimensions = words(layer(svg, "dimensions"))
    assert all(("'" in one) == (system == "us") for one in dimensions)
    assert ("6.096 m" in dimensions) == (system == "metric")  # 20 ft
    assert (int(svg.get("data-scale") or 0) in {n for n, _ in SCALES[system]}) is True
    assert ("A 30.480" in words(svg)) == (system == "metric")
    assert any("on A4" in one for one in words(svg)) == (system == "metric")
    datum = "m; kennel sill = 100.50 ft" if system == "metric" else "ft; kennel sill = 100.50"
    assert datum in words(svg)


# --- safe to embed ---


def test_names_from_the_file_stay_words() -> None:
    text = PAD.replace("Kennel yard", f"'{HOSTILE.replace(chr(39), chr(39) * 2)}'")
    text = text.replace("name: tree", "name: '<b>&\"tree'").replace("name: kennel,", 'name: \'"/><image href="x"\',')
    text = text.replace("name: J1", "name: '<J>'").replace("datum: kennel sill = 100.50", "datum: '</style><a>'")
    source = plan_svg(drawn_review(plan_of(text)))
    svg = Xml.fromstring(source)
    tags = {one.tag.removeprefix(SVG) for one in svg.iter()}
    assert tags <= {"svg", "title", "style", "defs", "pattern", "g", "path", "rect", "circle", "text", "ellipse"}
    assert "<J>" in words(svg)
    assert [one.get("data-name") for one in marked(svg, "data-name")] == ['<b>&"tree']
    assert "<script>" not in source


@pytest.mark.parametrize("drawn", ["plan", "section"])
def test_a_drawing_refers_to_nothing_outside_and_runs_nothing(drawn: str) -> None:
    plan = plan_of(PAD)
    report = drawn_review(plan)
    source = plan_svg(report) if drawn == "plan" else section_svg(cut_report(plan, "A-C"))
    bare = source.replace("http://www.w3.org/2000/svg", "")
    assert not re.search(r"https?:|href|<script|javascript|@import|@font-face|data:|\bon\w+=", bare)
    svg = Xml.fromstring(source)
    ids = [one.get("id") or "" for one in marked(svg, "id")]
    assert len(ids) == len(set(ids))
    assert all(one == drawn or one.startswith(f"{drawn}-") for one in ids)
    assert set(re.findall(r"url\(#([^)]+)\)", source)) <= set(ids)
    style = next(one.text or "" for one in svg.iter(f"{SVG}style"))
    assert all(rule.startswith(f"#{drawn} ") for rule in style.split("}") if rule)  # none leaks into a page around


def test_words_are_cut_and_wrapped_to_measure() -> None:
    assert escaped("a\x00\x1b[31m<\n&") == "a[31m&lt; &amp;"
    assert text_width(shortened("W" * 80, 20, 2.3), 2.3) <= 20
    assert shortened("short", 20, 2.3) == "short"
    lines = wrapped("a rather long name of a job that goes on and on", 20, 2.3, 2)
    assert len(lines) == 2
    assert all(text_width(one, 2.3) <= 20 for one in lines)
    assert lines[-1].endswith("…")


# --- big plans ---


def test_a_big_plan_is_thinned_and_says_so() -> None:
    across, up = 40, 25
    rows = [PAD.split("points:")[0], f"points: {{A: [0, 0], B: [{across * 10}, 0], C: [{across * 10}, {up * 10}],"]
    rows += [f" D: [0, {up * 10}]}}\noutline: [A, B, C, D]\nthickness: {{design: 6 in}}\njoints:\n"]
    rows += [
        f"  - {{name: X{k}, from: [{k * 10}, 0], to: [{k * 10}, {up * 10}], kind: saw cut}}\n" for k in range(1, across)
    ]
    rows += [
        f"  - {{name: Y{k}, from: [0, {k * 10}], to: [{across * 10}, {k * 10}], kind: saw cut}}\n" for k in range(1, up)
    ]
    rows += ["heights: {finish: {A: 100, B: 101, C: 102, D: 101}}\n"]
    plan = plan_of("".join(rows))
    report = content.drawn(run.review(plan, (), {}), plan)
    source = plan_svg(report)
    svg = Xml.fromstring(source)
    assert len(marked(svg, "data-panel")) == across * up
    assert len(source) < 2_000_000
    labels = boxes(svg)
    assert overlaps(labels) == []
    names = sum(bool(re.fullmatch(r"P\d+", text)) for text, _ in labels)
    note = " ".join(words(layer(svg, "sheet")))
    missing = re.search(r"panel names \((\d+)\)", note)
    assert names + (int(missing[1]) if missing else 0) == across * up


def test_of_many_shots_some_are_lettered_and_the_rest_counted() -> None:
    rng = random.Random(4)
    shots = [(f"S{k}", rng.uniform(0.2, 19.8), rng.uniform(0.2, 9.8)) for k in range(400)]
    head = PAD.split("openings:")[0].replace(
        "J: [3, 5]", ", ".join(["J: [3, 5]", *(f"{n}: [{x:.3f}, {y:.3f}]" for n, x, y in shots)])
    )
    heights = ", ".join(
        f"{n}: {100 - 0.02 * x:.3f}" for n, x, _ in [*shots, ("A", 0, 0), ("B", 20, 0), ("C", 20, 0), ("D", 0, 0)]
    )
    plan = plan_of(f"{head}thickness: {{design: 4 in}}\nheights: {{finish: {{{heights}}}}}\n")
    report = content.drawn(run.review(plan, (), {}), plan)
    svg = Xml.fromstring(plan_svg(report))
    lettered = [one for one in svg.iter(f"{SVG}g") if one.get("class") == "spot-height"]
    left_out = re.search(r"spot heights \((\d+)\)", " ".join(words(layer(svg, "sheet"))))
    assert left_out is not None
    assert len(lettered) + int(left_out[1]) == 404
    squares = 20 * 10 * FT**2 * (1000 / int(svg.get("data-scale") or 1)) ** 2 / 15**2
    assert (
        0.5 * squares < len(lettered) < 1.5 * squares + 20
    )  # one in each square of 15 mm, cut squares at the edge too
    assert overlaps(boxes(svg)) == []


def test_level_ground_is_said_to_be_level() -> None:
    level = PAD.replace("A: 100, B: 99.6, C: 99.6, D: 100", "A: 100, B: 100, C: 100, D: 100")
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(level))))
    assert "level" in words(layer(svg, "heights"))
    assert not [one for one in svg.iter() if one.get("class") == "fall-arrow"]


def test_callouts_tell_weight_and_variance_by_their_shape() -> None:
    file = next(file for file in EXAMPLES if file.name == "trailer_bay.slab.yaml")
    _, report = example(file)
    first = next(comment for comment in report.comments if comment.at.shape)
    accepted = VarianceNote("seen on site", "foreman", "2026-01-01", Place("pad.slab.yaml", 3))
    made = (
        replace(first, number=1, weight="hold"),
        replace(first, number=2, weight="caution"),
        replace(first, number=3, weight="note"),
        replace(first, number=4, weight="hold", variance=accepted),
    )
    svg = Xml.fromstring(plan_svg(replace(report, comments=made)))
    signs = {}
    for callout in marked(svg, "data-comment"):
        (sign,) = (one for one in callout.iter() if "bubble" in (one.get("class") or ""))
        corners = len(points(sign.get("d", ""))) if sign.get("d") else "round"
        signs[callout.get("data-comment")] = (corners, "accepted" in (sign.get("class") or ""))
    assert signs == {"1": (8, False), "2": (4, False), "3": ("round", False), "4": (8, True)}
    meanings = [one for one in words(layer(svg, "sheet")) if one.split(":")[0] in ("hold", "caution", "note")]
    assert meanings == ["hold: settle before ordering", "caution: think twice", "note: worth knowing"]
    assert "hold accepted by a variance" in words(layer(svg, "sheet"))


def test_the_legend_names_no_sign_that_is_not_on_the_plan() -> None:
    _, report = example(next(file for file in EXAMPLES if file.name == "trailer_bay.slab.yaml"))
    accepted = VarianceNote("seen on site", "foreman", "2026-01-01", Place("pad.slab.yaml", 3))
    comments = tuple(replace(one, weight="hold", variance=accepted) for one in report.comments)
    legend = words(layer(Xml.fromstring(plan_svg(replace(report, comments=comments))), "sheet"))
    assert "hold accepted by a variance" in legend
    assert not [one for one in legend if one.startswith(("hold:", "caution:", "note:"))]


# --- sections ---


def cut_report(plan: Plan, along: str, system: Any = None) -> Report:
    report = drawn_review(plan)
    cut = section.section(plan, *section.line_of(plan.design, along))
    return replace(report, system=system or report.system, drawing={**report.drawing, "section": cut})


@pytest.mark.parametrize("system", ["us", "metric"])
@pytest.mark.parametrize("along", ["A-C", "0,5 to 20,5", "D-B", "10,0 to 10,10"])
def test_labels_of_a_section_do_not_overlap(along: str, system: Any) -> None:
    svg = Xml.fromstring(section_svg(cut_report(plan_of(PAD), along, system)))
    assert overlaps(boxes(svg)) == []


def test_a_section_states_how_much_steeper_it_is_drawn() -> None:
    report = cut_report(plan_of(PAD), "0,8 to 20,8")
    svg = Xml.fromstring(section_svg(report))
    scale, steep = int(svg.get("data-scale") or 0), int(svg.get("data-exaggeration") or 0)
    assert f"Heights are drawn {steep} times as large as lengths." in words(svg)
    assert any(f"heights x{steep}" in one for one in words(svg))
    finish = next(one for one in svg.iter() if one.get("class") == "outline finish")
    drawn = points(finish.get("d", ""))
    (x0, y0), (x1, y1) = drawn[0], drawn[-1]
    assert x1 - x0 == pytest.approx(20 * FT * 1000 / scale, abs=0.02)
    assert y1 - y0 == pytest.approx(0.4 * FT * 1000 / scale * steep, abs=0.02)  # 0.4 ft down to the right
    parts = {one.get("data-part") for one in svg.iter() if one.get("data-part")}
    assert parts == {"concrete"}  # this file gives no base
    assert {"J1", "4 in thick", "kennel sill 100.50", "20'-0\""} <= set(words(svg))
    assert any(one.get("class") == "bar" for one in svg.iter())


def test_a_section_shows_base_walls_and_isolation() -> None:
    text = PAD.replace("use: patio", "use: patio\nsite: {base: {material: crushed stone, thickness: 4 in}}")
    svg = Xml.fromstring(section_svg(cut_report(plan_of(text), "0,8 to 20,8")))
    parts = {one.get("data-part"): points(one.get("d", "")) for one in svg.iter() if one.get("data-part")}
    assert set(parts) == {"concrete", "base"}
    scale, steep = int(svg.get("data-scale") or 0), int(svg.get("data-exaggeration") or 0)
    four_inches = 4 * 25.4 / scale * steep
    for ring in parts.values():  # 4 in of concrete on 4 in of base, at the left end
        heights = [y for x, y in ring if x == ring[0][0]]
        assert max(heights) - min(heights) == pytest.approx(four_inches, abs=0.03)
    assert max(y for _, y in parts["concrete"]) < max(y for _, y in parts["base"])
    said = words(svg)
    assert {"crushed stone", "building or wall", "isolation", "kennel (building)"} <= set(said)
    assert "Underside at the design thickness." in said


def test_a_section_shows_the_ground_beyond_both_ends_and_where_it_is_cut() -> None:
    """Ground at 99.5 ft beside the right edge, the finish there at 99.6 ft: the line lies 0.1 ft lower, to scale."""
    text = PAD.replace("{run: [B, C], beside: existing slab}", "{run: [B, C], beside: gravel, ground: 99.5}")
    text = text.replace("{run: [D, A], beside: building, name: kennel,", "{run: [D, A], beside: lawn, name: run,")
    svg = Xml.fromstring(section_svg(cut_report(plan_of(text), "0,8 to 20,8")))
    left, right = sorted(marked(svg, "data-ground"), key=lambda one: one.get("data-ground") or "")
    assert (left.get("data-ground"), float(right.get("data-ground") or 0)) == ("", pytest.approx(99.5 * FT, abs=1e-3))
    assert "ground not given" in words(left)
    ground = next(points(one.get("d", "")) for one in right if one.get("class") == "line ground")
    finish = points(next(one.get("d", "") for one in svg.iter() if one.get("class") == "outline finish"))
    scale, steep = int(svg.get("data-scale") or 0), int(svg.get("data-exaggeration") or 0)
    assert ground[0][1] - finish[-1][1] == pytest.approx(0.1 * FT * 1000 / scale * steep, abs=0.03)
    assert ground[1][0] - ground[0][0] > 10  # beyond the slab
    (key,) = marked(svg, "data-key-plan")
    assert words(key) == ["0,8 to 20,8"] * 2  # its name at both ends of the line


def test_lengths_of_a_section_are_taped_in_eighths() -> None:
    """8 ft across and 10.05 ft along are 12.848 ft of slant (Pythagoras), 12'-10 1/8" on a tape."""
    text = PAD.replace("C: [20, 10]", "C: [20, 10], S: [0, 1], T: [10.05, 9]")
    said = words(Xml.fromstring(section_svg(cut_report(plan_of(text), "S-T"))))
    assert "12'-10 1/8\"" in said
    assert not [one for one in said if re.search(r"'-\d+\.\d", one)]


# --- what may be drawn besides ---


def test_a_curved_front_has_its_overall_depth() -> None:
    """A front of 20 ft chord that rises 2 ft over sides of 10 ft: 12 ft overall."""
    text = PAD.replace("outline: [A, B, C, D]", "outline: [A, B, C, {arc_to: D, through: T}]")
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(text.replace("C: [20, 10]", "C: [20, 10], T: [10, 12]")))))
    assert "12'-0\" overall" in words(layer(svg, "dimensions"))
    inward = text.replace("C: [20, 10]", "C: [20, 10], T: [10, 8]").replace("to: [10, 10]", "to: [10, 8]")
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(inward))))
    assert not [one for one in words(layer(svg, "dimensions")) if "overall" in one]


def test_a_round_slab_is_measured_along_the_plan() -> None:
    """A circle of 20 ft: 20 ft overall along both ways of the plan, and no slanted string."""
    text = (
        "format: 1\njob: {name: Round}\nunits: {plan: ft, height: ft}\nuse: patio\nthickness: {design: 4 in}\n"
        "points: {W: [0, 10], E: [20, 10], S: [10, 0], N: [10, 20]}\n"
        "outline: [W, {arc_to: E, through: S}, {arc_to: W, through: N}]\n"
    )
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(text))))
    assert [one for one in words(layer(svg, "dimensions")) if "overall" in one] == 2 * ["20'-0\" overall"]


def test_a_property_line_runs_beside_its_edge_and_past_both_ends() -> None:
    text = PAD.replace("{run: [B, C], beside: existing slab}", "{run: [B, C], beside: property line}")
    svg = Xml.fromstring(plan_svg(drawn_review(plan_of(text))))
    lot = next(points(one.get("d", "")) for one in layer(svg, "edges") if one.get("class") == "line property")
    outline = points(next(one.get("d", "") for one in layer(svg, "edges") if one.get("class") == "outline"))
    (bx, by), (cx, cy) = outline[1], outline[2]
    assert all(1 < x - bx < 2 for x, _ in lot) and bx == cx
    assert max(y for _, y in lot) > by + 5 and min(y for _, y in lot) < cy - 5
    assert "property line" in words(layer(svg, "sheet"))
    dashes = re.search(r"\.property{[^}]*stroke-dasharray:([\d. ]+)", next(svg.iter(f"{SVG}style")).text or "")
    assert dashes and len(dashes[1].split()) == 6  # a long dash and two short ones


def letters_on_lines(svg: Xml.Element) -> list[str]:
    """Names that lie on the outline, on a joint, on an edge of an opening or on a tick of a dimension."""
    kinds = {"outline", "opening", "line saw-cut", "line tooled-groove", "line construction-joint", "line tick"}
    lines = []
    for one in (one for name in ("edges", "joints", "dimensions") for one in layer(svg, name).iter(f"{SVG}path")):
        if one.get("class") in kinds:
            for part in re.findall(r"M[^M]+", one.get("d", "")):
                closed = points(part) + (points(part)[:1] if part.endswith("Z") else [])
                lines += [shapely.LineString(closed)] if len(closed) > 1 else []
    tree = shapely.STRtree(lines)
    names = [one for name in ("joints", "names", "fixtures") for one in boxes(layer(svg, name))]
    return [text for text, box in names if len(tree.query(box.buffer(-0.1), predicate="intersects"))]


@pytest.mark.parametrize("file", [file for file in EXAMPLES if file.parent.name == "jobs"], ids=lambda file: file.name)
def test_names_stand_clear_of_lines_and_the_slab_fills_its_sheet(file: Path) -> None:
    report = example(file)[1]
    svg = Xml.fromstring(plan_svg(report))
    assert letters_on_lines(svg) == []
    name = next(text for text, _ in boxes(layer(svg, "joints")))
    moved = next(one for one in layer(svg, "joints").iter(f"{SVG}text") if one.text == name)
    outline = points(next(one.get("d", "") for one in layer(svg, "edges") if one.get("class") == "outline"))
    moved.set("x", str(outline[0][0])), moved.set("y", str(outline[0][1])), moved.attrib.pop("transform", None)
    assert letters_on_lines(svg) == [name]  # the measure finds one that does not
    view = sheet_for(report)
    wide, tall = (view.high[k] - view.low[k] for k in (0, 1))
    xs, ys = zip(*outline, strict=True)
    assert max((max(xs) - min(xs)) / wide, (max(ys) - min(ys)) / tall) >= 0.5


# --- the command ---


def main(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str, str]:
    status = cli.main([str(argument) for argument in arguments])
    captured = capsys.readouterr()
    return status, captured.out, captured.err


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "pad.slab.yaml"
    path.write_text(PAD, encoding="utf-8")
    return path


def test_draw_writes_the_plan(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "plan.svg"
    status, said, err = main(capsys, "draw", file, "--out", out)
    assert (status, said, err) == (0, f"wrote {out}\n", "")
    first = out.read_text(encoding="utf-8")
    assert Xml.fromstring(first).get("class") == "slab-plan"
    assert main(capsys, "draw", file)[1] == first  # the screen gets the same; drawing twice draws the same
    assert main(capsys, "draw", file, "--out", out, "--metric")[0] == 0
    assert "on A4" in out.read_text(encoding="utf-8")


def test_draw_says_how_it_is_written(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        cli.main(["draw", "-h"])
    said = capsys.readouterr().out
    assert stop.value.code == 0
    assert "slabwright draw drive.slab.yaml --section A-C --out section.svg" in said


def test_draw_writes_a_section(file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "section.svg"
    assert main(capsys, "draw", file, "--section", "A-C", "--out", out)[0] == 0
    svg = Xml.fromstring(out.read_text(encoding="utf-8"))
    assert svg.get("class") == "slab-section"
    assert "section A-C" in words(svg)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--out", "plan.png"], "a drawing is an SVG or a PDF file"),
        (["--section", "A-C", "--pins"], "marks and pins are drawn on the plan"),
        (["--mark", "A-Q"], "there is no point Q on the plan"),
        (["--out", "no/such/folder/plan.svg"], "it cannot be written"),
        (["--section", "A-Q"], "there is no point Q on the plan"),
        (["--section", "5,50 to 9,50"], "the line does not cross the slab"),
    ],
)
def test_draw_refuses_with_a_remedy(
    arguments: list[str], said: str, file: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(file.parent)
    status, out, err = main(capsys, "draw", file, *arguments)
    assert (status, out) == (2, "")
    assert said in err
    assert "write:" in err


def test_draw_marks_sections_and_pins(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = main(capsys, "draw", file, "--mark", "A-C", "--mark", "D-B", "--pins")
    svg = Xml.fromstring(out)
    assert status == 0
    assert [one.get("data-section") for one in marked(svg, "data-section")] == ["A-C", "D-B"]
    assert main(capsys, "stake", file, "--json")[0] == 0
    pins = [one.get("data-pin") for one in marked(svg, "data-pin")]
    assert len(pins) >= 8
    assert [words(one) for one in marked(svg, "data-pin")] == [[number] for number in pins]  # none left out
    assert overlaps(boxes(svg)) == []


def test_draw_writes_a_pdf_of_the_size_of_the_sheet(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Letter paper is 11 in x 8 1/2 in, 792 x 612 points (a point is 1/72 in)."""
    out = tmp_path / "plan.pdf"
    assert main(capsys, "draw", file, "--out", out)[:2] == (0, f"wrote {out}\n")
    content = out.read_bytes()
    assert content.startswith(b"%PDF-")
    box = re.search(rb"/MediaBox \[ ?0 0 ([\d.]+) ([\d.]+)", content)
    assert box and [float(side) for side in box.groups()] == pytest.approx([792, 612], abs=0.1)
    monkeypatch.setitem(sys.modules, "cairosvg", None)  # as if it were not installed
    status, _, err = main(capsys, "draw", file, "--out", tmp_path / "other.pdf")
    assert status == 2
    assert "a PDF needs cairosvg" in err and "pip install 'slabwright[pdf]'" in err and "--out other.svg" in err
    assert not (tmp_path / "other.pdf").exists()


def test_draw_refuses_an_unreadable_design(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.slab.yaml"
    bad.write_text(PAD.replace("outline: [A, B, C, D]", "outline: [A, B, Q, D]"), encoding="utf-8")
    out = tmp_path / "plan.svg"
    status, said, err = main(capsys, "draw", bad, "--out", out)
    assert (status, said) == (2, "")
    assert f"{bad}:6:17" in err
    assert not out.exists()


def test_draw_succeeds_whatever_the_review_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    short = tmp_path / "short.slab.yaml"
    short.write_text(
        PAD.replace("A: 100, B: 99.6, C: 99.6, D: 100", "A: 99, B: 99.6, C: 99.6, D: 99"), encoding="utf-8"
    )
    assert cli.main(["review", str(short)]) == 1
    assert main(capsys, "draw", short, "--out", tmp_path / "short.svg")[0] == 0


def test_all_joint_kinds_look_different() -> None:
    kinds = ["saw cut", "early saw cut", "tooled groove", "formed strip", "construction joint", "pattern"]
    joints = "".join(
        f"  - {{name: K{k}, from: [{2 + 3 * k}, 0], to: [{2 + 3 * k}, 10], kind: {kind}}}\n"
        for k, kind in enumerate(kinds)
    )
    text = PAD.split("openings:")[0] + "thickness: {design: 4 in}\njoints:\n" + joints
    plan = plan_of(text)
    svg = Xml.fromstring(plan_svg(content.drawn(run.review(plan, (), {}), plan)))
    style = next(one.text or "" for one in svg.iter(f"{SVG}style"))
    looks = set()
    for joint in marked(svg, "data-joint"):
        classes = [(one.get("class") or "").split() for one in joint.iter(f"{SVG}path")]
        looks.add(
            tuple(rule for name in itertools.chain(*classes) for rule in re.findall(rf"#plan \.{name}{{(.*?)}}", style))
        )
    assert len(looks) == len(kinds)
    assert {"pattern line (no joint)", "saw cut", "construction joint"} <= set(words(layer(svg, "sheet")))
