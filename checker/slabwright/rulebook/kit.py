"""The words a rule file is written in.

A rule file holds, at module level and with no classes of its own:

- its docstring, with the headings ``What is compared``, ``Why it matters``, ``When it does not apply``
  and ``How to put it right`` (and ``Where sources differ`` when they do);
- ``TITLE``: one line, what is asked, in plain words;
- ``LIMITS``: a tuple of :class:`Limit`;
- ``WORKED``: a tuple of :class:`Worked`, published numbers the rule must reproduce;
- ``judge(plan, limits)``: a pure generator of :class:`Finding` for what falls short and
  :class:`Margin` for what is met, mostly made by :func:`compare`. It first ends the rule where there is nothing to
  judge (:func:`does_not_apply`), then where the file does not say enough (``plan.given``, :func:`not_shown`), and
  only then yields; a rule that yields nothing has failed.

A rule that looks at the day of the pour, or at how much is placed on it, says ``EACH_POUR = True``: where a slab is
placed on several days it judges each of them, on a plan narrowed to that pour.

Name and group come from the path: ``rules/<group>/<rule_name>.py``.

Fixed words that name a number (a limit's meaning, a reason, something to add, a formula) say it in both unit systems,
``"fall within {10 ft|3 m} of a wall"``; see :func:`slabwright.text.words.written`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from slabwright.design.fixtures import Channel, Embedded, Fixture
from slabwright.design.heights import StatedFall
from slabwright.design.joints import Dowels, Joint
from slabwright.design.model import Load
from slabwright.design.outline import SOFT_GROUND, Edge, Isolation
from slabwright.design.point import Point
from slabwright.design.reinforcement import Bars, Mesh
from slabwright.design.thickness import EdgeBars, ThickenedEdge
from slabwright.geometry.joints.bays import cuts
from slabwright.geometry.shape.distances import nearest_on
from slabwright.geometry.shape.sides import facing_sides
from slabwright.geometry.xy import XY
from slabwright.plan.agreement import Tight
from slabwright.plan.areas import Area
from slabwright.plan.channels import PlannedChannel
from slabwright.plan.doors import Landing, Leaf
from slabwright.plan.edges import EdgePiece, filler_depth
from slabwright.plan.falls import FallPart, WallFall
from slabwright.plan.finish import LineRun
from slabwright.plan.fixed import FixedMatch
from slabwright.plan.fixtures import PlannedFixture
from slabwright.plan.flight import Flight, OpenSide
from slabwright.plan.folds import Fold
from slabwright.plan.given import does_not_apply, not_shown
from slabwright.plan.grades import NewHeight
from slabwright.plan.held import HeightAsked, Held
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.panels import InsideCorner, Panel, ThicknessChange
from slabwright.plan.plan import Plan, Spot
from slabwright.plan.pours import Meeting, meetings
from slabwright.plan.routes import Ramp, RouteStretch
from slabwright.plan.stalls import PlannedStall, StallPart, Steepest
from slabwright.plan.steel import Laid
from slabwright.plan.walls import BeforeWall, LowLine
from slabwright.plan.water import Pond, Trail, WaterShare
from slabwright.plan.water_lines import DamLine, ValleyEnd
from slabwright.plan.wheels import GradeBreak, WheelSpot
from slabwright.rulebook.conclusion import Conclusion, Conclusions, Face, Finding, Margin, compare, spot
from slabwright.rulebook.draw_bays import EvenBays, as_laid, cut_panel, spaced_evenly
from slabwright.rulebook.draw_edges import thicken_edge
from slabwright.rulebook.draw_joints import (
    ahead_of,
    beside_corner,
    carried_on,
    cut_at_corners,
    evened,
    joint_at,
    left_out,
    longest_beside,
    new_joints,
    opened,
    squarest_of,
    way_of,
    widened,
)
from slabwright.rulebook.heights import (
    FALL_GIVE,
    base_not_shown,
    broken_fall,
    even_riser,
    fall_give,
    finish_asked,
    heights_asked,
    heights_not_shown,
    lowered,
    met_along,
    must_shed_rain,
    needs_heights,
    new_heights,
    on_tape,
    run_told,
    such_height,
    tape_step,
    whole_slab_moved,
)
from slabwright.rulebook.in_force import WEIGHTS, Cite, InForce, Limit, Limits
from slabwright.rulebook.remedy import (
    Remedy,
    append,
    drop,
    fill,
    leading,
    place_of,
    set_heights,
    through,
    together,
    write,
    write_slump,
)
from slabwright.rulebook.rule import Worked
from slabwright.source.place import Place
from slabwright.text.words import Step, Value, Words, cannot_all_hold, move_by, step, words
from slabwright.units.quantity import (
    Amount,
    Kind,
    angle,
    area,
    count,
    coverage,
    depth,
    duration,
    evaporation,
    force,
    height,
    length,
    line_load,
    mass,
    meets,
    pressure,
    ratio,
    round_up,
    roundest,
    same,
    share,
    slope,
    small_volume,
    speed,
    steel_area,
    strength_class,
    stress,
    subgrade,
    temperature,
    unit_weight,
    volume,
)

__all__ = [  # noqa: RUF022 - by subject
    # a rule, its limits, and what it concludes
    "Cite", "Conclusion", "Conclusions", "Face", "Finding", "InForce", "Limit", "Limits", "Margin", "WEIGHTS",
    "Worked", "compare", "spot",
    # how a rule ends
    "does_not_apply", "not_shown",
    # amounts, by kind
    "Amount", "Kind", "angle", "area", "count", "coverage", "depth", "duration", "evaporation", "force", "height",
    "length", "line_load", "mass", "meets", "pressure", "ratio", "round_up", "roundest", "same", "share", "slope",
    "small_volume", "speed", "steel_area", "strength_class", "stress", "subgrade", "temperature", "unit_weight",
    "volume",
    # sentences and arithmetic
    "Step", "Value", "Words", "cannot_all_hold", "move_by", "step", "words",
    # what the file says
    "Bars", "Channel", "Dowels", "Edge", "EdgeBars", "Embedded", "Fixture", "Isolation", "Joint", "Load", "Mesh",
    "Place", "Point", "StatedFall", "ThickenedEdge",
    # the worked plan, and what is measured on it
    "Area", "BeforeWall", "DamLine", "EdgePiece", "FallPart", "FixedMatch", "Flight", "Fold", "GradeBreak",
    "HeightAsked", "Held", "InsideCorner", "Laid", "Landing", "Leaf", "LineRun", "LowLine", "Meeting", "NewHeight",
    "OpenSide", "Panel", "Plan", "PlannedChannel", "PlannedFixture", "PlannedJoint", "PlannedStall", "Pond", "Ramp",
    "RouteStretch", "Spot", "StallPart", "Steepest", "ThicknessChange", "Tight", "Trail", "ValleyEnd", "WallFall",
    "WaterShare", "WheelSpot", "XY", "cuts", "facing_sides", "filler_depth", "meetings", "nearest_on",
    # heights and falls
    "FALL_GIVE", "SOFT_GROUND", "base_not_shown", "broken_fall", "even_riser", "fall_give", "finish_asked",
    "heights_asked", "heights_not_shown", "lowered", "met_along", "must_shed_rain", "needs_heights", "new_heights",
    "on_tape", "run_told", "such_height", "tape_step", "whole_slab_moved",
    # remedies
    "EvenBays", "Remedy", "ahead_of", "append", "as_laid", "beside_corner", "carried_on", "cut_at_corners", "cut_panel",
    "drop", "evened", "fill", "joint_at", "leading", "left_out", "longest_beside", "new_joints", "opened", "place_of",
    "set_heights", "spaced_evenly", "squarest_of", "thicken_edge", "through", "together", "way_of", "widened", "write",
    "write_slump",
    # types of Python
    "Callable", "Iterator", "Sequence",
]  # fmt: skip
