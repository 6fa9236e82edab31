"""The review sheet: what it must say, how it fits its paper, and what a file cannot make it do."""

from __future__ import annotations

import io
import random
import re
import textwrap
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from changed import changed as replace
from example_reviews import FOLDER, review_of
from slabwright.plan.plan import Spot
from slabwright.review.report import (
    Comment,
    Crash,
    Met,
    NotApplying,
    NotShownEntry,
    Question,
    Report,
    VarianceNote,
    VarianceTrouble,
)
from slabwright.rulebook.in_force import InForce
from slabwright.source.place import Place
from slabwright.text import letters, screen, sheet
from slabwright.text.letters import columns, spell, visible, wrap
from slabwright.text.screen import put
from slabwright.text.sheet import plain
from slabwright.text.words import Step, words
from slabwright.units.amount import alone
from slabwright.units.quantity import Amount, Kind, beside, show
from slabwright.writers import sheet_words, terminal

FILE = "bay.slab.yaml"


def at(line: int, column: int = 5, file: str = FILE) -> Place:
    return Place(file, line, column)


def feet(value: float) -> Amount:
    return Amount(value * 0.3048, Kind.LENGTH)


def inches(value: float) -> Amount:
    return Amount(value * 0.0254, Kind.DEPTH)


LIMIT = InForce(
    name="panel_side_at_most",
    value=Amount(30.0, Kind.RATIO),
    direction="most",
    weight="hold",
    meaning="longest side of a panel",
    layer="published",
    set_by="published",
    citation="Invented Handbook of Flatwork, 2nd ed., table 4; read",
    known="read",
)
DEPTH = replace(LIMIT, name="cut_at_least", value=Amount(0.25, Kind.SHARE), direction="least", meaning="depth of a cut")


def comment(number: int = 1, **changes: Any) -> Comment:
    base = Comment(
        number=number,
        rule="panel-size",
        group="joints",
        title="Panels are short enough for their thickness",
        weight="hold",
        at=Spot("panel P3", at(41)),
        says=words("panel {name} is {side} long", name="P3", side=feet(14.5)),
        shown=feet(14.5),
        asked=feet(12.5),
        limit=LIMIT,
        working=(Step("longest side", "30 x thickness", words("30 x {t}", t=inches(5)), feet(12.5)),),
        to_pass=words("add a joint across {name} so that no side is over {side}", name="P3", side=feet(12.5)),
    )
    return replace(base, **changes)


def report(**changes: Any) -> Report:
    base = Report(
        job="Trailer bay", file=FILE, use="vehicle pad", system="us", comments=(comment(),), met=(), not_shown=(),
        does_not_apply=(), crashes=(), questions=(), variance_troubles=(), looser=(), layers=(), cautions=(), worked={},
        pour=date(2026, 4, 14),
    )  # fmt: skip
    return replace(base, **changes)


def text(of: Report, width: int = 80, encoding: str = "utf-8", only: str = "", level: terminal.Level = "full") -> str:
    return plain(terminal.sheet(of, width, encoding, only=only, level=level))


def flat(page: str) -> str:
    """The sheet with its wrapping undone."""
    return re.sub(r"\s+", " ", page)


def label(page: str, name: str) -> str:
    """The words beside the first label of this name, wrapping undone."""
    lines = page.splitlines()
    start = next(n for n, line in enumerate(lines) if line.strip().startswith(f"{name} "))
    margin = lines[start].index(name) + sheet.LABEL
    words_ = [lines[start][margin:]]
    for line in lines[start + 1 :]:
        if not line.startswith(" " * margin):
            break
        words_.append(line)
    return flat(" ".join(words_)).strip()


SIDE = show(feet(14.5), "us")
MOST = show(feet(12.5), "us")

