"""Every rule broken on purpose: one fault in a sound job makes that rule fall short, and what it must take along.

What must fall short is known from the fault itself, told by hand; the published table is worked again row by row.
"""

from __future__ import annotations

import re
from functools import cache

import pytest
from checkout import ROOT
from example_reviews import IN_FORCE, RULES
from slabwright.teaching import matrix
from slabwright.teaching.faults import OWN, SOUND, Change, Fault, faults, line_of, path_of, seed, without_fault

PAGE = ROOT / "docs" / matrix.FILE
NAMES = {rule.name for rule in RULES}


def name_of(fault: Fault) -> str:
    return f"{fault.rule}: {fault.name}"


@cache
def before(job: str) -> matrix.Outcome:
    """What a job falls short of with no fault in it."""
    path = path_of(job)
    return matrix.outcome_of(path.read_text(encoding="utf-8"), path, RULES, IN_FORCE)


@cache
def committed() -> list[str]:
    return PAGE.read_text(encoding="utf-8").splitlines(keepends=True)


def test_every_rule_has_a_fault_or_a_reason_why_it_has_none() -> None:
    broken = {fault.rule for fault in faults()}
    assert broken | set(without_fault()) == NAMES, "add a fault to checker/slabwright/teaching/faults/<group>.yaml"
    assert not broken & set(without_fault())
    assert all(why.strip() for why in without_fault().values())


def test_every_fault_is_told_apart_and_told_in_words() -> None:
    names = [(fault.rule, fault.name) for fault in faults()]
    assert len(set(names)) == len(names)
    for fault in faults():
        assert fault.told.endswith("."), name_of(fault)
        assert "|" not in fault.told
        assert fault.changes
        assert set(fault.changes) <= {*SOUND, OWN}
        assert set(fault.also) <= NAMES - {fault.rule}, name_of(fault)


@pytest.mark.parametrize("job", SOUND)
def test_the_jobs_that_faults_are_put_into_are_sound(job: str) -> None:
    assert set(before(job).values()) <= {"note"}


@pytest.mark.long
@pytest.mark.parametrize("fault", faults(), ids=name_of)
def test_a_fault_breaks_its_rule_and_what_it_must_take_along(fault: Fault) -> None:
    outcomes = {}
    for job in fault.changes:
        found = matrix.outcome(fault, job, RULES, IN_FORCE, {} if job == OWN else before(job))
        assert found is not None, f"{job} has nothing there to break"
        assert fault.rule in found, job
        assert set(found) <= {fault.rule, *fault.also}, job
        outcomes[job] = found
    taken = {rule for found in outcomes.values() for rule in found} - {fault.rule}
    assert taken == set(fault.also), "a rule is listed that stays met"
    assert matrix.row(fault, outcomes) in committed(), "run: python -m slabwright.teaching.matrix docs/"


@pytest.mark.parametrize("fault", [fault for fault in faults() if OWN in fault.changes], ids=name_of)
def test_the_small_example_is_met_before_a_fault_is_put_in(fault: Fault) -> None:
    path = path_of(OWN, fault.rule)
    assert matrix.outcome_of(path.read_text(encoding="utf-8"), path, RULES, IN_FORCE) == {}


def rule_and_name(line: str) -> tuple[str, ...]:
    """The first two cells of a row of the table, the link of the rule left out."""
    found = re.match(r"\| \[([\w-]+)\]\(\S+\) \| ([^|]+) \|", line)
    assert found is not None, line
    return found.groups()


def test_the_published_table_holds_these_faults_and_nothing_else() -> None:
    rows = [line for line in committed() if line.startswith("| [")]
    blank = {(fault.rule, fault.name): f"| {fault.rule} {fault.name}\n" for fault in faults()}
    found = [f"| {' '.join(rule_and_name(line))}\n" for line in rows]
    others = "".join(line for line in committed() if not line.startswith("| ["))
    expected = matrix.page(RULES, blank).splitlines(keepends=True)
    assert found == [line for line in expected if line in blank.values()]
    assert others == "".join(line for line in expected if line not in blank.values())


