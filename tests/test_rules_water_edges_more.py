"""More rules about water, at their edges: low spots, crests, valleys, and the edges that water may leave over."""

from __future__ import annotations

import pytest
from comments import advice, only, told, weights
from design_text import review_by
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane

FOOT = 0.3048


def slope_to(x: float, y: float = 0.0) -> dict[str, float]:
    return plane(RECTANGLE, x, y)


# standing-water


def waffle(low: list[float], more: str = "") -> str:
    """A strip 4 ft wide with a pit of each depth (ft) along it, 2 ft apart between ridges at 100."""
    size = len(low)
    points = {"A": (0, 0), "B": (2 * size + 4, 0), "C": (2 * size + 4, 4), "D": (0, 4)}
    points |= {f"M{k}": (2 * k + 3, 2) for k in range(size)}
    points |= {f"R{k}{side}": (2 * k + 2, y) for k in range(size + 1) for side, y in (("s", 0), ("n", 4))}
    heights = {**dict.fromkeys(points, 100.0), **{f"M{k}": 100 - depth for k, depth in enumerate(low)}}
    ridges = [f"    - {{name: r{k}, kind: ridge, along: [R{k}s, R{k}n]}}" for k in range(size + 1)]
    return design(points, heights, "rest: lawn", more="\n".join(["  lines:", *ridges, more]))


@pytest.mark.parametrize(
    ("pits", "names"),
    [
        (8, []),
        (9, ["low spot at M0"]),
        (10, ["low spot at M1 and 1 more"]),
        (11, ["low spot at M2 and 2 more"]),
    ],
)
def test_standing_water_eight_low_spots_are_told_one_by_one_and_the_rest_together(pits: int, names: list[str]) -> None:
    """Each pit is deeper than the one before it, and wider: those told last are the first."""
    comments = review_by("standing-water", waffle([0.1 + 0.01 * k for k in range(pits)])).comments

    assert len(comments) == min(pits, 9)
    last = [comment for comment in comments if comment.at.name in names]
    assert [comment.at.name for comment in last] == names
    for comment in last:
        more = pits - 9
        together = {0: "", 1: ", and in 1 more place"}.get(more, f", and in {more} more places")
        assert plain(comment.says, "us") == f"water stands at M{more}{together}"
        # told alone it is raised, told with others it gets a drain
        assert advice(comment).startswith("put a drain at M" if more else "raise M0 by")


def test_a_low_spot_that_is_shallow_enough_is_met_by_its_depth() -> None:
    """An inch less 7/8: 1/8 in is let pass (common practice)."""
    (met,) = review_by("standing-water", waffle([0.0104])).met

    assert met.at is not None
    assert met.shown is not None
    assert (met.at.name, met.shown.si) == ("low spot at M0", pytest.approx(0.0104 * FOOT, abs=1e-6))


def test_a_moat_is_drawn_by_its_outer_shore() -> None:
    """A ring 0.1 ft deep round a hump that stays dry."""
    points = {"A": (0, 0), "B": (10, 0), "C": (10, 10), "D": (0, 10), "M": (5, 5)}
    points |= {f"Q{k}": xy for k, xy in enumerate([(3, 3), (7, 3), (7, 7), (3, 7)])}
    heights = {**dict.fromkeys("ABCD", 100.0), **{f"Q{k}": 99.9 for k in range(4)}, "M": 100.1}
    line = "  lines: [{name: bed, kind: valley, along: [Q0, Q1, Q2, Q3, Q0]}]"
    comment = only(review_by("standing-water", design(points, heights, "rest: lawn, ground: 90", more=line)))

    xs = [x / FOOT for x, _ in comment.at.shape]
    assert (min(xs), max(xs)) == pytest.approx((0, 10))