FULL = report(
    comments=(
        comment(1),
        comment(
            2,
            rule="joint-depth",
            title="Cuts are deep enough to crack where they are drawn",
            weight="caution",
            at=Spot("joint J1", at(60)),
            says=words("joint {name} is cut {d} deep", name="J1", d=inches(1.0)),
            shown=inches(1.0),
            asked=inches(1.25),
            limit=DEPTH,
            working=(Step("least cut", "thickness / 4", words("{t} / 4", t=inches(5)), inches(1.25)),),
            to_pass=words("cut {d} deep", d=inches(1.25)),
        ),
        comment(3, rule="panel-aspect", variance=VarianceNote("owner wants it", "engineer", "2026-03-01", at(90))),
    ),
    met=(
        Met("fall-at-wall", "water", "Falls away", Spot("edge A-B", at(9)), Amount(0.021, Kind.SLOPE),
            Amount(0.02, Kind.SLOPE), replace(DEPTH, name="fall_at_least"), 0.05),
        Met("no-low-spots", "water", "No water stands"),
    ),
    not_shown=(
        NotShownEntry("mean-thickness", "thickness", "As thick as drawn", ("heights.base: shots on the base",), at(33)),
        NotShownEntry("thin-spots", "thickness", "Nowhere thin", ("heights.base: shots on the base",), at(33)),
    ),
    does_not_apply=(NotApplying("drag-steel", "steel", "Drag steel", "no steel is drawn"),),
    crashes=(Crash("own-rule", "site", at(7, 1, "own/site/own_rule.py"), "ZeroDivisionError: division by zero"),),
    questions=(Question(at(12), "is 9.5 ft a depth of 9 1/2 in?"),),
    variance_troubles=(VarianceTrouble("old-rule", at(95), "expired on 2026-01-01"),),
    looser=(("joint-depth", replace(DEPTH, looser=True, layer="town", set_by="Town of Ferncliff",
                                    published=Amount(0.33, Kind.SHARE), place=at(4, 1, "ferncliff.yaml"))),),
    layers=("Town of Ferncliff",),
    cautions=("Wet concrete burns skin: gloves, boots, eye wash.",),
)  # fmt: skip


def test_every_part_of_a_review_is_on_the_sheet_in_the_order_a_reader_needs_it() -> None:
    page = text(FULL)
    heads = [
        "SLAB PLAN REVIEW", "Job       Trailer bay", "HOLD (1)", "CAUTION (1)", "NOT JUDGED (1)", "NOT SHOWN (2)",
        "QUESTIONS ON THE FILE (1)", "ACCEPTED BY VARIANCE (1)", "VARIANCES THAT DO NOTHING (1)",
        "LIMITS SET LOOSER THAN PUBLISHED (1)", "MET (2)", "DOES NOT APPLY (1)", "ON THE DAY", "The adopted local code",
    ]  # fmt: skip
    spots = [page.index(head) for head in heads]
    assert spots == sorted(spots)
    assert all(a < b for a, b in pairwise(spots))


def test_heading_names_job_file_use_pour_and_layers() -> None:
    page = text(FULL)
    assert label(page, "Job") == "Trailer bay"
    assert label(page, "File") == FILE
    assert label(page, "Use") == "vehicle pad"
    assert label(page, "Pour") == "2026-04-14"
    assert label(page, "Limits") == "published, then Town of Ferncliff"
    assert label(text(report(pour=None)), "Pour") == "no date given"


def test_a_comment_has_its_labeled_lines() -> None:
    page = text(report())
    assert f" 1. Panel P3 is {SIDE} long" in page
    assert label(page, "where") == f"panel P3, {FILE}:41:5"
    assert label(page, "shown") == SIDE
    assert label(page, "asked") == f"at most {MOST}: longest side of a panel, at most 30"
    assert label(page, "working") == f"longest side = 30 x thickness = 30 x 5 in = {MOST}"
    assert label(page, "to pass") == f"Add a joint across P3 so that no side is over {MOST}"
    assert label(page, "source") == "Invented Handbook of Flatwork, 2nd ed., table 4; read"
    assert label(page, "rule") == "panel-size: Panels are short enough for their thickness"


