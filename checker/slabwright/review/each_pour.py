"""What a rule concludes on each of several pours, as one conclusion of the job."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from slabwright.plan import pours
from slabwright.plan.plan import Plan
from slabwright.review.report import Conclusions
from slabwright.rulebook.conclusion import Finding
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.remedy import Edit, Remedy
from slabwright.rulebook.rule import Rule

Judge = Callable[[Plan, Rule, Limits, Conclusions], None]


def judge_days(plan: Plan, rule: Rule, limits: Limits, seen: Conclusions, judge: Judge) -> None:
    """Let a rule judge the plan of each day, and add what it concludes to ``seen``.

    What it finds is told by the name of its pour; what is the same on all of them is told once. Then what one day does
    not show is asked for, else the tightest day is told as met.
    """
    if not pours.days(plan):
        judge(plan, rule, limits, seen)
        return
    of_days: list[tuple[pours.Day, Conclusions]] = []
    for day in pours.days(plan):
        own = Conclusions()
        judge(day.plan, rule, limits, own)
        of_days.append((day, own))
    seen.crashes += [crash for _, own in of_days for crash in own.crashes[:1]][:1]
    found = [(day, finding) for day, own in of_days for _, finding in own.found]
    alike = [(finding.at.name, finding.at.place, finding.limit.name, finding.shown.si) for _, finding in found]
    for (day, finding), key in zip(found, alike, strict=True):
        if alike.count(key) == len(of_days) > 1:
            if key not in alike[: alike.index(key)] and (day, finding) == found[alike.index(key)]:
                seen.found.append((rule, finding))
        else:
            seen.found.append((rule, _named(finding, day)))
    if found or any(own.crashes for _, own in of_days):
        return
    silent = [(day, entry) for day, own in of_days for entry in own.not_shown]
    if silent:
        add = tuple(
            dict.fromkeys(pours.asked_in_file(one, day.planned.pour) for day, entry in silent for one in entry.add)
        )
        seen.not_shown.append(silent[0][1]._replace(add=add))
        return
    met = [(day, entry) for day, own in of_days for entry in own.met]
    if met:
        day, tightest = min(met, key=lambda one: float("inf") if one[1].slack is None else one[1].slack)
        at = tightest.at._replace(name=_of(tightest.at.name, day)) if tightest.at else None
        seen.met.append(tightest._replace(at=at))
        return
    seen.does_not_apply += [entry for _, own in of_days for entry in own.does_not_apply][:1]


def _of(name: str, day: pours.Day) -> str:
    return f"{name}, {day.planned.name}"


def _named(finding: Finding, day: pours.Day) -> Finding:
    return finding._replace(
        at=finding.at._replace(name=_of(finding.at.name, day)),
        remedies=tuple(_in_file(remedy, day) for remedy in finding.remedies),
    )


def _in_file(remedy: Remedy, day: pours.Day) -> Remedy:
    edits: Sequence[Edit] = [
        edit._replace(path=pours.path_in_file(edit.path, day.planned.pour)) for edit in remedy.edits
    ]
    return remedy._replace(edits=tuple(edits))
