"""The rule `joints-line-up`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, only, reason
from design_text import pad, review_by
from judged import findings, margins
from slabs.joints import box, cut_at, jointed_slab, joints, timed_cut
from slabwright.rulebook.remedy import Append
from slabwright.text.words import plain

INCH = 0.0254


def old(edge: str, *written: str) -> str:
    return pad(f"edges: [{{run: [[0, 0], [16, 0]], {edge}}}]\n" + joints(*written), outline=box(16, 8))


def beside_old(edge: str, joints: str = timed_cut("6 h")) -> str:
    run = f"{{run: [A, B], beside: existing slab, name: old slab, {edge}}}"
    return jointed_slab(joints, f"edges: [{run}, {{rest: lawn}}]")


@pytest.mark.parametrize(("at", "moved"), [(10, True), (10.01, False)])
def test_joints_line_up_a_joint_within_two_feet_of_an_old_one_is_moved(at: float, moved: bool) -> None:
    # 2 ft: common practice
    design = old(f"beside: existing slab, tied: true, existing_joints: [[{at}, 0]]", cut_at(8))

    assert ("away" in findings("joints-line-up", design)[0].to_pass.values) is moved


def test_joints_line_up_leaves_joints_of_the_old_slab_beyond_the_new_one() -> None:
    """Of an old slab of 30 ft beside a new one of 16 ft the joint at 24 ft is nobody's."""
    beyond = review_by(
        "joints-line-up", old("beside: existing slab, tied: true, existing_joints: [[24, 0]]", cut_at(8))
    )
    assert "nowhere" in beyond.does_not_apply[0].reason
    far = review_by("joints-line-up", old("beside: existing slab, tied: true, existing_joints: [[18.1, 0]]", cut_at(8)))
    assert "nowhere" in far.does_not_apply[0].reason  # over 2 ft (common practice)
    both = old("beside: existing slab, tied: true, existing_joints: [[8, 0], [24, 0]]", cut_at(8))
    assert review_by("joints-line-up", both).met


@pytest.mark.parametrize("edge", ["beside: existing slab", "beside: building, tied: true"])
def test_joints_line_up_old_joints_are_asked_of_an_old_slab_that_the_new_one_is_tied_to(edge: str) -> None:
    report = review_by("joints-line-up", old(edge, cut_at(8)))

    assert report.not_shown == ()
    assert len(report.does_not_apply) == 1


def test_joints_line_up_an_edge_of_which_nothing_is_said_holds_nothing() -> None:
    (met,) = margins("joints-line-up", old("beside: existing slab, tied: true, existing_joints: [[8, 0]]", cut_at(8)))
    assert met.shown.si == 0


@pytest.mark.parametrize(
    ("feet", "off"),
    [("8", None), ("8.08", None), ("8.0834", 1.0008), ("6.5", 18)],  # 1 in: common practice
)
def test_an_old_joint_goes_on_in_the_new_slab(feet: str, off: float | None) -> None:
    report = review_by("joints-line-up", beside_old(f"tied: true, existing_joints: [[{feet}, 0]]"))

    if off is None:
        assert report.comments == ()
    else:
        assert (only(report).weight, only(report).limit.name) == ("caution", "offset_at_most")
        assert only(report).shown.si == pytest.approx(off * INCH, abs=1e-5)
        assert plain(only(report).to_pass, "us").startswith("move joint J1 by ")


def test_an_old_joint_far_from_any_wants_one_of_its_own() -> None:
    far = only(review_by("joints-line-up", beside_old("tied: true, existing_joints: [[2, 0]]")))
    bare = only(review_by("joints-line-up", beside_old("tied: true, existing_joints: [[2, 0]]", "")))

    assert plain(far.to_pass, "us").startswith("start a joint at ")
    assert (bare.weight, bare.limit.name, bare.shown.si) == ("caution", "joints_at_least", 0)


def test_filler_all_the_way_down_parts_the_slabs() -> None:
    filled = "existing_joints: [[2, 0]], isolation: {material: foam, depth: DEEP}"
    apart = "no old slab whose joints are listed is tied to it or touches it"

    assert reason(review_by("joints-line-up", beside_old(filled.replace("DEEP", "full")))) == apart
    assert len(review_by("joints-line-up", beside_old(filled.replace("DEEP", "2 in"))).comments) == 1
    assert len(review_by("joints-line-up", beside_old("existing_joints: [[2, 0]]")).comments) == 1


def test_a_tied_slab_should_list_the_old_joints() -> None:
    assert added(review_by("joints-line-up", beside_old("tied: true"))) == (
        "edges, existing_joints: where the joints of the old slab come to this edge, such as [[12, 0]]",
    )
    assert (
        reason(review_by("joints-line-up", jointed_slab()))
        == "no old slab whose joints are listed is tied to it or touches it"
    )


@pytest.mark.parametrize("backward", [False, True])
@pytest.mark.parametrize(("at", "way"), [([22, 6], (-3, 4)), ([6, 0], (0, 1))])
def test_joints_line_up_a_new_joint_is_square_to_the_side_that_the_old_one_comes_to(
    at: list[float], way: tuple[float, float], backward: bool
) -> None:
    """One side of the old slab lies level, the next rises 3 ft in 4 from (14, 0) to (30, 12)."""
    text = pad(
        f"edges: [{{run: [[2, 0], [14, 0], [30, 12]], beside: existing slab, tied: true, existing_joints: [{at}]}}]",
        outline=str([[2, 0], [14, 0], [30, 12], [30, 32], [2, 20]][:: -1 if backward else 1]),
    )
    (edit,) = findings("joints-line-up", text)[0].remedies[0].edits
    assert isinstance(edit, Append)
    (x0, y0), (x1, y1) = (tuple(one.si / 0.3048 for one in value) for key, value in edit.entry if key in ("from", "to"))

    assert (x0, y0) == pytest.approx(at)
    assert (x1 - x0) * way[1] == pytest.approx((y1 - y0) * way[0], abs=1e-6)
    assert y1 > y0


def test_a_joint_that_goes_on_runs_square_to_the_side_on_which_the_old_one_comes() -> None:
    """The old slab lies along a bend; its joint comes a foot past the bend, where the side climbs 1 in 2."""
    edge = "run: [[0, 0], [6, 0], [26, 10]], beside: existing slab, tied: true, existing_joints: [[7, 0.5]]"
    bent = pad(f"edges: [{{{edge}}}]\n", outline="[[0, 0], [6, 0], [26, 10], [26, 30], [0, 30]]")
    assert plain(only(review_by("joints-line-up", bent)).to_pass, "us", both=False).endswith(
        "run it to (0.00 ft, 14.50 ft)"
    )