def remarks_of(text: str) -> list[str]:
    """Remarks that have a line of their own."""
    return [line for line in text.splitlines() if line.lstrip().startswith("#")]


@pytest.mark.long
@pytest.mark.parametrize("fault", faults(), ids=name_of)
def test_a_fault_leaves_the_rest_of_the_file_as_typed(fault: Fault) -> None:
    """Few lines differ, and remarks on lines that stay are kept."""
    for job in fault.changes:
        before = path_of(job, fault.rule).read_text(encoding="utf-8")
        seeded = seed(fault, job, before)
        assert seeded is not None
        assert seeded.endswith("\n")
        new = [line for line in seeded.splitlines() if line not in before.splitlines()]
        assert len(new) <= 2 * len(fault.changes[job]), new
        assert remarks_of(seeded) == remarks_of(before)
        assert max(map(len, seeded.splitlines())) <= max(140, *map(len, before.splitlines()))


TEXT = """\
units: {plan: ft, height: ft}
heights:
  finish: {A: 99.90, B: 99.5}   # shot twice
order:
  volume: 12 yd3
joints:
  - {name: J1, depth: 1 in}     # first
  - {name: J2, depth: 1 in}
"""


def fault_of(*changes: Change) -> Fault:
    return Fault("rule", "fault", "Told.", {"job": changes}, {})


@pytest.mark.parametrize(
    ("change", "before", "after"),
    [
        # 2 in is 0.1667 ft: written to as many decimals as were typed
        (Change("raise", "heights.finish.A", "-2 in"), "A: 99.90,", "A: 99.73,"),
        (Change("raise", "heights.finish.B", "0.3 ft"), "B: 99.5}", "B: 99.8}"),
        (Change("scale", "order.volume", "0.75"), "12 yd3", "9 yd3"),
        (Change("put", "joints[name=J2].depth", "1/2 in"), "J2, depth: 1 in", "J2, depth: 1/2 in"),
        (Change("put", "joints[1].kind", "saw cut"), "J2, depth: 1 in}", "J2, depth: 1 in, kind: saw cut}"),
        (Change("drop", "joints[name=J1]"), "  - {name: J1, depth: 1 in}     # first\n", ""),
        (Change("add", "joints", "{name: J3}"), "J2, depth: 1 in}\n", "J2, depth: 1 in}\n  - {name: J3}\n"),
        (Change("drop", "order"), "order:\n  volume: 12 yd3\n", ""),
    ],
)  # fmt: skip
def test_each_way_of_changing_a_value(change: Change, before: str, after: str) -> None:
    seeded = seed(fault_of(change), "job", TEXT)
    assert seeded is not None
    assert seeded == TEXT.replace(before, after)


@pytest.mark.parametrize(
    "change",
    [
        Change("put", "mix.air", "2 %"),
        Change("put", "heights.finish.A.more", "1"),
        Change("put", "joints[name=J9].depth", "1 in"),
        Change("put", "joints[7]", "x"),
        Change("drop", "joints[name=J1].cut_after"),
        Change("raise", "heights.finish.Z", "1 in"),
        Change("raise", "heights.base.A", "1 in"),
        Change("scale", "order.allowance", "2"),
        Change("add", "order", "x"),
        Change("add", "heights.lines", "x"),
        Change("put", "order.volume", "12 yd3"),
    ],
)
def test_a_job_with_nothing_there_to_break_takes_no_fault(change: Change) -> None:
    assert seed(fault_of(change), "job", TEXT) is None
    assert seed(fault_of(Change("drop", "order"), change), "job", TEXT) is None
    assert seed(fault_of(change), "another job", TEXT) is None


def test_the_line_of_a_change_is_that_of_the_value_or_of_what_held_it() -> None:
    assert line_of(TEXT, "joints[name=J2].depth") == 8
    assert line_of(TEXT, "heights.base.A") == 3  # the value of heights begins there
    assert line_of(TEXT, "dig.box") == 1
