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

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from types import MappingProxyType
from typing import Literal, NamedTuple, NoReturn

from slabwright.design.model import (
    Bars,
    Channel,
    Dowels,
    Edge,
    EdgeBars,
    Embedded,
    Fixture,
    Isolation,
    Joint,
    Load,
    Mesh,
    Point,
    StatedFall,
    ThickenedEdge,
)
from slabwright.formulas.units import INCH
from slabwright.geometry.joints.bays import cuts
from slabwright.geometry.shape.nearest import nearest_on
from slabwright.geometry.shape.sides import facing_sides
from slabwright.plan.given import DoesNotApply, NotShown, does_not_apply
from slabwright.plan.plan import Plan
from slabwright.plan.pours import Meeting, meetings
from slabwright.plan.stalls import PlannedStall, StallPart, Steepest
from slabwright.plan.things import (
    XY,
    Area,
    BeforeWall,
    DamLine,
    EdgePiece,
    Face,
    FallPart,
    FixedMatch,
    Flight,
    Fold,
    GradeBreak,
    HeightAsked,
    Held,
    HeldRoom,
    InsideCorner,
    Laid,
    Landing,
    LineRun,
    LowLine,
    NewHeight,
    Panel,
    PlannedChannel,
    PlannedFixture,
    PlannedJoint,
    Pond,
    Ramp,
    RouteStretch,
    Spot,
    ThicknessChange,
    Tight,
    Trail,
    ValleyEnd,
    WallFall,
    WaterShare,
    WheelSpot,
    filler_depth,
)
from slabwright.rulebook.draw_edges import thicken_edge
from slabwright.rulebook.draw_joints import (
    ahead_of,
    as_laid,
    carried_on,
    cut_panel,
    evened,
    joint_at,
    longest_beside,
    new_joints,
    opened,
    redraw,
    shifted,
    squarest_of,
    way_of,
    widened,
)
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
    told_of,
    write,
)
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

__all__ = [
    "FALL_GIVE",
    "GROUPS",
    "LAYERS",
    "WEIGHTS",
    "XY",
    "Amount",
    "Area",
    "Bars",
    "BeforeWall",
    "Callable",
    "Channel",
    "Cite",
    "Conclusion",
    "Conclusions",
    "DamLine",
    "DoesNotApply",
    "Dowels",
    "Edge",
    "EdgeBars",
    "EdgePiece",
    "Embedded",
    "Face",
    "FallPart",
    "Finding",
    "FixedMatch",
    "Fixture",
    "Flight",
    "Fold",
    "GradeBreak",
    "HeightAsked",
    "Held",
    "InForce",
    "InsideCorner",
    "Isolation",
    "Iterator",
    "Joint",
    "Kind",
    "Laid",
    "Landing",
    "Limit",
    "Limits",
    "LineRun",
    "Load",
    "LowLine",
    "Margin",
    "Meeting",
    "Mesh",
    "NewHeight",
    "NotShown",
    "Panel",
    "Place",
    "Plan",
    "PlannedChannel",
    "PlannedFixture",
    "PlannedJoint",
    "PlannedStall",
    "Point",
    "Pond",
    "Ramp",
    "Remedy",
    "RouteStretch",
    "Rule",
    "Sequence",
    "Spot",
    "StallPart",
    "StatedFall",
    "Steepest",
    "Step",
    "ThickenedEdge",
    "ThicknessChange",
    "Tight",
    "Trail",
    "ValleyEnd",
    "Value",
    "WallFall",
    "WaterShare",
    "Weight",
    "WheelSpot",
    "Words",
    "Worked",
    "ahead_of",
    "angle",
    "append",
    "area",
    "as_laid",
    "base_not_shown",
    "broken_fall",
    "cannot_all_hold",
    "carried_on",
    "compare",
    "count",
    "coverage",
    "cut_panel",
    "cuts",
    "depth",
    "does_not_apply",
    "drop",
    "duration",
    "evaporation",
    "evened",
    "facing_sides",
    "fall_give",
    "fill",
    "filler_depth",
    "finish_asked",
    "force",
    "height",
    "heights_asked",
    "heights_not_shown",
    "joint_at",
    "leading",
    "length",
    "line_load",
    "longest_beside",
    "lowered",
    "mass",
    "meetings",
    "meets",
    "move_by",
    "nearest_on",
    "new_heights",
    "new_joints",
    "not_shown",
    "on_tape",
    "opened",
    "place_of",
    "pressure",
    "ratio",
    "redraw",
    "round_up",
    "set_heights",
    "share",
    "shifted",
    "slope",
    "small_volume",
    "speed",
    "spot",
    "squarest_of",
    "steel_area",
    "step",
    "strength_class",
    "stress",
    "subgrade",
    "temperature",
    "thicken_edge",
    "through",
    "together",
    "unit_weight",
    "volume",
    "way_of",
    "widened",
    "words",
    "write",
    "write_heights",
]  # fmt: skip

