"""Rules about the site, at their edges: just over and just under, things without a name, and what is said in full."""

from __future__ import annotations

import pytest
from comments import only, told, weights
from design_text import pad, plan_of, review_by, rule_named, told_by
from slabwright.review import run
from slabwright.rulebook import limits
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, Kind

FOOT, INCH = 0.3048, 0.0254
FLAT = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\nheights: {finish: {A: 100, B: 100, C: 99.84, D: 99.84}}\n"


# buried-lines

BESIDE = "{along: [[-2, 12], [10, 12]], depth: 6 in}"
UNDER = "{along: [[-2, 4], [10, 4]], depth: 18 in}"


def buried(*lines: str) -> str:
    return pad(f"site: {{base: {{thickness: 4 in}}, buried: [{', '.join(lines)}]}}")


def test_a_line_without_a_name_is_counted_among_all_of_the_file() -> None:
    comment = only(review_by("buried-lines", buried(BESIDE, UNDER)))

    assert comment.at.name == "buried line 2"
    assert comment.at.place.path == "site.buried[1]"
    # 18 in less 4 in of slab and 4 in of base; stakes reach 12 in
    assert plain(comment.says, "us", both=False) == (
        "buried line 2 lies 10 in under the base, where stakes and teeth reach it"
    )
    assert plain(comment.to_pass, "us", both=False) == (
        "expose buried line 2 by hand before anything is driven or dug there"
    )


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
    assert says == "cable, hose can never be pulled out from under the slab"
    assert to_pass.startswith("ask the operator of cable, hose whether it is to be sleeved")


# lids-at-grade


@pytest.mark.parametrize(("count", "named"), [(5, 5), (6, 6), (7, 6)])
def test_lids_without_a_height_are_named_up_to_six(count: int, named: int) -> None:
    lids = ", ".join(f"{{kind: valve, name: v{k}, at: [{k + 0.5}, 4]}}" for k in range(count))
    (silent,) = review_by("lids-at-grade", pad(FLAT + f"fixtures: [{lids}]", outline="[A, B, C, D]")).not_shown

    names = ", ".join(f"v{k}" for k in range(named))
    assert silent.add == (f"fixtures, rim: the height of the lid of {names}, such as 99.90",)
    assert silent.place.path == "fixtures[0]"


# locate-ticket


def dug(called: str, digging: str, days: float) -> list[tuple[str, str]]:
    """What is said, and what to do, where the call must come so many working days ahead."""
    rule = rule_named("locate-ticket")
    amended = Amendment(rule.name, "days_ahead_at_least", "a test", Amount(days, Kind.COUNT, f"{days:g}"))
    in_force = limits.resolve((rule,), [Amendments("test.yaml", "town", "a test", (amended,))])
    plan = plan_of(pad(f"site: {{locate: {{ticket: A 1, called: {called}, digging: {digging}}}}}"))
    comments = run.review(plan, (rule,), in_force).comments
    return [(plain(comment.says, "us"), plain(comment.to_pass, "us")) for comment in comments]


@pytest.mark.parametrize(
    ("digging", "days", "counted", "first"),
    [  # called on Tuesday, 2026-04-07 (ISO 8601 calendar)
        ("2026-04-09", 3, "1 full working day", "2026-04-13"),
        ("2026-04-10", 3, "2 full working days", "2026-04-13"),
        ("2026-04-07", 3, "0 full working days", "2026-04-13"),
        ("2026-04-10", 2.5, "2 full working days", "2026-04-13"),  # two and a half days are over on the third
        ("2026-04-10", 4, "2 full working days", "2026-04-14"),
        ("2026-04-09", 2, "1 full working day", "2026-04-10"),
    ],
)
def test_days_ahead_are_told_and_the_first_day_to_dig(digging: str, days: float, counted: str, first: str) -> None:
    assert dug("2026-04-07", digging, days) == [
        (f"{counted} after the call digging starts, before the marks are there", f"dig on {first} or later")
    ]
    assert dug("2026-04-07", first, days) == []


def test_who_calls_on_a_saturday_waits_from_monday() -> None:
    assert [first for _, first in dug("2026-04-11", "2026-04-14", 3)] == ["dig on 2026-04-16 or later"]


# lot-cover


@pytest.mark.parametrize(
    ("covered", "less"),
    [  # 64 ft2 of slab, 2,400 ft2 are 30 % of 8,000 ft2
        ("2337 ft2", "leave 1 ft2 of paving out, here or elsewhere on the lot, or ask the town what counts"),
        ("2340.5 ft2", "leave 5 ft2 of paving out, here or elsewhere on the lot, or ask the town what counts"),
    ],
)
def test_what_is_over_is_left_out_in_whole_feet(covered: str, less: str) -> None:
    assert (
        told_by("lot-cover", pad(f"site: {{lot: {{area: 8000 ft2, covered: {covered}, cover_at_most: 30 %}}}}"))[1]
        == less
    )


