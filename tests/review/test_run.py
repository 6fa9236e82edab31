"""The engine: rules on fake plans, what they conclude, in which order, and what happens to rules that fail."""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import shapely
from changed import changed as replace
from checkout import ROOT
from slabwright.design.heights import Heights, SpotHeight
from slabwright.design.joints import Joint
from slabwright.design.model import Design, Job, Order, Variance
from slabwright.design.outline import Corner, Edge
from slabwright.design.point import Point
from slabwright.design.reinforcement import CornerBars, Reinforcement
from slabwright.design.site import Base, Site
from slabwright.design.thickness import Thickness
from slabwright.plan import questions as plan_questions
from slabwright.plan.concrete import Depths, Quantities
from slabwright.plan.finish import Facet
from slabwright.plan.given import does_not_apply, not_shown
from slabwright.plan.panels import Panel
from slabwright.plan.plan import Spot
from slabwright.plan.water import Pond, WaterShare
from slabwright.review import run, variances
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.rulebook.conclusion import Finding, Margin, compare
from slabwright.rulebook.in_force import InForce, Limits, Weight
from slabwright.rulebook.rule import Rule
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.text.words import step, words
from slabwright.units.quantity import Amount, Kind, depth, length, read

FAKE_RULES = ROOT / "tests" / "fake_rules"
FILE = "bay.slab.yaml"
TODAY = date(2026, 5, 1)
FOOT = 0.3048


def a_panel(name: str, feet: float, line: int) -> Panel:
    """A panel ``feet`` long and 10 ft wide, whose section stands on ``line``."""
    side = feet * FOOT
    box = shapely.box(0, 0, side, 10 * FOOT)
    place, ring = Place(FILE, line, 3), tuple(box.exterior.coords)
    return Panel(name, box, side, 10 * FOOT, feet / 10, box.area, (), (), place, ring)


def a_design(**changes: Any) -> Design:
    corners = tuple(Corner(Point(x, y)) for x, y in ((0, 0), (6, 0), (6, 3), (0, 3)))
    design = Design(
        file=FILE,
        job=Job("Rowing club bay", date(2026, 5, 20)),
        called="vehicle pad",
        use="vehicle pad",
        plan_unit="ft",
        height_unit="ft",
        system="us",
        points={},
        outline=corners,
        thickness=Thickness(depth(0.1)),
        places={"heights.finish": Place(FILE, 9, 3, "heights.finish")},
    )
    return replace(design, **changes)


def a_plan(panels: Sequence[Panel] = (), design: Design | None = None, **changes: Any) -> Any:
    """A plan of nothing but figures; ``changes`` are views, each by what it holds otherwise: ``finish={...}``."""
    views: dict[str, dict[str, Any]] = {
        "shape": {"area": 18.0, "perimeter": 18.0},
        "thickness": {"design": 0.1},
        "areas": {"called": ("vehicle pad",), "thicknesses": (0.1,)},
        "channels": {"all": ()},
        "flights": {"all": (), "unplaced": ()},
        "panels": {"all": tuple(panels)},
        "joints": {"all": (), "counting": (), "layout": SimpleNamespace(unused=())},
        "edges": {"pieces": ()},
        "finish": {"missing": ("corner B",), "surface": None, "facets": ()},
        "falls": {},
        "water": {"ponds": (), "shares": ()},
        "concrete": {
            "depths": None,
            "quantities": Quantities(1.8, 1.8, 0.0, 0.0, False),
            "of_panels": ([0.1] * len(panels), [one.area / 10 for one in panels]),
        },
    }
    made = {name: SimpleNamespace(**(held | changes.get(name, {}))) for name, held in views.items()}
    other = {
        "design": design or a_design(),
        "system": "us",
        "home": "us",
        "place": lambda *paths: Place(FILE, 9, 3, paths[0]),
        "sections": dict.fromkeys(made, frozenset[str]()),
    }
    return SimpleNamespace(**made, **other)


def fake(name: str) -> Rule:
    return next(rule for rule in loading.load_rules(folder=FAKE_RULES) if rule.name == name)


