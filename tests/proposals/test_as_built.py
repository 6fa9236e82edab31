"""Slabs built within tolerance: waves and floods against closed forms and an exact flood of another make."""

from __future__ import annotations

import heapq
import json
import math
from pathlib import Path

import numpy as np
import pytest
from checkout import ROOT
from design_text import plan_of
from slabwright.cli.main import main
from slabwright.formulas.slopes import slope_of_wave
from slabwright.formulas.units import FOOT, INCH
from slabwright.geometry.surface.waves import LONG, fields, gap_of_waves, gaps
from slabwright.geometry.water.grid_flood import levels
from slabwright.proposals.as_built import MEASURES, as_built

JOBS = ROOT / "example_designs" / "jobs"


def patio(fall: float) -> str:
    """Twenty feet by forty, falling along its length to lawn all round."""
    low = 100 - 40 * fall
    return f"""
format: 1
job: {{name: Test patio}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [20, 0], C: [20, 40], D: [0, 40]}}
outline: [A, B, C, D]
edges: [{{rest: lawn}}]
heights: {{finish: {{A: 100, B: 100, C: {low}, D: {low}}}}}
thickness: {{design: 4 in}}
"""


def flooded(heights: np.ndarray, exits: np.ndarray) -> np.ndarray:
    """Levels by the priority flood: cells in order of their level, from the ways out inward."""
    found = np.full_like(heights, np.inf)
    queue = [(max(heights[at], exits[at]), at) for at in np.ndindex(heights.shape) if exits[at] < np.inf]
    heapq.heapify(queue)
    while queue:
        level, (row, column) = heapq.heappop(queue)
        if level >= found[row, column]:
            continue
        found[row, column] = level
        for y, x in np.ndindex(3, 3):
            at = row + y - 1, column + x - 1
            if 0 <= at[0] < heights.shape[0] and 0 <= at[1] < heights.shape[1] and np.isfinite(heights[at]):
                heapq.heappush(queue, (max(level, heights[at]), at))
    return found


def test_levels_are_those_of_the_priority_flood() -> None:
    rng = np.random.default_rng(4)
    heights = rng.random((6, 17, 23))
    heights[:, 5:9, 8:11] = np.inf  # a house inside
    exits = np.full((17, 23), np.inf)
    exits[0, 3:6], exits[16, 20], exits[9, 0] = -np.inf, 0.7, 0.2  # a lawn, a curb, ground that stands over the slab
    found = levels(heights, exits)
    for one, own in zip(found, heights, strict=True):
        assert np.array_equal(one[np.isfinite(own)], flooded(own, exits)[np.isfinite(own)])


@pytest.mark.parametrize(("share", "wet"), [(0.98, True), (1.02, False)])
def test_a_single_wave_holds_water_under_the_slope_of_its_back(share: float, wet: bool) -> None:
    """A wave h high and L long leans back by pi h / L at most: differentiate h/2 cos(2 pi x / L)."""
    high, long, step = 0.25 * INCH, 5 * FOOT, 0.005
    x = np.arange(0, 3 * long, step)
    heights = high / 2 * np.cos(2 * math.pi * x / long) - share * slope_of_wave(high, long) * x
    exits = np.full((1, len(x)), np.inf)
    exits[0, -1] = -np.inf
    depth = levels(heights[None, None, :], exits)[0, 0] - heights
    assert (depth.max() > 1e-9) == wet


def test_waves_have_the_deviation_and_the_length_that_are_stated() -> None:
    """An exponential covariance falls by 1/e with each length, once it is past what the float has smoothed."""
    made = fields((80, 80), LONG / 10, 100, np.random.default_rng(2))
    assert made.std() == pytest.approx(1.0, abs=0.05)
    one, two = ((made[:, :, off:] * made[:, :, :-off]).mean() for off in (10, 20))
    assert two / one == pytest.approx(math.exp(-1), abs=0.06)


def test_the_gap_of_a_wave_as_long_as_the_straightedge_is_its_height() -> None:
    x = np.linspace(0, 1, 101)
    assert gaps(np.cos(2 * math.pi * x)[None], 0.1)[0] == pytest.approx(2.0)
    assert gaps(-x[None] * 3, 0.1)[0] == pytest.approx(0.0, abs=1e-12)


def test_waves_scaled_to_a_gap_keep_it_in_nine_places_of_ten() -> None:
    first, second = (gap_of_waves(np.random.default_rng(seed)) for seed in (1, 2))
    assert first == pytest.approx(second, rel=0.05)


