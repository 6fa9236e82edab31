"""Channel and slot drains in the slab: shares and volumes in closed form, walls, panels, joints and sheets."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from comments import advice, only, weights
from design_text import plan_of, review_by
from slabwright.design.read import read_design
from slabwright.drawing.content import drawing
from slabwright.plan.plan import Plan
from slabwright.sheets.stake import stake
from slabwright.sheets.stake.staked import Bench, stakes
from slabwright.source.problem import UnreadableError
from slabwright.units.quantity import Kind, height, read

FOOT = 0.3048
FOAM = "isolation: {material: foam, thickness: 1/2 in, depth: full}"
ACROSS = "along: [[0, 6], [24, 6]]"


def deck(
    channel: str, heights: str = "A: 100, B: 100, C: 100, D: 100", edges: str = "rest: curb", more: str = ""
) -> str:
    """A deck 24 ft by 12 ft, its first side at y = 0."""
    return "\n".join(
        [
            "format: 1",
            "job: {name: Test deck}",
            "units: {plan: ft, height: ft}",
            "use: patio",
            "points: {A: [0, 0], B: [24, 0], C: [24, 12], D: [0, 12]}",
            "outline: [A, B, C, D]",
            f"edges: [{{{'}, {'.join(edges.split('; '))}}}]",
            f"heights: {{finish: {{{heights}}}}}",
            "thickness: {design: 4 in}",
            f"channels: [{{name: slot, {channel}}}]" if channel else "",
            more,
        ]
    )


def shares(plan: Plan) -> dict[str, float]:
    return {one.to: one.share for one in plan.water.shares}


# water


def test_a_deck_that_falls_to_a_slot_from_both_sides_drains_into_it_whole() -> None:
    plan = plan_of(deck(f"{ACROSS}, width: 4 in, rim: 99.875"))
    assert shares(plan) == pytest.approx({"slot": 1.0})
    assert not plan.water.ponds
    # 1 1/2 in in 6 ft from both sides
    assert all(facet.slope == pytest.approx(0.125 / 6) for facet in plan.finish.facets)
    # without the slot the same deck is a trough between curbs: a prism 24 ft long, 12 ft wide, 1 1/2 in deep
    trough = plan_of(deck("", "A: 100, B: 100, C: 100, D: 100, M: 99.875, N: 99.875").replace(
        "D: [0, 12]}", "D: [0, 12], M: [0, 6], N: [24, 6]}").replace(
        "99.875}}", "99.875}, lines: [{kind: valley, along: [M, N]}]}"))  # fmt: skip
    (pond,) = trough.water.ponds
    assert pond.volume == pytest.approx(24 * 12 * 0.125 / 2 * FOOT**3)


@pytest.mark.parametrize(
    ("along", "taken"),
    [  # the slab falls 2 % in x: what lies above a channel runs into it, by areas of 24 ft by 12 ft
        ("[[6, 0], [6, 12]]", 6 / 24),
        ("[[6, 3], [6, 9]]", 6 * 6 / (24 * 12)),
        ("[[6, 0], [18, 12]]", (6 * 12 + 12 * 12 / 2) / (24 * 12)),
        ("[[6, 0], [6, 6], [12, 12]]", (6 * 12 + 6 * 6 / 2) / (24 * 12)),
        ("[[6, 4], [18, 4]]", 0.0),  # along the fall it takes only what comes straight at its end
    ],
)
def test_a_channel_takes_the_water_above_it_and_the_rest_runs_on(along: str, taken: float) -> None:
    text = deck(f"along: {along}, width: 4 in", "A: 100, B: 99.52, C: 99.52, D: 100", "rest: lawn, ground: 99")
    plan = plan_of(text)
    assert shares(plan).get("slot", 0.0) == pytest.approx(taken, abs=1e-9)
    assert sum(shares(plan).values()) == pytest.approx(1.0)
    # a channel without a rim of its own changes no height
    assert plan.finish.at((7.2 * FOOT, 3.3 * FOOT)) == pytest.approx((100 - 0.02 * 7.2) * FOOT)


@pytest.mark.parametrize(
    ("channel", "taken"),
    [  # a drive that falls 2 % to a line of the lot, 24 ft of it, all of which may take no water
        ("along: [B, A], width: 4 in", 1.0),
        ("along: [[0, 0], [12, 0]], width: 4 in", 0.5),
        ("", 0.0),
    ],
)
def test_a_channel_along_an_edge_takes_what_would_run_over_it(channel: str, taken: float) -> None:
    """Half of the edge, half of the water, since the fall is square to it (geometry)."""
    edges = "run: [A, B], beside: property line, takes_water: false; rest: lawn, ground: 99"
    text = deck(channel, "A: 100, B: 100, C: 100.24, D: 100.24", edges)
    assert shares(plan_of(text)).get("slot", 0.0) == pytest.approx(taken, abs=1e-9)
    report = review_by("water-ends-where-it-may", text)
    barred = [("hold", "barred_share_at_most")] if taken < 1 else []
    assert weights(report) == barred
    assert [one.shown.si for one in report.comments] == pytest.approx([1 - taken] * len(barred))


def test_a_drop_ends_where_it_meets_the_channel() -> None:
    plan = plan_of(deck(f"{ACROSS}, width: 4 in, rim: 99.875"))
    (way,) = plan.water.ways_from([(10.3 * FOOT, 2 * FOOT)])
    assert way.to == "slot"
    assert way.xy[-1] == pytest.approx((10.3 * FOOT, 6 * FOOT))
    (in_it,) = plan.water.ways_from([(10.3 * FOOT, 6 * FOOT)])
    assert in_it.to == "slot"


# walls


HOUSE = f"run: [A, B], beside: building, name: house, {FOAM}; rest: lawn, ground: 99"


def test_the_slab_before_a_wall_is_judged_as_far_as_the_channel() -> None:
    # 2 % down over 5 ft from the wall, and from there up again: all of it is drained
    fallen = "along: [[0, 5], [24, 5]], width: 4 in, rim: 99.90, " + FOAM
    high = "A: 100, B: 100, C: 100.35, D: 100.35"
    assert not review_by("fall-from-building", deck(fallen, high, HOUSE)).comments
    # with the channel left out, the slab rises from the wall all the way
    (hold, *_) = review_by("fall-from-building", deck("", high, HOUSE)).comments
    assert hold.weight == "hold"
    # too little fall between wall and channel is told as before
    flat = deck(fallen.replace("99.90", "99.97"), high, HOUSE)
    assert weights(review_by("fall-from-building", flat)) == [("hold", "code_away_at_least")]


def test_a_threshold_channel_drains_a_slab_that_falls_to_the_wall() -> None:
    towards = "A: 100, B: 100, C: 100.25, D: 100.25"
    report = review_by("fall-from-building", deck("along: [[0, 0.3], [24, 0.3]], width: 3 in", towards, HOUSE))
    assert not report.comments
    assert report.does_not_apply[0].reason == "a channel lies along every wall"
    far = review_by("fall-from-building", deck("along: [[0, 0.3], [12, 0.3]], width: 3 in", towards, HOUSE))
    assert far.comments  # beside its end the water still comes to the wall


# volume


@pytest.mark.parametrize(
    ("more", "cubic_feet"),
    [  # 24 ft long, 4 in wide, 6 in to 8 in deep from the rim, in a slab 4 in thick
        ("", 0.0),  # no bottom: nothing is known
        (", invert: [99.375, 99.375]", -24 * (1 / 3) * (1 / 3)),  # all of the slab within its width
        (", invert: [99.375, 99.2083333333], bed: 4 in", 24 * (1.0 * (7 / 12) - (1 / 3) * (7 / 12))),
        (", invert: 99.7083333333", -24 * (1 / 3) * (2 / 12)),  # a slot 2 in deep
    ],
)
def test_the_concrete_that_a_channel_takes_off_or_its_bed_adds(more: str, cubic_feet: float) -> None:
    plan = plan_of(deck(f"{ACROSS}, width: 4 in, rim: 99.875{more}"))
    found = plan.concrete.quantities
    assert found.net - found.slab == pytest.approx(cubic_feet * FOOT**3, rel=1e-6, abs=1e-9)


# panels and joints


def test_a_channel_from_edge_to_edge_parts_the_slab_and_one_at_its_rim_does_not() -> None:
    assert len(plan_of(deck(f"{ACROSS}, width: 4 in, {FOAM}")).panels.all) == 2
    assert len(plan_of(deck(f"{ACROSS}, width: 4 in")).panels.all) == 2
    assert len(plan_of(deck(f"along: [[0, 0.5], [24, 0.5]], width: 4 in, {FOAM}")).panels.all) == 1


@pytest.mark.parametrize("filler", ["", ", " + FOAM])
def test_joints_stop_at_a_channel_or_cross_it(filler: str) -> None:
    joints = """joints:
  - {from: [6, 0], to: [6, 5.83], kind: saw cut, depth: 1 in}
  - {from: [12, 0], to: [12, 12], kind: saw cut, depth: 1 in}
  - {from: [18, 6], to: [18, 12], kind: saw cut, depth: 1 in}"""
    text = deck(f"{ACROSS}, width: 4 in{filler}", more=joints)
    assert not review_by("joint-ends", text).comments
    ends = plan_of(text).joints.all[0].ends
    assert max(end.at[1] for end in ends) == pytest.approx(6 * FOOT)  # from the face of the channel on to its middle
    short = text.replace("5.83", "4.5")
    assert weights(review_by("joint-ends", short)) == [("hold", "short_of_edge_at_most")]


@pytest.mark.parametrize(
    ("filler", "expected"),
    [
        (", isolation: none", [("note", "channel_part_at_least")]),
        (", isolation: {material: foam, depth: 2 in}", [("note", "channel_part_at_least")]),
        (", isolation: {material: foam, depth: full}", []),
    ],
)
def test_filler_along_a_channel(filler: str, expected: list[tuple[str, str]]) -> None:
    assert weights(review_by("fixtures-isolated", deck(f"{ACROSS}, width: 4 in{filler}"))) == expected
    (silent,) = review_by("fixtures-isolated", deck(f"{ACROSS}, width: 4 in")).not_shown
    assert silent.add[0].startswith("channels, isolation: the filler round what stands in the concrete")


# rims, bottoms, outlets


@pytest.mark.parametrize(
    ("channel", "expected"),
    [  # 24 ft long: 1 % of a pipe is 0.24 ft, 0.5 % of a bottom 0.12 ft; a twentieth of a limit is let pass
        ("invert: [99.50, 99.26], outlet: 98.90, pipe: 30 ft", []),
        ("invert: [99.50, 99.38], outlet: 98.90", []),
        ("invert: [99.50, 99.40], outlet: 98.90", [("note", "usual_bottom_fall_at_least")]),
        ("invert: 99.40, outlet: 98.90", [("note", "usual_bottom_fall_at_least")]),  # level
        ("invert: [99.50, 99.26], outlet_at: [[0, 6]]", [("caution", "bottom_fall_at_least")]),
        ("invert: [99.26, 99.50]", []),  # without an outlet it lets out at its lower end
        ("invert: [99.50, 99.26], outlet: 99.10, pipe: 30 ft", [("caution", "pipe_fall_at_least")]),  # from the bottom
        ("outlet: 99.90", [("hold", "drop_at_least")]),
        ("outlet: 99.85", [("caution", "usual_drop_at_least")]),
    ],
)
def test_how_a_channel_lets_its_water_out(channel: str, expected: list[tuple[str, str]]) -> None:
    report = review_by("outlet-below", deck(f"{ACROSS}, width: 4 in, rim: 99.875, {channel}"))
    assert weights(report) == expected


def test_a_channel_with_outlets_at_both_ends_falls_both_ways() -> None:
    line = "along: [[0, 6], [12, 6], [24, 6]], width: 4 in, rim: 99.875, outlet_at: [[0, 6], [24, 6]]"
    assert not review_by("outlet-below", deck(f"{line}, invert: [99.38, 99.50, 99.38]")).comments
    sagging = review_by("outlet-below", deck(f"{line}, invert: [99.38, 99.26, 99.38]"))
    assert weights(sagging) == [("caution", "bottom_fall_at_least")]


def test_a_channel_is_told_the_bottom_that_lets_it_run() -> None:
    comment = only(
        review_by(
            "outlet-below", deck(f"{ACROSS}, width: 4 in, rim: 99.875, invert: [99.50, 99.50], outlet_at: [[24, 6]]")
        )
    )
    # 0.5 % of 24 ft is 0.12 ft: 99.50 - 0.12 = 99.38 ft
    assert advice(comment).replace("\u00a0", " ") == "set the bottom at (24.00 ft, 6.00 ft) at 99.38 ft"


def test_the_rim_is_held_against_finish_heights_all_along() -> None:
    points = "M: [0, 6], N: [24, 6], P: [12, 6]}"

    def judged(rim: str, finish: str) -> list[tuple[str, str]]:
        text = deck(f"{ACROSS}, width: 4 in, rim: {rim}", f"A: 100, B: 100, C: 100, D: 100, {finish}")
        return weights(review_by("standing-water", text.replace("D: [0, 12]}", f"D: [0, 12], {points}")))

    assert judged("[99.88, 99.88]", "M: 99.88, N: 99.88, P: 99.88") == []
    # in the middle the rim runs straight between its ends at 99.86 ft, and stands 0.03 ft above the finish
    assert judged("[99.88, 99.84]", "M: 99.88, N: 99.84, P: 99.83") == [("hold", "rim_above_at_most")]
    # and 0.06 ft, 3/4 in, below it
    assert judged("[99.82, 99.82]", "P: 99.88, M: 99.82, N: 99.82") == [("caution", "rim_below_at_most")]
    # one rim for all: told once
    assert judged("99.88", "M: 99.85, N: 99.85, P: 99.85") == [("hold", "rim_above_at_most")]


# reading


@pytest.mark.parametrize(
    ("channel", "wrong"),
    [
        (f"{ACROSS}, width: 4 in, rim: [99.9, 99.8, 99.7]", "there are 3 heights of the rim here"),
        (f"{ACROSS}, width: 4 in, outlet_at: A", "the channel lets out where its line has no point"),
        ("along: [[0, 6], [0, 6]], width: 4 in", "this channel begins and ends at one point"),
        (f"{ACROSS}, rim: 99.9", 'lacks "width"'),
    ],
)
def test_channels_that_are_refused(channel: str, wrong: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(deck(channel))
    assert wrong in str(refused.value)


def test_a_channel_under_fixtures_is_told_where_it_belongs() -> None:
    with pytest.raises(UnreadableError) as refused:
        plan_of(deck("", more="fixtures: [{kind: slot drain, at: [1, 1]}]"))
    assert "it belongs under channels" in refused.value.problems[0].write


def test_a_channel_off_the_slab_is_asked_about() -> None:
    from slabwright.plan import questions

    asked = [one.wrong for one in questions.ask(plan_of(deck("along: [[0, 14], [24, 14]], width: 4 in")))]
    assert "slot lies beside the slab: it takes none of its water" in asked


# sheets and drawing


def test_rods_on_rim_and_bottom_at_both_ends() -> None:
    plan = plan_of(deck(f"{ACROSS}, width: 4 in, rim: [99.88, 99.84], invert: [99.50, 99.26], outlet: 98.9"))
    bench = Bench("hydrant", height(100 * FOOT), read("4.20 ft", Kind.HEIGHT))
    sheet = stake.sheet(stakes(plan, bench))
    rows = [[getattr(cell, "text", cell) for cell in row] for row in sheet.table("channels").rows]
    # the line of sight is at 104.20 ft
    assert rows == [
        ["slot (0 ft, 6 ft)", "99.88", "4.32", "99.50", "4.70"],
        ["slot (24 ft, 6 ft), outlet", "99.84", "4.36", "99.26", "4.94"],
    ]
    labels = [pin.label for pin in stakes(plan, bench).pins]
    assert labels.count("slot end") == 2


def test_a_channel_is_drawn_with_its_outlet() -> None:
    found = drawing(plan_of(deck(f"{ACROSS}, width: 4 in, invert: [99.50, 99.26], outlet: 98.9")), ("fixtures",))
    (channel,) = found["fixtures"]
    assert (channel["kind"], channel["size_m"]) == ("channel", pytest.approx(4 / 12 * FOOT))
    assert channel["outlets"] == [pytest.approx([24 * FOOT, 6 * FOOT])]


def test_the_height_of_one_rim_stands_for_every_point() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "deck.slab.yaml"
        path.write_text(deck(f"{ACROSS}, width: 4 in, rim: 99.88"), encoding="utf-8")
        (channel,) = read_design(path)[0].channels
    assert [amount.si for k in (0, 1) if (amount := channel.height_at(channel.rim, k))] == [99.88 * FOOT] * 2