def review(plan: Any, rules: Sequence[Rule], **more: Any) -> Report:
    return run.review(plan, rules, limits.resolve(rules), today=TODAY, **more)


def a_rule(
    judge: Callable[[Any, Limits], Iterator[Any]],
    name: str = "odd-rule",
    group: str = "joints",
    weight: Any = "hold",
) -> Rule:
    in_force = InForce(
        "depth_at_least", depth(0.1), "least", weight, "depth", "published", "published", "common practice", "practice"
    )
    return Rule(
        name, group, "deep enough", {}, "Deep.", (), (), judge, f"rules/{group}/odd.py", False,
        in_force={in_force.name: in_force},
    )  # fmt: skip


def finding(limits: Limits, shown: float = 0.05, thing: str = "joint J1", line: int = 4, **changes: Any) -> Finding:
    found = Finding(
        Spot(thing, Place(FILE, line)),
        words("too shallow"),
        depth(shown),
        limits.depth_at_least,
        (),
        words("cut deeper"),
    )
    return replace(found, **changes)


def test_a_shortfall_becomes_a_comment_with_everything_a_writer_needs() -> None:
    report = review(a_plan([a_panel("P1", 16, 12)]), [fake("short-panels")])
    (comment,) = report.comments
    assert (comment.number, comment.rule, comment.group, comment.weight) == (1, "short-panels", "joints", "hold")
    assert comment.title == "no panel is longer than two men can strike off"
    assert (comment.at.name, comment.at.place.line) == ("panel P1", 12)
    assert comment.at.shape[0] == comment.at.shape[-1]
    assert comment.asked == comment.limit.value == length(15 * FOOT)
    assert comment.working[0].result.si == pytest.approx(FOOT)  # 16 ft - 15 ft
    assert (report.holds, report.verdict, report.met) == (1, "hold", ())


def test_a_rule_without_shortfalls_is_met_by_its_tightest_margin() -> None:
    report = review(a_plan([a_panel("P1", 8, 12), a_panel("P2", 11, 13), a_panel("P3", 9, 14)]), [fake("short-panels")])
    (met,) = report.met
    assert met.at is not None
    assert (met.rule, met.at.name) == ("short-panels", "panel P2")
    assert met.slack == pytest.approx(1 / 12)  # 11 ft against 12 ft
    assert (report.comments, report.verdict) == ((), "met")


def test_exactly_on_the_limit_is_met_and_a_hair_beyond_is_not() -> None:
    rule = [fake("short-panels")]
    assert review(a_plan([a_panel("P1", 12, 1)]), rule).met[0].slack == pytest.approx(0, abs=1e-9)
    assert review(a_plan([a_panel("P1", 12.001, 1)]), rule).counted("caution") == 1


def test_a_rule_that_falls_short_anywhere_is_not_met() -> None:
    report = review(a_plan([a_panel("P1", 8, 12), a_panel("P2", 13, 13)]), [fake("short-panels")])
    assert [comment.at.name for comment in report.comments] == ["panel P2"]
    assert report.met == ()


def test_what_does_not_apply_and_what_is_not_shown_are_said_with_reason_and_place() -> None:
    report = review(a_plan(), [fake("small-ponds"), fake("short-panels")])
    assert [(one.rule, one.reason) for one in report.does_not_apply] == [("short-panels", "there are no panels")]
    (entry,) = report.not_shown
    assert (entry.rule, entry.add, entry.place) == (
        "small-ponds", ("finish heights",), Place(FILE, 9, 3, "heights.finish"),
    )  # fmt: skip
    assert report.met == ()


def test_not_shown_without_a_place_points_at_the_file() -> None:
    rule = a_rule(lambda plan, limits: not_shown("a joint"))
    assert review(a_plan(), [rule]).not_shown[0].place == Place(FILE)


