"""What an editor asks about the text of a design, whether it is saved or not; knows nothing of any protocol."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Literal, NamedTuple

from slabwright.design.read import read_text
from slabwright.proposals.applying import bench_of
from slabwright.review import reviewing, trials
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Report
from slabwright.review.trials import Bench, Outcome
from slabwright.rulebook import limits, sources
from slabwright.source.place import Place
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from slabwright.units.quantity import show
from slabwright.writers.pages import rule_page

Weight = Literal["error", "warning", "information"]

_WEIGHTS: dict[str, Weight] = {"hold": "error", "caution": "warning", "note": "information"}
_RULE = re.compile(r"\brule:\s*[\w-]*$")
_PLACE = re.compile(r"\b(?:at|leads_to):\s*[^,}\]]*$")
_POINT = re.compile(
    r"\b(?:accessible_route|aisle|along|arc_to|at|climbs_to|corners|existing_joints|foot|from|hinge|opens_to|outline"
    r"|outlet_at|run|through|to|truck_path|truck_spots):\s*(?:\[[^\]]*)?[\w-]*$"
    r"|^\s+(?:finish|base|existing):\s*\{(?:[^}]*,)?\s*[\w-]*$"
)
_SECTION = re.compile(r"^([a-z_]+):", re.MULTILINE)
_NAMED = re.compile(r"^\s+([\w-]+):\s*\[\s*[-+\d.\"']|[{,]\s*([\w-]+):\s*\[\s*[-+\d.\"']")
_WORD = re.compile(r"[\w-]+")


class Remark(NamedTuple):
    """Something to be shown at a line, from ``column`` to the end of what stands there; both count from 1."""

    line: int
    column: int
    weight: Weight
    rule: str  # empty: of the reading
    says: str


class Fix(NamedTuple):
    """A remedy that was tried and holds: what it does, and the whole text with it."""

    rule: str
    says: str
    text: str


class Reviewed(NamedTuple):
    """A text and what the review says of it; without bench and report where it cannot be read."""

    text: str
    remarks: tuple[Remark, ...]
    bench: Bench | None = None
    report: Report | None = None


def reviewed(path: Path, text: str) -> Reviewed:
    """Review a text as if it stood in the file, under the firm's settings there."""
    try:
        laid, own = reviewing.layers(reviewing.Settings(), reviewing.house_of(path))
        rules, in_force = reviewing.in_force(laid, own)
        system = limits.shown_in(None, read_text(path, text)[0].system, reviewing.read_in(laid, own))
        bench, report = bench_of(path, text, rules, in_force, system)
        report = as_one(report, bench.plan.design)
    except UnreadableError as reason:
        told = (_remark(path, one.place, "error", "", _and(one.wrong, one.write)) for one in reason.problems)
        return Reviewed(text, tuple(told))
    return Reviewed(text, tuple(_remarks(path, report)), bench, report)


def _remarks(path: Path, report: Report) -> Iterator[Remark]:
    for comment in report.comments:
        if comment.variance is None:
            shown, asked = show(comment.shown, report.system), show(comment.asked, report.system)
            says = plain(comment.told, report.system, both=False)
            says = f"{says}: {shown}, asked is at {comment.limit.direction} {asked}"
            to_pass = f"{says}. To pass: {plain(comment.to_pass, report.system, both=False)}"
            for place in dict.fromkeys(one.at.place for one in comment.places):
                yield _remark(path, place, _WEIGHTS[comment.weight], comment.rule, to_pass)
    for question in report.questions:
        yield _remark(path, question.place, "information", "", question.asks)
    for trouble in report.variance_troubles:
        yield _remark(path, trouble.place, "information", trouble.rule, trouble.what)
    for crash in report.crashes:
        yield Remark(1, 1, "error", crash.rule, f"the rule {crash.rule} failed and judged nothing: {crash.what}")


def _remark(path: Path, place: Place, weight: Weight, rule: str, says: str) -> Remark:
    """A remark at its place; one about another file, such as readings, stands on the first line and names it."""
    if place.file and place.file != str(path):
        return Remark(1, 1, weight, rule, f"{place}: {says}")
    return Remark(place.line, place.column, weight, rule, says)


def _and(wrong: str, write: str) -> str:
    return f"{wrong}. Write: {write}" if write else wrong


def page_of(known: Reviewed, line: int, column: int) -> str:
    """The pages, in Markdown, of the rule that is named at a place, else of those that remark on its line."""
    if known.bench is None:
        return ""
    text = known.text.split("\n")[line - 1 : line]
    words = {m[0] for m in _WORD.finditer(text[0]) if m.start() < column <= m.end() + 1} if text else set()
    by_name = {rule.name: rule for rule in known.bench.rules}
    names = [name for name in words if name in by_name]
    names = names or list(dict.fromkeys(one.rule for one in known.remarks if one.rule in by_name and one.line == line))
    bibliography = sources.load()
    pages = ("\n".join(rule_page(by_name[name], known.bench.limits[name], bibliography)) for name in names)
    return "\n\n".join(pages)


def fixes(known: Reviewed, first: int, last: int) -> list[Fix]:
    """The remedies that hold of the comments on some lines, each tried on the text."""
    if known.bench is None or known.report is None:
        return []
    found = []
    for comment in known.report.comments:
        here = any(first <= one.at.place.line <= last for one in comment.places)
        if here and comment.variance is None:
            fix = _first_that_holds(comment, known.bench)
            if fix is not None:
                found.append(fix)
    return found


def _first_that_holds(comment: Comment, bench: Bench) -> Fix | None:
    for remedy in comment.remedies:
        if remedy.edits:
            trial = trials.tried(remedy, comment, bench)
            if trial.outcome is Outcome.HOLDS:
                return Fix(comment.rule, plain(remedy.says, bench.plan.system, both=False), trial.text)
    return None


def completions(known: Reviewed, text: str, line: int, column: int) -> list[tuple[str, str]]:
    """What may stand at a place, each with a word about it: rules and places in variances, else points.

    ``known`` is the last review that could be made; ``text`` may be half typed.
    """
    lines = text.split("\n")
    before = lines[line - 1][: column - 1] if line <= len(lines) else ""
    above = "\n".join([*lines[: line - 1], before])
    sections = _SECTION.findall(above)
    section = sections[-1] if sections else ""
    if section == "variances":
        if _RULE.search(before):
            rules = known.bench.rules if known.bench else reviewing.in_force((), None)[0]
            return [(rule.name, rule.title) for rule in rules]
        return list(_places(known)) if _PLACE.search(before) else []
    if not _POINT.search(before):
        return []
    named = [(name, "point") for name in _points(lines)]
    return named + (list(_edges(known)) if re.search(r"\bleads_to:", before) else [])


def _points(lines: Sequence[str]) -> Iterator[str]:
    """The names under points of a text that may not be readable as a whole."""
    within = False
    for one in lines:
        start = _SECTION.match(one)
        if start:
            within = start[1] == "points"
        if within:
            yield from (first or second for first, second in _NAMED.findall(one))


def _edges(known: Reviewed) -> Iterator[tuple[str, str]]:
    if known.bench is not None:
        yield from dict.fromkeys((piece.name, "edge") for piece in known.bench.plan.edges.pieces)


def _places(known: Reviewed) -> Iterator[tuple[str, str]]:
    """The names that comments have for what they are about, then edges."""
    if known.report is not None:
        yield from dict.fromkeys(
            (place.at.name, comment.rule) for comment in known.report.comments for place in comment.places
        )
    yield from _edges(known)
