"""Rules about how much steel there is, where it laps and ends, bars at corners, and fiber: branches and limits."""

from __future__ import annotations

import pytest
from comments import only, reason, weights
from design_text import review_by
from slabwright.review.report import Comment
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

FOOT, INCH = 0.3048, 0.0254
IN2_PER_FT = INCH**2 / FOOT


def floor(steel: str, length: str = "24", thickness: str = "8 in", joints: str = "", unit: str = "ft") -> str:
    return f"""
format: 1
job: {{name: Test floor}}
units: {{plan: {unit}, height: {unit}}}
use: garage floor
outline: [[0, 0], [{length}, 0], [{length}, 8], [0, 8]]
thickness: {{design: {thickness}}}
{joints}
reinforcement: {steel}
"""


def slot(comment: Comment, name: str) -> Amount:
    value = comment.to_pass.values[name]
    assert isinstance(value, Amount)
    return value


# steel-amount


@pytest.mark.parametrize(
    ("steel", "asked"),
    [
        # CRSI slab-on-grade example (read): 24 ft of 8 in slab, F 1.5; 0.045 in2/ft at 40,000 psi, 0.042 in mesh
        ('{bars: {size: "#3", spacing: 36 in}}', 0.045),
        ("{mesh: {style: 6x6 W1.4}}", 0.0415),
    ],
)
def test_steel_for_the_drag_of_the_ground(steel: str, asked: float) -> None:
    comment = only(review_by("steel-amount", floor(steel)))

    assert (comment.weight, comment.limit.name) == ("caution", "part_of_drag_at_least")
    assert comment.asked.si == pytest.approx(asked * IN2_PER_FT, abs=0.0005 * IN2_PER_FT)


def test_the_bars_of_the_published_example_are_enough() -> None:
    # the same example: #3 at 29 in gives 0.046 in2/ft, chosen against 0.045
    report = review_by("steel-amount", floor('{bars: {size: "#3", spacing: 29 in}}'))

    assert report.comments == ()
    assert report.met[0].slack == pytest.approx(0.046 / 0.045 - 1, abs=0.012)


def test_steel_that_stops_at_joints_drags_one_panel() -> None:
    joint = "joints: [{from: [12, 0], to: [12, 8], kind: saw cut, depth: 2 in}]"
    half = '{bars: {size: "#3", spacing: 48 in, at_joints: AT}}'

    # 12 ft ask for half of 0.045 in2/ft; #3 at 48 in is 0.11 in2 x 12 / 48 = 0.0275
    assert review_by("steel-amount", floor(half.replace("AT", "stop"), joints=joint)).comments == ()
    for through in ("run through", "half through"):
        assert len(review_by("steel-amount", floor(half.replace("AT", through), joints=joint)).comments) == 1


def test_filler_through_a_joint_parts_the_steel_too() -> None:
    joint = "joints: [{from: [12, 0], to: [12, 8], kind: formed strip, isolation: {material: foam, depth: full}}]"

    assert review_by("steel-amount", floor('{bars: {size: "#3", spacing: 48 in}}', joints=joint)).comments == ()


def test_softer_steel_must_be_more() -> None:
    hard = review_by("steel-amount", floor('{bars: {size: "#3", spacing: 29 in, yield_strength: 60000 psi}}'))
    soft = review_by("steel-amount", floor('{bars: {size: "#3", spacing: 29 in, yield_strength: 40000 psi}}'))

    assert hard.comments == ()
    # 0.045 x 60 / 40 = 0.0675 in2/ft; 0.11 in2 in 12 in x 0.11 / 0.0675 = 19.5 in
    assert slot(only(soft), "write").si == pytest.approx(19.5 * INCH, abs=0.01 * INCH)


def test_too_little_mesh_is_told_how_much_there_must_be() -> None:
    comment = only(review_by("steel-amount", floor("{mesh: {style: 6x6 W1.4}}")))

    assert plain(comment.to_pass, "us", both=False) == "lay mesh of 0.042 in2/ft or more"
    assert plain(comment.says, "us", both=False) == "the mesh cannot drag 24'-0\" of slab together"


def test_without_steel_there_is_no_amount() -> None:
    for steel in ("none", "{fiber: {kind: steel, dose: 40 lb/yd3}}"):
        assert reason(review_by("steel-amount", floor(steel))) == "there are no bars and no mesh"


# steel-laps


