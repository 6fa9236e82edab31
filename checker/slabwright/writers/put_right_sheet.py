"""What was changed in a copy of a design that was put right, as a sheet of text and as data."""

from __future__ import annotations

from slabwright.proposals.put_right import PutRight
from slabwright.review.report import LOCAL_CODE, Report
from slabwright.text.json_values import Data
from slabwright.text.sheet import Line, Sheet
from slabwright.text.words import plain
from slabwright.text.working import counted, sentence
from slabwright.writers import as_json
from slabwright.writers.sheet_words import verdict


def sheet(before: Report, done: PutRight, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """Every change with its reason, then what stands in the copy."""
    page, system = Sheet(width, encoding), done.report.system
    page.rule(heavy=True)
    page.paragraph("PUT RIGHT", tone="strong")
    page.rule()
    page.labeled("Job", done.report.job, indent=0)
    page.labeled("File", before.file, indent=0)
    page.labeled("Before", verdict(before), indent=0)
    page.labeled("Copy", done.report.file, indent=0)
    page.labeled("Now", verdict(done.report), indent=0)
    if done.untried is not None:
        page.labeled("Heights", plain(done.untried, system), indent=0)
    page.rule(heavy=True)
    page.heading(counted(len(done.changes), "change", "changes").upper())
    for number, change in enumerate(done.changes, 1):
        page.blank()
        page.numbered(f"{number}.", sentence(plain(change.done, system)))
        page.labeled("because", sentence(plain(change.says, system)))
        for note in change.brings:
            page.labeled("brings", f"a note of {plain(note, system)}")
        page.labeled("rule", change.rule)
        page.labeled("in file", ", ".join(change.paths))
    if done.report.comments:
        page.heading("LEFT")
        for comment in done.report.comments:
            if comment.variance is None:
                page.blank()
                page.numbered(f"{comment.number}.", sentence(plain(comment.told, system)), mark_tone=comment.weight)
                page.labeled("weight", comment.weight)
                page.labeled("to pass", sentence(plain(comment.to_pass, system)))
    page.blank()
    page.paragraph(LOCAL_CODE)
    return page.lines


def as_data(done: PutRight) -> Data:
    """The review of the copy as plain data, and every change with its reason."""
    system = done.report.system
    changes = [
        {
            "rule": one.rule,
            "weight": one.weight,
            "because": sentence(plain(one.says, system)),
            "done": sentence(plain(one.done, system)),
            "paths": list(one.paths),
            "brings": [plain(note, system) for note in one.brings],
        }
        for one in done.changes
    ]
    untried = {} if done.untried is None else {"untried": plain(done.untried, system)}
    return as_json.as_data(done.report) | {"changes": changes} | untried
