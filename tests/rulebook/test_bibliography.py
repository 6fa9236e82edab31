"""The bibliography: every source complete, problems with their place, citations as printed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from checkout import ROOT
from slabwright.rulebook import sources as bibliography
from slabwright.rulebook.sources import Source, UnknownSourceError, parse
from slabwright.source import locate
from slabwright.source.problem import UnreadableError

WHOLE = "a-1: {label: A 1, title: Guide, publisher: Institute, edition: '1996', known: read}\n"


def problems(text: str) -> list[str]:
    with pytest.raises(UnreadableError) as refused:
        parse(text, "sources.yaml")
    return [f"{p.place}: {p.wrong} -> {p.write}" for p in refused.value.problems]


def test_every_source_is_complete_and_its_key_is_plain() -> None:
    sources = bibliography.load()

    assert len(sources) > 250
    assert [key for key in sources if not re.fullmatch(r"[a-z0-9]+([.-][a-z0-9]+)*", key)] == []
    assert {source.known for source in sources.values()} == {"read", "quoted", "recalled", "practice", "derived"}
    assert [s.key for s in sources.values() if s.known in ("read", "quoted", "recalled") and not s.publisher] == []


def test_what_is_recalled_says_where_it_was_looked_for() -> None:
    sources = bibliography.load().values()

    assert [one.key for one in sources if one.known == "recalled" and not one.searched] == []
    assert len([one for one in sources if one.known == "recalled"]) <= 43  # fewer, not more


def test_no_two_sources_print_alike() -> None:
    printed = [(source.citation(), source.title) for source in bibliography.load().values()]

    assert len(set(printed)) == len(printed)


@pytest.mark.parametrize(
    ("key", "where", "printed"),
    [
        ("aci-302.1r-96", "sec. 5.3", "ACI 302.1R-96, sec. 5.3 (quoted, via trade-magazine Q&As)"),
        ("tm-5-809-12", "Table 3-2", "TM 5-809-12, Table 3-2 (read)"),
        ("aci-330r-01", "", "ACI 330R-01 and 330R-08 (recalled, not checked)"),
        ("common-practice", "", "common practice"),
        ("lumber-sizes", "", "lumber sizes (common practice)"),
        ("geometry", "", "geometry (arithmetic)"),
    ],
)
def test_citation(key: str, where: str, printed: str) -> None:
    assert bibliography.load().cite(key, where) == printed


def test_a_source_carries_its_place() -> None:
    place = parse(WHOLE + "\nb-2:\n  label: b\n  title: b\n  known: practice\n", "s.yaml")["b-2"].place

    assert str(place) == "s.yaml:3:1"


def test_an_unknown_key_names_the_nearest() -> None:
    with pytest.raises(UnknownSourceError, match=r"no source is called 'aci-302\.1r-99'; the nearest is 'aci-302") as e:
        bibliography.load().source("aci-302.1r-99")

    assert "aci-302.1r-96" in e.value.near
    with pytest.raises(UnknownSourceError, match=r"^no source is called '\?'$"):
        bibliography.load().source("?")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "b: {label: B, title: T, publisher: P, edition: E}\n",
            "sources.yaml:1:1: b does not say how it is known -> known: read | quoted | recalled | practice | derived",
        ),
        (
            WHOLE + "b: {label: B, title: T, known: read}\n",
            'sources.yaml:2:1: b has no publisher and no edition -> write it, or "edition not known" or "undated"',
        ),
        (
            "b: {label: B, title: T, publisher: P, edition: E, known: quoted}\n",
            "sources.yaml:1:1: b is quoted, but not from where -> via: the work it was read in",
        ),
        (
            "b: {label: B, title: T, publisher: P, edition: E, known: read, via: a forum}\n",
            "sources.yaml:1:1: b has a via, but is not quoted -> known: quoted, or take via away",
        ),
        (
            "b: {label: B, title: T, known: practice, year: 3}\n",
            "sources.yaml:1:42: a source has no year -> one of label, title, publisher, edition, known, via, searched",
        ),
        (
            "b: {label: B, label: C, title: T, known: practice}\n",
            "sources.yaml:1:15: label of b stands here a second time -> one line a field",
        ),
        (
            WHOLE + WHOLE,
            "sources.yaml:2:1: the source a-1 stands here a second time -> one entry a key",
        ),
        (
            "- b\n",
            "sources.yaml:1:1: the file is not plain text"
            " -> a key, then its fields: label, title, publisher, edition, known, via, searched",
        ),
        (
            "b: C\n",
            "sources.yaml:1:4: b is not a table of fields"
            " -> a key, then its fields: label, title, publisher, edition, known, via, searched",
        ),
        (
            "b: {label: [C]}\n",
            "sources.yaml:1:12: label is not plain text"
            " -> a key, then its fields: label, title, publisher, edition, known, via, searched",
        ),
        (
            "b: {label: C\n",
            "sources.yaml:2:1: this is not YAML: did not find expected ',' or '}' -> key:, then its fields indented",
        ),
        (
            "b: \x00\n",
            "sources.yaml:1:1: this is not YAML: control characters are not allowed -> plain text in UTF-8",
        ),
    ],
)
def test_incomplete_entries_are_refused(text: str, expected: str) -> None:
    assert problems(text) == [expected]


def test_all_problems_come_out_together() -> None:
    assert len(problems("b: {label: B}\nc: {title: T, known: guessed}\n")) == 4


def test_the_pure_parser_reads_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delattr("yaml.CSafeLoader")

    assert dict(parse(WHOLE, "s.yaml"))["a-1"].label == "A 1"


def test_a_file_in_another_encoding_is_refused(tmp_path: Path) -> None:
    (tmp_path / "sources.yaml").write_bytes("b: {label: Étude}\n".encode("latin-1"))

    with pytest.raises(UnreadableError, match="this is not UTF-8"):
        bibliography.load(tmp_path / "sources.yaml")


def test_an_empty_file_holds_no_sources() -> None:
    assert dict(parse("", "s.yaml")) == {}


def test_a_source_is_frozen() -> None:
    source = bibliography.load()["geometry"]

    with pytest.raises(AttributeError):
        source.label = "other"  # type: ignore[misc]
    assert isinstance(source, Source)


def test_the_folders_stand_in_the_checkout() -> None:
    assert (locate.folder("rules") / "sources.yaml").is_file()
    assert locate.folder("schemas").name == "schemas"
    assert locate.folder("example_designs").name == "example_designs"


@pytest.mark.parametrize("inside", [True, False])
def test_a_folder_inside_the_package_comes_first(inside: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "checker" / "slabwright"
    wheel, checkout = package / "rules", tmp_path / "rules"
    checkout.mkdir()
    package.mkdir(parents=True)
    if inside:
        wheel.mkdir()
    monkeypatch.setattr(locate, "_PACKAGE", package)

    assert locate.folder("rules") == (wheel if inside else checkout)


def test_a_missing_folder_is_named_with_both_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(locate, "_PACKAGE", tmp_path / "checker" / "slabwright")

    with pytest.raises(FileNotFoundError, match=r"folder schemas stands neither at .*slabwright.* nor at .*schemas"):
        locate.folder("schemas")


def test_a_number_of_a_rule_names_a_source_or_a_rule_that_there_is() -> None:
    """A constant tells in backticks who set it: a key of the bibliography, or another rule."""
    known = {*bibliography.load(), *(file.stem.replace("_", "-") for file in (ROOT / "rules").glob("*/*.py"))}
    named = [
        (file.name, name)
        for file in (ROOT / "rules").glob("*/*.py")
        for told in re.findall(r"^[A-Z].* = .*#(.*)", file.read_text(encoding="utf-8"), flags=re.MULTILINE)
        for name in re.findall(r"`([a-z][a-z0-9.-]+)`", told)
    ]
    assert len(named) > 50
    assert [one for one in named if one[1] not in known] == []
