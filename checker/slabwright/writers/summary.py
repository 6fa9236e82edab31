"""The table that ends a review of several designs: one line for each, and how many came out in which way."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from slabwright.text.sheet import Line, Run, Sheet, Tone, columns
from slabwright.text.working import counted

_TONES: dict[str, Tone] = {"hold": "hold", "caution": "caution", "unreadable": "hold", "failed": "hold"}
_COUNTED = (
    ("unreadable", "not readable"),
    ("failed", "not judged"),
    ("hold", "with a hold"),
    ("caution", "with a caution"),
    ("note", "with a note"),
    ("met", "without a comment"),
)
_HEADS = ("holds", "cautions", "notes", "not shown")
_FIRST = len("unreadable")


@dataclass(frozen=True, slots=True)
class Row:
    """One design: its file, how it came out, and its comments by weight."""

    file: str
    verdict: str  # hold | caution | note | met | unreadable | failed
    holds: int = 0
    cautions: int = 0
    notes: int = 0
    not_shown: int = 0


def table(rows: Sequence[Row], width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The lines of the table; file names are left whole, however long."""
    page = Sheet(width, encoding)
    page.heading(f"SUMMARY ({counted(len(rows), 'design', 'designs')})")
    page.blank()
    page.whole("  ".join(("verdict".ljust(_FIRST), *_HEADS, "file")))
    for row in rows:
        numbers = (row.holds, row.cautions, row.notes, row.not_shown)
        judged = row.verdict not in {"unreadable", "failed"}
        cells = [
            (f"{number:,}" if judged else "-").rjust(columns(head))
            for number, head in zip(numbers, _HEADS, strict=True)
        ]
        verdict = row.verdict.ljust(_FIRST)
        page.lines.append(
            (Run(verdict, _TONES.get(row.verdict, "")), Run(f"  {'  '.join(cells)}  {page.text(row.file)}"))
        )
    page.blank()
    parts = [
        f"{sum(row.verdict == verdict for row in rows):,} {words}"
        for verdict, words in _COUNTED
        if any(row.verdict == verdict for row in rows)
    ]
    page.paragraph(", ".join(parts), tone="strong")
    return page.lines