@pytest.mark.parametrize(
    ("walls", "against"),
    [
        (1, "edge A-B (wall)"),
        (2, "edge A-B (wall), edge B-C (wall)"),
        (3, "edge A-B (wall), edge B-C (wall), edge C-D (wall)"),
        (4, "edge A-B (wall), edge B-C (wall), edge C-D (wall)"),
    ],
)
def test_three_walls_are_named_that_hold_the_water(walls: int, against: str) -> None:
    """A level tray, its drain in the middle half a tenth of a foot too high."""
    points = {**RECTANGLE, "M": (10, 6)}
    corners = ["AB", "BC", "CD", "DA"]
    edges = "\n".join(f"run: [{a}, {b}], beside: wall" for a, b in corners[:walls])
    edges += "" if walls == 4 else "\nrest: lawn, ground: 100.05"
    heights = {**dict.fromkeys("ABCD", 100.0), "M": 100.05}
    text = design(points, heights, edges) + "\nfixtures: [{kind: drain, at: M}]"
    comments = review_by("standing-water", text).comments

    assert plain(comments[0].says, "us").partition(", against ")[2] == against


def test_standing_water_a_raised_low_point_falls_one_percent_to_where_the_water_spills() -> None:
    """A pit 0.1 ft deep, 5 ft and more from the edge: common practice."""
    points = {"A": (0, 0), "B": (10, 0), "C": (10, 10), "D": (0, 10), "M": (5, 5)}
    text = design(points, {**dict.fromkeys("ABCD", 100.0), "M": 99.9}, "rest: lawn, ground: 90")

    # root(50) ft to a corner, a hundredth of that is 0.0707 ft, written up to the next hundredth
    assert told(only(review_by("standing-water", text))) == (
        "water stands at M",
        "raise M by about 2 1/8 in, to 100.08 ft",
    )


# street-water-kept-out

STREET = (
    "run: [C, D], beside: street, name: mill street, ground: {gutter}\n"
    "run: [A, B], beside: building, name: garage\nrest: bed"
)


@pytest.mark.parametrize(
    ("gutter", "says"),
    [
        (99.81, "nothing on the slab keeps the water of the gutter from garage"),
        (99.80, "nothing on the slab keeps the water of the gutter from garage"),
        (99.79, "street water that rises about 1/8 in in the gutter runs in to garage"),
    ],
)
def test_a_crest_at_the_gutter_keeps_nothing_out(gutter: float, says: str) -> None:
    heights = {"A": 99.8, "B": 99.8, "C": 99.7, "D": 99.7}
    comment = only(review_by("street-water-kept-out", design(RECTANGLE, heights, STREET.format(gutter=gutter))))

    assert told(comment)[0] == says
    assert comment.shown.si == pytest.approx((99.8 - gutter) * FOOT, abs=1e-9)


@pytest.mark.parametrize(("unit", "such"), [("ft", "99.30"), ("m", "99.850")])
def test_the_first_of_two_streets_is_asked_about(unit: str, such: str) -> None:
    edges = (
        "run: [B, C], beside: street, name: side street\nrun: [C, D], beside: street, name: mill street\n"
        "run: [A, B], beside: building\nrest: bed"
    )
    (silent,) = review_by("street-water-kept-out", design(RECTANGLE, slope_to(0, -0.02), edges, unit=unit)).not_shown

    assert silent.add == (f"edges, ground: the height of the gutter beside side street, such as {such}",)
    assert silent.place.path == "edges[0]"


def test_only_a_gutter_among_what_is_fixed_stands_for_the_street() -> None:
    heights = {"A": 99.8, "B": 99.8, "C": 99.7, "D": 99.7}
    fixed = "fixed: [{name: sill, kind: sill, along: [A, B], height: 99.0}]"
    text = design(RECTANGLE, heights, STREET.format(gutter=99.5)) + f"\n{fixed}"

    assert only(review_by("street-water-kept-out", text)).shown.si == pytest.approx(0.3 * FOOT)


