"""A sheet of a job as one self-contained page: reads on a phone, prints on letter or A4, loads nothing.

Text from the design is escaped by the template and freed of control and direction marks before it gets there.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from slabwright.sheets.as_text import cell_text, filling
from slabwright.sheets.sheet import Cell, Sheet
from slabwright.source.clean import writable
from slabwright.text.templates import environment
from slabwright.text.words import Step, Words, filled, written
from slabwright.text.working import sentence, step_parts

STACKED = 5  # tables with at least this many columns turn into blocks on a phone


def page(sheet: Sheet, more: Mapping[str, Any] | None = None) -> str:
    """The whole page, by the template of its kind if there is one; ``more`` is what that needs besides the sheet."""
    fill = filling(sheet.system)

    def cell(value: Cell, both: bool = False) -> str:
        return cell_text(value, sheet.system, both)

    def said(words: Words) -> str:
        return sentence(filled(words, fill, sheet.system))

    def fixed(text: str) -> str:
        return written(text, sheet.system)

    def sums(step: Step) -> str:
        return " = ".join(step_parts(step, fill, sheet.system))

    text = (
        environment("slabwright.sheets")
        .select_template([f"{sheet.kind}.html.j2", "sheet.html.j2"])
        .render(sheet=sheet, cell=cell, said=said, fixed=fixed, sums=sums, stacked=STACKED, **(more or {}))
    )
    return writable(text)
