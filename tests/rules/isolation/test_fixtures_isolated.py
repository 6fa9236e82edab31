"""The rule `fixtures-isolated`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, value, weights
from design_text import pad, review_by
from slabs.isolation import FULL, design
from slabwright.review.report import Report
from slabwright.text.words import plain

INCH = 0.0254


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
    assert advice(comment) == "wrap the thing 5 in deep, all round"
    assert not fixtures(f"{{kind: {kind}, at: [6, 5], {FULL}}}").comments


def test_fixtures_with_filler_short_of_the_bottom() -> None:
    comment = only(fixtures("{kind: post, at: [6, 5], isolation: {material: board, depth: 3 1/2 in}}"))

    assert value(comment, "more") == pytest.approx(1.5 * INCH)


@pytest.mark.parametrize(("x", "found"), [(7, []), (7.1, [("caution", "joint_distance_at_most")])])
def test_posts_stand_within_a_foot_of_a_joint(x: float, found: list[tuple[str, str]]) -> None:
    joint = "{name: J1, from: [6, 0], to: [6, 10], kind: saw cut, depth: 1 1/4 in}"

    assert weights(fixtures(f"{{kind: post, at: [{x}, 5], {FULL}}}", joints=joint)) == found
    assert not fixtures(f"{{kind: drain, at: [{x}, 5], {FULL}}}", joints=joint).comments


@pytest.mark.parametrize("x", [1, 11])
def test_a_post_a_foot_from_an_edge_needs_no_joint_at_either_side(x: float) -> None:
    joint = "{name: J1, from: [6, 0], to: [6, 10], kind: saw cut, depth: 1 1/4 in}"
    assert not fixtures(f"{{kind: post, at: [{x}, 5], {FULL}}}", joints=joint).comments


@pytest.mark.parametrize(("off", "weight"), [(2.0, "note"), (2.1, "caution")])
def test_a_post_within_two_feet_of_an_edge_and_off_the_joints_is_a_note(off: float, weight: str) -> None:
    # 2 ft: common practice; bollards and the posts of carports stand there, in filler, without a joint
    joint = "{name: J1, from: [6, 0], to: [6, 10], kind: saw cut, depth: 1 1/4 in}"
    comment = only(fixtures(f"{{kind: post, name: bollard, at: [{off}, 5], {FULL}}}", joints=joint))

    assert comment.weight == weight
    says = "bollard stands 2'-0\" in from the edge, with no joint near it"
    assert plain(comment.says, "us", both=False) == (
        says if weight == "note" else "bollard stands in the middle of a panel, with no joint near it"
    )


@pytest.mark.parametrize(("off", "weight"), [(0.59, "note"), (0.61, "caution")])
def test_a_metric_post_stands_by_an_edge_within_600_mm(off: float, weight: str) -> None:
    """Common practice; the joint lies over 3 m away."""
    post = f"fixtures: [{{kind: post, at: [{off}, 2], {FULL}}}]\njoints: [{{from: [4, 0], to: [4, 4], kind: saw cut}}]"
    text = pad(post, unit="m", outline="[[0, 0], [6, 0], [6, 4], [0, 4]]", thick="125 mm")
    assert [one.weight for one in review_by("fixtures-isolated", text).comments] == [weight]


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


@pytest.mark.parametrize(("filler", "judged"), [("", False), (f", {FULL}", False), (", isolation: none", True)])
def test_a_post_in_a_box_out_is_parted_unless_the_file_says_no(filler: str, judged: bool) -> None:
    report = fixtures(f"{{kind: post, at: [6, 5], size: 6 in, box_out: round, box_out_size: 14 in{filler}}}")

    assert bool(report.comments) is judged
    assert judged or report.does_not_apply[0].reason == (
        "every post and column inside the concrete stands in a box-out"
    )


THICK_MIDDLE = "parts: [{name: pad, corners: [[5, 4], [7, 4], [7, 6], [5, 6]], thickness: 8 in}]\n"
CHANNELS = (
    "channels: [{{name: front, along: [[4, 3], [8, 7]], width: 4 in{0}}}, "
    "{{name: back, along: [[2, 9], [10, 9]], width: 4 in{0}}}]\n"
)


def test_filler_along_a_channel_is_asked_as_deep_as_the_slab_is_in_its_middle() -> None:
    filler = ", isolation: {material: foam, depth: 2 in}"
    report = review_by("fixtures-isolated", design("{rest: lawn}", "5 in", THICK_MIDDLE + CHANNELS.format(filler)))

    assert [(one.weight, round(one.asked.si / INCH, 6)) for one in report.comments] == [("note", 8), ("note", 5)]


def test_filler_is_asked_for_at_the_first_channel() -> None:
    (entry,) = review_by("fixtures-isolated", design("{rest: lawn}", "5 in", CHANNELS.format(""))).not_shown

    assert entry.place.path == "channels[0]"
    assert entry.add[0].startswith("channels, isolation: ")
