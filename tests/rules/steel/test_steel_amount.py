"""The rule `steel-amount`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, slot_shown
from design_text import review_by
from judged import findings
from slabs.steel import asked, bars_key, floor, mesh_key, slab, slot
from slabwright.text.words import plain

FOOT, INCH = 0.3048, 0.0254
IN2_PER_FT = INCH**2 / FOOT


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
    assert only(review_by("steel-amount", floor(half.replace("AT", "run through"), joints=joint))).weight == "caution"
    for text in (half.replace("AT", "half through"), half.replace(", at_joints: AT", "")):  # common practice
        comment = only(review_by("steel-amount", floor(text, joints=joint)))
        assert (comment.weight, comment.limit.name) == ("note", "part_of_drag_if_through_at_least")


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

    assert advice(comment) == "lay mesh of 0.042 in2/ft or more"
    assert plain(comment.says, "us", both=False) == "the mesh cannot drag 24'-0\" of slab together"


def test_without_steel_there_is_no_amount() -> None:
    for steel in ("none", "{fiber: {kind: steel, dose: 40 lb/yd3}}"):
        assert reason(review_by("steel-amount", floor(steel))) == "there are no bars and no mesh"


@pytest.mark.parametrize(("steel", "strength"), [(bars_key("#3", "36 in"), 60000), (mesh_key("6x6 W1.4"), 65000)])
def test_steel_amount_the_steel_that_drags_a_slab_together(steel: str, strength: float) -> None:
    # F L w / (2 fs), F 1.5, w 12.5 lb/ft2 for an inch, fs two thirds of the yield strength (CRSI example, read):
    # 1.5 x 80 ft x 62.5 lb/ft2 / (2 x 2/3 fy)
    (finding,) = findings("steel-amount", slab(steel, size=(80, 9)))
    pounds_per_foot = 1.5 * 80 * 62.5 / 2

    assert asked(finding) == pytest.approx(pounds_per_foot / (2 / 3 * strength) * INCH**2 / FOOT, rel=1e-9)


def test_steel_amount_amendments_may_ask_for_more_than_the_drag() -> None:
    design = slab(bars_key("#3", "36 in"), size=(80, 9))
    once, twice = (findings("steel-amount", design, part_of_drag_at_least=part)[0] for part in (1, 2))

    assert asked(twice) == pytest.approx(2 * asked(once))
    assert once.working[0].result.si == pytest.approx(twice.working[0].result.si) == pytest.approx(asked(once))
    assert once.working[1].result.si == pytest.approx(2 * twice.working[1].result.si)


@pytest.mark.parametrize(
    ("feet", "write"),
    [(44, "16 in"), (64, "11 in"), (70, "10 in"), (46, "15 in"), (48, "14 1/2 in")],
)
def test_steel_amount_bars_are_laid_by_the_half_inch(feet: float, write: str) -> None:
    # #3 has 0.11 in2, and 8 in of slab ask for 0.001875 in2/ft for each foot: 704 in / feet, rounded down
    (finding,) = findings("steel-amount", slab(bars_key("#3", "36 in"), "8 in", size=(feet, 9)))

    assert slot_shown(finding, "write") == write


def test_metric_bars_are_laid_by_the_centimeter() -> None:
    # 1.5 x 20 m x 12.5 lb/ft2 for an inch (2,402.8 kg/m3) x 0.15 m x 9.80665 / (2 x 2/3 x 500 MPa) = 159.0 mm2/m;
    # a bar of 10 mm has 78.54 mm2, so that 493.9 mm are as far apart as they may lie
    (finding,) = findings("steel-amount", slab(bars_key("10 mm", "500 mm"), "150 mm", unit="m", size=(20, 3)))

    assert slot_shown(finding, "write", "metric") == "490 mm"
