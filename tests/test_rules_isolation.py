"""Rules about isolation: every branch, every limit at and beside it, where they point, what the plan does not say."""

from __future__ import annotations

import math

import pytest
import shapely
from comments import only, value, weights
from design_text import pad, review_by, rule_named
from judged import findings, judged, margins
from slabwright.design.outline import Isolation
from slabwright.geometry.shape.ahead import distance_ahead
from slabwright.geometry.shape.sides import facing_sides
from slabwright.plan.edges import filler_depth
from slabwright.review.report import Comment, Report
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, depth

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
