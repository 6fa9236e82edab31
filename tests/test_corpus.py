"""Precision as a number of the project: no hold on a sound design, hardly a caution, nearly every fault caught.

Designs and faults were drawn as the trade draws them (common practice), without a look at a rule.
"""

from __future__ import annotations

import re

import corpus
import pytest

FAULTS = list(corpus.faults())


@pytest.mark.parametrize("name", sorted(corpus.sound()))
def test_a_sound_design_is_not_held(name: str) -> None:
    one = corpus.sound_judged(name)
    assert one.report is not None, one.refused
    assert [(comment.rule, comment.at.name) for comment in one.comments("hold")] == []
    assert one.report.crashes == ()


def test_sound_designs_draw_hardly_a_caution() -> None:
    cautions = [(name, one.rule) for name in corpus.sound() for one in corpus.sound_judged(name).comments("caution")]
    assert 10 * len(cautions) <= len(corpus.sound()), cautions


def test_there_are_enough_of_both() -> None:
    assert len(corpus.sound()) >= 80 and len(FAULTS) >= 240
    assert len({fault.name for fault in FAULTS}) == len(FAULTS)
    assert {fault.design for fault in FAULTS} <= set(corpus.sound())


def test_nearly_every_fault_is_caught_by_the_right_rule_and_crowds_nothing() -> None:
    found = [corpus.tried(fault) for fault in FAULTS]
    missed = [one.fault.name for one in found if not one.right]
    assert len(missed) <= 0.03 * len(found), missed
    crowded = [(one.fault.name, one.others) for one in found if len(one.others) > 1]
    assert len(crowded) <= 0.03 * len(found), crowded


def test_the_page_of_alarms_is_what_is_found_and_every_alarm_is_explained() -> None:
    written = corpus.PAGE.read_text(encoding="utf-8")
    assert written == corpus.page([corpus.tried(fault) for fault in FAULTS]), "run: python tests/corpus.py --write"
    assert "not explained" not in written
    assert re.search(r"\| holds on them \| 0 \|", written)
