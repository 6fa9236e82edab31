"""All advice of a sheet holds when it is done at once: a part of the corpus and examples, another with each seed.

``python tests/advice_at_once.py`` tries all of it.
"""

from __future__ import annotations

import advice
import advice_at_once
import pytest
from slabwright.review import remedies
from slabwright.review.likewise import as_one
from slabwright.review.report import Report
from slabwright.text.words import plain


@pytest.mark.parametrize("seed", [1, 2])
def test_all_advice_of_a_sheet_works_clean_at_once(seed: int) -> None:
    found = [sheet for job in advice_at_once.some(0.03, seed) if (sheet := advice_at_once.followed(job))]
    assert len(found) > 3
    assert [one.told for one in found if one.wrong] == []


@pytest.mark.long
@pytest.mark.parametrize("part", range(32))
def test_all_advice_of_every_sheet_works_clean_at_once(part: int) -> None:
    found = [sheet for job in advice_at_once.jobs()[part::32] if (sheet := advice_at_once.followed(job))]
    assert [one.told for one in found if one.wrong] == []


def told(name: str) -> dict[str, list[str]]:
    """What is told to make each comment of a job pass, by rule."""
    (job,) = (one for one in advice_at_once.jobs() if one.name == name)
    report, bench = advice.reviewed(job, job.text)
    lines: dict[str, list[str]] = {}
    for one in remedies.advised(as_one(report, bench.plan.design), bench).comments:
        asks = plain(one.to_pass, bench.plan.home, both=False)
        says = f"number {one.settled_by}" if one.settled_by else asks
        lines.setdefault(one.rule, []).append(says)
    return lines


@pytest.mark.parametrize(
    ("name", "rule", "says"),
    [
        # the box lies with the finish, which number 2 lowers
        ("valve box buried", "lids-at-grade", "set water valve box at -0.10 ft, with the finish; with number 2 done, "),
        # three risers of 7 7/16 in, and the stoop comes down 2 1/2 in: (3 x 7 7/16 - 2 1/2) / 3 = 6.6 in
        ("stoop pitched to the door", "even-risers", "with number 1 done, make all 3 risers 6 9/16 in"),
        # a slab of 6 in needs a deeper edge than one of 4 in, and more concrete than was ordered for it
        ("approach as thin as a walk", "thickened-edge-under-wheels", "do first what stands under number 1"),
        # at 100 mm, or 150, the bays are no longer too long; 1 1/4 x 150 mm is 187.5 (TM 5-822-5), 190 by steps of 5
        ("wattle drive three inches thick", "panel-spacing", "number 1"),
        ("bog road patio of paving thickness", "panel-spacing", "number 1"),
        ("silage apron drawn half as thick", "panel-spacing", "do first what stands under number 2"),
        ("silage apron drawn half as thick", "wheel-load", "settle number 2 first; then make the slab 190 mm deep"),
        # the gutter falls once its low end is lowered: the fall that is written follows it
        ("barn gutter level", "stated-fall", "with number 1 done, write 0.5 %"),
    ],
)
def test_advice_that_does_not_hold_once_others_are_done_says_so(name: str, rule: str, says: str) -> None:
    assert any(one.startswith(says) for one in told(name)[rule]), told(name)


def test_an_order_is_told_for_the_slab_as_drawn_and_as_it_is_made() -> None:
    """Half of (24 + 18) ft by 10 ft, 6 in thick, and 8 %: 4.2 yd3.

    42 ft of edge 1 1/2 in deeper, brought back over 3 ft, is 1/2 x 0.125 x 3 x 42 = 7.9 ft3 more: 4.51 yd3 in all.
    Quarters of a yard are ordered.
    """
    (order,) = told("approach ordered thin")["ordered-volume"]
    assert order == "order 4.25 yd3; with number 3 done, order 4.75 yd3"


def test_sheets_that_do_harm_are_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the second look at all of it together, what each remedy does alone is told, and does not fit."""
    job = next(one for one in advice_at_once.jobs() if one.name == "stoop pitched to the door")
    clean = advice_at_once.followed(job)
    assert clean is not None and not clean.wrong

    def alone(report: Report, *_: object) -> Report:
        return report

    monkeypatch.setattr(remedies, "in_order", alone)
    spoilt = advice_at_once.followed(job)
    assert spoilt is not None and spoilt.wrong
