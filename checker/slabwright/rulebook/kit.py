"""The words a rule file is written in.

A rule file holds, at module level and with no classes of its own:

- its docstring, with the headings ``What is compared``, ``Why it matters``, ``When it does not apply``
  and ``How to put it right`` (and ``Where sources differ`` when they do);
- ``TITLE``: one line, what is asked, in plain words;
- ``LIMITS``: a tuple of :class:`Limit`;
- ``WORKED``: a tuple of :class:`Worked`, published numbers the rule must reproduce;
- ``relevant(plan)``: :data:`APPLIES`, or :func:`does_not_apply`, or :func:`not_shown`;
- ``judge(plan, limits)``: a pure generator of :class:`Finding` for what falls short and
  :class:`Margin` for what is met.

Name and group come from the path: ``rules/<group>/<rule_name>.py``.

Fixed words that name a number (a limit's meaning, a reason, something to add, a formula) say it in both unit systems,
``"fall within {10 ft|3 m} of a wall"``; see :func:`slabwright.text.words.written`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal, NamedTuple

from slabwright.plan.plan import Plan
from slabwright.plan.things import (
    EdgePiece,
    FixedMatch,
    InsideCorner,
    LineRun,
    NewHeight,
    Panel,
    PlannedFixture,
    PlannedJoint,
    WallFall,
    WaterShare,
)
from slabwright.source.place import Place
from slabwright.text.words import Words, words
from slabwright.units.quantity import (
    Amount,
    Kind,
    angle,
    area,
    count,
    depth,
    duration,
    force,
    height,
    length,
    line_load,
    mass,
    meets,
    pressure,
    ratio,
    share,
    slope,
    small_volume,
    steel_area,
    stress,
    subgrade,
    temperature,
    unit_weight,
    volume,
)

__all__ = [
    "APPLIES", "GROUPS", "LAYERS", "WEIGHTS", "Amount", "Applies", "Cite", "DoesNotApply", "Finding", "InForce",
    "Kind", "Limit", "Limits", "Margin", "NotShown", "Place", "Plan", "Relevance", "Spot", "Step", "Weight",
    "Words", "Worked", "angle", "area", "base_not_shown", "compared", "count", "depth", "does_not_apply", "duration",
    "force", "height", "heights_not_shown", "length", "line_load", "mass", "not_shown", "pressure", "ratio", "share",
    "slope", "small_volume", "spot", "steel_area", "step", "stress", "subgrade", "temperature", "unit_weight",
    "volume", "words", "write_heights",
]  # fmt: skip

Weight = Literal["hold", "caution", "note"]
Layer = Literal["published", "region", "town", "firm", "job"]
Direction = Literal["least", "most"]

WEIGHTS: tuple[Weight, ...] = ("hold", "caution", "note")
LAYERS: tuple[Layer, ...] = ("published", "region", "town", "firm", "job")  # each lies over the ones before it
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
    set_by: str  # "published", or the name of the amendments
    citation: str  # printed source, with how it is known
    known: str  # read | quoted | recalled | practice | derived | stated (by amendments)
    looser: bool = False  # asks less than the published limit, or weighs less
    published: Amount | None = None  # the published value, where another layer changed it
    place: Place | None = None  # in the amendments file
    published_weight: Weight | None = None  # the published weight, where another layer changed it
    reason: str = ""  # as the amendments give it
    replaced: InForce | None = None  # what other amendments had set before these

    def met(self, value: Amount | float) -> bool:
        """Whether ``value`` (SI) keeps the limit, within the one shared tolerance."""
        si = value.si if isinstance(value, Amount) else value
        return meets(si, self.value.si, self.direction)


class Limits(Mapping[str, InForce]):
    """The limits in force for one rule, by name; ``limits.aspect_at_most`` reads as well as ``limits["..."]``."""

    def __init__(self, by_name: Mapping[str, InForce]) -> None:
        self._by_name = dict(by_name)
        self.__dict__.update(self._by_name)  # found at once, without asking __getattr__
        self.amended = tuple(limit for limit in self._by_name.values() if limit.layer != "published")

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


class Spot(NamedTuple):
    """The thing a finding speaks of: its name, its shape on the plan (metres), and its place in the file.

    ``shape`` is one point, a line of two or more, or a closed ring when first and last are equal.
    """

    name: str
    place: Place
    shape: tuple[tuple[float, float], ...] = ()


def write_heights(heights: Sequence[NewHeight], otherwise: Words) -> Words:
    """The sentence that tells which heights to write; ``otherwise`` where there are none, or more than six."""
    if not 0 < len(heights) <= 6:
        return otherwise
    parts: list[str] = []
    values: dict[str, Amount | str] = {}
    for number, one in enumerate(heights, 1):
        verb = "raise" if one.new > one.old else "lower"
        parts.append(f"{verb} {{name{number}}} by {{off{number}}}, to {{to{number}}}")
        values |= {
            f"name{number}": one.name, f"off{number}": depth(abs(one.new - one.old)), f"to{number}": height(one.new)
        }  # fmt: skip
    return words("; ".join(parts), **values)


Thing = Panel | PlannedJoint | InsideCorner | EdgePiece | LineRun | FixedMatch | PlannedFixture | WallFall | WaterShare


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
        case WallFall():
            return Spot(name or thing.edge.name, thing.edge.place, (thing.at,))
        case WaterShare():
            return Spot(name or thing.to, thing.place, thing.shape)


class Step(NamedTuple):
    """One line of arithmetic: what is worked, the formula in words, the numbers put in, the result."""

    what: str
    formula: str
    numbers: Words
    result: Amount


def step(what: str, formula: str, numbers: Words, result: Amount) -> Step:
    """One line of arithmetic, for ``working``.

    >>> from slabwright.rulebook.kit import depth, step, words
    >>> step("least cut", "thickness / 4", words("{t} / 4", t=depth(0.127)), depth(0.03175)).what
    'least cut'
    """
    return Step(what, formula, numbers, result)


class Finding(NamedTuple):
    """One shortfall: where, what is shown, which limit it breaks, the arithmetic, and what would make it pass.

    ``asked`` is the limit as it applies here when it is worked from something (30 times a
    thickness of 5 in is 12'-6"); without it the limit's own value is printed.
    """

    at: Spot
    says: Words
    shown: Amount
    limit: InForce
    working: tuple[Step, ...]
    to_pass: Words
    asked: Amount | None = None


class Margin(NamedTuple):
    """One comparison that is met; the tightest of a rule is reported."""

    at: Spot
    shown: Amount
    limit: InForce
    asked: Amount | None = None

    @property
    def slack(self) -> float:
        """How far inside the limit, as a share of the limit (of the span 1 where the limit is 0)."""
        asked = (self.asked or self.limit.value).si
        gap = self.shown.si - asked if self.limit.direction == "least" else asked - self.shown.si
        return gap / abs(asked) if asked else gap


def compared(
    limits: Limits,
    names: Sequence[str],
    at: Spot,
    shown: Amount,
    says: Words,
    to_pass: Words,
    working: tuple[Step, ...] = (),
) -> Finding | Margin:
    """What ``shown`` comes to against the limits ``names``: the heaviest one broken, or the margin to the last one.

    ``to_pass`` is read only when one is broken, and should bring the value to all of them.
    """
    limit = limits.broken(shown, *names)
    return Finding(at, says, shown, limit, working, to_pass) if limit else Margin(at, shown, limits[names[-1]])


@dataclass(frozen=True, slots=True)
class Applies:
    """The rule can be judged on this plan."""


class DoesNotApply(NamedTuple):
    """Nothing on this plan for the rule to judge, and why."""

    reason: str


class NotShown(NamedTuple):
    """The file does not say enough; ``add`` names what to write, ``place`` where it belongs."""

    add: tuple[str, ...]
    place: Place | None = None


Relevance = Applies | DoesNotApply | NotShown
APPLIES = Applies()


def does_not_apply(reason: str) -> DoesNotApply:
    """``relevant`` returns this when there is nothing to judge; ``reason`` is a clause ("no joints are drawn")."""
    return DoesNotApply(reason)


def not_shown(*add: str, place: Place | None = None) -> NotShown:
    """``relevant`` returns this when the file lacks what the rule needs; name each thing to add."""
    return NotShown(tuple(add), place)


def heights_not_shown(plan: Plan) -> NotShown:
    """``relevant`` returns this when a rule needs the finish surface and a corner has no height."""
    names = plan.finish.missing
    listed = ", ".join(names[:8]) + (f" and {len(names) - 8} more" if len(names) > 8 else "")
    such = "99.90" if plan.design.height_unit in ("ft", "in") else "100.000"
    return not_shown(
        f"heights.finish: the finish height at {listed}, such as {such}", place=plan.place("heights.finish", "heights")
    )


def base_not_shown(plan: Plan, *more: str) -> NotShown:
    """``relevant`` returns this when a rule needs shots on the prepared base; ``more`` names what else it needs."""
    such = "99.50" if plan.design.height_unit in ("ft", "in") else "99.850"
    base = f"heights.base: three or more heights of the prepared base on the slab, such as A: {such}"
    return not_shown(*more, base, place=plan.place("heights.base", "heights", "thickness"))


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
    relevant: Callable[..., Relevance]
    judge: Callable[..., Iterator[Finding | Margin]]
    file: str
    own: bool = False  # from a firm's own rules folder
    in_force: Mapping[str, InForce] = MappingProxyType({})  # the published limits, read and cited
