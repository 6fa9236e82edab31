"""Precision as a number of the project: no hold on a sound design, hardly a caution, nearly every fault caught.

Designs and faults were drawn as the trade draws them (common practice), without a look at a rule.
"""

from __future__ import annotations

import re

import corpus
import pytest
import told_numbers
from slabwright.teaching.slips import value
from slabwright.text.sheet import plain
from slabwright.writers import terminal

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


# Numbers that a sentence states and neither the job nor its review prints, reckoned here by hand.
BY_HAND = {
    "The strip falls 3/8 in in its 30 ft.": round((100.00 - 99.97) * 12 * 8) / 8,
    "it now falls 3.5 %": (100.08 - 99.80) / 8 * 100,
    "the bay beyond is 26.7 ft": round(2 * (13 + 4 / 12), 1),
    "the strips are 40 thicknesses long": 4.0 / 0.1,
    "It falls 60 mm to the back wall.": (10.060 - 10.000) * 1000,
    "1.2 m3 was ordered, as if the pad were 167 mm thick.": round(1.2 / (3.0 * 2.4) * 1000),
    "The middle sank 35 mm while screeding, and the as-built shot shows it.": ((1.000 + 0.950) / 2 - 0.940) * 1000,
    "Only every third radial joint was made, pieces of over three and a half meters.": 3.5,  # the sheet prints 3.6 m
    "The approach was formed 2 1/2 in down from the gutter to the walk, so street water runs over it.": round(
        (100.00 - 99.80) * 12 * 2
    )
    / 2,
    "A grown oak stands eighteen inches off the edge, and its roots lie where the base is dug.": (21.5 - 20) * 12,
}


@pytest.mark.long
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_every_number_that_a_fault_tells_is_in_the_job_or_in_its_review(fault: corpus.Fault) -> None:
    """What an answer of ``slabwright teach --exercise`` states is worked out: from values, their differences, sums."""
    one = corpus.tried(fault).judged
    before, after = corpus.sound()[fault.design].read_text(encoding="utf-8"), corpus.text_with(fault)
    ways = [(value(before, c.path), c.value if c.verb == "add" else value(after, c.path)) for c in fault.changes]
    sheet = plain(terminal.comments_only(one.report, 200, "utf-8")) if one.report else ""
    numbers = told_numbers.held([before, after, sheet, *(text for way in ways for text in way)], ways)
    for says in (fault.wrong, *fault.also.values()) if sheet else ():
        known = numbers | ({BY_HAND[says]} if says in BY_HAND else set())
        assert [n for n in told_numbers.told(says) if not told_numbers.is_held(n, known)] == [], says


def test_nearly_every_fault_is_caught_by_the_right_rule_and_crowds_nothing() -> None:
    found = [corpus.tried(fault) for fault in FAULTS]
    missed = [one.fault.name for one in found if not one.right]
    assert len(missed) <= 0.03 * len(found), missed
    crowded = [(one.fault.name, one.others) for one in found if len(one.others) > 1]
    assert len(crowded) <= 0.03 * len(found), crowded
    apart = [(one.fault.name, one.by) for one in found if one.split]
    assert len(apart) <= 0.03 * len(found), apart  # one slip, one comment


@pytest.mark.parametrize("fault", FAULTS[::80], ids=lambda fault: fault.name)
def test_a_design_with_a_slip_is_judged_as_one_that_nobody_has_seen_before(fault: corpus.Fault) -> None:
    anew = corpus.judged(corpus.sound()[fault.design], corpus.text_with(fault))
    assert corpus.tried(fault).judged.alarms() == anew.alarms()
    assert corpus.tried(fault).judged.refused == anew.refused


def test_the_page_of_alarms_is_what_is_found_and_every_alarm_is_explained() -> None:
    written = corpus.PAGE.read_text(encoding="utf-8")
    assert written == corpus.page([corpus.tried(fault) for fault in FAULTS]), "run: python tests/corpus.py --write"
    assert "not explained" not in written
    assert re.search(r"\| holds on them \| 0 \|", written)