@pytest.mark.parametrize(("bar", "inches"), [("#3", 15), ("#4", 20), ("#5", 25)])
def test_bars_lap_forty_diameters_at_the_least(bar: str, inches: float) -> None:
    # 40 db, the dwelling table's for Grade 40 (read): below it every source agrees
    steel = f'{{bars: {{size: "{bar}", spacing: 18 in, lap: LAP}}}}'

    assert weights(review_by("steel-laps", floor(steel.replace("LAP", f"{inches} in")))) == [
        ("note", "part_of_class_b_at_least")
    ]
    comment = only(review_by("steel-laps", floor(steel.replace("LAP", f"{inches - 0.1} in"))))
    assert comment.asked.si == pytest.approx(inches * INCH)
    assert (comment.weight, comment.limit.name) == ("caution", "diameters_at_least")


def test_bars_of_unknown_grade_lap_as_grade_60_in_3000_psi() -> None:
    comment = only(review_by("steel-laps", floor('{bars: {size: "#4", spacing: 18 in, lap: 25 in}}')))

    # 1.3 x 60,000 x 1/2 / (25 root 3,000) is 28.5 in
    assert plain(comment.to_pass, "us", both=False) == "lap the bars 29 in: 4 in more"


@pytest.mark.parametrize(
    ("style", "inches", "limit"),
    [
        ("6x6 W2.9", 8, "beyond_space_at_least"),
        ("4x4 W4.0", 6, "beyond_space_at_least"),
        ("3x3 W2.0", 6, "mesh_at_least"),
    ],
)
def test_mesh_laps_one_space_and_two_inches(style: str, inches: float, limit: str) -> None:
    # ACI 318 sec. 25.5.4, recalled: one space plus 2 in, least 6 in
    steel = f"{{mesh: {{style: {style}, lap: LAP}}}}"

    assert review_by("steel-laps", floor(steel.replace("LAP", f"{inches} in"))).comments == ()
    comment = only(review_by("steel-laps", floor(steel.replace("LAP", f"{inches - 1} in"))))
    assert comment.limit.name == limit
    assert slot(comment, "write").si == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("lap", "weight"), [("5 in", "caution"), ("6 in", "note"), ("8 in", "")])
def test_a_square_is_what_crews_lap(lap: str, weight: str) -> None:
    # one square is common practice in a slab on ground; the code's 2 in more are for a bar worked to its full strength
    comments = review_by("steel-laps", floor(f"{{mesh: {{style: 6x6 W2.9, lap: {lap}}}}}")).comments
    assert [one.weight for one in comments] == ([weight] if weight else [])


def test_a_lap_that_is_not_written_is_not_shown() -> None:
    (entry,) = review_by("steel-laps", floor("{mesh: {style: 6x6 W2.9}}")).not_shown
    assert entry.add == ("reinforcement.mesh.lap: how far pieces lap, such as 20 in",)
    assert reason(review_by("steel-laps", floor("none"))) == "there are no bars and no mesh"


def test_metric_laps_are_written_to_the_centimeter() -> None:
    steel = "{bars: {size: 12 mm, spacing: 300 mm, lap: 500 mm}}"

    # 57 x 12 mm = 683 mm; a lap of 680 mm is as close as it is measured
    assert plain(only(review_by("steel-laps", floor(steel, unit="m"))).to_pass, "metric", both=False) == (
        "lap the bars 680 mm: 180 mm more"
    )
    assert not review_by("steel-laps", floor(steel.replace("500", "680"), unit="m")).comments


@pytest.mark.parametrize(("size", "lap", "met"), [("#8", "40 in", True), ("#8", "39 in", False)])
def test_bars_over_number_six_are_held_against_their_diameters_alone(size: str, lap: str, met: bool) -> None:
    # the code's form with 25 root f'c is for #6 and thinner
    steel = f'{{bars: {{size: "{size}", spacing: 18 in, lap: {lap}}}}}'

    assert bool(review_by("steel-laps", floor(steel)).comments) is not met


@pytest.mark.parametrize("mix", ["mix: {strength: 2000 psi}", "mix: {strength: 10000 psi}"])
def test_laps_in_very_weak_and_very_strong_concrete_are_judged(mix: str) -> None:
    assert only(review_by("steel-laps", floor('{bars: {size: "#4", spacing: 18 in, lap: 10 in}}', joints=mix))).shown


@pytest.mark.parametrize(("lap", "met"), [("225 mm", True), ("215 mm", False)])
def test_australian_sheets_lap_by_their_outer_wires(lap: str, met: bool) -> None:
    # 200 mm and the two wires, printed as 225 mm by a maker (practice)
    sheet = f"{{mesh: {{style: SL82, lap: {lap}}}}}"

    assert bool(review_by("steel-laps", floor(sheet, unit="m", length="7")).comments) is not met


# bar-ends