Weight = Literal["hold", "caution", "note"]
Layer = Literal["published", "own rule", "region", "town", "firm", "job"]
Direction = Literal["least", "most"]

WEIGHTS: tuple[Weight, ...] = ("hold", "caution", "note")
LAYERS: tuple[Layer, ...] = ("published", "own rule", "region", "town", "firm", "job")  # each lies over those before
SOFT = ("lawn", "bed", "gravel", "open ground")  # beside an edge, and graded with a shovel
FALL_GIVE = 0.05  # part of a limit on a fall by which it may be missed: common practice
GROUPS: tuple[str, ...] = (
    "water", "heights", "thickness", "joints", "isolation", "steel", "base", "mix", "order", "dig", "pour", "site",
    "drawing",
)  # fmt: skip


class Cite(NamedTuple):
    """A source by its key in ``rules/sources.yaml``, and where in it."""

    source: str
    where: str = ""


class Limit(NamedTuple):
    """A number a rule compares with: value, unit, direction, sane range, weight and source in one declaration.

    ``name`` ends in ``_at_least`` or ``_at_most``; ``value`` and both ends of ``sane`` are written
    as the trade writes them (``"1/4 in/ft"``, ``"30"`` for a ratio). ``meaning`` says in a few words what it is.
    """

    name: str
    value: str
    kind: Kind
    weight: Weight
    cite: Cite
    sane: tuple[str, str]
    meaning: str

    @property
    def direction(self) -> Direction:
        """``"least"`` or ``"most"``, from the name."""
        return "least" if self.name.endswith("_at_least") else "most"


class InForce(NamedTuple):
    """A limit after all layers: what rules compare with and what writers print beside it."""

    name: str
    value: Amount
    direction: Direction
    weight: Weight
    meaning: str
    layer: Layer
    set_by: str  # "published", the firm's own rule, or the name of the amendments
    citation: str  # printed source, with how it is known
    known: str  # read | quoted | recalled | practice | derived | stated (by amendments)
    looser: bool = False  # asks less than the published limit, or weighs less
    published: Amount | None = None  # the published value, where another layer changed it
    place: Place | None = None  # in the amendments file
    published_weight: Weight | None = None  # the published weight, where another layer changed it
    reason: str = ""  # as the amendments give it
    replaced: InForce | None = None  # what other amendments, or a firm's own rule, had set before these
    own: bool = False  # of a firm's own rule, which nobody published

    @property
    def amended(self) -> bool:
        """Whether local amendments set it, and not the rule itself."""
        return self.layer not in ("published", "own rule")

    @property
    def stated(self) -> str:
        """What the value is called that the rule itself states."""
        return "own rule" if self.own else "published"

    def met(self, value: Amount | float) -> bool:
        """Whether ``value`` (SI) keeps the limit, within the one shared tolerance."""
        si = value.si if isinstance(value, Amount) else value
        return meets(si, self.value.si, self.direction)


class Limits(Mapping[str, InForce]):
    """The limits in force for one rule, by name; ``limits.aspect_at_most`` reads as well as ``limits["..."]``."""

    def __init__(self, by_name: Mapping[str, InForce]) -> None:
        self._by_name = dict(by_name)
        self.__dict__.update(self._by_name)  # found at once, without asking __getattr__
        self.amended = tuple(limit for limit in self._by_name.values() if limit.amended)

    def __getitem__(self, name: str) -> InForce:
        return self._by_name[name]

    def __getattr__(self, name: str) -> InForce:
        raise AttributeError(f"no limit named {name!r}")

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_name)

    def __len__(self) -> int:
        return len(self._by_name)

    def includes(self, limit: InForce) -> bool:
        """Whether ``limit`` is one of these, and not only like one."""
        return self._by_name.get(limit.name) is limit

    def broken(self, value: Amount | float, *names: str) -> InForce | None:
        """The heaviest of ``names`` that ``value`` does not keep (the first named of equals), or None if it keeps all.

        Weights are those in force: amendments may have changed which of two limits weighs more.
        """
        not_kept = [limit for limit in map(self._by_name.__getitem__, names) if not limit.met(value)]
        return min(not_kept, key=lambda limit: WEIGHTS.index(limit.weight)) if not_kept else None


