"""``review --why NUMBER``: what one comment rests on, from the file to the verdict."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from slabwright.review import reviewing
from slabwright.review.reviewing import Settings
from slabwright.source.problem import refuse
from slabwright.text.screen import put, screen
from slabwright.writers import why_sheet

FINE, HOLD = 0, 1


def tell(arguments: argparse.Namespace, settings: Settings) -> int:
    """Points, facets, water and panels behind a comment; the status is that of the review.

    Raises :class:`UnreadableError` when the design cannot be read, or no comment has the number.
    """
    path = Path(arguments.files[0])
    judged = reviewing.judge(path, settings, advise=True)
    comments = judged.report.comments
    comment = next((one for one in comments if one.number == arguments.why), None)
    if comment is None:
        numbers = f"a number from 1 to {len(comments)}" if comments else "nothing: there is no comment"
        refuse(str(path), f"no comment has the number {arguments.why}", numbers)
    put(why_sheet.sheet(judged.plan, judged.report, comment, *screen(arguments.width)), sys.stdout)
    return HOLD if judged.holds else FINE
