"""The data of a drawing: contours, falls, depth of water, sides and sections, held against closed forms."""

from __future__ import annotations

import itertools
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from checkout import ROOT
from design_text import plan_of
from slabwright.drawing import content, relief, section
from slabwright.drawing.svg.plan_svg import plan_drawn, plan_svg
from slabwright.drawing.svg.sheet import PAGE
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.source.problem import UnreadableError

FT, IN = 0.3048, 0.0254

# A 20 ft x 10 ft plane that falls 2 % to the right.
TILTED = """\
format: 1
job: {name: Tilted pad}
units: {plan: ft, height: ft}
use: driveway
site: {base: {material: crushed stone, thickness: 4 in}}
points: {A: [0, 0], B: [20, 0], C: [20, 10], D: [0, 10], M: [10, 0], N: [10, 10]}
outline: [A, B, C, D]
edges:
  - {run: [D, A], beside: building, name: barn, isolation: {material: foam, thickness: 1/2 in, depth: full}}
  - {rest: lawn}
heights: {finish: {A: 100, B: 99.6, C: 99.6, D: 100}}
fixed: [{name: barn sill, kind: sill, along: [D, A], height: 100.5}]
thickness: {design: 6 in, thickened_edges: [{run: [B, C], depth: 12 in, taper: 2 ft}]}
joints:
  - {name: J1, from: M, to: N, kind: saw cut, depth: 1.5 in}
reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 2 in, held_by: chairs}}
"""

# A 4 m square bowl, 40 mm deep in the middle, with walls all round.
BOWL = """\
format: 1
job: {name: Bowl}
units: {plan: m, height: mm}
use: patio
points: {A: [0, 0], B: [4, 0], C: [4, 4], D: [0, 4], K: [2, 2]}
outline: [A, B, C, D]
edges: [{rest: wall}]
heights: {finish: {A: 1000, B: 1000, C: 1000, D: 1000, K: 960}}
thickness: {design: 100 mm}
"""

ROUND = """\
format: 1
job: {name: Round end}
units: {plan: m, height: m}
use: patio
points: {A: [0, 0], B: [6, 0], C: [6, 4], T: [3, 7], D: [0, 4]}
outline: [A, B, C, {arc_to: D, through: T}]
thickness: {design: 100 mm}
"""


@pytest.fixture(scope="module")
def tilted() -> Plan:
    plan: Plan = plan_of(TILTED)
    return plan


def test_everything_is_drawn_as_plain_data(tilted: Plan) -> None:
    data = content.drawing(tilted)
    assert data["not_drawn"] == {}
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert content.drawn(run.review(tilted, (), {}), tilted).drawing == data


def test_a_part_that_fails_is_named_and_the_rest_stands(tilted: Plan, monkeypatch: pytest.MonkeyPatch) -> None:
    def fails(plan: Plan) -> None:
        raise ValueError("no rings today")

    monkeypatch.setattr(content, "_PARTS", {**content._PARTS, "openings": fails, "steel": fails})
    data = content.drawing(tilted)
    assert data["not_drawn"] == {"openings": "ValueError: no rings today", "steel": "ValueError: no rings today"}
    assert data["openings"] == []
    assert data["steel"] is None
    assert len(data["panels"]) == 2


def test_sides_have_their_length_and_arcs_their_radius() -> None:
    sides = content.drawing(plan_of(ROUND))["sides"]
    straight = {(s["from"], s["to"]): s["length_m"] for s in sides if s["radius_m"] is None}
    assert straight == pytest.approx({("D", "A"): 4, ("A", "B"): 6, ("B", "C"): 4})
    (arc,) = (s for s in sides if s["radius_m"] is not None)
    assert arc["radius_m"] == pytest.approx(3)  # a half circle on 6 m


# --- contours ---


