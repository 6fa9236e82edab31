"""The catalogue: rule files found by their place, and incomplete ones refused with the line of everything missing."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

import judged
import pytest
from checkout import ROOT
from slabwright.rulebook import loading
from slabwright.rulebook.checking import page_of
from slabwright.rulebook.rule import GROUPS
from slabwright.source.problem import Problem, UnreadableError
from slabwright.units.quantity import Kind, length

FAKE_RULES = ROOT / "tests" / "fake_rules"
WHOLE = (FAKE_RULES / "joints" / "short_panels.py").read_text(encoding="utf-8")


def put(folder: Path, text: str, name: str = "short_panels.py", group: str = "joints") -> Path:
    file = folder / group / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return file


def changed(old: str, new: str) -> str:
    assert old in WHOLE
    return WHOLE.replace(old, new)


def line_of(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), 1) if part in line)


def refused(folder: Path, own: Path | None = None) -> tuple[Problem, ...]:
    with pytest.raises(UnreadableError) as caught:
        loading.load_rules(own, folder)
    return caught.value.problems


def the_problem(problems: Iterable[Problem], line: int, wrong: str) -> Problem:
    """The one problem there is; fails unless it stands on ``line`` and says ``wrong``."""
    (problem,) = problems
    assert (problem.place.line, problem.wrong) == (line, wrong)
    assert problem.write
    return problem


def test_rules_are_named_after_their_files_and_come_in_the_order_of_the_groups() -> None:
    rules = loading.load_rules(folder=FAKE_RULES)
    assert [(rule.name, rule.group) for rule in rules] == [("small-ponds", "water"), ("short-panels", "joints")]
    panels = rules[1]
    assert (panels.file, panels.own) == ("rules/joints/short_panels.py", False)
    assert panels.title == "no panel is longer than two men can strike off"
    assert panels.summary == "Panels are short: a rule for testing the engine."
    assert panels.page["Why it matters"] == "A long panel cracks between its joints."
    assert [limit.name for limit in panels.limits] == list(panels.in_force) == ["side_at_most", "wanted_side_at_most"]
    assert panels.in_force["side_at_most"].value == length(15 * 0.3048)
    assert panels.worked[0].ours() == pytest.approx(panels.worked[0].printed.si, abs=panels.worked[0].within)


def test_a_loaded_rule_is_no_importable_module() -> None:
    before = set(sys.modules)
    loading.load_rules(folder=FAKE_RULES)
    assert not [name for name in set(sys.modules) - before if "short_panels" in name or "small_ponds" in name]


def test_the_fake_rules_pass_every_check() -> None:
    for file in FAKE_RULES.glob("*/*.py"):
        assert loading.examine(file).name == file.stem.replace("_", "-")


def test_published_rules_are_complete_and_pass_every_check() -> None:
    rules = loading.load_rules()
    assert len({rule.name for rule in rules}) == len(rules)
    for rule in rules:
        assert loading.examine(judged.file_of(rule)).title == rule.title
    assert [GROUPS.index(rule.group) for rule in rules] == sorted(GROUPS.index(rule.group) for rule in rules)


def test_published_rules_give_the_numbers_of_their_sources_again() -> None:
    worked = [(rule.name, one) for rule in loading.load_rules() for one in rule.worked]
    assert worked
    for name, one in worked:
        assert one.ours() == pytest.approx(one.printed.si, rel=0, abs=one.within), (name, one.what)


@pytest.mark.parametrize(
    ("old", "new", "at", "wrong"),
    [
        ("Why it matters\n", "Why so\n", '"""Panels', "the docstring has nothing under 'Why it matters'"),
        (
            "How to put it right\n    Another joint across the long side.\n",
            "How to put it right\n",
            '"""Panels',
            "the docstring has nothing under 'How to put it right'",
        ),
        (
            "    Another joint across the long side.\n",
            "    Another joint across the long side.\nWhere sources differ\n",
            '"""Panels',
            "the docstring has nothing under 'Where sources differ'",
        ),
        (' "long side"),\n    Limit(', ' ""),\n    Limit(', '"15 ft"', "side_at_most has no meaning"),
        ("TITLE = ", "NAME = ", '"""Panels', "TITLE is missing"),
        ('TITLE = "no panel', 'TITLE = "" and "no panel', "TITLE = ", "TITLE is missing"),
        ("WORKED = (", "WORK = (", '"""Panels', "WORKED is missing"),
        ("WORKED = (Worked(", "WORKED = [(", "WORKED = ", "WORKED is not a tuple with a Worked for each"),
        (
            "def judge(plan: Plan, ",
            "def judge(plan: Plan, rule: str, ",
            "def judge",
            "judge does not take (plan, limits)",
        ),
        (
            'Limit("side_at_most"',
            'Limit("side"',
            'Limit("side"',
            "the name side does not tell the direction",
        ),
        ('"hold", Cite', '"heavy", Cite', '"heavy"', "side_at_most: there is no weight 'heavy'"),
        ('"15 ft", Kind.LENGTH', '"15 ft", "miles"', '"miles"', "side_at_most: there is no kind 'miles'"),
        (
            'Limit("wanted_side_at_most"',
            'Limit("side_at_most"',
            'Limit("side_at_most", "15',
            "two limits are named side_at_most",
        ),
        (
            'Cite("geometry")',
            'Cite("geometri")',
            'Cite("geometri")',
            "5 paces of 3 ft: there is no source 'geometri' in sources.yaml",
        ),
    ],
)
def test_an_incomplete_rule_is_refused_at_its_line(tmp_path: Path, old: str, new: str, at: str, wrong: str) -> None:
    text = changed(old, new).replace("[(", "[Worked(") if "[(" in new else changed(old, new)
    text = text.replace('Cite("geometry")),)', 'Cite("geometry"))]') if "[(" in new else text
    put(tmp_path, text)
    problem = the_problem(refused(tmp_path), line_of(text, at), wrong)
    assert problem.place.file == "rules/joints/short_panels.py"