def test_comments_are_numbered_by_weight_then_group_then_place_and_ties_stay() -> None:
    def judge(*lines: int) -> Callable[[Any, Limits], Iterator[Finding]]:
        def found(plan: Any, limits: Limits) -> Iterator[Finding]:
            for number, line in enumerate(lines):
                yield finding(limits, thing=f"joint {number}", line=line)

        return found

    rules = [
        a_rule(judge(1), "site-note", "site", weight="note"),
        a_rule(judge(9, 2), "pour-hold", "pour"),
        a_rule(judge(7, 7, 7), "water-hold", "water"),
        a_rule(judge(3), "water-caution", "water", weight="caution"),
    ]
    comments = review(a_plan(), rules).comments
    assert [(one.number, one.rule, one.at.place.line, one.at.name) for one in comments] == [
        (1, "water-hold", 7, "joint 0"),
        (2, "water-hold", 7, "joint 1"),
        (3, "water-hold", 7, "joint 2"),
        (4, "pour-hold", 2, "joint 1"),
        (5, "pour-hold", 9, "joint 0"),
        (6, "water-caution", 3, "joint 0"),
        (7, "site-note", 1, "joint 0"),
    ]


def test_a_rule_that_raises_is_located_keeps_what_it_found_and_holds(tmp_path: Path) -> None:
    text = (FAKE_RULES / "joints" / "short_panels.py").read_text(encoding="utf-8")
    broken = tmp_path / "joints" / "broken_panels.py"
    broken.parent.mkdir()
    text = text.replace("        over = ", "        over = length(1 / 0) if panel.name == 'P2' else ")
    broken.write_text(text, encoding="utf-8")
    line = next(n for n, one in enumerate(text.splitlines(), 1) if "1 / 0" in one)
    rules = [*loading.load_rules(folder=tmp_path), fake("small-ponds")]
    report = review(a_plan([a_panel("P1", 16, 1), a_panel("P2", 16, 2)]), rules)
    (crash,) = report.crashes
    assert crash.place == Place("rules/joints/broken_panels.py", line)
    assert (crash.rule, crash.what) == ("broken-panels", "ZeroDivisionError: division by zero")
    assert [comment.at.name for comment in report.comments] == ["panel P1"]
    assert (report.holds, report.verdict) == (2, "hold")
    assert report.met == ()
    assert [entry.rule for entry in report.not_shown] == ["small-ponds"]  # the others are judged all the same


def test_a_failure_below_the_rule_names_where_it_happened() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits, shown=math.sqrt(shapely.Point(0, 0).interpolate(1)))

    (crash,) = review(a_plan(), [a_rule(judge)]).crashes
    assert crash.place.line == judge.__code__.co_firstlineno + 1
    assert " (in " in crash.what


def test_a_rule_that_leaves_the_program_is_a_crash() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits, shown=sys.exit(0))

    report = review(a_plan(), [a_rule(judge)])
    assert report.crashes[0].what == "SystemExit: 0"
    assert report.verdict == "hold"


def test_a_rule_that_ends_after_a_conclusion_has_failed() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits)
        does_not_apply("it is dry")

    report = review(a_plan(), [a_rule(judge)])
    assert report.crashes[0].what == "judge ended the rule after it had come to a conclusion"


def test_silence_is_a_failure_and_never_met() -> None:
    report = review(a_plan(), [a_rule(lambda plan, limits: iter(()))])
    assert report.crashes[0].what == "judge came to no conclusion, and silence is never met"
    assert (report.met, report.holds) == ((), 1)


def test_a_give_below_zero_is_a_failure() -> None:
    report = review(a_plan(), [a_rule(lambda plan, limits: iter([finding(limits)._replace(give=-0.01)]))])
    assert report.crashes[0].what == "a limit was made stricter than it is (depth_at_least)"


def test_what_lies_within_the_give_is_met() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Any]:
        for shown in (0.1, 0.095, 0.0949):
            yield compare(
                Spot(f"joint at {shown}", Place(FILE)), depth(shown), limits.depth_at_least, give=0.005,
                says=lambda: words("it is shallow"), decide=lambda: words("cut it deeper"),
            )  # fmt: skip

    (comment,) = review(a_plan(), [a_rule(judge)]).comments
    assert comment.at.name == "joint at 0.0949"


