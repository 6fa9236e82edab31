"""Numbers as the trade says them, on every sheet of the example jobs and in every rule's own findings.

A tape has eighths and sixteenths, a watch hours and minutes, a scale three figures (common practice); one system of
units is told, unless both are asked for. Every search is held against a text that it must find something in.
"""

from __future__ import annotations

import contextlib
import io
import re
from functools import cache

import pytest
from example_reviews import IN_FORCE, JOBS, RULES, TODAY, example, read_and_worked
from slabwright.cli import main
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.text.arithmetic import printed, worth
from slabwright.text.words import written
from slabwright.text.working import numbers_text
from slabwright.units.quantity import Amount, System, same
from slabwright.writers.sheet_words import settled
from us_words import us_words

FORMS = (("review", "--full"), ("order",), ("stake",), ("card",))
METRIC_JOBS = ("bakery_yard", "garden_patio")
CROSSED = (("trailer_bay", "--metric"), ("bakery_yard", "--us"))  # not the system that the file is typed in
NAMES = {_path.name.removesuffix(".slab.yaml"): _path for _path in JOBS}

WRONG = {
    "decimals of an inch": re.compile(r"\d'-?\d*\.\d|\d\.\d+ ?(?:in\b(?!/)|\")"),
    "decimals of an hour": re.compile(r"\d\.\d+ (?:h|min|hours?)\b"),
    "a unit squared": re.compile(r"(?:\bin|\bmm|\bft|\") ?(?:\^ ?2|squared|²)"),
    "a weight of more figures than a scale shows": re.compile(r"(?<![\d.,])\d{3,}\.\d+ (?:lb|ton|kg|t)\b"),
}
FOUND_IN = (
    "11'-8.04\"", "raise it by 1.92 in", "1.15 h of it", "90.5 min", "2 1/2 in^2 x 100'-0\"", "833.6 lb", "11339.8 kg",
)  # fmt: skip
METRIC = re.compile(r"(?<![\w.])\d[\d.,/ ]*(?:mm|m|m2|m3|kg|t|MPa|kPa|kN|km/h|°C|L|MN/m3|m3/h|kg/m3)(?![\w'])")


@cache
def sheet(job: str, form: tuple[str, ...], *options: str) -> str:
    """What a form says of a job, in one line."""
    out = io.StringIO()
    with contextlib.redirect_stdout(out):
        assert main.main([*form, *options, str(NAMES[job])]) in (0, 1)
    return " ".join(out.getvalue().split())


ASKED = [*((job,) for job in NAMES), *CROSSED]


@pytest.mark.long
@pytest.mark.parametrize("asked", ASKED, ids="".join)
def test_no_sheet_says_a_number_as_nobody_does(asked: tuple[str, ...]) -> None:
    job, *options = asked
    for form in FORMS:
        text = sheet(job, form, *options)
        for what, wrong in WRONG.items():
            found = [text[max(0, one.start() - 40) : one.end() + 20] for one in wrong.finditer(text)]
            assert not found, (form, what)


def test_the_searches_find_what_they_look_for() -> None:
    for text in FOUND_IN:
        assert any(wrong.search(text) for wrong in WRONG.values()), text
    assert METRIC.search("within 18 to 24 in (457 to 610 mm) of the marks")


@pytest.mark.parametrize("asked", ASKED, ids="".join)
def test_one_system_is_shown_alone_unless_both_are_asked_for(asked: tuple[str, ...]) -> None:
    job, *options = asked
    # bars of 12 mm have no other name
    metric = "--metric" in options or (job in METRIC_JOBS and "--us" not in options)
    for form in FORMS:
        text = sheet(job, form, *options)
        # boards and bars are bought by name, and a federal rule is looked up by its own
        foreign = us_words([re.sub(r"29 CFR|#\d+|[12]x\d+|\dx\d W[\d.]+", "", text)] if metric else [])
        foreign += [] if metric else [one.group() for one in METRIC.finditer(text.replace("12 mm", ""))]
        assert not foreign, form


@pytest.mark.parametrize("asked", CROSSED, ids="".join)
def test_both_systems_are_shown_where_both_are_asked_for(asked: tuple[str, ...]) -> None:
    both = sheet(asked[0], ("review", "--full"), "--both", *asked[1:])
    assert us_words([both]) and METRIC.search(both)


# what rules say of their examples that fall short


@cache
def report_of(rule_name: str, system: System) -> Report:
    plan, questions = read_and_worked(example(rule_name, "falls_short"))
    (rule,) = [one for one in RULES if one.name == rule_name]
    shown = plan if plan.system == system else Plan(plan.design._replace(system=system))
    return run.review(shown, (rule,), {rule.name: IN_FORCE[rule.name]}, questions, TODAY)


@pytest.mark.parametrize("system", ["us", "metric"])
def test_what_is_shown_and_what_is_asked_never_look_alike(system: System) -> None:
    compared = 0
    for rule in RULES:
        report = report_of(rule.name, system)
        for comment in report.comments:
            shown, asked, _ = settled(comment, report)
            assert shown.removeprefix("about ") != asked.removeprefix("about "), (rule.name, shown, asked)
            compared += 1
    assert compared >= 100


@pytest.mark.parametrize("system", ["us", "metric"])
def test_arithmetic_comes_out_as_it_is_printed(system: System) -> None:
    """The numbers of a step, worked again as they are printed, round to its result as that is printed."""
    worked = 0
    for rule in RULES:
        report = report_of(rule.name, system)
        for comment in report.comments:
            _, _, fill = settled(comment, report)
            for step in comment.working:
                template = written(step.numbers.template, system)
                amounts = {slot: one for slot, one in step.numbers.values.items() if isinstance(one, Amount)}
                exact = worth(template, {slot: one.si for slot, one in amounts.items()})
                result = printed(fill(step.result).partition(" (")[0], step.result.kind)
                if exact is None or result is None or not same(exact, step.result.si):
                    continue  # no plain arithmetic
                text = numbers_text(step, fill, system)
                said = re.fullmatch(_slots(template), text)
                assert said is not None, (rule.name, template, text)
                told = {slot: printed(said[slot], one.kind) for slot, one in amounts.items()}
                again = worth(template, {slot: one.si for slot, one in told.items() if one})
                assert again is not None, (rule.name, text)
                finest = [one for slot, one in told.items() if one and "/64 in" in said[slot]]  # no tape shows more
                room = result.last / 2 + 3e-6 * abs(result.si)
                room += abs(again) * sum(one.last / 2 / abs(one.si) for one in finest)
                assert again == pytest.approx(result.si, abs=room), (rule.name, text)
                worked += 1
    assert worked >= 50


def _slots(template: str) -> str:
    """A pattern for the texts that stand in the slots."""
    seen: set[str] = set()

    def slot(found: re.Match[str]) -> str:
        name = found[1]
        if name in seen:
            return f"(?P={name})"
        seen.add(name)
        return f"(?P<{name}>.+?)"

    return re.sub(r"\\\{(\w+)\\\}", slot, re.escape(template))


def test_a_value_is_told_alike_in_the_sentence_and_beside_it() -> None:
    """Where two numbers are told finer to tell them apart, the sentence tells them so too."""
    for rule in RULES:
        report = report_of(rule.name, "us")
        for comment in report.comments:
            shown, _, fill = settled(comment, report)
            for value in comment.says.values.values():
                if isinstance(value, Amount) and value == comment.shown and value != comment.asked:
                    assert fill(value).replace("\u00a0", " ") == shown, rule.name
