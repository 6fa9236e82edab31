"""Rules about isolation: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import math

import pytest
import shapely
from comments import only, value, weights
from design_text import review_by, rule_named
from slabwright.design.model import Isolation
from slabwright.geometry.shape.ahead import distance_ahead
from slabwright.geometry.shape.sides import facing_sides
from slabwright.plan.edges import filler_depth
from slabwright.review.report import Report
from slabwright.text.words import plain
from slabwright.units.quantity import depth

FOOT, INCH = 0.3048, 0.0254
FULL = "isolation: {material: foam, thickness: 1/2 in, depth: full}"


def design(edges: str = "", thickness: str = "4 in", more: str = "") -> str:
    """A slab 12 ft by 10 ft, A to D from the lower left; ``edges`` has one ``{...}`` a line, ``more`` sections."""
    lines = [
        "format: 1",
        "job: {name: Test slab}",
        "units: {plan: ft, height: ft}",
        "use: patio",
        "points: {A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}",
        "outline: [A, B, C, D]",
        f"thickness: {thickness if ':' in thickness else f'{{design: {thickness}}}'}",
    ]
    if edges:
        lines += ["edges:", *(f"  - {one.strip()}" for one in edges.strip().splitlines())]
    return "\n".join([*lines, more])


def side(run: str, beside: str = "building", more: str = "", name: str = "") -> str:
    parts = [
        f"run: [{', '.join(run)}]",
        f"beside: {beside}",
        *([f"name: {name}"] if name else []),
        *([more] if more else []),
    ]
    return f"{{{', '.join(parts)}}}"


# isolation-full-depth


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
    assert plain(comment.to_pass, "us", both=False) == "set filler 4 in deep at the face, over 12'-0\""


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


@pytest.mark.parametrize(("rim", "found"), [("none", 1), ("{material: sealant, depth: 1 in, sealed: true}", 0)])
def test_a_pool_may_have_a_sealed_joint_at_its_rim_and_not_none(rim: str, found: int) -> None:
    pool = f"openings: [{{name: pool, corners: [[4, 4], [7, 4], [7, 6], [4, 6]], isolation: {rim}}}]"

    assert len(review_by("isolation-full-depth", design("{rest: lawn}", more=pool)).comments) == found


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


# fixtures-isolated


def fixtures(*written: str, joints: str = "", thickness: str = "5 in") -> Report:
    more = "fixtures:\n" + "\n".join(f"  - {one}" for one in written) + (f"\njoints:\n  - {joints}" if joints else "")
    return review_by("fixtures-isolated", design("{rest: lawn}", thickness, more))


@pytest.mark.parametrize(
    ("kind", "found"),
    [
        ("post", ("hold", "post_part_at_least")),
        ("column", ("hold", "post_part_at_least")),
        ("drain", ("caution", "casting_part_at_least")),
        ("cleanout", ("caution", "casting_part_at_least")),
    ],
)
def test_fixtures_cast_in_tight(kind: str, found: tuple[str, str]) -> None:
    comment = only(fixtures(f"{{kind: {kind}, name: the thing, at: [6, 5], isolation: none}}"))
    silent = fixtures(f"{{kind: {kind}, name: the thing, at: [6, 5]}}")

    assert [plain(one.says, "us") for one in silent.comments] == ["no filler is drawn round the thing"][
        : found[0] == "hold"
    ]
    assert bool(silent.not_shown) == (found[0] == "caution")
    assert (comment.weight, comment.limit.name) == found
    assert comment.asked.si == pytest.approx(5 * INCH)
    assert plain(comment.says, "us") == "the slab is cast tight against the thing"
    assert plain(comment.to_pass, "us", both=False) == "wrap the thing 5 in deep, all round"
    assert not fixtures(f"{{kind: {kind}, at: [6, 5], {FULL}}}").comments


def test_fixtures_with_filler_short_of_the_bottom() -> None:
    comment = only(fixtures("{kind: post, at: [6, 5], isolation: {material: board, depth: 3 1/2 in}}"))

    assert value(comment, "more") == pytest.approx(1.5 * INCH)


@pytest.mark.parametrize(("x", "found"), [(7, []), (7.1, [("caution", "joint_distance_at_most")])])
def test_posts_stand_within_a_foot_of_a_joint(x: float, found: list[tuple[str, str]]) -> None:
    joint = "{name: J1, from: [6, 0], to: [6, 10], kind: saw cut, depth: 1 1/4 in}"

    assert weights(fixtures(f"{{kind: post, at: [{x}, 5], {FULL}}}", joints=joint)) == found
    assert not fixtures(f"{{kind: drain, at: [{x}, 5], {FULL}}}", joints=joint).comments


def test_fixtures_outside_the_concrete_and_other_kinds_do_not_count() -> None:
    report = fixtures(
        "{kind: post, at: [14, 5]}", "{kind: downspout, at: [6, 5]}", "{kind: gate, along: [[0, 4], [0, 7]]}"
    )

    assert report.does_not_apply[0].reason == "no post, column, drain, cleanout or box stands inside the concrete"


def test_fixtures_without_a_filler_depth() -> None:
    silent = fixtures("{kind: post, at: [6, 5], isolation: {material: foam}}")
    assert silent.not_shown[0].add == ("fixtures, isolation, depth: how deep the filler goes, such as full",)

    mixed = fixtures(
        "{kind: post, name: lamp, at: [6, 5], isolation: {material: foam}}", f"{{kind: post, at: [3, 5], {FULL}}}"
    )
    assert plain(only(mixed).says, "us") == "no depth is written for the filler round lamp"


# opposite-faces

SIDES = {"AB": "south", "BC": "east", "CD": "north", "DA": "west"}


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


@pytest.mark.parametrize("fixed", ["N", "NE", "SW"])
def test_opposite_faces_does_not_apply_where_the_slab_can_move_away(fixed: str) -> None:
    assert held(fixed).does_not_apply[0].reason == "no two fixed faces stand opposite each other"


def test_opposite_faces_names_the_shorter_side_of_two() -> None:
    comment = only(held("EW"))
    assert plain(comment.to_pass, "us", both=False) in (
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


# directions


def turned(line: list[tuple[float, float]], degrees: float, mirrored: bool = False) -> list[tuple[float, float]]:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    points = [(c * x - s * y, s * x + c * y) for x, y in line]
    return [(-x, y) for x, y in points] if mirrored else points


@pytest.mark.parametrize("degrees", [0, 17, 45, 90, 133.7, 180, 301])
@pytest.mark.parametrize("mirrored", [False, True])
def test_facing_sides_whatever_way_the_slab_is_turned(degrees: float, mirrored: bool) -> None:
    house = [(0.0, 0.0), (6.0, 0.0)]
    garage = [(6.0, 0.0), (6.0, 4.0)]
    stub = [(6.0, 4.0), (5.8, 4.0)]
    slanting = [(5.0, 4.0), (1.0, 3.0)]
    lines = [turned(line, degrees, mirrored) for line in (house, garage, stub, slanting)]

    first, second, third, fourth = facing_sides(lines, least=0.3)

    assert (first, third) == ((0,), (2, 3))
    assert {second, fourth} == {(1,), ()}


@pytest.mark.parametrize("degrees", [0, 17, 45, 90, 133.7])
def test_facing_sides_at_45_degrees_belongs_to_the_side_opposite(degrees: float) -> None:
    lines = [turned([(0, 0), (6, 0)], degrees), turned([(6, 0), (4, 2)], degrees)]  # turns back by 135 degrees

    assert facing_sides(lines, least=0.3) == ((0,), (), (1,), ())


@pytest.mark.parametrize("degrees", range(0, 360, 13))
def test_facing_sides_of_a_round_wall(degrees: int) -> None:
    half = turned([(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 181, 5)], degrees)
    quarter = turned([(math.cos(math.radians(a)), math.sin(math.radians(a))) for a in range(0, 91, 5)], degrees)

    assert sum(1 for found in facing_sides([half], least=0.3) if found) == 3
    assert sum(1 for found in facing_sides([quarter], least=0.3) if found) == 2


def test_facing_sides_of_nothing() -> None:
    assert facing_sides([], least=0.3) == ((), (), (), ())


def test_distance_ahead_passes_what_it_starts_on_and_stops_at_openings() -> None:
    slab = shapely.box(0, 0, 10, 4).difference(shapely.box(6, 1, 8, 3))

    assert distance_ahead(slab, (0.0, 2.0), (3.0, 0.0)) == pytest.approx(6)
    assert distance_ahead(slab, (0.0, 0.5), (3.0, 0.0)) == pytest.approx(10)
    assert distance_ahead(slab, (1.0, 1.0), (3.0, -4.0)) == pytest.approx(1.25)  # 3-4-5
    assert distance_ahead(slab, (12.0, 2.0), (1.0, 0.0)) == math.inf
    assert distance_ahead(slab, (1.0, 2.0), (0.0, 0.0)) == math.inf


@pytest.mark.parametrize("name", ["isolation-full-depth", "opposite-faces"])
def test_published_numbers_of_the_rules_come_out_again(name: str) -> None:
    worked = rule_named(name).worked

    assert worked
    for one in worked:
        assert one.ours() == pytest.approx(one.printed.si, abs=max(one.within, 1e-12)), one.what
