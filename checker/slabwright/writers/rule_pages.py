"""Rules for reading: the rulebook by group, one rule's teaching page, and both as plain data for other programs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import Any

from slabwright.rulebook.in_force import InForce, Limits
from slabwright.rulebook.rule import Rule
from slabwright.rulebook.sources import Bibliography
from slabwright.text.letters import together
from slabwright.text.sheet import Line, Sheet
from slabwright.text.words import written
from slabwright.text.working import plain_amount
from slabwright.units.quantity import Amount, show


def rulebook(
    rules: Sequence[Rule],
    limits: Mapping[str, Limits],
    layers: Sequence[str] = (),
    width: int = 80,
    encoding: str = "utf-8",
) -> list[Line]:
    """Every rule by group: its title and its limits in force, each with who set it and where it stands."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph("RULEBOOK", tone="strong")
    page.rule()
    page.labeled("Rules", f"{len(rules)} in force", indent=0)
    page.labeled("Limits", ", then ".join(("published", *layers)), indent=0)
    page.rule(heavy=True)
    for group, members in groupby(rules, key=lambda rule: rule.group):
        in_group = list(members)
        page.heading(f"{group.upper()} ({len(in_group)})")
        for rule in in_group:
            page.blank()
            page.paragraph(f"{rule.name}: {rule.title}{' (own rule)' if rule.own else ''}", hang=4, tone="strong")
            for limit in limits[rule.name].values():
                _limit(page, limit)
    page.blank()
    page.rule()
    page.paragraph("slabwright teach RULE explains one of them, with an example that falls short.")
    return page.lines


def _limit(page: Sheet, limit: InForce) -> None:
    page.labeled("limit", f"{in_words(limit)}: {written(limit.meaning, None)}")
    page.labeled("set by", f"{set_by(limit)}; {limit.citation}")


def both(amount: Amount) -> str:
    """An amount as it is published, with the other system in brackets; one worked here in inches first."""
    return together(show(amount, "us", both=True))


def in_words(limit: InForce) -> str:
    """A limit with its direction and what a shortfall weighs: ``at most 12 ft (3.66 m), a hold``."""
    return f"at {limit.direction} {both(limit.value)}, a {limit.weight}"


def set_by(limit: InForce) -> str:
    """Who set a limit, and what it was before where another layer changed it."""
    if not limit.amended:
        return limit.set_by
    text = f"{limit.set_by} ({limit.layer})"
    before = []
    if limit.published is not None and limit.published.si != limit.value.si:
        before.append(both(limit.published))
    if limit.published_weight is not None and limit.published_weight != limit.weight:
        before.append(f"a {limit.published_weight}")
    if before:
        text += f", in place of {' and '.join(before)}"
    if limit.looser:
        text += f", LOOSER THAN {limit.stated.upper()}"
    return text + (f"; {limit.reason}" if limit.reason else "")


def teaching_page(
    rule: Rule, limits: Limits, sources: Bibliography, width: int = 80, encoding: str = "utf-8"
) -> list[Line]:
    """One rule's page: its text under its headings, its limits, and numbers worked again."""
    page = Sheet(width, encoding)
    page.rule(heavy=True)
    page.paragraph(rule.title, tone="strong")
    page.paragraph(f"rule {rule.name}, group {rule.group}{', own rule' if rule.own else ''}")
    page.rule(heavy=True)
    if rule.summary:
        page.blank()
        page.paragraph(rule.summary)
    for heading, text in rule.page.items():
        page.heading(heading)
        for paragraph in paragraphs(text):
            page.paragraph(paragraph, hang=2 if paragraph.startswith("- ") else 0)
    page.heading("Limits")
    for limit in limits.values():
        page.blank()
        _limit(page, limit)
    if rule.worked:
        page.heading("Numbers worked again")
        for worked in worked_again(rule, sources):
            page.blank()
            page.paragraph(worked["what"], tone="strong")
            page.labeled(worked["by"], worked["printed"])
            page.labeled("worked", worked["ours"])
            page.labeled("source", worked["source"])
    return page.lines


def example_heading(file: str, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """What stands between a rule's page and the comments on its example."""
    page = Sheet(width, encoding)
    page.blank()
    page.heading("A design that falls short, judged by this rule only")
    page.blank()
    page.paragraph(file)
    return page.lines


def paragraphs(text: str) -> Iterator[str]:
    """The paragraphs of a page, each on one line; every ``- `` begins one of its own."""
    current: list[str] = []
    for line in [*text.splitlines(), ""]:
        words = line.strip()
        if current and (not words or words.startswith("- ")):
            yield " ".join(current)
            current = []
        if words:
            current.append(words)


def worked_again(rule: Rule, sources: Bibliography) -> Iterator[dict[str, str]]:
    """Each number of a rule that others print or a hand can work, and what the rule's own formula gives.

    ``by`` tells which of the two it is: a number whose source is geometry is printed by nobody.
    """
    for worked in rule.worked:
        ours = Amount(worked.ours(), worked.printed.kind)
        yield {
            "what": worked.what,
            "by": "by hand" if sources.source(worked.cite.source).known == "derived" else "printed",
            "printed": both(worked.printed),
            "ours": both(ours),
            "source": sources.cite(worked.cite.source, worked.cite.where),
        }


def as_data(rules: Sequence[Rule], limits: Mapping[str, Limits], layers: Sequence[str] = ()) -> dict[str, Any]:
    """The rulebook as JSON-ready data; values in SI units with the kind of quantity, and as shown in both systems."""
    return {
        "layers": ["published", *layers],
        "rules": [
            {
                "name": rule.name,
                "group": rule.group,
                "title": rule.title,
                "own": rule.own,
                "file": rule.file,
                "limits": [_limit_data(limit) for limit in limits[rule.name].values()],
            }
            for rule in rules
        ],
    }


def _limit_data(limit: InForce) -> dict[str, Any]:
    return {
        "name": limit.name,
        "meaning": written(limit.meaning, None),
        "direction": limit.direction,
        "value": _amount_data(limit.value),
        "weight": limit.weight,
        "layer": limit.layer,
        "set_by": limit.set_by,
        "source": limit.citation,
        "known": limit.known,
        "looser": limit.looser,
        "published": _amount_data(limit.published) if limit.published and not limit.own else None,
    }


def _amount_data(amount: Amount) -> dict[str, Any]:
    return {
        "si": amount.si,
        "kind": amount.kind.value,
        "us": show(plain_amount(amount), "us", both=False),
        "metric": show(plain_amount(amount), "metric", both=False),
    }
