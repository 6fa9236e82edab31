"""The whole jobs among the examples: what each review concludes, and its figures worked again by hand.

Every expected figure is worked in the test from the job's own numbers, by the arithmetic in the comments.
"""

from __future__ import annotations

import json
import math
from functools import cache
from pathlib import Path

import pytest
import yaml
from example_reviews import FOLDER, review_of
from slabwright.design.read import read_design
from slabwright.plan import pours
from slabwright.plan.plan import Plan
from slabwright.sheets.order.order import order_sheet
from slabwright.source import locate
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254
YARD3 = 27 * FOOT**3
JOBS = FOLDER / "jobs"
NAMES = (
    "bakery_yard", "clinic_yard", "garage_floor", "garden_patio", "pool_terrace", "school_walk", "toll_house_drive",
    "trailer_bay", "trailer_bay_corrected",
)  # fmt: skip


def path_of(name: str) -> Path:
    return JOBS / f"{name}.slab.yaml"


@cache
def plan_of(name: str) -> Plan:
    return Plan(read_design(path_of(name))[0])


def shoelace(*corners: tuple[float, float]) -> float:
    """Twice the area is the sum of x1 y2 - x2 y1 around the corners (closed form)."""
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    return abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2


# what each review concludes

COMMENTS = {
    "bakery_yard": [],
    "clinic_yard": [("base-shots", "note")],
    "garage_floor": [],
    "garden_patio": [],
    "pool_terrace": [],
    "school_walk": [("permit-sheet", "note")],
    "toll_house_drive": [],
    "trailer_bay": [
        ("water-ends-where-it-may", "hold"),
        ("ground-dams-edge", "hold"),
        ("standing-water", "hold"),
        ("ordered-volume", "hold"),
        ("steel-held-up", "hold"),
        ("isolation-full-depth", "hold"),
        ("inside-corner-joint", "hold"),
        ("joint-depth", "hold"),
        ("freezing-air", "hold"),
        ("full-box", "caution"),
        ("fall-margin", "note"),
        ("last-load", "note"),
    ],
    "trailer_bay_corrected": [],
}


def test_these_are_all_the_jobs() -> None:
    assert sorted(path.name.removesuffix(".slab.yaml") for path in JOBS.glob("*.slab.yaml")) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_comments_of_a_job(name: str) -> None:
    report = review_of(path_of(name))
    found = [(comment.rule, comment.weight) for comment in report.comments if comment.variance is None]
    assert found == COMMENTS[name]
    assert report.verdict == (COMMENTS[name][0][1] if COMMENTS[name] else "met")


@pytest.mark.parametrize("name", NAMES)
def test_a_job_leaves_nothing_open(name: str) -> None:
    """No question on the file, nothing not shown, no variance that does nothing, no rule that fails."""
    report = review_of(path_of(name))
    assert [question.asks for question in report.questions] == []
    assert [(entry.rule, entry.add) for entry in report.not_shown] == []
    assert report.variance_troubles == ()
    assert report.crashes == ()


def test_what_the_bay_falls_short_of_is_met_in_the_corrected_one() -> None:
    first, corrected = review_of(path_of("trailer_bay")), review_of(path_of("trailer_bay_corrected"))
    assert {comment.rule for comment in first.comments} <= {entry.rule for entry in corrected.met}


def test_the_bay_is_told_the_one_height_that_turns_the_water_off_the_lot_line() -> None:
    (lot_line,) = [c for c in review_of(path_of("trailer_bay")).comments if c.rule == "water-ends-where-it-may"]
    # V1 is at 99.60 ft, 6 ft square across from G at 99.50 ft; 1 % the other way asks 99.60 + 0.06 = 99.66 ft, 0.16 ft
    # more. Half way down, at O, the strip already falls back into the valley.
    told = plain(lot_line.to_pass, "us", both=False)
    assert told == "raise G by about 1 7/8 in, to 99.66 ft"
    assert lot_line.at.name == "lot line"


def test_the_estimator_of_the_garage_has_accepted_a_short_second_load() -> None:
    (accepted,) = review_of(path_of("garage_floor")).comments
    assert (accepted.rule, accepted.weight) == ("last-load", "note")
    # twelve yards ordered in trucks of ten: the second brings two
    assert accepted.shown.si == pytest.approx(2 * YARD3)
    assert accepted.variance is not None
    assert accepted.variance.accepted_by == "estimator, with the plant on the phone"


