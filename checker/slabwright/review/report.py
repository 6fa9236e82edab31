"""The finished report: the conclusions of every rule and the worked plan's own figures, ready for any writer."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any, NamedTuple

from slabwright.plan.plan import Spot
from slabwright.rulebook.conclusion import Finding
from slabwright.rulebook.in_force import InForce, Weight
from slabwright.rulebook.remedy import Remedy
from slabwright.rulebook.rule import Rule
from slabwright.source.place import Place
from slabwright.text.words import Step, Words, words
from slabwright.units.quantity import Amount, System

NAMED = 6  # other places of a comment named in its sentence
LOCAL_CODE = (
    "The adopted local code and licensed practice govern. This review compares a plan with the limits it names; "
    "it does not see the ground, the mix as delivered, or the work on the day."
)


class Size(NamedTuple):
    """The job in numbers, SI: area, thickness, concrete as drawn and as ordered, and how many loads bring it."""

    area: float
    thicknesses: tuple[float, ...]  # the design thicknesses of its parts, least first
    net: float
    ordered: float | None = None
    loads: int | None = None


class VarianceNote(NamedTuple):
    """A variance that covers a comment."""

    reason: str
    accepted_by: str
    date: str
    place: Place


class Comment(NamedTuple):
    """One numbered comment of the review."""

    number: int
    rule: str
    group: str
    title: str
    weight: Weight
    at: Spot
    says: Words
    shown: Amount
    asked: Amount
    limit: InForce
    working: tuple[Step, ...]
    to_pass: Words
    remedies: tuple[Remedy, ...] = ()  # alternatives, the best first; none: a person decides
    decide: Words | None = None  # what a person decides where no remedy holds
    tried: bool = False  # ``to_pass`` was applied, and holds
    settled_by: int | None = None  # the number of a comment before it whose remedy, as tried, settles this one too
    variance: VarianceNote | None = None  # set: accepted, does not count
    rests_on: str = ""  # the one height that looks misread, such as "the finish at C", without which it is gone
    alike: tuple["Comment", ...] = ()  # where it speaks for several places: each as it would be alone, the worst first

    @property
    def places(self) -> tuple["Comment", ...]:
        """Each place that it speaks for as a comment of its own, the worst first."""
        return self.alike or (self,)

    @property
    def others(self) -> tuple["Comment", ...]:
        """The places that it speaks for besides the worst."""
        return self.alike[1:]

    @property
    def likewise(self) -> str:
        """The names of the other places, with no more in front of each than tells them apart; empty where none is."""
        names = [one for one in dict.fromkeys(one.at.name for one in self.others) if one != self.at.name]
        return listed(brief((self.at.name, *names))[1:])

    @property
    def told(self) -> Words:
        """What it says of the worst place, and where else it is so."""
        if not self.likewise:
            return self.says
        return words(f"{self.says.template}; likewise {{likewise}}", **self.says.values, likewise=self.likewise)

    @property
    def slack(self) -> float:
        """How far inside its limit the value lies, as a share of it, so below zero: the least is the worst."""
        return round(self.limit.slack(self.shown, self.asked), 9)  # places that differ by a hair stay in their order


class Met(NamedTuple):
    """A rule that is met, with its tightest margin (None where the rule compares nothing here)."""

    rule: str
    group: str
    title: str
    at: Spot | None = None
    shown: Amount | None = None
    asked: Amount | None = None
    limit: InForce | None = None
    slack: float | None = None


class NotShownEntry(NamedTuple):
    """A rule the file does not say enough for."""

    rule: str
    group: str
    title: str
    add: tuple[str, ...]
    place: Place


class NotApplying(NamedTuple):
    """A rule with nothing to judge here."""

    rule: str
    group: str
    title: str
    reason: str


class Crash(NamedTuple):
    """A rule that failed in itself: says where, never a traceback."""

    rule: str
    group: str
    place: Place  # in the rule file
    what: str


@dataclass(eq=False)
class Conclusions:
    """What the rules have concluded so far on one plan."""

    found: list[tuple[Rule, Finding]] = field(default_factory=list)
    met: list[Met] = field(default_factory=list)
    not_shown: list[NotShownEntry] = field(default_factory=list)
    does_not_apply: list[NotApplying] = field(default_factory=list)
    crashes: list[Crash] = field(default_factory=list)
    read: dict[str, set[str]] = field(default_factory=dict)  # by rule: the sections of the file it has looked at

    def add_others(self, before: "Conclusions", order: Mapping[str, int]) -> None:
        """Add what rules that have not judged here concluded ``before``; ``order`` numbers all rules by their names."""
        for name in ("found", "met", "not_shown", "does_not_apply", "crashes"):
            kept = [one for one in getattr(before, name) if _rule_of(one) not in self.read]
            setattr(self, name, sorted([*kept, *getattr(self, name)], key=lambda one: order[_rule_of(one)]))
        self.read = before.read | self.read


def _rule_of(one: tuple[Rule, Finding] | Met | NotShownEntry | NotApplying | Crash) -> str:
    return one.rule if isinstance(one, Met | NotShownEntry | NotApplying | Crash) else one[0].name


class Question(NamedTuple):
    """Something in the file to be confirmed: read as typed, but it looks like a slip."""

    place: Place
    asks: str


class VarianceTrouble(NamedTuple):
    """A variance that does nothing: expired, or matching no shortfall."""

    rule: str
    place: Place
    what: str


class Report(NamedTuple):
    """Everything a writer needs.

    ``worked`` is the worked plan's figures as plain JSON-ready data in SI units, empty where nobody asked for them.
    """

    job: str
    file: str
    use: str
    system: System
    comments: tuple[Comment, ...]
    met: tuple[Met, ...]
    not_shown: tuple[NotShownEntry, ...]
    does_not_apply: tuple[NotApplying, ...]
    crashes: tuple[Crash, ...]
    questions: tuple[Question, ...]
    variance_troubles: tuple[VarianceTrouble, ...]
    looser: tuple[tuple[str, InForce], ...]  # (rule, limit) set looser than published
    layers: tuple[str, ...]  # names of the amendments laid over the published limits
    cautions: tuple[str, ...]
    worked: Mapping[str, Any]
    drawing: Mapping[str, Any] = MappingProxyType({})  # what a drawing needs; put in by those who draw
    pour: date | None = None  # the day the file gives for the pour, of several the first
    pours: tuple[date, ...] = ()  # of several pours: the day of each
    size: Size | None = None  # None where the plan cannot be worked

    def counted(self, weight: Weight) -> int:
        """How many comments of one weight stand without a variance."""
        return sum(1 for c in self.comments if c.weight == weight and c.variance is None)

    @property
    def holds(self) -> int:
        """Comments to settle before concrete is ordered; a rule that crashed counts, since nobody judged it."""
        return self.counted("hold") + len(self.crashes)

    @property
    def verdict(self) -> str:
        """``hold``, ``caution``, ``note`` or ``met``: the heaviest thing that stands."""
        if self.holds:
            return "hold"
        return next((w for w in ("caution", "note") if self.counted(w)), "met")


def brief(names: Sequence[str]) -> Sequence[str]:
    """Names, the sort of thing in front of the first alone where it stands in front of all.

    >>> brief(["panel P3", "panel P4"]), brief(["panel P3", "garage door"])
    (['panel P3', 'P4'], ['panel P3', 'garage door'])
    """
    sort = names[0].partition(" ")[0] + " "
    if not all(one.startswith(sort) and " " not in one.removeprefix(sort) for one in names):
        return names
    return [names[0], *(one.removeprefix(sort) for one in names[1:])]


def listed(names: Sequence[str]) -> str:
    """Names one after the other; of many the first ones and how many more.

    >>> listed(["J1", "J2", "J3"]), listed([f"J{n}" for n in range(1, 10)])
    ('J1, J2 and J3', 'J1, J2, J3, J4, J5, J6 and 3 more')
    """
    if len(names) > NAMED:
        return f"{', '.join(names[:NAMED])} and {len(names) - NAMED:,} more"
    return " and ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def days_of(report: Report) -> str:
    """The day of the pour, or of each of several, as a sheet prints it."""
    days = report.pours or ((report.pour,) if report.pour else ())
    return ", ".join(day.isoformat() for day in days) or "no date given"