def write_heights(heights: Sequence[NewHeight], otherwise: Words) -> Words:
    """The sentence that tells which heights to write; ``otherwise`` where there are none, or more than six."""
    return told_of(set_heights(heights), otherwise)


def new_heights(plan: Plan, heights: Sequence[NewHeight], says: Words | None = None) -> list[Remedy]:
    """Write new heights at points, as :func:`set_heights`, and with them the typed falls that they change.

    A typed fall that would have to be turned round is left as it is.
    """
    found = set_heights(heights, says)
    if not found:
        return []
    new = {one.name: one.new for one in heights}
    falls = []
    for stated in plan.design.heights.falls:
        levels = [new.get(point.name, plan.finish.at((point.x, point.y))) for point in stated.along]
        if not any(point.name in new for point in stated.along) or levels[0] is None or levels[1] is None:
            continue
        run = math.dist(*((point.x, point.y) for point in stated.along))
        fall = slope((levels[0] - levels[1]) / run)
        if fall.si >= 0 and abs(fall.si - stated.fall.si) > FALL_GIVE * stated.fall.si:
            names = [plan.shape.name_at((point.x, point.y)) for point in stated.along]
            told = words("write the fall from {first} to {last} as {fall}", first=names[0], last=names[1], fall=fall)
            falls.append(write(f"{stated.place.path}.fall", fall, told))
    return [together(*found, *falls)] if falls else found


def lowered(plan: Plan, heights: Sequence[NewHeight]) -> list[Remedy]:
    """New heights as alternatives: alone, and with the soft ground beside lowered points cut down to keep its lip."""
    alone = set_heights(heights)
    new = {one.name: one for one in heights if one.new < one.old}
    cuts: list[Remedy] = []
    for edge in plan.design.edges if alone else ():
        path, one_for_all = f"{edge.place.path}.ground", len(edge.ground) == 1
        names = [plan.shape.name_at((point.x, point.y)) for point in edge.run]
        down = {k: new[name].old - new[name].new for k, name in enumerate(names or new) if name in new}
        if not down or not edge.ground or edge.beside not in SOFT:
            continue
        for k, less in {0: max(down.values())}.items() if one_for_all else down.items():
            low = height(plan.grades.written(edge.ground[k].si - less, up=False))
            where = "beside them" if one_for_all else f"at {names[k]}"
            says = words("cut the {soft} {where} down to {low}", soft=edge.beside, where=where, low=low)
            cuts.append(write(path if one_for_all else f"{path}[{k}]", low, says))
    return [*alone, *([together(alone[0], *cuts)] if cuts else [])]


Thing = (
    Panel | PlannedJoint | InsideCorner | EdgePiece | LineRun | FixedMatch | PlannedFixture | PlannedChannel
    | WallFall | WaterShare
)  # fmt: skip


def spot(thing: Thing, name: str = "") -> Spot:
    """The spot of a thing of the worked plan: its name (or ``name``), its place in the file, its shape."""
    match thing:
        case Panel():
            return Spot(name or f"panel {thing.name}", thing.place, thing.ring)
        case PlannedJoint():
            return Spot(name or f"joint {thing.name}", thing.joint.place, thing.line)
        case InsideCorner():
            return Spot(name or thing.name, thing.place, (thing.at,))
        case EdgePiece():
            return Spot(name or thing.name, thing.place, thing.line)
        case LineRun():
            return Spot(name or f"{thing.line.kind} {thing.line.name}".strip(), thing.line.place, thing.xy)
        case FixedMatch():
            return Spot(name or thing.fixed.name, thing.fixed.place, (thing.at,))
        case PlannedFixture():
            return Spot(name or thing.name, thing.fixture.place, (thing.at,))
        case PlannedChannel():
            return Spot(name or thing.name, thing.channel.place, thing.line)
        case WallFall():
            return Spot(name or thing.edge.name, thing.edge.place, (thing.at,))
        case WaterShare():
            return Spot(name or thing.to, thing.place, thing.shape)