def test_metric_sheets_show_metric_and_the_other_only_when_asked() -> None:
    assert label(text(report(system="metric")), "shown") == "4.420 m"
    assert label(text(report(system=beside("metric"))), "shown") == "4.420 m (14'-6\")"


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, "1 hold: settle before concrete is ordered"),
        (
            {"comments": (comment(1), comment(2), comment(3), comment(4, weight="caution"))},
            "3 holds, 1 caution: settle before concrete is ordered",
        ),
        ({"comments": (comment(1, weight="caution"),)}, "no holds, 1 caution: think twice"),
        ({"comments": (comment(1, weight="note"), comment(2, weight="note"))}, "no holds, 2 notes: worth knowing"),
        ({"comments": (), "met": FULL.met}, "no comments: what the file shows is met"),
        ({"comments": ()}, "no comments, and nothing met either: nothing could be judged"),
        ({"comments": (), "crashes": FULL.crashes}, "1 rule failed: settle before concrete is ordered"),
        (
            {"comments": (comment(1, variance=VarianceNote("r", "b", "d", at(1))),), "met": FULL.met},
            "no comments: what the file shows is met",
        ),
    ],
)
def test_verdict_is_one_line(changes: dict[str, Any], expected: str) -> None:
    assert sheet_words.verdict(report(**changes)) == expected


def test_what_the_verdict_does_not_count_stands_beside_it() -> None:
    page = text(FULL)
    assert label(page, "Verdict") == "1 hold, 1 rule failed, 1 caution: settle before concrete is ordered"
    assert label(page, "Besides") == "1 question on the file, 2 rules not shown in the file, 1 accepted by variance"
    assert "Besides" not in text(report())


def test_asked_names_who_set_the_limit_and_marks_a_looser_one() -> None:
    local = replace(LIMIT, layer="town", set_by="Town of Ferncliff", looser=True, published=Amount(24.0, Kind.RATIO))
    asked = label(text(report(comments=(comment(limit=local),))), "asked")
    assert asked == (
        f"at most {MOST}: longest side of a panel, at most 30; set by Town of Ferncliff, "
        "LOOSER THAN PUBLISHED (published: 24)"
    )
    tighter = replace(local, looser=False, layer="firm", set_by="house rules")
    asked = label(text(report(comments=(comment(limit=tighter),))), "asked")
    assert asked.endswith("; set by house rules (published: 24)")
    assert "set by" not in label(text(report()), "asked")


def test_shown_and_asked_never_print_alike() -> None:
    for gap in (1e-2, 1e-3, 1e-4, 5e-5, 2e-5):
        page = text(report(comments=(comment(shown=feet(12.5 + gap), asked=feet(12.5)),)))
        shown, asked = label(page, "shown"), label(page, "asked")
        assert asked.startswith("at most ")
        assert not asked.startswith(f"at most {shown},"), gap


def test_one_amount_reads_the_same_throughout_a_comment() -> None:
    close = feet(12.5 + 1e-4)
    page = text(report(comments=(comment(shown=close, says=words("it is {side}", side=close)),)))
    assert f"It is {label(page, 'shown')}" in flat(page)


def test_what_was_not_shown_is_gathered_by_what_to_add() -> None:
    page = text(FULL)
    assert label(page, "add") == "heights.base: shots on the base"
    assert label(page, "for") == "mean-thickness, thin-spots"
    assert page.count("shots on the base") == 1
    assert f"where     {FILE}:33:5" in page


def test_a_variance_says_who_accepted_what_and_that_it_does_not_count() -> None:
    page = text(FULL)
    accepted = page[page.index("ACCEPTED") :]
    assert label(accepted, "accepted") == f"by engineer on 2026-03-01: owner wants it ({FILE}:90:5)"
    assert "a hold without the variance" in flat(accepted)
    assert f"old-rule, {FILE}:95:5: expired on 2026-01-01" in flat(page)


def test_looser_limits_are_listed_with_both_values() -> None:
    assert (
        "joint-depth: depth of a cut, at least 25 % in place of 33 %; set by Town of Ferncliff (ferncliff.yaml:4:1)"
        in flat(text(FULL))
    )


def test_a_changed_weight_is_told_with_the_limit() -> None:
    lighter = replace(LIMIT, weight="note", published_weight="hold", published=LIMIT.value, looser=True, layer="firm",
                      set_by="house rules", reason="small jobs only")  # fmt: skip
    page = text(report(comments=(comment(weight="note", limit=lighter),), looser=(("panel-size", lighter),)))
    assert label(page, "asked").endswith("; set by house rules, LOOSER THAN PUBLISHED (published: a hold)")
    said = "panel-size: longest side of a panel, at most 30; a note in place of a hold; set by house rules: small jobs"
    assert said in flat(page)


