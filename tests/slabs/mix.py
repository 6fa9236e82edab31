"""Slabs and parts of design files that the tests of several rules on mix share."""

from __future__ import annotations

from design_text import pad, review_by
from slabwright.review.report import Report


def review(
    rule: str, mix: str = "", site: str = "", use: str = "patio", thickness: str = "4 in", unit: str = "ft"
) -> Report:
    """The review of a small slab with ``mix`` and ``site``."""
    more = (f"site: {{{site}}}\n" if site else "") + (f"mix: {{{mix}}}" if mix else "")
    return review_by(rule, pad(more, use, unit, outline="[[0, 0], [3, 0], [3, 2], [0, 2]]", thick=thickness))
