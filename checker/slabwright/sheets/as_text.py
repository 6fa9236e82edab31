"""A sheet of a job as plain text in a fixed number of columns."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TextIO

from slabwright.sheets.sheet import Cell, Column, Figure, Money, Reading, Section, Sheet, Table
from slabwright.text.letters import GLUE, columns, together, wrap
from slabwright.text.screen import fitting_width, put, stream_encoding
from slabwright.text.sheet import Line, Run
from slabwright.text.sheet import Sheet as Setting
from slabwright.text.words import Value, Words, filled, written
from slabwright.text.working import Fill, plain_amount, sentence, step_rows
from slabwright.units.quantity import Amount, Kind, System, in_both, is_alone, numerals, show, to_unit

_GAP = 2  # columns between the columns of a table
_NARROW = 12  # a column of text is not squeezed below this
_LABEL = 26  # columns a figure's label takes
_HAULED: dict[System, str] = {"us": "ton", "metric": "t"}
_HEAVY = 2000 * 0.45359237  # kg: from a short ton on
_OTHER: dict[System, System] = {"us": "metric", "metric": "us"}


def write(sheet: Sheet, stream: TextIO, width: int | None = None) -> None:
    """Write the sheet to a stream, set for its width and its encoding."""
    put(lines(sheet, fitting_width(stream, width), stream_encoding(stream)), stream)


def lines(sheet: Sheet, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The lines of the sheet."""
    page = Setting(width, encoding)
    fill = filling(sheet.system)
    page.rule(heavy=True)
    page.paragraph(sheet.title.upper(), tone="strong")
    page.rule()
    page.labeled("Job", sheet.job + (f" ({sheet.number})" if sheet.number else ""), indent=0)
    page.labeled("File", sheet.file, indent=0)
    if sheet.pour:
        page.labeled("Pour", ", ".join(day.isoformat() for day in sheet.pours or (sheet.pour,)), indent=0)
    page.blank()
    for words in sheet.says:
        page.paragraph(sentence(filled(words, fill, sheet.system)), tone="strong")
    if sheet.picture:
        page.paragraph(sentence(filled(sheet.picture, fill, sheet.system)))
    for section in sheet.sections:
        _section(page, section, sheet.system, fill)
    if sheet.cautions:
        page.heading("Cautions")
        for words in sheet.cautions:
            page.paragraph(f"- {sentence(filled(words, fill, sheet.system))}", 2, 2)
    page.blank()
    page.rule()
    page.paragraph(sheet.local_code)
    page.rule(heavy=True)
    return page.lines


def filling(system: System) -> Fill:
    """How a value in a sentence is written: amounts kept on one line as far as can be."""

    def fill(value: Value) -> str:
        return together(amount_text(value, system)) if isinstance(value, Amount) else str(value)

    return fill


def amount_text(amount: Amount, system: System, both: bool | None = None) -> str:
    """An amount as it is bought and hauled: heavy things in tons, to three figures; all else as ever.

    >>> from slabwright.units.quantity import beside, mass
    >>> amount_text(mass(9071.8474), "us"), amount_text(mass(18371.0), beside("us"))
    ('10 ton', '20.3 ton (18.4 t)')
    """
    if amount.typed or amount.kind is not Kind.MASS or abs(amount.si) < _HEAVY:
        return show(amount, system, both)
    texts = [
        numerals(f"{_three(to_unit(amount, _HAULED[one]))} {_HAULED[one]}", system) for one in (system, _OTHER[system])
    ]
    beside = in_both(system) if both is None else both and not is_alone(system)
    return f"{texts[0]} ({texts[1]})" if beside else texts[0]


def _three(number: float) -> str:
    """A number from one up to three figures, halves away from zero; a whole one as it is."""
    places = 0 if abs(number - round(number)) < 1e-6 or abs(number) >= 100 else 1 if abs(number) >= 10 else 2
    return f"{number * (1 + 1e-12):,.{places}f}"


def cell_text(cell: Cell, system: System, both: bool = False) -> str:
    """A cell in words: amounts as short as they can be said, or with ``both`` as in a sentence.

    A column of numbers goes to the sixteenth, and does not say of each that it is rounded.
    """
    match cell:
        case None:
            return ""
        case Amount() if both:
            return together(amount_text(cell, system))
        case Amount():
            finer = system == "us" and cell.kind is Kind.DEPTH and show(cell, system, both=False).startswith("about ")
            text = (
                show(plain_amount(cell), system, False, 1) if finer else amount_text(plain_amount(cell), system, False)
            )
            return together(text.removeprefix("about "))
        case Reading():
            return together(cell.text)
        case Words():
            return filled(cell, lambda value: cell_text(value, system, both), system)
        case int():
            return numerals(f"{cell:,}", system)
        case Money():
            return numerals(str(cell), system)
        case _:
            return str(cell)