def test_a_crest_that_no_point_makes_is_told_its_height() -> None:
    """Eight points along the wall, each too low: more than heights of six."""
    xs = [0, 3, 6, 9, 12, 15, 18, 20]
    points = {f"w{k}": (x, 0) for k, x in enumerate(xs)} | {"C": (20, 12), "D": (0, 12)}
    heights = {**dict.fromkeys(points, 99.8), "C": 99.7, "D": 99.7}
    edges = "run: [C, D], beside: street, ground: 99.5\n" + "\n".join(
        f"run: [w{k}, w{k + 1}], beside: building, name: garage" for k in range(7)
    )
    comment = only(review_by("street-water-kept-out", design(points, heights, edges + "\nrest: bed", " ".join(points))))

    assert advice(comment) == "raise the crest before garage to 100.00 ft"


# valley-fall


def gully(xs: list[float], heights: list[float], unit: str = "ft") -> str:
    """A valley along the middle of 20 by 12 ft, through a point at each of ``xs``."""
    points = {**RECTANGLE, **{f"V{k}": (x, 6.0) for k, x in enumerate(xs, 1)}}
    finish = {**dict.fromkeys("ABCD", 100.5), **{f"V{k}": height for k, height in enumerate(heights, 1)}}
    line = f"  lines: [{{name: gully, kind: valley, along: [{', '.join(list(points)[4:])}]}}]"
    return design(points, finish, "rest: lawn", more=line, unit=unit)


@pytest.mark.parametrize(
    ("xs", "heights", "says", "to_pass"),
    [
        # 7.5 ft at 1 % are 0.075 ft: 99.825 and down to the next hundredth, and what lies below it as much
        ([0, 5, 12.5, 20], [100.0, 99.9, 99.88, 99.7], "gully hardly falls from V2 to V3",
         "lower V3 by about 3/4 in, to 99.82 ft; lower V4 by about 3/4 in, to 99.64 ft"),
        ([0, 7.5, 15, 20], [99.7, 99.88, 99.9, 100.0], "gully hardly falls from V3 to V2",
         "lower V2 by about 3/4 in, to 99.82 ft; lower V1 by about 3/4 in, to 99.64 ft"),
        # past the low point it rises, and what lies beyond that stays
        ([0, 5, 10, 15, 20], [100.0, 99.98, 99.8, 100.1, 99.7], "gully hardly falls from V1 to V2",
         "lower V2 by about 3/8 in, to 99.95 ft; lower V3 by about 3/8 in, to 99.77 ft"),
        ([0, 5, 10, 15, 20], [99.7, 100.1, 99.8, 99.98, 100.0], "gully hardly falls from V5 to V4",
         "lower V4 by about 3/8 in, to 99.95 ft; lower V3 by about 3/8 in, to 99.77 ft"),
        # a level stretch is brought down at its far end
        ([0, 10, 20], [100.0, 100.0, 99.8], "gully hardly falls from V1 to V2",
         "lower V2 by about 1 1/4 in, to 99.90 ft; lower V3 by about 1 1/4 in, to 99.70 ft"),
        ([0, 10, 20], [100.2, 100.0, 100.0], "gully hardly falls from V2 to V3",
         "lower V3 by about 1 1/4 in, to 99.90 ft"),
        # down to its first point, and from the second to its last, which is another way
        ([0, 10, 20], [99.9, 99.95, 99.7], "gully hardly falls from V2 to V1", "lower V1 by about 5/8 in, to 99.85 ft"),
        # three feet are a stretch
        ([0, 3, 20], [100.0, 99.99, 99.5], "gully hardly falls from V1 to V2",
         "lower V2 by about 1/4 in, to 99.97 ft; lower V3 by about 1/4 in, to 99.48 ft"),
    ],
)  # fmt: skip
def test_a_flat_stretch_of_a_valley_is_told_with_all_that_lies_below_it(
    xs: list[float], heights: list[float], says: str, to_pass: str
) -> None:
    comment = only(review_by("valley-fall", gully(xs, heights)))

    assert told(comment) == (says, to_pass)
    ends = sorted(says.split()[-3::2])
    assert comment.at.name == f"gully {'-'.join(ends)}"
    assert [x / FOOT for x, _ in comment.at.shape] == pytest.approx([xs[int(name[1:]) - 1] for name in ends])