def test_what_is_over_is_left_out_in_whole_square_meters() -> None:
    """36 m2 of slab and 266.5 are 2.5 m2 more than 30 % of 1,000."""
    text = pad(
        "site: {lot: {area: 1000 m2, covered: 266.5 m2, cover_at_most: 30 %}}", unit="m", side="6", thick="100 mm"
    )

    assert told_by("lot-cover", text, "metric") == (
        "with this slab 30.3 % of the lot is covered, and the town allows 30 %",
        "leave 3 m2 of paving out, here or elsewhere on the lot, or ask the town what counts",
    )


# lot-setback


def lined(*lines: tuple[str, float], use: str = "patio", more: str = "") -> str:
    """The slab reaches from 0 to 8 ft; lines run along x."""
    each = ", ".join(f"{{kind: {kind}, along: [[{x:.8f}, -20], [{x:.8f}, 30]]{more}}}" for kind, x in lines)
    return pad(f"site: {{lot: {{lines: [{each}]}}}}", use=use)


def test_lines_without_a_name_are_counted() -> None:
    report = review_by("lot-setback", lined(("side", 20), ("rear", 10), ("side", 11)))

    assert [comment.at.name for comment in report.comments] == ["rear line 2", "side line 3"]
    assert plain(report.comments[0].to_pass, "us", both=False) == "keep the slab 5 ft from rear line 2: 3'-0\" more"


@pytest.mark.parametrize(
    ("over", "limits_broken"),
    [  # a hundredth of an inch over the line is on it: how near it comes is told as well
        (0.00995, ["over_at_most", "side_at_least"]),
        (0.01005, ["over_at_most"]),
    ],
)
def test_a_hair_over_the_line_is_near_it_too(over: float, limits_broken: list[str]) -> None:
    report = review_by("lot-setback", lined(("side", 8 - over / 12)))

    assert [comment.limit.name for comment in report.comments] == limits_broken


@pytest.mark.parametrize(
    ("kind", "use", "to_pass"),
    [  # 1 ft over; Rosemount MN patio page, read: 5 ft from side and rear, 15 ft from street side and front
        ("side", "patio", "draw the slab back 6'-0\", to 5 ft behind side line 1"),
        ("rear", "patio", "draw the slab back 6'-0\", to 5 ft behind rear line 1"),
        ("front", "patio", "draw the slab back 16'-0\", to 15 ft behind front line 1"),
        ("street side", "patio", "draw the slab back 16'-0\", to 15 ft behind street side line 1"),
        ("side", "driveway", "draw the slab back 1'-0\", behind side line 1"),
    ],
)
def test_over_a_line_it_is_drawn_back_to_where_it_may_be(kind: str, use: str, to_pass: str) -> None:
    says, told_to = told_by("lot-setback", lined((kind, 7), use=use))

    assert says == f"the slab reaches 1'-0\" over {kind} line 1"
    assert told_to == to_pass


def test_a_line_that_is_met_hides_none_behind_it() -> None:
    report = review_by("lot-setback", lined(("side", 7), ("front", 4), ("side", 6), use="driveway"))

    assert [comment.at.name for comment in report.comments] == ["side line 1", "side line 3"]


# trees


def test_trees_without_a_name_are_counted() -> None:
    """32 ft: 10 ft are asked, common to both figures of the advice page; 12 ft the other way is enough."""
    trees = "{at: [20, 4], height: 32 ft}, {at: [-9.5, 4], height: 32 ft}"
    comment = only(review_by("trees", pad(f"site: {{trees: [{trees}]}}")))

    assert (comment.at.name, comment.at.place.path) == ("tree 2", "site.trees[1]")
    assert plain(comment.says, "us", both=False) == "tree 2, 32 ft tall, stands 9'-6\" from the slab"
    assert plain(comment.to_pass, "us", both=False) == 'keep the slab 10 ft from tree 2: 6" more'


# truck-path


def test_a_place_that_the_truck_passes_too_near_is_told_how_much_nearer() -> None:
    zone = "keep_off: [{name: tank, corners: [[20, 30], [26, 30], [26, 36], [20, 36]]}]"

    assert told_by("truck-path", pad(f"site: {{truck_path: [[14.25, 60], [14.25, 10]], {zone}}}")) == (
        "the wheels of the truck pass 1'-6\" from tank", "keep the wheels 10 ft from tank: 8'-6\" more"
    )  # fmt: skip


# permit-sheet


def test_one_thing_that_is_missing_is_named_and_more_are_counted() -> None:
    keys_asked = "address owner parcel north scale streets easements flood_plain septic_and_well erosion_control"
    said = dict.fromkeys(keys_asked.split(), "none")
    lot = "site: {lot: {area: 8000 ft2, covered: 1000 ft2, lines: [{kind: side, along: [[20, 0], [20, 30]]}]}}\n"

    def sheet(*left_out: str) -> str:
        keys = ", ".join(f"{key}: {text}" for key, text in said.items() if key not in left_out)
        return pad(FLAT + lot + f"permit: {{{keys}}}", outline="[A, B, C, D]")

    assert told_by("permit-sheet", sheet("owner")) == (
        "permit.owner is not on the sheet, and the counter asks for it", "add permit.owner"
    )  # fmt: skip
    assert told_by("permit-sheet", sheet("owner", "scale")) == (
        "2 things the counter asks for are not on the sheet", "add permit.owner, permit.scale"
    )  # fmt: skip
    assert review_by("permit-sheet", sheet()).met