def _section(page: Setting, section: Section, system: System, fill: Fill) -> None:
    page.heading(section.title)
    for figure in section.figures:
        _figure(page, figure, system, fill)
    for table in section.tables:
        page.blank()
        if table.title and table.title != section.title:
            page.paragraph(table.title, 2, tone="strong")
        _table(page, table, system)
    if section.working:
        page.blank()
        rows = [row for step in section.working for row in step_rows(step, fill, page.width - 14, system)]
        page.rows("working", rows, indent=2)
    if section.notes:
        page.blank()
    for words in section.notes:
        page.paragraph(f"- {sentence(filled(words, fill, system))}", 2, 2)
    if section.add:
        page.blank()
        page.rows("to add", [written(one, system) for one in section.add], indent=2)


def _figure(page: Setting, figure: Figure, system: System, fill: Fill) -> None:
    value = cell_text(figure.value, system, both=True)
    room = page.width - 2 - _LABEL
    told = f"{value}; {filled(figure.says, fill, system)}" if figure.says and value else value
    if figure.says and not value:
        told = filled(figure.says, fill, system)
    head = page.text(figure.label)
    if columns(head) >= _LABEL:
        page.paragraph(head, 2)
        head = ""
    for part in wrap(page.text(told), room):
        _put(page, "  " + head.ljust(_LABEL) + part)
        head = ""


def _put(page: Setting, text: str) -> None:
    page.lines.append((Run(text.replace(GLUE, " ").rstrip()),))


def _table(page: Setting, table: Table, system: System) -> None:
    """The table in columns; where they do not fit, some under others, else each row as a list of named values."""
    titles = [page.text(column.title) for column in table.columns]
    body = [_texts(page, table, row, system) for row in table.rows]
    total = _texts(page, table, table.total, system) if table.total else None
    for fold in (False, True) if any(column.under for column in table.columns) else (False,):
        sets = [[titles], body, [total] if total else []]
        heads, rows, totals = [[_folded(table, row) for row in part] if fold else part for part in sets]
        columns_shown = [column for column in table.columns if not (fold and column.under)]
        widths = [
            max(
                max((columns(word) for word in title.split()), default=0),
                *(columns(line) for row in (*rows, *totals) for line in row[at].split("\n")),
                1,
            )
            for at, title in enumerate(heads[0])
        ]
        room = page.width - 2
        widths = _squeezed(columns_shown, _loosened(heads[0], widths, room), room)
        if sum(widths) + _GAP * (len(widths) - 1) <= room:
            break
    else:
        _listed(page, titles, body, total)
        return
    stroke = page.text("─")
    line = "  " + (" " * _GAP).join(stroke * width for width in widths)
    _row(page, columns_shown, heads[0], widths)
    _put(page, line)
    for row in rows:
        _row(page, columns_shown, row, widths)
    for row in totals:
        _put(page, line)
        _row(page, columns_shown, row, widths)


def _folded(table: Table, row: Sequence[str]) -> list[str]:
    """The texts of a row with those of some columns as a second line of others."""
    by_key = {column.key: text for column, text in zip(table.columns, row, strict=True)}
    below = {column.under: column.key for column in table.columns if column.under}
    return [
        f"{by_key[column.key]}\n{by_key[below[column.key]]}" if column.key in below else by_key[column.key]
        for column in table.columns
        if not column.under
    ]


def _loosened(titles: Sequence[str], widths: list[int], room: int) -> list[int]:
    """Widths with room for whole titles as far as the table still fits, the narrowest wanting first."""
    widths = list(widths)
    for at in sorted(range(len(titles)), key=lambda at: columns(titles[at]) - widths[at]):
        wide = max(widths[at], *(columns(line) for line in titles[at].split("\n")))
        if sum(widths) - widths[at] + wide + _GAP * (len(widths) - 1) <= room:
            widths[at] = wide
    return widths


def _squeezed(shown: Sequence[Column], widths: list[int], room: int) -> list[int]:
    """Widths with the columns of text made narrower until the table fits, the widest first."""
    widths = list(widths)
    while sum(widths) + _GAP * (len(widths) - 1) > room:
        loose = [
            at for at, column in enumerate(shown) if not column.right and widths[at] > _NARROW
        ]  # fmt: skip
        if not loose:
            break
        widths[max(loose, key=lambda at: widths[at])] -= 1
    return widths


def _texts(page: Setting, table: Table, row: Sequence[Cell], system: System) -> list[str]:
    return [
        page.text(cell_text(cell, system, column.both)) for cell, column in zip(row, table.columns, strict=True)
    ]  # fmt: skip


def _row(page: Setting, shown: Sequence[Column], row: Sequence[str], widths: Sequence[int]) -> None:
    parts = [
        [part for line in text.split("\n") for part in wrap(line, width)]
        for text, width in zip(row, widths, strict=True)
    ]  # fmt: skip
    for line in range(max(map(len, parts))):
        cells = []
        for part, width, column in zip(parts, widths, shown, strict=True):
            text = part[line] if line < len(part) else ""
            space = " " * (width - columns(text))
            cells.append(space + text if column.right else text + space)
        _put(page, "  " + (" " * _GAP).join(cells))


def _listed(page: Setting, titles: Sequence[str], body: Sequence[Sequence[str]], total: Sequence[str] | None) -> None:
    for row in (*body, *([total] if total else [])):
        said = [f"{title}: {text}" for title, text in zip(titles[1:], row[1:], strict=True) if text]
        page.paragraph(f"{row[0]}: {'; '.join(said)}" if said else row[0], 2, 2)
