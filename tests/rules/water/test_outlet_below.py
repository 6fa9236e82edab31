"""The rule `outlet-below`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import review_by
from judged import judged
from slabs.water import with_sections
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048
LEVEL = dict.fromkeys(RECTANGLE, 100.0)


def drains(*each: str, unit: str = "ft", heights: dict[str, float] | None = None) -> str:
    text = design(RECTANGLE, heights or dict.fromkeys(RECTANGLE, 100.0), "rest: curb", unit=unit)
    return "\n".join([text, "fixtures:", *(f"  - {{kind: drain, {one}}}" for one in each)])


def drained(drain: str, heights: dict[str, float] | None = None) -> str:
    heights = heights or dict.fromkeys(RECTANGLE, 100.0)
    return with_sections(design(RECTANGLE, heights, "rest: curb"), f"fixtures: [{{kind: drain, {drain}}}]")


def test_of_several_drains_the_first_is_asked_about() -> None:
    (silent,) = review_by("outlet-below", drains("name: one, at: [6, 6]", "name: two, at: [9, 6]")).not_shown

    assert silent.add == ("fixtures, outlet: the height where the pipe of one lets out, such as 98.60",)
    assert silent.place.path == "fixtures[0]"


def test_rim_and_outlet_are_asked_for_in_meters_where_heights_are() -> None:
    (silent,) = review_by("outlet-below", drains("name: one, at: [6, 6]", unit="m", heights={"A": 100.0})).not_shown

    assert silent.add == (
        "fixtures, outlet: the height where the pipe of one lets out, such as 98.600",
        "fixtures, rim: the height of the rim of one, such as 99.200",
    )


def test_a_drain_of_which_less_is_known_hides_none_behind_it() -> None:
    report = review_by("outlet-below", drains("name: one, at: [6, 6]", "name: two, at: [9, 6], outlet: 99.95"))

    assert only(report).at.name == "two"
    assert told(only(report)) == (
        "two lets out hardly lower than its rim", "let two out about 1/2 in lower, at 99.91 ft"
    )  # fmt: skip


@pytest.mark.parametrize(
    ("outlet", "says"),
    [
        (99.91, "yard lets out above its own rim"),
        (99.90, "yard lets out level with its rim"),
        (99.89, "yard lets out hardly lower than its rim"),
    ],
)
def test_an_outlet_at_the_rim_is_told_apart_from_one_above_it(outlet: float, says: str) -> None:
    comment = only(review_by("outlet-below", drains(f"name: yard, at: [6, 6], rim: 99.90, outlet: {outlet}")))

    assert plain(comment.says, "us") == says


def test_a_short_pipe_is_asked_the_inch_and_a_long_one_its_fall() -> None:
    """1 % of 5 ft is less than an inch, of 20 ft 0.20 ft: common practice."""
    for pipe, low in (("5 ft", "99.81 ft"), ("20 ft", "99.70 ft")):
        comment = only(
            review_by("outlet-below", drains(f"name: yard, at: [6, 6], rim: 99.90, outlet: 99.90, pipe: {pipe}"))
        )
        assert advice(comment).endswith(f"lower, at {low}")


def test_a_pipe_that_hardly_falls_is_worked_from_its_drop() -> None:
    comment = only(review_by("outlet-below", drains("name: yard, at: [6, 6], rim: 99.90, outlet: 99.70, pipe: 40 ft")))

    assert told(comment) == ("the pipe of yard hardly falls", "let yard out about 2 3/8 in lower, at 99.50 ft")
    assert [step.result.si for step in comment.working] == pytest.approx([0.20 * FOOT, 0.005])


# outlet-below: the bottom of a channel


@pytest.mark.parametrize(
    ("inverts", "says"),
    [  # it lets out at its lower end where the file names none, and at its last where it is level
        ("[99.00, 98.95]", "the bottom of slot hardly falls to B"),
        ("[98.95, 99.00]", "the bottom of slot hardly falls to A"),
        ("[99.00, 99.00]", "the bottom of slot hardly falls to B"),
    ],
)
def test_outlet_below_a_channel_lets_out_at_its_lower_end(inverts: str, says: str) -> None:
    text = design(RECTANGLE, LEVEL, "rest: curb") + (
        f"\nchannels: [{{name: slot, along: [A, B], width: 4 in, rim: 100.0, invert: {inverts}}}]"
    )
    found = [one for one in review_by("outlet-below", text).comments if one.limit.name.endswith("bottom_fall_at_least")]
    assert [plain(one.says, "us") for one in found] == [says]


@pytest.mark.parametrize(
    ("outlet", "pipe", "expected"),
    [  # rim 99.90 ft. 1 in = 0.0833 ft is the least drop, 1 % of 40 ft = 0.40 ft the least fall (common practice)
        (99.95, "", [("hold", "drop_at_least")]),
        (99.90, "", [("hold", "drop_at_least")]),  # level with the rim nothing runs
        (99.82, "", [("caution", "usual_drop_at_least")]),
        (99.81, "", []),
        (99.81, ", pipe: 40 ft", [("caution", "pipe_fall_at_least")]),
        (99.53, ", pipe: 40 ft", [("caution", "pipe_fall_at_least")]),
        (99.52, ", pipe: 40 ft", []),  # 0.95 %: a twentieth is let pass
        (99.95, ", pipe: 40 ft", [("hold", "drop_at_least")]),  # one comment, not two
    ],
)
def test_a_drain_needs_a_drop_and_its_pipe_a_fall(outlet: float, pipe: str, expected: list[tuple[str, str]]) -> None:
    report = review_by("outlet-below", drained(f"at: [6, 6], rim: 99.90, outlet: {outlet}{pipe}"))
    assert weights(report) == expected


def test_a_drain_is_told_the_outlet_that_serves_both() -> None:
    comment = only(
        review_by("outlet-below", drained("name: yard drain, at: [6, 6], rim: 99.90, outlet: 99.95, pipe: 40 ft"))
    )
    # 1 % of 40 ft is 0.40 ft, more than the inch: 99.90 - 0.40 = 99.50 ft, 0.45 ft = 5.4 in lower
    assert advice(comment) == "let yard drain out about 5 3/8 in lower, at 99.50 ft"
    assert plain(comment.says, "us", both=False) == "yard drain lets out above its own rim"


def test_without_a_rim_the_slab_there_counts() -> None:
    comment = only(review_by("outlet-below", drained("at: [6, 6], outlet: 99.99")))
    assert comment.shown.si == pytest.approx(0.01 * FOOT)


def test_what_a_drain_lacks_is_asked_for() -> None:
    (silent,) = review_by("outlet-below", drained("name: yard drain, at: [6, 6]")).not_shown
    assert silent.add == ("fixtures, outlet: the height where the pipe of yard drain lets out, such as 98.60",)
    text = drained("name: yard drain, at: [6, 6], outlet: 98.60", {"A": 100.0})
    (silent,) = review_by("outlet-below", text).not_shown
    assert silent.add == ("fixtures, rim: the height of the rim of yard drain, such as 99.20",)


def test_no_drain_no_outlet() -> None:
    report = review_by("outlet-below", design(RECTANGLE, plane(RECTANGLE, 0, 0), "rest: curb"))
    assert report.does_not_apply[0].reason == "no drain is drawn"


@pytest.mark.parametrize(
    ("inverts", "outlets"),
    [  # all fall where they let out
        ("[99.0, 99.1, 99.2, 99.3, 99.4]", "[[0, 0], [20, 0]]"),  # from the one outlet up to the other
        ("[99.5, 99.0, 99.2, 99.1, 99.0]", "[[0, 0], [5, 0], [20, 0]]"),  # the highest lies before the first two
        ("[99.0, 99.1, 99.0, 99.5, 99.0]", "[[0, 0], [10, 0], [20, 0]]"),  # and between the last two
    ],
)
def test_between_two_outlets_a_bottom_falls_to_both_from_its_highest_place(inverts: str, outlets: str) -> None:
    text = design(RECTANGLE, LEVEL, "rest: curb") + (
        "\nchannels: [{name: slot, along: [A, [5, 0], [10, 0], [15, 0], B], width: 4 in, rim: 100.0,"
        f" invert: {inverts}, outlet_at: {outlets}}}]"
    )
    assert not [one for one in review_by("outlet-below", text).comments if "bottom" in one.limit.name]


@pytest.mark.parametrize(
    ("outlet", "pipe", "says", "low"),
    [
        ("98.95", 10, "the pipe of slot hardly falls", "98.85"),  # level with the bottom
        ("98.96", 10, "the pipe of slot rises from its bottom to where it lets out", "98.85"),
        ("98.94", 10, "the pipe of slot hardly falls", "98.85"),
        ("98.94", 10.4, "the pipe of slot hardly falls", "98.84"),  # 98.846, and no higher
    ],
)
def test_the_pipe_of_a_channel_falls_from_its_bottom(outlet: str, pipe: float, says: str, low: str) -> None:
    """A tenth of a foot in 10 ft, 1 %, is common practice: 98.85 ft."""
    slot = (
        "{name: slot, along: [A, B], width: 4 in, rim: 100.0, invert: [99.2, 98.95],"
        f" outlet: {outlet}, pipe: {pipe} ft}}"
    )
    comment = only(review_by("outlet-below", f"{design(RECTANGLE, LEVEL, 'rest: curb')}\nchannels: [{slot}]"))
    assert told(comment)[0] == says
    assert advice(comment).endswith(f"lower, at {low} ft")


@pytest.mark.parametrize(
    ("inverts", "where", "outlet"),
    [  # a pipe of 50 ft that lets out 1 ft lower: 2 %
        ("[98.7, 98.9, 99.2]", ", outlet_at: [B]", 98.2),  # where the file names it, if not at its lowest
        ("[99.0, 98.9, 99.0]", "", 97.9),  # ends level: from its lowest place
    ],
)
def test_the_pipe_of_a_channel_begins_where_it_lets_out(inverts: str, where: str, outlet: float) -> None:
    slot = f"along: [A, [10, 0], B], width: 4 in, rim: 100.0, invert: {inverts}, outlet: {outlet}, pipe: 50 ft{where}"
    said = judged("outlet-below", f"{design(RECTANGLE, LEVEL, 'rest: curb')}\nchannels: [{{{slot}}}]")
    assert [one.shown.si for one in said if one.limit.name == "pipe_fall_at_least"] == pytest.approx([0.02])


def test_a_bottom_is_told_no_higher_than_it_may_be() -> None:
    """Half a percent of 19 ft are 0.095 ft: 98.905, and down to the next hundredth."""
    slot = "{name: slot, along: [A, [19, 0]], width: 4 in, rim: 100.0, invert: [99.0, 98.99]}"
    comment = only(review_by("outlet-below", f"{design(RECTANGLE, LEVEL, 'rest: curb')}\nchannels: [{slot}]"))
    assert advice(comment).endswith("at 98.90 ft")
