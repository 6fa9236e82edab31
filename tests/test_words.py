"""Sentences with slots: every slot filled, nothing filled twice, amounts in the reader's unit system."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.quantity import Amount, Kind, read
from slabwright.words import Words, filled, plain, words


def test_amounts_names_and_counts_go_in() -> None:
    sentence = words(
        "{name} is {long} long, {n} times its {t}", name="P3", long=Amount(12 * 0.3048, Kind.LENGTH), n=36,
        t=read("4 in", Kind.DEPTH),
    )  # fmt: skip
    assert plain(sentence, "us") == "P3 is 12'-0\" (3.658 m) long, 36 times its 4 in (101.6 mm)"
    assert plain(sentence, "metric", both=False) == "P3 is 3.658 m long, 36 times its 4 in"


def test_a_slot_may_stand_twice_and_none_at_all() -> None:
    assert plain(words("{a} and {a}", a="J1"), "us") == "J1 and J1"
    assert plain(words("nothing to fill"), "us") == "nothing to fill"


@pytest.mark.parametrize(("template", "values"), [("{a}", {}), ("a", {"a": "x"}), ("{a} {b}", {"a": "x", "c": "y"})])
def test_slots_and_values_must_agree(template: str, values: dict[str, str]) -> None:
    with pytest.raises(ValueError, match=r"slots \[.*\] and values \[.*\] differ in "):
        Words(template, values)


@given(st.text())
def test_values_are_put_in_as_they_are(name: str) -> None:
    assert plain(words("<{name}>", name=name), "us") == f"<{name}>"


def test_a_value_that_looks_like_a_slot_is_left_alone() -> None:
    assert plain(words("{a} {b}", a="{b}", b="{a}"), "us") == "{b} {a}"


def test_a_writer_fills_in_its_own_way() -> None:
    assert filled(words("{a}-{b}", a="x", b=2), lambda value: f"[{value}]") == "[x]-[2]"
