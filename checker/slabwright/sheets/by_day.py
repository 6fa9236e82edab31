"""Sheets of a job that is poured on several days: what is said of each day, one after the other on one sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from slabwright.plan import pours
from slabwright.sheets.sheet import Section, Sheet
from slabwright.text.words import Words, words


def heading(day: pours.Day) -> str:
    """How a day is called over what is said of it: ``pour 2, 2027-06-24``."""
    on = day.planned.pour.day
    return f"{day.planned.name}, {on.isoformat()}" if on else day.planned.name


def said(day: pours.Day, sentences: Sequence[Words]) -> Iterator[Words]:
    """Sentences about a day, each with its name before it."""
    for one in sentences:
        yield words(f"{{of_day}}: {one.template}", of_day=day.planned.name, **one.values)


def sections(day: pours.Day, number: int, of_day: Sequence[Section | None]) -> tuple[Section, ...]:
    """The sections of a day, their keys counted by days, and what they ask for by its path in the file."""
    return tuple(
        replace(
            one,
            key=f"{one.key}_{number}",
            title=f"{one.title}, {heading(day)}",
            figures=tuple(replace(figure, key=f"{figure.key}_{number}") for figure in one.figures),
            tables=tuple(
                replace(table, key=f"{table.key}_{number}", title="" if table.title == one.title else table.title)
                for table in one.tables
            ),
            add=tuple(pours.asked_in_file(add, day.planned.pour) for add in one.add),
        )
        for one in of_day
        if one is not None
    )  # fmt: skip


def together(days: Sequence[pours.Day], sheets: Sequence[Sheet]) -> Sheet:
    """The sheets of all days as one; what is said of every day, and a caution of several, is told once."""
    counted = list(zip(days, sheets, strict=True))
    every = tuple(one for one in sheets[0].says if all(one in sheet.says for sheet in sheets))
    told = [words_of for sheet in sheets for words_of in sheet.cautions]
    return replace(
        sheets[0],
        says=every
        + tuple(one for day, sheet in counted for one in said(day, [own for own in sheet.says if own not in every])),
        sections=tuple(
            one for number, (day, sheet) in enumerate(counted, 1) for one in sections(day, number, sheet.sections)
        ),
        cautions=tuple(one for at, one in enumerate(told) if one not in told[:at]),
        rows=tuple(f"{key}_{number}" for number, sheet in enumerate(sheets, 1) for key in sheet.rows),
        pours=tuple(day.planned.pour.day for day in days if day.planned.pour.day),
    )
