"""Teaching: the pages of rules, small drawings, exercises and their answers, and the lessons that use them."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest
from example_reviews import FOLDER, IN_FORCE, RULES, read_and_worked, review_of
from slabwright.cli import main as cli
from slabwright.drawing import content
from slabwright.rulebook.rule import GROUPS, Rule
from slabwright.source import edit
from slabwright.source.problem import UnreadableError
from slabwright.teaching import exercise as exercises
from slabwright.teaching import lesson
from slabwright.teaching.exercise import Exercise, exercise, review_text
from slabwright.teaching.faults import path_of
from slabwright.teaching.slips import job_text, slips, sound
from slabwright.teaching.small_drawing import COLUMNS, ROWS, small_drawing
from slabwright.text.sheet import plain

NAMED = {rule.name: rule for rule in RULES}
WITH_SLIPS = sorted({rule.group for rule in RULES}, key=GROUPS.index)


def main(capsys: pytest.CaptureFixture[str], *arguments: object) -> tuple[int, str, str]:
    status = cli.main([str(argument) for argument in arguments])
    captured = capsys.readouterr()
    return status, captured.out, captured.err


# pages


def test_teach_alone_lists_every_group_with_its_rules(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = main(capsys, "teach")
    assert (status, err) == (0, "")
    flat = " ".join(out.split())
    for rule in RULES:
        assert f"{rule.name}: {' '.join(rule.title.split())}" in flat
    for group in {rule.group for rule in RULES}:
        assert re.search(rf"^{group} \({sum(rule.group == group for rule in RULES)}\)", out, re.MULTILINE)
    assert max(map(len, out.splitlines())) <= 80


@pytest.mark.long
@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_the_page_of_a_rule_shows_it_broken_and_the_same_design_put_right(rule: Rule) -> None:
    lines = plain(lesson.rule_page(rule, IN_FORCE[rule.name], 80, "utf-8")).splitlines()
    text = "\n".join(lines)
    assert max(map(len, lines)) <= 80
    flat = " ".join(text.split())
    assert str(FOLDER.parent) not in flat.replace(" ", "")  # where the program is installed teaches nothing
    for part in (
        lesson.LATER, "How to put it right", "A design that falls short, judged by this rule only", "to pass",
        f"rule {rule.name}: ",
    ):  # fmt: skip
        assert part in flat, part
    if "A person decides" in text:
        right = text.split("A person decides", 1)[1]
        assert "met " in right or "settled " in right
        return
    right = text.split("The same put right", 1)[1]
    assert re.search(r"^ +(was|now) ", right, re.MULTILINE)
    assert f"met {rule.name}" in " ".join(right.split())


def test_most_rules_are_put_right_in_their_own_example_and_what_it_did_is_told() -> None:
    pages = {rule.name: plain(lesson.rule_page(rule, IN_FORCE[rule.name], 80, "utf-8")) for rule in RULES[::3]}
    assert sum("The same put right" in text for text in pages.values()) >= 0.75 * len(pages)
    flat = " ".join(plain(lesson.rule_page(NAMED["panel-aspect"], IN_FORCE["panel-aspect"], 80, "utf-8")).split())
    assert "shown 6.25" in flat and "it did from 6.25 to 1.25" in flat  # 25 ft by 4 ft, then 5 ft by 4 ft


def test_a_page_shows_a_drawing_where_a_comment_has_a_place_and_none_where_it_has_none() -> None:
    def drawn(name: str) -> bool:
        return "dotted: joints" in plain(lesson.rule_page(NAMED[name], IN_FORCE[name], 80, "utf-8"))

    assert drawn("inside-corner-joint")
    assert drawn("standing-water")
    assert not drawn("ordered-volume")
    assert not drawn("freezing-air")


def test_a_page_in_ascii_holds_no_other_letter() -> None:
    for rule in RULES[:6]:
        plain(lesson.rule_page(rule, IN_FORCE[rule.name], 80, "ascii")).encode("ascii")


# small drawings

SQUARE = {
    "outline": [[0, 0], [10, 0], [10, 5], [0, 5], [0, 0]],
    "joints": [{"line": [[5, 0], [5, 5]]}],
    "ponds": [],
    "openings": [],
}


def test_a_square_in_ascii_has_its_edges_its_joint_and_its_numbers_in_place() -> None:
    """13 rows have 12 steps for 5 m; a letter is twice as high as wide, so 10 m take 48 steps across: 49 letters."""
    rows = small_drawing(SQUARE, [("middle", [(5, 2.5)]), ("corner", [(0, 5)])], "ascii")
    plan = rows[:13]
    assert plan[0] == "2" + "#" * 48
    assert plan[12] == "#" * 49
    assert {len(row) for row in plan} == {49}
    assert all(row[0] == row[48] == "#" for row in plan[1:])
    assert [row[24] for row in plan] == ["#", *":::::", "1", *":::::", "#"]
    assert rows[13:] == ["1 middle, 2 corner", "# edge  : joint"]


def test_water_is_speckled_inside_its_rings_only() -> None:
    ring = [[0, 0], [5, 0], [5, 5], [0, 5], [0, 0]]
    rows = small_drawing({**SQUARE, "joints": [], "ponds": [{"rings": [ring]}]}, (), "ascii")
    for row in rows[1:12]:
        assert set(row[1:24]) == {"~"}
        assert set(row[25:48]) == {" "}
    assert rows[-1] == "# edge  : joint  ~ water stands"


def test_the_same_square_in_braille_keeps_its_number_in_the_middle() -> None:
    rows = small_drawing(SQUARE, [("middle", [(5, 2.5)])], "utf-8")
    plan = [row for row in rows if row[0] >= "\u2800"]
    # 13 rows of 4 dots: 51 steps of height, so 102 dots across, two to a sign
    assert len(plan) == 13
    assert len(plan[0]) == (2 * 51) // 2 + 1
    (at,) = [(row.index("1"), k) for k, row in enumerate(plan) if "1" in row]
    assert at == (51 // 2, 25 // 4)
    assert rows[-2:] == ["1 middle", "dotted: joints"]


def test_numbers_that_fall_on_each_other_are_set_apart() -> None:
    rows = small_drawing(SQUARE, [("one", [(5, 2.5)]), ("two", [(5, 2.5)]), ("nowhere", ())], "ascii")
    assert rows[6][24:27] == "1 2"
    assert rows[13] == "1 one, 2 two"


@pytest.mark.parametrize("encoding", ["utf-8", "ascii"])
def test_no_two_numbers_run_together_and_none_is_lost(encoding: str) -> None:
    """Thirty marks on three spots: read back, the runs of digits are the numbers 1 to 30, each once."""
    marks = [(f"thing {number}", [(2.0 + number % 3 * 0.2, 2.5)]) for number in range(1, 31)]
    rows = small_drawing(SQUARE, marks, encoding)[:13]
    assert sorted(int(found) for row in rows for found in re.findall(r"\d+", row)) == list(range(1, 31))


def test_every_example_fits_the_room_and_the_stream() -> None:
    for path in sorted(FOLDER.glob("*/**/*.slab.yaml"))[::3]:
        report = review_of(path)
        plan = content.drawing(read_and_worked(path)[0])
        for encoding in ("utf-8", "ascii", "latin-1"):
            rows = small_drawing(plan, [(c.at.name, c.at.shape) for c in report.comments], encoding)
            assert 2 <= len(rows) <= ROWS, path
            assert max(map(len, rows)) <= COLUMNS, path
            "\n".join(rows).encode(encoding)


def test_nothing_is_drawn_without_an_outline() -> None:
    assert small_drawing({}, [("x", [(0, 0)])]) == []


# exercises


@cache
def made(number: int, group: str = "") -> Exercise:
    found = exercise(number, group, RULES, IN_FORCE)
    assert found is not None
    return found


@pytest.mark.parametrize(("number", "slips"), [(101, 1), (202, 1), (303, 2), (404, 3)])
def test_an_exercise_has_the_slips_of_its_level_and_nothing_else_wrong(number: int, slips: int) -> None:
    one = made(number)
    found = {comment.rule for comment in one.report.comments}
    assert len(one.slips) == slips
    assert all(found & set(slip.rules) for slip in one.slips)
    assert found <= {rule for slip in one.slips for rule in (*slip.rules, *slip.also)}
    assert one.report.questions == ()
    sound_one = review_text(one.sound, "sound.slab.yaml", {}, RULES, IN_FORCE)
    assert (sound_one.comments, sound_one.questions) == ((), ())  # no standing notes
    assert made(number).text == one.text
    assert ("under " + one.slips[0].paths[0].partition("[")[0].partition(".")[0] in one.text) is (number == 101)


def test_exercises_are_made_from_many_jobs_and_none_of_them_is_an_example() -> None:
    jobs = {one.design for one in slips()}
    assert len(jobs) >= 24
    examples = {path.read_text(encoding="utf-8") for path in FOLDER.glob("**/*.slab.yaml")}
    assert not examples & {path.read_text(encoding="utf-8") for path in sound().values()}
    assert len({made(number).job for number in range(210, 218)}) >= 6


@pytest.mark.parametrize("group", WITH_SLIPS)
def test_an_exercise_of_a_group_keeps_to_it(group: str) -> None:
    one = made(202, group)
    assert {NAMED[rule].group for slip in one.slips for rule in slip.rules} == {group}
    assert f"--exercise 202 --group {group}\n" in one.text


def test_an_exercise_tells_no_slip_in_its_own_remarks(capsys: pytest.CaptureFixture[str]) -> None:
    """The text is the foreman's own but for the lines in front and the values changed."""
    one = made(204, "joints")
    head, text = one.text.splitlines()[:3], one.text.splitlines()[3:]
    assert all(line.startswith("# ") for line in head) and text[0].startswith("format:")
    own = one.sound.splitlines()
    assert [line for line in text if line not in own and line.startswith("#")] == []
    assert not any(rule in one.text for slip in one.slips for rule in slip.rules)
    assert main(capsys, "teach", "--exercise", 204, "--group", "joints")[1] == one.text


