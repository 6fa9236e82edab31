"""Arithmetic and plain words as every sheet of text sets them, the review and the sheets of a job alike."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from slabwright.text.sheet import GLUE, columns
from slabwright.text.words import Step, Value, filled, written
from slabwright.units.quantity import Amount, System, show

Fill = Callable[[Value], str]
_SUM = re.compile(r"\{\w+\}(?: \+ \{\w+\}(?: \(\{\w+\}\))?)+")  # a share in brackets tells where a number is from
_TERM = re.compile(r"(?<!\()\{(\w+)\}")
_MOST_DIGITS = 3


def plain_amount(amount: Amount) -> Amount:
    """An amount without the words it was typed in."""
    return Amount(amount.si, amount.kind) if amount.typed else amount


def counted(number: int, one: str, many: str) -> str:
    """A number and its noun: ``1 hold``, ``5,000 holds``."""
    return f"{number:,} {one if number == 1 else many}"


def sentence(words: str) -> str:
    """The words with a capital in front."""
    return words[:1].upper() + words[1:]


def step_parts(step: Step, fill: Fill, system: System) -> list[str]:
    """One line of arithmetic in its parts (what, formula, numbers, result), nothing said twice."""
    parts = [step.what, written(step.formula, system), numbers_text(step, fill, system), fill(step.result)]
    return [part for number, part in enumerate(parts) if part and part not in parts[:number]]


def numbers_text(step: Step, fill: Fill, system: System) -> str:
    """The numbers of a step in one system; the terms of a sum with as many digits as it takes to add up as printed.

    >>> from slabwright.units.quantity import show, volume
    >>> from slabwright.text.words import step, words
    >>> three = step("all", "a + b", words("{a} + {b}", a=volume(1.0149), b=volume(2.0148)), volume(3.0297))
    >>> numbers_text(three, lambda value: show(value, "metric"), "metric"), show(three.result, "metric", both=False)
    ('1.015 m3 + 2.015 m3', '3.03 m3')
    """

    def short(value: Value) -> str:
        return fill(value).partition(" (")[0] if isinstance(value, Amount) else str(value)

    text, total = filled(step.numbers, short, system), short(step.result)
    terms = [step.numbers.values[slot] for slot in _TERM.findall(step.numbers.template)]
    if not _SUM.fullmatch(step.numbers.template) or _adds_up([short(term) for term in terms], total):
        return text
    for digits in range(1, _MOST_DIGITS + 1):

        def finer(value: Value, digits: int = digits) -> str:
            if isinstance(value, Amount) and value.kind is step.result.kind:
                return show(value, system, both=False, digits=digits)
            return short(value)

        if _adds_up([finer(term) for term in terms], total):
            return filled(step.numbers, finer, system)
    return text


def _adds_up(terms: Sequence[str], total: str) -> bool:
    """Whether decimal numbers of one unit come to the total as it is rounded; fractions are exact, and always do."""
    found = [re.fullmatch(r"(-?\d+(?:\.(\d+))?) ?(\D.*|)", text) for text in (*terms, total)]
    if not all(found) or len({one[3] for one in found if one}) > 1:
        return True
    numbers = [float(one[1]) for one in found if one]
    places = len((found[-1] and found[-1][2]) or "")
    return bool(abs(sum(numbers[:-1]) - numbers[-1]) <= 0.5 * 10**-places + 1e-9)


def step_rows(step: Step, fill: Fill, room: int, system: System) -> list[str]:
    """One line of arithmetic: on one row if it fits, else broken before an equals sign and set in."""

    kept = step_parts(step, fill, system)
    rows = [kept[0]]
    for part in kept[1:]:
        longer = f"{rows[-1]} = {part}"
        if columns(longer) <= room - (2 if len(rows) > 1 else 0):
            rows[-1] = longer
        else:
            rows.append(f"= {part}")
    return [rows[0], *(f"{GLUE}{GLUE}{row}" for row in rows[1:])]
