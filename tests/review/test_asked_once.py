"""What a file does not say is asked for once, with every rule that waits for it."""

from __future__ import annotations

from design_text import pad, plan_of
from example_reviews import IN_FORCE, RULES
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.writers.sheet_words import by_need


def reviewed(text: str) -> Report:
    return run.review(plan_of(text), RULES, IN_FORCE)


def thing(add: str) -> str:
    """What is asked for, without the example."""
    return add.partition(", such as ")[0]


def rules_for(report: Report, key: str) -> list[list[str]]:
    """Rules that wait for a key, one list for each time it is asked for."""
    return [
        [entry.rule for entry in entries]
        for (add, _), entries in by_need(report).items()
        for one in add
        if one.startswith(f"{key}:")
    ]


def test_shots_on_the_base_are_asked_for_once() -> None:
    """With the finish drawn only the base lacks; without it both do."""
    points = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\n"
    shot = "site: {base: {material: gravel, thickness: 4 in, shot_after_compaction: true}}\n"
    finish = "heights: {finish: {A: 100, B: 100, C: 99.8, D: 99.8}}"
    drawn = reviewed(pad(points + shot + finish, outline="[A, B, C, D]"))
    bare = reviewed(pad(points + shot, outline="[A, B, C, D]"))
    assert [sorted(one) for one in rules_for(drawn, "heights.base")] == [["base-depth", "base-shots", "base-step"]]
    assert [sorted(one) for one in rules_for(bare, "heights.base")] == [["base-depth", "base-shots", "base-step"]]
    (heights,) = rules_for(bare, "heights.finish")
    assert {"base-depth", "least-fall", "fall-margin"} <= set(heights)
    assert rules_for(drawn, "heights.finish") == []


def test_nothing_is_asked_for_twice_and_nothing_is_left_out() -> None:
    for use in ("patio", "driveway", "walk", "garage floor", "vehicle pad"):
        report = reviewed(pad("pour: {finish: broom}\norder: {method: wheelbarrow}", use))
        needs = by_need(report)
        asked = [thing(one) for add, _ in needs for one in add]
        assert len(asked) == len(set(asked))
        assert set(asked) == {thing(one) for entry in report.not_shown for one in entry.add}
        for (add, place), entries in needs.items():
            assert place == str(entries[0].place)
            assert all({thing(one) for one in add} <= {thing(one) for one in entry.add} for entry in entries)


def test_what_the_same_rules_want_is_asked_for_together() -> None:
    """Rate and crew are wanted by the barrows alone only where nothing else wants the rate."""
    report = reviewed(pad("pour: {finish: broom}\norder: {method: wheelbarrow}"))
    (crew,) = rules_for(report, "pour.crew")
    (rate,) = rules_for(report, "pour.rate")
    assert crew == ["barrows-keep-up"]
    assert set(rate) > set(crew)
