"""The documents behind the numbers: ``rules/sources.yaml``, looked up by key and printed as citations."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Literal, NamedTuple, cast, get_args

import yaml

from slabwright.source import locate
from slabwright.source.place import Place
from slabwright.source.problem import Problems, refuse

Known = Literal["read", "quoted", "recalled", "practice", "derived"]

FIELDS = ("label", "title", "publisher", "edition", "known", "via", "searched")
_KNOWN: tuple[str, ...] = get_args(Known)
_NOWHERE = Place("")
_NO_DOCUMENT = ("practice", "derived")
_HOW = {
    "read": "read",
    "quoted": "quoted",
    "recalled": "recalled, not checked",
    "practice": "common practice",
    "derived": "arithmetic",
}


class UnknownSourceError(KeyError):
    """A source key that is not in the bibliography; ``near`` holds the keys most like it."""

    def __init__(self, key: str, near: tuple[str, ...]) -> None:
        self.key, self.near = key, near
        super().__init__(f"no source is called {key!r}" + (f"; the nearest is {near[0]!r}" if near else ""))

    def __str__(self) -> str:
        return str(self.args[0])


class Source(NamedTuple):
    """One document, or one part of it: who printed it, and how its figures are known.

    ``publisher`` and ``edition`` may be empty only where no document stands behind the figure
    (``known`` is practice or derived); ``via`` names the work a quoted figure was read in, and
    ``searched`` where a recalled one was looked for in vain.
    """

    key: str
    label: str
    title: str
    known: Known
    publisher: str = ""
    edition: str = ""
    via: str = ""
    searched: str = ""
    place: Place = _NOWHERE

    def citation(self, where: str = "") -> str:
        """The printed citation, with the section ``where`` and how the figure is known.

        >>> Source("d", "ACI 302.1R-96", "Guide", "quoted", "ACI", "1996", "trade-magazine Q&As").citation("sec. 5.3")
        'ACI 302.1R-96, sec. 5.3 (quoted, via trade-magazine Q&As)'
        """
        how = _HOW[self.known] + (f", via {self.via}" if self.via else "")
        named = self.label + (f", {where}" if where and not self.label.endswith(where) else "")
        return named if how == self.label else f"{named} ({how})"


class Bibliography(Mapping[str, Source]):
    """All sources by key, in file order.

    >>> load().cite("tm-5-809-12", "Table 3-2")
    'TM 5-809-12, Table 3-2 (read)'
    """

    def __init__(self, sources: Mapping[str, Source]) -> None:
        self._sources = dict(sources)

    def __getitem__(self, key: str) -> Source:
        try:
            return self._sources[key]
        except KeyError:
            from difflib import get_close_matches  # 1 ms

            raise UnknownSourceError(key, tuple(get_close_matches(key, self._sources, n=3, cutoff=0.5))) from None

    def __contains__(self, key: object) -> bool:
        return key in self._sources

    def __iter__(self) -> Iterator[str]:
        return iter(self._sources)

    def __len__(self) -> int:
        return len(self._sources)

    def source(self, key: str) -> Source:
        """The source called ``key``; raises :class:`UnknownSourceError` with the nearest keys."""
        return self[key]

    def cite(self, key: str, where: str = "") -> str:
        """The printed citation of the source called ``key``, at the section ``where``."""
        return self[key].citation(where)


def load(path: Path | None = None) -> Bibliography:
    """Read ``rules/sources.yaml`` (or another file of its shape).

    Raises :class:`slabwright.source.problem.UnreadableError` with every incomplete or misspelled entry.
    """
    path = path or locate.folder("rules") / "sources.yaml"
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        wrong = f"this file could not be opened: {error.strerror}"
        refuse(str(path), wrong, "ask for leave to read it")
    except UnicodeDecodeError:
        refuse(str(path), "this is not UTF-8", "plain text in UTF-8")
    return parse(text, str(path))


def parse(text: str, file: str) -> Bibliography:
    """Read the text of a sources file; ``file`` is the name that problems are reported under.

    Raises :class:`slabwright.source.problem.UnreadableError` with every problem found.
    """
    problems = Problems()
    sources: dict[str, Source] = {}
    try:
        entries = list(_entries(text, file, problems))
    except yaml.MarkedYAMLError as broken:
        mark = broken.problem_mark or broken.context_mark
        place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
        problems.add(place, f"this is not YAML: {broken.problem or broken.context}", "key:, then its fields indented")
        entries = []
    except yaml.YAMLError as broken:
        problems.add(Place(file), f"this is not YAML: {getattr(broken, 'reason', broken)}", "plain text in UTF-8")
        entries = []
    for key, place, fields in entries:
        if key in sources:
            problems.add(place, f"the source {key} stands here a second time", "one entry a key")
        elif (source := _complete(key, place, fields, problems)) is not None:
            sources[key] = source
    problems.raise_if_any()
    return Bibliography(sources)


def _complete(key: str, place: Place, fields: dict[str, str], problems: Problems) -> Source | None:
    """The source, or None after noting what its entry lacks."""
    known = fields.get("known", "")
    before = len(problems)
    if known not in _KNOWN:
        problems.add(place, f"{key} does not say how it is known", f"known: {' | '.join(_KNOWN)}")
    wanted = ("label", "title") if known in _NO_DOCUMENT else ("label", "title", "publisher", "edition")
    missing = [name for name in wanted if not fields.get(name)]
    if missing:
        problems.add(place, f"{key} has no {' and no '.join(missing)}", 'write it, or "edition not known" or "undated"')
    if known == "quoted" and not fields.get("via"):
        problems.add(place, f"{key} is quoted, but not from where", "via: the work it was read in")
    if known in _KNOWN and known != "quoted" and fields.get("via"):
        problems.add(place, f"{key} has a via, but is not quoted", "known: quoted, or take via away")
    if known in _KNOWN and known != "recalled" and fields.get("searched"):
        problems.add(place, f"{key} was searched for, but is not recalled", "known: recalled, or take searched away")
    return Source(key=key, place=place, **cast(Any, fields)) if len(problems) == before else None


def _entries(text: str, file: str, problems: Problems) -> Iterator[tuple[str, Place, dict[str, str]]]:
    """Every entry of the file: key, place, fields.

    Read from the parser's events, which takes half the time of building the node tree; each has its place.
    """
    depth, key, name = 0, "", ""
    place, fields = Place(file), dict[str, str]()
    for event in _events(text):
        kind = type(event)
        if kind is yaml.ScalarEvent:
            if name:
                fields.setdefault(name, event.value.strip())
                name = ""
            elif depth == 2:
                name = event.value
                if name not in FIELDS:
                    problems.add(_at(event, file), f"a source has no {name}", f"one of {', '.join(FIELDS)}")
                elif name in fields:
                    problems.add(_at(event, file), f"{name} of {key} stands here a second time", "one line a field")
            elif depth == 1 and not key:
                key, place = event.value, _at(event, file)
            else:
                problems.add(_at(event, file), f"{key or 'the file'} is not a table of fields", _SHAPE)
                return
        elif kind is yaml.MappingStartEvent and depth < 2 and not name:
            depth += 1
        elif kind is yaml.MappingEndEvent:
            depth -= 1
            if depth == 1:
                yield key, place, {field: value for field, value in fields.items() if field in FIELDS}
                key, fields = "", {}
        elif kind in _NOT_A_TABLE:
            problems.add(_at(event, file), f"{name or key or 'the file'} is not plain text", _SHAPE)
            return


_SHAPE = f"a key, then its fields: {', '.join(FIELDS)}"
_NOT_A_TABLE = (yaml.MappingStartEvent, yaml.SequenceStartEvent, yaml.AliasEvent)


def _at(event: Any, file: str) -> Place:
    return Place(file, event.start_mark.line + 1, event.start_mark.column + 1)


def _events(text: str) -> Iterator[Any]:
    return iter(getattr(yaml, "CSafeLoader", yaml.SafeLoader)(text).get_event, None)