def test_a_value_on_its_limit_says_so_and_counts_have_no_margin() -> None:
    none = replace(LIMIT, name="loose_ends_at_most", value=Amount(0.0, Kind.COUNT))
    met = (
        Met("joint-depth", "joints", "t", Spot("joint J1", at(1)), inches(1.25), inches(1.25), DEPTH, 0.0),
        Met("joint-ends", "joints", "t", Spot("joint J1", at(1)), Amount(0.0, Kind.COUNT), none.value, none, 0.0),
    )
    page = text(report(met=met))
    assert label(page, "tightest") == "joint-depth: 1 1/4 in, exactly the limit (joint J1)"
    assert label(page, "and also") == "joint-ends"
    assert label(text(report(met=met[1:])), "met") == "joint-ends"


def test_limits_typed_in_inches_are_shown_in_the_system_of_the_design() -> None:
    typed = Amount(0.0254, Kind.DEPTH, typed="1 in")
    one = comment(shown=inches(0.5), asked=typed, limit=replace(DEPTH, value=typed))
    assert label(text(report(comments=(one,), system="metric")), "asked").startswith("at least 25 mm: ")
    typed_here = Amount(0.0127, Kind.DEPTH, typed="1/2 in", place=at(41))
    mine = comment(shown=typed_here, asked=typed, limit=replace(DEPTH, value=typed))
    assert label(text(report(comments=(mine,), system="metric")), "shown") == "13 mm"
    assert label(text(report(comments=(mine,), system=beside("metric"))), "shown") == "1/2 in (13 mm)"


def test_met_block_gives_the_tightest_margins_first_and_names_the_rest() -> None:
    met = tuple(
        Met(f"rule-{n}", "water", "t", Spot("", at(1)), inches(10 + n), inches(10), DEPTH, n / 10)
        for n in range(9, 0, -1)
    )
    page = text(report(met=(*met, Met("plain-rule", "water", "t"))))
    block = page[page.index("MET (10)") :]
    assert [block.index(f"rule-{n}:") for n in (1, 2, 3, 4)] == sorted(block.index(f"rule-{n}:") for n in (1, 2, 3, 4))
    assert "rule-1: 11 in against at least 10 in" in flat(block)
    assert label(block, "and also") == "rule-9, rule-8, rule-7, rule-6, rule-5, plain-rule"


def test_a_long_list_of_one_rule_is_folded_and_counted() -> None:
    many = tuple(comment(n, at=Spot(f"panel P{n}", at(n))) for n in range(1, 5001))
    page = text(report(comments=many))
    assert page.count("to pass") == 5
    assert "and 4,995 more by panel-size (numbers 6 to 5000); --json lists them all" in page
    assert "HOLDS (5,000)" in page
    assert len(page.splitlines()) < 80
    five = text(report(comments=many[:5]))
    assert five.count("to pass") == 5
    assert "--json" not in five
    six = text(report(comments=many[:6]))
    assert "and 1 more by panel-size (number 6); --json lists them all" in six


def test_what_breaks_another_limit_is_told_in_its_own_words() -> None:
    second = comment(2, at=Spot("panel P4", at(42)))
    other = comment(3, limit=replace(LIMIT, name="panel_area_at_most"), at=Spot("panel P5", at(43)))
    page = text(report(comments=(comment(1)._replace(alike=(comment(1), second)), other)), level="usual")
    assert page.count("to pass") == 2
    assert "; likewise P4" in flat(page)


def test_questions_are_folded_too() -> None:
    page = text(report(questions=tuple(Question(at(n), f"is {n} meant?") for n in range(1, 1001))))
    assert page.count(" meant?") == 20
    assert "and 980 more; --json lists them all" in page