def test_contours_of_a_plane_lie_where_the_plane_has_their_height(tilted: Plan) -> None:
    found = content.drawing(tilted)["contours"]
    assert found["interval_m"] == pytest.approx(0.05 * FT)  # 0.4 ft of fall: 20 lines at 0.02 ft would be too many
    # By hand: 99.65, 99.70 ... 99.95 ft, each across the whole slab at (100 - height) / 0.02 ft.
    assert [line["height_m"] / FT for line in found["lines"]] == pytest.approx([99.65 + 0.05 * k for k in range(7)])
    for line in found["lines"]:
        xs, ys = zip(*line["line"], strict=True)
        assert list(xs) == pytest.approx([(100 - line["height_m"] / FT) / 0.02 * FT] * len(xs), abs=1e-6)
        assert sorted(ys)[0] == pytest.approx(0, abs=1e-6)
        assert sorted(ys)[-1] == pytest.approx(10 * FT)


def test_contours_of_a_bowl_are_closed_squares() -> None:
    plan = plan_of(BOWL)
    found = content.drawing(plan)["contours"]
    assert found["interval_m"] == pytest.approx(0.005)
    assert len(found["lines"]) == 7  # 965, 970 ... 995 mm; neither the rim nor the lowest point
    for line in found["lines"]:
        assert line["line"][0] == line["line"][-1]
        share = (line["height_m"] - 0.96) / 0.04
        assert shapely.Polygon(line["line"]).area == pytest.approx((4 * share) ** 2)


@pytest.mark.parametrize("file", sorted(ROOT.glob("example_designs/jobs/*.slab.yaml")), ids=str)
def test_contours_have_the_height_of_the_surface(file: Path) -> None:
    from slabwright.design.read import read_design

    plan = Plan(read_design(file)[0])
    found = content.drawing(plan)["contours"]
    assert found is not None
    assert plan.finish.surface is not None
    assert 0 < len({line["height_m"] for line in found["lines"]}) <= 13
    for line in found["lines"]:
        heights = plan.finish.surface.height(np.array(line["line"]))
        assert np.abs(heights - line["height_m"]).max() < 2e-6


@pytest.mark.parametrize(
    ("span", "system", "expected"),
    [
        (0.1 * FT, "us", 0.02 * FT),
        (0.3 * FT, "us", 0.05 * FT),
        (1.2 * FT, "us", 0.1 * FT),
        (2.0 * FT, "us", 0.25 * FT),
        (0.03, "metric", 0.005),
        (0.1, "metric", 0.010),
        (0.3, "metric", 0.025),
        (0.5, "metric", 0.05),
        (900.0, "metric", 1.0),
    ],
)
def test_the_contour_interval_fits_the_fall(span: float, system: Any, expected: float) -> None:
    assert relief.interval(span, system) == pytest.approx(expected)


# --- falls and water ---


def test_one_arrow_points_down_a_plane(tilted: Plan) -> None:
    (fall,) = content.drawing(tilted)["falls"]
    assert fall["slope"] == pytest.approx(0.02)
    assert fall["downhill"] == pytest.approx([1, 0], abs=1e-9)
    assert fall["area_m2"] == pytest.approx(200 * FT**2)
    assert fall["reach_m"] == pytest.approx(5 * FT, rel=0.02)


def test_a_bowl_has_an_arrow_on_every_side_towards_its_middle() -> None:
    falls = content.drawing(plan_of(BOWL))["falls"]
    assert len(falls) == 4
    for fall in falls:
        assert fall["slope"] == pytest.approx(0.02)
        towards = np.array([2.0, 2.0]) - fall["at"]
        assert float(towards @ fall["downhill"]) > 0.7 * float(np.hypot(*towards))


def test_level_ground_has_no_arrow() -> None:
    level = BOWL.replace("K: 960", "K: 1000")
    (fall,) = content.drawing(plan_of(level))["falls"]
    assert fall["downhill"] is None


