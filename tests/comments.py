"""What tests read off a review: its one comment, what that says and asks for, and why there is none."""

from __future__ import annotations

from slabwright.review.report import Comment, Report
from slabwright.rulebook.conclusion import Finding
from slabwright.text.words import plain
from slabwright.units.quantity import Amount, System, show


def only(report: Report) -> Comment:
    """The one comment of a review."""
    (comment,) = report.comments
    return comment


def weights(report: Report) -> list[tuple[str, str]]:
    """Weight and limit of every comment."""
    return [(comment.weight, comment.limit.name) for comment in report.comments]


def limits_broken(report: Report) -> list[str]:
    """The limit that every comment breaks, by name."""
    return [comment.limit.name for comment in report.comments]


def places(report: Report) -> list[str]:
    """What every comment is about, by name."""
    return [comment.at.name for comment in report.comments]


def says(comment: Comment | Finding, system: System = "us") -> str:
    """What a comment says."""
    return plain(comment.says, system, both=False)


def told(comment: Comment, system: System = "us") -> tuple[str, str]:
    """What a comment says, and what would make it pass, with numbers in one unit system."""
    return says(comment, system), advice(comment, system)


def advice(comment: Comment | Finding, system: System = "us") -> str:
    """What would make a comment pass."""
    return plain(comment.to_pass, system, both=False)


def value(comment: Comment | Finding, slot: str) -> float:
    """A number of what would make a comment pass, SI."""
    amount = comment.to_pass.values[slot]
    assert isinstance(amount, Amount)
    return amount.si


def slot_shown(comment: Comment | Finding, slot: str, system: System = "us") -> str:
    """One value of what would make a comment pass, as it is printed."""
    told = comment.to_pass.values[slot]
    return show(told, system, both=False) if isinstance(told, Amount) else str(told)


def reason(report: Report) -> str:
    """Why the one rule of a review does not apply."""
    (entry,) = report.does_not_apply
    return entry.reason


def added(report: Report) -> tuple[str, ...]:
    """What the one rule of a review asks for that is not shown."""
    (entry,) = report.not_shown
    return tuple(entry.add)
