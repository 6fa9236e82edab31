"""Plan, rules and limits in; the finished report out."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from datetime import date

from slabwright.formulas.ordering import loads
from slabwright.plan import figures
from slabwright.plan.agreement import HeldRoom
from slabwright.plan.plan import Plan
from slabwright.review import cautions, misread, variances
from slabwright.review.concluding import conclude, conclude_again
from slabwright.review.questions import asked
from slabwright.review.report import (
    Comment,
    Conclusions,
    Crash,
    NotApplying,
    NotShownEntry,
    Report,
    Size,
    VarianceNote,
)
from slabwright.rulebook.conclusion import Finding
from slabwright.rulebook.heights import heights_room
from slabwright.rulebook.in_force import LAYERS, WEIGHTS, InForce, Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.problem import Problem
from slabwright.text.words import words

# Groups of rules by what a shortfall costs: danger and water first, then the order, then what stays in the concrete.
COST = (
    "site", "water", "heights", "order", "thickness", "base", "steel", "isolation", "joints", "mix", "pour", "dig",
    "drawing",
)  # fmt: skip

AGREE = "fixed-heights-agree"  # the rule that tells what heights that cannot move leave room for


def review(
    plan: Plan,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    questions: Sequence[Problem] = (),
    today: date | None = None,
) -> Report:
    """Judge the plan by every rule.

    ``limits`` holds the limits in force by rule name (``limits.resolve``); ``questions`` and ``today``
    are those of :func:`report`.
    """
    concluded = Conclusions()
    conclude([(plan, concluded)], rules, limits)
    return report(plan, rules, limits, concluded, questions, today)


def report(
    plan: Plan,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    concluded: Conclusions,
    questions: Sequence[Problem] = (),
    today: date | None = None,
    figured: bool = True,
) -> Report:
    """What the rules have concluded on the plan, as a finished report.

    ``questions`` are those of the reading, and those of the plan are added to them; ``today`` decides which variances
    have expired (default: the date of the computer); ``figured`` is whether it holds the
    figures of the plan, which only JSON prints.
    """
    accepted, day = plan.design.variances, today or date.today()
    slip = _misread(plan, rules, limits, concluded, questions)
    comments = tuple(
        comment_on(number, rule, finding, variances.note(accepted, day, rule.name, finding.at.name), slip)
        for number, (rule, finding) in enumerate(sorted(concluded.found, key=_order), 1)
    )
    silent: list[NotApplying | NotShownEntry | Crash] = [
        *concluded.does_not_apply,
        *concluded.not_shown,
        *concluded.crashes,
    ]
    amended = [(name, limit) for name, of_rule in limits.items() for limit in of_rule.amended]
    return Report(
        job=plan.design.job.name,
        file=plan.design.file,
        use=" and ".join(plan.areas.called),
        system=plan.system,
        comments=comments,
        met=tuple(concluded.met),
        not_shown=tuple(concluded.not_shown),
        does_not_apply=tuple(concluded.does_not_apply),
        crashes=tuple(concluded.crashes),
        questions=asked(plan, questions, slip, amended),
        variance_troubles=tuple(variances.troubles(accepted, day, rules, concluded.found, silent)),
        looser=tuple((name, limit) for name, limit in amended if limit.looser),
        layers=_layers(amended),
        cautions=cautions.cautions(plan.design),
        worked=figures.worked(plan, lambda: _room(plan, limits)) if figured else {},
        pour=plan.design.job.pour,
        pours=tuple(pour.day for pour in plan.design.pours if pour.day),
        size=_size(plan),
    )


def _room(plan: Plan, limits: Mapping[str, Limits]) -> tuple[HeldRoom, ...]:
    """What is left at the heights that cannot move; nothing where the rule that tells it is not there."""
    own = limits.get(AGREE)
    return () if own is None else heights_room(plan, own.held_to(plan.home))


def _size(plan: Plan) -> Size | None:
    """The job in numbers; a plan that cannot be worked is for its rules to tell."""
    order, pours = plan.design.order, plan.design.pours
    volumes = (
        [pour.volume.si for pour in pours if pour.volume]
        if pours
        else [order.volume.si]
        if order and order.volume
        else []
    )
    ordered = sum(volumes) if volumes and len(volumes) == max(len(pours), 1) else None
    try:
        net = plan.concrete.quantities.net
    except Exception:
        return None
    trucks = sum(loads(volume, order.truck.si) for volume in volumes) if ordered and order and order.truck else None
    return Size(plan.shape.area, plan.areas.thicknesses, net, ordered, trucks)


def _order(found: tuple[Rule, Finding]) -> tuple[int, int, str, int, int]:
    """Comments by weight, then by what they cost, then group and place in the file; ties stay as the rules yield them.

    What endangers people or runs water into a building comes first, then the order, then what cannot be undone after
    the pour, then the rest.
    """
    rule, finding = found
    at = finding.at.place
    return (WEIGHTS.index(finding.limit.weight), COST.index(rule.group), at.file, at.line, at.column)


def _misread(
    plan: Plan,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    concluded: Conclusions,
    questions: Sequence[Problem],
) -> misread.Misread | None:
    """The height that looks misread and that most comments rest on."""

    def judge(other: Plan, names: Collection[str] | None) -> misread.Found | None:
        seen = conclude_again(other, {"heights"}, concluded, rules, limits, names)
        return seen.found if len(seen.crashes) <= len(concluded.crashes) else None

    return misread.misread(plan, concluded.found, judge, questions)


def comment_on(
    number: int,
    rule: Rule,
    finding: Finding,
    variance: VarianceNote | None = None,
    slip: misread.Misread | None = None,
) -> Comment:
    """A numbered comment on what a rule found."""
    rests = slip.name if slip and id(finding) in slip.rest else ""
    again = words("look at {height} first, which looks misread", height=rests)
    return Comment(
        number=number,
        rule=rule.name,
        group=rule.group,
        title=rule.title,
        weight=finding.limit.weight,
        at=finding.at,
        says=finding.says,
        shown=finding.shown,
        asked=finding.asked or finding.limit.value,
        limit=finding.limit,
        working=finding.working,
        to_pass=again if rests else finding.to_pass,
        remedies=() if rests else finding.remedies,
        decide=again if rests else finding.decide,
        variance=variance,
        rests_on=rests,
    )


def _layers(amended: Sequence[tuple[str, InForce]]) -> tuple[str, ...]:
    """Names of all amendments laid over the published limits, region first, job last."""
    names: dict[str, int] = {}
    for _, limit in amended:
        laid: InForce | None = limit
        while laid and laid.amended:
            names.setdefault(laid.set_by, LAYERS.index(laid.layer))
            laid = laid.replaced
    return tuple(sorted(names, key=lambda name: names[name]))
