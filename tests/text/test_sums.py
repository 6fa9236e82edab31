"""Arithmetic as it is printed: who works it again with the numbers on the sheet comes to the result on the sheet."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.text.words import Step, step, words
from slabwright.text.working import numbers_text, step_parts
from slabwright.units.quantity import (
    Amount,
    Kind,
    System,
    area,
    count,
    depth,
    duration,
    height,
    length,
    mass,
    read,
    share,
    show,
    to_unit,
    unit_weight,
    volume,
)


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


@given(st.floats(10, 2000), st.floats(0.05, 0.4), st.floats(0, 0.2), st.sampled_from(["us", "metric"]))
def test_factors_multiply_to_the_result_as_it_is_rounded(m2: float, deep: float, part: float, system: System) -> None:
    slots = {"a": area(m2), "d": depth(deep), "s": share(part)}
    one = step("all", "a x d x (1 + s)", words("{a} x {d} x (1 + {s})", **slots), volume(m2 * deep * (1 + part)))
    printed = text_of(one, system).replace("about ", "").replace("{", "")
    numbers = re.fullmatch(r"(.+) x (.+) x \(1 \+ (.+)\)", printed)
    assert numbers is not None
    kinds = (Kind.AREA, Kind.DEPTH, Kind.SHARE)
    again = [read(text, kind).si for text, kind in zip(numbers.groups(), kinds, strict=True)]
    found = to_unit(volume(again[0] * again[1] * (1 + again[2])), "yd3" if system == "us" else "m3")
    total = float(show(one.result, system).partition(" ")[0])
    # half of the last digit, and where a tape cannot say the depth finer, 1/128 in of depth at most
    room = 0.0051 + (0.0 if system == "metric" else 0.5 / 64 * 0.0254 * m2 / 0.9144**3 * 1.2)
    assert found == pytest.approx(total, abs=room + 3e-6 * total)


@pytest.mark.parametrize(
    ("one", "system", "printed"),
    [  # worked by hand
        (step("a", "", words("{s} x {a}", s=share(0.141), a=area(69.12)), area(9.746)), "us", "14.1 % x 744 ft2"),
        (step("a", "", words("{a} - {b}", a=height(30.2179), b=height(30.2666)), depth(-0.0487)), "us",
         "99.14 ft - 99.30 ft"),
        (step("a", "", words("{b} x {w}", b=volume(7.6455), w=unit_weight(1483.2)), mass(11339.8)), "us",
         "10.00 yd3 x 2500 lb/yd3"),
        (step("a", "", words("pi / 4 x {d} x {d} x {l}", d=depth(0.0635), l=length(30.48)), volume(0.096526)), "us",
         "pi / 4 x 2 1/2 in x 2 1/2 in x 100'-0\""),
        (step("a", "", words("{n} of them, at most {d}", n=count(3), d=depth(0.3)), length(1.0)), "metric",
         "3 of them, at most 300 mm"),
    ],
)  # fmt: skip
def test_products_as_they_are_printed(one: Step, system: System, printed: str) -> None:
    assert text_of(one, system) == printed


def test_what_is_typed_stays_as_it_is_typed() -> None:
    typed = read("1.01 m3", Kind.VOLUME)
    one = step("all", "a + b", words("{a} + {b}", a=typed, b=volume(2.0148)), volume(typed.si + 2.0148))
    assert text_of(one) == "1.01 m3 + 2.01 m3"


def test_times_and_fractions_come_out_as_they_are() -> None:
    mixed = step("all", "a + b", words("{a} + {b}", a=duration(3150.0), b=duration(14400.0)), duration(17550.0))
    assert text_of(mixed) == "53 min + 4 h" and show(mixed.result, "us") == "4 h 53 min"
    inches = step("all", "a + b", words("{a} + {b}", a=depth(0.0762), b=depth(0.0127)), depth(0.0889))
    assert text_of(inches, "us") == "3 in + 1/2 in"


def test_a_share_in_brackets_is_no_term() -> None:
    numbers = words("{n} + {x} ({a})", n=volume(1.0149), x=volume(2.0148), a=share(0.05))
    one = step("needed", "net + allowance", numbers, volume(3.0297))
    assert step_parts(one, lambda value: show(value, "metric"), "metric") == [
        "needed", "net + allowance", "1.015 m3 + 2.015 m3 (5 %)", "3.03 m3",
    ]  # fmt: skip