STRAY = InForce("depth_at_least", depth(0.1), "least", "note", "depth", "published", "published", "none", "practice")
ENDLESS = step("how deep", "depth / 0", words("none"), depth(math.inf))


@pytest.mark.parametrize(
    ("conclude", "what"),
    [
        (lambda limits: "too shallow", "judge yielded a str, which is neither a Finding nor a Margin"),
        (lambda limits: finding(limits, 0.1), "joint J1 was said to fall short, but depth_at_least is met there"),
        (lambda limits: finding(limits, 0.11), "but depth_at_least is met there"),
        (lambda limits: finding(limits, 0.11, asked=depth(0.11)), "but depth_at_least is met there"),
        (
            lambda limits: Margin(Spot("joint J1", Place(FILE)), depth(0.09), limits.depth_at_least),
            "joint J1 was said to be met, but depth_at_least is not met there",
        ),
        (lambda limits: finding(limits, limit=STRAY), "depth_at_least is not a limit in force for this rule"),
        (
            lambda limits: finding(limits, shown=0.05, asked=Amount(2.0, Kind.FORCE)),
            "a depth was compared with a force (depth_at_least)",
        ),
        (lambda limits: finding(limits, math.nan), "a value without end was worked out at joint J1 (depth_at_least)"),
        (lambda limits: finding(limits, working=(ENDLESS,)), "a value without end"),
        (lambda limits: finding(limits, to_pass=words("{x}", x=depth(math.nan))), "a value without end"),
    ],
)
def test_conclusions_that_cannot_stand_are_crashes(conclude: Callable[[Limits], Any], what: str) -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Any]:
        yield conclude(limits)

    report = review(a_plan(), [a_rule(judge)])
    (crash,) = report.crashes
    assert what in crash.what
    assert crash.place == Place("rules/joints/odd.py", judge.__code__.co_firstlineno)
    assert (report.comments, report.met, report.holds) == ((), (), 1)


def test_lengths_depths_and_heights_compare_with_each_other() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits, asked=length(0.2))

    report = review(a_plan(), [a_rule(judge)])
    assert report.crashes == ()
    assert report.comments[0].asked == length(0.2)


def a_variance(rule: str = "short-panels", at: str = "P1", line: int = 40, until: date | None = None) -> Variance:
    return Variance(rule, "door track", "owner", date(2026, 4, 2), at, until, Place(FILE, line))


@pytest.mark.parametrize("at", ["P1", "panel P1", "Panel  p1", ""])
def test_a_variance_covers_its_comment_which_then_does_not_count(at: str) -> None:
    design = a_design(variances=(a_variance(at=at),))
    report = review(a_plan([a_panel("P1", 16, 12)], design), [fake("short-panels")])
    note = report.comments[0].variance
    assert note is not None
    assert (note.reason, note.accepted_by, note.date, note.place.line) == ("door track", "owner", "2026-04-02", 40)
    assert (report.holds, report.verdict, report.variance_troubles) == (0, "met", ())


def test_a_variance_speaks_of_no_other_thing_and_no_other_rule() -> None:
    def judge(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits, thing="panel P1")

    design = a_design(variances=(a_variance(at="1"), a_variance(at="P1"), a_variance(at="P12")))
    rules = [fake("short-panels"), a_rule(judge)]
    report = review(a_plan([a_panel("P1", 16, 1), a_panel("P11", 16, 2)], design), rules)
    covered = {(one.rule, one.at.name): one.variance is not None for one in report.comments}
    assert covered == {
        ("short-panels", "panel P1"): True,
        ("short-panels", "panel P11"): False,
        ("odd-rule", "panel P1"): False,
    }
    assert [trouble.what for trouble in report.variance_troubles] == [
        "nothing falls short at '1'; short-panels falls short at panel P1, panel P11",
        "nothing falls short at 'P12'; short-panels falls short at panel P1, panel P11",
    ]


