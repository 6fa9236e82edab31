"""What tests may need besides Python: those marked ``browser`` run where Chromium is, and must run where CI is."""

from __future__ import annotations

import os

import browser
import pytest


def _without() -> bool:
    return browser.found() is None and os.environ.get("CI", "").lower() not in {"1", "true"}


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if not _without():
        return
    left = [item for item in items if item.get_closest_marker("browser")]
    if left:
        items[:] = [item for item in items if not item.get_closest_marker("browser")]
        config.hook.pytest_deselected(items=left)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if _without():
        line = "no Chromium here: the tests marked browser were left out (apt-get install chromium chromium-driver)"
        terminalreporter.write_line(line)