class Finding(NamedTuple):
    """One shortfall: where, what is shown, which limit it breaks, the arithmetic, and what would make it pass.

    ``asked`` is the limit as it applies here when it is worked from something (30 times a
    thickness of 5 in is 12'-6"); without it the limit's own value is printed. ``remedies`` are alternatives, the best
    first; ``to_pass`` tells the first of them, or what a person has to decide where there is none.
    """

    at: Spot
    says: Words
    shown: Amount
    limit: InForce
    working: tuple[Step, ...]
    to_pass: Words
    asked: Amount | None = None
    remedies: tuple[Remedy, ...] = ()
    give: float = 0.0  # SI: how far beyond the limit still counts as met
    decide: Words | None = None  # what a person decides where no remedy holds


class Margin(NamedTuple):
    """One comparison that is met; the tightest of a rule is reported."""

    at: Spot
    shown: Amount
    limit: InForce
    asked: Amount | None = None
    give: float = 0.0

    @property
    def slack(self) -> float:
        """How far inside the limit, as a share of the limit (of the span 1 where the limit is 0)."""
        asked = (self.asked or self.limit.value).si
        gap = self.shown.si - asked if self.limit.direction == "least" else asked - self.shown.si
        return gap / abs(asked) if asked else gap


Conclusion = Finding | Margin
Conclusions = Iterator[Finding | Margin]


_BARE: ContextVar[bool] = ContextVar("_BARE", default=False)
_UNSAID = words("")


@contextmanager
def bare() -> Iterator[None]:
    """Findings made within it carry no words, no working and no remedies: for trials, which only count them."""
    before = _BARE.set(True)
    try:
        yield
    finally:
        _BARE.reset(before)


def compare(
    at: Spot,
    shown: Amount,
    *limits: InForce,
    says: Callable[[], Words],
    working: Callable[[], Step | tuple[Step, ...]] = tuple,
    remedy: Callable[[], Remedy | Sequence[Remedy]] = tuple,
    decide: Callable[[], Words] | None = None,
    asked: Amount | None = None,
    give: float = 0.0,
) -> Finding | Margin:
    """What ``shown`` comes to against one limit, or several of the same direction.

    Of several the heaviest that is broken speaks; met, the margin is that to the last one named. ``asked`` is the
    limit as it applies here, where it is worked from something. ``give`` (SI, not below zero) is how far beyond the
    limit still counts as met, for values that are written or built no finer. The words, the arithmetic, the remedies
    (none: a person decides, and ``decide`` says what) are only made where something falls short.

    Raises ValueError where neither a remedy nor ``decide`` tells what would make it pass.
    """
    broken = [one for one in limits if not _met(shown, asked or one.value, one, give)]
    if not broken:
        return Margin(at, shown, limits[-1], asked, give)
    limit = min(broken, key=lambda one: WEIGHTS.index(one.weight))
    if _BARE.get():
        return Finding(at, _UNSAID, shown, limit, (), _UNSAID, asked, give=give)
    steps, offered = working(), remedy()
    offered = (offered,) if isinstance(offered, Remedy) else tuple(offered)
    left = decide() if decide else None
    return Finding(
        at=at,
        says=says(),
        shown=shown,
        limit=limit,
        working=(steps,) if isinstance(steps, Step) else steps,
        to_pass=told_of(offered, left),
        asked=asked,
        remedies=offered,
        give=give,
        decide=left,
    )


def _met(shown: Amount, asked: Amount, limit: InForce, give: float) -> bool:
    return meets(shown.si + (give if limit.direction == "least" else -give), asked.si, limit.direction)


def fall_give(plan: Plan, limit: Amount, run: float) -> float:
    """How far beyond a ``limit`` a fall over ``run`` m still counts as met, for ``compare(..., give=...)``.

    A fall is short only where it misses by more than a twentieth of the limit, and by more than half a step of the
    heights as typed makes over the run: no form is set closer. Accessibility limits are strict and take no give.
    """
    return max(FALL_GIVE * abs(limit.si), plan.finish.typed_step / 2 / run if run > 0 else 0.0)


def on_tape(plan: Plan, meters: float, up: bool) -> Amount:
    """A fall to set with a tape, in its next eighth (under an inch sixteenth) or millimeter: no less, or no more."""
    step = 0.001 if plan.system == "metric" else INCH / 8 if meters >= INCH else INCH / 16
    steps = meters / step
    return depth(step * (math.ceil(steps - 1e-6) if up else math.floor(steps + 1e-6)))