@pytest.mark.parametrize(
    ("at", "thing", "covered"),
    [
        ("J1", "joint J1", True),
        ("E", "inside corner E", True),
        ("E", "corner E", True),
        ("B-C", "edge B-C", True),
        ("workshop wall", "workshop wall", True),
        ("wall", "workshop wall", False),
        ("1", "low spot 1", False),
        ("low spot 1", "Low spot 1", True),
    ],
)
def test_only_the_kind_of_a_thing_may_be_left_out(at: str, thing: str, covered: bool) -> None:
    assert variances.covers(a_variance("odd-rule", at), "odd-rule", thing) is covered


def test_a_variance_holds_through_its_last_day_and_not_longer() -> None:
    for until, troubles in ((TODAY, ()), (date(2026, 4, 30), ("it ran until 2026-04-30 and covers nothing any more",))):
        design = a_design(variances=(a_variance(until=until),))
        report = review(a_plan([a_panel("P1", 16, 12)], design), [fake("short-panels")])
        assert tuple(one.what for one in report.variance_troubles) == troubles
        assert report.holds == len(troubles)


def test_variances_that_match_nothing_say_why() -> None:
    variances = (
        a_variance("short-panel", line=1),
        a_variance("short-panels", line=2),
        a_variance("small-ponds", line=3),
        a_variance("odd-rule", line=4),
        a_variance("never-rule", line=5),
    )

    def broken(plan: Any, limits: Limits) -> Iterator[Finding]:
        yield finding(limits, shown=float("no number"))

    never = a_rule(lambda plan, limits: does_not_apply("it is dry"), "never-rule")
    rules = [fake("small-ponds"), fake("short-panels"), a_rule(broken), never]
    report = review(a_plan([a_panel("P1", 10, 12)], a_design(variances=variances)), rules)
    assert [(one.place.line, one.what) for one in report.variance_troubles] == [
        (1, "there is no rule 'short-panel'; short-panels is the nearest"),
        (2, "there is no shortfall to accept: short-panels is met"),
        (3, "there is no shortfall to accept: small-ponds is not shown in the file"),
        (4, "there is no shortfall to accept: odd-rule stopped before it could judge"),
        (5, "there is no shortfall to accept: never-rule does not apply here"),
    ]


def amended(layer: Any, name: str, value: str, line: int = 6) -> limits.Amendments:
    amount = read(value, Kind.LENGTH)
    one = limits.Amendment("short-panels", "side_at_most", "std 4.2", amount, place=Place(f"{name}.yaml", line))
    return limits.Amendments(layer, name, (one,))


def test_looser_limits_and_layers_are_told() -> None:
    rules = [fake("short-panels")]
    in_force = limits.resolve(rules, [amended("firm", "Firm", "20 ft"), amended("region", "County", "14 ft")])
    report = run.review(a_plan([a_panel("P1", 11, 1)]), rules, in_force, today=TODAY)
    assert [(rule, limit.set_by, limit.value.typed) for rule, limit in report.looser] == [
        ("short-panels", "Firm", "20 ft"),
    ]
    assert report.layers == ("County", "Firm")
    assert [(one.place.file, one.asks) for one in report.questions] == [
        (
            "Firm.yaml",
            "Firm sets side_at_most of short-panels to 20 ft, County to 14 ft, and the firm asks less than the region; "
            "20 ft is used. May it be?",
        )
    ]


def test_a_narrower_layer_may_ask_more_without_a_question() -> None:
    rules = [fake("short-panels")]
    in_force = limits.resolve(rules, [amended("firm", "Firm", "12 ft"), amended("region", "County", "14 ft")])
    assert run.review(a_plan(), rules, in_force, today=TODAY).questions == ()


def lighter_or_not(name: str, layer: Any, weight: Weight) -> limits.Amendments:
    """Amendments that set nothing but a weight."""
    one = limits.Amendment("short-panels", "side_at_most", "std", None, weight, place=Place(f"{name}.yaml", 6))
    return limits.Amendments(layer, name, (one,))