@pytest.mark.parametrize(
    ("ends", "found"),
    [
        ("1 1/2 in", [("caution", "short_at_least")]),
        ("2 in", []),  # 2 to 3 in: common practice
        ("3 in", []),
        ("3 1/4 in", [("note", "short_at_most")]),
    ],
)
def test_bars_end_two_to_three_inches_in(ends: str, found: list[tuple[str, str]]) -> None:
    assert (
        weights(review_by("bar-ends", floor(f'{{bars: {{size: "#4", spacing: 18 in, ends_short: {ends}}}}}'))) == found
    )


def test_bars_that_end_nowhere_said_are_left_alone() -> None:
    unsaid = review_by("bar-ends", floor('{bars: {size: "#4", spacing: 18 in}}'))
    assert reason(unsaid) == "the file does not say where the bars end"
    assert reason(review_by("bar-ends", floor("{mesh: {style: 6x6 W2.9}}"))) == "there are no bars"


def test_bars_too_far_in_are_told_how_much() -> None:
    comment = only(review_by("bar-ends", floor('{bars: {size: "#4", spacing: 18 in, ends_short: 12 in}}')))

    assert plain(comment.to_pass, "us", both=False) == "end the bars 3 in short of the edge: 9 in less"


# corner-bars


@pytest.mark.parametrize(
    ("bars", "found"),
    [
        ("length: 4 ft", []),  # two are taken where no number is written; two #5 x 4 ft: common practice
        ("length: 4 ft, count: 1", [("note", "bars_at_least")]),
        ("length: 3'-11\", count: 2", [("note", "length_at_least")]),
        ("length: 2 ft, count: 1", [("note", "bars_at_least"), ("note", "length_at_least")]),
    ],
)
def test_two_bars_of_four_feet_across_a_corner(bars: str, found: list[tuple[str, str]]) -> None:
    design = floor(f'{{corner_bars: [{{at: E, size: "#5", {bars}}}]}}').replace(
        "outline: [[0, 0], [24, 0], [24, 8], [0, 8]]",
        "points: {E: [12, 4]}\noutline: [[0, 0], [24, 0], [24, 8], [12, 8], E, [0, 4]]",
    )

    report = review_by("corner-bars", design)

    assert weights(report) == found
    assert all(comment.at.name == "the bars at E" for comment in report.comments)


def test_a_slab_without_corner_bars_has_none_to_judge() -> None:
    assert reason(review_by("corner-bars", floor("none"))) == "no corner bars are drawn"


# fiber-claims


@pytest.mark.parametrize(
    ("fiber", "found"),
    [
        # 1.5 lb/yd3: UFGS 03300N (read), which is 0.89 kg/m3
        ("kind: micro synthetic, dose: 1.5 lb/yd3", []),
        ("kind: micro synthetic, dose: 0.89 kg/m3", []),
        ("kind: micro synthetic, dose: 0.88 kg/m3", [("note", "dose_at_least")]),
        ("kind: micro synthetic, dose: 1 lb/yd3", [("note", "dose_at_least")]),
        ("kind: micro synthetic, dose: 0.4 lb/yd3", [("caution", "least_dose_at_least")]),
        ("kind: macro synthetic, dose: 3 lb/yd3", []),  # no dose is printed for it
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: joints", [("caution", "saved_by_fine_at_most")]),
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: thickness", [("caution", "saved_by_fine_at_most")]),
        ("kind: macro synthetic, dose: 3 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
        ("kind: steel, dose: 40 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
    ],
)
def test_fiber_by_kind_dose_and_claim(fiber: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("fiber-claims", floor(f"{{fiber: {{{fiber}}}}}"))) == found


@pytest.mark.parametrize(
    ("saved", "says"),
    [
        ("joints", "fiber does not tell the slab where to crack, and joints do"),
        ("steel", "fiber does not hold an open crack shut, and steel does"),
        ("thickness", "fiber does not make a thin slab carry more"),
    ],
)
def test_what_fine_fiber_does_not_replace(saved: str, says: str) -> None:
    # NRMCA CIP 24 and UFGS 03300N (read): no fewer joints, no strength, no curl control, no bar replacement
    fiber = f"{{fiber: {{kind: micro synthetic, dose: 2 lb/yd3, in_place_of: {saved}}}}}"
    comment = only(review_by("fiber-claims", floor(fiber)))

    assert plain(comment.says, "us") == says
    assert plain(comment.to_pass, "us") == f"draw the {saved} as if there were no fiber, and leave in_place_of out"


def test_no_fiber_claims_nothing() -> None:
    assert reason(review_by("fiber-claims", floor("none"))) == "no fiber is written (reinforcement.fiber)"
