"""Arithmetic and plain words as every sheet of text sets them, the review and the sheets of a job alike."""

from __future__ import annotations

from collections.abc import Callable

from slabwright.quantity import Amount, System
from slabwright.rulekit import Step
from slabwright.sheet_text import GLUE, columns
from slabwright.words import Value, filled, written

Fill = Callable[[Value], str]


def plain_amount(amount: Amount) -> Amount:
    """An amount without the words it was typed in."""
    return Amount(amount.si, amount.kind) if amount.typed else amount


def counted(number: int, one: str, many: str) -> str:
    """A number and its noun: ``1 hold``, ``5,000 holds``."""
    return f"{number:,} {one if number == 1 else many}"


def sentence(words: str) -> str:
    """The words with a capital in front."""
    return words[:1].upper() + words[1:]


def step_rows(step: Step, fill: Fill, room: int, system: System) -> list[str]:
    """One line of arithmetic: on one row if it fits, else broken before an equals sign and set in."""

    def short(value: Value) -> str:
        return fill(value).partition(" (")[0] if isinstance(value, Amount) else str(value)

    parts = [step.what, written(step.formula, system), filled(step.numbers, short, system), fill(step.result)]
    kept = [part for number, part in enumerate(parts) if part and part not in parts[:number]]
    rows = [kept[0]]
    for part in kept[1:]:
        longer = f"{rows[-1]} = {part}"
        if columns(longer) <= room - (2 if len(rows) > 1 else 0):
            rows[-1] = longer
        else:
            rows.append(f"= {part}")
    return [rows[0], *(f"{GLUE}{GLUE}{row}" for row in rows[1:])]