@pytest.mark.parametrize(
    ("layers", "asks"), [(("town", "town"), True), (("town", "firm"), True), (("firm", "town"), False)]
)
def test_contradicting_weights_are_asked_about_too(layers: tuple[str, str], asks: bool) -> None:
    rules = [fake("short-panels")]
    first, second = (lighter_or_not("One", layers[0], "hold"), lighter_or_not("Two", layers[1], "note"))
    questions = run.review(a_plan(), rules, limits.resolve(rules, [first, second]), today=TODAY).questions
    assert [question.asks.split("; ")[0].split(", and")[0] for question in questions] == (
        ["Two sets side_at_most of short-panels to 15 ft, a note, One to 15 ft, a hold"] if asks else []
    )


def test_the_same_limit_set_twice_is_no_contradiction() -> None:
    rules = [fake("short-panels")]
    in_force = limits.resolve(rules, [amended("town", "One", "12 ft"), amended("town", "Two", "144 in")])
    assert run.review(a_plan(), rules, in_force, today=TODAY).questions == ()


def test_every_layer_is_held_against_the_one_below() -> None:
    rules = [fake("short-panels")]
    laid = [amended("region", "County", "12 ft"), amended("town", "Town", "14 ft"), amended("job", "Job", "13 ft")]
    asked = run.review(a_plan(), rules, limits.resolve(rules, laid), today=TODAY).questions
    assert [one.place.file for one in asked] == ["Town.yaml"]


def test_amendments_that_contradict_each_other_in_one_layer_are_asked_about() -> None:
    rules = [fake("short-panels")]
    in_force = limits.resolve(rules, [amended("town", "Old town", "13 ft"), amended("town", "New town", "14 ft", 8)])
    report = run.review(a_plan([a_panel("P1", 13.5, 1)]), rules, in_force, today=TODAY)
    assert [(one.place, one.asks) for one in report.questions] == [
        (
            Place("New town.yaml", 8),
            "New town sets side_at_most of short-panels to 14 ft, Old town to 13 ft; the later, 14 ft, is used. "
            "Which governs?",
        )
    ]
    assert report.holds == 0


def test_questions_of_the_reading_and_of_the_plan_come_out_once() -> None:
    bare = SimpleNamespace(name="edge C-D", edge=None)
    plan = a_plan(design=a_design(edges=(Edge((), "lawn"),)), edges={"pieces": (bare,)})
    (slip,) = plan_questions.ask(plan)
    report = review(plan, [], questions=(slip, Problem(Place(FILE, 2), "a slope of 40 %")))
    assert [(one.place.line, one.asks) for one in report.questions] == [
        (9, "nothing is said about what stands beside C-D; add a run for it, or one line `- {rest: open ground}`"),
        (2, "a slope of 40 %"),
    ]


def test_a_name_in_a_question_stands_as_in_the_file() -> None:
    """Only the advice, which quotes nothing, says its numbers as the system of the plan does."""
    slip = Problem(Place(FILE, 3), "post {north|south} stands off the slab", "is it within {1 ft|300 mm}?")
    (question,) = review(a_plan(), [], questions=(slip,)).questions
    assert question.asks == "post {north|south} stands off the slab; is it within 1 ft?"


def test_a_plan_that_cannot_be_looked_through_says_so() -> None:
    plan = a_plan()
    del plan.edges
    (question,) = review(plan, []).questions
    assert question.place == Place(FILE)
    assert question.asks.startswith("the plan could not be looked through for slips (AttributeError")


def has(report: Report, *starts: str) -> None:
    """Each of ``starts`` opens one caution, in this order, and there are no others."""
    assert len(report.cautions) == len(starts)
    for caution, start in zip(report.cautions, starts, strict=True):
        assert caution.startswith(start)
        assert caution.endswith((")]", "common practice]"))


def test_cautions_follow_what_the_design_holds() -> None:
    has(review(a_plan(), []), "Wet concrete", "Wash out")
    point = Point(1.0, 1.0)
    everything = a_design(
        joints=(Joint("J1", "early saw cut", (point, point)),),
        reinforcement=Reinforcement(corner_bars=(CornerBars((point,), SimpleNamespace(), length(1)),)),  # type: ignore[arg-type]
        site=Site(base=Base()),
        order=Order(),
        heights=Heights(base=(SpotHeight(point, length(30)),), existing=(SpotHeight(point, length(31.3)),)),
    )
    has(
        review(a_plan(design=everything), []),
        "Wet concrete",
        "Wash out",
        "Sawing",
        "Guard every bar",
        "Have buried lines",
        "The free locate",
        "A cut of 5 ft",
        "A full mixer",
    )


