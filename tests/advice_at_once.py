"""Whether all advice of one sheet holds up at once: a foreman does what stands under "to pass" in one evening.

Of each design with a slip in it, and each example that falls short, every "to pass" of the sheet that changes the file
is made, in order of number; what says that another number settles it, or leaves it to a person, is passed over. Then
the whole is reviewed again: each comment that was followed or settled is gone, and no hold came, nor a caution that no
line told of.

``python tests/advice_at_once.py`` prints the figures and the sheets that do not work clean; names after it limit
the run.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

import advice
from example_reviews import DESIGNS, JOBS, name_of
from slabwright.review import in_order, remedies, trials
from slabwright.review.likewise import as_one
from slabwright.review.report import Comment, Report
from slabwright.rulebook.remedy import Append, Drop, Edit
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain
from slabwright.writers.sheet_words import passes, settled


class Sheet(NamedTuple):
    """A sheet that was followed from top to bottom: its lines as printed, and what came of them that should not."""

    job: str
    lines: tuple[str, ...]
    wrong: tuple[str, ...]

    @property
    def told(self) -> str:
        """What did not work, and the lines that were followed."""
        return "\n".join((f"{self.job}:", *(f"    {one}" for one in (*self.wrong, *self.lines))))


def jobs() -> list[advice.Job]:
    """Every slip of the corpus, every example that falls short, and the whole jobs."""
    slips = [one for one in advice.jobs() if one.slip]
    examples = [path for path in DESIGNS if path.name.startswith("falls_short")]
    return slips + [advice.Job(name_of(path), path) for path in (*examples, *JOBS)]


def some(share: float, seed: int) -> list[advice.Job]:
    """A part of all jobs, the same for the same seed."""
    every = jobs()
    return random.Random(seed).sample(every, round(share * len(every)))


def followed(job: advice.Job) -> Sheet | None:
    """A sheet followed from top to bottom; None where fewer than two of its lines are to be followed."""
    try:
        report, bench = advice.reviewed(job, job.text)
    except UnreadableError:
        return None
    before = as_one(report, bench.plan.design)
    report = remedies.advised(before, bench)
    done = [one for one in report.comments if in_order.followed(one)]
    if len(done) < 2:
        return None
    numbers = {one.number for one in done}
    gone = [one for one in report.comments if one in done or one.settled_by in numbers]
    lines = tuple(_line(one, report) for one in report.comments)
    text = made(bench, [one.remedies[0].edits for one in done])
    if text is None:
        return Sheet(job.name, lines, ("the edits do not fit the file",))
    try:
        after, plan = advice.reviewed(job, text)
    except UnreadableError as error:
        return Sheet(job.name, lines, tuple(f"unread: {problem.wrong}" for problem in error.problems))
    now = as_one(after, plan.plan.design)
    wrong = [f"{one.number} stays: {one.rule} at {one.at.name}" for one in gone if _stays(one, before, now)]
    told = " ".join(plain(one.to_pass, "us") for one in done)
    spoken = {(one.rule, place.at.name) for one in gone for place in one.places}
    lighter = [one for one in _new(before, now) if one.weight == "note" and (one.rule, one.at.name) in spoken]
    alone = {
        note for one in done if lighter for note in _notes_left(one, job, bench)
    }  # by its own advice, not by others
    wrong += [
        f"again as a note: {one.rule} at {one.at.name}"
        for one in lighter
        if one.rule not in told and (one.rule, one.at.name) not in alone
    ]
    wrong += [f"new {one.weight}: {one.rule} at {one.at.name}" for one in _came(before, now, told)]
    return Sheet(job.name, lines, tuple(wrong))


def _notes_left(comment: Comment, job: advice.Job, bench: trials.Bench) -> set[tuple[str, str]]:
    """The rule and spot of what is left of a comment as a note when its advice alone is followed."""
    text = made(bench, [comment.remedies[0].edits])
    if text is None:
        return set()
    after, plan = advice.reviewed(job, text)
    notes = (one for one in as_one(after, plan.plan.design).comments if one.weight == "note")
    return {(one.rule, one.at.name) for one in notes if one.rule == comment.rule}


def _line(comment: Comment, report: Report) -> str:
    _, _, fill = settled(comment, report)
    at = comment.at.name + (f" likewise {comment.likewise}" if comment.likewise else "")
    sort = "" if in_order.followed(comment) else "- "
    return f"{comment.number} {comment.weight} {comment.rule} at {at}: {sort}{passes(comment, fill, report.system)}"


def made(bench: trials.Bench, each: Sequence[Sequence[Edit]]) -> str | None:
    """The text with edits made in order; what is left out of a list goes last, so that other places stay as told."""
    text: str | None = bench.text
    names = {joint.name for joint in bench.plan.design.joints}
    dropped: dict[Edit, None] = {}
    drawn: set[object] = set()
    for edit in (edit for edits in each for edit in edits):
        if isinstance(edit, Drop):
            dropped[edit] = None
            continue
        if isinstance(edit, Append):
            bare = (edit.path, tuple(pair for pair in edit.entry if pair[0] != "name"))
            if bare in drawn:
                continue
            drawn.add(bare)
            edit = _named(edit, names)
        text = trials.edited(text, [edit], bench.plan.design) if text is not None else None
    for edit in sorted(dropped, key=lambda one: [int(at) for at in re.findall(r"\d+", one.path)], reverse=True):
        text = trials.edited(text, [edit], bench.plan.design) if text is not None else None
    return text


def _named(edit: Append, names: set[str]) -> Append:
    """A new joint under a name that no other has."""
    name = dict(edit.entry).get("name")
    if not isinstance(name, str):
        return edit
    number, stem = 1, name.rstrip("0123456789")
    while name in names:
        number += 1
        name = f"{stem}{number}"
    names.add(name)
    return edit._replace(entry=tuple((key, name if key == "name" else value) for key, value in edit.entry))


def _stays(comment: Comment, before: Report, now: Report) -> bool:
    """Whether as many of its rule stand at its places, no lighter, as stood there; panels are named by their order."""
    then, left = (_like(comment, report) for report in (before, now))
    return left > then - len(comment.places)


def _like(comment: Comment, report: Report) -> int:
    heaviest, names = advice.corpus.WEIGHTS.index(comment.weight), {one.at.name for one in comment.places}
    panels = any(name.startswith("panel ") for name in names)
    return sum(
        one.rule == comment.rule
        and (panels or one.at.name in names)
        and advice.corpus.WEIGHTS.index(one.weight) <= heaviest
        for each in report.comments
        for one in each.places
    )


def _came(before: Report, now: Report, told: str) -> list[Comment]:
    """Holds that were not there, and cautions that were not and that no line told of."""
    new = [one for one in _new(before, now) if one.weight != "note"]
    return [one for one in new if one.weight == "hold" or one.rule not in told]


def _new(before: Report, now: Report) -> list[Comment]:
    """What was not there, of rules that say more than they did."""
    had, rules = Counter[tuple[str, str, str]](), Counter[tuple[str, str]]()
    for one in (one for each in before.comments for one in each.places):
        had[one.rule, one.at.name, one.weight] += 1
        rules[one.rule, one.weight] += 1
    here = [one for each in now.comments for one in each.places]
    many = Counter((one.rule, one.weight) for one in here)
    came = []
    for one in here:
        had[one.rule, one.at.name, one.weight] -= 1
        if had[one.rule, one.at.name, one.weight] < 0 and many[one.rule, one.weight] > rules[one.rule, one.weight]:
            came.append(one)
    return came


def main(arguments: list[str]) -> int:
    """Print the sheets that do not work clean and how many there are; 1 where there is one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="only designs and slips whose names hold one of these")
    parser.add_argument("--all", action="store_true", help="print the sheets that work clean, too")
    parser.add_argument("--part", default="0/1", help="only each n-th job: 0/2 and 1/2 are halves")
    asked = parser.parse_args(arguments)
    first, step = map(int, asked.part.split("/"))
    chosen = [one for one in jobs() if not asked.names or any(part in one.name for part in asked.names)]
    found = [sheet for one in chosen[first::step] if (sheet := followed(one))]
    bad = [one for one in found if one.wrong]
    sys.stdout.write("".join(f"{one.told}\n" for one in (found if asked.all else bad)))
    sorts = Counter(wrong.partition(" at ")[0].lstrip("0123456789 ") for one in bad for wrong in one.wrong)
    for name, many in sorts.most_common():
        sys.stdout.write(f"{many:4} {name}\n")
    sys.stdout.write(f"{len(found)} sheets followed, {len(found) - len(bad)} clean\n")
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
