"""What ``slabwright teach`` prints: the groups of rules, one rule as a lesson, an exercise and its answer."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from slabwright.design.read import read_design
from slabwright.drawing import content
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import sources
from slabwright.rulebook.kit import Limits, Rule
from slabwright.source import edit, locate
from slabwright.source.files import read_text
from slabwright.teaching.exercise import Exercise
from slabwright.teaching.faults import Fault, line_of
from slabwright.teaching.small_drawing import small_drawing
from slabwright.text.sheet import Line, Run, Sheet
from slabwright.writers import rule_pages, terminal
from slabwright.writers.sheet_words import margin

WHY = "Why it matters"
LATER = "Why it matters, and what is seen two years later when it is skipped"


def groups_page(rules: Sequence[Rule], width: int, encoding: str) -> list[Line]:
    """The groups of rules, with the rules of each and what they ask."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph("WHAT CAN BE LEARNT HERE", tone="strong")
    page.rule(heavy=True)
    for group, members in groupby(rules, key=lambda rule: rule.group):
        in_group = list(members)
        page.heading(f"{group} ({len(in_group)})")
        for rule in in_group:
            page.paragraph(f"{rule.name}: {rule.title}", indent=4, hang=4)
    page.blank()
    page.rule()
    page.paragraph("slabwright teach RULE explains one of them.")
    page.paragraph("slabwright teach --exercise --group GROUP puts faults into a sound job, for you to find.")
    return page.lines


def rule_page(rule: Rule, limits: Limits, width: int, encoding: str) -> list[Line]:
    """One rule as a lesson: its page, its example that falls short with the arithmetic, and the same put right."""
    named = rule._replace(page={LATER if head == WHY else head: text for head, text in rule.page.items()})
    lines = rule_pages.teaching_page(named, limits, sources.load(), width, encoding)
    short, meets = (_example(rule, case) for case in ("falls_short", "meets"))
    if short is None:
        return lines
    report = _judged(rule, limits, short)
    lines += [(), *rule_pages.example_heading(str(short), width, encoding), ()]
    lines += _remark(short, width, encoding)
    lines += _drawn(report, encoding)
    lines += terminal.comments_only(report, width, encoding)
    if meets is not None:
        lines += _put_right(short, meets, _judged(rule, limits, meets), width, encoding)
    return lines


def _example(rule: Rule, case: str) -> Path | None:
    """A small design of a rule: beside the published ones, or beside a firm's own rules."""
    folder = Path(rule.file).parent.parent / "example_designs" if rule.own else locate.folder("example_designs")
    path = folder / "rules" / rule.name / f"{case}.slab.yaml"
    return path if path.is_file() else None


def _judged(rule: Rule, limits: Limits, path: Path) -> Report:
    """The review of a small design by one rule alone."""
    plan = Plan(read_design(path)[0])
    return content.drawn(run.review(plan, (rule,), {rule.name: limits}), plan)


def _remark(path: Path, width: int, encoding: str) -> list[Line]:
    """What a small design says of itself in its first line."""
    page = Sheet(width, encoding)
    first = read_text(path).splitlines()[0]
    if first.startswith("# "):
        page.paragraph(first[2:])
        page.lines.append(())
    return page.lines


def _drawn(report: Report, encoding: str) -> list[Line]:
    """The small drawing, where a comment speaks of a place on the plan."""
    marks = [(comment.at.name, comment.at.shape) for comment in report.comments if comment.variance is None]
    if not any(shape for _, shape in marks):
        return []
    return [*((Run(f"    {row}"),) for row in small_drawing(report.drawing, marks, encoding)), ()]


def _put_right(short: Path, meets: Path, report: Report, width: int, encoding: str) -> list[Line]:
    """The lines that differ between the example that falls short and the one that does not, and its margin."""
    page = Sheet(width, encoding, [()])
    page.heading("The same put right")
    page.blank()
    page.paragraph(str(meets))
    page.lines += _remark(meets, width, encoding)
    before, after = (_plain_lines(path) for path in (short, meets))
    for line in difflib.ndiff(before, after):
        if line[:2] in {"- ", "+ "} and line[2:].strip():
            page.labeled("was" if line[0] == "-" else "now", line[2:].strip(), indent=4)
    page.blank()
    for met in report.met:
        page.labeled("met", margin(met, report))
    return page.lines


def _plain_lines(path: Path) -> list[str]:
    """The lines of a design that are not remarks; the line of its name only where it holds the day of the pour."""
    lines = read_text(path).splitlines()
    return [line for line in lines if not line.startswith("#") and (not line.startswith("job:") or "pour:" in line)]


def answer_page(made: Exercise, width: int, encoding: str) -> list[Line]:
    """The faults of an exercise, each with its lines as they are and as they should be, and the review."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph(f"EXERCISE {made.number}, THE ANSWER", tone="strong")
    page.paragraph(f"{made.report.job}, {made.file}")
    page.rule(heavy=True)
    for number, fault in enumerate(made.faults, 1):
        page.blank()
        page.numbered(f"{number}.", fault.told)
        for what, was, now in _changed(made, fault):
            page.labeled("where", what)
            if was:
                page.labeled("sound", was)
            page.labeled("here", now)
        page.labeled("rule", fault.rule)
        found = {comment.rule for comment in made.report.comments if comment.variance is None}
        for rule, why in fault.also.items():
            if rule in found:
                page.labeled("with it", f"{rule}: {why}")
    page.blank()
    page.lines += _drawn(made.report, encoding)
    return page.lines + terminal.comments_only(made.report, width, encoding)


def _changed(made: Exercise, fault: Fault) -> list[tuple[str, str, str]]:
    """For each value changed: its line and path, the text it had (empty if none), and the text it has."""
    found = []
    for change in fault.changes[made.job]:
        line = f"line {line_of(made.text, change.path)}, {change.path}"
        was, now = (edit.text_at(text, change.path) or "" for text in (made.sound, made.text))
        if change.verb == "add":
            was, now = "", change.value
        found.append((line, was, now or "left out"))
    return found
