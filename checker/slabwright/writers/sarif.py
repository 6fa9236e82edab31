"""Reviews as one SARIF 2.1.0 log (OASIS Standard, Static Analysis Results Interchange Format, with Errata 01).

Hosts of repositories and editors read it and show each comment at its line. What a conclusion becomes stands in
:data:`LEVELS` and :data:`KINDS`; ``docs/repositories.md`` has the same table.
"""

from __future__ import annotations

import hashlib
import os
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from pathlib import Path, PurePath
from typing import Any
from urllib.parse import quote

from slabwright.plan.plan import Spot
from slabwright.review.report import LOCAL_CODE, Comment, Report
from slabwright.rulebook.in_force import WEIGHTS, Limits, Weight
from slabwright.rulebook.rule import Rule
from slabwright.source import extent
from slabwright.source.files import repository_of
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.text.json_values import json_text
from slabwright.text.letters import visible
from slabwright.text.words import Step, Value, plain, written
from slabwright.text.working import plain_amount, sentence, step_parts
from slabwright.units.quantity import Amount, System, show, show_pair, with_comma

Data = dict[str, Any]

VERSION = "2.1.0"
SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

ROOT = "SRCROOT"  # what paths are relative to: the root of the repository, or the working folder where there is none
UNREADABLE = "unreadable-file"  # a rule of the log alone: every file can be read
LINE_HASH = "primaryLocationLineHash"  # the key by which hosts tell a result from one run to the next

LEVELS: Mapping[Weight, str] = {"hold": "error", "caution": "warning", "note": "note"}  # of kind "fail"
KINDS: Mapping[str, str] = {
    "met": "pass",
    "not shown": "open",
    "does not apply": "notApplicable",
}  # all of level "none"


def results_of(report: Report, passes: bool = False) -> list[Data]:
    """The results of one review: its comments, and with ``passes`` also what is met, not shown or does not apply."""
    report = report._replace(system=with_comma(report.system, comma=False))
    found = _fingerprinted([_comment(comment, report) for comment in report.comments])
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
    """The problems of a file that could not be read, as results."""
    return _fingerprinted(
        [
            {
                "ruleId": UNREADABLE,
                "kind": "fail",
                "level": "error",
                "message": {"text": visible(_in_one(one))},
                "locations": [{"physicalLocation": _physical(one.place)}],
                "partialFingerprints": {LINE_HASH: f"{UNREADABLE}/{one.place.path}/{one.wrong}"},
            }
            for one in problems
        ]
    )


def failed(problems: Iterable[Problem]) -> list[Data]:
    """What is told of a file on which the program itself failed, as notices."""
    return [_notice("error", one.place, _in_one(one)) for one in problems]


def _in_one(problem: Problem) -> str:
    return "; write: ".join(part for part in (problem.wrong, problem.write) if part)


def _fingerprinted(results: list[Data]) -> list[Data]:
    """The results of one file with what each is known by made short, and those that are alike counted."""
    seen: Counter[str] = Counter()
    for one in results:
        prints = one["partialFingerprints"]
        digest = hashlib.sha256(prints[LINE_HASH].encode("utf-8", "replace")).hexdigest()[:16]
        seen[digest] += 1
        prints[LINE_HASH] = f"{digest}:{seen[digest]}"
    return results