def test_the_answer_names_every_slip_its_line_the_sound_value_and_why(capsys: pytest.CaptureFixture[str]) -> None:
    worked = (  # the first of each level with a comment that has figures
        next(
            number for number in range(first, first + 20) if any(said.working for said in made(number).report.comments)
        )
        for first in (200, 300)
    )
    for number in worked:
        one = made(number)
        status, out, _ = main(capsys, "teach", "--exercise", number, "--answer")
        flat = " ".join(out.split())
        assert status == 0
        assert max(map(len, out.splitlines())) <= 80
        for slip in one.slips:
            assert " ".join(slip.wrong.split()) in flat
            rule = NAMED[one.spoke(slip)[0]]
            assert f"rule {rule.name}" in flat
            assert " ".join(rule.page[lesson.WHY].split("\n\n")[0].split()) in flat
        assert "working" in out and "to pass" in out
        for line in map(int, re.findall(r"where +line (\d+),", out)):
            assert 1 <= line <= one.text.count("\n")


def test_each_exercise_goes_into_a_folder_of_its_own_and_over_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    for folder in ("lesson_1/drill", "lesson_2"):
        status, out, err = main(capsys, "teach", "--exercise", 201, "--group", "mix", "--out", folder)
        assert (status, err) == (0, "")
        assert (tmp_path / folder / "exercise-201.slab.yaml").read_text(encoding="utf-8") == made(201, "mix").text
    assert "slabwright teach --check lesson_2/exercise-201.slab.yaml --exercise 201 --group mix" in out
    status, _, err = main(capsys, "teach", "--exercise", 201, "--group", "mix", "--out", "lesson_2")
    assert status == 2
    assert "nothing is overwritten" in err
    (tmp_path / "taken").write_text("", encoding="utf-8")
    status, _, err = main(capsys, "teach", "--exercise", 201, "--group", "mix", "--out", "taken")
    assert status == 2
    assert "the folder cannot be made" in err


