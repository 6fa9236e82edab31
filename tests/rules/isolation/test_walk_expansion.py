"""The rule `walk-expansion`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, places, reason, value
from design_text import pad, review_by
from judged import judged
from slabs.joints import jointed_slab
from slabwright.review.report import Report
from slabwright.rulebook.conclusion import Finding
from slabwright.rulebook.remedy import Append

FOOT = 0.3048


def walk(feet: int, filled_at: tuple[int, ...] = (), depth: str = "full") -> Report:
    filler = f"isolation: {{material: foam, depth: {depth}}}"
    joints = [f"from: [{at}, 0], to: [{at}, 5], kind: formed strip, {filler}" for at in filled_at]
    return review_by("walk-expansion", jointed_slab(" | ".join(joints), use="walk", size=(feet, 5)))


def test_walk_expansion_the_second_stretch_of_a_walk_is_judged_after_the_first() -> None:
    joint = "joints: [{kind: formed strip, from: [40, 0], to: [40, 5], isolation: {material: foam, depth: full}}]"
    said = judged("walk-expansion", pad(joint, "walk", outline="[[0, 0], [130, 0], [130, 5], [0, 5]]"))

    assert [one.shown.si / FOOT for one in said] == pytest.approx([40, 90])
    assert isinstance(said[1], Finding)
    assert value(said[1], "bay") == pytest.approx(45 * FOOT)


def test_walk_expansion_a_walk_that_turns_is_as_long_as_its_middle() -> None:
    """An L of 40 ft and 40 ft, 5 ft wide: 37.5 ft and 37.5 ft along the middle, by hand; none of it reaches 50 ft."""
    (said,) = judged(
        "walk-expansion", pad("", "walk", outline="[[0, 0], [40, 0], [40, 40], [35, 40], [35, 5], [0, 5]]")
    )

    assert said.shown.si == pytest.approx(75 * FOOT)
    assert (said.limit.name, said.limit.weight) == ("round_turns_at_most", "note")


@pytest.mark.parametrize(
    ("feet", "filled_at", "met"),
    [(50, (), True), (51, (), False), (120, (40, 80), True), (120, (60,), False), (120, (50, 100), True)],
)
def test_a_walk_grows_fifty_feet_at_a_time(feet: int, filled_at: tuple[int, ...], met: bool) -> None:
    # UFGS 03300N par. 3.8.3 (read): at most 50 ft
    assert (walk(feet, filled_at).comments == ()) is met


def test_a_long_walk_is_told_its_bays() -> None:
    # 120 ft by 50 ft: 3 bays of 40 ft, published check is-walk-50
    comment = only(walk(120))

    assert comment.weight == "caution"
    assert advice(comment) == ("set filler all through the joints that part it into 3 stretches of 40'-0\"")
    assert places(walk(130, (60,))) == [
        "stretch 1 of the walk", "stretch 2 of the walk",
    ]  # fmt: skip


def test_other_slabs_are_no_walks() -> None:
    assert reason(review_by("walk-expansion", jointed_slab(size=(200, 8)))) == "the slab is not a walk"


@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize(
    ("first", "second", "filled"),
    [  # stretches of 40 ft: a joint within a quarter of that is as good, by the middle of it (common practice)
        ((40, 40), (80, 80), ["joints[0]", "joints[1]"]),
        ((49.9, 49.9), (70.1, 70.1), ["joints[0]", "joints[1]"]),
        ((50.1, 50.1), (80, 80), ["joints[1]"]),
        ((28, 52), (94, 66), ["joints[0]", "joints[1]"]),  # askew, with their middles at 40 and 80
    ],
)
def test_walk_expansion_fills_the_joints_near_where_the_walk_is_parted(
    first: tuple[float, float], second: tuple[float, float], filled: list[str], upright: bool
) -> None:
    def at(along: float, across: float) -> list[float]:
        return [7 + across, 300 + along] if upright else [300 + along, 7 + across]

    ring = [at(*corner) for corner in ((0, 0), (120, 0), (120, 5), (0, 5))]
    cuts = [f"{{kind: saw cut, from: {at(low, 0)}, to: {at(high, 5)}}}" for low, high in (first, second)]
    cuts += [f"{{kind: pattern, from: {at(x, 0)}, to: {at(x, 5)}}}" for x in (41, 81)]  # these part nothing
    (one,) = judged("walk-expansion", pad(f"joints: [{', '.join(cuts)}]", "walk", outline=str(ring)))

    assert isinstance(one, Finding)
    edits = one.remedies[0].edits
    assert sorted({edit.path[:9] for edit in edits if edit.path.startswith("joints[")}) == filled
    assert sum(isinstance(edit, Append) for edit in edits) == 2 - len(filled)