def broken_fall(plan: Plan, fall: float, run: float, *limits: InForce) -> InForce:
    """The heaviest limit that a ``fall`` over ``run`` m misses by more than the give; the last where it keeps all."""
    broken = [limit for limit in limits if not limit.met(fall + fall_give(plan, limit.value, run))]
    return min(broken, key=lambda limit: WEIGHTS.index(limit.weight), default=limits[-1])


def heights_asked(plan: Plan, limits: Limits) -> dict[HeightAsked, tuple[InForce, ...]]:
    """The limits of ``fixed-heights-agree`` on each thing asked between heights that cannot move, in order."""
    by_use = {"driveway": "drive_at_most", "walk": "walk_at_most"}
    steepest = max((limits[by_use.get(use, "slab_at_most")] for use in plan.areas.uses), key=lambda one: one.value.si)
    asked: dict[HeightAsked, tuple[InForce, ...]] = {
        "steepest": (limits["any_at_most"], steepest),
        "door step": (limits["door_step_at_most"],),
        "base": (limits["short_over_base_at_most"],),
    }
    if plan.shedding:
        us = plan.home == "us" or limits["away_at_least"].amended
        asked["lip"] = (limits["lip_at_least"],)
        asked["outlet"] = (limits["out_at_least"], limits["room_to_fall_at_least"])
        asked["away"] = (limits["away_at_least" if us else "plain_away_at_least"],)
        asked["low line"] = (limits["valley_at_least"],)
    return asked


def heights_room(plan: Plan, limits: Limits) -> tuple[HeldRoom, ...]:
    """How far each height that cannot move could go, alone, with all else that is asked kept as far as can be."""
    kept: dict[HeightAsked, float] = {}
    for sort, own in heights_asked(plan, limits).items():
        tight, limit = plan.agreement.tight(sort, kept), own[-1]
        kept[sort] = limit.value.si if tight is None or limit.met(tight.amount) else tight.amount
    return plan.agreement.rooms(kept) if len(plan.agreement.held) > 1 else ()


def not_shown(*add: str, place: Place | None = None) -> NoReturn:
    """End the rule: the file lacks what it needs; name each thing to add as ``"key: what it is, such as value"``."""
    raise NotShown(tuple(add), place or Place(""))


def heights_not_shown(plan: Plan) -> NoReturn:
    """End the rule: it needs the finish surface, and a corner has no height."""
    not_shown(finish_asked(plan), place=plan.place("heights.finish", "heights"))


def finish_asked(plan: Plan) -> str:
    """What to add where corners have no finish height."""
    names = plan.finish.missing
    listed = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    such = "99.90" if plan.design.height_unit in ("ft", "in") else "100.000"
    return f"heights.finish: the finish height at {listed}, such as {such}"


def base_not_shown(plan: Plan, *more: str) -> NoReturn:
    """End the rule: it needs shots on the prepared base; ``more`` names what else it needs."""
    such = "99.50" if plan.design.height_unit in ("ft", "in") else "99.850"
    base = f"heights.base: three or more heights of the prepared base on the slab, such as A: {such}"
    not_shown(*more, base, place=plan.place("heights.base", "heights", "thickness"))


class Worked(NamedTuple):
    """A published number this rule's arithmetic must reproduce.

    ``check`` is the id of an entry in ``tests/data/checks.yaml`` where there is one; ``ours``
    computes the value (SI) with the same formula the rule uses, ``printed`` is what the source prints.
    """

    what: str
    printed: Amount
    ours: Callable[[], float]
    within: float  # absolute, SI
    cite: Cite
    check: str = ""


class Rule(NamedTuple):
    """A rule file, loaded; made by the catalogue from the module and its path."""

    name: str
    group: str
    title: str
    page: Mapping[str, str]  # heading -> text of the docstring
    summary: str  # first line of the docstring
    limits: tuple[Limit, ...]
    worked: tuple[Worked, ...]
    judge: Callable[..., Iterator[Finding | Margin]]
    file: str
    own: bool = False  # from a firm's own rules folder
    each_pour: bool = False  # of several pours it judges each by its own day and area
    in_force: Mapping[str, InForce] = MappingProxyType({})  # the published limits, read and cited