def test_a_steep_plane_keeps_no_puddle_and_a_flat_one_does() -> None:
    steep, flat = as_built(plan_of(patio(0.02))), as_built(plan_of(patio(0.004)))
    assert steep is not None and flat is not None
    assert (steep.drawn, steep.chance, steep.steeper) == (0.0, 0.0, 1.0)
    assert steep.error == pytest.approx(3 / 200)  # the rule of three for what was never seen
    assert flat.drawn == 0.0 and flat.chance > 0.3
    assert flat.steeper is not None and 0.005 < flat.steeper * 0.004 < 0.02


def test_the_figures_of_the_page_on_deciding() -> None:
    """docs/deciding.md: a wave of 1/4 in and 5 ft leans 1.31 %; at 1 % 1 in 100 has a puddle, at 1/2 % a quarter."""
    page = " ".join((JOBS.parents[1] / "docs" / "deciding.md").read_text(encoding="utf-8").split())
    assert "pi x 0.25 / 60 = 1.31 %" in page and round(100 * slope_of_wave(0.25 * INCH, 5 * FOOT), 2) == 1.31
    assert "that falls 1 %, 1 slab in 100 has a puddle, at 1/2 % a quarter have one" in page
    one, half = as_built(plan_of(patio(0.01))), as_built(plan_of(patio(0.005)))
    assert one is not None and half is not None
    assert abs(one.chance - 0.01) <= 2 * one.error and abs(half.chance - 0.25) <= 2 * half.error


def test_a_larger_gap_means_more_water_and_a_seed_is_kept() -> None:
    plan = plan_of(patio(0.01))
    gaps = (0.125 * INCH, 0.5 * INCH, 0.5 * INCH)
    fine, coarse, again = (as_built(plan, gap, seed=3, surfaces=60) for gap in gaps)
    assert fine is not None and coarse is not None and again is not None
    assert fine.area < coarse.area == again.area
    assert coarse.chance > 0.7
    assert not np.isnan(coarse.map).any() and coarse.map.shape == (80, 40)


def test_water_as_drawn_is_that_of_the_exact_ponds() -> None:
    """The exact flood of the drawn surface, and the grid's: a pond's area where it is deeper than 1/8 in."""
    plan = plan_of((JOBS / "trailer_bay.slab.yaml").read_text(encoding="utf-8"))
    found = as_built(plan, surfaces=2)
    assert found is not None
    (pond,) = plan.water.ponds
    assert 0.8 * pond.area < found.drawn < pond.area  # its rim is shallower than 1/8 in


def test_the_command_says_the_same_as_sheet_as_data_and_as_a_page(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path, out = tmp_path / "flat.slab.yaml", tmp_path / "flat.html"
    path.write_text(patio(0.004), encoding="utf-8")
    status = main(["review", str(path), "--as-built", "--page", str(out)])
    said, html = capsys.readouterr().out, out.read_text(encoding="utf-8")
    assert max(map(len, said.splitlines())) <= 80
    assert main(["review", str(path), "--as-built", "--json"]) == status
    data = json.loads(capsys.readouterr().out)["as_built"]
    assert f"on {round(data['chance'] * 200)} of them" in said
    assert f"{data['times_as_steep']:.2f} times as steep" in " ".join(said.split())
    assert data["places"][0]["name"] in said
    assert data["gap"]["si"] == MEASURES["us"].gap
    found = as_built(plan_of(patio(0.004)))
    assert found is not None
    drawn = html.partition('<svg class="built-map"')[2].partition("</svg>")[0]
    assert drawn.count("z") >= (found.map >= 0.01).sum() > 100  # each cell that is wet on 1 slab in 100 is a square
    for label in ("Puddles", "Water", "Fall"):
        words = html.partition(f"<dt>{label}</dt><dd>")[2].partition("</dd>")[0]
        assert words and words.split(";")[0] in " ".join(said.split())
    assert main(["review", str(path), "--as-built", "--page", str(path)]) == 2


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--gap", "3 ft"], "is no gap that a crew leaves"),
        (["--gap", "wide"], "cannot be read as a depth"),
    ],
)
def test_a_gap_that_is_none_is_refused(
    options: list[str], told: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "flat.slab.yaml"
    path.write_text(patio(0.01), encoding="utf-8")
    assert main(["review", str(path), "--as-built", *options]) == 2
    assert told in capsys.readouterr().err


def test_without_heights_it_says_what_to_write(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = tmp_path / "bare.slab.yaml"
    path.write_text(patio(0.01).replace("heights:", "# heights:"), encoding="utf-8")
    assert main(["review", str(path), "--as-built"]) == 2
    assert "heights.finish" in capsys.readouterr().err
