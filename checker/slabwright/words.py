"""Sentences with quantities in them, kept as data so that every writer prints the same words in its own way."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from slabwright.quantity import Amount, System, show

Value = Amount | str | int

_SLOT = re.compile(r"\{([a-z_0-9]+)\}")


@dataclass(frozen=True, slots=True)
class Words:
    """A sentence with ``{slots}`` and the value of each."""

    template: str
    values: Mapping[str, Value] = field(default_factory=dict)

    def __post_init__(self) -> None:
        wanted = _parts(self.template)[1]
        if wanted != self.values.keys():
            raise ValueError(f"slots {sorted(wanted)} and values {sorted(self.values)} differ in {self.template!r}")


@lru_cache(maxsize=2048)
def _parts(template: str) -> tuple[tuple[str, ...], frozenset[str]]:
    """A sentence cut at its slots (text, slot, text, slot, ... text), and its slots; rules have few, used often."""
    parts = tuple(_SLOT.split(template))
    return parts, frozenset(parts[1::2])


def words(template: str, **values: Value) -> Words:
    """Make a sentence; every slot needs a value and every value a slot (``ValueError`` otherwise).

    >>> words("{name} is too long", name="P3").values["name"]
    'P3'
    """
    return Words(template, values)


def plain(sentence: Words, system: System, both: bool = True) -> str:
    """The sentence as plain text; amounts in ``system`` first and, with ``both``, the other in brackets.

    Values taken from the design file (names) are put in as they are: a writer must still escape the result.
    """

    def fill(value: Value) -> str:
        return show(value, system, both) if isinstance(value, Amount) else str(value)

    return filled(sentence, fill)


def filled(sentence: Words, fill: Callable[[Value], str]) -> str:
    """The sentence with each slot replaced by ``fill(value)``."""
    values, (parts, _) = sentence.values, _parts(sentence.template)
    return "".join([fill(values[part]) if at % 2 else part for at, part in enumerate(parts)])