def test_level_points_below_a_flat_stretch_go_down_with_it() -> None:
    first, second = sorted(
        review_by("valley-fall", gully([0, 5, 10, 15], [100.0, 99.98, 99.9, 99.9])).comments,
        key=lambda one: one.at.name,
    )

    # 1 % of 5 ft: V2 to 99.95, V3 and V4, level with it, as much lower
    assert advice(first) == "; ".join(
        f"lower V{k} by about 3/8 in, to {to} ft" for k, to in ((2, "99.95"), (3, "99.87"), (4, "99.87"))
    )
    assert told(second) == ("gully hardly falls from V3 to V4", "lower V4 by about 5/8 in, to 99.85 ft")


def test_two_points_in_one_spot_are_no_stretch_of_a_valley() -> None:
    """V2 and V3 lie 4 mm apart and level; what comes after them is judged, and called after the first of the two."""
    comment = only(review_by("valley-fall", gully([0, 2, 2.004, 6], [30.0, 29.9, 29.9, 29.89], unit="m")))

    assert comment.at.name == "gully V2-V4"
    assert comment.at.shape == ((2.004, 6.0), (6.0, 6.0))


def test_a_valley_without_a_name_is_called_so() -> None:
    text = gully([0, 20], [100.0, 99.95]).replace("name: gully, ", "")

    assert plain(only(review_by("valley-fall", text)).says, "us") == "valley hardly falls from V1 to V2"


# valley-flow


def stormy(rain: str, spouts: str = "", valley: str = "V1, V2", side: float = 0.2, **heights: float) -> str:
    """20 by 12 ft whose halves fall ``side`` ft to a valley that falls 0.2 ft in 20 ft, from 99.8 to 99.6."""
    points = {**RECTANGLE, "V1": (0, 6), "VM": (10, 6), "V2": (20, 6)}
    finish = {
        "V1": 99.8,
        "VM": 99.7,
        "V2": 99.6,
        "A": 99.8 + side,
        "D": 99.8 + side,
        "B": 99.6 + side,
        "C": 99.6 + side,
    }
    edges = "run: [B, V2], beside: bed, takes_water: true\nrun: [V2, C], beside: bed, takes_water: true\nrest: curb"
    line = f"  lines: [{{name: swale, kind: valley, along: [{valley}]}}]"
    text = design(points, finish | heights, edges, more=line)
    return f"{text}\nsite: {{rain_in_an_hour: {rain}}}\n" + (f"fixtures: [{spouts}]" if spouts else "")


def spread_by_hand(square_feet: float, inches: float, cross: float, along: float = 0.01) -> float:
    """Spread, ft: runoff C i A / 43,200 ft3/s, A in ft2; gutter Q = 0.56/n Sx^1.67 SL^0.5 T^2.67 (HEC-22, quoted)."""
    flow = 0.95 * inches * square_feet / 43_200
    return float((flow * 0.016 / (0.56 * cross**1.67 * along**0.5)) ** (1 / 2.67))


ROOF_OF = "{{kind: downspout, at: [{at}], roof: {roof} ft2}}"


@pytest.mark.parametrize("valley", ["V1, VM, V2", "V2, VM, V1"])
def test_valley_flow_a_wide_stream_is_brought_down_by_the_fall_of_its_last_stretch(valley: str) -> None:
    """6,229 ft2 at 4 in, 1.67 % across: 6.46 ft wide and 1.29 in deep; an inch is 5 ft wide.

    The last stretch of 10 ft falls 1 % and has to fall 1 % x (6.46 / 5)^5.34.
    """
    comments = review_by("valley-flow", stormy("4 in", ROOF_OF.format(at="0.5, 6", roof=6000), valley)).comments
    spread = spread_by_hand(229.2 + 6000, 4, 0.2 / 12)
    more = 0.01 * ((spread / 5) ** 5.34 - 1)

    assert [comment.limit.name for comment in comments] == ["spread_at_most", "depth_at_most"]
    assert comments[0].shown.si == pytest.approx(spread * FOOT, rel=0.003)
    assert comments[1].shown.si == pytest.approx(spread / 60 * FOOT, rel=0.003)
    for comment in comments:
        assert comment.at.name == "low end of swale"
        assert advice(comment).startswith("lower V2 by ")
        assert float(advice(comment).split()[-2]) == pytest.approx(99.6 - 10 * more, abs=0.012)