# the files


@pytest.mark.parametrize("name", NAMES)
def test_a_job_is_read_in_a_few_minutes(name: str) -> None:
    lines = path_of(name).read_text(encoding="utf-8").splitlines()
    assert 60 <= len(lines) <= 180
    assert max(len(line) for line in lines) <= 120
    assert sum("#" in line for line in lines) >= 8  # a foreman says why


@pytest.mark.parametrize("name", NAMES)
def test_a_job_is_poured_in_2027(name: str) -> None:
    pour = plan_of(name).design.job.pour
    assert pour is not None
    assert pour.year == 2027
    assert pour.weekday() < 5  # the plant is shut at weekends


def test_the_jobs_use_every_section_and_every_kind() -> None:
    schema = json.loads((locate.folder("schemas") / "design.schema.json").read_text(encoding="utf-8"))
    data = [yaml.safe_load(path_of(name).read_text(encoding="utf-8")) for name in NAMES]
    assert {key for job in data for key in job} == set(schema["properties"])
    designs = [plan_of(name).design for name in NAMES]
    assert {line.kind for one in designs for line in one.heights.lines} == {"valley", "ridge", "grade break"}
    assert {joint.kind for one in designs for joint in one.joints} == {
        "saw cut",
        "early saw cut",
        "tooled groove",
        "formed strip",
        "construction joint",
        "pattern",
    }
    assert {fixture.kind for one in designs for fixture in one.fixtures} == {
        "drain",
        "post",
        "column",
        "cleanout",
        "downspout",
        "gate",
        "door",
    }
    assert [one.reinforcement.bars is not None for one in designs] == [
        True, False, False, False, False, False, False, True, True
    ]  # fmt: skip
    assert [one.reinforcement.mesh is not None for one in designs] == [
        False, False, True, False, True, False, False, False, False
    ]  # fmt: skip
    assert [one.reinforcement.fiber is not None for one in designs] == [
        False, False, False, True, False, False, False, False, False
    ]  # fmt: skip


# the clinic yard by hand


def test_the_two_days_of_the_clinic_yard() -> None:
    """27 and 41 ft of 18 ft, 0.417 ft deep by the shots: 486 and 738 ft2, 7.51 and 11.40 yd3; loads of 9 yd3."""
    near, far = pours.days(plan_of("clinic_yard"))
    for day, long, loads in ((near, 27, 1), (far, 41, 2)):
        assert day.plan.shape.area == pytest.approx(long * 18 * FOOT**2)
        assert day.plan.concrete.quantities.net == pytest.approx(long * 18 * 0.417 / 27 * YARD3, rel=1e-4)
        ordered = day.planned.pour.volume
        assert ordered is not None and math.ceil(ordered.si / YARD3 / 9) == loads
    for day, steepest in ((near, 0.225 / 18), (far, math.hypot(0.12 / 14, 0.225 / 18))):
        assert max(one.most for one in day.plan.falls.parts(lambda _: True)) == pytest.approx(steepest, rel=1e-6)
    sheet = order_sheet(plan_of("clinic_yard"))
    assert [sheet.section(f"risk_{number}").title for number in (1, 2)] == [
        "Risk of running short, near side, 2027-06-22", "Risk of running short, far side, 2027-06-24",
    ]  # fmt: skip
    report = review_of(path_of("clinic_yard"))
    assert report.size is not None
    assert (report.size.ordered, report.size.loads) == (pytest.approx(20.25 * YARD3), 3)  # 8 and 12 1/4


def test_the_stall_of_the_clinic_yard() -> None:
    """From K 0.12 ft down in 14 ft and 0.225 ft in 18 ft: 0.857 % and 1.25 %, sqrt(0.857^2 + 1.25^2) = 1.516 %."""
    plan = plan_of("clinic_yard")
    (stall,) = plan.stalls.all
    for part in stall.parts:
        assert plan.stalls.steepest[part.name].slope == pytest.approx(math.hypot(0.12 / 14, 0.225 / 18), rel=1e-6)
    assert stall.aisle is not None
    assert (stall.space.width, stall.aisle.width) == (pytest.approx(9 * FOOT), pytest.approx(5 * FOOT))


# the trailer bay by hand

BAY = ((0.0, 0.0), (24.0, 0.0), (24.0, 40.0), (12.0, 40.0), (12.0, 22.0), (0.0, 22.0))


