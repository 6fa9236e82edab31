"""How far a volume may be off: against closed forms, scipy, published scatter; and the surfaces it is worked from."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from design_text import plan_of
from scipy.spatial import Delaunay
from scipy.stats import norm
from slabwright.geometry.surface.cut_fill import above
from slabwright.geometry.surface.facets import Surface
from slabwright.geometry.surface.shot_areas import scatter, shot_areas
from slabwright.geometry.surface.surface import build_surface, scattered
from slabwright.geometry.surface.thickness import between
from slabwright.plan.plan import Plan
from slabwright.sheets.order.concrete import concrete
from slabwright.sheets.order.risk import LIKELY, PUBLISHED, READING, drawn, patches, risk

FOOT, INCH, YARD3 = 0.3048, 0.0254, 0.9144**3  # exact (NIST SP 811)
FIELD = shapely.box(0, 0, 12, 8)


def level(height: float, fall: float = 0.0) -> Surface:
    """A plane over the field, falling along x."""
    corners = [(0, 0), (12, 0), (12, 8), (0, 8), (0, 0)]
    return build_surface(FIELD, np.zeros((0, 3)), [np.array([[x, y, height - fall * x] for x, y in corners])])


def shots(seed: int, count: int = 80, sigma: float = 0.0, fall: float = 0.0) -> np.ndarray:
    """Shots at random places, those at the corners of the field among them, on a plane with independent errors."""
    rng = np.random.default_rng(seed)
    inner = rng.uniform((0, 0), (12, 8), (count - 4, 2))
    xy = np.vstack([[(0, 0), (12, 0), (12, 8), (0, 8)], inner])
    return np.column_stack([xy, fall * xy[:, 0] + rng.normal(0, sigma, count)])


# areas that shots stand for


def test_areas_add_up_to_the_field_and_are_the_hat_integrals_of_scipys_triangles() -> None:
    points = shots(1)
    found = shot_areas(points, FIELD)
    expected = np.zeros(len(points))
    for triangle in Delaunay(points[:, :2]).simplices:  # the hat of each corner integrates to a third of the area
        expected[triangle] += shapely.Polygon(points[triangle, :2]).area / 3
    assert found == pytest.approx(expected, abs=1e-9)
    assert found.sum() == pytest.approx(96.0)


def test_an_area_is_what_the_volume_gains_with_the_height_of_its_shot() -> None:
    points, top = shots(2), level(1.0)
    areas = shot_areas(points, FIELD)
    before = between(top, scattered(points, FIELD), []).volume
    for number in (0, 7, 40, 79):
        moved = points.copy()
        moved[number, 2] -= 0.004
        gained = between(top, scattered(moved, FIELD), []).volume - before
        assert gained / 0.004 == pytest.approx(areas[number], rel=1e-6)


def test_areas_are_cut_at_the_slab() -> None:
    points = shots(3)
    half = shapely.box(0, 0, 6, 8)
    assert shot_areas(points, half).sum() == pytest.approx(48.0)


# scatter


def test_scatter_of_independent_errors_on_a_plane_is_their_own_deviation() -> None:
    found = [scatter(shots(seed, 400, 0.01, 0.02))[0] for seed in range(10)]
    assert np.mean(found) == pytest.approx(0.01, rel=0.03)
    assert all(0.0085 < one < 0.0115 for one in found)


def test_a_plane_has_no_scatter_and_a_few_shots_say_nothing() -> None:
    deviation, tried = scatter(shots(4, 60, 0.0, 0.02))
    assert deviation == pytest.approx(0.0, abs=1e-12) and tried > 40
    none, count = scatter(np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0.0]]))
    assert math.isnan(none) and count == 0


# spread of the volume


def closed_form(areas: np.ndarray, deviation: float) -> float:
    """Standard deviation of a volume, m3, for independent errors of ``deviation`` m at shots standing for ``areas`` m2.

    Source: JCGM 100:2008, sec. 5.1.2 (recalled, not checked).
    """
    return deviation * float(np.sqrt((areas**2).sum()))


def test_draws_have_the_deviation_of_the_closed_form() -> None:
    areas = shot_areas(shots(5), FIELD)
    errors = drawn(areas, 0.012)
    expected = closed_form(areas, 0.012)
    assert errors.std() == pytest.approx(expected, rel=0.02)  # 20,000 draws: 0.5 % is one standard error
    assert abs(errors.mean()) < 4 * expected / math.sqrt(len(errors))


def test_draws_are_the_same_every_time_and_differ_with_the_seed() -> None:
    areas = shot_areas(shots(6), FIELD)
    assert (drawn(areas, 0.01, 500) == drawn(areas, 0.01, 500)).all()
    assert not (drawn(areas, 0.01, 500) == drawn(areas, 0.01, 500, seed=1)).any()


def test_volumes_of_worked_surfaces_spread_as_the_closed_form_says() -> None:
    top, plane = level(0.5, -0.02), shots(7, 60, 0.0, 0.02)
    rng = np.random.default_rng(11)
    volumes = []
    for _ in range(150):
        noisy = plane.copy()
        noisy[:, 2] += rng.normal(0, 0.01, len(noisy))
        volumes.append(between(top, scattered(noisy, FIELD), []).volume)
    expected = closed_form(shot_areas(plane, FIELD), 0.01)
    assert np.std(volumes) == pytest.approx(expected, rel=0.15)  # 150 samples: 6 % is one standard error


# the risk of a job

PAD = """
format: 1
job: {{name: Pad}}
units: {{plan: ft, height: ft}}
use: driveway
points: {{A: [0, 0], B: [30, 0], C: [30, 20], D: [0, 20]}}
outline: [A, B, C, D]
heights:
  finish: {{A: 100.5, B: 100.5, C: 100.0, D: 100.0}}
{base}
thickness: {{design: 5 in}}
order: {order}
"""


def pad(base: list[tuple[float, float, float]] | None, order: str = "{allowance: 0 %}") -> Plan:
    """A pad of 600 ft2, 5 in thick; ``base`` as x, y in ft and how far under the finish, in inches."""
    names = {f"S{number}": one for number, one in enumerate(base or ())}
    text = PAD.format(base="", order=order)
    if base:
        points = ", ".join(f"{name}: [{x}, {y}]" for name, (x, y, _) in names.items())
        heights = ", ".join(f"{name}: {100.5 - y / 40 - deep / 12:.6f}" for name, (_, y, deep) in names.items())
        text = PAD.format(base=f"  base: {{{heights}}}", order=order).replace(
            "D: [0, 20]}", f"D: [0, 20], {points}}}", 1
        )
    return plan_of(text)


def grid(seed: int, sigma: float, step: int = 5) -> list[tuple[float, float, float]]:
    rng = np.random.default_rng(seed)
    return [(x, y, 5 + float(rng.normal(0, sigma))) for x in range(0, 31, step) for y in range(0, 21, step)]


def test_chances_are_those_of_the_normal_law() -> None:
    plan = pad(grid(3, 0.5), "{allowance: 3 %, step: 0.01 yd3}")
    worked = concrete(plan)
    found = risk(plan, 0.0, worked.ordered, worked.brought)
    (spread,) = found.spreads
    assert found.from_shots and found.shots == 35 and found.covered == pytest.approx(1.0)
    assert spread.scatter == pytest.approx(0.5 * INCH, rel=0.3)
    deviation = closed_form(shot_areas(_base(plan), plan.shape.slab), spread.scatter)
    law = norm(plan.concrete.quantities.net, deviation)
    assert spread.short == pytest.approx(law.sf(worked.ordered), abs=0.01)
    assert (spread.low, spread.high) == pytest.approx(law.interval(LIKELY), rel=0.005)


def _base(plan: Plan) -> np.ndarray:
    return np.array([[one.at.x, one.at.y, one.height.si] for one in plan.design.heights.base])


def test_closer_shots_and_a_smoother_base_narrow_the_range() -> None:
    def width(base: list[tuple[float, float, float]]) -> float:
        (spread,) = risk(pad(base), 0.0, 1.0, 1.0).spreads
        return spread.high - spread.low

    assert width(grid(4, 0.25, 5)) < 0.7 * width(grid(4, 0.25, 10))
    assert width(grid(4, 0.1, 5)) < 0.6 * width(grid(4, 0.4, 5))


def test_a_base_that_follows_a_folded_finish_is_not_rough() -> None:
    text = PAD.format(base="", order="{allowance: 0 %}").replace("D: [0, 20]}", "D: [0, 20], V: [15, 0], W: [15, 20]}")
    finish = {"A": 100.5, "V": 100.2, "B": 100.5, "C": 100.2, "W": 99.9, "D": 100.2}
    own = ", ".join(f"{name}: {height}" for name, height in finish.items())
    under = ", ".join(f"{name}: {height - 5 / 12:.6f}" for name, height in finish.items())
    text = text.replace("{A: 100.5, B: 100.5, C: 100.0, D: 100.0}", f"{{{own}}}\n  base: {{{under}}}\n"
                        "  lines: [{kind: valley, along: [V, W]}]")  # fmt: skip
    plan = plan_of(text)
    found = risk(plan, 0.0, plan.concrete.quantities.net * 1.02, 10.0)
    assert found.floored
    assert found.spreads[0].scatter == READING


def test_without_shots_the_published_scatter_is_taken_and_said() -> None:
    # Gustaferro 1989, via ASCC Position Statement 9: 0.47 to 0.90 in
    assert pytest.approx((0.47 * INCH, 0.90 * INCH)) == PUBLISHED
    plan = pad(None)
    found = risk(plan, 0.0, plan.concrete.quantities.net, 10 * YARD3)
    assert not found.from_shots
    least, most = found.spreads
    # 600 ft2 are 6 patches of 100 ft2: sigma area / root 6
    area = 600 * FOOT**2
    assert patches(area) == pytest.approx(np.full(6, 100 * FOOT**2))
    for spread, sigma in ((least, 0.47), (most, 0.90)):
        assert spread.short == pytest.approx(0.5, abs=0.02)  # exactly the net volume is ordered
        law = norm(plan.concrete.quantities.net, sigma * INCH * area / math.sqrt(6))
        assert (spread.low, spread.high) == pytest.approx(law.interval(LIKELY), rel=0.02)
        assert spread.one_more == pytest.approx(law.sf(10 * YARD3), abs=0.01)


def test_the_part_without_shots_adds_its_own_spread() -> None:
    half = [one for one in grid(3, 0.1) if one[0] <= 15]
    whole = risk(pad(grid(3, 0.1)), 0.0, 1.0, 1.0)
    part = risk(pad(half), 0.0, 1.0, 1.0)
    assert part.covered == pytest.approx(0.5)
    # 300 ft2 without shots are 3 patches at 0.90 in
    law = norm(0, 0.90 * INCH * 300 * FOOT**2 / math.sqrt(3))
    wide, narrow = (one.spreads[0].high - one.spreads[0].low for one in (part, whole))
    assert wide > 0.9 * 2 * law.interval(LIKELY)[1]
    assert narrow < wide / 5


def test_losses_and_loads_raise_the_chances() -> None:
    plan = pad(grid(3, 0.5))
    ordered = plan.concrete.quantities.net * 1.01
    plain = risk(plan, 0.0, ordered, ordered).spreads[0]
    lossy = risk(plan, plan.concrete.quantities.net * 0.01, ordered, ordered + 1).spreads[0]
    assert plain.short < lossy.short
    assert plain.one_more > lossy.one_more
    assert lossy.short == pytest.approx(0.5, abs=0.02)


# what lies above


def test_ground_above_a_level_by_closed_form() -> None:
    # depth 0.2 + 0.01 x over 12 m by 8 m; more than 0.26 where x > 6: 8 x 0.01 x 6^2/2 = 1.44 m3 over 48 m2
    rng = np.random.default_rng(5)
    xy = np.vstack([[(0, 0), (12, 0), (12, 8), (0, 8)], rng.uniform((0, 0), (12, 8), (60, 2))])
    bottom = scattered(np.column_stack([xy, -0.01 * xy[:, 0]]), FIELD)
    found = above(level(0.2), bottom, 0.26)
    assert (found.volume, found.area, found.covered) == pytest.approx((1.44, 48.0, 96.0))
    under = above(bottom, level(0.2), -0.26)  # the rest, from the other side: 8 x 0.01 x 36/2
    assert (under.volume, under.area) == pytest.approx((1.44, 48.0))


def test_above_minus_below_is_the_volume_between() -> None:
    top, bottom = level(0.5, 0.01), scattered(shots(8, 70, 0.05, 0.01), FIELD)
    over, under = above(top, bottom, 0.45), above(bottom, top, -0.45)
    assert over.volume - under.volume == pytest.approx(between(top, bottom, []).volume - 0.45 * 96.0)
    assert over.area + under.area == pytest.approx(96.0)


def test_nothing_lies_above_a_high_level() -> None:
    found = above(level(0.5), level(0.2), 1.0)
    assert (found.volume, found.area) == (0.0, 0.0)
