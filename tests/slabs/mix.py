"""Slabs and parts of design files that the tests of several rules on mix share."""

from __future__ import annotations

from design_text import review_by
from slabwright.review.report import Report


def review(
    rule: str, mix: str = "", site: str = "", use: str = "patio", thickness: str = "4 in", unit: str = "ft"
) -> Report:
    """The review of a small slab with ``mix`` and ``site``."""
    return review_by(rule, "\n".join([
        "format: 1",
        "job: {name: Test slab}",
        f"units: {{plan: {unit}, height: {unit}}}",
        f"use: {use}",
        f"site: {{{site}}}" if site else "",
        "outline: [[0, 0], [3, 0], [3, 2], [0, 2]]",
        f"thickness: {{design: {thickness}}}",
        f"mix: {{{mix}}}" if mix else "",
    ]))  # fmt: skip
