"""The box-out round a column or post has its corners on joints, or has no corners.

What is compared
    The corners of each box-out that no joint comes to, with none. A round one has no corners; a square one turned by
    45 degrees has four, and a joint that crosses it takes two of them; a square one that is not turned has four that no
    joint through the column can reach.
Why it matters
    Every corner of a hole is an inside corner. Cracks start at those that have no joint, and run off on the slant into
    good panels: four columns, sixteen cracks.
When it does not apply
    No box-out is drawn.
How to put it right
    Set a tube form round the column. Or turn the square so that its corners lie on the joints, and let two joints
    cross there. Fill it when the slab has done most of its shrinking.
Where sources differ
    None: the joint leaflet of the ready-mixed trade shows the square turned, or a round one. It shows a detail and asks
    no duty, so it is a caution.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.plan.plan import Plan
from slabwright.plan.things import PlannedFixture
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    does_not_apply,
    spot,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, count

TITLE = "Box-outs with corners on the joints"
LIMITS = (
    Limit("free_corners_at_most", "0", Kind.COUNT, "caution", Cite("nrmca-cip-6"), ("0", "4"),
          "corners of a box-out that no joint comes to"),
)  # fmt: skip
WORKED = ()
CORNERS = {"round": 0, "square": 4, "turned square": 4}
AT_IT = 0.0508  # m, 2 in: a joint this near the middle goes through it (common practice)


def _boxed(plan: Plan) -> list[PlannedFixture]:
    return [one for one in plan.fixtures.all if one.fixture.box_out and one.inside]


def relevant(plan: Plan) -> Relevance:
    """A box-out is drawn."""
    return APPLIES if _boxed(plan) else does_not_apply("no box-out is drawn")


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """The corners of each box-out."""
    limit = limits.free_corners_at_most
    for one in _boxed(plan):
        at, shape = spot(one), one.fixture.box_out or "round"
        corners, arms = count(CORNERS[shape]), plan.joints.arms(one.at, AT_IT)
        taken = count(min(4, arms) if shape == "turned square" else 0)
        free = count(corners.si - taken.si)
        if limit.met(free):
            yield Margin(at, free, limit)
            continue
        working = step("corners left", "corners - those on joints", words("{c} - {t}", c=corners, t=taken), free)
        says = words("cracks will start at the corners of the box-out round {thing}", thing=at.name)
        to_pass = words("box {thing} out {how}, with a tube form", thing=at.name, how="round")
        yield Finding(at, says, free, limit, (working,), to_pass)
