"""What would make a shortfall pass, as data: edits of the design file, and the sentence that tells them.

A finding has a list of alternatives, the best first. Each is one or several edits that belong together; the review
applies them to the design in memory and judges again before it prints them. Where no edit can help, because an edit
would only falsify a fact, a person has to decide, and the finding says what.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from slabwright.design.outline import Isolation
from slabwright.plan.edges import is_cut
from slabwright.plan.grades import NewHeight
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, depth, height, length

MOST_HEIGHTS = 6  # told one by one in a sentence
EVEN = 0.0032  # m, an eighth of an inch: heights that move by no more or less are told as moved alike


class Write(NamedTuple):
    """Write a value at a key path, in place of the one there or as a new key; of a place both coordinates."""

    path: str
    value: Value | tuple[Value, ...]


Entry = tuple[tuple[str, Value | tuple[Value, ...]], ...]  # the keys of an entry of a list, in order, with their values


class Append(NamedTuple):
    """Put an entry at the end of a list, such as a joint or a fixture."""

    path: str
    entry: Entry


class Drop(NamedTuple):
    """Leave out the key, or the entry of a list, at a path."""

    path: str


Edit = Write | Append | Drop


class Remedy(NamedTuple):
    """Edits that belong together, and the sentence that tells them; without edits it is left to a person.

    One that ``leads`` is the way for all comments of its weight that it settles, also those before it, and also where
    a person has to fit the rest of the job to it.
    """

    says: Words
    edits: tuple[Edit, ...]
    leads: bool = False

    @property
    def sections(self) -> frozenset[str]:
        """The sections of the design file that the edits change."""
        return frozenset(edit.path.partition(".")[0].partition("[")[0] for edit in self.edits)


def write(path: str, value: Value | tuple[Value, ...], says: Words) -> Remedy:
    """Write one value: ``write("mix.air", share(0.06), words("order {air} air", air=share(0.06)))``."""
    return Remedy(says, (Write(path, value),))


def append(path: str, entry: Mapping[str, Value | tuple[Value, ...]], says: Words) -> Remedy:
    """Put one entry at the end of a list: a joint, a fixture, an edge."""
    return Remedy(says, (Append(path, tuple(entry.items())),))


def leading(remedy: Remedy) -> Remedy:
    """A remedy as the way for all comments that it settles."""
    return remedy._replace(leads=True)


def place_of(at: tuple[float, float]) -> tuple[Amount, Amount]:
    """A place on the plan (x, y in m) as an edit writes it."""
    return length(at[0]), length(at[1])


def drop(path: str, says: Words) -> Remedy:
    """Leave out a key or an entry."""
    return Remedy(says, (Drop(path),))


def write_slump(consistence: str | None, slump: Amount, says: Words) -> Remedy:
    """Another slump; a class of slump beside it, within which it may not lie, is left out."""
    classed = (Drop("mix.consistence"),) if (consistence or "").startswith("S") else ()
    return Remedy(says, (Write("mix.slump", slump), *classed))


def together(*remedies: Remedy, says: Words | None = None) -> Remedy:
    """Remedies that only help together, as one; told one after the other unless ``says`` tells them at once."""
    edits = tuple(edit for one in remedies for edit in one.edits)
    return Remedy(says or together_told([one.says for one in remedies]), edits)


def together_told(sentences: Sequence[Words]) -> Words:
    """Some sentences as one, told one after the other; what is said already is not said again."""
    sentences = [one for number, one in enumerate(sentences) if one not in sentences[:number]]
    values: dict[str, Value] = {}
    templates: list[str] = []
    for number, one in enumerate(sentences, 1):
        template = one.template
        for slot, value in one.values.items():
            template = template.replace(f"{{{slot}}}", f"{{{slot}_{number}}}")
            values[f"{slot}_{number}"] = value
        templates.append(template)
    return words("; ".join(templates), **values)


def set_heights(heights: Sequence[NewHeight], says: Words | None = None) -> list[Remedy]:
    """Write new heights at points; no remedy where there are none, or more than a sentence can tell and no ``says``.

    A name that begins with "the base at " is a height of the prepared base.
    """
    if not heights or (says is None and len(heights) > MOST_HEIGHTS):
        return []
    return [Remedy(says or _told(heights), tuple(Write(_path(one.name), height(one.new)) for one in heights))]


def set_along(edge: str, heights: Sequence[NewHeight]) -> Words | None:
    """New heights at two points of an edge and more, told together; None where they go two ways, or are too many."""
    offs = [one.new - one.old for one in heights]
    if not 2 <= len(offs) <= MOST_HEIGHTS or min(offs) < 0 < max(offs):
        return None
    far, near = max(map(abs, offs)), min(map(abs, offs))
    slots: dict[str, Value] = {
        "along_edge": edge, "off": depth(far), "way": "higher" if max(offs) > 0 else "lower",
        **{f"name{n}": one.name for n, one in enumerate(heights, 1)},
        **{f"to{n}": height(one.new) for n, one in enumerate(heights, 1)},
    }  # fmt: skip
    points = ", ".join(f"{{name{n}}} to {{to{n}}}" for n in range(1, len(heights) + 1))
    most = "" if far - near < EVEN else "up to "
    return words(f"set the slab {most}{{off}} {{way}} along {{along_edge}}: {points}", **slots)


def _path(name: str) -> str:
    on_base = name.startswith("the base at ")
    return f"heights.{'base' if on_base else 'finish'}.{name.removeprefix('the base at ')}"


def _told(heights: Sequence[NewHeight]) -> Words:
    parts: list[str] = []
    values: dict[str, Amount | str] = {}
    for number, one in enumerate(heights, 1):
        verb = "raise" if one.new > one.old else "lower"
        parts.append(f"{verb} {{name{number}}} by {{off{number}}}, to {{to{number}}}")
        values |= {
            f"name{number}": one.name,
            f"off{number}": depth(abs(one.new - one.old)),
            f"to{number}": height(one.new),
        }
    return words("; ".join(parts), **values)


def fill(path: str, there: Isolation | None, says: Words) -> Remedy:
    """Filler through the whole slab at an edge, an opening, a fixture or a joint; ``there`` is the filler it has."""
    if there is None or there.material == "none":
        return write(f"{path}.isolation", "{material: foam, depth: full}", says)
    full = write(f"{path}.isolation.depth", "full", says)
    return together(full, write(f"{path}.isolation.material", "foam", says), says=says) if is_cut(there) else full


def through(drawn: Remedy) -> Remedy:
    """New joints, with filler through the whole slab in them."""
    filler = ("isolation", "{material: foam, depth: full}")
    edits = (one._replace(entry=(*one.entry, filler)) if isinstance(one, Append) else one for one in drawn.edits)
    return drawn._replace(edits=tuple(edits))


def told_of(remedies: Sequence[Remedy], decide: Words | None) -> Words:
    """The sentence of the first remedy, else what a person has to decide."""
    if remedies:
        return remedies[0].says
    if decide is None:
        raise ValueError("a finding without a remedy says what a person has to decide")
    return decide
