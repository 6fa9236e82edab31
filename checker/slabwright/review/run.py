"""Plan, rules and limits in; the finished report out. Rules run one after the other and cannot disturb each other."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path

from slabwright.design.questions import same_slip
from slabwright.formulas.ordering import loads
from slabwright.plan import figures
from slabwright.plan import questions as plan_questions
from slabwright.plan.agreement import HeldRoom
from slabwright.plan.given import DoesNotApply, NotShown, RuleEnds
from slabwright.plan.plan import Plan
from slabwright.plan.watched import EVERYTHING, Watched
from slabwright.review import cautions, misread, variances
from slabwright.review.each_pour import judge_days
from slabwright.review.report import (
    Comment,
    Conclusions,
    Crash,
    Met,
    NotApplying,
    NotShownEntry,
    Question,
    Report,
    Size,
    VarianceNote,
)
from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.rulebook.heights import heights_room
from slabwright.rulebook.in_force import LAYERS, WEIGHTS, InForce, Limits
from slabwright.rulebook.rule import Rule
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.text.words import told, words, written
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind, System

# Kinds whose numbers may be compared with each other, by what they have in common.
_SAME = (
    {Kind.LENGTH, Kind.DEPTH, Kind.HEIGHT},
    {Kind.VOLUME, Kind.SMALL_VOLUME},
    {Kind.STRESS, Kind.PRESSURE},
    {Kind.SLOPE, Kind.SHARE, Kind.RATIO, Kind.COUNT},
)

# Groups of rules by what a shortfall costs: danger and water first, then the order, then what stays in the concrete.
COST = (
    "site", "water", "heights", "order", "thickness", "base", "steel", "isolation", "joints", "mix", "pour", "dig",
    "drawing",
)  # fmt: skip

AGREE = "fixed-heights-agree"  # the rule that tells what heights that cannot move leave room for
PRACTICE = "common practice"  # the citation of an amendment that nobody has written down
EQUAL = 1e-9  # margins that differ by less, as a share, are alike


class _DefectError(Exception):
    """A rule concluded something that cannot stand."""


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


def conclude(plans: Sequence[tuple[Plan, Conclusions]], rules: Sequence[Rule], limits: Mapping[str, Limits]) -> None:
    """Let the rules judge some plans, and add what they conclude on each to the conclusions beside it.

    Each rule goes over all plans before the next one does: its code, and that of the geometry it is the first to ask
    for, is then still at hand in the processor, which saves a tenth of the time on many small plans.

    A rule that fails, or concludes what cannot stand, becomes a :class:`Crash` at a line of the
    rule file; what it had found before stays.
    """
    for rule in rules:
        own = limits[rule.name]
        for plan, seen in plans:
            _conclude(plan, rule, own, seen)


def conclude_again(
    plan: Plan,
    changed: Collection[str],
    before: Conclusions,
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    names: Collection[str] | None = None,
) -> Conclusions:
    """What the rules conclude on an edited plan, of whose file only the ``changed`` sections read otherwise.

    Rules that looked at none of these conclude as they did ``before``, at the places of the file as it was; so do,
    where ``names`` are given, those of other names.
    """
    now, order = Conclusions(), {rule.name: number for number, rule in enumerate(rules)}
    for rule in rules:
        if (names is None or rule.name in names) and not before.read[rule.name].isdisjoint(changed):
            _conclude(plan, rule, limits[rule.name], now)
    now.add_others(before, order)
    return now


def _conclude(plan: Plan, rule: Rule, limits: Limits, seen: Conclusions) -> None:
    """Let one rule conclude, on each pour where it looks at its day."""
    if rule.each_pour and plan.design.pours:
        judge_days(plan, rule, limits, seen, _judge)
        seen.read[rule.name] = set(EVERYTHING)
    else:
        _judge(plan, rule, limits, seen)
        if rule.each_pour:
            seen.read[rule.name].add("pour")


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
    slip = _misread(plan, rules, limits, concluded)
    comments = tuple(
        _comment(number, rule, finding, variances.note(accepted, day, rule.name, finding.at.name), slip)
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
        questions=tuple(
            dict.fromkeys(
                (
                    *_asked(tuple(_each_once(questions, slip, _of_the_plan(plan))), plan.system),
                    *_contradictions(amended),
                )
            )
        ),
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
    plan: Plan, rules: Sequence[Rule], limits: Mapping[str, Limits], concluded: Conclusions
) -> misread.Misread | None:
    """The height that looks misread and that most comments rest on."""

    def judge(other: Plan, names: Collection[str] | None) -> misread.Found | None:
        seen = conclude_again(other, {"heights"}, concluded, rules, limits, names)
        return seen.found if len(seen.crashes) <= len(concluded.crashes) else None

    return misread.misread(plan, concluded.found, judge)


def _each_once(
    questions: Sequence[Problem], slip: misread.Misread | None, of_the_plan: Sequence[Problem]
) -> Iterator[Problem]:
    """What is asked of the file and of the plan; a height that looks misread is asked about once."""
    if slip is None:
        yield from (*questions, *of_the_plan)
        return
    yield slip.asks
    at = slip.name.rpartition(" at ")[2]
    yield from (one for one in (*questions, *of_the_plan) if not same_slip(one, at))


def _comment(
    number: int, rule: Rule, finding: Finding, variance: VarianceNote | None, slip: misread.Misread | None = None
) -> Comment:
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


def _judge(plan: Plan, rule: Rule, limits: Limits, seen: Conclusions) -> None:
    """Let one rule conclude, and add what it concludes to ``seen``."""
    limits = limits.held_to(plan.home)
    tightest: Margin | None = None
    least, found = math.inf, False
    watched = Watched(plan)
    seen.read[rule.name] = watched.read
    try:
        for conclusion in rule.judge(watched, limits):
            _sound(conclusion, limits)
            if isinstance(conclusion, Finding):
                found = True
                seen.found.append((rule, conclusion))
            elif (slack := conclusion.slack) < least - EQUAL:  # of equal margins the first is told
                tightest, least = conclusion, slack
        if not found and tightest is None:
            raise _DefectError("judge came to no conclusion, and silence is never met")
    except RuleEnds as end:
        if found or tightest is not None:
            seen.crashes.append(_crash(rule, _DefectError("judge ended the rule after it had come to a conclusion")))
        else:
            _end(plan, rule, end, seen)
        return
    except (Exception, SystemExit) as error:
        seen.crashes.append(_crash(rule, error))
        return
    if found:
        return
    if tightest is None:
        seen.met.append(Met(rule.name, rule.group, rule.title))
    else:
        asked = tightest.asked or tightest.limit.value
        seen.met.append(
            Met(rule.name, rule.group, rule.title, tightest.at, tightest.shown, asked, tightest.limit, least)
        )


def _end(plan: Plan, rule: Rule, end: RuleEnds, seen: Conclusions) -> None:
    """Add what it means that a rule ended without judging."""
    if isinstance(end, NotShown):
        at = end.place if end.place.file else Place(plan.design.file)
        add = tuple(written(one, plan.system) for one in end.add)
        seen.not_shown.append(NotShownEntry(rule.name, rule.group, rule.title, add, at))
    elif isinstance(end, DoesNotApply):
        seen.does_not_apply.append(NotApplying(rule.name, rule.group, rule.title, told(end.reason, plan.system)))


def _sound(conclusion: object, limits: Limits) -> None:
    """Raise unless the conclusion is a Finding that falls short of, or a Margin that keeps, a limit of this rule."""
    if not isinstance(conclusion, (Finding, Margin)):
        raise _DefectError(f"judge yielded {_kind_of(conclusion)}, which is neither a Finding nor a Margin")
    limit = conclusion.limit
    if not limits.includes(limit):
        raise _DefectError(f"{limit.name} is not a limit in force for this rule")
    asked = conclusion.asked or limit.value
    if not _comparable(conclusion.shown, asked):
        raise _DefectError(f"a {conclusion.shown.kind} was compared with a {asked.kind} ({limit.name})")
    told = _told(conclusion) if isinstance(conclusion, Finding) else ()
    if not (math.isfinite(conclusion.shown.si) and math.isfinite(asked.si) and all(map(math.isfinite, told))):
        raise _DefectError(f"a value without end was worked out at {conclusion.at.name} ({limit.name})")
    if conclusion.give < 0:
        raise _DefectError(f"a limit was made stricter than it is ({limit.name})")
    give = conclusion.give if limit.direction == "least" else -conclusion.give
    met = quantity.meets(conclusion.shown.si + give, asked.si, limit.direction)
    if met == isinstance(conclusion, Finding):
        said, is_so = ("to fall short", "met") if met else ("to be met", "not met")
        raise _DefectError(f"{conclusion.at.name} was said {said}, but {limit.name} is {is_so} there")


def _told(finding: Finding) -> Iterator[float]:
    """Every number that a finding prints, beside the two it compares."""
    for said in (finding.says, finding.to_pass, *(step.numbers for step in finding.working)):
        yield from (value.si for value in said.values.values() if isinstance(value, Amount))
    yield from (step.result.si for step in finding.working)


def _comparable(shown: Amount, asked: Amount) -> bool:
    return shown.kind is asked.kind or any({shown.kind, asked.kind} <= same for same in _SAME)


def _kind_of(thing: object) -> str:
    return "nothing" if thing is None else f"a {type(thing).__name__}"


def _crash(rule: Rule, error: BaseException) -> Crash:
    """Where in the rule file the rule stopped, and at what."""
    import traceback  # 1 ms

    frames = traceback.extract_tb(error.__traceback__)
    own_code = rule.judge.__code__.co_filename
    lines = [frame.lineno for frame in frames if frame.filename == own_code]
    if isinstance(error, _DefectError):
        line, what = rule.judge.__code__.co_firstlineno, str(error)
    else:
        line = (lines or [None])[-1] or rule.judge.__code__.co_firstlineno
        what = f"{type(error).__name__}: {error}".rstrip(": ")
        if frames and frames[-1].filename != own_code:
            what += f" (in {Path(frames[-1].filename).name}, line {frames[-1].lineno})"
    return Crash(rule.name, rule.group, Place(rule.file, line), what)


def _of_the_plan(plan: Plan) -> tuple[Problem, ...]:
    """What the worked plan asks; a plan that cannot be worked is for its rules to tell."""
    try:
        return tuple(plan_questions.ask(plan))
    except Exception as error:
        what = f"{type(error).__name__}: {error}"
        return (Problem(Place(plan.design.file), f"the plan could not be looked through for slips ({what})"),)


_TWO_LENGTHS = re.compile(r"\{[\d.,]+ ft \([\d.,]+ mm?\)\|[\d.,]+ mm?\}")


def _asked(questions: Sequence[Problem], system: System) -> Iterator[Question]:
    for problem in questions:
        write = written(problem.write, system)
        # What is wrong may quote the file, where a name may hold {either|or}: only lengths are put in one system.
        wrong = _TWO_LENGTHS.sub(lambda found: written(found[0], system), problem.wrong)
        yield Question(problem.place, "; ".join(filter(None, (wrong, write))))


def _contradictions(amended: Sequence[tuple[str, InForce]]) -> Iterator[Question]:
    """Ask where amendments of one layer differ, and where a narrower layer asks less than a wider one.

    What rests on common practice gives way to what is written somewhere, such as a country's standard, without a word.
    """
    for rule, limit in amended:
        later = limit
        while later.place and (earlier := later.replaced) and earlier.amended:
            new, old = _set_to(later, earlier), _set_to(earlier, later)
            differ = f"{later.set_by} sets {later.name} of {rule} to {new}, {earlier.set_by} to {old}"
            gives_way = earlier.citation == PRACTICE != later.citation
            alike = later.weight == earlier.weight and quantity.same(later.value.si, earlier.value.si)
            if later.layer == earlier.layer and not alike and not gives_way:
                yield Question(later.place, f"{differ}; the later, {new}, is used. Which governs?")
            elif later.layer != earlier.layer and not gives_way and _asks_less(later, earlier):
                less = f"the {later.layer} asks less than the {earlier.layer}"
                yield Question(later.place, f"{differ}, and {less}; {new} is used. May it be?")
            later = earlier


def _set_to(limit: InForce, other: InForce) -> str:
    """The value of a limit as typed, with its weight where the other limit has another one."""
    return limit.value.typed if limit.weight == other.weight else f"{limit.value.typed}, a {limit.weight}"


def _asks_less(limit: InForce, than: InForce) -> bool:
    lighter = WEIGHTS.index(limit.weight) > WEIGHTS.index(than.weight)
    return lighter or not quantity.meets(limit.value.si, than.value.si, limit.direction)


def _layers(amended: Sequence[tuple[str, InForce]]) -> tuple[str, ...]:
    """Names of all amendments laid over the published limits, region first, job last."""
    names: dict[str, int] = {}
    for _, limit in amended:
        laid: InForce | None = limit
        while laid and laid.amended:
            names.setdefault(laid.set_by, LAYERS.index(laid.layer))
            laid = laid.replaced
    return tuple(sorted(names, key=lambda name: names[name]))
