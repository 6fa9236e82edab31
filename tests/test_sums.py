"""Sums as they are printed: the terms add up to the total a reader sees."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.rulebook.kit import Step, step, words
from slabwright.text.working import numbers_text, step_parts
from slabwright.units.quantity import Amount, Kind, System, depth, duration, read, share, show, volume


def text_of(one: Step, system: System = "metric") -> str:
    return numbers_text(one, lambda value: show(value, system) if isinstance(value, Amount) else str(value), system)


def of_two(first: float, second: float) -> Step:
    return step("all", "a + b", words("{a} + {b}", a=volume(first), b=volume(second)), volume(first + second))


@given(st.lists(st.floats(0.01, 50), min_size=2, max_size=4))
def test_terms_add_up_to_the_total_as_it_is_rounded(terms: list[float]) -> None:
    slots = {f"p{n}": volume(term) for n, term in enumerate(terms)}
    template = " + ".join(f"{{{slot}}}" for slot in slots)
    one = step("all", "parts", words(template, **slots), volume(sum(terms)))
    printed = [float(number) for number in re.findall(r"[\d.]+(?= m3)", text_of(one))]
    total = float(show(one.result, "metric", both=False).removesuffix(" m3"))
    assert round(sum(printed), 6) == pytest.approx(total, abs=0.005 + 1e-6)


@pytest.mark.parametrize(
    ("first", "second", "printed"),
    [  # 3.0297 m3 is printed as 3.03; worked by hand
        (1.0149, 2.0148, "1.015 m3 + 2.015 m3"),
        (1.0, 2.0, "1.00 m3 + 2.00 m3"),
        (1.2345, 2.0, "1.23 m3 + 2.00 m3"),
    ],
)
def test_more_digits_only_where_fewer_do_not_add_up(first: float, second: float, printed: str) -> None:
    assert text_of(of_two(first, second)) == printed


def test_what_is_typed_stays_as_it_is_typed() -> None:
    typed = read("1.01 m3", Kind.VOLUME)
    one = step("all", "a + b", words("{a} + {b}", a=typed, b=volume(2.0148)), volume(typed.si + 2.0148))
    assert text_of(one) == "1.01 m3 + 2.01 m3"


def test_other_units_and_fractions_are_left_alone() -> None:
    mixed = step("all", "a + b", words("{a} + {b}", a=duration(3150.0), b=duration(14400.0)), duration(17550.0))
    assert text_of(mixed) == "52.5 min + 4 h"
    inches = step("all", "a + b", words("{a} + {b}", a=depth(0.0762), b=depth(0.0127)), depth(0.0889))
    assert text_of(inches, "us") == "3 in + 1/2 in"


def test_a_share_in_brackets_is_no_term() -> None:
    numbers = words("{n} + {x} ({a})", n=volume(1.0149), x=volume(2.0148), a=share(0.05))
    one = step("needed", "net + allowance", numbers, volume(3.0297))
    assert step_parts(one, lambda value: show(value, "metric"), "metric") == [
        "needed", "net + allowance", "1.015 m3 + 2.015 m3 (5 %)", "3.03 m3 (3.96 yd3)",
    ]  # fmt: skip