def test_a_tooled_joint_needs_no_saw() -> None:
    point = Point(1.0, 1.0)
    report = review(a_plan(design=a_design(joints=(Joint("J1", "tooled groove", (point, point)),))), [])
    assert not any("silica" in caution for caution in report.cautions)


def test_the_report_carries_job_file_pour_and_figures() -> None:
    report = review(a_plan([a_panel("P1", 12, 12)]), [])
    assert (report.job, report.file, report.use, report.system) == ("Rowing club bay", FILE, "vehicle pad", "us")
    assert report.pour == date(2026, 5, 20)
    worked = report.worked
    assert (worked["area_m2"], worked["perimeter_m"], worked["net_volume_m3"]) == (18.0, 18.0, 1.8)
    (panel,) = worked["panels"]
    assert (panel["name"], panel["aspect"]) == ("P1", 1.2)
    assert panel["long_side_m"] == pytest.approx(3.6576)  # 12 ft
    assert worked["fall"] is worked["ponds"] is worked["water_shares"] is worked["thickness"] is None
    assert worked["not_worked"] == dict.fromkeys(
        ("fall", "ponds", "water_shares", "thickness"), "no finish height at corner B"
    )


def test_figures_of_the_finish_surface() -> None:
    corners = ((0.0, 0.0), (3.0, 0.0), (0.0, 3.0))
    facets = (
        Facet(corners, (1.0, 1.0, 1.0), 0.0, 4.5),
        Facet(corners, (1.0, 1.0, 1.06), 0.02, 4.5),
    )
    pond = Pond("low spot 1", 1.0, 0.01, 0.5, 0.002, (), (1.0, 2.0), ("wall",))
    share = WaterShare("street", "edge", "street", 1.0, None, Place(FILE), ())
    plan = a_plan(
        finish={"surface": object(), "facets": facets, "missing": ()},
        water={"ponds": (pond,), "shares": (share,)},
        concrete={"depths": Depths(0.09, (0.0, 1.0), 0.12, (2.0, 1.0), 0.1, 0.8, 14, 0.1)},
    )
    worked = review(plan, []).worked
    assert worked["fall"] == {
        "least": 0.0, "least_at_m": [1.0, 1.0], "greatest": 0.02, "greatest_at_m": [1.0, 1.0], "level_area_m2": 4.5,
    }  # fmt: skip
    assert worked["ponds"] == [
        {
            "name": "low spot 1", "level_m": 1.0, "depth_m": 0.01, "area_m2": 0.5, "volume_m3": 0.002,
            "deepest_m": [1.0, 2.0], "against": ["wall"],
        }
    ]  # fmt: skip
    assert worked["water_shares"] == [
        {"to": "street", "kind": "edge", "beside": "street", "share": 1.0, "allowed": None}
    ]
    assert worked["thickness"] == {
        "least_m": 0.09, "least_at_m": [0.0, 1.0], "mean_m": 0.1, "most_m": 0.12, "most_at_m": [2.0, 1.0],
        "covered": 0.8, "shots": 14,
    }  # fmt: skip
    assert worked["not_worked"] == {}


def test_a_figure_that_fails_leaves_the_others() -> None:
    shot = a_design(heights=Heights(base=(SpotHeight(Point(0, 0), length(9)),)))
    plan = a_plan(design=shot, finish={"surface": object(), "missing": ()})
    plan.panels.all = None
    worked = review(plan, []).worked
    assert worked["panels"] is None
    assert worked["not_worked"]["panels"].startswith("working it out failed: TypeError")
    assert worked["not_worked"]["thickness"] == "no base shots lie under the finish surface"
    assert (worked["area_m2"], worked["ponds"]) == (18.0, [])
