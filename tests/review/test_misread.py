"""A height that lies far off all others is asked about by name, once; anything that is built like that is not."""

from __future__ import annotations

from pathlib import Path

import corpus
import pytest
from design_text import pad
from slabwright.design.read import read_text
from slabwright.review.report import Report
from slabwright.source import edit
from slabwright.text.sheet import plain
from slabwright.writers import terminal

POINTS = "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20], M: [10, 10], N: [10, 0]}\n"
PLANE = {"A": 100.0, "B": 100.0, "C": 99.6, "D": 99.6, "M": 99.8, "N": 100.0}  # 2 % from A-B to C-D


def asked(**surfaces: dict[str, float]) -> list[str]:
    """What is asked about a slab of 20 by 20 ft with these heights."""
    heights = ", ".join(
        f"{name}: {{{', '.join(f'{point}: {value}' for point, value in spots.items())}}}"
        for name, spots in surfaces.items()
    )
    text = pad(f"{POINTS}heights: {{{heights}}}", outline="[A, B, C, D]")
    return [one.wrong for one in read_text(Path("pad.slab.yaml"), text)[1]]


@pytest.mark.parametrize("surface", ["finish", "base", "existing"])
@pytest.mark.parametrize("name", ["A", "C", "M"])
@pytest.mark.parametrize("off", [1.0, -1.0, 0.5])
def test_one_height_a_foot_off_is_asked_about_by_name(surface: str, name: str, off: float) -> None:
    (wrong,) = asked(**{surface: PLANE | {name: PLANE[name] + off}})

    assert f" at {name} lies {abs(off):g} ft {'above' if off > 0 else 'below'} where the others put it" in wrong


def test_a_shot_on_the_base_is_held_against_the_finish() -> None:
    """Four shots are enough where the finish is known: three lie 0.35 ft under it, and one 1.35 ft."""
    finish = {name: PLANE[name] for name in "ABCD"}
    base = {name: round(height - 0.35, 2) for name, height in finish.items()}

    assert asked(finish=finish, base=base) == []
    assert asked(finish=finish, base=base | {"B": 98.65}) == [
        "the base at B lies 1 ft below where the other shots put it: is it misread?"
    ]


@pytest.mark.parametrize(
    "finish",
    [
        PLANE,
        PLANE | {"M": 99.4},  # a low of 5 in round a drain
        PLANE | {"A": 100.0, "B": 99.0, "C": 98.0, "D": 99.0, "M": 99.0, "N": 99.5},  # steep, and even
        {"A": 100.0, "B": 100.0, "C": 101.0, "D": 100.0},  # of four, any may be the one
        {"A": 100.0, "N": 100.0, "B": 101.0},
    ],
)
def test_what_is_built_so_is_not_asked_about(finish: dict[str, float]) -> None:
    assert not any("misread" in wrong for wrong in asked(finish=finish))


@pytest.mark.parametrize(
    ("more", "low", "asks"),
    [  # a yard of 20 ft between level edges, two feet of them written, and the low end of its valley
        ("", 99.3, True),
        ("lines: [{kind: valley, along: [N, M]}]", 99.3, False),
        ("lines: [{kind: valley, along: [N, M]}]", 98.3, True),  # a foot off is a foot off
        ("lines: [{kind: ridge, along: [N, M]}]", 99.3, True),
    ],
)
def test_the_low_end_of_a_valley_is_not_asked_about(more: str, low: float, asks: bool) -> None:
    heights = {"A": 100.0, "B": 100.0, "C": 100.0, "D": 100.0, "M": 99.9, "N": low}
    finish = ", ".join(f"{at}: {height}" for at, height in heights.items())
    text = pad(f"{POINTS}heights: {{finish: {{{finish}}}{', ' + more if more else ''}}}", outline="[A, B, C, D]")
    asked = [one.wrong for one in read_text(Path("pad.slab.yaml"), text)[1]]
    assert any("misread" in wrong for wrong in asked) is asks


def with_height(name: str, path: str, typed: str) -> Report:
    """A sound design of the corpus with another height typed at a path, reviewed."""
    return with_heights(name, {path: typed})


def with_heights(name: str, typed: dict[str, str]) -> Report:
    """The same with several values typed anew."""
    where = corpus.sound()[name]
    text: str | None = where.read_text(encoding="utf-8")
    for path, value in typed.items():
        assert text is not None
        text = edit.put(text, path, value)
    assert text is not None
    report = corpus.judged(where, text).report
    assert report is not None
    return report


