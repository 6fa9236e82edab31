"""Change the rules and formulas, one sign or number at a time, and see whether a test notices.

``python tests/mutants.py`` changes every file of ``rules/`` and ``checker/slabwright/formulas/``, tries each change
against the tests that run the changed line, and writes ``docs/mutants.md``. It takes about an hour; name files or
groups to try those alone, ``--every 10`` for a sample and ``--start 5`` for another. It needs
``pip install -e '.[mutants]'``.

The tests are collected and run once, to learn which lines each of them runs. Then every change is tried in a forked
child of that warm process, which puts the change into its own memory and stops at the first test that fails.
"""

from __future__ import annotations

import argparse
import functools
import gc
import os
import resource
import signal
import sys
import time
import warnings
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Literal

import mutants_page
import mutating
import pytest
from checkout import ROOT
from mutants_page import Lived, Result
from mutating import Mutant

FORMULAS = "checker/slabwright/formulas"
FOLDERS = ("rules", FORMULAS)
TESTS = (
    "tests/test_rule_examples.py", "tests/test_findings.py", "tests/test_small_jobs.py", "tests/rules/*/test_*.py",
    "tests/teaching/test_faults.py", "tests/rulebook/test_weights.py", "tests/plan/test_channels.py",
    "tests/plan/test_flights_on_plan.py", "tests/plan/test_parts.py", "tests/plan/test_pours.py",
    "tests/plan/test_stalls.py", "tests/plan/test_uses.py", "tests/formulas/test_*.py", FORMULAS,
)  # fmt: skip
EACH_RULE = ("test_rule_examples.py", "test_findings.py", "test_faults.py")  # here a test names the rule it is of
PLANS = (
    "plan_of",
    "planned",
    "read_and_worked",
)  # cached functions of tests that give plans, which rules do not change
SLOW = 2.5  # s: a test that takes longer is left out, for a change is noticed sooner elsewhere
QUICK = 0.05  # s: such a test is not timed again
SECONDS = 15.0  # of tests for one change, as they took unchanged; the nearest tests first
MEMORY = 4 << 30  # bytes: more is a change that never ends
KILLED, LIVES = 1, 0


def sources(named: Iterable[str]) -> list[str]:
    """The files to change, as the repository names them; ``named`` are files, groups or parts of either."""
    found = [str(path.relative_to(ROOT)) for folder in FOLDERS for path in sorted((ROOT / folder).rglob("*.py"))]
    wanted = list(named)
    return [file for file in found if not wanted or any(one in file for one in wanted)]


