"""Every rule is right on its own examples: both ways, at the limit and a hair beyond.

The examples are invented. What each expects stands in it: the folder names the rule, the file says whether it is met,
and ``# also falls short:`` lists the other rules that fall short in it. Limits are compared with what is shown, so the
expected value of every test at the limit is the shown number itself.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from example_reviews import FOLDER, IN_FORCE, RULES, drawing_in, example, read_and_worked, review_of, reviewed
from judged import worked_apart
from slabwright.design.read import read_design
from slabwright.plan.finish import Finish
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Comment, Report
from slabwright.rulebook import heights, limits
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.limits import Amendment, Amendments, published_sources
from slabwright.source import locate
from slabwright.units import quantity
from slabwright.units.quantity import Amount
from turning import drawing_of

NAMES = tuple(rule.name for rule in RULES)
BY_NAME = {rule.name: rule for rule in RULES}
LINES_AT_MOST = 40
HAIR = 1e-4  # a hair beyond a limit, as a share of it: far over the shared tolerance, far under what anybody measures
_ALSO = re.compile(r"^# also falls short: (.+)$", re.MULTILINE)


def also(path: Path) -> set[str]:
    """Other rules that an example says fall short in it."""
    return {name.strip() for listed in _ALSO.findall(path.read_text(encoding="utf-8")) for name in listed.split(",")}


def cases(rule: str) -> list[Path]:
    return sorted((FOLDER / "rules" / rule).glob("*.slab.yaml"))


def own(report: Report, rule: str) -> list[Comment]:
    return [comment for comment in report.comments if comment.rule == rule]


ALL_CASES = [(rule, path) for rule in NAMES for path in cases(rule)]
CASE_IDS = [f"{rule}/{path.name.removesuffix('.slab.yaml')}" for rule, path in ALL_CASES]


# nothing is missing


def test_every_rule_has_its_examples_and_every_folder_a_rule() -> None:
    folders = {path.name for path in (FOLDER / "rules").iterdir() if path.is_dir()}
    assert folders == set(NAMES)
    for rule in NAMES:
        assert {"meets.slab.yaml", "falls_short.slab.yaml"} <= {path.name for path in cases(rule)}, rule
        assert all(path.name.startswith(("meets", "falls_short")) for path in cases(rule)), rule


@pytest.mark.parametrize(("rule", "path"), ALL_CASES, ids=CASE_IDS)
def test_an_example_is_small_and_says_what_it_shows(rule: str, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert re.match(r"# [A-Z0-9].+[.:!]\n", text), "a first line in a foreman's words"
    assert len(text.splitlines()) <= LINES_AT_MOST
    assert also(path) <= set(NAMES) - {rule}


@pytest.mark.parametrize("rule", NAMES)
def test_every_rule_has_a_page_and_a_limit_with_a_source(rule: str) -> None:
    page = (locate.folder("rules").parent / "docs" / "rulebook.md").read_text(encoding="utf-8")
    assert f"\n### {rule}\n" in page
    assert f"(../example_designs/rules/{rule}/meets.slab.yaml)" in page
    assert BY_NAME[rule].limits
    for limit in BY_NAME[rule].limits:
        assert limit.cite.source in published_sources()
        assert IN_FORCE[rule][limit.name].citation


# both ways


@pytest.mark.parametrize(("rule", "path"), ALL_CASES, ids=CASE_IDS)
def test_an_example_shows_its_rule_and_nothing_unexpected(rule: str, path: Path) -> None:
    report = review_of(path)
    assert report.crashes == ()
    assert {comment.rule for comment in report.comments} - {rule} == also(path)
    if path.name.startswith("meets"):
        (met,) = [entry for entry in report.met if entry.rule == rule]
        assert met.slack is not None
        assert met.slack >= -1e-6
    else:
        assert own(report, rule)
        assert all(comment.to_pass.template and comment.says.template for comment in own(report, rule))


# at the limit, and a hair on either side of it


def in_force(rule: str, values: Mapping[str, float]) -> Mapping[str, Limits]:
    """The limits of one rule with some of them set by amendments; the sane range is not asked, so that any can be."""
    kinds = {limit.name: limit.kind for limit in BY_NAME[rule].limits}
    laid = tuple(
        Amendment(rule, name, "a test", Amount(value, kinds[name], f"{value:g}")) for name, value in values.items()
    )
    return limits.resolve((BY_NAME[rule],), [Amendments("job", "a test", laid)])


def loosened(rule: str, but: str) -> dict[str, float]:
    """Every other limit of a rule out of the way, so that the one that is tried decides alone."""
    return {
        limit.name: -1e6 if limit.direction == "least" else 1e6 for limit in BY_NAME[rule].limits if limit.name != but
    }


@cache
def plan_of(path: Path) -> Plan:
    return Plan(read_design(path)[0])


def judged(rule: str, path: Path, values: Mapping[str, float]) -> list[Comment]:
    report = run.review(plan_of(path), (BY_NAME[rule],), in_force(rule, values))
    assert report.crashes == (), values
    return list(report.comments)


def at_limit(rule: str) -> list[tuple[str, int]]:
    return [(rule, number) for number in range(len(own(review_of(example(rule, "falls_short")), rule)))]


COMMENTS = [one for rule in NAMES if example(rule, "falls_short").exists() for one in at_limit(rule)]


def teardown_module() -> None:
    """Plans that were worked without what may be missed by are not for the tests of other files."""
    for kept in (read_and_worked, review_of, drawing_in):
        kept.cache_clear()


@pytest.fixture
def no_give(monkeypatch: pytest.MonkeyPatch) -> None:
    """Limits on falls and heights as they are written: what may be missed by is proved for itself."""
    monkeypatch.setattr(heights, "FALL_GIVE", 0.0)
    monkeypatch.setattr(Finish, "typed_step", property(lambda finish: 1e-9))
    monkeypatch.setitem(BY_NAME["truck-reach"].judge.__globals__, "STOPS_WITHIN", 0.0)
    monkeypatch.setitem(BY_NAME["curing"].judge.__globals__, "DRUM", 0.0)
    monkeypatch.setitem(BY_NAME["steel-laps"].judge.__globals__, "LAID", 0.0)
    monkeypatch.setitem(BY_NAME["ordered-volume"].judge.__globals__, "HALF_PERCENT", 0.0)
    monkeypatch.setitem(BY_NAME["panel-corners"].judge.__globals__, "LAID_OUT", 0.0)
    for rule in (
        "panel-spacing",
        "panel-aspect",
        "base-shots",
        "load-age",
        "evaporation",
        "slump-for-placing",
        "hands-for-area",
    ):
        monkeypatch.setitem(BY_NAME[rule].judge.__globals__, "HARDLY", 0.0)


@pytest.mark.usefixtures("no_give")
@pytest.mark.parametrize(("rule", "number"), COMMENTS, ids=[f"{rule}-{number}" for rule, number in COMMENTS])
def test_exactly_on_the_limit_is_met_and_a_hair_beyond_is_not(rule: str, number: int) -> None:
    path = example(rule, "falls_short")
    comment = own(review_of(path), rule)[number]
    limit = IN_FORCE[rule][comment.limit.name]
    exact = exact_limit(comment.limit.value, comment.asked, comment.shown)
    hair = HAIR * max(abs(exact), abs(limit.value.si) if exact == 0 else 0.0, 1e-3 if limit.value.si == 0 else 0.0)
    tighter, looser = (exact + hair, exact - hair) if limit.direction == "least" else (exact - hair, exact + hair)
    rest = loosened(rule, limit.name)
    there = [one for one in judged(rule, path, rest) if one.at == comment.at and one.limit.name == limit.name]
    assert there, "as published, with the other limits out of the way"

    def falls_short(value: float) -> bool:
        return any(
            same_thing(one, comment) and one.limit.name == limit.name
            for one in judged(rule, path, {**rest, limit.name: value})
        )

    assert not falls_short(exact)
    assert not falls_short(looser)
    assert falls_short(tighter)


# Rules whose met example is met by more than its limit, so that the boundary is tried in a design instead.
MET_OTHERWISE = {"stated-fall": "two falls within 5 % of each other are one, however tight the limit"}


@pytest.mark.usefixtures("no_give")
@pytest.mark.parametrize(("lower", "met"), [("99.82", True), ("99.8202", False), ("99.8198", True)])
def test_a_written_fall_may_differ_by_a_fifth_of_a_percent(lower: str, met: bool) -> None:
    """2 % written over 10 ft, 0.18 ft of fall drawn: 1.8 %, by hand. A hair less fall is beyond the limit."""
    drawing = drawing_of(
        "format: 1\njob: {name: Boundary pad}\nunits: {plan: ft, height: ft}\nuse: patio\n"
        "points: {A: [0, 0], B: [10, 0], C: [10, 10], D: [0, 10]}\noutline: [A, B, C, D]\n"
        f"heights: {{finish: {{A: 100, B: 100, C: {lower}, D: {lower}}}, falls: [{{along: [A, D], fall: 2 %}}]}}\n"
        "thickness: {design: 4 in}\n"
    )
    assert ("stated-fall" in {entry.rule for entry in reviewed(drawing).met}) is met


@pytest.mark.usefixtures("no_give")
@pytest.mark.parametrize("rule", [rule for rule in NAMES if rule not in MET_OTHERWISE])
def test_the_tightest_margin_of_what_is_met_is_a_limit_too(rule: str) -> None:
    """The met example with its limit set to what is shown is met still; a hair tighter, it falls short there.

    Nothing is tighter than no pond and no difference at all: there the first half is the whole test.
    """
    path = example(rule, "meets")
    (met,) = [entry for entry in review_of(path).met if entry.rule == rule]
    assert met.limit and met.shown and met.asked
    exact = exact_limit(met.limit.value, met.asked, met.shown)
    hair = HAIR * max(abs(exact), abs(met.limit.value.si) if exact == 0 else 0.0) or HAIR
    tighter = exact + hair if met.limit.direction == "least" else exact - hair
    rest = loosened(rule, met.limit.name)
    assert judged(rule, path, {**rest, met.limit.name: exact}) == []
    if abs(met.shown.si) < 1e-9 and met.limit.direction == "most":
        return
    assert [one for one in judged(rule, path, {**rest, met.limit.name: tighter}) if one.limit.name == met.limit.name]


def same_thing(one: Comment, other: Comment) -> bool:
    return one.at.name == other.at.name and quantity.same(one.shown.si, other.shown.si)


def exact_limit(value: Amount, asked: Amount, shown: Amount) -> float:
    """The value of a limit at which what is shown is exactly what is asked.

    ``asked`` is the limit's own value, or that value on top of what the file asks, or a multiple of it.
    """
    if quantity.same(value.si, asked.si):
        return shown.si
    return value.si + shown.si - asked.si if value.kind == asked.kind else value.si * shown.si / asked.si


# twelve feet are twelve feet


TWELVE_FEET = {"ft": ("12", "36"), "in": ("144", "432"), "m": ("3.6576", "10.9728"), "mm": ("3657.6", "10972.8")}


@pytest.mark.parametrize("rule", [rule.name for rule in RULES if rule.worked])
def test_the_published_numbers_of_a_rule_come_out_of_its_own_code(rule: str) -> None:
    assert worked_apart(rule) == {}


@pytest.mark.parametrize("unit", TWELVE_FEET)
@pytest.mark.parametrize("thickness", ["4 in", "101.6 mm", "0.1016 m"])
def test_twelve_feet_against_36_times_4_in_are_met_in_every_unit(unit: str, thickness: str) -> None:
    """36 x 4 in = 144 in = 12 ft = 3.6576 m: exact, NIST SP 811 (2008), app. B. A thousandth of a foot more is not."""

    def holds(side: str) -> list[float]:
        report = reviewed(
            drawing_of(
                f"format: 1\njob: {{name: Twelve foot pad}}\nunits: {{plan: {unit}, height: ft}}\nuse: patio\n"
                f"outline: [[0, 0], [{side}, 0], [{side}, {side}], [0, {side}]]\nthickness: {{design: {thickness}}}\n"
            )
        )
        name = "thicknesses_at_most" if unit in ("ft", "in") else "metric_thicknesses_at_most"
        return [one.shown.si for one in own(report, "panel-spacing") if one.limit.name == name]

    twelve = TWELVE_FEET[unit][0]
    assert holds(twelve) == []
    assert holds(str(float(twelve) * 1.0001)) == pytest.approx([3.6576 * 1.0001], rel=1e-9)
