"""The rule `thickened-edge-under-wheels`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, advice, only, reason
from design_text import pad, review_by
from judged import judged
from slabs.thickness import CORNERS, axle
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain
from slabwright.units.quantity import Amount

FAR = "{A: [30, 20], B: [42, 24], C: [38, 36], D: [26, 32]}"  # askew, and far from the origin
STREET = "[{run: [A, B], beside: street, name: street end}, {rest: lawn}]"


def street(points: str, edges: str, thick: str, load: str = axle(6000)) -> str:
    text = pad(f"points: {points}\nedges: {edges}\n{load}", use="vehicle pad", outline=CORNERS)
    return text.replace("{design: 4 in}", f"{{design: 6 in, thickened_edges: [{thick}]}}")


def stand(
    edges: str, axle: str = "6000 lb", thickness: str = "{design: 6 in}", unit: str = "ft", loads: bool = True
) -> str:
    side = "12" if unit == "ft" else "3.6"
    load = f"loads: [{{vehicle: van, axle: {axle}, wheels_per_axle: 2}}]" if loads else ""
    points = f"points: {{A: [0, 0], B: [{side}, 0], C: [{side}, {side}], D: [0, {side}]}}\n"
    return pad(f"{points}edges: {edges}\n{load}", "vehicle pad", unit, outline="[A, B, C, D]", thick=thickness)


@pytest.mark.parametrize(
    ("run", "met"), [("[A, B]", True), ("[B, C]", False), ("[D, A]", False), ("[B, C, D, A]", False)]
)
def test_the_depth_is_taken_along_the_edge_itself(run: str, met: bool) -> None:
    """1 1/4 of 6 in is 7 1/2 in. An edge between two thick ones is not thick itself."""
    text = street(FAR, STREET, f"{{run: {run}, depth: 7 1/2 in, width: 0.5 in, taper: 3 ft}}")
    edge, _ = judged("thickened-edge-under-wheels", text)

    assert isinstance(edge, Finding) is not met
    assert edge.shown.si == pytest.approx((7.5 if met else 6) * INCH)


@pytest.mark.parametrize(
    ("run", "depth"),
    [("[A, B]", 6), ("[B, C]", 6), ("[A, B, C]", 7.5)],
)
def test_an_edge_round_a_corner_is_as_deep_as_its_shallowest_side(run: str, depth: float) -> None:
    edges = "[{run: [A, B, C], beside: street, name: street end}, {rest: lawn}]"
    text = street(FAR, edges, f"{{run: {run}, depth: 7 1/2 in, width: 0.5 in, taper: 3 ft}}")
    edge, _ = judged("thickened-edge-under-wheels", text)

    assert edge.shown.si == pytest.approx(depth * INCH)


def test_every_edge_and_every_thickened_edge_is_judged() -> None:
    edges = "[{run: [A, B], beside: street, name: front}, {run: [C, D], beside: street, name: back}, {rest: lawn}]"
    thick = (
        "{run: [A, B], depth: 8 in, taper: 3 ft}, {run: [B, C], depth: 6 in, taper: 1 ft}, "
        "{run: [D, A], depth: 8 in, taper: 2 ft}"
    )
    found = judged("thickened-edge-under-wheels", street(FAR, edges, thick))

    assert [(one.at.name, isinstance(one, Finding)) for one in found] == [
        ("front", False), ("back", True), ("thickened edge 1", False), ("thickened edge 3", True),
    ]  # fmt: skip
    assert found[3].shown.si == pytest.approx(2 * FOOT)


def test_what_is_not_met_by_a_factor_of_the_town() -> None:
    """1 1/2 times 6 in where amendments ask that."""
    text = street(FAR, STREET, "{run: [A, B], depth: 8 in, taper: 3 ft}")
    edge, _ = judged("thickened-edge-under-wheels", text, part_of_thickness_at_least="1.5")

    assert isinstance(edge, Finding)
    assert edge.asked is not None
    assert edge.asked.si == pytest.approx(9 * INCH)


@pytest.mark.parametrize(("design", "edge"), [("4 in", 5.0), ("5 in", 6.25), ("6 in", 7.5), ("8 in", 10.0)])
def test_a_street_edge_is_a_quarter_thicker(design: str, edge: float) -> None:
    # 1.25 t: TM 5-809-12, TM 5-822-5 ch. 15-16 (read); 5 in gives 6.25 in in the published check th-edge-125
    comment = only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=f"{{design: {design}}}")))

    assert (comment.weight, comment.limit.name) == ("note", "part_of_thickness_at_least")
    assert comment.asked.si == pytest.approx(edge * INCH)
    write = comment.to_pass.values["write"]
    assert isinstance(write, Amount)
    assert write.si == pytest.approx(edge * INCH)  # whole quarter inches all of them
    assert (
        plain(comment.says, "us") == "an axle of 6000 lb comes on over street end, where the slab is no thicker for it"
    )


def test_a_thick_edge_beside_it_does_not_make_an_edge_thick() -> None:
    thick = "{design: 6 in, thickened_edges: [{run: [B, C], depth: 10 in, taper: 3 ft}]}"

    assert only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick))).shown.si == pytest.approx(
        6 * INCH
    )


def test_wheels_cross_where_the_file_says_so_and_nowhere_else() -> None:
    lane = "[{run: [A, B], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]"
    kept_off = "[{run: [A, B], beside: street, wheels_cross: false}, {rest: wall}]"

    assert only(review_by("thickened-edge-under-wheels", stand(lane))).at.name == "lane"
    assert reason(review_by("thickened-edge-under-wheels", stand(kept_off))) == "no wheels cross an edge"
    assert added(review_by("thickened-edge-under-wheels", stand("[{rest: lawn}]"))) == (
        "edges, wheels_cross: true for the edge that vehicles drive on and off over",
    )


@pytest.mark.parametrize(
    ("axle", "thick", "weight"),
    [  # specification CP-3.4 (read): light-duty parking ends at 10,600 lb
        ("10600 lb", "6 in", "note"),
        ("10601 lb", "6 in", "caution"),
        ("10601 lb", "187 mm", "caution"),
        ("10601 lb", "188 mm", "note"),  # 1 1/4 of 150 mm, which is asked under them, are 187.5 mm
    ],
)
def test_trucks_ask_for_a_thick_edge_with_more_weight(axle: str, thick: str, weight: str) -> None:
    text = stand(STREET, axle, f"{{design: {thick}}}")
    assert only(review_by("thickened-edge-under-wheels", text)).weight == weight


def test_an_edge_that_is_tied_hands_the_wheels_over() -> None:
    tied = "[{run: [A, B], beside: existing slab, wheels_cross: true, tied: true}, {rest: lawn}]"

    assert not review_by("thickened-edge-under-wheels", stand(tied)).comments


@pytest.mark.parametrize(("axle", "heavy"), [("18 kN", False), ("18.1 kN", True)])
def test_an_axle_is_heavy_over_eighteen_kilonewtons_on_a_metric_plan(axle: str, heavy: bool) -> None:
    # 4,000 lb are 17.79 kN (NIST SP 811); 18 kN is the round number next to it, common practice
    report = review_by("thickened-edge-under-wheels", stand(STREET, axle, "{design: 150 mm}", "m"))

    assert bool(report.comments) is heavy


def test_nine_hundred_millimeters_are_three_feet_on_a_metric_plan() -> None:
    thick = "{design: 150 mm, thickened_edges: [{run: [A, B], depth: 200 mm, width: 300 mm, taper: 600 mm}]}"

    assert not review_by("thickened-edge-under-wheels", stand(STREET, "27 kN", thick, "m")).comments


@pytest.mark.parametrize(("axle", "heavy"), [("4000 lb", False), ("4001 lb", True), ("17.7 kN", False)])
def test_an_axle_is_heavy_over_four_thousand_pounds(axle: str, heavy: bool) -> None:
    # common practice; 4,000 lb are 17.79 kN (NIST SP 811)
    report = review_by("thickened-edge-under-wheels", stand(STREET, axle))

    assert bool(report.comments) is heavy
    if not heavy:
        assert reason(report) == "no axle heavier than a car's is written (loads)"


def test_a_metric_edge_is_written_to_five_millimeters() -> None:
    comment = only(
        review_by("thickened-edge-under-wheels", stand(STREET, "27 kN", "{design: 125 mm}", "m"))
    )  # 1.25 x 125 = 156.25 mm

    assert advice(comment, "metric").startswith(
        "make this slab 160 mm deep along street end, brought back to 125 mm over 0.9 m"
    )


@pytest.mark.parametrize(
    ("width", "taper", "met"), [("0 ft", "3 ft", True), ("1 ft", "2 ft", True), ("6 in", "2 ft", False)]
)
def test_extra_depth_ends_three_feet_in(width: str, taper: str, met: bool) -> None:
    # 3 ft: TM 5-822-5 ch. 15-16, roads (read)
    thick = f"{{design: 6 in, thickened_edges: [{{run: [A, B], depth: 8 in, width: {width}, taper: {taper}}}]}}"
    report = review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick))

    assert (report.comments == ()) is met
    if not met:
        assert (only(report).weight, only(report).limit.name) == ("note", "brought_back_over_at_least")
        assert plain(only(report).to_pass, "us", both=False) == 'bring thickened edge 1 back over 2\'-6": 6" more'


@pytest.mark.parametrize("deep", ["6 in", "4 in"])
def test_an_edge_no_deeper_than_the_slab_has_nothing_to_bring_back(deep: str) -> None:
    # 7.5 in asked where wheels cross (1.25 x 6 in), which the edge is not; its short taper is no matter
    thick = f"{{design: 6 in, thickened_edges: [{{run: [A, B], depth: {deep}, taper: 1 ft}}]}}"

    comment = only(review_by("thickened-edge-under-wheels", stand(STREET, thickness=thick)))

    assert comment.limit.name == "part_of_thickness_at_least"


def test_an_edge_is_as_deep_as_the_thinnest_part_that_is_driven_on_asks() -> None:
    """A walk of 4 in beside a drive of 6 in: the street end of the drive is 7 1/2 in deep."""
    walk = "parts: [{name: path, corners: [[6, 8], [12, 8], [12, 12], [6, 12]], use: walk, thickness: 4 in}]\n"
    crossed = "[{run: [A, B], beside: street, name: street end, wheels_cross: true}, {rest: lawn}]"
    (one,) = judged("thickened-edge-under-wheels", stand(crossed) + walk)

    assert isinstance(one, Finding)
    assert one.asked.si == pytest.approx(7.5 * INCH)


def test_an_edge_of_a_thicker_part_is_brought_back_to_the_thickness_of_that_part() -> None:
    """An approach of 6 1/2 in before a drive of 6 in is to be 7 1/2 in deep at the street."""
    approach = "parts: [{name: approach, corners: [A, B, [12, 8], [0, 8]], thickness: 6 1/2 in}]\n"
    crossed = "[{run: [A, B], beside: street, name: street end, wheels_cross: true}, {rest: lawn}]"
    comment = only(review_by("thickened-edge-under-wheels", stand(crossed) + approach))

    assert advice(comment).startswith(
        "make this slab 7 1/2 in deep along street end, brought back to 6 1/2 in over 3 ft"
    )
