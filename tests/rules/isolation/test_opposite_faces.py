"""The rule `opposite-faces`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, value
from design_text import review_by
from judged import findings, margins
from slabs.isolation import FULL, bare, design, filled, side, slab
from slabwright.review.report import Report
from slabwright.text.words import plain

FOOT = 0.3048
SIDES = {"AB": "south", "BC": "east", "CD": "north", "DA": "west"}
TIED = ", tied: true"


def held(fixed: str, free: str = "") -> Report:
    """The slab with fixed faces on some sides (S, E, N, W), and filler on those in ``free``; the others are tied."""
    edges = [
        side(run, more=FULL if name[0].upper() in free else "tied: true", name=name)
        for run, name in SIDES.items()
        if name[0].upper() in fixed
    ]
    return review_by("opposite-faces", design("\n".join([*edges, "{rest: lawn}"])))


@pytest.mark.parametrize(
    ("fixed", "free", "isolated", "asked"),
    [
        # two opposite: at least one; three or four: all (cement association joints FAQ)
        ("NS", "", 0, 1),
        ("NS", "N", 1, 1),
        ("NS", "NS", 2, 1),
        ("SEN", "SN", 2, 3),
        ("SEN", "SEN", 3, 3),
        ("NESW", "NES", 3, 4),
        ("NESW", "NESW", 4, 4),
    ],
)
def test_opposite_faces_by_confinement(fixed: str, free: str, isolated: int, asked: int) -> None:
    report = held(fixed, free)

    if isolated < asked:
        comment = only(report)
        assert (comment.weight, comment.limit.name) == ("hold", "part_isolated_at_least")
        assert (comment.shown.si, comment.asked.si) == (isolated, asked)
        assert comment.working[0].result.si == isolated
    else:
        (met,) = report.met
        assert met.shown is not None and met.asked is not None
        assert (met.shown.si, met.asked.si) == (isolated, asked)


@pytest.mark.parametrize(
    ("tied", "beside", "untied"),
    [
        # a doweled addition moves with the old slab, away from its other sides (common practice)
        ("S", "existing slab", 4),
        ("S", "building", 3),
        ("SN", "existing slab", 2),
        ("SE", "existing slab", 2),
    ],
)
def test_an_addition_moves_with_the_old_slab_that_it_is_tied_to(tied: str, beside: str, untied: int) -> None:
    edges = [
        side(run, more="tied: true", name=name).replace("beside: building", f"beside: {beside}")
        if name[0].upper() in tied
        else side(run, more=FULL, name=name)
        for run, name in SIDES.items()
    ]
    report = review_by("opposite-faces", design("\n".join([*edges, "{rest: lawn}"])))
    shown = only(report).shown if untied < 4 else report.met[0].shown
    assert shown is not None
    assert shown.si == untied


@pytest.mark.parametrize("fixed", ["N", "NE", "SW"])
def test_opposite_faces_does_not_apply_where_the_slab_can_move_away(fixed: str) -> None:
    assert held(fixed).does_not_apply[0].reason == "no two fixed faces stand opposite each other"


def test_opposite_faces_names_the_shorter_side_of_two() -> None:
    comment = only(held("EW"))
    assert advice(comment) in (
        "drop the ties at east and set full-depth filler there, 10'-0\" of it",
        "drop the ties at west and set full-depth filler there, 10'-0\" of it",
    )

    stub = "{run: [[9, 10], [4, 10]], beside: wall, name: stub, tied: true}"
    edges = f"{side('AB', name='house', more='tied: true')}\n{stub}\n{{rest: lawn}}"
    assert only(review_by("opposite-faces", design(edges))).to_pass.values["names"] == "stub"


def test_opposite_faces_names_every_tied_side_of_four() -> None:
    comment = only(held("NESW", "N"))

    assert {name for name in SIDES.values() if name in plain(comment.to_pass, "us")} == {"south", "east", "west"}
    assert value(comment, "run") == pytest.approx(32 * FOOT)


def test_opposite_faces_leaves_missing_filler_to_the_rule_on_filler() -> None:
    for filler in ("isolation: none", "isolation: {material: foam, depth: 3 in}", "isolation: {material: foam}"):
        edges = "\n".join([side("AB", more="tied: true"), side("CD", more=filler), "{rest: lawn}"])
        assert not review_by("opposite-faces", design(edges)).comments


def test_opposite_faces_is_not_shown_where_no_edge_is_described() -> None:
    assert held("").does_not_apply
    assert review_by("opposite-faces", design()).not_shown[0].add[0].startswith("edges: ")


@pytest.mark.parametrize(("inches", "sides"), [(11, 1), (13, 2), (36, 2)])
def test_opposite_faces_less_than_a_foot_of_wall_makes_no_side(inches: float, sides: int) -> None:
    # 1 ft: common practice
    stub = f"{{run: [C, [{12 - inches / 12:.9f}, 10]], beside: wall, name: stub, tied: true}}"
    report = review_by("opposite-faces", slab(f"{bare('AB', more=TIED)}, {stub}"))

    assert places(report) == (["stub"] if sides == 2 else [])
    assert len(report.does_not_apply) == (0 if sides == 2 else 1)


@pytest.mark.parametrize(
    ("faces", "opposite"),
    [
        (("AB", "BC"), False), (("AB", "DA"), False), (("CD", "BC"), False), (("CD", "DA"), False),
        (("AB", "CD"), True), (("BC", "DA"), True),
        (("AB", "BC", "DA"), True), (("CD", "BC", "DA"), True), (("AB", "CD", "DA"), True), (("AB", "BC", "CD"), True),
    ],
)  # fmt: skip
def test_opposite_faces_which_faces_stand_opposite_each_other(faces: tuple[str, ...], opposite: bool) -> None:
    report = review_by("opposite-faces", slab(", ".join(bare(run, more=TIED) for run in faces)))

    assert bool(report.comments) is opposite
    assert bool(report.does_not_apply) is not opposite


def test_opposite_faces_the_first_face_of_a_free_side_is_pointed_at() -> None:
    south = f"{filled('AM', name='house')}, {filled('MB', name='porch')}"
    design = slab(f"{south}, {bare('CN', name='shed')}").replace("{A: [0, 0],", "{A: [0, 0], M: [5, 0], N: [8, 10],")
    (margin,) = margins("opposite-faces", design)

    assert (margin.shown.si, margin.at.name) == (2, "house")


@pytest.mark.parametrize("filler", ["depth: full", "thickness: 1/2 in"])
def test_opposite_faces_that_are_tied_are_not_free_for_all_their_filler(filler: str) -> None:
    tied = filled("AB", filler).replace("beside: building", "beside: building, tied: true")
    (finding,) = findings("opposite-faces", slab(f"{tied}, {bare('CD', more=TIED)}"))

    assert finding.shown.si == 0


def test_opposite_faces_a_part_of_the_sides_is_enough_where_amendments_say_so() -> None:
    # half of four sides: two; one is free, and one more of those that are not is asked
    faces = [filled("AB"), *(bare(run, name=run, more=TIED) for run in ("BC", "CD", "DA"))]
    (finding,) = findings("opposite-faces", slab(", ".join(faces)), part_isolated_at_least=0.5)

    assert finding.asked is not None
    assert (finding.asked.si, finding.shown.si) == (2, 1)
    assert value(finding, "run") == pytest.approx(10 * FOOT)


def test_opposite_faces_where_enough_sides_are_free_none_is_told_to_be_freed() -> None:
    faces = [filled("AB", name="AB"), *(bare(run, name=run, more=TIED) for run in ("BC", "CD", "DA"))]
    (margin,) = margins("opposite-faces", slab(", ".join(faces)), part_isolated_at_least=0.25)

    assert (margin.at.name, margin.shown.si) == ("AB", 1)
