"""Sentences with slots: every slot filled, nothing filled twice, amounts in the reader's unit system."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.text.words import Words, either, filled, plain, words, written
from slabwright.units.quantity import Amount, Kind, depth, read


def test_amounts_names_and_counts_go_in() -> None:
    sentence = words(
        "{name} is {long} long, {n} times its {t}", name="P3", long=Amount(12 * 0.3048, Kind.LENGTH), n=36,
        t=read("4 in", Kind.DEPTH),
    )  # fmt: skip
    assert plain(sentence, "us") == "P3 is 12'-0\" long, 36 times its 4 in"
    assert plain(sentence, "us", both=True) == "P3 is 12'-0\" (3.658 m) long, 36 times its 4 in (102 mm)"
    assert plain(sentence, "metric") == "P3 is 3.658 m long, 36 times its 102 mm"


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


def test_a_text_is_said_in_one_system_or_in_both() -> None:
    said = "fall within {10 ft|3.05 m} of a wall, {2 ft|0.61 m} deep"
    assert written(said, "us") == "fall within 10 ft of a wall, 2 ft deep"
    assert written(said, "metric") == "fall within 3.05 m of a wall, 0.61 m deep"
    assert written(said, None) == "fall within 10 ft (3.05 m) of a wall, 2 ft (0.61 m) deep"
    assert written("{material: foam, thickness: {1/2 in|12 mm}}", "metric") == "{material: foam, thickness: 12 mm}"
    assert written("nothing | to say", "metric") == "nothing | to say"
    assert either(said) == [("10 ft", "3.05 m"), ("2 ft", "0.61 m")]


def test_a_sentence_with_slots_is_said_in_its_system() -> None:
    sentence = words("{name} is {off} off, {1 in|25 mm} at most", name="J1|{x}", off=depth(0.0508))
    assert plain(sentence, "us", both=False) == "J1|{x} is 2 in off, 1 in at most"
    assert plain(sentence, "metric", both=False) == "J1|{x} is 51 mm off, 25 mm at most"
