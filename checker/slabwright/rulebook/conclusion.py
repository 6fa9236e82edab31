"""What a rule concludes of a thing of the plan: that it falls short, or by how much a limit is met."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from typing import NamedTuple

from slabwright.design.outline import Isolation
from slabwright.plan.channels import PlannedChannel
from slabwright.plan.edges import EdgePiece
from slabwright.plan.falls import WallFall
from slabwright.plan.finish import LineRun
from slabwright.plan.fixed import FixedMatch
from slabwright.plan.fixtures import PlannedFixture
from slabwright.plan.joints import PlannedJoint
from slabwright.plan.panels import InsideCorner, Panel
from slabwright.plan.plan import Spot
from slabwright.plan.water import WaterShare
from slabwright.rulebook.in_force import WEIGHTS, InForce
from slabwright.rulebook.remedy import Remedy, told_of
from slabwright.text.words import Step, Words, words
from slabwright.units.quantity import Amount, meets


class Face(NamedTuple):
    """Something that cannot move beside the slab, or filler that is drawn."""

    at: Spot
    filler: Isolation | None
    thickness: float  # of the slab along it, the greatest, m
    length: float  # m


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
        return self.limit.slack(self.shown, self.asked or self.limit.value)


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
