"""The rule `trip-at-existing-slab`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, limits_broken, only, places, says, weights
from design_text import review_by
from judged import findings
from slabs.heights import ALL_LEVEL, HOUSE, LEVEL, SLOPED, feet, slab, stoop, told_values
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain
from slabwright.units.quantity import Amount
from sloped import RECTANGLE, all_followed, design, plane

FOOT, INCH = 0.3048, 0.0254
FLOOR = "fixed: [{name: bay floor, kind: slab, along: [A, B], height: HEIGHT}"


def walk(above: float, more: str = "") -> str:
    """A slab at 100 along A-B that stands ``above`` ft over an old walk at B and is flush at A."""
    ground = f"[100, {100 - above:.10f}]"
    return design(
        RECTANGLE, SLOPED, f"run: [A, B], beside: existing slab, name: old walk, ground: {ground}{more}\nrest: lawn"
    )


def old_slabs(*edges: str, heights: dict[str, float] | None = None, more: str = "") -> str:
    runs = [f"run: {one.replace(';', ', beside: existing slab, name:')}" for one in edges]
    return slab(heights or ALL_LEVEL, more, edges="\n".join([*runs, "rest: bed"]))


def bay(floor: str, more: str = "", edge: str = "beside: trench drain, wheels_cross: true") -> str:
    """A pad at 100 whose wheels cross to a floor of a typed height along A-B."""
    fixed = FLOOR.replace("HEIGHT", floor) + f"{more}]"
    return slab(LEVEL, fixed, edges=f"run: [A, B], {edge}, name: bay\nrest: bed", use="vehicle pad")


@pytest.mark.parametrize(
    ("inches", "more", "expected"),
    [  # 1991 ADA 4.5.2 and ABA 303.3, read: 1/4 in upright, 1/2 in beveled; 7 3/4 in, IRC R311.7.5.1, quoted
        (0.25, "", []),
        (0.5, "", []),
        (0.6, "", [("caution", "private_lip_at_most")]),
        (0.6, ", wheels_cross: true", []),
        (0.85, ", wheels_cross: true", [("note", "wheel_lip_at_most")]),
        (7.75, ", planned_step: true", []),
        (7.85, ", planned_step: true", [("caution", "step_at_most")]),
        (2.0, ", planned_step: true, wheels_cross: true", []),  # no car climbs more: common practice
        (2.1, ", planned_step: true, wheels_cross: true", [("caution", "floor_lip_at_most")]),
        (7.85, ", planned_step: true, wheels_cross: true", [("caution", "floor_lip_at_most")]),  # nor steps at all
    ],
)
@pytest.mark.parametrize("side", [1, -1])
def test_trip_at_existing_slab(inches: float, more: str, expected: list[tuple[str, str]], side: int) -> None:
    text = walk(side * inches / 12, more)
    report = review_by("trip-at-existing-slab", text)
    assert weights(report) == expected
    for comment in report.comments:
        assert says(comment) == f"the slab stands {'above' if side == 1 else 'below'} the existing slab at B"
        ways = [remedy.says.values["way"] for remedy in comment.remedies if "way" in remedy.says.values]
        assert set(ways) == {"lower" if side == 1 else "higher"}
    assert all_followed("trip-at-existing-slab", text).comments == ()


def test_a_lip_at_the_shared_end_of_two_stretches_is_told_once() -> None:
    edges = "run: [A, H, B], beside: existing slab, name: old walk, ground: [100, 99.9, 100]\nrest: lawn"
    text = design({**RECTANGLE, "H": (12, 0)}, {**SLOPED, "H": 100.0}, edges)
    assert says(only(review_by("trip-at-existing-slab", text))) == "the slab stands above the existing slab at H"
    assert all_followed("trip-at-existing-slab", text).comments == ()


@pytest.mark.parametrize("at_h", [99.9, 100.1, 100.0])
def test_an_edge_is_told_once_however_many_stretches_it_has(at_h: float) -> None:
    """It stands 1.8 in above the walk at A and at B, and 1.2 in above or below it, or flush, between them."""
    edges = f"run: [A, H, B], beside: existing slab, name: old walk, ground: [99.85, {at_h}, 99.85]\nrest: lawn"
    text = design({**RECTANGLE, "H": (12, 0)}, {**SLOPED, "H": 100.0}, edges)
    assert says(only(review_by("trip-at-existing-slab", text))) == "the slab stands above the existing slab at A"
    assert all_followed("trip-at-existing-slab", text).comments == ()


def test_existing_slabs_that_cannot_be_judged() -> None:
    none = review_by("trip-at-existing-slab", design(RECTANGLE, SLOPED, HOUSE))
    assert none.does_not_apply[0].reason == "no edge is beside an existing slab or asphalt"
    bare = design(RECTANGLE, SLOPED, "run: [A, B], beside: existing slab, name: old walk\nrest: lawn")
    (silent,) = review_by("trip-at-existing-slab", bare).not_shown
    assert silent.add == ("edges, ground: the height of the slab beside old walk, such as 99.60",)
    bare = design(RECTANGLE, {"A": 100}, "run: [A, B], beside: existing slab, ground: 100\nrest: lawn")
    assert review_by("trip-at-existing-slab", bare).not_shown


@pytest.mark.parametrize(
    ("count", "leads", "expected"),
    [  # an old slab 18 in higher; 7 3/4 in recalled
        (2, ", leads_to: old terrace", []),
        (2, "", [("caution", "step_at_most")]),
    ],
)
def test_the_step_left_at_an_existing_slab(count: int, leads: str, expected: list[tuple[str, str]]) -> None:
    beside = "existing slab, name: old terrace, ground: 101.5, planned_step: true"
    report = review_by("trip-at-existing-slab", stoop(count, leads, beside, ""))
    assert weights(report) == expected


# trip-at-existing-slab: 1/2 in beveled, 1/4 in upright; 7 3/4 in as a step (recalled)


def test_trip_at_existing_slab_asks_at_the_first_of_them() -> None:
    edges = ("[A, B]; first", "[B, C]; second", "[C, D]; third")
    text = old_slabs(*edges).replace("edges:\n", "edges:\n  - {run: [D, A], beside: curb}\n")
    text = text.replace("existing slab, name: third", "asphalt, name: third")
    (asked,) = review_by("trip-at-existing-slab", text).not_shown
    assert asked.add == ("edges, ground: the height of the slab beside first, such as 99.60",)
    assert asked.place.path == "edges[1]"
    metric = text.replace("plan: ft, height: ft", "plan: m, height: m")
    assert review_by("trip-at-existing-slab", metric).not_shown[0].add[0].endswith("such as 99.850")


def test_trip_at_existing_slab_goes_on_after_one_of_unknown_height() -> None:
    report = review_by("trip-at-existing-slab", old_slabs("[A, B]; first", "[B, C]; second, ground: 99.9"))
    assert places(report) == ["second"]


@pytest.mark.parametrize(
    ("ground", "way", "to"),
    [  # 7 3/4 in is 0.6458 ft: a slab at 100 ft beside one 0.7 ft lower may stand 0.6458 ft over it
        (99.3, "lower", "99.94 ft"),
        (100.7, "higher", "100.06 ft"),
    ],
)
def test_trip_at_existing_slab_leaves_the_step_that_people_can_take(ground: float, way: str, to: str) -> None:
    text = old_slabs(f"[A, B]; stoop, ground: {ground}, planned_step: true")
    comment = only(review_by("trip-at-existing-slab", text))
    values = told_values(comment)
    assert {(values[f"name{k}"], values[f"to{k}"]) for k in (1, 2)} == {("A", to), ("B", to)}
    assert (values["along_edge"], values["way"]) == ("stoop", way)


@pytest.mark.parametrize(
    ("ground", "moved"),
    [  # 0.02 ft is 0.24 in, which passes; 0.05 ft is 0.6 in
        ("[99.95, 99.98]", {"A": "99.95 ft"}),
        ("[99.98, 99.95]", {"B": "99.95 ft"}),
        ("[99.94, 99.95]", {"A": "99.94 ft", "B": "99.95 ft"}),
    ],
)
def test_trip_at_existing_slab_moves_what_trips(ground: str, moved: dict[str, str]) -> None:
    values = told_values(only(review_by("trip-at-existing-slab", old_slabs(f"[A, B]; walk, ground: {ground}"))))
    assert {values[f"name{k}"]: values[f"to{k}"] for k in (1, 2) if f"name{k}" in values} == moved


def test_trip_at_existing_slab_goes_on_after_one_that_another_rule_tells() -> None:
    """2.6 ft, 31 in, down along the first, where people fall; 1.2 in down along the second."""
    report = review_by(
        "trip-at-existing-slab", old_slabs("[A, B]; first, ground: 97.4", "[B, C]; second, ground: 99.9")
    )
    assert places(report) == ["second"]


@pytest.mark.parametrize(("part", "told"), [(0.0095, ["private_lip_at_most"]), (0.0105, [])])
def test_trip_at_existing_slab_a_tip_of_the_slab_sends_no_water_that_counts(part: float, told: list[str]) -> None:
    """It falls k across for 1 along: in the mean half of 12 k ft of 20 leave over B-C; 1 % counts (common practice)."""
    heights = plane(RECTANGLE, -0.01 * part * 2 * 20 / 12, -0.01)
    edges = "run: [B, C], beside: existing slab, takes_water: true, ground: 100.1\nrest: bed, ground: 99"
    report = review_by("trip-at-existing-slab", slab(heights, edges=edges))
    assert limits_broken(report) == told


def test_steps_poured_up_to_an_old_terrace_are_judged_as_steps() -> None:
    """An old terrace 18 in up, one riser of 7 in to it: 11 in are left, which a step of 7 3/4 in does not take."""
    steps = "steps: [{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: COUNT, leads_to: terrace}]"
    text = old_slabs("[A, B]; terrace, ground: 101.5, planned_step: true").replace(
        "design: 4 in", f"design: 4 in, {steps}"
    )
    assert review_by("trip-at-existing-slab", text.replace("COUNT", "1")).does_not_apply
    comment = only(review_by("step-sizes", text.replace("COUNT", "1")))
    assert (comment.limit.name, feet(comment.shown.si)) == ("riser_at_most", feet(11 * INCH))
    assert review_by("step-sizes", text.replace("COUNT", "2")).comments == ()


@pytest.mark.parametrize(
    ("floor", "found", "to"),
    [  # 2 in up or down, and 3/4 in are left: common practice. 0.175 ft is 2.1 in; 100.1125 up, 99.8875 down
        ("100.165", 0, ""),
        ("100.175", 1, "set the slab about 1 1/2 in higher along bay floor: A to 100.12 ft, B to 100.12 ft"),
        ("99.835", 0, ""),
        ("99.825", 1, "set the slab about 1 1/2 in lower along bay floor: A to 99.88 ft, B to 99.88 ft"),
    ],
)
def test_trip_at_existing_slab_a_floor_that_vehicles_drive_in_to(floor: str, found: int, to: str) -> None:
    comments = review_by("trip-at-existing-slab", bay(floor)).comments
    assert [advice(one) for one in comments] == [to] * found
    way = "below" if float(floor) > 100 else "above"
    assert all(plain(one.says, "us").startswith(f"the slab stands so far {way} bay floor") for one in comments)


@pytest.mark.parametrize(("near", "worst"), [("A", "B"), ("B", "A")])
def test_trip_at_existing_slab_tells_the_worst_spot_of_each_floor_that_asks_nothing(near: str, worst: str) -> None:
    """The floor lies 0.2 ft over the one and 0.3 over the other; sills, and slabs that ask, are of other rules."""
    heights = {**LEVEL, near: 100.1}
    fixed = (
        "fixed: [{name: bay floor, kind: slab, along: [A, B], height: 100.3}, "
        "{name: bay sill, kind: sill, along: [A, B], height: 101}, "
        "{name: old floor, kind: slab, along: [A, B], height: 102, slab: level}]"
    )
    edges = "run: [A, B], beside: trench drain, wheels_cross: true\nrest: bed"
    comment = only(review_by("trip-at-existing-slab", slab(heights, fixed, edges=edges, use="vehicle pad")))
    assert (comment.at.name, comment.says.values["point"]) == ("bay floor", worst)
    assert comment.shown.si == pytest.approx(0.3 * FOOT)


@pytest.mark.parametrize(
    ("named", "up", "steps"),
    [  # a rise of 7 3/4 in is a step; an inch more is rather poured as two (common practice)
        ("name: terrace, ", 8.7, ""),
        ("name: terrace, ", 8.8, "pour steps up to terrace on the slab: 2 risers of 4 3/8 in, the last onto it"),
        ("name: terrace, ", 15.5, "pour steps up to terrace on the slab: 2 risers of 7 3/4 in, the last onto it"),
        ("name: terrace, ", 15.6, "pour steps up to terrace on the slab: 3 risers of 5 1/4 in, the last onto it"),
        ("", 15.5, ""),
        ("name: terrace, ", -15.5, ""),
    ],
)
def test_trip_at_existing_slab_steps_are_poured_up_to_a_named_slab(named: str, up: float, steps: str) -> None:
    edges = f"run: [A, B], beside: existing slab, {named}ground: {100 + up / 12:.7f}, planned_step: true\nrest: bed"
    comment = only(review_by("trip-at-existing-slab", slab(LEVEL, edges=edges)))
    told = [plain(one.says, "us", both=False) for one in comment.remedies]
    assert [one for one in told if one.startswith("pour")] == ([steps] if steps else [])
    if steps:  # treads of 12 in, and the last riser is the old slab itself
        (edit,) = comment.remedies[0].edits
        assert isinstance(edit, Append)
        entry = {key: value.si for key, value in edit.entry if isinstance(value, Amount)}
        assert (entry["tread"], entry["count"]) == (pytest.approx(12 * INCH), int(steps.split()[8]) - 1)
    way = "higher" if up > 0 else "lower"
    (whole,) = (one for one in comment.remedies if plain(one.says, "us").startswith("set the whole slab "))
    assert plain(whole.says, "us", both=False).endswith(way)
    off = whole.says.values["off"]
    assert isinstance(off, Amount)
    assert off.si == pytest.approx(
        (abs(up) - 7.75) * INCH, abs=FOOT / 100
    )  # over 7 3/4 in, to the next step of heights


@pytest.mark.parametrize(
    ("ground", "told"),
    [  # an old slab that stands higher, where the water comes, is a dam; half a step of the heights tells it apart
        ("[100.06, 99.95]", []),
        ("[100.06, 99.945]", []),
        ("[100.06, 99.93]", ["private_lip_at_most"]),
        ("[100.06, 100]", []),
    ],
)
def test_trip_at_existing_slab_leaves_a_dam_to_the_rule_about_dams(ground: str, told: list[str]) -> None:
    """The slab falls 1 % to the old one along C-D; where the public goes, whoever trips is told of besides."""
    heights = {"A": 100.12, "B": 100.12, "C": 100.0, "D": 100.0}
    edges = f"run: [C, D], beside: existing slab, takes_water: true, ground: {ground}\nrest: bed, ground: 99.9"
    report = review_by("trip-at-existing-slab", slab(heights, edges=edges))
    assert limits_broken(report) == told
    dry = {"A": 99.88, "B": 99.88, "C": 100.0, "D": 100.0}  # it falls away from there: no dam, and a lip
    assert limits_broken(review_by("trip-at-existing-slab", slab(dry, edges=edges))) == ["private_lip_at_most"]
    public = slab(heights, "site: {right_of_way: true}", edges=edges, use="walk")
    assert limits_broken(review_by("trip-at-existing-slab", public)) == ["lip_at_most"]


@pytest.mark.parametrize(
    "fixed",
    [
        "[{name: old walk, kind: slab, along: [A, B], height: 100.07}]",
        "[{name: old walk, kind: slab, along: [B, A], height: [100.07, 100.0]}]",
        "[{name: walk left, kind: slab, at: A, height: 100.0}, {name: walk right, kind: slab, at: B, height: 100.07}]",
    ],
)
def test_the_height_of_an_old_slab_may_stand_under_fixed(fixed: str) -> None:
    """0.07 ft is 0.84 in; a slab that asks for its height is told by `slab-below-fixed` and not twice."""
    edges = "run: [A, B], beside: existing slab, name: old walk\nrest: bed"
    text = slab(ALL_LEVEL, f"fixed: {fixed}", edges=edges)
    (comment,) = review_by("trip-at-existing-slab", text).comments
    assert (comment.weight, comment.shown.si) == ("caution", pytest.approx(0.07 * FOOT))
    asking = text.replace("kind: slab,", "kind: slab, slab: flush,")
    assert review_by("trip-at-existing-slab", asking).comments == ()


def test_one_height_of_a_slab_that_the_finish_crosses_is_that_of_its_middle() -> None:
    heights = {"A": 100.1, "B": 99.9, "C": 99.9, "D": 100.1}
    fixed = "fixed: [{name: old walk, kind: slab, along: [A, B], height: 100.0}]"
    edges = "run: [A, B], beside: existing slab, name: old walk\nrest: bed"
    assert review_by("trip-at-existing-slab", slab(heights, fixed, edges=edges)).comments == ()


@pytest.mark.parametrize(("inches", "weight"), [(1.9, "note"), (2.1, "caution")])
def test_a_lip_that_no_car_drives_over(inches: float, weight: str) -> None:
    assert [
        one.weight for one in review_by("trip-at-existing-slab", walk(inches / 12, ", wheels_cross: true")).comments
    ] == [weight]


@pytest.mark.parametrize(("floor", "way"), [("100.25", "higher"), ("99.75", "lower")])
def test_a_floor_that_is_left_to_a_person_is_met_the_same_way(floor: str, way: str) -> None:
    (one,) = findings("trip-at-existing-slab", bay(floor))

    assert one.decide is not None
    assert plain(one.decide, "us", both=False) == (
        f"bring the slab to bay floor, 3 in {way}, and take it up further out"
    )


@pytest.mark.parametrize(("side", "way"), [(1, "lower"), (-1, "higher")])
def test_what_is_left_to_a_person_goes_the_same_way(side: int, way: str) -> None:
    (one,) = findings("trip-at-existing-slab", walk(side / 12))

    assert one.decide is not None
    assert plain(one.decide, "us", both=False) == (
        f"match the existing slab along old walk, 1 in {way}, and take it up in the slab behind"
    )


@pytest.mark.parametrize(
    ("inches", "public", "told"),
    [  # heights typed to 0.01 ft are known to 0.06 in; where the public goes nothing is given (ABA 303.3, read)
        (0.55, False, []),
        (0.57, False, ["private_lip_at_most"]),
        (0.26, True, ["upright_lip_at_most"]),
        (0.51, True, ["lip_at_most"]),
    ],
)
def test_a_lip_is_given_half_a_step_of_the_heights_where_the_public_does_not_go(
    inches: float, public: bool, told: list[str]
) -> None:
    text = walk(inches / 12) + ("\nsite: {right_of_way: true}" if public else "")
    assert limits_broken(review_by("trip-at-existing-slab", text)) == told


@pytest.mark.parametrize(
    ("unit", "down", "told"), [("ft", 2.49, True), ("ft", 2.51, False), ("m", 0.59, True), ("m", 0.61, False)]
)
def test_so_far_down_it_is_no_lip(unit: str, down: float, told: bool) -> None:
    """30 in and 600 mm, from which people fall: `exposed-edge` asks for a guard there."""
    edges = f"run: [A, B], beside: existing slab, name: yard, ground: {100 - down:.2f}\nrest: bed"
    assert bool(review_by("trip-at-existing-slab", slab(LEVEL, edges=edges, unit=unit)).comments) is told


@pytest.mark.parametrize(
    ("name", "found"), [("overhead door", []), ("back door", [("caution", "private_lip_at_most")])]
)
def test_a_lip_at_the_door_of_a_garage_is_one_that_wheels_cross(name: str, found: list[tuple[str, str]]) -> None:
    """0.6 in over the drive: 1/2 to 3/4 in at a garage door keeps the rain out, common practice."""
    text = walk(0.6 / 12).replace("[100, 99.95", "[99.95, 99.95") + (
        f"\nfixtures: [{{kind: door, name: {name}, along: [[2, 0], [9, 0]], sill: 100}}]"
    )
    assert weights(review_by("trip-at-existing-slab", text)) == found


@pytest.mark.parametrize(("wheels", "limit"), [("true", "wheel_lip_at_most"), ("false", "private_lip_at_most")])
def test_a_lip_of_a_pad_is_judged_by_what_crosses_it(wheels: str, limit: str) -> None:
    edges = f"run: [A, B], beside: existing slab, name: yard, ground: 99.9, wheels_cross: {wheels}\nrest: bed"
    comment = only(review_by("trip-at-existing-slab", slab(LEVEL, edges=edges, use="vehicle pad")))
    assert comment.limit.name == limit


def test_a_floor_that_no_wheels_cross_to_is_left_alone() -> None:
    assert not review_by("trip-at-existing-slab", bay("100.3", edge="beside: wall")).comments


@pytest.mark.parametrize(("inches", "asked"), [(3.5, False), (4.5, True), (6.0, True)])
def test_who_drew_a_difference_as_high_as_a_riser_says_whether_it_is_one(inches: float, asked: bool) -> None:
    """4 in: common practice. Nobody sinks a patio by 6 in because a word is missing."""
    (comment,) = review_by("trip-at-existing-slab", walk(inches / 12)).comments
    assert bool(comment.remedies and comment.remedies[0].edits) is not asked
    told = advice(comment)
    meant = f"write planned_step: true at old walk if a step of {'6' if inches == 6 else '4 1/2'} in is meant"
    assert told.startswith(meant) is asked


def test_an_old_slab_is_met_along_its_edge_and_not_corner_by_corner() -> None:
    """0.06 and 0.05 ft are 0.72 and 0.6 in: an eighth apart, so that both go down by about 3/4 in."""
    comment = only(review_by("trip-at-existing-slab", old_slabs("[A, B]; walk, ground: [99.94, 99.95]")))
    assert advice(comment) == ("set the slab about 3/4 in lower along walk: A to 99.94 ft, B to 99.95 ft")


@pytest.mark.parametrize(
    ("use", "name", "above", "more", "found"),
    [  # common practice: a drive ends level with the floor or below it, never above
        ("driveway", "garage floor", 0.25, "", []),
        ("driveway", "garage floor", 0.4, "", ["above_floor_at_most"]),
        ("driveway", "garage floor", 0.75, ", planned_step: true", ["above_floor_at_most"]),
        ("driveway", "garage floor", -0.75, ", planned_step: true", []),
        ("driveway", "garage apron", 0.75, "", []),
        ("garage floor", "garage floor", 0.75, "", []),  # one bay beside another, out of the rain
    ],
)
def test_a_drive_ends_no_higher_than_the_floor_it_leads_to(
    use: str, name: str, above: float, more: str, found: list[str]
) -> None:
    ground = f"ground: {100 - above / 12:.6f}, wheels_cross: true{more}"
    text = slab(LEVEL, edges=f"run: [A, B], beside: existing slab, name: {name}, {ground}\nrest: lawn", use=use)
    comments = review_by("trip-at-existing-slab", text).comments

    assert [one.limit.name for one in comments] == found
    for one in comments:
        told = plain(one.says, "us", both=False)
        assert told == "the slab stands above garage floor at A, and the rain on its end runs in"
