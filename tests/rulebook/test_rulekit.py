"""The words of a rule file: spots of the things on a plan, margins, and what keeps a limit."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from example_reviews import JOBS, read_and_worked
from slabwright.design.fixtures import Fixture
from slabwright.design.heights import Fixed, HeightLine
from slabwright.design.joints import Joint
from slabwright.plan.edges import EdgePiece
from slabwright.plan.falls import WallFall
from slabwright.plan.finish import LineRun
from slabwright.plan.fixed import FixedMatch
from slabwright.plan.fixtures import PlannedFixture
from slabwright.plan.given import DoesNotApply, NotShown, does_not_apply, not_shown
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.panels import InsideCorner, Panel
from slabwright.plan.plan import Spot
from slabwright.plan.water import WaterShare
from slabwright.rulebook.conclusion import Margin, spot
from slabwright.rulebook.heights import on_tape
from slabwright.rulebook.in_force import InForce
from slabwright.source.place import Place
from slabwright.units.quantity import depth, show, slope

HERE = Place("bay.slab.yaml", 12, 3)
LINE = ((0.0, 0.0), (3.0, 0.0))
AT = (1.0, 2.0)
RING = ((3.0, 0.0), (3.0, 2.0), (0.0, 2.0), (0.0, 0.0), (3.0, 0.0))

JOINT = Joint("J1", "saw cut", (), place=HERE)
WALL = EdgePiece("shop wall", None, "building", LINE, 3.0, None, True, True, None, None, None, HERE)

THINGS: list[tuple[Any, Spot]] = [
    (
        Panel("P1", shapely.box(0, 0, 3, 2), 3.0, 2.0, 1.5, 6.0, (), (), HERE, RING),
        Spot("panel P1", HERE, RING),
    ),
    (PlannedJoint(JOINT, LINE, 3.0, ()), Spot("joint J1", HERE, LINE)),  # type: ignore[arg-type]
    (InsideCorner("corner E", AT, 270.0, 0.5, HERE, (AT, AT)), Spot("corner E", HERE, (AT,))),
    (WALL, Spot("shop wall", HERE, LINE)),
    (LineRun(HeightLine("V", "valley", (), HERE), LINE, (1.0, 0.9)), Spot("valley V", HERE, LINE)),
    (LineRun(HeightLine("", "ridge", (), HERE), LINE, (1.0, 0.9)), Spot("ridge", HERE, LINE)),
    (FixedMatch(Fixed("sill", "sill", (), (), place=HERE), AT, 1.0, 0.9), Spot("sill", HERE, (AT,))),
    (
        PlannedFixture(Fixture("drain", place=HERE), "drain 1", AT, True, None),
        Spot("drain 1", HERE, (AT,)),
    ),
    (WallFall(WALL, AT, 0.01, 1.0), Spot("shop wall", HERE, (AT,))),
    (WaterShare("street", "edge", "street", 1.0, None, HERE, LINE), Spot("street", HERE, LINE)),
]


@pytest.mark.parametrize(("thing", "expected"), THINGS, ids=lambda value: type(value).__name__)
def test_the_spot_of_a_thing_has_its_name_its_place_and_its_shape(thing: Any, expected: Spot) -> None:
    assert spot(thing) == expected
    assert spot(thing, "the long one") == Spot("the long one", expected.place, expected.shape)


def in_force(name: str, si: float) -> InForce:
    direction: Any = "least" if name.endswith("_at_least") else "most"
    return InForce(name, depth(si), direction, "hold", "depth", "published", "published", "none", "practice")


@pytest.mark.parametrize(
    ("name", "limit", "shown", "slack"),
    [
        ("a_at_least", 0.1, 0.12, 0.2),
        ("a_at_least", 0.1, 0.1, 0.0),
        ("a_at_most", 0.1, 0.08, 0.2),
        ("a_at_most", 0.0, -0.02, 0.02),  # of the span 1 where the limit is nothing
        ("a_at_least", -0.1, -0.05, 0.5),
    ],
)
def test_slack_is_the_share_of_the_limit_that_is_left(name: str, limit: float, shown: float, slack: float) -> None:
    margin = Margin(Spot("slab", HERE), depth(shown), in_force(name, limit))
    assert margin.slack == pytest.approx(slack)


def test_slack_goes_by_what_is_asked_here() -> None:
    margin = Margin(Spot("slab", HERE), depth(0.3), in_force("a_at_most", 30), asked=depth(0.4))
    assert margin.slack == pytest.approx(0.25)


def test_a_limit_is_kept_by_amounts_and_by_numbers_alike() -> None:
    least = in_force("a_at_least", 0.1)
    assert least.met(depth(0.1)) and least.met(0.1)
    assert not least.met(0.0999)
    assert least.met(slope(0.2))


def test_reasons_and_lists_of_what_to_add_are_kept() -> None:
    with pytest.raises(DoesNotApply) as dry:
        does_not_apply("it is dry")
    assert dry.value.reason == "it is dry"
    with pytest.raises(NotShown) as bare:
        not_shown("mix.air", "mix.slump", place=Place("a.yaml", 3))
    assert (bare.value.add, bare.value.place) == (("mix.air", "mix.slump"), Place("a.yaml", 3))


# 2 % of 10 ft is 2.4 in: no less than that is 2 1/2 in, no more 2 3/8 in; worked by hand
@pytest.mark.parametrize(
    ("inches", "up", "us", "metric"),
    [(2.4, True, "2 1/2 in", "61 mm"), (2.4, False, "2 3/8 in", "60 mm"), (0.79, True, "13/16 in", "21 mm"),
     (1.0, False, "1 in", "25 mm"), (1.0, True, "1 in", "26 mm")],
)  # fmt: skip
def test_a_fall_to_set_is_no_less_or_no_more_than_asked(inches: float, up: bool, us: str, metric: str) -> None:
    for job, said in ((JOBS[-1], us), (JOBS[0], metric)):
        plan = read_and_worked(job)[0]
        assert show(on_tape(plan, inches * 0.0254, up), plan.system) == said