@pytest.mark.parametrize("name", ["trailer_bay", "trailer_bay_corrected"])
def test_area_and_volume_of_the_bay(name: str) -> None:
    plan = plan_of(name)
    # 24 ft x 22 ft and 12 ft x 18 ft: 528 + 216 = 744 ft2
    assert shoelace(*BAY) == 744
    assert plan.shape.area == pytest.approx(744 * FOOT**2, rel=1e-9)
    # Lane edge: 3 in more over a foot, then to nothing over 3 ft, along 12 ft: 12 x (0.25 x 1 + 0.25 x 3 / 2) = 7.5 ft3
    assert plan.concrete.quantities.thickened_edges == pytest.approx(7.5 * FOOT**3, rel=1e-9)
    # Every base shot is 0.42 ft under the finish, give or take half a hundredth; between shots the base folds its own
    # way here and there: 744 x 0.42 + 7.5 = 320.0 ft3 = 11.85 yd3, within a quarter of a percent
    assert plan.concrete.quantities.net == pytest.approx((744 * 0.42 + 7.5) / 27 * YARD3, rel=0.0025)


def test_what_the_bay_needs_ordered() -> None:
    plan = plan_of("trailer_bay_corrected")
    # 11.85 yd3 and 5 % on it; 100 ft of 2 1/2 in hose holds pi/4 x (2.5/12)^2 x 100 / 27 = 0.126 yd3; hopper 0.25 yd3
    need = 11.85 * 1.05 + math.pi / 4 * (2.5 / 12) ** 2 * 100 / 27 + 0.25
    assert need == pytest.approx(12.82, abs=0.005)
    # the plant sells quarter yards: 13.00 is the next
    ordered = plan.design.order.volume
    assert ordered is not None
    assert ordered.si / YARD3 == pytest.approx(math.ceil(need * 4) / 4)
    first = plan_of("trailer_bay").design.order.volume
    assert first is not None
    assert first.si / YARD3 < plan_of("trailer_bay").concrete.quantities.net / YARD3  # short of the slab itself


def test_panels_of_the_corrected_bay() -> None:
    # 24 ft in two, 22 ft in two, and the 18 ft by the notch in two: four of 12 x 11 ft, two of 12 x 9 ft
    panels = sorted((p.long_side / FOOT, p.short_side / FOOT) for p in plan_of("trailer_bay_corrected").panels.all)
    assert panels == [pytest.approx((12, 9))] * 2 + [pytest.approx((12, 11))] * 4


def test_the_pond_at_the_lane() -> None:
    """V2 is at 99.14 ft, the lane beside it at 99.30 ft; water gets out at D, over the lawn edge, at 99.25 ft."""
    (pond,) = plan_of("trailer_bay").water.ponds
    depth = 99.25 - 99.14
    assert pond.depth == pytest.approx(depth * FOOT, abs=1e-6)
    # Where the surface is at 99.25 ft, measured from V2 (left, right, and back up the valley):
    up = 15 * depth / (99.37 - 99.14)  # on the valley to N, 15 ft up at 99.37 ft: 7.17 ft
    right = 6 * depth / (99.33 - 99.14)  # on the lane to C, 6 ft off at 99.33 ft: 3.47 ft
    part = depth / (99.42 - 99.14)  # on the fold to O, 6 ft right and 15 ft up, at 99.42 ft: 0.393 of the way
    shore = ((0.0, 0.0), (right, 0.0), (6 * part, 15 * part), (0.0, up), (-6.0, 0.0))  # D itself is at 99.25 ft
    area = shoelace(*shore)  # 21.5 ft2 left of the valley and 18.7 ft2 right of it
    assert area == pytest.approx(40.2, abs=0.05)
    assert pond.area == pytest.approx(area * FOOT**2, rel=1e-4)
    # Facets that meet at the deepest point and are dry at the shore: pyramids, a third of area times depth
    assert pond.volume == pytest.approx(area * depth / 3 * FOOT**3, rel=1e-4)


@pytest.mark.parametrize("name", NAMES)
def test_all_the_water_goes_somewhere(name: str) -> None:
    water = plan_of(name).water
    assert sum(one.share for one in water.shares) == pytest.approx(1, abs=1e-9)
    assert [pond.name for pond in water.ponds] == (["low spot 1"] if name == "trailer_bay" else [])