def test_a_judge_that_yields_nothing_is_refused(tmp_path: Path) -> None:
    text = WHOLE[: WHOLE.index("    for panel in plan.panels.all:")] + "    return iter(())\n"
    put(tmp_path, text)
    the_problem(refused(tmp_path), line_of(text, "def judge"), "judge yields nothing")


def test_a_limit_of_the_wrong_unit_is_refused_at_every_start(tmp_path: Path) -> None:
    text = changed('"15 ft", Kind', '"15 psi", Kind')
    put(tmp_path, text)
    (problem,) = refused(tmp_path)
    assert problem.place.line == line_of(text, "15 psi")
    assert problem.wrong.startswith("side_at_most: ")
    assert "psi" in problem.wrong


def test_no_limits_are_refused(tmp_path: Path) -> None:
    start, end = WHOLE.index("LIMITS = ("), WHOLE.index("WORKED = ")
    text = WHOLE[:start] + "LIMITS = ()\n\n" + WHOLE[end:]
    put(tmp_path, text)
    the_problem(refused(tmp_path), line_of(text, "LIMITS ="), "LIMITS is not a tuple with a Limit for each")


@pytest.mark.parametrize(
    ("old", "new", "at", "wrong"),
    [
        (
            '("6 ft", "30 ft"), "long side"),\n    Limit(',
            '("6 ft", "14 ft"), "long side"),\n    Limit(',
            '"14 ft"',
            "side_at_most: 15 ft is outside its sane range, 6 ft to 14 ft",
        ),
        (
            '("6 ft", "30 ft"), "long side"),\n    Limit(',
            '("6 psi", "30 ft"), "long side"),\n    Limit(',
            '"6 psi"',
            'side_at_most, sane range: "psi" is a unit of stress, not of length',
        ),
        ("TITLE = ", "class Panel:\n    pass\n\n\nTITLE = ", "class Panel", "the class Panel"),
        ("TITLE = ", "print('here')\nTITLE = ", "print(", "the file does something while it is loaded"),
        ("TITLE = ", "for _ in (): pass\nTITLE = ", "for _ in", "a rule file holds only imports, names and functions"),
        (
            "def judge(",
            "@(lambda made: made)\ndef helper():\n    return 1\n\n\ndef judge(",
            "def helper",
            "helper is decorated",
        ),
        ("    over = ", "    global SEEN\n        over = ", "global SEEN", "a rule keeps nothing between calls"),
        (
            "from slabwright.rulebook.kit",
            "from slabwright.review.run import review\nfrom slabwright.rulebook.kit",
            "import review",
            "a rule may not import slabwright.review.run.review",
        ),
        (
            'limits.broken(shown, "side_at_most", "wanted_side_at_most")',
            'limits.broken(shown, "wanted_side_at_most")',
            'Limit("side_at_most"',
            "nothing compares with the limit side_at_most",
        ),
    ],
)
def test_an_examined_rule_is_refused_for_its_text_too(tmp_path: Path, old: str, new: str, at: str, wrong: str) -> None:
    text = changed(old, new)
    file = put(tmp_path, text)
    with pytest.raises(UnreadableError) as caught:
        loading.examine(file)
    the_problem(caught.value.problems, line_of(text, at), wrong)


