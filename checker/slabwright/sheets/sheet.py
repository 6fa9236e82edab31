"""What every sheet of a job is made of: figures, tables, arithmetic and notes as frozen data, for any writer to set.

A cell holds an amount, words with amounts in them, text, a whole number, money, or nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from slabwright.plan.plan import Plan
from slabwright.text.words import Step, Words
from slabwright.units.quantity import Amount, System

LOCAL_CODE = (
    "The adopted local code and licensed practice govern. Quantities come from the plan as drawn; what the ground, "
    "the plant and the crew do on the day is theirs to check."
)


@dataclass(frozen=True, slots=True)
class Money:
    """A sum of money, by prices the user gave; ``currency`` is printed as the user wrote it, and may be empty."""

    value: float
    currency: str = ""

    def __str__(self) -> str:
        """``1,234.50 USD``."""
        return f"{self.value:,.2f} {self.currency}".rstrip()


@dataclass(frozen=True, slots=True)
class Reading:
    """An amount as a rod, a tape or a gauge says it: ``text`` for people, ``amount`` for programs."""

    text: str
    amount: Amount


Cell = Amount | Reading | Words | Money | str | int | None


@dataclass(frozen=True, slots=True)
class Figure:
    """One number of a section by its name: ``key`` for programs, ``label`` for people, ``says`` what it means."""

    key: str
    label: str
    value: Cell
    says: Words | None = None


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table; ``right`` for numbers, ``both`` to show amounts in both unit systems.

    ``under`` names the column below whose cells these stand where one line a row is too narrow.
    """

    key: str
    title: str
    right: bool = True
    both: bool = False
    under: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """Rows with one cell for each column; ``total`` is a row of sums, set apart."""

    key: str
    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    total: tuple[Cell, ...] | None = None

    def __post_init__(self) -> None:
        wanted = len(self.columns)
        for row in (*self.rows, *((self.total,) if self.total else ())):
            if len(row) != wanted:
                raise ValueError(f"table {self.key!r} has {wanted} columns and a row of {len(row)}")


@dataclass(frozen=True, slots=True)
class Section:
    """A part of a sheet. ``add`` names what to write in the design to get more of it (``key: such as ...``)."""

    key: str
    title: str
    figures: tuple[Figure, ...] = ()
    tables: tuple[Table, ...] = ()
    working: tuple[Step, ...] = ()
    notes: tuple[Words, ...] = ()
    add: tuple[str, ...] = ()


def tabled(
    key: str,
    title: str,
    columns: Sequence[Column],
    rows: Sequence[tuple[Cell, ...]],
    notes: Sequence[Words] = (),
    head: str = "",
) -> Section:
    """A section that is one table, of the same key and with ``head`` over it, and notes."""
    return Section(key, title, tables=(Table(key, head, tuple(columns), tuple(rows)),), notes=tuple(notes))


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole sheet. ``says`` is its point in a few sentences; ``rows`` names the tables that go out as CSV."""

    kind: Literal["order", "stake", "card"]
    title: str
    job: str
    file: str
    use: str
    system: System
    says: tuple[Words, ...]
    sections: tuple[Section, ...]
    number: str = ""
    pour: date | None = None
    pours: tuple[date, ...] = ()  # of several pours: the day of each
    cautions: tuple[Words, ...] = ()
    rows: tuple[str, ...] = ()
    picture: Words | None = None  # where to find the picture that text cannot show
    local_code: str = field(default=LOCAL_CODE)

    def section(self, key: str) -> Section:
        """The section of that key (``KeyError`` without one)."""
        for section in self.sections:
            if section.key == key:
                return section
        raise KeyError(key)

    def table(self, key: str) -> Table:
        """The table of that key, in whichever section it stands (``KeyError`` without one)."""
        for section in self.sections:
            for table in section.tables:
                if table.key == key:
                    return table
        raise KeyError(key)

    def figure(self, key: str) -> Figure:
        """The figure of that key, in whichever section it stands (``KeyError`` without one)."""
        for section in self.sections:
            for figure in section.figures:
                if figure.key == key:
                    return figure
        raise KeyError(key)


def sheet_of(
    plan: Plan,
    kind: Literal["order", "stake", "card"],
    title: str,
    says: Sequence[Words],
    sections: Sequence[Section | None],
    cautions: Sequence[Words],
    rows: tuple[str, ...],
) -> Sheet:
    """A sheet of a plan, headed by its job; sections that there is nothing for are left out."""
    design = plan.design
    return Sheet(
        kind=kind,
        title=title,
        job=design.job.name,
        number=design.job.number,
        file=design.file,
        use=" and ".join(plan.areas.called),
        system=plan.system,
        pour=design.job.pour,
        says=tuple(says),
        sections=tuple(section for section in sections if section is not None),
        cautions=tuple(cautions),
        rows=rows,
    )