def test_arrows_of_a_rough_surface_stand_on_a_grid_and_follow_its_facets() -> None:
    rng = np.random.default_rng(7)
    points = rng.uniform(0.1, 9.9, (300, 2))
    names = [f"S{k}" for k in range(300)]
    text = ROUND.split("points:")[0] + "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10], "
    text += ", ".join(f"{n}: [{x:.3f}, {y:.3f}]" for n, (x, y) in zip(names, points, strict=True))
    text += "}\noutline: [A, B, C, D]\nthickness: {design: 100 mm}\nheights: {finish: {A: 1, B: 1, C: 1.3, D: 1.3, "
    rough = 1 + 0.03 * points[:, 1] + rng.normal(0, 0.001, 300)
    text += ", ".join(f"{n}: {z:.4f}" for n, z in zip(names, rough, strict=True)) + "}}\n"
    falls = content.drawing(plan_of(text))["falls"]
    assert 40 <= len(falls) <= 64
    assert sum(fall["area_m2"] for fall in falls) == pytest.approx(100)
    mean = np.average([fall["downhill"] for fall in falls], axis=0, weights=[fall["area_m2"] for fall in falls])
    assert mean[1] < -0.9  # the ground rises up the sheet by 3 %


def test_depth_bands_of_a_bowl_are_the_squares_of_its_depth() -> None:
    (pond,) = content.drawing(plan_of(BOWL))["ponds"]
    assert pond["depth_m"] == pytest.approx(0.04)
    assert [band["deeper_m"] for band in pond["bands"]] == [0.0, 0.003, 0.006, 0.012, 0.025]
    for band in pond["bands"]:
        area = sum(shapely.Polygon(ring).area for ring in band["rings"])
        assert area == pytest.approx(16 * (1 - band["deeper_m"] / 0.04) ** 2)


def test_depth_bands_of_a_fan_of_facets_lose_no_part() -> None:
    # Facets round an arc are cut at places that agree only to the last digit; checked against a fine grid.
    text = ROUND.replace("T: [3, 7]", "T: [3, 5.2], K: [3, 2]").replace(
        "thickness:", "edges: [{rest: wall}]\nheights: {finish: {A: 1, B: 1, C: 1.01, D: 1.01, K: 0.96}}\nthickness:"
    )
    plan = plan_of(text)
    assert plan.finish.surface is not None
    (pond,) = content.drawing(plan)["ponds"]
    xs, ys = np.meshgrid((np.arange(300) + 0.5) * 0.02, (np.arange(260) + 0.5) * 0.02)
    heights = plan.finish.surface.height(np.column_stack([xs.ravel(), ys.ravel()]))
    for band in pond["bands"]:
        shape = shapely.Polygon()
        for ring in band["rings"]:
            shape = shape.symmetric_difference(shapely.Polygon(ring))
        with np.errstate(invalid="ignore"):
            cells = (pond["level_m"] - heights > band["deeper_m"]).sum() * 0.02**2
        assert shape.area == pytest.approx(cells, rel=0.01)


# --- sections ---


def _section(plan: Plan, words: str) -> dict[str, Any]:
    return section.section(plan, *section.line_of(plan.design, words))


def test_a_section_cuts_finish_underside_joints_steel_and_fixed_heights(tilted: Plan) -> None:
    cut = _section(tilted, "0,5 to 20,5")
    assert cut["length_m"] == pytest.approx(20 * FT)
    (part,) = cut["parts"]
    along, finish, under = (np.array(part[key]) for key in ("along_m", "finish_m", "underside_m"))
    assert finish == pytest.approx(100 * FT - 0.02 * along)
    # 6 in thick; from 18 ft to 20 ft the underside goes down to 12 in.
    expected = 6 * IN + np.clip((along - 18 * FT) / (2 * FT), 0, 1) * 6 * IN
    assert finish - under == pytest.approx(expected, abs=1e-9)
    assert [(j["name"], round(j["at_m"] / FT, 6), j["depth_m"]) for j in cut["joints"]] == [("J1", 10, 1.5 * IN)]
    (steel,) = cut["steel"]
    assert (steel.pop("name"), steel.pop("from_m")) == ("#4", 0)
    assert steel.pop("to_m") == pytest.approx(cut["length_m"])
    assert steel == pytest.approx({"spacing_m": 18 * IN, "diameter_m": 0.5 * IN, "top_cover_m": 2 * IN})
    assert [(f["name"], f["at_m"], round(f["height_m"] / FT, 6)) for f in cut["fixed"]] == [("barn sill", 0, 100.5)]
    assert {(e["beside"], round(e["at_m"] / FT), e["isolation"]) for e in cut["ends"]} == {
        ("building", 0, True),
        ("lawn", 20, False),
    }