def test_every_problem_of_every_file_comes_out_together(tmp_path: Path) -> None:
    one = changed("TITLE = ", "NAME = ").replace("Why it matters\n", "Why\n")
    put(tmp_path, one)
    put(tmp_path, changed("WORKED = (", "WORK = ("), "tall_panels.py", "water")
    assert [(problem.place.file, problem.wrong) for problem in refused(tmp_path)] == [
        ("rules/joints/short_panels.py", "TITLE is missing"),
        ("rules/joints/short_panels.py", "the docstring has nothing under 'Why it matters'"),
        ("rules/water/tall_panels.py", "WORKED is missing"),
    ]


def test_an_unknown_group_a_stray_file_and_a_strange_name_are_refused(tmp_path: Path) -> None:
    put(tmp_path, WHOLE, group="paint")
    put(tmp_path, WHOLE, "Short-Panels.py")
    (tmp_path / "loose.py").write_text(WHOLE, encoding="utf-8")
    assert [problem.wrong for problem in refused(tmp_path)] == [
        "a rule file outside a group folder",
        "there is no group 'paint'",
        "Short-Panels.py is no name for a rule",
    ]


def test_a_name_in_two_groups_is_refused(tmp_path: Path) -> None:
    put(tmp_path, WHOLE)
    put(tmp_path, WHOLE, group="water")
    (problem,) = refused(tmp_path)
    assert problem.wrong == "a rule named short-panels is there already: rules/joints/short_panels.py"
    assert problem.place.file == "rules/water/short_panels.py"


@pytest.mark.parametrize(
    ("text", "line", "wrong"),
    [
        ("def judge(:\n", 1, "not Python: invalid syntax"),
        (
            '"""Doc."""\nimport math\nX = 1 / 0\n',
            3,
            "the file stops while it is loaded: ZeroDivisionError: division by zero",
        ),
        ('"""Doc."""\nraise SystemExit\n', 2, "the file stops while it is loaded: SystemExit: "),
    ],
)
def test_a_file_that_cannot_be_loaded_is_refused_at_its_line(tmp_path: Path, text: str, line: int, wrong: str) -> None:
    put(tmp_path, text)
    (problem,) = refused(tmp_path)
    assert (problem.place.line, problem.wrong) == (line, wrong)


def test_a_file_that_is_not_text_is_refused(tmp_path: Path) -> None:
    put(tmp_path, "").write_bytes(b"\xff\xfe\x00")
    (problem,) = refused(tmp_path)
    assert problem.place.file == "rules/joints/short_panels.py"


def test_a_rule_file_may_declare_another_encoding(tmp_path: Path) -> None:
    text = "# coding: latin-1\n" + changed("two men can strike off", "two men can strike off, \u00bd day")
    file = put(tmp_path, "")
    file.write_bytes(text.encode("latin-1"))
    assert loading.examine(file).title.endswith("\u00bd day")


