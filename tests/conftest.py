"""Which tests run: those marked ``browser`` where Chromium is, and of those marked ``long`` a share.

What is marked ``long`` goes over every example. A share of it, chosen by the names of the tests, is run each time;
``--share 1`` runs all of it. One case of each such test always runs. Files whose tests take longest begin first, so
that no worker waits for another at the end.
"""

from __future__ import annotations

import gc
import os
import signal
import threading
import zlib

import browser
import pytest
from slabwright.cli.main import CYCLES_AFTER

gc.set_threshold(CYCLES_AFTER, 20, 50)  # as the program does: of thousands of tests, a third of the time to find them


LONGEST = (
    "test_corpus.py", "test_teaching.py", "test_advice.py", "test_page_in_browser.py", "test_invariance.py",
    "test_order_sheet.py", "test_plan_svg.py", "test_course.py", "test_examples_jobs.py", "test_page.py",
    "test_numbers.py", "test_watch.py", "test_pre_commit.py", "test_propose_joints.py", "test_hostile_files.py",
    "test_decimal_comma.py", "test_many.py", "test_cli.py", "test_metric_practice.py", "test_remedies.py",
    "test_water.py", "test_sarif.py", "test_stake.py", "test_windows.py", "test_views.py", "test_propose_heights.py",
    "test_panels.py", "test_since.py", "test_cutting.py", "test_formulas.py", "test_findings.py", "test_as_built.py",
)  # fmt: skip


def _without() -> bool:
    return browser.found() is None and os.environ.get("CI", "").lower() not in {"1", "true"}


def pytest_configure(config: pytest.Config) -> None:
    """Programs that tests start must hear Ctrl-C, also where a script in the background started the tests."""
    ignored = signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    if ignored and threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, signal.default_int_handler)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--share", type=float, default=0.03, help="how much of the tests marked long is run, from 0 to 1")


def _place(name: str) -> float:
    """A number from 0 to 1 that a test keeps on every machine, spread evenly over their names."""
    return zlib.crc32(name.encode()) / 2**32


def _within_share(items: list[pytest.Item], share: float) -> set[str]:
    """The names of the tests marked long that are run: the share, and of each test at least the first case."""
    first: dict[str, str] = {}
    for item in items:
        name = item.nodeid.partition("[")[0]
        if name not in first or _place(item.nodeid) < _place(first[name]):
            first[name] = item.nodeid
    return {item.nodeid for item in items if _place(item.nodeid) < share} | set(first.values())


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    alone = any("::" in asked for asked in config.args)  # a test that is asked for by its name runs whole
    long = [item for item in items if item.get_closest_marker("long")]
    run = {item.nodeid for item in long} if alone else _within_share(long, config.getoption("--share"))
    left = [item for item in long if item.nodeid not in run]
    if _without():
        left += [item for item in items if item.get_closest_marker("browser") and item not in left]
    if left:
        out = {item.nodeid for item in left}
        items[:] = [item for item in items if item.nodeid not in out]
        config.hook.pytest_deselected(items=left)
    items.sort(key=lambda item: LONGEST.index(item.path.name) if item.path.name in LONGEST else len(LONGEST))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if _without():
        line = "no Chromium here: the tests marked browser were left out (apt-get install chromium chromium-driver)"
        terminalreporter.write_line(line)
