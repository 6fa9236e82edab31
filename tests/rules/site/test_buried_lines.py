"""The rule `buried-lines`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import pad, review_by
from slabwright.text.words import plain

BESIDE = "{along: [[-2, 12], [10, 12]], depth: 6 in}"
UNDER = "{along: [[-2, 4], [10, 4]], depth: 18 in}"


def buried(*lines: str) -> str:
    return pad(f"site: {{base: {{thickness: 4 in}}, buried: [{', '.join(lines)}]}}")


@pytest.mark.parametrize(
    ("line", "found"),
    [
        # 4 in of slab on 4 in of base; stakes reach a foot (common practice); one-call laws, read: 24 in, level
        ("depth: 20 in", [("note", "machine_off_at_least")]),
        ("depth: 19 in", [("caution", "stake_clear_at_least")]),
        ("depth: 8 in", [("caution", "stake_clear_at_least")]),
        ("depth: 7 in", [("hold", "clear_at_least")]),
        ("sleeve: true", [("note", "machine_off_at_least")]),
        ("sleeve: false", [("note", "machine_off_at_least"), ("note", "bare_lines_at_most")]),
    ],
)
def test_buried_lines_under_the_slab(line: str, found: list[tuple[str, str]]) -> None:
    site = f"site: {{base: {{thickness: 4 in}}, buried: [{{along: [[-2, 4], [10, 4]], {line}}}]}}"

    assert weights(review_by("buried-lines", pad(site))) == found


@pytest.mark.parametrize(
    ("off", "size", "dig", "near"),
    [
        # South Carolina and Florida call centers, read: 24 in to each side, and half the diameter
        (2.0, "", "", False),
        (1.99, "", "", True),
        (2.0, "6 in", "", True),
        (2.25, "6 in", "", False),
        (2.9, "", "dig: {beyond_edge: 1 ft}", True),  # what is dug reaches beyond the slab
        (3.0, "", "dig: {beyond_edge: 1 ft}", False),
    ],
)
def test_buried_lines_beside_the_slab_are_dug_to_by_hand(off: float, size: str, dig: str, near: bool) -> None:
    more = f", size: {size}" if size else ""
    text = pad(f"site: {{buried: [{{along: [[-2, {8 + off}], [10, {8 + off}]]{more}}}]}}\n{dig}")

    assert weights(review_by("buried-lines", text)) == ([("note", "machine_off_at_least")] if near else [])


def test_a_line_where_is_dug_is_no_way_off() -> None:
    comment = only(review_by("buried-lines", pad(f"site: {{buried: [{BESIDE}]}}\ndig: {{beyond_edge: 5 ft}}")))
    assert comment.shown.si == 0


def test_nobody_is_told_to_move_a_line() -> None:
    for deep in ("5 in", "10 in", "30 in"):
        line = f"{{along: [[-2, 4], [10, 4]], depth: {deep}, sleeve: false}}"
        site = f"site: {{base: {{thickness: 4 in}}, buried: [{line}]}}"
        for comment in review_by("buried-lines", pad(site)).comments:
            said = plain(comment.to_pass, "us")
            assert not comment.remedies
            assert not any(word in said for word in ("lower", "raise", "move", "lead"))


def test_buried_lines_far_from_the_slab_and_lines_of_which_nothing_is_said() -> None:
    line = "site: {buried: [{along: [[-2, 4], [10, 4]]}]}"

    assert review_by("buried-lines", pad(line)).not_shown
    # the lines to which what is dug comes within 10 ft
    assert review_by("buried-lines", pad(line.replace("4]", "18]"))).met
    assert review_by("buried-lines", pad(line.replace("4]", "18.1]"))).does_not_apply
    assert review_by("buried-lines", pad(line.replace("4]", "19]") + "\ndig: {beyond_edge: 2 ft}")).met  # 9 ft off it
    assert review_by("buried-lines", pad("")).does_not_apply


def test_a_line_without_a_name_is_counted_among_all_of_the_file() -> None:
    comment = only(review_by("buried-lines", buried(BESIDE, UNDER)))

    assert comment.at.name == "buried line 2"
    assert comment.at.place.path == "site.buried[1]"
    # 18 in less 4 in of slab and 4 in of base; stakes reach 12 in
    assert plain(comment.says, "us", both=False) == (
        "buried line 2 lies 10 in under the base, where stakes and teeth reach it"
    )
    assert advice(comment) == ("expose buried line 2 by hand before anything is driven or dug there")


def test_a_line_under_the_tip_of_a_corner_runs_under_the_slab() -> None:
    """Across the corner at (8, 8): it cuts off one foot of each side, and 1.41 ft of it lie under concrete."""
    tip = buried("{along: [[6, 9], [9, 6]], depth: 7 in}")

    assert weights(review_by("buried-lines", tip)) == [("hold", "clear_at_least")]


def test_the_first_line_under_the_slab_of_which_nothing_is_said_is_asked_about() -> None:
    bare = "{along: [[-2, 4], [10, 4]]}"
    (silent,) = review_by("buried-lines", buried(BESIDE, bare, bare.replace("4]", "6]"))).not_shown

    assert silent.place.path == "site.buried[1]"
    assert silent.add == (
        "site.buried, depth and sleeve: how deep it lies, such as 24 in, and whether in a sleeve",
    )  # fmt: skip


def test_a_line_of_unknown_depth_hides_none_behind_it() -> None:
    report = review_by("buried-lines", buried(UNDER.replace("depth: 18 in", "sleeve: true"), UNDER))

    assert [(comment.at.name, comment.limit.name) for comment in report.comments] == [
        ("buried line 2", "stake_clear_at_least"), ("buried line 1", "machine_off_at_least")
    ]  # fmt: skip


def test_all_bare_lines_are_told_together() -> None:
    lines = [UNDER.replace("depth: 18 in", f"sleeve: {sleeve}, name: {name}") for name, sleeve in (
        ("cable", "false"), ("pipe", "true"), ("hose", "false"))]  # fmt: skip

    (bare,) = (one for one in review_by("buried-lines", buried(*lines)).comments if one.at.name == "the sleeves")
    says, to_pass = told(bare)
    assert bare.at.place.path == "site.buried[0]"
    assert says == "cable, hose can never be pulled out from under the slab"
    assert to_pass.startswith("ask the operator of cable, hose whether it is to be sleeved")
