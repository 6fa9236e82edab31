"""What ``slabwright teach`` prints: the groups of rules, one rule as a lesson, an exercise and its answer."""

from __future__ import annotations

import contextlib
import difflib
from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from slabwright.design.read import read_text as design_of
from slabwright.drawing import content
from slabwright.plan.plan import Plan
from slabwright.review import run, trials
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Met, Report
from slabwright.rulebook import sources
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source import edit, locate
from slabwright.source.files import read_text
from slabwright.teaching import course
from slabwright.teaching.exercise import Exercise, level_of
from slabwright.teaching.faults import line_of
from slabwright.teaching.marking import Marked
from slabwright.teaching.slips import Slip, value
from slabwright.teaching.small_drawing import small_drawing
from slabwright.text.sheet import Line, Run, Sheet
from slabwright.text.words import plain as plain_words
from slabwright.writers import rule_pages, terminal
from slabwright.writers.sheet_words import margin

REMEDIES = 6  # as many times a small example is put right and judged again
WHY = "Why it matters"
LATER = "Why it matters, and what is seen two years later when it is skipped"


def groups_page(rules: Sequence[Rule], width: int, encoding: str) -> list[Line]:
    """The lessons of the course, then the groups of rules, with the rules of each and what they ask."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph("WHAT CAN BE LEARNED HERE", tone="strong")
    page.rule(heavy=True)
    page.heading("The course: slabwright teach --lesson N")
    for path in course.lessons():
        page.paragraph(course.title(read_text(path)), indent=4, hang=4)
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
    before = read_text(short)
    report = _judged(rule, limits, short, before)
    lines += [(), *rule_pages.example_heading(_title(before), width, encoding), ()]
    lines += _remark(before, width, encoding)
    lines += _drawn(report, encoding)
    lines += terminal.comments_only(report, width, encoding)
    after = _advice_taken(rule, limits, short, before)
    if after is not None:
        lines += _put_right(before, after, report, _judged(rule, limits, short, after), width, encoding)
    elif meets is not None:
        lines += _another(read_text(meets), _judged(rule, limits, meets, read_text(meets)), width, encoding)
    return lines


def _example(rule: Rule, case: str) -> Path | None:
    """A small design of a rule: beside the published ones, or beside a firm's own rules."""
    folder = Path(rule.file).parent.parent / "example_designs" if rule.own else locate.folder("example_designs")
    path = folder / "rules" / rule.name / f"{case}.slab.yaml"
    return path if path.is_file() else None


def _title(text: str) -> str:
    """The name of the job in a design."""
    return edit.value_at(text, "job.name") or "a small design"


def _judged(rule: Rule, limits: Limits, path: Path, text: str) -> Report:
    """The review by one rule alone of a text that stands for a small design; places name its file and no folder."""
    with contextlib.chdir(path.parent):
        plan = Plan(design_of(Path(path.name), text)[0])
        return content.drawn(as_one(run.review(plan, (rule,), {rule.name: limits}), plan.design), plan)


def _advice_taken(rule: Rule, limits: Limits, path: Path, text: str) -> str | None:
    """A design with the first remedy of each comment made in it; None where a person has to decide."""
    for _ in range(REMEDIES):
        with contextlib.chdir(path.parent):
            design, _ = design_of(Path(path.name), text)
            comments = run.review(Plan(design), (rule,), {rule.name: limits}).comments
        if not comments:
            return text
        made = (trials.edited(text, one.edits, design) for one in comments[0].remedies if one.edits)
        after = next((one for one in made if one is not None), None)
        if after is None or after == text:
            return None
        text = after
    return None


def _remark(text: str, width: int, encoding: str) -> list[Line]:
    """What a small design says of itself in its first line."""
    page = Sheet(width, encoding)
    first = text.partition("\n")[0]
    if first.startswith("# "):
        page.paragraph(first[2:])
        page.lines.append(())
    return page.lines


def _drawn(report: Report, encoding: str) -> list[Line]:
    """The small drawing, where a comment speaks of a place on a plan that shows more than four sides."""
    marks = [
        (place.at.name, place.at.shape)
        for comment in report.comments
        if comment.variance is None
        for place in comment.places
    ]
    drawing = report.drawing
    plain = len(drawing.get("outline") or ()) <= 5 and not any(drawing.get(k) for k in ("joints", "ponds", "openings"))
    if plain or not any(shape for _, shape in marks):  # a bare box tells nothing
        return []
    return [*((Run(f"    {row}"),) for row in small_drawing(report.drawing, marks, encoding)), ()]


def _put_right(before: str, after: str, short: Report, report: Report, width: int, encoding: str) -> list[Line]:
    """The lines that the remedy changed, and what that did to each value."""
    page = Sheet(width, encoding, [()])
    page.heading("The same put right")
    page.blank()
    for line in difflib.ndiff(_plain_lines(before), _plain_lines(after)):
        if line[:2] in {"- ", "+ "} and line[2:].strip():
            page.labeled("was" if line[0] == "-" else "now", line[2:].strip(), indent=4)
    page.blank()
    for met in report.met:
        then = next((one for one in short.comments if _alike(one, met)), None)
        if then and met.shown:
            page.labeled("it did", f"from {rule_pages.both(then.shown)} to {rule_pages.both(met.shown)}")
        page.labeled("met", margin(met, report))
    return page.lines


def _alike(comment: Comment, met: Met) -> bool:
    """Whether a shortfall and a margin measure the same: one kind of quantity, held from one side, in like words."""
    if met.shown is None or met.limit is None or comment.shown.si == met.shown.si:
        return False
    meanings = (comment.limit.meaning, met.limit.meaning)
    same_side = comment.shown.kind is met.shown.kind and comment.limit.direction == met.limit.direction
    return same_side and difflib.SequenceMatcher(None, *meanings).ratio() > 0.6


def _another(text: str, report: Report, width: int, encoding: str) -> list[Line]:
    """A design that meets the rule, where a person decides how one is put right."""
    page = Sheet(width, encoding, [()])
    page.heading("A person decides; here is one that meets it")
    page.blank()
    page.lines += _remark(text, width, encoding)
    for met in report.met:
        page.labeled("met", margin(met, report))
    for entry in report.does_not_apply:
        page.labeled("settled", entry.reason)
    return page.lines


def _plain_lines(text: str) -> list[str]:
    """The lines of a design that are not remarks."""
    return [line for line in text.splitlines() if not line.startswith("#")]


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
    dropped, entry = path in slip.dropped, path.endswith("]")
    there = path.rpartition("[" if entry else ".")[0] if dropped else path
    return f"line {line_of(made.text, there)}, {there if dropped and entry else path}"


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
        2: f"Ask whether {part} can say this: {rule.summary}",
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
    return "Look again, or ask for one step with --hint beside --check."


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