def test_a_section_over_an_opening_has_two_parts() -> None:
    text = TILTED.replace(
        "\nedges:", "\nopenings: [{name: pit, corners: [[4, 4], [6, 4], [6, 6], [4, 6]], holds: pit}]\nedges:"
    )
    parts = _section(plan_of(text), "0,5-20,5")["parts"]
    spans = [(part["along_m"][0] / FT, part["along_m"][-1] / FT) for part in parts]
    assert list(itertools.chain(*spans)) == pytest.approx([0, 4, 6, 20])


def test_a_section_reads_the_base_as_shot() -> None:
    base = "heights: {base: {A: 99.4, B: 99.1, C: 99.1, D: 99.4}, "
    cut = _section(plan_of(TILTED.replace("heights: {", base)), "D-C")
    assert cut["base_is_shot"] is True
    (part,) = cut["parts"]
    assert part["underside_m"][0] == pytest.approx(99.4 * FT)
    # The shots lie under the slab; at B-C the edge is dug 6 in deeper than they say.
    assert part["underside_m"][-1] == pytest.approx(99.1 * FT - 6 * IN)


def test_a_section_between_points_with_hyphens_in_their_names() -> None:
    plan = plan_of(TILTED.replace("A", "A-1"))
    start, end, title = section.line_of(plan.design, "A-1-C")
    assert (start, title) == ((0, 0), "A-1-C")
    assert end == pytest.approx((20 * FT, 10 * FT))
    assert section.line_of(plan.design, "A-1 to C")[1] == end