@pytest.mark.parametrize(("roof", "lowered"), [(6000, True), (7400, False)])
def test_valley_flow_is_not_told_to_fall_more_than_one_in_twenty(roof: int, lowered: bool) -> None:
    """At 1 % along, (T / 5)^5.34 over 5 asks for more than 5 %: seldom built (common practice)."""
    ratio = (spread_by_hand(229.2 + roof, 4, 0.2 / 12) / 5) ** 5.34
    assert (1.2 < ratio < 4.5) if lowered else (5.5 < ratio < 6.5)

    for comment in review_by("valley-flow", stormy("4 in", ROOF_OF.format(at="0.5, 6", roof=roof))).comments:
        assert advice(comment).startswith("lower V2" if lowered else "set a drain midway")


def test_a_deep_stream_is_told_by_its_depth() -> None:
    """10 % down either side, 5 % as one: an inch is reached at 20 in of width."""
    text = stormy("4 in", ROOF_OF.format(at="0.5, 6", roof=2000), side=0.6)
    comment = only(review_by("valley-flow", text))
    spread = spread_by_hand(2239, 4, 0.05)

    assert comment.limit.name == "depth_at_most"
    assert comment.shown.si == pytest.approx(spread * 0.05 * FOOT, rel=0.003)


@pytest.mark.parametrize(
    ("at", "counts"),
    [
        ("0.5, 6", True),
        ("-1.9, 6", True),  # within 2 ft of the slab, common practice
        ("-2.1, 6", False),
        ("20, 4", False),  # it leaves over the edge, two feet beside the low end
    ],
)
def test_valley_flow_counts_a_roof_whose_water_comes_through_the_low_end(at: str, counts: bool) -> None:
    report = review_by("valley-flow", stormy("4 in", ROOF_OF.format(at=at, roof=6000)))

    assert bool(report.comments) is counts


@pytest.mark.parametrize(("side", "judged"), [(1.4, True), (1.6, False)])
def test_valley_flow_sides_as_steep_as_a_cliff_are_no_gutter(side: float, judged: bool) -> None:
    """6 ft wide: 23 and 27 %, and a quarter is as steep as the formula is used."""
    report = review_by("valley-flow", stormy("4 in", side=side))

    assert bool(report.met or report.comments) is judged
    assert bool(report.does_not_apply) is not judged


def test_a_valley_without_a_name_is_told_all_the_same() -> None:
    text = stormy("4 in", ROOF_OF.format(at="0.5, 6", roof=6000)).replace("name: swale, ", "")
    (first, *_) = review_by("valley-flow", text).comments

    assert first.at.name == "low end of valley"
    assert plain(first.says, "us").endswith("deep in valley")


# water-ends-where-it-may


def strip(part: float) -> tuple[float, float]:
    """Slopes at which ``part`` of 20 by 12 ft leaves over B-C and the rest over C-D."""
    return -0.02 * part * 2 * 20 / 12, -0.02


@pytest.mark.parametrize(("part", "asked"), [(0.0099, False), (0.0101, True)])
def test_water_ends_where_it_may_is_asked_from_a_hundredth_on(part: float, asked: bool) -> None:
    edges = "run: [C, D], beside: lawn\nrun: [A, B], beside: wall\nrun: [D, A], beside: wall"
    report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(part)), edges))

    assert [one.add for one in report.not_shown] == (
        [("edges: what stands beside B-C, such as lawn",)] if asked else []
    )