def test_a_firms_own_rules_come_with_the_published_ones(tmp_path: Path) -> None:
    file = put(tmp_path, WHOLE, "firm_panels.py")
    rules = loading.load_rules(tmp_path, FAKE_RULES)
    own = [rule for rule in rules if rule.own]
    assert [(rule.name, rule.file) for rule in own] == [("firm-panels", str(file))]
    assert len(rules) == 3


def test_a_firms_own_rule_may_not_replace_a_published_one(tmp_path: Path) -> None:
    file = put(tmp_path, WHOLE)
    problem = the_problem(
        refused(FAKE_RULES, tmp_path), 1, "a rule named short-panels is there already: rules/joints/short_panels.py"
    )
    assert problem.place.file == str(file)
    assert "local amendments" in problem.write


def test_a_firms_own_rules_are_examined_in_full(tmp_path: Path) -> None:
    put(tmp_path, changed("TITLE = ", "class Panel:\n    pass\n\n\nTITLE = "), "firm_panels.py")
    (problem,) = refused(FAKE_RULES, tmp_path)
    assert problem.wrong == "the class Panel"


def test_a_firm_may_bring_its_own_sources(tmp_path: Path) -> None:
    put(tmp_path, changed('Cite("geometry")', 'Cite("firm-handbook", "page 4")'), "firm_panels.py")
    sources = tmp_path / "sources.yaml"
    sources.write_text(
        "firm-handbook: {label: Firm handbook, title: How we pour, publisher: the firm, edition: 2026, known: read}\n",
        encoding="utf-8",
    )
    assert [rule.name for rule in loading.load_rules(tmp_path, FAKE_RULES) if rule.own] == ["firm-panels"]
    sources.write_text("geometry: {label: Ours, title: Ours, known: practice}\n", encoding="utf-8")
    problems = refused(FAKE_RULES, tmp_path)
    assert "geometry is a published source already" in [problem.wrong for problem in problems]
    sources.write_text("geometry: [\n", encoding="utf-8")
    assert any(problem.place.file == str(sources) for problem in refused(FAKE_RULES, tmp_path))


def test_a_folder_that_is_not_there_is_refused(tmp_path: Path) -> None:
    (problem,) = refused(FAKE_RULES, tmp_path / "none")
    assert (problem.place.file, problem.wrong) == (str(tmp_path / "none"), "no rules folder is here")


def test_a_file_that_stands_in_no_group_is_refused_when_examined(tmp_path: Path) -> None:
    file = put(tmp_path, WHOLE, group="paint")
    with pytest.raises(UnreadableError, match="there is no group 'paint'"):
        loading.examine(file)


def test_other_files_beside_rules_are_left_alone(tmp_path: Path) -> None:
    put(tmp_path, WHOLE)
    put(tmp_path, "not python (", "notes.txt")
    (tmp_path / "__init__.py").write_text("", encoding="utf-8")
    (tmp_path / "joints" / "__init__.py").write_text("", encoding="utf-8")
    assert [rule.name for rule in loading.load_rules(folder=tmp_path)] == ["short-panels"]


def test_headings_may_stand_alone_underlined_or_before_their_text() -> None:
    page = page_of(
        "Title.\n\nWhat is compared\n------\n\nOne\ntwo.\n\n    indented\n\nWhy it matters: three\n    four.\n"
        "When it does not apply:\n  Why it matters to them, never.\n\nWhere sources differ\n\n    A: 1;\n      B: 2.\n"
    )
    assert page == {
        "What is compared": "One\ntwo.\n\n    indented",
        "Why it matters": "three\nfour.",
        "When it does not apply": "Why it matters to them, never.",
        "Where sources differ": "A: 1;\n  B: 2.",
    }


def test_kinds_named_in_limits_are_kinds() -> None:
    for rule in loading.load_rules(folder=FAKE_RULES):
        assert all(limit.kind in Kind and rule.in_force[limit.name].value.kind is limit.kind for limit in rule.limits)