@pytest.mark.parametrize("width", [60, 66, 72, 80, 100, 132])
def test_nothing_is_wider_than_the_paper(width: int) -> None:
    long_name = Spot("a very long name " * 8 + "x" * 150, at(41, file="deep/" * 40 + FILE))
    wide = Spot("床" * 100, at(41))
    page = text(replace(FULL, comments=(*FULL.comments, comment(4, at=long_name), comment(5, at=wide))), width)
    assert max(columns(line) for line in page.splitlines()) <= width
    assert "x" * 10 in page
    assert page.replace("\n", "").replace(" ", "").count("床") == 100


def test_words_are_wrapped_as_by_measuring_each_of_them() -> None:
    chance = random.Random(3)
    parts = ["saw", "a", "12\xa0ft", "½", "x" * 12, "", "panel", "床板", "m²", "ends,", "y" * 31]
    for _ in range(2_000):
        text = " ".join(chance.choices(parts, k=chance.randint(0, 12)))
        width, later = chance.randint(6, 30), chance.randint(6, 30)
        found = wrap(text, width, later)
        assert found == letters._wrap_by_word(" ".join(filter(None, text.split(" "))), width, later)
        assert all(columns(line) <= (later if number else width) for number, line in enumerate(found))
        short = " ".join(word for word in text.split() if word.isascii() and len(word) <= width)
        assert wrap(short, width) == (textwrap.wrap(short, width, break_on_hyphens=False) or [""])


def test_wrapped_lines_hang_under_their_words() -> None:
    page = text(report(comments=(comment(limit=replace(LIMIT, citation="word " * 60)),)), 60)
    source = page[page.index("    source") :].splitlines()
    assert source[0].startswith("    source    word")
    assert source[1].startswith(" " * 14 + "word")


def test_arithmetic_too_long_for_a_row_breaks_before_an_equals_sign() -> None:
    rows = text(report(), 60).splitlines()
    start = next(n for n, row in enumerate(rows) if row.startswith("    working"))
    assert rows[start : start + 2] == [
        "    working   longest side = 30 x thickness = 30 x 5 in",
        f"                = {MOST}",
    ]


def test_a_quantity_is_never_broken_inside() -> None:
    for width in range(60, 100):
        for row in text(FULL, width).splitlines():
            assert not row.endswith(" 5")
            assert not row.strip().startswith("in (")


HOSTILE = "\x1b[31mred\x1b]0;title\x07\x9b2J \u202eolleh\u2066\u200b\ufeff [bold]x[/bold] :boom: \x00\ud800"


def test_text_from_a_file_stays_text() -> None:
    hostile = Spot(HOSTILE, at(41, file=HOSTILE))
    page = text(
        replace(
            FULL, job=HOSTILE, file=HOSTILE, layers=(HOSTILE,), questions=(Question(at(1), HOSTILE),),
            cautions=(HOSTILE,), comments=(comment(at=hostile, rule=HOSTILE, title=HOSTILE),),
            crashes=(Crash(HOSTILE, "site", hostile.place, HOSTILE),),
        )
    )  # fmt: skip
    unseen = r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]"
    assert not re.search(unseen, page)
    assert label(page, "Job") == (
        r"\x1b[31mred\x1b]0;title\x07\x9b2J \u202eolleh\u2066\u200b\ufeff [bold]x[/bold] :boom: \x00\ud800"
    )


def test_a_name_with_line_ends_cannot_forge_a_line_of_the_sheet() -> None:
    page = text(report(job="pad\nVerdict   no comments: what the file shows is met"))
    assert len([row for row in page.splitlines() if row.startswith("Verdict")]) == 1


def test_letters_the_stream_cannot_write_are_spelt_out() -> None:
    page = text(replace(FULL, job="Žid½ × 床"), encoding="ascii")
    assert page.isascii()
    assert label(page, "Job") == r"\u017did1/2 x \u5e8a"
    assert "Žid½ × 床" in text(replace(FULL, job="Žid½ × 床"))


def test_width_on_ascii_paper_is_kept_after_spelling_out() -> None:
    page = text(replace(FULL, job="床½ " * 60), 60, "ascii")
    assert max(map(len, page.splitlines())) <= 60


class Screen(io.StringIO):
    encoding = "utf-8"

    def isatty(self) -> bool:
        return True


def written(stream: io.StringIO, of: Report = FULL) -> str:
    put(terminal.sheet(of), stream)
    return stream.getvalue()


