"""Advice holds up: what is told to make a comment pass does, and brings no hold, no deeper pond, no moved fixed height.

A part of the corpus is tried here, another with each seed; ``python tests/advice.py`` tries all of it.
"""

from __future__ import annotations

import re

import advice
import corpus
import pytest


@pytest.mark.parametrize("seed", [1, 2])
def test_advice_on_a_part_of_the_corpus_works_clean(seed: int) -> None:
    found = advice.tally(advice.some(0.03, seed))
    assert len(found.followed) > 10
    assert [one.told for one in found.followed if one.wrong] == []


@pytest.mark.parametrize(
    ("name", "rule", "says"),
    [
        ("no joints at the shed corner", "panel-spacing", "start two joints"),  # cut alone it stays long at the corner
        ("no joint where the drive flares", "inside-corner-joint", "run it to F"),  # and not into a strip beside it
    ],
)
def test_advice_that_would_not_hold_alone_gives_way_to_what_does(name: str, rule: str, says: str) -> None:
    (job,) = (one for one in advice.jobs() if one.name == name)
    told = [one for one in advice.followed(job) if isinstance(one, advice.Followed) and one.comment.rule == rule]
    assert any(says in one.told and one.comment.tried and not one.wrong for one in told), [one.told for one in told]


@pytest.mark.long
@pytest.mark.parametrize("part", range(32))
def test_nearly_all_advice_of_the_corpus_works_clean(part: int) -> None:
    found = advice.tally(advice.jobs()[part::32])
    assert found.clean >= 0.99 * len(found.followed), [one.told for one in found.followed if one.wrong]


def test_the_page_tells_the_share_that_works_clean() -> None:
    told = corpus.PAGE.read_text(encoding="utf-8").partition(corpus.ADVICE)[2]
    followed, clean = (
        int(re.search(rf"\| {name} \| (\d+)", told)[1]) for name in ("pieces of advice followed", "work clean")
    )  # type: ignore[index]
    assert clean >= 0.99 * followed > 900


def test_advice_that_does_harm_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """A slab made as thin as the code allows, where the advice is turned round: the comment stays and is told."""
    name = "patio runs to the house"
    job = next(one for one in advice.jobs() if one.name == name)
    before = advice.tally([job])
    assert before.clean == len(before.followed) > 0
    monkeypatch.setattr(advice.trials, "edited", lambda text, edits, design: text)
    spoilt = advice.tally([job])
    assert spoilt.clean == 0 and all("comment stays" in one.wrong for one in spoilt.followed)
