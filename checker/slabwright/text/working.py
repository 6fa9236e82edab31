"""Arithmetic and plain words as every sheet of text sets them, the review and the sheets of a job alike."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import partial

from slabwright.text.arithmetic import printed, worth
from slabwright.text.letters import GLUE, columns
from slabwright.text.words import Step, Value, filled, told, written
from slabwright.units.quantity import Amount, System, pointed, same, show

Fill = Callable[[Value], str]
_SHARE_BEHIND = re.compile(r"(?<=\}) \(\{\w+\}\)")  # a share in brackets tells where a number is from
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
    parts = [step.what, told(step.formula, system), numbers_text(step, fill, system), fill(step.result)]
    return [part for number, part in enumerate(parts) if part and part not in parts[:number]]


def numbers_text(step: Step, fill: Fill, system: System) -> str:
    """The numbers of a step in one system, each as fine as it takes for them to come out as the result is printed.

    >>> from slabwright.units.quantity import area, depth, show, volume
    >>> from slabwright.text.words import step, words
    >>> three = step("all", "a + b", words("{a} + {b}", a=volume(1.0149), b=volume(2.0148)), volume(3.0297))
    >>> numbers_text(three, lambda value: show(value, "metric"), "metric"), show(three.result, "metric")
    ('1.015 m3 + 2.015 m3', '3.03 m3')
    >>> mean = step("base", "area x depth", words("{a} x {d}", a=area(47.6), d=depth(0.1504)), volume(7.15904))
    >>> numbers_text(mean, lambda value: show(value, "metric"), "metric"), show(mean.result, "metric")
    ('47.6 m2 x 150.4 mm', '7.16 m3')
    """

    def short(value: Value) -> str:
        return fill(value).partition(" (")[0] if isinstance(value, Amount) else str(value)

    kind, template = step.result.kind, _SHARE_BEHIND.sub("", written(step.numbers.template, system))
    exact = {slot: _number(value) for slot, value in step.numbers.values.items()}
    found, total = worth(template, exact), printed(pointed(short(step.result), system), kind)
    if found is None or total is None or not same(found, step.result.si):
        return filled(step.numbers, short, system)  # no plain arithmetic, or not all of it

    def finer(value: Value, digits: int) -> str:
        if not digits or not isinstance(value, Amount):
            return short(value)
        return show(value, system, both=False, digits=digits)

    fill_in: Fill = short
    for digits in range(_MOST_DIGITS + 1):
        fill_in = partial(finer, digits=digits)
        said: dict[str, float] = {}
        for slot, value in step.numbers.values.items():
            one = printed(pointed(fill_in(value), system), value.kind) if isinstance(value, Amount) else None
            if one is None and isinstance(value, Amount):
                return filled(step.numbers, short, system)  # told in words
            said[slot] = one.si if one else exact[slot]
        again = worth(template, said)
        if again is not None and abs(again - total.si) <= total.last / 2 + 2e-6 * max(abs(again), abs(total.si)):
            break
    return filled(step.numbers, fill_in, system)


def _number(value: Value) -> float:
    """The number in a value; not a number where there is none."""
    try:
        return value.si if isinstance(value, Amount) else float(value)
    except ValueError:
        return math.nan


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
