"""Rules about isolation at the edges of their numbers: just met and just not, and where they point."""

from __future__ import annotations

import pytest
from design_text import pad, review_by
from judged import findings, judged, margins
from slabwright.review.report import Comment
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.units.quantity import Amount

FOOT, INCH = 0.3048, 0.0254
TIED = ", tied: true"
POINTS = "points: {A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}\n"


def slab(edges: str = "", more: str = "", use: str = "patio", unit: str = "ft") -> str:
    """A slab 12 by 10, A to D from the lower left; the edges that ``edges`` leaves out are lawn."""
    written = f"edges: [{edges}{', ' if edges else ''}{{rest: lawn}}]\n"
    return pad(POINTS + written + more, use, unit, outline="[A, B, C, D]")


def filled(run: str, filler: str = "depth: full", beside: str = "building", name: str = "") -> str:
    named = f", name: {name}" if name else ""
    return f"{{run: [{', '.join(run)}], beside: {beside}, isolation: {{material: foam, {filler}}}{named}}}"


def bare(run: str, beside: str = "building", name: str = "", more: str = "") -> str:
    return f"{{run: [{', '.join(run)}], beside: {beside}{f', name: {name}' if name else ''}{more}}}"


def short(value: object) -> str:
    """A part of a test's name: no whole designs."""
    return value if isinstance(value, str) and "\n" not in value else ""


def names(said: list[Finding]) -> list[str]:
    return [one.at.name for one in said]


def meters(said: Finding | Comment, slot: str) -> float:
    value = said.to_pass.values[slot]
    assert isinstance(value, Amount)
    return value.si


# one that is met does not hide the next


@pytest.mark.parametrize(
    ("rule", "design", "expected"),
    [
        (
            "column-box-out",
            slab(
                more="fixtures: [{kind: column, name: east, at: [9, 5], box_out: round}, "
                "{kind: column, name: west, at: [3, 5], box_out: square}]"
            ),
            ["west"],
        ),
        (
            "filler-thickness",
            slab(
                ", ".join(
                    [filled("AB"), filled("BC", "thickness: 1/2 in"), filled("CD", "thickness: 1/4 in", name="shed")]
                )
            ),
            ["shed"],
        ),
        (
            "fixtures-isolated",
            slab(
                more="fixtures: [{kind: drain, at: [3, 3], isolation: {material: foam, depth: full}}, "
                "{kind: cleanout, name: bare pipe, at: [9, 3]}]"
            ),
            ["bare pipe"],
        ),
        ("isolation-full-depth", slab(f"{filled('AB')}, {bare('CD', name='shed')}"), ["shed"]),
    ],
    ids=short,
)
def test_each_is_judged(rule: str, design: str, expected: list[str]) -> None:
    assert names(findings(rule, design)) == expected


# column-box-out


def boxed(shape: str, *joints: str) -> list[Finding | Margin]:
    lines = ", ".join(f"{{kind: tooled groove, {one}}}" for one in joints)
    more = f"fixtures: [{{kind: column, name: column, at: [6, 5], box_out: {shape}}}]\n" + f"joints: [{lines}]\n" * any(
        joints
    )
    return judged("column-box-out", slab(more=more))


@pytest.mark.parametrize(("off", "free"), [(1.9, 2), (2.1, 4)])
def test_column_box_out_a_joint_within_two_inches_of_the_middle_goes_through_a_box(off: float, free: int) -> None:
    # 2 in: common practice; it takes two of the four corners
    x = 6 + off / 12
    said, _ = boxed("turned square", f"from: [{x:.9f}, 0], to: [{x:.9f}, 10]")

    assert said.shown.si == free


@pytest.mark.parametrize(
    ("shape", "joints"),
    [
        ("round", []),
        ("round", ["from: [6, 0], to: [6, 10]"]),
        ("turned square", ["from: [6, 0], to: [6, 10]", "from: [0, 5], to: [12, 5]"]),
        # more joints than corners leave none free, and no fewer
        ("turned square", ["from: [6, 0], to: [6, 10]", "from: [0, 5], to: [12, 5]", "from: [1, 0], to: [11, 10]"]),
    ],
)
def test_column_box_out_no_corner_is_free(shape: str, joints: list[str]) -> None:
    said, *near = boxed(shape, *joints)

    assert isinstance(said, Margin)
    assert said.shown.si == 0
    assert len(near) == bool(joints)  # and the nearest joint


@pytest.mark.parametrize(("feet", "limit"), [(0.9, ""), (1.0, ""), (1.1, "joint_distance_at_most")])
def test_column_box_out_a_joint_comes_within_a_foot(feet: float, limit: str) -> None:
    # 1 ft: common practice
    said = boxed("round", f"from: [{6 + feet:.9f}, 0], to: [{6 + feet:.9f}, 10]")[1]

    assert (said.limit.name if isinstance(said, Finding) else "") == limit
    assert said.limit.weight == "note"