class Runner:
    """A pytest plugin that runs the tests of each mutant, instead of the tests."""

    def __init__(self, files: list[str], asked: argparse.Namespace) -> None:
        self.sampled = slice(asked.start, None, asked.every)
        self.at_once, self.again, self.results = asked.at_once, asked.again, asked.results
        self.found = mutants_page.results(self.results)
        self.reasons = mutating.reasons()
        self.files = [file for file in files if not self.again or (file in self.found and self.found[file].lived)]
        self.items: list[pytest.Item] = []
        self.seconds: dict[str, float] = {}
        self.reach: dict[str, dict[int, list[str]]] = {}
        self.called: dict[str, set[int]] = {}
        self.caches: list[Any] = []
        self.held: dict[str, mutating.Loaded] = {}

    def pytest_sessionstart(self) -> None:
        """Before tests are collected, so that their settings are these."""
        _quiet_hypothesis()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Learn what each test runs, then try every mutant; nothing is reported as a test."""
        _keep_plans()
        folders = (str(ROOT / "tests"), str(ROOT / FORMULAS))
        for folder in FOLDERS:
            if not (files := [file for file in self.files if file.startswith(folder)]):
                continue
            self.items = [item for item in session.items if any(_is_near(item, file) for file in files)]
            self.caches = mutating.caches(folders, kept=() if folder == FORMULAS else PLANS)
            self._learn(files)
            mutating.remember_modules()
            self.held = {file: mutating.loaded(ROOT / file) for file in files}
            gc.collect()
            gc.freeze()  # what is here already is left alone in every child, so that none has to copy it
            for number, file in enumerate(files, 1):
                self.found[file] = found = self._try(file)
                mutants_page.keep(self.found, self.results)
                _say(f"{number}/{len(files)} {file}: {found.killed} of {found.mutants} killed")
            gc.unfreeze()
        return True

    def _learn(self, files: list[str]) -> None:
        """Run every test once, unchanged, and note which lines of the files it runs and how long it takes."""
        import coverage

        inside = [str(ROOT / folder / "*") for folder in FOLDERS]
        measured = coverage.Coverage(data_file=None, config_file=False, include=inside)
        started, good = time.monotonic(), []
        for item in self.items:
            _forget(self.caches)
            measured.start()
            measured.switch_context(item.nodeid)
            began = time.process_time()
            fails = _fails(item)
            self.seconds[item.nodeid] = time.process_time() - began
            measured.stop()
            if fails:
                _say(f"left out, for it fails as things are: {item.nodeid}")
                continue
            if self.seconds[item.nodeid] > QUICK:
                _forget(self.caches)
                began = time.process_time()
                _fails(item)  # again, with the plans worked and no lines noted: as it will run in each child
                self.seconds[item.nodeid] = time.process_time() - began
            if self.seconds[item.nodeid] <= SLOW:
                good.append(item)
        _say(f"{len(good)} of {len(self.items)} tests learnt in {time.monotonic() - started:.0f} s")
        self.items = good
        names = {item.nodeid for item in good}
        data = measured.get_data()
        for file in files:
            lines = data.contexts_by_lineno(str(ROOT / file))
            self.called[file] = mutating.inside_functions((ROOT / file).read_text(encoding="utf-8"))
            self.reach[file] = {line: [one for one in tests if one in names] for line, tests in lines.items()}

    def _tests(self, mutant: Mutant) -> list[pytest.Item]:
        """The tests to try a mutant with: those that run its line, the nearest and quickest first.

        A line that runs while the module is loaded is run by the first test that needs the module, or by none: there,
        those that run anything of the file.
        """
        lines, called = self.reach[mutant.file], mutant.line in self.called[mutant.file]
        reached = set(lines.get(mutant.line, ())) if called else set()
        reached = reached or {one for tests in lines.values() for one in tests}
        names = _names(mutant.file)

        def order(item: pytest.Item) -> tuple[bool, float]:
            return not any(name in item.nodeid for name in names), self.seconds[item.nodeid]

        chosen, left = [], SECONDS
        for item in sorted((item for item in self.items if item.nodeid in reached), key=order):
            if self.seconds[item.nodeid] <= left:
                left -= self.seconds[item.nodeid]
                chosen.append(item)
        return chosen

    def _try(self, file: str) -> Result:
        """Each mutant of a file, and whether a test noticed it."""
        path = ROOT / file
        running: dict[int, Mutant] = {}
        lived: list[Lived] = []

        def wait_for_one() -> None:
            pid, status = os.wait()
            mutant = running.pop(pid)
            if os.WIFEXITED(status) and os.WEXITSTATUS(status) == LIVES:
                lived.append(Lived(file, mutant.key, mutant.was, mutant.now))

        before = {one.key for one in self.found[file].lived} if self.again else set()
        found = list(mutating.mutants(path, file))
        unknown = self.reasons.get(file, {}).keys() - {mutant.key for mutant in found}
        if unknown:
            _say(f"{file}: {mutating.REASONS.name} has what is no change now: {', '.join(sorted(unknown))}")
        found = found[self.sampled]
        for mutant in found:
            if self.again and mutant.key not in before:
                continue
            tests = self._tests(mutant)
            if len(running) >= self.at_once:
                wait_for_one()
            pid = os.fork()
            if pid == 0:
                self._child(mutant, tests)
            running[pid] = mutant
        while running:
            wait_for_one()
        noticed = {mutant.key for mutant in found} & self.reasons.get(file, {}).keys() - {one.key for one in lived}
        if noticed:
            _say(f"{file}: {mutating.REASONS.name} has what a test notices: {', '.join(sorted(noticed))}")
        return Result(len(found), tuple(lived))

    def _child(self, mutant: Mutant, tests: list[pytest.Item]) -> None:
        """Put a mutant in and run its tests until one fails; this process ends here."""
        outcome = KILLED
        try:
            silence = os.open(os.devnull, os.O_WRONLY)
            os.dup2(silence, 1)
            os.dup2(silence, 2)
            resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
            signal.signal(signal.SIGPROF, signal.SIG_DFL)
            # Processor time, for on a busy machine a change that nothing notices would be ended, and seem noticed.
            signal.setitimer(signal.ITIMER_PROF, 3 + 5 * sum(self.seconds[item.nodeid] for item in tests))
            gc.disable()
            warnings.simplefilter("error")
            mutating.put_in(mutant.text, self.held[mutant.file])
            _forget(self.caches)
            outcome = KILLED if any(_fails(item) for item in tests) else LIVES
        finally:
            os._exit(outcome)


def _fails(item: pytest.Item) -> bool:
    """Run one test, with its fixtures; whether it fails."""
    if hasattr(item, "_initrequest"):
        item._initrequest()
    fails = _phase(item, "setup") or _phase(item, "call")
    return _phase(item, "teardown") or fails


def _phase(item: pytest.Item, when: Literal["setup", "call", "teardown"]) -> bool:
    hook = getattr(item.ihook, f"pytest_runtest_{when}")
    more = {"nextitem": None} if when == "teardown" else {}
    call = pytest.CallInfo.from_call(lambda: hook(item=item, **more), when)
    report: pytest.TestReport = item.ihook.pytest_runtest_makereport(item=item, call=call)
    return report.failed


def _names(file: str) -> tuple[str, str]:
    """What tests of a file are called after: a module, or a rule."""
    stem = Path(file).stem
    return stem, stem.replace("_", "-")


@functools.cache
def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def _is_near(item: pytest.Item, file: str) -> bool:
    """Whether a test names a file, or stands in a file of tests that names the rule."""
    names = _names(file)
    if any(name in item.nodeid.rpartition("/")[2] for name in names):
        return True
    if mutants_page.group_of(file) == "formulas":
        return item.path.parent == ROOT / "tests" / "formulas"
    return item.path.name not in EACH_RULE and f'"{names[1]}"' in _text(item.path)


def _forget(caches: list[Any]) -> None:
    for cache in caches:
        cache.cache_clear()


def _keep_plans() -> None:
    """Work the plans of the findings once for all mutants of the rules; they do not hang on any rule."""
    import findings

    findings.planned = functools.cache(findings.planned)


def _say(line: str) -> None:
    print(time.strftime("%H:%M:%S"), line, file=sys.stderr, flush=True)


def _patterns() -> Iterator[str]:
    for pattern in TESTS:
        yield from (str(path.relative_to(ROOT)) for path in sorted(ROOT.glob(pattern)))


def main() -> int:
    """Run the command; 0 when every file was tried."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n\n")[0])
    parser.add_argument("only", nargs="*", help="files or groups to try: rules/joints, formulas/weather.py, curl")
    parser.add_argument("--every", type=int, default=1, metavar="N", help="try each Nth mutant of a file only")
    parser.add_argument("--start", type=int, default=0, metavar="N", help="leave out so many before the first")
    parser.add_argument("--at-once", type=int, default=1, metavar="N", help="so many processes at the same time")
    parser.add_argument("--again", action="store_true", help="try those alone that lived in the last run")
    parser.add_argument(
        "--results",
        type=Path,
        default=mutants_page.RESULTS,
        metavar="FILE",
        help="where results are kept; the page is written from the usual place only",
    )
    parser.add_argument("--page-only", action="store_true", help="write the page anew, and try nothing")
    asked = parser.parse_args()
    usual = asked.results == mutants_page.RESULTS
    if usual and (asked.every > 1 or asked.start):
        parser.error("a sample is no result: say where to keep it, such as --results sample.json")
    if not asked.page_only:
        os.chdir(ROOT)
        runner = Runner(sources(asked.only), asked)
        options = ["-q", "-s", "--assert=plain", "--tb=native", "-p", "no:cacheprovider", "-n", "0", "--share", "1"]
        stopped = pytest.main([*options, *_patterns()], plugins=[runner])
        if stopped not in (pytest.ExitCode.OK, pytest.ExitCode.NO_TESTS_COLLECTED):
            return int(stopped)
        for row in mutants_page.rows(runner.found):
            print(
                f"{row.group:12} {row.mutants:5} mutants, {row.killed:5} killed,"
                f" {mutants_page.share(row.killed, row.mutants):>7},"
                f" {mutants_page.share(row.killed, row.counting):>7} of those that change anything"
            )
    if usual:
        mutants_page.write()
    return 0


def _quiet_hypothesis() -> None:
    """The same examples in every child, none of them kept, and no time spent on smaller ones."""
    from hypothesis import Phase, settings

    settings.register_profile(
        "mutants", database=None, derandomize=True, deadline=None, phases=(Phase.explicit, Phase.generate)
    )
    settings.load_profile("mutants")


if __name__ == "__main__":
    sys.exit(main())
