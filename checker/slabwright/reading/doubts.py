"""Questions about a design that can be read but looks like a slip."""

from __future__ import annotations

from slabwright.problem import Problems
from slabwright.reading.design import Design
from slabwright.reading.located import Group


def ask(design: Design, data: Group, questions: Problems) -> None:
    """Add every question about ``design`` to ``questions``."""