def test_column_box_out_corners_that_amendments_leave_free_are_counted() -> None:
    more = "fixtures: [{kind: column, at: [6, 5], box_out: square}]"
    (said,) = margins("column-box-out", slab(more=more), free_corners_at_most=4, many_free_corners_at_most=4)

    assert said.shown.si == 4


# edge-sealed


def test_edge_sealed_filler_that_is_open_at_two_faces_is_pointed_at_in_the_first() -> None:
    sealed = filled("AB", "depth: full, sealed: true", name="house")
    wing, shed = (
        filled(run, "depth: full, sealed: false", name=name) for run, name in (("BCD", "wing"), ("DA", "shed"))
    )
    (finding,) = findings("edge-sealed", slab(f"{sealed}, {wing}, {shed}"))

    assert (finding.shown.si, finding.to_pass.values["names"]) == (2, "wing, shed")
    assert meters(finding, "run") == pytest.approx(32 * FOOT)  # 10 and 12 ft of the wing, 10 ft of the shed
    assert finding.at.place.path == "edges[1]"
    assert finding.at.shape == (pytest.approx((12 * FOOT, 0)), pytest.approx((12 * FOOT, 10 * FOOT)))


def test_edge_sealed_filler_that_is_sealed_everywhere_is_pointed_at_in_the_first() -> None:
    faces = [filled(run, "depth: full, sealed: true") for run in ("AB", "CD")]
    (margin,) = margins("edge-sealed", slab(", ".join(faces)))

    assert (margin.shown.si, margin.at.place.path) == (0, "edges[0]")
    assert margin.at.shape[-1] == pytest.approx((12 * FOOT, 0))


# what is missing is asked where it is first missing


@pytest.mark.parametrize(
    ("rule", "design", "path"),
    [
        ("edge-sealed", slab(", ".join([bare("AB", "wall"), filled("BC"), filled("DA")])), "edges[1]"),
        ("filler-thickness", slab(", ".join([bare("AB"), filled("BC"), filled("DA")])), "edges[1]"),
        (
            "isolation-full-depth",
            slab(f"{filled('AB', 'thickness: 1/2 in')}, {filled('CD', 'thickness: 1 in')}"),
            "edges[0]",
        ),
        (
            "fixtures-isolated",
            slab(
                more="fixtures: [{kind: post, at: [3, 3], isolation: {material: foam}}, "
                "{kind: post, at: [9, 3], isolation: {material: foam}}]"
            ),
            "fixtures[0]",
        ),
    ],
    ids=short,
)
def test_the_first_place_is_named(rule: str, design: str, path: str) -> None:
    (entry,) = review_by(rule, design).not_shown

    assert entry.place.path == path


# isolation-full-depth


def test_isolation_full_depth_the_rim_of_an_opening_is_pointed_at_all_round() -> None:
    pit = "openings: [{name: pit, holds: pit, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: none}]\n"
    (finding,) = findings("isolation-full-depth", slab(more=pit))

    assert len(finding.at.shape) == 5
    assert finding.at.shape[0] == finding.at.shape[-1]
    assert len(set(finding.at.shape)) == 4


# opposite-faces


@pytest.mark.parametrize(("inches", "sides"), [(11, 1), (13, 2), (36, 2)])
def test_opposite_faces_less_than_a_foot_of_wall_makes_no_side(inches: float, sides: int) -> None:
    # 1 ft: common practice
    stub = f"{{run: [C, [{12 - inches / 12:.9f}, 10]], beside: wall, name: stub, tied: true}}"
    report = review_by("opposite-faces", slab(f"{bare('AB', more=TIED)}, {stub}"))

    assert [comment.at.name for comment in report.comments] == (["stub"] if sides == 2 else [])
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
    assert meters(finding, "run") == pytest.approx(10 * FOOT)


# walk-expansion


def test_walk_expansion_the_second_stretch_of_a_walk_is_judged_after_the_first() -> None:
    joint = "joints: [{kind: formed strip, from: [40, 0], to: [40, 5], isolation: {material: foam, depth: full}}]"
    said = judged("walk-expansion", pad(joint, "walk", outline="[[0, 0], [130, 0], [130, 5], [0, 5]]"))

    assert [one.shown.si / FOOT for one in said] == pytest.approx([40, 90])
    assert isinstance(said[1], Finding)
    assert meters(said[1], "bay") == pytest.approx(45 * FOOT)


def test_walk_expansion_a_walk_that_turns_is_as_long_as_its_middle() -> None:
    """An L of 40 ft and 40 ft, 5 ft wide: 37.5 ft and 37.5 ft along the middle, by hand; none of it reaches 50 ft."""
    (said,) = judged(
        "walk-expansion", pad("", "walk", outline="[[0, 0], [40, 0], [40, 40], [35, 40], [35, 5], [0, 5]]")
    )

    assert said.shown.si == pytest.approx(75 * FOOT)
    assert (said.limit.name, said.limit.weight) == ("round_turns_at_most", "note")