def test_plain_text_when_piped_and_color_only_on_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    piped, screen = written(io.StringIO()), written(Screen())
    assert "\x1b" not in piped
    assert "\x1b[" in screen
    assert re.sub(r"\x1b\[[0-9;]*m", "", screen).rstrip() == piped.rstrip()


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_no_color_when_asked_for_none(monkeypatch: pytest.MonkeyPatch, name: str, value: str) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv(name, value)
    assert "\x1b" not in written(Screen())


def test_markup_is_not_interpreted_in_color(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.delenv("NO_COLOR", raising=False)
    screen = written(Screen(), replace(FULL, job="[red]x[/red] :boom: [link=http://a.example]l[/link]"))
    assert "[red]x[/red] :boom: [link=http://a.example]l[/link]" in screen
    assert "\x1b]8" not in screen


def test_weights_are_told_in_words_and_not_by_color_alone() -> None:
    page = text(FULL)
    assert "HOLD (1): settle before concrete is ordered" in page
    assert "CAUTION (1): think twice" in page


def test_width_follows_the_terminal_within_reason(monkeypatch: pytest.MonkeyPatch) -> None:
    for wide, expected in ((40, 60), (72, 72), (90, 90), (220, 100)):
        monkeypatch.setenv("COLUMNS", str(wide))
        assert screen.fitting_width(Screen()) == expected
    assert screen.fitting_width(io.StringIO()) == 80
    assert screen.fitting_width(io.StringIO(), 120) == 120


def test_only_one_group_is_said_to_have_been_looked_at() -> None:
    assert (
        label(text(report(), only="joints"), "Only")
        == "the rules of group joints; numbers are those of the whole review"
    )


def test_spelling_and_escapes() -> None:
    assert visible("a\tb\r") == r"a b\x0d"
    assert visible("plain") == "plain"
    assert spell("≤ 2 °", "ascii") == "<= 2 deg "
    assert columns("e\u0301") == 1


def test_words_longer_than_a_line_are_broken_without_loss() -> None:
    word = "abcdefghij" * 5
    assert "".join(wrap(word, 12)) == word
    assert max(map(len, wrap(word, 12))) == 12


def test_a_quoted_line_keeps_its_caret_under_the_column_even_when_cut() -> None:
    source = "x: " + "a" * 300 + "HERE" + "b" * 300
    page = sheet.Sheet(60)
    page.quoted(source, source.index("HERE") + 1)
    row, caret = plain(page.lines).splitlines()
    assert row[caret.index("^") :].startswith("HERE")
    assert len(row) <= 60
    page = sheet.Sheet(60)
    page.quoted("\tkey:  床 5", 10)
    row, caret = plain(page.lines).splitlines()
    assert row == "   key:  床 5"
    assert caret == " " * 12 + "^"


@pytest.mark.parametrize("path", sorted(FOLDER.glob("jobs/*.slab.yaml")), ids=lambda path: path.name.partition(".")[0])
def test_the_usual_sheet_is_short_and_fits_80_columns(path: Path) -> None:
    of = review_of(path)
    of = of._replace(system=alone(of.system))
    lines = text(of, level="usual").splitlines()
    standing = sum(1 for comment in of.comments if comment.variance is None)
    assert max(map(len, lines)) <= 80
    assert len(lines) <= (60 if standing == 0 else 120)


def test_a_brief_sheet_has_a_line_for_the_verdict_and_one_for_each_comment() -> None:
    of = review_of(FOLDER / "jobs" / "trailer_bay.slab.yaml")
    lines = text(of, width=400, level="brief").splitlines()
    assert len(lines) == 1 + len([one for one in of.comments if one.variance is None]) + len(of.questions)
    assert lines[0].startswith(of.file)


def test_what_the_usual_sheet_leaves_out_is_counted_and_the_way_to_it_named() -> None:
    of = review_of(FOLDER / "jobs" / "garden_patio.slab.yaml")
    page = text(of, level="usual")
    assert "--full" in page and f"{len(of.does_not_apply)} rules do not apply" in flat(page)
    assert not any(entry.reason in flat(page) for entry in of.does_not_apply)