# the school walk by hand


def test_area_and_volume_of_the_walk() -> None:
    plan = plan_of("school_walk")
    # 25 x 5 and 5 x 30 ft
    area = shoelace((0, 0), (20, 0), (20, -30), (25, -30), (25, 5), (0, 5))
    assert area == 275
    assert plan.shape.area == pytest.approx(area * FOOT**2, rel=1e-9)
    # base 0.34 ft under the finish everywhere: 93.5 ft3; the step 5 x 1 x 0.5 = 2.5 ft3; 96 ft3 = 3.556 yd3
    assert plan.concrete.quantities.steps == pytest.approx(2.5 * FOOT**3, rel=1e-9)
    assert plan.concrete.quantities.net == pytest.approx((275 * 0.34 + 2.5) * FOOT**3, rel=1e-6)
    # with 7 %: 3.80 yd3, so the next quarter yard is 4.00; without the step 3.71, and 3.75 would have done
    assert pytest.approx(3.80, abs=0.005) == 96 / 27 * 1.07
    assert pytest.approx(3.71, abs=0.005) == 93.5 / 27 * 1.07
    assert plan.design.order.volume is not None
    assert plan.design.order.volume.si == pytest.approx(4 * YARD3)


def test_panels_of_the_walk() -> None:
    # 275 ft2 in squares of 25 ft2
    panels = plan_of("school_walk").panels.all
    assert len(panels) == 11
    assert all(p.long_side == pytest.approx(5 * FOOT) and p.aspect == pytest.approx(1) for p in panels)


def test_where_the_water_of_the_walk_goes() -> None:
    water = plan_of("school_walk").water
    shares = {one.to: one.share for one in water.shares}
    # Along the building it falls 1.6 % both ways, so water runs at 45 degrees: what starts at (x, y) with x + y <= 20
    # leaves over A-E. That is 20 ft less y at each y from 0 to 5: 100 - 12.5 = 87.5 ft2.
    assert shares["inner lawn"] == pytest.approx(87.5 / 275, abs=1e-3)
    # Down the long leg 1.6 % across and 4.6 % along: 5 ft across takes 5 x 4.6 / 1.6 = 14.375 ft. What starts in the
    # triangle of 5 ft by 14.375 ft at its end leaves over the sidewalk.
    assert shares["public sidewalk"] == pytest.approx(5 * 14.375 / 2 / 275, abs=1e-3)
    assert set(shares) == {"inner lawn", "public sidewalk", "street lawn"}


# the garage floor and the patio by hand


def test_the_garage_floor() -> None:
    plan = plan_of("garage_floor")
    # 24 x 30 ft, base 0.42 ft under the finish everywhere: 302.4 ft3 = 11.2 yd3; with 5 % 11.76, ordered 12
    assert plan.shape.area == pytest.approx(720 * FOOT**2, rel=1e-9)
    assert plan.concrete.quantities.net == pytest.approx(11.2 * YARD3, rel=1e-6)
    assert plan.design.order.volume is not None
    assert plan.design.order.volume.si == pytest.approx(math.ceil(11.2 * 1.05 * 4) / 4 * YARD3)
    assert [(p.long_side / FOOT, p.short_side / FOOT) for p in plan.panels.all] == [pytest.approx((12, 10))] * 6
    # Each drain has its bay of 12 x 20 ft, the doors the front 24 x 10 ft: a third each
    shares = {one.to: one.share for one in plan.water.shares}
    assert shares["left drain"] == pytest.approx(1 / 3, abs=1e-3)
    assert shares["right drain"] == pytest.approx(1 / 3, abs=1e-3)
    assert shares["left apron"] + shares["right apron"] == pytest.approx(1 / 3, abs=1e-3)
    # 0.11 ft in 6 ft is the steepest, 0.11 ft in 10 ft the flattest
    assert max(f.slope for f in plan.finish.facets) == pytest.approx(0.11 / 6, abs=1e-6)
    assert min(f.slope for f in plan.finish.facets) == pytest.approx(0.11 / 10, abs=1e-6)


