"""The rule `isolation-full-depth`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, value, weights
from design_text import review_by
from judged import findings
from slabs.isolation import FULL, design, side, slab
from slabwright.design.outline import Isolation
from slabwright.plan.edges import filler_depth
from slabwright.text.words import plain
from slabwright.units.quantity import depth

FOOT, INCH = 0.3048, 0.0254


@pytest.mark.parametrize("beside", ["building", "wall", "curb", "step", "existing slab"])
def test_isolation_is_asked_of_every_fixed_face(beside: str) -> None:
    comment = only(review_by("isolation-full-depth", design(side("CD", beside, "isolation: none", "the face"))))

    assert weights(review_by("isolation-full-depth", design(side("CD", beside, "isolation: none")))) == [
        ("hold", "part_of_thickness_at_least")
    ]
    assert comment.shown.si == 0
    assert comment.asked.si == pytest.approx(4 * INCH)
    assert plain(comment.says, "us") == "no filler stands between the slab and the face"
    drawn, silent_side = side("AB", beside, FULL), side("CD", beside, "", "the face")
    silent = only(review_by("isolation-full-depth", design(f"{drawn}\n{silent_side}")))
    assert plain(silent.says, "us") == "no filler is drawn between the slab and the face"
    assert advice(comment) == "set filler 4 in deep at the face, over 12'-0\""


def test_isolation_none_where_none_is_wanted_is_no_shortfall() -> None:
    opening = "openings: [{name: bed, holds: planter, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: none}]"
    report = review_by("isolation-full-depth", design(side("CD", "lawn", "isolation: none"), more=opening))

    assert report.does_not_apply[0].reason == "nothing rigid stands beside the slab"


@pytest.mark.parametrize("beside", ["street", "lawn", "bed", "gravel", "open ground", "property line", "trench drain"])
def test_isolation_is_not_asked_where_nothing_rigid_stands(beside: str) -> None:
    report = review_by("isolation-full-depth", design(side("CD", beside)))

    assert report.does_not_apply[0].reason == "nothing rigid stands beside the slab"


@pytest.mark.parametrize(
    ("thickness", "filler", "says"),
    [
        # full depth at every fixed face (trade-magazine Q&A on isolation depth)
        ("4 in", "isolation: {material: foam, depth: full}", None),
        ("4 in", "isolation: {material: foam, depth: 4 in}", None),
        ("4 in", "isolation: {material: board, depth: 3 1/2 in}", "stops short of the bottom"),
        ("5 in", "isolation: {material: saw cut, depth: 2 in}", "a cut is drawn"),  # asked in print, and refused
        ("5 in", "isolation: {material: saw cut, depth: full}", "a cut is drawn"),
        ("4 in", "isolation: none", "no filler stands"),
    ],
)
def test_isolation_by_depth(thickness: str, filler: str, says: str | None) -> None:
    report = review_by("isolation-full-depth", design(side("CD", more=filler), thickness))

    if says is None:
        assert report.met[0].slack == pytest.approx(0, abs=1e-9)
    else:
        assert says in plain(only(report).says, "us")


def test_isolation_says_how_much_deeper() -> None:
    comment = only(
        review_by("isolation-full-depth", design(side("CD", more="isolation: {material: board, depth: 3 1/2 in}")))
    )

    assert value(comment, "more") == pytest.approx(0.5 * INCH)  # full-depth rule: short by 1/2 in
    assert comment.working[0].result == depth(value(comment, "more"))


def test_isolation_goes_down_with_a_thickened_edge() -> None:
    thick = "{design: 4 in, thickened_edges: [{run: [C, D], depth: 8 in, taper: 3 ft}]}"
    shallow = "isolation: {material: board, depth: 4 in}"

    # as deep as the slab, and short of its thick edge: worth a note
    comment = only(review_by("isolation-full-depth", design(side("CD", more=shallow), thick)))
    assert (comment.weight, comment.asked.si) == ("note", pytest.approx(8 * INCH))
    shorter = only(review_by("isolation-full-depth", design(side("CD", more=shallow.replace("4 in", "3 in")), thick)))
    assert (shorter.weight, shorter.asked.si) == ("hold", pytest.approx(4 * INCH))
    assert not review_by("isolation-full-depth", design(side("CD", more=FULL), thick)).comments


def test_isolation_comments_once_on_a_wall_that_turns_a_corner() -> None:
    comment = only(review_by("isolation-full-depth", design(side("BCD", more="isolation: none", name="house"))))

    assert value(comment, "run") == pytest.approx(22 * FOOT)


@pytest.mark.parametrize(("off", "run"), [(0.2, 22), (0.3, 22.5)])
def test_isolation_is_told_to_the_half_foot(off: float, run: float) -> None:
    text = design(side("BCD", more="isolation: none", name="house"))
    longer = text.replace("B: [12, 0], C: [12, 10]", f"B: [{12 + off}, 0], C: [{12 + off}, 10]")

    assert value(only(review_by("isolation-full-depth", longer)), "run") == pytest.approx(run * FOOT)


def test_isolation_leaves_tied_runs_out() -> None:
    tied = review_by("isolation-full-depth", design(side("CD", more="tied: true")))
    assert tied.does_not_apply[0].reason == "every fixed face is tied on purpose"

    other = design("\n".join([side("CD", more="tied: true"), side("AB", more="isolation: none", name="wall")]))
    assert only(review_by("isolation-full-depth", other)).at.name == "wall"


@pytest.mark.parametrize("beside", ["building", "existing slab", "step"])
def test_isolation_is_asked_for_where_no_face_has_a_word_on_filler(beside: str) -> None:
    (entry,) = review_by("isolation-full-depth", design(side("CD", beside))).not_shown

    assert entry.add[0].startswith("edges, isolation: the filler")


@pytest.mark.parametrize(("ground", "judged"), [("99.50", False), ("99.66", False), ("99.75", True), ("100", True)])
def test_a_step_that_lies_below_the_slab_is_no_face(ground: str, judged: bool) -> None:
    heights = "heights: {finish: {A: 100, B: 100, C: 100, D: 100}}"  # 4 in are 0.333 ft
    step = side("CD", "step", f"isolation: none, ground: {ground}").replace("isolation: none, ", "")
    report = review_by("isolation-full-depth", design(f"{step}\n{side('AB', more=FULL)}", more=heights))

    assert bool(report.comments) is judged


@pytest.mark.parametrize(("rim", "found"), [
    ("none", (1, 0)), ("{material: sealant, depth: 1 in, sealed: true}", (0, 0)),
    ("{material: foam, depth: full, sealed: true}", (0, 1)),
])  # fmt: skip
def test_a_pool_may_have_a_sealed_joint_at_its_rim_and_not_none(rim: str, found: tuple[int, int]) -> None:
    pool = f"openings: [{{name: pool, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: {rim}}}]"

    report = review_by("isolation-full-depth", design("{rest: lawn}", more=pool))
    assert (len(report.comments), len(report.met)) == found


@pytest.mark.parametrize(("takes_water", "asked"), [("false", ["openings[0]"]), ("true", [])])
def test_filler_round_a_pool_is_asked_where_nothing_else_wants_any(takes_water: str, asked: list[str]) -> None:
    pool = f"{{name: pool, holds: pool, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], takes_water: {takes_water}}}"
    spa = pool.replace("name: pool", "name: spa").replace("[4,", "[8,").replace("[7,", "[11,")
    report = review_by("isolation-full-depth", design("{rest: lawn}", more=f"openings: [{pool}, {spa}]"))
    assert [one.place.path for one in report.not_shown] == asked


def test_isolation_is_not_shown_where_no_edge_is_described_or_no_filler_has_a_depth() -> None:
    silent = review_by("isolation-full-depth", design())
    assert silent.not_shown[0].add[0].startswith("edges: what stands beside each run")
    assert silent.not_shown[0].place.path == "outline"

    undated = review_by("isolation-full-depth", design(side("CD", more="isolation: {material: foam}")))
    assert undated.not_shown[0].add == ("edges, isolation, depth: how deep the filler goes, such as full",)
    assert undated.not_shown[0].place.path == "edges[0]"


def test_isolation_counts_a_missing_depth_among_others_as_none() -> None:
    edges = "\n".join([side("CD", more="isolation: {material: foam}", name="house"), side("AB", more=FULL)])
    comment = only(review_by("isolation-full-depth", design(edges)))

    assert plain(comment.says, "us") == "no depth is written for the filler at house"


@pytest.mark.parametrize(("holds", "found"), [("stair", 1), ("pit", 1), ("tree", 0), ("planter", 0), ("other", 0)])
def test_isolation_round_openings_with_something_rigid_inside(holds: str, found: int) -> None:
    opening = f"openings: [{{name: well, holds: {holds}, corners: [[4, 4], [7, 4], [7, 6], [4, 6]]}}]"
    report = review_by("isolation-full-depth", design(side("AB", more=FULL), more=opening))

    assert len(report.comments) == found
    for comment in report.comments:
        assert comment.at.name == "the rim of well"
        assert value(comment, "run") == pytest.approx(10 * FOOT)


def test_isolation_drawn_round_any_opening_is_judged() -> None:
    opening = (
        "openings: [{name: bed, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: {material: foam, depth: 2 in}}]"
    )

    assert only(review_by("isolation-full-depth", design("{rest: lawn}", more=opening))).shown.si == pytest.approx(
        2 * INCH
    )


@pytest.mark.parametrize(
    ("isolation", "reaches"),
    [
        (None, 0.0),
        (Isolation("foam", full_depth=True), 0.1),
        (Isolation("foam", depth=depth(0.05)), 0.05),
        (Isolation("foam"), None),
        (Isolation("Saw cut", depth=depth(0.05)), 0.0),
        (Isolation("tooled groove", full_depth=True), 0.0),
    ],
)
def test_filler_depth(isolation: Isolation | None, reaches: float | None) -> None:
    assert filler_depth(isolation, 0.1) == reaches


def test_isolation_full_depth_goes_on_after_an_opening_that_wants_no_filler() -> None:
    """A tree bed holds nothing rigid, and a sealed joint of an inch is enough at the rim of a pool."""
    corners = "corners: [[{0}, 4], [{1}, 4], [{1}, 6], [{0}, 6]]"
    bed = f"{{name: bed, holds: planter, {corners.format(1, 2)}}}"
    pool = (
        f"{{name: pool, holds: pool, {corners.format(3, 5)}, isolation: {{material: foam, depth: 1 in, sealed: true}}}}"
    )
    pit = f"{{name: pit, holds: pit, {corners.format(6, 7)}, isolation: none}}"
    report = review_by("isolation-full-depth", design("{rest: lawn}", more=f"openings: [{bed}, {pool}, {pit}]"))
    assert places(report) == ["the rim of pit"]


def test_isolation_full_depth_the_rim_of_an_opening_is_pointed_at_all_round() -> None:
    pit = "openings: [{name: pit, holds: pit, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: none}]\n"
    (finding,) = findings("isolation-full-depth", slab(more=pit))

    assert len(finding.at.shape) == 5
    assert finding.at.shape[0] == finding.at.shape[-1]
    assert len(set(finding.at.shape)) == 4


@pytest.mark.parametrize(
    ("beside", "pour", "asked"),
    [("step", "", False), ("step", ", same_pour: false", True), ("building", "", True)],
)
def test_a_flight_that_is_placed_with_the_slab_is_no_face(beside: str, pour: str, asked: bool) -> None:
    foot = "foot: [[4, 2], [8, 2]], foot_height: 100"
    steps = (
        f"steps: [{{name: flight, width: 4 ft, tread: 12 in, riser: 7 in, count: 2, leads_to: porch, {foot}{pour}}}]"
    )
    report = review_by(
        "isolation-full-depth",
        design(side("AB", beside, name="porch", more="ground: 101.5"), f"{{design: 4 in, {steps}}}", LEVEL),
    )

    assert bool(report.not_shown) is asked


LEVEL = "heights: {finish: {A: 100, B: 100, C: 99.8, D: 99.8}}\n"
