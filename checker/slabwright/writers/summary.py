"""The table that ends a review of several designs: one line for each, and how many came out in which way."""

import io
from collections.abc import Sequence
from typing import NamedTuple

from slabwright.source.clean import writable
from slabwright.text.letters import columns, visible
from slabwright.text.sheet import Line, Run, Sheet, Tone
from slabwright.text.working import counted

_TONES: dict[str, Tone] = {
    "hold": "hold",
    "caution": "caution",
    "unreadable": "hold",
    "failed": "hold",
    "not judged": "hold",
}
UNJUDGED = frozenset({"unreadable", "not judged", "failed"})
_COUNTED = (
    ("unreadable", "not readable"),
    ("not judged", "not judged: the files named above, which they rest on, cannot be read"),
    ("failed", "on which the program failed"),
    ("hold", "with a hold"),
    ("caution", "with a caution"),
    ("note", "with a note"),
    ("met", "without a comment"),
)
_HEADS = ("holds", "cautions", "notes", "not shown")
_FIRST = len("unreadable")


class Row(NamedTuple):
    """One design: its file, how it came out, and its comments by weight."""

    file: str
    verdict: str  # hold | caution | note | met | unreadable | not judged | failed
    holds: int = 0
    cautions: int = 0
    notes: int = 0
    not_shown: int = 0
    kept: bool = False  # whether it fails
    cautions_count: str = ""  # where only cautions make it fail: who says that they count
    job: str = ""


class ChangeRow(NamedTuple):
    """One design of two versions: how it came out then and now, and what became of its comments."""

    file: str
    then: str  # hold | caution | note | met | unreadable | new | -
    now: str  # hold | caution | note | met | unreadable | not judged | failed | gone
    counts: tuple[int, ...] = ()  # broke, left, no longer judged, accepted, fixed
    renamed_from: str = ""


_CHANGED = ("broke", "left", "unjudged", "accepted", "fixed")


def changes(rows: Sequence[ChangeRow], same: int, against: str, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The table of the designs that changed; file names are left whole, however long."""
    page = Sheet(width, encoding)
    page.heading(f"CHANGED SINCE {page.text(against)} ({counted(len(rows), 'design', 'designs')})")
    page.blank()
    if rows:
        page.whole("  ".join(("then".ljust(_FIRST), "now".ljust(_FIRST), *_CHANGED, "file")))
    for row in rows:
        cells = [(f"{n:,}").rjust(len(head)) for n, head in zip(row.counts or (), _CHANGED, strict=False)]
        cells = cells or ["-".rjust(len(head)) for head in _CHANGED]
        was = f" (was {page.text(row.renamed_from)})" if row.renamed_from else ""
        now = Run(row.now.ljust(_FIRST), _TONES.get(row.now, ""))
        rest = Run(f"  {'  '.join(cells)}  {page.text(row.file)}{was}")
        page.lines.append((Run(f"{row.then.ljust(_FIRST)}  "), now, rest))
    if rows:
        page.blank()
    parts = [
        (sum(row.then == "new" for row in rows), "new"),
        (sum(bool(row.renamed_from) for row in rows), "renamed"),
        (sum(row.now == "gone" for row in rows), "gone"),
        (same, "unchanged, and not reviewed"),
    ]
    told = [f"{count:,} {words}" for count, words in parts if count]
    page.paragraph(", ".join([counted(len(rows), "design differs", "designs differ"), *told]), tone="strong")
    return page.lines


def table(rows: Sequence[Row], width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The lines of the table; file names are left whole, however long."""
    page = Sheet(width, encoding)
    _rows(page, rows, len(rows))
    page.blank()
    page.paragraph(in_words(rows), tone="strong")
    return page.lines


def as_csv(rows: Sequence[Row], separator: str = ",") -> str:
    """The table as CSV with a heading, cells parted by ``separator``.

    A cell that a spreadsheet would work out as a formula is text.
    """
    import csv  # 1 ms

    out = io.StringIO()
    writer = csv.writer(out, delimiter=separator, lineterminator="\n")
    writer.writerow(("file", "verdict", "holds", "cautions", "notes", "not shown"))
    for row in rows:
        judged = row.verdict not in UNJUDGED
        numbers = (row.holds, row.cautions, row.notes, row.not_shown) if judged else ("",) * 4
        file = visible(row.file)
        writer.writerow((f"'{file}" if file[:1] in "=+-@" else file, row.verdict, *numbers))
    return writable(out.getvalue())


def worst_first(rows: Sequence[Row]) -> list[Row]:
    """The rows by what stands in the way: what is not judged, holds, cautions, notes; then by file."""
    order = ["failed", "unreadable", "not judged", "hold", "caution", "note", "met"]
    return sorted(rows, key=lambda row: (order.index(row.verdict), -row.holds, -row.cautions, -row.notes, row.file))


def kept_back(rows: Sequence[Row], width: int = 80, encoding: str = "utf-8", untracked: int = 0) -> list[Line]:
    """The lines that end a hook: the designs that keep a commit back, how all came out, and why it is kept back."""
    page = Sheet(width, encoding)
    kept = [row for row in rows if row.kept]
    named = [row for row in kept if row.verdict != "not judged"]  # of these the one file they rest on is told
    if named:
        _rows(page, named, len(rows))
        page.blank()
    page.paragraph(in_words(rows), tone="strong")
    unread = sum(row.verdict in UNJUDGED for row in kept)
    holds = sum(row.holds > 0 for row in kept)
    why = [f"{counted(unread, 'file is', 'files are')} not judged"] if unread else []
    why += [f"git does not track {counted(untracked, 'file', 'files')}"] if untracked else []
    why += [f"{counted(holds, 'design has', 'designs have')} a hold"] if holds else []
    why += [f"cautions count ({who})" for who in sorted({row.cautions_count for row in kept} - {""})]
    if why:
        page.paragraph(f"kept back: {'; '.join(why)}", tone="hold")
    return page.lines


def _rows(page: Sheet, rows: Sequence[Row], of: int) -> None:
    page.heading(f"SUMMARY ({counted(of, 'design', 'designs')})")
    page.blank()
    page.whole("  ".join(("verdict".ljust(_FIRST), *_HEADS, "file")))
    for row in rows:
        numbers = (row.holds, row.cautions, row.notes, row.not_shown)
        judged = row.verdict not in UNJUDGED
        cells = [
            (f"{number:,}" if judged else "-").rjust(columns(head))
            for number, head in zip(numbers, _HEADS, strict=True)
        ]
        verdict = row.verdict.ljust(_FIRST)
        page.lines.append(
            (Run(verdict, _TONES.get(row.verdict, "")), Run(f"  {'  '.join(cells)}  {page.text(row.file)}"))
        )


def in_words(rows: Sequence[Row]) -> str:
    """How many came out in which way."""
    parts = [
        f"{sum(row.verdict == verdict for row in rows):,} {words}"
        for verdict, words in _COUNTED
        if any(row.verdict == verdict for row in rows)
    ]
    return ", ".join(parts) or "no design is concerned"
