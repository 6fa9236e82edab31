"""Rules about how much steel there is, where it laps and ends, bars at corners, and fibre: branches and limits."""

from __future__ import annotations

import pytest
from design_text import review_by
from slabwright.review.report import Comment, Report
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


def only(report: Report) -> Comment:
    (comment,) = report.comments
    return comment


def names(report: Report) -> list[tuple[str, str]]:
    return [(comment.weight, comment.limit.name) for comment in report.comments]


def reason(report: Report) -> str:
    (entry,) = report.does_not_apply
    return entry.reason


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
    for steel in ("none", "{fibre: {kind: steel, dose: 40 lb/yd3}}"):
        assert reason(review_by("steel-amount", floor(steel))) == "there are no bars and no mesh"


# steel-laps


@pytest.mark.parametrize(
    ("bar", "grade", "inches"),
    [
        ("#4", "60000 psi", 30),  # IRC, believed Table R608.5.4(1) (read), and checks re-lap-4 to re-lap-6
        ("#4", "40000 psi", 20),
        ("#5", "60000 psi", 37.5),
        ("#5", "40000 psi", 25),
        ("#6", "60000 psi", 45),
        ("#6", "40000 psi", 30),
    ],
)
def test_bars_lap_as_in_the_dwelling_table(bar: str, grade: str, inches: float) -> None:
    steel = f'{{bars: {{size: "{bar}", spacing: 18 in, yield_strength: {grade}, lap: LAP}}}}'

    assert review_by("steel-laps", floor(steel.replace("LAP", f"{inches} in"))).comments == ()
    comment = only(review_by("steel-laps", floor(steel.replace("LAP", f"{inches - 0.1} in"))))
    assert comment.asked.si == pytest.approx(inches * INCH)
    soft = "soft_" if grade == "40000 psi" else ""
    assert (comment.weight, comment.limit.name) == ("caution", f"{soft}diameters_at_least")


def test_bars_of_unknown_grade_lap_as_grade_60() -> None:
    comment = only(review_by("steel-laps", floor('{bars: {size: "#4", spacing: 18 in, lap: 25 in}}')))

    assert plain(comment.to_pass, "us", both=False) == "lap the bars 30 in: 5 in more"


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


def test_a_lap_that_is_not_written_is_not_shown() -> None:
    (entry,) = review_by("steel-laps", floor("{mesh: {style: 6x6 W2.9}}")).not_shown
    assert entry.add == ("reinforcement.mesh.lap: how far pieces lap, such as 20 in",)
    assert reason(review_by("steel-laps", floor("none"))) == "there are no bars and no mesh"


def test_metric_laps_are_written_to_the_centimetre() -> None:
    steel = "{bars: {size: 12 mm, spacing: 300 mm, lap: 500 mm}}"

    # 60 x 12 mm = 720 mm
    assert plain(only(review_by("steel-laps", floor(steel, unit="m"))).to_pass, "metric", both=False) == (
        "lap the bars 720 mm: 220 mm more"
    )


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
    assert names(review_by("bar-ends", floor(f'{{bars: {{size: "#4", spacing: 18 in, ends_short: {ends}}}}}'))) == found


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

    assert names(report) == found
    assert all(comment.at.name == "the bars at E" for comment in report.comments)


def test_a_slab_without_corner_bars_has_none_to_judge() -> None:
    assert reason(review_by("corner-bars", floor("none"))) == "no corner bars are drawn"


# fibre-claims


@pytest.mark.parametrize(
    ("fibre", "found"),
    [
        # 1.5 lb/yd3: UFGS 03300N (read), which is 0.89 kg/m3
        ("kind: micro synthetic, dose: 1.5 lb/yd3", []),
        ("kind: micro synthetic, dose: 0.89 kg/m3", []),
        ("kind: micro synthetic, dose: 0.88 kg/m3", [("caution", "dose_at_least")]),
        ("kind: micro synthetic, dose: 1 lb/yd3", [("caution", "dose_at_least")]),
        ("kind: macro synthetic, dose: 3 lb/yd3", []),  # no dose is printed for it
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: joints", [("caution", "saved_by_fine_at_most")]),
        ("kind: micro synthetic, dose: 2 lb/yd3, in_place_of: thickness", [("caution", "saved_by_fine_at_most")]),
        ("kind: macro synthetic, dose: 3 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
        ("kind: steel, dose: 40 lb/yd3, in_place_of: steel", [("note", "saved_by_coarse_at_most")]),
    ],
)
def test_fibre_by_kind_dose_and_claim(fibre: str, found: list[tuple[str, str]]) -> None:
    assert names(review_by("fibre-claims", floor(f"{{fibre: {{{fibre}}}}}"))) == found


@pytest.mark.parametrize(
    ("saved", "says"),
    [
        ("joints", "fibre does not tell the slab where to crack, and joints do"),
        ("steel", "fibre does not hold an open crack shut, and steel does"),
        ("thickness", "fibre does not make a thin slab carry more"),
    ],
)
def test_what_fine_fibre_does_not_replace(saved: str, says: str) -> None:
    # NRMCA CIP 24 and UFGS 03300N (read): no fewer joints, no strength, no curl control, no bar replacement
    fibre = f"{{fibre: {{kind: micro synthetic, dose: 2 lb/yd3, in_place_of: {saved}}}}}"
    comment = only(review_by("fibre-claims", floor(fibre)))

    assert plain(comment.says, "us") == says
    assert plain(comment.to_pass, "us") == f"draw the {saved} as if there were no fibre, and leave in_place_of out"


def test_no_fibre_claims_nothing() -> None:
    assert reason(review_by("fibre-claims", floor("none"))) == "no fibre is written (reinforcement.fibre)"