def checked(capsys: pytest.CaptureFixture[str], path: Path, number: int, text: str, *more: str) -> tuple[int, str]:
    path.write_text(text, encoding="utf-8")
    status, out, err = main(capsys, "teach", "--check", path, "--exercise", number, *more)
    assert err == ""
    return status, " ".join(out.split())


def test_a_corrected_file_is_marked_and_no_answer_is_given_away(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, one = tmp_path / "mine.slab.yaml", made(303)
    status, out = checked(capsys, path, 303, one.text)
    assert status == 1
    assert "0 of 2 found" in out
    status, out = checked(capsys, path, 303, one.sound)
    assert status == 0
    assert "2 of 2 found" in out
    half = one.slips[0].into(one.sound)
    assert half is not None
    status, out = checked(capsys, path, 303, half)
    assert status == 1
    assert "slip 1 missed" in out and "slip 2 found" in out
    rules_named = [rule for slip in one.slips for rule in slip.rules if rule in out]
    assert rules_named == []
    assert not any(path in out for slip in one.slips for path in slip.paths)


def test_what_is_broken_taken_out_or_moved_by_the_pencil_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shallow = [one for one in slips() if one.rules == ("joint-depth",) and "{freezing: " in job_text(one.design)]
    monkeypatch.setattr(exercises, "slips", lambda: shallow[:1])
    one = made.__wrapped__(200, "joints")
    path, bare = tmp_path / "mine.slab.yaml", edit.drop(one.text, "joints")
    assert bare is not None
    status, out = checked(capsys, path, one.number, bare, "--group", "joints")
    assert status == 1
    assert "taken out" in out and "0 of 1 found" in out
    assert "broke" in out and re.search("panel-(spacing|aspect)", out)
    moved = edit.put(one.sound, "site.freezing", "none" if "freezing: severe" in one.sound else "severe")
    assert moved is not None
    status, out = checked(capsys, path, one.number, moved, "--group", "joints")
    assert status == 1
    assert "1 of 1 found" in out and "changed site" in out


def test_hints_go_one_step_at_a_time(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, path = made(208), tmp_path / "mine.slab.yaml"
    rule = NAMED[one.spoke(one.slips[0])[0]]
    first, second, third = (main(capsys, "teach", "--exercise", 208, "--hint", step)[1] for step in (1, 2, 3))
    assert rule.summary not in first and rule.name not in first
    assert " ".join(rule.summary.split()) in " ".join(second.split()) and rule.name not in second
    assert f"slabwright teach {rule.name}" in " ".join(third.split())
    assert " ".join(first.split()) in checked(capsys, path, 208, one.text, "--hint")[1]
    assert "hint" not in checked(capsys, path, 208, one.sound, "--hint")[1]


def test_a_file_that_is_no_design_is_refused_with_its_own_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "mine.slab.yaml"
    path.write_text("use: patio\n", encoding="utf-8")
    status, out, err = main(capsys, "teach", "--check", path, "--exercise", 208)
    assert (status, out) == (2, "")
    assert str(path) in err


def test_a_class_gets_a_job_each_and_the_teacher_the_answers(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = main(capsys, "teach", "--class", 4, "--seed", 7)
    commands_ = re.findall(r"slabwright teach --exercise (\d+) --out (seat_\d+)", out)
    assert status == 0
    assert [seat for _, seat in commands_] == [f"seat_{k}" for k in range(1, 5)]
    assert len({made(int(number)).job for number, _ in commands_}) == 4
    assert main(capsys, "teach", "--class", 4, "--seed", 7)[1] == out
    sheet = main(capsys, "teach", "--class", 4, "--seed", 7, "--answer")[1]
    flat = " ".join(sheet.split())
    for number, _ in commands_:
        for slip in made(int(number)).slips:
            assert " ".join(slip.wrong.split()) in flat and " ".join(slip.wrong.split()) not in " ".join(out.split())
    assert max(map(len, sheet.splitlines())) <= 80
    status, _, err = main(capsys, "teach", "--class", 40, "--seed", 7, "--group", "dig")
    assert status == 2
    assert "different jobs" in err


def test_without_a_number_an_exercise_says_which_it_is(capsys: pytest.CaptureFixture[str]) -> None:
    out = main(capsys, "teach", "--exercise", "--group", "order", "--level", 2)[1]
    number = re.match(r"# Exercise (2\d\d), level 2 of 5: ", out)
    assert number is not None
    assert main(capsys, "teach", "--exercise", number[1], "--group", "order")[1] == out


@pytest.mark.parametrize(
    ("arguments", "wrong"),
    [
        (("--group", "joints"), "--group belongs to an exercise"),
        (("panel-aspect", "--seed", "3"), "--seed belongs to an exercise"),
        (("panel-aspect", "--answer"), "--answer belongs to an exercise"),
        (("--out", "drill"), "--out belongs to an exercise"),
        (("--exercise", "--answer"), "--answer needs the number of the exercise"),
        (("--exercise", "--check", "x.slab.yaml"), "--check needs the number of the exercise"),
        (("--exercise", "205", "--level", "3"), "--level does not go with the number"),
        (("--exercise", "205", "--check", "x.slab.yaml", "--answer"), "--check goes with --hint alone"),
        (("panel-aspect", "--exercise"), "an exercise is made of a group of rules, not of one"),
        (("--exercise", "--group", "jionts"), "there is no group of rules 'jionts'"),
        (("--class", "4"), "a class list needs a number"),
        (("--class", "4", "--seed", "1", "--out", "drill"), "--out belongs to one exercise"),
    ],
)
def test_options_that_do_not_go_together_are_refused(
    arguments: tuple[str, ...], wrong: str, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, err = main(capsys, "teach", *arguments)
    assert (status, out) == (2, "")
    assert wrong in err
    assert "write: " in err


@pytest.mark.parametrize("number", ["-1", "seven", "99", "600", "12345678901"])
def test_a_number_that_is_none_is_refused(number: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(capsys, "teach", "--exercise", number)
    assert stopped.value.code == 2
    assert "exercise" in capsys.readouterr().err


def test_an_exercise_of_a_group_without_slips_is_refused() -> None:
    assert exercise(101, "steel", [rule for rule in RULES if rule.group != "steel"], IN_FORCE) is None


def test_a_design_given_as_text_keeps_its_own_name_in_every_place() -> None:
    report = review_text(path_of("school_walk").read_text(encoding="utf-8"), "walk.slab.yaml", {}, RULES, IN_FORCE)
    assert report.file == "walk.slab.yaml"
    with pytest.raises(UnreadableError) as refused:
        review_text("use: walk\n", "walk.slab.yaml", {}, RULES, IN_FORCE)
    assert {problem.place.file for problem in refused.value.problems} == {"walk.slab.yaml"}
