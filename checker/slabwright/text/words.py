"""Sentences with quantities in them, kept as data so that every writer prints the same words in its own way."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import NamedTuple

from slabwright.units.quantity import Amount, System, has_comma, numerals, show

Value = Amount | str | int

_SLOT = re.compile(r"\{([a-z_0-9]+)\}")
_COUNT = re.compile(r"\d{1,3}(?:,\d{3})+")
_EITHER = re.compile(r"\{([^{}|]*)\|([^{}|]*)\}")


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


class Step(NamedTuple):
    """One line of arithmetic: what is worked, the formula in words, the numbers put in, the result."""

    what: str
    formula: str
    numbers: Words
    result: Amount


def step(what: str, formula: str, numbers: Words, result: Amount) -> Step:
    """One line of arithmetic, for ``working``.

    >>> from slabwright.units.quantity import depth
    >>> step("least cut", "thickness / 4", words("{t} / 4", t=depth(0.127)), depth(0.03175)).what
    'least cut'
    """
    return Step(what, formula, numbers, result)


def cannot_all_hold(things: Sequence[Words | str], short: Amount) -> Words:
    """What clashes, and by how much; ``short`` is shown as it is.

    >>> from slabwright.units.quantity import depth
    >>> plain(cannot_all_hold(["sill", "walk", "2 % away from the wall"], depth(0.1143)), "us", both=False)
    'sill, walk and 2 % away from the wall cannot all hold: short by 4 1/2 in'
    >>> plain(cannot_all_hold(["sill", "walk"], depth(0.0254)), "us", both=False)
    'sill and walk cannot both hold: short by 1 in'
    """
    values: dict[str, Value] = {"short": short}
    named = []
    for number, thing in enumerate(things):
        one = thing if isinstance(thing, Words) else Words("{name}", {"name": thing})
        named.append(_SLOT.sub(lambda slot: f"{{{slot[1]}_{number}}}", one.template))  # noqa: B023
        values |= {f"{slot}_{number}": value for slot, value in one.values.items()}
    hold = {1: "cannot hold", 2: "cannot both hold"}.get(len(named), "cannot all hold")
    listed = " and ".join(filter(None, (", ".join(named[:-1]), named[-1])))
    return Words(f"{listed} {hold}: short by {{short}}", values)


def move_by(name: str, by: Amount, up: bool) -> Words:
    """Tell to set a thing higher or lower by some depth.

    >>> from slabwright.units.quantity import depth
    >>> plain(move_by("garden walk", depth(0.0254), up=False), "us", both=False)
    'bring garden walk down by 1 in'
    """
    return Words("raise {name} by {off}" if up else "bring {name} down by {off}", {"name": name, "off": by})


def plain(sentence: Words, system: System, both: bool | None = None) -> str:
    """The sentence as plain text; amounts in ``system`` and, with ``both``, the other in brackets.

    Values taken from the design file (names) are put in as they are: a writer must still escape the result.
    """

    def fill(value: Value) -> str:
        return show(value, system, both) if isinstance(value, Amount) else str(value)

    return filled(sentence, fill, system)


def filled(sentence: Words, fill: Callable[[Value], str], system: System | None = None) -> str:
    """The sentence with each slot replaced by ``fill(value)``, fixed words and counts as ``system`` says them."""
    values, (parts, _) = sentence.values, _parts(written(sentence.template, system))
    said = [fill(values[part]) if at % 2 else part for at, part in enumerate(parts)]
    for at in range(1, len(said), 2):  # what is taken off and lies below zero stands in brackets
        if said[at - 1].endswith(" - ") and said[at].startswith("-"):
            said[at] = f"({said[at]})"
    own = (at for at, part in enumerate(parts) if not at % 2 or _COUNT.fullmatch(str(values[part])))
    for at in own if system is not None and has_comma(system) else ():
        said[at] = numerals(said[at], system)
    return "".join(said)


def written(text: str, system: System | None) -> str:
    """A fixed text with ``{in feet and inches|in metric}`` where the two systems say it in their own words.

    Without a system both are told: limits on pages of the rulebook.

    >>> text = "fall within {10 ft|3 m} of a wall"
    >>> written(text, "us"), written(text, "metric"), written(text, None)
    ('fall within 10 ft of a wall', 'fall within 3 m of a wall', 'fall within 10 ft (3 m) of a wall')
    """
    if "|" not in text:
        return text
    return _EITHER.sub({"us": r"\1", "metric": r"\2"}[system] if system else r"\1 (\2)", text)


def told(text: str, system: System | None) -> str:
    """A fixed text as people of ``system`` read it: :func:`written`, with their decimal sign."""
    return numerals(written(text, system), system)


def either(text: str) -> list[tuple[str, str]]:
    """The pairs in a text that the two systems say differently.

    >>> either("fall within {10 ft|3 m} of a wall")
    [('10 ft', '3 m')]
    """
    return _EITHER.findall(text)
