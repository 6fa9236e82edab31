"""The rule `steel-laps`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, weights
from design_text import review_by
from judged import judged
from slabs.steel import asked, bars_key, beam, floor, slab, slot
from slabwright.rulebook.conclusion import Margin
from slabwright.text.words import plain

INCH = 0.0254


@pytest.mark.parametrize(("bar", "inches"), [("#3", 15), ("#4", 20), ("#5", 25), ("#6", 30)])
def test_bars_lap_forty_diameters_at_the_least(bar: str, inches: float) -> None:
    # 40 db, the dwelling table's for Grade 40 (read): below it every source agrees
    steel = f'{{bars: {{size: "{bar}", spacing: 18 in, lap: LAP}}}}'

    assert weights(review_by("steel-laps", floor(steel.replace("LAP", f"{inches} in")))) == [
        ("note", "part_of_class_b_at_least")
    ]
    comment = only(review_by("steel-laps", floor(steel.replace("LAP", f"{inches - 0.1} in"))))
    assert comment.asked.si == pytest.approx(inches * INCH)
    assert (comment.weight, comment.limit.name) == ("caution", "diameters_at_least")
    class_b = {"#3": 22, "#4": 29, "#5": 36, "#6": 43}[bar]  # 1.3 x 60,000 d / (25 root 3,000), whole inches
    assert slot(comment, "write").si == pytest.approx(class_b * INCH)


def test_bars_of_unknown_grade_lap_as_grade_60_in_3000_psi() -> None:
    comment = only(review_by("steel-laps", floor('{bars: {size: "#4", spacing: 18 in, lap: 25 in}}')))

    # 1.3 x 60,000 x 1/2 / (25 root 3,000) is 28.5 in
    assert advice(comment) == "lap the bars 29 in: 4 in more"


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
    for comment in comments:
        ends = "so short that they pull out" if weight == "caution" else "shorter than a full lap"
        assert plain(comment.says, "us").endswith(ends)


def test_a_lap_that_is_not_written_is_not_shown() -> None:
    (entry,) = review_by("steel-laps", floor("{mesh: {style: 6x6 W2.9}}")).not_shown
    assert entry.add == ("reinforcement.mesh.lap: how far pieces lap, such as 20 in",)
    assert reason(review_by("steel-laps", floor("none"))) == "there are no bars and no mesh"


def test_metric_laps_are_written_to_the_centimeter() -> None:
    steel = "{bars: {size: 12 mm, spacing: 300 mm, lap: 500 mm}}"

    # 500 MPa, 72,519 psi: 1.3 x 72,519 x 0.4724 / (25 root 3,000) is 32.53 in, 826 mm; 830 are as close as it is laid
    assert plain(only(review_by("steel-laps", floor(steel, unit="m"))).to_pass, "metric", both=False) == (
        "lap the bars 830 mm: 330 mm more"
    )
    assert not review_by("steel-laps", floor(steel.replace("500", "830"), unit="m")).comments
    # 40 x 12 mm = 480 mm, measured as closely
    for lap, found in (("478", ("note", "part_of_class_b_at_least")), ("474", ("caution", "diameters_at_least"))):
        assert weights(review_by("steel-laps", floor(steel.replace("500", lap), unit="m"))) == [found]


@pytest.mark.parametrize(("size", "lap", "met"), [("#8", "40 in", True), ("#8", "39 in", False)])
def test_bars_over_number_six_are_held_against_their_diameters_alone(size: str, lap: str, met: bool) -> None:
    # the code's form with 25 root f'c is for #6 and thinner
    steel = f'{{bars: {{size: "{size}", spacing: 18 in, lap: {lap}}}}}'

    assert bool(review_by("steel-laps", floor(steel)).comments) is not met


@pytest.mark.parametrize(
    ("fy", "fc", "inches"),
    [  # the form holds from 40,000 to 80,000 psi of steel and from 2,500 psi of concrete, whose root is 50
        (30000, 2500, 20.8),  # 1.3 x 40,000 x 1/2 / (25 x 50)
        (60000, 2000, 31.2),  # 1.3 x 60,000 x 1/2 / (25 x 50)
        (100000, 2500, 41.6),  # 1.3 x 80,000 x 1/2 / (25 x 50)
        (80000, 10000, 20.8),  # 1.3 x 80,000 x 1/2 / (25 x 100)
    ],
)
def test_steel_and_concrete_beyond_the_form_count_as_its_ends(fy: float, fc: float, inches: float) -> None:
    bars = bars_key("#4", yield_strength=f"{fy} psi", lap="30 in")
    (said,) = judged("steel-laps", slab(bars, more=f"mix: {{strength: {fc} psi}}"))

    assert said.asked is not None
    assert said.asked.si == pytest.approx(inches * INCH)


@pytest.mark.parametrize(("lap", "met"), [("225 mm", True), ("215 mm", False)])
def test_australian_sheets_lap_by_their_outer_wires(lap: str, met: bool) -> None:
    # 200 mm and the two wires, printed as 225 mm by a maker (practice)
    sheet = f"{{mesh: {{style: SL82, lap: {lap}}}}}"

    assert bool(review_by("steel-laps", floor(sheet, unit="m", length="7")).comments) is not met


@pytest.mark.parametrize(
    ("size", "fy", "fc", "inches"),
    [  # class B, 1.3 fy d / (25 root f'c): derived from ACI 318-14 sec. 25.4.2.2 and 25.5.2 (quoted), whole inches
        ("#3", 60000, 3000, 22), ("#4", 60000, 3000, 29), ("#5", 60000, 3000, 36),
        ("#3", 60000, 4000, 19), ("#4", 60000, 4000, 25), ("#5", 60000, 4000, 31),
        ("#4", 40000, 3000, 19),
    ],
)  # fmt: skip
def test_steel_laps_up_to_class_b_are_a_note(size: str, fy: float, fc: float, inches: float) -> None:
    mix = f"mix: {{strength: {fc} psi}}"
    (said,) = judged("steel-laps", slab(bars_key(size, yield_strength=f"{fy} psi", lap=f"{inches + 1} in"), more=mix))

    assert isinstance(said, Margin)
    assert asked(said) == pytest.approx(inches * INCH, abs=0.75 * INCH)
    assert said.limit.weight == "note"


# edge beams


@pytest.mark.parametrize(
    ("lap", "expected"),
    [  # #5: 40 x 5/8 in = 25 in; class B in 4,000 psi 31 in (read in the table of the code)
        ("24 in", [("caution", "diameters_at_least")]),
        ("25 in", [("note", "part_of_class_b_at_least")]),
        ("31 in", []),
    ],
)
def test_bars_of_an_edge_beam_lap_by_their_own_size(lap: str, expected: list[tuple[str, str]]) -> None:
    layer = f'{{count: 2, size: "#5", cover: 3 in, lap: {lap}}}'
    mat = 'reinforcement: {bars: {size: "#3", spacing: 18 in, lap: 22 in}}'
    for more in ("", mat):
        text = beam(layer, f"mix: {{strength: 4000 psi}}\n{more}")
        assert weights(review_by("steel-laps", text)) == expected


def test_the_first_of_two_layers_of_an_edge_beam_is_asked_for_its_lap() -> None:
    (silent,) = review_by("steel-laps", beam('{count: 2, size: "#5"}, {count: 2, size: "#4", at: top}')).not_shown
    assert silent.place.path == "thickness.thickened_edges[0].bars[0]"


@pytest.mark.parametrize(("lap", "noted"), [("27 1/2 in", False), ("27 3/8 in", True)])
def test_an_inch_may_lack_of_a_full_lap(lap: str, noted: bool) -> None:
    """1.3 x 60,000 x 1/2 / (25 root 3,000) is 28.5 in; tolerances let a lap come out an inch short (recalled)."""
    comments = review_by("steel-laps", floor(f'{{bars: {{size: "#4", spacing: 18 in, lap: {lap}}}}}')).comments
    assert [one.weight for one in comments] == (["note"] if noted else [])
