"""One slip is one comment: like findings of a rule are told, numbered and put right as one, with all their places.

What is told of each place alone is what the rule finds there; that one slip makes one comment is common practice of
plan checkers, and the counts below follow from the designs.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from checkout import ROOT
from comments import only
from design_text import plan_of
from slabwright.drawing import content
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.proposals.applying import bench_of
from slabwright.proposals.put_right import put_right
from slabwright.review import changes, remedies, run, trials
from slabwright.review.likewise import as_one
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.text.words import plain
from slabwright.writers import as_json, sarif

RULES = loading.load_rules()
IN_FORCE = limits.resolve(RULES)
FLOOR = """\
format: 1
job: {name: Pallet store}
units: {plan: ft, height: ft}
use: shop floor
points: {A: [0, 0], B: [60, 0], C: [60, 48], D: [0, 48]}
outline: [A, B, C, D]
thickness: {design: 4 in}
joints:
"""
CUTS = [(f"[{x}, 0]", f"[{x}, 48]") for x in (12, 24, 36, 48)] + [(f"[0, {y}]", f"[60, {y}]") for y in (12, 24, 36)]


def floor(depth: str = "1 in", more: str = "") -> str:
    """Twenty bays of 12 by 12 ft on 4 in: at 30 thicknesses, 10 ft, an inch too thin for them."""
    rows = (
        f"  - {{name: J{n}, kind: saw cut, from: {start}, to: {end}, depth: {depth}, cut_after: 8 h}}\n"
        for n, (start, end) in enumerate(CUTS, 1)
    )
    return FLOOR + "".join(rows) + more


def review(text: str, *names: str) -> Report:
    """The review of a design by some rules, like findings as one."""
    plan = plan_of(text)
    rules = [rule for rule in RULES if rule.name in names]
    return as_one(run.review(plan, rules, IN_FORCE), plan.design)


def test_a_floor_too_thin_for_its_bays_is_one_comment_with_twenty_places() -> None:
    text = floor()
    plan = plan_of(text)
    comment = only(report := review(text, "panel-spacing"))
    assert (comment.number, len(comment.places), report.counted(comment.weight)) == (1, 20, 1)
    assert {one.at.name for one in comment.places} == {f"panel P{n}" for n in range(1, 21)}
    assert plain(comment.told, "us").endswith("; likewise P2, P3, P4, P5, P6, P7 and 13 more")
    drawn = plan_svg(content.drawn(report, plan))
    assert drawn.count('data-comment="1"') == 1
    assert drawn.count(f'class="bubble bubble-{comment.weight}') >= 20  # and one in the legend
    data = as_json.as_data(report)["comments"]
    assert len(data) == 1 and len(data[0]["others"]) == 19
    (result,) = sarif.results_of(report)
    assert len(result["locations"]) == 20


def test_shallow_joints_are_cut_deeper_at_once_and_the_advice_is_tried_as_one() -> None:
    text = floor("1/2 in")
    bench, report = bench_of(Path("floor.slab.yaml"), text, [one for one in RULES if one.name == "joint-depth"],
                             IN_FORCE, "us")  # fmt: skip
    comment = only(remedies.advised(as_one(report, bench.plan.design), bench))
    assert comment.tried and len(comment.places) == 7
    assert (
        plain(comment.to_pass, "us", both=False)
        == "make joints J1, J2, J3, J4, J5, J6 and 1 more 1 in deep: 1/2 in more"
    )
    after = trials.apply(comment.remedies[0], bench)
    assert after.now is not None and not after.now.found
    done = put_right(bench.path, text, bench.rules, IN_FORCE, "us")
    assert [len(change.paths) for change in done.changes] == [7]
    assert not done.report.comments


def test_new_joints_of_several_places_have_names_of_their_own() -> None:
    text = floor().replace("J5,", "cross 1,").replace("J6,", "J9,").replace("J7,", "J10,")
    comment = only(review(text, "panel-spacing"))
    plan = plan_of(text)
    after = trials.edited(text, comment.remedies[0].edits, plan.design)
    assert after is not None
    joints = plan_of(after).design.joints
    assert len({joint.name for joint in joints}) == len(joints) > 7


def test_what_differs_in_its_weight_stays_apart() -> None:
    """Bays of 12 by 5 ft are long strips, at 2.4 a hold; one of 12 by 7 ft is long too, at 1.7 a caution."""
    cut = "  - {{name: {}, kind: saw cut, from: [{}, {}], to: [{}, {}], depth: 1 in}}\n"
    cuts = [*((f"J{y}", 0, y, 60, y) for y in (5, 10)), *((f"K{x}", x, 0, x, 17) for x in (12, 24, 36, 48))]
    text = FLOOR.replace("48]", "17]") + "".join(cut.format(*one) for one in cuts)
    report = review(text, "panel-aspect")
    assert [(one.weight, len(one.places)) for one in report.comments] == [("hold", 10), ("caution", 5)]


@pytest.mark.parametrize("at", ["J1", "J3"])
def test_a_variance_for_one_place_takes_that_one_out(at: str) -> None:
    accepted = (
        f"variances: [{{rule: joint-depth, at: {at}, reason: cut by hand, accepted_by: engineer, date: 2026-03-02}}]\n"
    )
    report = review(floor("1/2 in", accepted), "joint-depth")
    assert sorted((len(one.places), one.variance is None) for one in report.comments) == [(1, False), (6, True)]
    assert report.holds == 1


def test_a_place_that_is_mended_is_told_as_fixed_and_the_others_as_left() -> None:
    was, now = (review(text, "joint-depth") for text in (floor("1/2 in"), floor("1/2 in").replace("1/2 in", "1 in", 1)))
    effect = changes.compare("before", was, now)
    assert [len(change.comment.places) for change in effect.fixed] == [1]
    assert [len(change.comment.places) for change in effect.left] == [6]
    assert not effect.broke


def test_json_of_like_comments_keeps_to_its_schema() -> None:
    from jsonschema import Draft202012Validator

    schema = json.loads((ROOT / "schemas" / "report.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator(schema).validate(json.loads(as_json.as_json(review(floor(), "panel-spacing"))))
