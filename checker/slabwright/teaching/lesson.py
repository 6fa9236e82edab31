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
from slabwright.source import locate
from slabwright.source.files import read_text
from slabwright.teaching.exercise import Exercise, level_of
from slabwright.teaching.faults import line_of
from slabwright.teaching.marking import Marked
from slabwright.teaching.slips import Slip, value
from slabwright.teaching.small_drawing import small_drawing
from slabwright.text.sheet import Line, Run, Sheet
from slabwright.text.words import plain as plain_words
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
    page.paragraph("slabwright teach --exercise --group GROUP draws slips into a sound job, for you to find.")
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


def answer_page(made: Exercise, rules: Sequence[Rule], width: int, encoding: str) -> list[Line]:
    """The slips of an exercise, each with its lines as they are and as they were, why it matters, and the review."""
    page = Sheet(width, encoding)
    named = {rule.name: rule for rule in rules}
    page.rule(heavy=True)
    page.paragraph(f"EXERCISE {made.number}, THE ANSWER", tone="strong")
    page.paragraph(f"{made.report.job}, {made.file}")
    page.rule(heavy=True)
    for number, slip in enumerate(made.slips, 1):
        page.blank()
        page.numbered(f"{number}.", slip.wrong)
        for path in slip.paths:
            was, now = value(made.sound, path), "" if path in slip.dropped else value(made.text, path)
            page.labeled("where", _where(made, slip, path))
            if was:
                page.labeled("sound", was)
            page.labeled("here", now or "left out")
        spoke = made.spoke(slip)
        page.labeled("why", _why(named[spoke[0]]))
        page.labeled("rule", spoke[0])
        for rule in spoke[1:]:
            page.labeled("with it", f"{rule}: {slip.also[rule]}" if rule in slip.also else rule)
    page.blank()
    return page.lines + terminal.comments_only(made.report, width, encoding)


def _where(made: Exercise, slip: Slip, path: str) -> str:
    """The line and path of a value changed; of one left out, what it was left out of."""
    there = path.rpartition("[" if path.endswith("]") else ".")[0] if path in slip.dropped else path
    return f"line {line_of(made.text, there)}, {there or path}"


def _why(rule: Rule) -> str:
    """Why a rule is there: the first paragraph of its page on that."""
    return next(rule_pages.paragraphs(rule.page.get(WHY, rule.title)))


def hint_page(made: Exercise, slip: Slip, step: int, rules: Sequence[Rule], width: int, encoding: str) -> list[Line]:
    """One step towards a slip: 1 the part of the file, 2 what to ask there, 3 the page to read."""
    page = Sheet(width, encoding)
    rule = next(rule for rule in rules if rule.name == made.spoke(slip)[0])
    part = slip.paths[0].partition(".")[0].partition("[")[0]
    steps = {
        1: f"Read {part} again, line by line, and hold each value against the drawing.",
        2: f"Ask this of {part}: {rule.title}.",
        3: f"Read slabwright teach {rule.name}, and work its sum with the numbers of this job.",
    }
    page.labeled("hint", steps[step])
    return page.lines


_FATES = {
    "found": "You found it and put it right.",
    "missed": "It is still there, or something that comes with it.",
    "taken out": "It no longer shows because what it concerns was taken out or accepted, and that settles nothing.",
}


def marked_page(made: Exercise, result: Marked, width: int, encoding: str) -> list[Line]:
    """What became of each slip, and what else is wrong now; no slip is named."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph(f"EXERCISE {made.number}, CHECKED", tone="strong")
    page.rule(heavy=True)
    found = result.fates.count("found")
    page.paragraph(f"{found} of {len(result.fates)} found.")
    for number, fate in enumerate(result.fates, 1):
        page.labeled(f"slip {number}", f"{fate}: {_FATES[fate]}", tone="met" if fate == "found" else "strong")
    for comment in result.broken:
        page.labeled(
            "broke",
            f"{comment.rule}: {plain_words(comment.says, result.report.system)}. This was sound before.",
            tone="strong",
        )
    for key in result.facts:
        page.labeled("changed", f"{key}: this is a fact of the job, and no pencil moves it. Put it back as it was.")
    page.blank()
    page.paragraph(_next(made, result))
    return page.lines


def _next(made: Exercise, result: Marked) -> str:
    if result.right:
        return f"Nothing else is wrong. The answer tells why: {made.command} --answer"
    return f"Look again, or ask for one step: {made.command} --hint"


def class_page(made: Sequence[Exercise], seed: int, answers: bool, width: int, encoding: str) -> list[Line]:
    """The list of a class, to be handed out; with the answers, the marking sheet of the teacher."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph(f"{'MARKING SHEET' if answers else 'CLASS LIST'} {seed}, {len(made)} exercises", tone="strong")
    page.rule(heavy=True)
    for number, one in enumerate(made, 1):
        page.blank()
        page.numbered(f"{number}.", f"{'_' * 24}  exercise {one.number}, level {level_of(one.number)}")
        if not answers:
            page.whole(f"    {one.command} --out seat_{number}")
            continue
        page.labeled("job", one.report.job)
        for slip in one.slips:
            page.labeled("[ ] found", slip.wrong)
            page.labeled("where", "; ".join(dict.fromkeys(_where(one, slip, path) for path in slip.paths)))
            page.labeled("rule", one.spoke(slip)[0])
        page.labeled("[ ] whole", "nothing else was broken, and no fact of the job was moved")
        page.labeled("points", f"____ of {2 * len(one.slips) + 1}")
    page.blank()
    page.paragraph(
        "Two points for each slip, one for a file in which nothing else was broken; one less for each hint asked for."
        if answers
        else "Everybody has a job of his own. Read it with a pencil first, put it right, and check the file."
    )
    return page.lines