def test_an_edge_that_is_barred_is_judged_whatever_is_not_said_of_others() -> None:
    edges = (
        "run: [C, D], beside: lawn, takes_water: false, name: far\nrun: [A, B], beside: wall\nrun: [D, A], beside: wall"
    )
    report = review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(0.3)), edges))

    assert weights(report) == [("hold", "barred_share_at_most")]
    assert only(report).shown.si == pytest.approx(0.7)


def test_a_low_spot_does_not_stand_in_for_an_edge_that_is_barred() -> None:
    """A pit in the middle keeps some water; of the edges nothing is said."""
    points = {**RECTANGLE, "M": (10, 6), **{f"Q{k}": xy for k, xy in enumerate([(8, 4), (12, 4), (12, 8), (8, 8)])}}
    heights = {**slope_to(0, -0.02), "M": 99.5} | {f"Q{k}": 100 - 0.02 * points[f"Q{k}"][1] for k in range(4)}
    line = "  lines: [{kind: ridge, along: [Q0, Q1, Q2, Q3, Q0]}]"
    text = design(points, heights, "run: [A, B], beside: wall", more=line)
    report = review_by("water-ends-where-it-may", text)

    assert [one.add for one in report.not_shown] == [("edges: what stands beside C-D, such as lawn",)]
    lawn = review_by("water-ends-where-it-may", text.replace("run: [A, B], beside: wall", "rest: lawn"))
    assert lawn.comments == ()  # water that stays leaves over nothing


def test_edges_of_which_nothing_is_said_are_asked_about_up_to_six() -> None:
    """All falls to the east side, of which each stretch is shorter than the one before it."""
    ys = [0, 2, 3.9, 5.6, 7.1, 8.4, 9.5, 10.4, 11]
    points = {"A": (0, 0), **{f"p{k}": (20, y) for k, y in enumerate(ys)}, "D": (0, 11)}
    heights = {name: 100 - 0.02 * x for name, (x, _) in points.items()}
    text = design(points, heights, "run: [A, p0], beside: wall", " ".join(points))
    (silent,) = review_by("water-ends-where-it-may", text).not_shown

    assert silent.add == tuple(f"edges: what stands beside p{k}-p{k + 1}, such as lawn" for k in range(6))
    named = "run: [p0, p1], beside: existing slab, name: old\nrun: [A, p0], beside: wall"
    (silent,) = review_by("water-ends-where-it-may", design(points, heights, named, " ".join(points))).not_shown
    assert silent.add[0] == "edges, takes_water: whether water may leave over old, true or false"
    assert silent.place.path == "edges[0]"


def test_an_edge_that_takes_most_hides_none_that_takes_nothing() -> None:
    edges = "run: [B, C], beside: bed, takes_water: false, name: bed side\nrest: lawn"
    comment = only(review_by("water-ends-where-it-may", design(RECTANGLE, slope_to(*strip(0.2)), edges)))

    assert (comment.at.name, comment.shown.si) == ("bed side", pytest.approx(0.2))
    assert comment.working[0].result.si == pytest.approx(48 * FOOT**2)


@pytest.mark.parametrize(
    ("kind", "along", "expected"),
    [
        ("valley", "V1, E", ("hold", "barred_share_at_most")),
        ("valley", "V1, V2", ("caution", "lot_line_share_at_most")),  # half a foot short of it
        ("grade break", "V1, E", ("caution", "lot_line_share_at_most")),
    ],
)
def test_water_ends_where_it_may_only_a_valley_ends_at_it(kind: str, along: str, expected: tuple[str, str]) -> None:
    points = {**RECTANGLE, "E": (20, 6), "V1": (0, 6), "V2": (19.5, 6)}
    heights = {"A": 100.2, "B": 99.9, "C": 99.9, "D": 100.2, "V1": 100.08, "V2": 99.78, "E": 99.77}
    edges = "run: [B, E, C], beside: property line, name: lot line\nrun: [A, B], beside: lawn\nrest: wall"
    line = f"  lines: [{{name: swale, kind: {kind}, along: [{along}]}}]"
    report = review_by("water-ends-where-it-may", design(points, heights, edges, "A B E C D", more=line))

    assert weights(report) == [expected]