def test_the_patio() -> None:
    plan = plan_of("garden_patio")
    # Through (0, 3.6), (3, 4.2), (6, 3.6): sagitta 0.6 on a chord of 6 m, radius (3^2 + 0.6^2) / (2 x 0.6) = 7.8 m
    radius = (3**2 + 0.6**2) / (2 * 0.6)
    angle = 2 * math.asin(3 / radius)
    segment = radius**2 / 2 * (angle - math.sin(angle))
    area = 6 * 3.6 + segment - math.pi * 0.4**2  # 21.6 + 2.42 - 0.50 = 23.51 m2
    assert area == pytest.approx(23.52, abs=0.01)
    assert plan.shape.area == pytest.approx(area, abs=0.02)  # the arcs are flattened to 2 mm
    # 100 mm over a base that was read within 3 mm of it: 2.35 m3; with 8 % 2.56 m3 at most, ordered by tenths: 2.6
    assert plan.concrete.quantities.net == pytest.approx(area * 0.1, abs=area * 0.003)
    assert plan.design.order.volume is not None
    assert plan.design.order.volume.si == pytest.approx(math.ceil(plan.concrete.quantities.net * 1.08 * 10) / 10)


def test_the_bakery_yard() -> None:
    plan = plan_of("bakery_yard")
    # 6 x 8 m, 150 mm over a base that was read within a millimeter of it; street edge: 50 mm more over 0.3 m, then to
    # nothing over 0.9 m, along 6 m: 6 x (0.05 x 0.3 + 0.05 x 0.9 / 2) = 0.225 m3
    assert plan.shape.area == pytest.approx(48, abs=1e-9)
    assert plan.concrete.quantities.thickened_edges == pytest.approx(6 * (0.05 * 0.3 + 0.05 * 0.9 / 2), rel=1e-9)
    assert plan.concrete.quantities.net == pytest.approx(48 * 0.150 + 0.225, abs=48 * 0.001)
    # 5 % on it; the line holds pi/4 x 0.065^2 x 25 = 0.083 m3, the hopper 0.2: 8.08 m3 and a bit, ordered by tenths
    need = plan.concrete.quantities.net * 1.05 + math.pi / 4 * 0.065**2 * 25 + 0.2
    assert 8.08 < need < 8.12
    ordered = plan.design.order.volume
    assert ordered is not None
    assert ordered.si - 0.1 < need <= ordered.si
    # six bays of 3 m by 2.7, 2.7 and 2.6 m
    panels = sorted((round(p.long_side, 6), round(p.short_side, 6)) for p in plan.panels.all)
    assert panels == [(3, 2.6)] * 2 + [(3, 2.7)] * 4
    # C32/40 is 32 MPa on cylinders, and the plane falls 160 mm in 8 m
    assert plan.design.mix.strength is not None
    assert plan.design.mix.strength.si == 32e6
    assert max(f.slope for f in plan.finish.facets) == pytest.approx(0.02, abs=1e-9)
    shares = {one.to: one.share for one in plan.water.shares}
    assert shares["street"] == pytest.approx(1, abs=1e-3)


def test_the_rod_readings_of_the_patio() -> None:
    heights = plan_of("garden_patio").design.heights
    base = {shot.at.name: shot.height.si for shot in heights.base}
    # height of instrument 10.000 + 0.640; A reads 0.777, so 9.863, 102 mm under its finish of 9.965
    assert base["A"] == pytest.approx(10.640 - 0.777, abs=1e-9)
    assert base["b7"] == pytest.approx(10.640 - 0.848, abs=1e-9)
    # b7 lies at (4, 3), where the finish is 9.965 - 0.025 x 3 = 9.890: 98 mm, the thinnest spot
    depths = plan_of("garden_patio").concrete.depths
    assert depths is not None
    assert depths.least == pytest.approx(9.890 - 9.792, abs=5e-4)


# toll_house_drive


def test_the_parts_of_the_toll_house_drive_by_hand() -> None:
    plan = plan_of("toll_house_drive")
    apron, path = 16 * 8 * 7 / 12, 4 * 8 * 4 / 12  # ft3
    rest = 16 * 16 * 5 / 12 + 16 * 2 * (2 / 12) / 2  # with the taper: 2 in down to nothing over 2 ft
    assert [volume / FOOT**3 for volume in plan.concrete.area_volumes] == pytest.approx([apron, path, rest], abs=0.2)
    assert plan.concrete.quantities.net / YARD3 == pytest.approx((apron + path + rest) / 27, abs=0.01)
    assert [round(area.polygon.area / FOOT**2) for area in plan.areas.all] == [128, 32, 256]
