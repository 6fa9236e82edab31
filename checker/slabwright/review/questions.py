"""What a review asks beside its comments: of the file, of the worked plan, and of amendments that differ."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from slabwright.design.questions import same_slip
from slabwright.plan import questions as plan_questions
from slabwright.plan.plan import Plan
from slabwright.review.misread import Misread
from slabwright.review.report import Question
from slabwright.rulebook.in_force import WEIGHTS, InForce
from slabwright.source.place import Place
from slabwright.source.problem import Problem
from slabwright.text.words import written
from slabwright.units import quantity
from slabwright.units.quantity import System

PRACTICE = "common practice"  # the citation of an amendment that nobody has written down
_TWO_LENGTHS = r"\{[\d.,]+ ft \([\d.,]+ mm?\)\|[\d.,]+ mm?\}"


def asked(
    plan: Plan, questions: Sequence[Problem], slip: Misread | None, amended: Sequence[tuple[str, InForce]]
) -> tuple[Question, ...]:
    """All of them, each once: ``questions`` are those of the reading, ``amended`` the limits that were set locally."""
    every = _each_once(questions, slip, _of_the_plan(plan))
    return tuple(dict.fromkeys((*_shown(every, plan.system), *_contradictions(amended))))


def _each_once(questions: Sequence[Problem], slip: Misread | None, of_the_plan: Sequence[Problem]) -> Iterator[Problem]:
    """What is asked of the file and of the plan; a height that looks misread is asked about once."""
    if slip is None:
        yield from (*questions, *of_the_plan)
        return
    yield slip.asks
    at = slip.name.rpartition(" at ")[2]
    yield from (one for one in (*questions, *of_the_plan) if not same_slip(one, at))


def _of_the_plan(plan: Plan) -> tuple[Problem, ...]:
    """What the worked plan asks; a plan that cannot be worked is for its rules to tell."""
    try:
        return tuple(plan_questions.ask(plan))
    except Exception as error:
        what = f"{type(error).__name__}: {error}"
        return (Problem(Place(plan.design.file), f"the plan could not be looked through for slips ({what})"),)


def _shown(questions: Iterable[Problem], system: System) -> Iterator[Question]:
    for problem in questions:
        write = written(problem.write, system)
        # What is wrong may quote the file, where a name may hold {either|or}: only lengths are put in one system.
        wrong = re.sub(_TWO_LENGTHS, lambda found: written(found[0], system), problem.wrong)
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