@pytest.mark.parametrize(
    ("words", "wrong"),
    [
        ("A-Q", "there is no point Q on the plan"),
        ("A", "there is no point A on the plan"),
        ("A-A", "both ends of the section are at one place"),
        ("1.2.3,4 to 5,6", "1.2.3 is no number of the plan"),
        ("0,30 to 20,30", "the line does not cross the slab"),
    ],
)
def test_a_section_that_cannot_be_cut_is_refused(tilted: Plan, words: str, wrong: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        _section(tilted, words)
    (problem,) = refused.value.problems
    assert wrong in problem.wrong
    assert "A-C" in problem.write


def test_a_section_needs_every_finish_height() -> None:
    plan = plan_of(TILTED.replace("B: 99.6, ", "").replace("heights: {finish: {A: 100, C: 99.6, D: 100}}", ""))
    with pytest.raises(UnreadableError) as refused:
        _section(plan, "A-C")
    (problem,) = refused.value.problems
    assert problem.wrong == "a section needs every finish height"
    assert all(name in problem.write for name in "ABCD")


def test_corner_bars_lie_across_the_crack_from_their_corner() -> None:
    text = """\
format: 1
job: {name: L}
units: {plan: m, height: m}
use: patio
points: {A: [0, 0], B: [4, 0], C: [4, 4], D: [2, 4], E: [2, 2], F: [0, 2]}
outline: [A, B, C, D, E, F]
thickness: {design: 100 mm}
reinforcement: {corner_bars: [{at: [E], size: 10M, length: 1 m}]}
"""
    (bars,) = content.drawing(plan_of(text))["steel"]["corner_bars"]
    # The crack runs down and to the right from E; the bars lie at right angles to it, at 45 degrees.
    assert math.isclose(bars["across_deg"], 45, abs_tol=0.5)


PARTED = """format: 1
job: {name: Clinic yard}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [60, 0], C: [60, 40], D: [0, 40], M: [30, 0], N: [30, 40]}
outline: [A, B, C, D]
edges: [{run: [D, C], beside: building, name: clinic}, {rest: lawn}]
heights: {finish: {A: 99.4, B: 99.4, C: 100, D: 100}}
fixtures: [{kind: door, name: front door, along: [[3, 40], [7, 40]], sill: 102}]
parts:
  - {name: walk, corners: [[0, 30], [20, 30], [20, 40], [0, 40]], use: walk, thickness: 4 in, reinforcement: none}
  - name: lane
    corners: [[30, 0], [60, 0], [60, 18], [30, 18]]
    thickness: 8 in
    reinforcement: {bars: {size: "#5", spacing: 12 in, top_cover: 2 in}}
thickness:
  design: 6 in
reinforcement: {bars: {size: "#4", spacing: 18 in, top_cover: 2 in}}
joints: [{name: J1, along: [M, N], kind: construction joint}]
pour:
  - {name: west half, day: 2026-05-04, corners: [A, M, N, D]}
  - {name: east half, day: 2026-05-11, corners: [M, B, C, N]}
"""


def test_a_section_draws_the_steel_of_each_part_it_crosses() -> None:
    """Along y = 4 ft: #4 of the slab to 30 ft, then #5 of the lane."""
    steel = _section(plan_of(PARTED), "10,4 to 60,4")["steel"]
    told = [(one["name"], round(one["from_m"] / FT, 6), round(one["to_m"] / FT, 6)) for one in steel]
    assert sorted(told) == [("#4", 0, 20), ("#5", 20, 50)]
    bare = _section(plan_of(PARTED), "2,35 to 18,35")["steel"]  # in the walk alone, which has none
    assert bare == []


def test_each_pour_is_outlined_with_its_day() -> None:
    pours = content.drawing(plan_of(PARTED), ("pours",))["pours"]
    assert [(one["name"], one["day"]) for one in pours] == [("west half", "2026-05-04"), ("east half", "2026-05-11")]
    areas = [shapely.Polygon(ring).area / FT**2 for one in pours for ring in one["rings"]]
    assert areas == pytest.approx([1200, 1200])


STALLS = PARTED.replace(
    'reinforcement: {bars: {size: "#4"',
    "stalls: [{name: van stall, corners: [[20, 22], [31, 22], [31, 40], [20, 40]],"
    ' aisle: [[31, 22], [36, 22], [36, 40], [31, 40]]}]\nreinforcement: {bars: {size: "#4"',
)


def test_an_aisle_is_striped_where_a_page_forbids_styles_of_elements() -> None:
    """The policy of a review page allows its own style sheet alone, so no element may bring a style of its own."""
    plan = plan_of(STALLS)
    svg = plan_svg(content.drawn(run.review(plan, (), {}), plan))
    assert 'fill="url(#plan-aisle)"' in svg
    assert " style=" not in svg


def test_joints_closer_than_three_millimeters_are_thin() -> None:
    """100 panels of 12 ft in a row 1,200 ft long: at 1 in to 300 ft one is 1 mm wide on a page."""
    joints = "".join(
        f"\n  - {{name: X{k}, along: [[{12 * k}, 0], [{12 * k}, 24]], kind: saw cut}}" for k in range(1, 100)
    )
    text = f"""format: 1
job: {{name: Aisle}}
units: {{plan: ft, height: ft}}
use: shop floor
points: {{A: [0, 0], B: [1200, 0], C: [1200, 24], D: [0, 24]}}
outline: [A, B, C, D]
thickness: {{design: 6 in}}
joints:{joints}
"""
    plan = plan_of(text)
    report = content.drawn(run.review(plan, (), {}), plan)
    on_page = plan_drawn(report, "plan", PAGE)
    assert on_page.view.scale == "1\" = 300'"
    assert on_page.groups["joints"].count('class="line saw-cut dense"') == 99
    assert "dense" not in plan_drawn(content.drawn(report, plan_of(PARTED)), "plan", PAGE).groups["joints"]
