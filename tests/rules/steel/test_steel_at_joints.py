"""The rule `steel-at-joints`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, weights
from judged import findings, judged
from slabs.steel import JOINT, bars, bars_key, mesh, mesh_key, review, slab
from slabwright.formulas.units import FOOT

CUT = "joints: [{name: J1, from: [6, 0], to: [6, 9], kind: saw cut, depth: 1 1/4 in}]"


@pytest.mark.parametrize(
    ("at_joints", "found"),
    [
        # texts differ (quoted): stop it (PCA, ACI 301-99), up to 50 % through (ACI 350R-89)
        ("stop", []), ("half through", []), ("run through", [("note", "part_through_at_most")]),
    ],
)  # fmt: skip
def test_steel_at_joints(at_joints: str, found: list[tuple[str, str]]) -> None:
    report = review("steel-at-joints", mesh(at_joints=at_joints), more=CUT)

    assert weights(report) == found
    if found:
        assert advice(only(report)) == "stop the mesh at the joints, 9'-0\" in all, and write at_joints: stop"
        assert only(report).working[0].result.si == pytest.approx(9 * FOOT)


def test_steel_that_is_bonded_beside_a_pool_stays_bonded_across_the_joints() -> None:
    """What is cut at the joints is the electrician's grid (care)."""
    text = slab(mesh_key(at_joints="run through"), more=CUT).replace(
        "reinforcement: {", "reinforcement: {bonded: true, "
    )
    (one,) = findings("steel-at-joints", text)
    assert "the electrician bonds it across them" in one.to_pass.template


def test_steel_at_joints_asks_what_the_steel_does_and_leaves_other_joints_alone() -> None:
    (entry,) = review("steel-at-joints", bars(), more=CUT).not_shown
    assert entry.add == ("reinforcement.bars.at_joints: what the steel does at joints, such as stop",)

    for more in ("", CUT.replace("saw cut, depth: 1 1/4 in", "construction joint")):
        report = review("steel-at-joints", mesh(at_joints="run through"), more=more)
        assert report.does_not_apply[0].reason == "no joints are drawn that are meant to crack"


def test_steel_at_joints_judges_the_mat_that_says_and_passes_over_the_one_that_does_not() -> None:
    both = bars()[:-1] + ", " + mesh(at_joints="run through")[1:]

    assert places(review("steel-at-joints", both, more=CUT)) == ["the mesh"]


@pytest.mark.parametrize(("at_joints", "part"), [("stop", 0), ("half through", 0.5), ("run through", 1)])
def test_steel_at_joints_the_part_of_the_steel_that_goes_through(at_joints: str, part: float) -> None:
    (said,) = judged("steel-at-joints", slab(bars_key(at_joints=at_joints), more=JOINT))

    assert said.shown.si == part


def test_steel_at_joints_mesh_is_judged_after_bars_that_stop() -> None:
    steel = f"{bars_key(at_joints='stop')}, {mesh_key(at_joints='run through')}"

    assert [one.at.name for one in findings("steel-at-joints", slab(steel, more=JOINT))] == ["the mesh"]