@pytest.mark.parametrize(
    ("name", "path", "typed", "meant"),
    [
        ("upper_midwest_drive", "heights.finish.D", "100.16", "99.16 ft"),  # a foot
        ("nook_patio", "heights.finish.B", "99.04", "99.40 ft"),  # two digits swapped, of four heights
        ("barn_aisle", "heights.finish.B", "9.973", "99.73 ft"),  # the point a place to the left
        ("lake_country_patio", "heights.finish.C", "8", "-8 in"),  # the minus left off, in inches
    ],
)
def test_a_misread_height_is_one_question_and_the_comments_that_rest_on_it_a_line(
    name: str, path: str, typed: str, meant: str
) -> None:
    report = with_height(name, path, typed)
    point = path.rpartition(".")[2]
    assert len([one for one in report.questions if "mis" in one.asks]) == 1
    assert (
        f"the finish at {point} lies" in report.questions[0].asks and f"about {meant} would" in report.questions[0].asks
    )
    rest = [one for one in report.comments if one.rests_on]
    assert len(rest) >= 3 and {one.rests_on for one in rest} == {f"the finish at {point}"}
    assert [one.rule for one in report.comments if one.weight == "hold" and not one.rests_on] == []
    sheet = plain(terminal.sheet(report))
    assert sheet.count(f" on the finish at {point}, asked about below") == 1
    assert not any(f"{one.number}. " in sheet for one in rest)
    assert report.verdict == "hold"  # as typed it would be built wrong


@pytest.mark.parametrize(("name", "typed", "meant"), [("D", "9.900", "10.000 m"), ("A", "9.900", "10.000 m")])
def test_of_four_heights_all_equally_far_off_the_one_that_clears_the_review_is_named(
    name: str, typed: str, meant: str
) -> None:
    """A tenth of a meter off in one of four corners is a tenth off at each of them."""
    heights = {"A": "10.000", "B": "9.907", "C": "9.907", "D": "10.000"} | {name: typed}
    text = pad(
        "points: {A: [0, 0], B: [5.6, 0], C: [5.6, 6], D: [0, 6]}\n"
        "edges: [{run: [D, A], beside: building}, {run: [A, B], beside: gravel},\n"
        "  {run: [B, C, D], beside: lawn, ground: [9.88, 9.88, 9.97], takes_water: true}]\n"
        f"heights: {{finish: {{{', '.join(f'{at}: {height}' for at, height in heights.items())}}}}}",
        use="carport",
        unit="m",
        outline="[A, B, C, D]",
        thick="100 mm",
    )
    report = corpus.judged(Path("pad.slab.yaml"), text).report
    assert report is not None
    assert [f"finish at {name}" in one.asks and f"about {meant} would" in one.asks for one in report.questions] == [
        True
    ]


@pytest.mark.parametrize("name", ["desert_corner_patio"])
def test_a_fold_drawn_the_wrong_way_is_no_misread_height(name: str) -> None:
    for fault in corpus.faults():
        if fault.design == name:
            report = corpus.tried(fault).judged.report
            assert report is None or not any(one.rests_on for one in report.comments), fault.name


def test_a_height_that_the_other_surface_bears_out_is_not_the_misread_one() -> None:
    """A lies farthest off a plane, but 4 in over its base as all do; H lies 1 1/2 in over it, and is typed wrong."""
    report = with_heights("map_room_corner", {"heights.finish.H": "-5.5", "heights.lines[0].kind": "grade break"})
    (asked,) = [one.asks for one in report.questions]
    assert asked.startswith("the finish at H lies 2 1/2 in below where the shots of the base put it: is it misread?")
    assert "about -3 in would fit" in asked
    held = [one for one in report.comments if one.weight == "hold"]
    assert len(held) >= 3 and {one.rests_on for one in held} == {"the finish at H"}


def test_what_rests_on_a_shot_that_is_asked_about_is_not_to_be_built_by() -> None:
    """A shot 12 in too low asks for a third more concrete: the shot is looked at before anything is ordered."""
    report = with_height("map_room_corner", "heights.base.K3", "-20.5")
    assert len(report.questions) == 1 and "the base at K3 lies 12 in below" in report.questions[0].asks
    (held,) = [one for one in report.comments if one.weight == "hold"]
    assert (held.rule, held.rests_on, held.remedies) == ("ordered-volume", "the base at K3", ())


def test_a_base_left_high_is_told_and_not_asked_about() -> None:
    report = with_height("map_room_corner", "heights.base.K2", "-7")
    assert [one.rule for one in report.comments] == ["base-depth"] and not report.questions