def as_sarif(
    rules: Sequence[tuple[Rule, Limits]],
    results: Sequence[Data],
    notices: Sequence[Data],
    whole: bool,
    version: str = "",
    only: str = "",
    pages: str = "",
) -> str:
    """One log with one run, the same text for the same reviews, with a newline at the end.

    ``rules`` are those the results may name, each with its limits in force; ``whole`` says that every file was judged.
    ``only`` is the one group of rules that was looked at; ``pages`` is where the rulebook is shown, for links to it.
    """
    described = [*(_rule(rule, limits, pages) for rule, limits in rules), _UNREADABLE]
    named = {one["id"]: at for at, one in enumerate(described)}
    driver: Data = {"name": "slabwright"}
    if version:
        driver["version"] = version
    driver["fullName"] = "slabwright, a plan checker for concrete slabs on ground"
    driver["shortDescription"] = {
        "text": "Checks the plan of a concrete slab on ground before the concrete is ordered."
    }
    driver["fullDescription"] = {"text": LOCAL_CODE}
    driver["rules"] = described
    log = {
        "$schema": SCHEMA,
        "version": VERSION,
        "runs": [
            {
                "tool": {"driver": driver},
                "automationDetails": {"id": f"slabwright/{only}/" if only else "slabwright/"},
                "originalUriBaseIds": {ROOT: {"description": {"text": _ROOT_IS}}},
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


_ROOT_IS = "The root of the repository; where there is none, the folder the review was run in."
_UNREADABLE: Data = {
    "id": UNREADABLE,
    "name": "UnreadableFile",
    "shortDescription": {"text": "Every file can be read"},
    "fullDescription": {"text": "A design, its readings, the firm file or local amendments could not be read."},
    "help": {
        "text": "What cannot be read is not judged. Mend the line as the message says, and review again.",
        "markdown": "What cannot be read is not judged. Mend the line as the message says, and review again.",
    },
    "defaultConfiguration": {"level": "error"},
}


def _rule(rule: Rule, limits: Limits, pages: str) -> Data:
    """One rule: what it asks, its limits with who set them, and its page as help."""
    asked = [
        f"{written(limit.meaning, None)}: at {limit.direction} {limit.value.typed}, a {limit.weight}; {limit.citation}"
        + (f"; set by {limit.set_by}" if limit.amended or limit.own else "")
        for limit in limits.values()
    ]
    page = [f"{heading}: {' '.join(text.split())}" for heading, text in rule.page.items()]
    sections = [f"**{_marked(heading)}**\n\n{_marked(' '.join(text.split()))}" for heading, text in rule.page.items()]
    heaviest: Weight = next(
        (weight for weight in WEIGHTS if any(limit.weight == weight for limit in limits.values())), "note"
    )
    return {
        "id": rule.name,
        "name": "".join(part.capitalize() for part in rule.name.split("-")),
        **({"helpUri": f"{pages}#{rule.name}"} if pages and not rule.own else {}),
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
    says, to_pass = sentence(plain(comment.told, system)), sentence(plain(comment.to_pass, system))
    lines = [
        f"{says}.",
        f"Shown: {shown}. Asked: at {comment.limit.direction} {asked} ({written(comment.limit.meaning, system)}).",
        *(f"Working: {line}" for line in working),
        f"To pass: {to_pass}.",
        f"Source: {comment.limit.citation}.",
    ]
    first = min(comment.places, key=lambda one: (one.at.place.line, one.at.place.column, one.at.name))
    thing = f"{comment.rule}/{comment.limit.name}/{visible(first.at.name)}"  # not the worst, which changes soon
    data: Data = {
        "ruleId": comment.rule,
        "kind": "fail",
        "level": LEVELS[comment.weight],
        "message": {"text": "\n".join(map(visible, lines))},
        "locations": [_location(one.at) for one in comment.places],
        "partialFingerprints": {LINE_HASH: thing, "ruleLimitThing/v1": thing},
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
    """A place as a region that runs to the end of the value that stands there."""
    line, column = extent.end(place)
    return {
        "artifactLocation": artifact(Path(os.path.realpath(Path(place.file).parent)) / Path(place.file).name, _root()),
        "region": {
            "startLine": place.line,
            "startColumn": place.column,
            **({"endLine": line, "endColumn": column} if line else {}),
        },
    }


def artifact(path: PurePath, root: PurePath) -> Data:
    """A file by its path from the root of the repository; one outside by its whole path.

    >>> from pathlib import PurePosixPath, PureWindowsPath
    >>> artifact(PurePosixPath("/home/firm/jobs/boat bay#2.slab.yaml"), PurePosixPath("/home/firm"))
    {'uri': 'jobs/boat%20bay%232.slab.yaml', 'uriBaseId': 'SRCROOT'}
    >>> artifact(PureWindowsPath("C:/firm/jobs/pad.slab.yaml"), PureWindowsPath("c:/Firm"))
    {'uri': 'jobs/pad.slab.yaml', 'uriBaseId': 'SRCROOT'}
    >>> artifact(PureWindowsPath("D:/plans/pad.slab.yaml"), PureWindowsPath("C:/firm"))
    {'uri': 'file:///D:/plans/pad.slab.yaml'}
    """
    if not path.is_relative_to(root):
        return {"uri": path.as_uri()}
    name = path.relative_to(root).as_posix()
    return {"uri": quote(name.encode("utf-8", "surrogateescape")), "uriBaseId": ROOT}


def _root() -> Path:
    return _root_above(Path(os.path.realpath(Path.cwd())))


@lru_cache(maxsize=8)
def _root_above(folder: Path) -> Path:
    """The root of the repository that a folder is in, else the folder itself."""
    return repository_of(folder) or folder
