"""Reviews as one SARIF 2.1.0 log (OASIS Standard, Static Analysis Results Interchange Format, with Errata 01).

Hosts of repositories and editors read it and show each comment at its line. What a conclusion becomes stands in
:data:`LEVELS` and :data:`KINDS`; ``docs/repositories.md`` has the same table.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from urllib.parse import quote

from slabwright.review.report import LOCAL_CODE, Comment, Report
from slabwright.rulebook.kit import WEIGHTS, Limits, Rule, Spot, Step, Weight
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.text.json_values import json_text
from slabwright.text.sheet import visible
from slabwright.text.words import Value, plain, written
from slabwright.text.working import plain_amount, sentence, step_parts
from slabwright.units.quantity import Amount, System, show, show_pair

Data = dict[str, Any]

VERSION = "2.1.0"
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

LEVELS: Mapping[Weight, str] = {"hold": "error", "caution": "warning", "note": "note"}  # of kind "fail"
KINDS: Mapping[str, str] = {
    "met": "pass",
    "not shown": "open",
    "does not apply": "notApplicable",
}  # all of level "none"


def results_of(report: Report, passes: bool = False) -> list[Data]:
    """The results of one review: its comments, and with ``passes`` also what is met, not shown or does not apply."""
    found = [_comment(comment, report) for comment in report.comments]
    if not passes:
        return found
    for met in report.met:
        text = met.title
        if met.shown and met.asked and met.limit:
            pair = show_pair(plain_amount(met.shown), plain_amount(met.asked), report.system)
            text = f"{met.title}: {pair[0]} against at {met.limit.direction} {pair[1]}"
        found.append(_other("met", met.rule, text, met.at or Spot("", Place(report.file))))
    for silent in report.not_shown:
        found.append(_other("not shown", silent.rule, f"add {', or '.join(silent.add)}", Spot("", silent.place)))
    for other in report.does_not_apply:
        found.append(_other("does not apply", other.rule, other.reason, Spot("", Place(report.file))))
    return found


def notices_of(report: Report) -> list[Data]:
    """What the review tells besides its results: rules that failed in themselves, questions, idle variances."""
    told = [_notice("error", crash.place, f"{crash.rule} failed: {crash.what}") for crash in report.crashes]
    told += [_notice("note", one.place, one.asks) for one in report.questions]
    told += [_notice("note", one.place, f"variance of {one.rule}: {one.what}") for one in report.variance_troubles]
    return told


def unread(problems: Iterable[Problem]) -> list[Data]:
    """The problems of a file that could not be read as a design."""
    return [
        _notice("error", one.place, "; write: ".join(part for part in (one.wrong, one.write) if part))
        for one in problems
    ]


def as_sarif(
    rules: Sequence[tuple[Rule, Limits]],
    results: Sequence[Data],
    notices: Sequence[Data],
    whole: bool,
    version: str = "",
) -> str:
    """One log with one run, the same text for the same reviews, with a newline at the end.

    ``rules`` are those the results may name, each with its limits in force; ``whole`` says that every file was judged.
    """
    named = {rule.name: at for at, (rule, _) in enumerate(rules)}
    driver: Data = {"name": "slabwright"}
    if version:
        driver["version"] = version
    driver["fullName"] = "slabwright, a plan checker for concrete slabs on ground"
    driver["shortDescription"] = {
        "text": "Checks the plan of a concrete slab on ground before the concrete is ordered."
    }
    driver["fullDescription"] = {"text": LOCAL_CODE}
    driver["rules"] = [_rule(rule, limits) for rule, limits in rules]
    log = {
        "$schema": SCHEMA,
        "version": VERSION,
        "runs": [
            {
                "tool": {"driver": driver},
                "invocations": [{"executionSuccessful": whole, "toolExecutionNotifications": list(notices)}],
                "columnKind": "unicodeCodePoints",
                "results": [
                    {"ruleId": one["ruleId"], "ruleIndex": named[one["ruleId"]], **one}
                    if one["ruleId"] in named
                    else one
                    for one in results
                ],
            }
        ],
    }
    return json_text(log)


def _rule(rule: Rule, limits: Limits) -> Data:
    """One rule: what it asks, its limits with who set them, and its page as help."""
    asked = [
        f"{written(limit.meaning, None)}: at {limit.direction} {limit.value.typed}, a {limit.weight}; {limit.citation}"
        + ("" if limit.layer == "published" else f"; set by {limit.set_by}")
        for limit in limits.values()
    ]
    page = [f"{heading}: {' '.join(text.split())}" for heading, text in rule.page.items()]
    sections = [f"**{_marked(heading)}**\n\n{_marked(' '.join(text.split()))}" for heading, text in rule.page.items()]
    heaviest: Weight = next(
        (weight for weight in WEIGHTS if any(limit.weight == weight for limit in limits.values())), "note"
    )
    return {
        "id": rule.name,
        "shortDescription": {"text": visible(rule.title)},
        "fullDescription": {"text": visible(rule.summary or rule.title)},
        "help": {
            "text": "\n\n".join(map(visible, (*page, *asked))),
            "markdown": "\n\n".join([*sections, "\n".join(f"- {_marked(line)}" for line in asked)]),
        },
        "defaultConfiguration": {"level": LEVELS[heaviest]},
        "properties": {"tags": [rule.group]},
    }


def _marked(text: str) -> str:
    """Text that Markdown prints as it stands."""
    return "".join(f"\\{letter}" if letter in "\\`*_[]<>#|" else letter for letter in visible(text))


def _comment(comment: Comment, report: Report) -> Data:
    system = report.system
    shown, asked = show_pair(plain_amount(comment.shown), plain_amount(comment.asked), system)
    working = [_working(step, system) for step in comment.working]
    says, to_pass = sentence(plain(comment.says, system)), sentence(plain(comment.to_pass, system))
    lines = [
        f"{says}.",
        f"Shown: {shown}. Asked: at {comment.limit.direction} {asked} ({written(comment.limit.meaning, system)}).",
        *(f"Working: {line}" for line in working),
        f"To pass: {to_pass}.",
        f"Source: {comment.limit.citation}.",
    ]
    data: Data = {
        "ruleId": comment.rule,
        "kind": "fail",
        "level": LEVELS[comment.weight],
        "message": {"text": "\n".join(map(visible, lines))},
        "locations": [_location(comment.at)],
        "partialFingerprints": {"ruleLimitThing/v1": f"{comment.rule}/{comment.limit.name}/{visible(comment.at.name)}"},
        "properties": {
            "weight": comment.weight,
            "group": comment.group,
            "number": comment.number,
            "shown": shown,
            "asked": asked,
            "limit": comment.limit.name,
            "working": [visible(line) for line in working],
            "toPass": visible(to_pass),
            "source": comment.limit.citation,
            "setBy": comment.limit.set_by,
        },
    }
    if comment.variance is not None:
        reason = f"{comment.variance.reason} (accepted by {comment.variance.accepted_by}, {comment.variance.date})"
        data["suppressions"] = [
            {
                "kind": "inSource",
                "status": "accepted",
                "justification": visible(reason),
                "location": {"physicalLocation": _physical(comment.variance.place)},
            }
        ]
    return data


def _working(step: Step, system: System) -> str:
    """One line of arithmetic, each part once."""

    def fill(value: Value) -> str:
        return show(value, system, both=False) if isinstance(value, Amount) else str(value)

    return " = ".join(step_parts(step._replace(result=plain_amount(step.result)), fill, system))


def _other(conclusion: str, rule: str, text: str, at: Spot) -> Data:
    return {
        "ruleId": rule,
        "kind": KINDS[conclusion],
        "level": "none",
        "message": {"text": visible(text)},
        "locations": [_location(at)],
    }


def _notice(level: str, place: Place, text: str) -> Data:
    return {
        "level": level,
        "message": {"text": visible(text)},
        "locations": [{"physicalLocation": _physical(place)}],
    }


def _location(spot: Spot) -> Data:
    data: Data = {"physicalLocation": _physical(spot.place)}
    if spot.name:
        data["logicalLocations"] = [{"name": visible(spot.name)}]
    return data


def _physical(place: Place) -> Data:
    """A place as a region that runs from it to the end of its line."""
    return {
        "artifactLocation": {"uri": uri(place.file)},
        "region": {"startLine": place.line, "startColumn": place.column},
    }


def uri(file: str) -> str:
    """A file name as a relative or absolute URI reference.

    >>> uri("jobs/boat bay#2.slab.yaml")
    'jobs/boat%20bay%232.slab.yaml'
    >>> uri("/home/plans/pad.slab.yaml")
    'file:///home/plans/pad.slab.yaml'
    """
    path = quote(file.replace("\\", "/").encode("utf-8", "surrogateescape"))
    return f"file://{path}" if path.startswith("/") else path
