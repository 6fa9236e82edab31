"""Like comments told as one: one slip, one comment, with all its places and what is done at all of them at once.

Comments are alike that one rule makes in the same words, that weigh the same, and that ask for the same sort of
change. The worst leads and names the others; what differs in what must be done stays apart.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator, Sequence, Set
from itertools import count as count_up
from itertools import zip_longest

from slabwright.design.model import Design
from slabwright.review.one_height import merged
from slabwright.review.report import Comment, Report, brief, listed
from slabwright.rulebook.remedy import Append, Edit, Entry, Remedy, Write, together_told
from slabwright.text.words import Value, Words, plain, words
from slabwright.units.quantity import System

TOLD = 3  # different things to do told in a sentence
WAYS = 3  # ways to settle all places at once that are offered


def as_one(report: Report, design: Design) -> Report:
    """The report with like comments as one, numbered anew."""
    numbered = ([one._replace(number=number) for one in ones] for number, ones in enumerate(_alike(report.comments), 1))
    return report._replace(comments=tuple(_one(ones, design) for ones in numbered))


def told_as_one(comments: Sequence[Comment], design: Design) -> Iterator[Comment]:
    """Some comments, like ones as one."""
    return (_one(ones, design) for ones in _alike(comments))


def _alike(comments: Sequence[Comment]) -> Iterable[list[Comment]]:
    alike: dict[Hashable, list[Comment]] = {}
    for comment in comments:
        alike.setdefault(_sort(comment), []).append(comment)
    return alike.values()


def _sort(comment: Comment) -> Hashable:
    """What like comments have in common."""
    done: Hashable = comment.decide.template if comment.decide else ""
    if comment.remedies:
        done = comment.remedies[0].sections
    limited = comment.weight, comment.limit.direction, comment.asked.kind
    return comment.rule, *limited, comment.says.template, done, comment.variance, comment.rests_on


def _one(alike: Sequence[Comment], design: Design) -> Comment:
    """One comment for all that are alike."""
    if len(alike) == 1:
        return alike[0]
    places = tuple(sorted(alike, key=lambda one: (one.slack, _counted(one.at.name))))
    ways = tuple(_ways(places, design))
    left = [(one.at.name, one.decide) for one in places if one.decide]
    decide = told_at(left, design.system) if left else None
    to_pass = ways[0].says if ways else decide or places[0].to_pass
    return places[0]._replace(to_pass=to_pass, remedies=ways, decide=decide, alike=places)


def _counted(name: str) -> list[str | int]:
    """A name with its numbers as numbers, so that P2 comes before P10."""
    return [int(part) if at % 2 else part for at, part in enumerate(re.split(r"(\d+)", name))]


def _ways(every: Sequence[Comment], design: Design) -> Iterator[Remedy]:
    """Ways to settle all places at once: the first of each place together, the second, and so on."""
    if not all(one.remedies for one in every):
        return
    seen: list[tuple[Edit, ...]] = []
    for row in list(zip_longest(*(one.remedies for one in every)))[:WAYS]:
        ones = [remedy or one.remedies[0] for remedy, one in zip(row, every, strict=True)]
        way = at_once([(one.at.name, remedy) for one, remedy in zip(every, ones, strict=True)], design)
        if way.edits not in seen or not way.edits:
            seen.append(way.edits)
            yield way


def at_once(at_places: Sequence[tuple[str, Remedy]], design: Design) -> Remedy:
    """Remedies of several places as one, and the sentence that tells them."""
    ones = [one for _, one in at_places]
    leads = any(one.leads for one in ones)
    heights: Remedy | None = ones[0]
    for one in ones[1:]:
        heights = merged(heights, one, design) if heights else None
    if heights is not None and heights.edits:
        return heights._replace(leads=leads)
    says = told_at([(name, one.says) for name, one in at_places], design.system)
    if not all(one.edits for one in ones):
        return Remedy(says, (), leads)
    return Remedy(says, edits_of(ones, design), leads)


def edits_of(ones: Sequence[Remedy], design: Design) -> tuple[Edit, ...]:
    """The edits of several remedies, each once: of two values for one key the first; new joints get their own names."""
    return tuple(_edits(ones, {joint.name for joint in design.joints}))


def _edits(ones: Sequence[Remedy], names: Set[str]) -> Iterator[Edit]:
    written: set[str] = set()
    appended: dict[str, list[Entry]] = {}
    dropped: dict[Edit, None] = {}
    for edit in (edit for one in ones for edit in one.edits):
        if isinstance(edit, Write):
            if edit.path not in written:
                written.add(edit.path)
                yield edit
        elif isinstance(edit, Append):
            there = appended.setdefault(edit.path, [])
            bare = tuple(pair for pair in edit.entry if pair[0] != "name")
            if any(tuple(pair for pair in entry if pair[0] != "name") == bare for entry in there):
                continue
            entry = _named_anew(edit.entry, {dict(one).get("name") for one in there}, names)
            there.append(entry)
            yield edit._replace(entry=entry)
        else:
            dropped[edit] = None
    yield from sorted(dropped, key=lambda edit: _order(edit.path), reverse=True)


def _order(path: str) -> tuple[str, int]:
    """A path with the place of its entry in a list as a number: the last is left out first, so that others stay."""
    head, _, number = path.removesuffix("]").rpartition("[")
    return (head, int(number)) if number.isdigit() else (path, 0)


def _named_anew(
    entry: Entry,
    given: Set[Value | tuple[Value, ...] | None],
    names: Set[str],
) -> Entry:
    """An entry under the next name that no other new one has: J5, J6."""
    name = dict(entry).get("name")
    if not isinstance(name, str) or name not in given:
        return entry
    stem = name.rstrip("0123456789")
    first = int(name.removeprefix(stem) or 1)
    free = next(f"{stem}{number}" for number in count_up(first + 1) if f"{stem}{number}" not in given | names)
    return tuple((key, free if key == "name" else value) for key, value in entry)


def told_at(sentences: Sequence[tuple[str, Words]], system: System) -> Words:
    """What is done at some places: once where it is the same, else each with its place."""
    different: dict[str, tuple[str, Words]] = {}
    for name, one in sentences:
        different.setdefault(plain(one, system, both=False), (name, one))
    told = list(different.values())
    if len(told) == 1:
        return told[0][1]
    if in_one := _in_one([one for _, one in told]):
        return in_one
    named = len(dict(told)) > 1
    first = [_at(name, one, system) if named else one for name, one in told[:TOLD]]
    left = len(told) - TOLD
    if left > 0:
        first.append(words(f"and so at {{left}} more {'place' if left == 1 else 'places'}", left=f"{left:,}"))
    return together_told(first)


def _in_one(sentences: Sequence[Words]) -> Words | None:
    """Sentences that differ by one name alone as one with all the names."""
    first = sentences[0]
    slots = [slot for slot in first.values if any(one.values.get(slot) != first.values[slot] for one in sentences)]
    if any(one.template != first.template for one in sentences) or len(slots) != 1:
        return None
    names = [one.values[slots[0]] for one in sentences]
    if not all(isinstance(name, str) for name in names):
        return None
    return Words(first.template, {**first.values, slots[0]: _several(list(map(str, names)))})


def _several(names: Sequence[str]) -> str:
    """Names one after the other, the sort of thing once where all are of one: joints J1, J2 and J3.

    >>> _several(["joint J1", "joint J2"]), _several(["bolts left", "bolts right"])
    ('joints J1 and J2', 'bolts left and right')
    """
    short = brief(names)
    sort, _, number = short[0].partition(" ")
    of_one_sort = short != names and sort != "the"
    return listed([f"{sort.removesuffix('s')}s {number}", *short[1:]] if of_one_sort else names)


def _at(name: str, says: Words, system: System) -> Words:
    """A sentence with its place in front, unless it names it."""
    if name in plain(says, system, both=False):
        return says
    return words(f"{{at}}: {says.template}", at=name, **says.values)
