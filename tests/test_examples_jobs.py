"""Whole jobs and all examples: reviewed, written out, and reviewed again with any part left out or any number wrong.

What a job falls short of is known from the trade story in its own remarks; what is asserted of every damaged design is
only that it gets a review or a refusal with a place, and never a rule that fails in itself.
"""

from __future__ import annotations

import io
import json
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from example_reviews import DESIGNS, JOBS, RULES, drawing_in, name_of, review_of, reviewed
from slabwright.review.report import Report
from slabwright.source import locate
from slabwright.source.problem import UnreadableError
from slabwright.text.screen import put
from slabwright.writers import terminal
from slabwright.writers.as_json import as_json
from turning import Drawing

EVERY = [*DESIGNS, *JOBS]
BAY, CORRECTED = ("trailer_bay.slab.yaml", "trailer_bay_corrected.slab.yaml")


def job(name: str) -> Path:
    (found,) = [path for path in JOBS if path.name == name]
    return found


# jobs


@pytest.mark.parametrize("path", JOBS, ids=name_of)
def test_a_job_is_read_and_judged_by_every_rule(path: Path) -> None:
    report = review_of(path)
    assert report.crashes == ()
    assert report.variance_troubles == ()
    concluded = [report.comments, report.met, report.not_shown, report.does_not_apply]
    assert {entry.rule for entries in concluded for entry in entries} == {rule.name for rule in RULES}


def test_the_first_layout_of_the_bay_falls_short_where_its_remarks_say() -> None:
    """Remarks: cuts moved four inches off the notch; a last cut of an inch; four-inch foam in five inches of slab;
    the lane shoulder topped up; G dropped to run on into the neighbor's path; steel hooked up by hand.
    """
    report = review_of(job(BAY))
    found = {(comment.rule, comment.at.name) for comment in report.comments if comment.weight == "hold"}
    assert report.verdict == "hold"
    assert {
        ("inside-corner-joint", "inside corner E"),
        ("joint-depth", "joint J4"),
        ("isolation-full-depth", "workshop wall"),
        ("ground-dams-edge", "boat lane"),
        ("water-ends-where-it-may", "lot line"),
        ("steel-held-up", "the bars"),
    } <= found
    (off,) = [one.shown for one in report.comments if one.rule == "inside-corner-joint"]
    assert off.si == pytest.approx(0.33 * 0.3048, abs=1e-6)  # the nearer of 0.33 ft along the wall and along the notch


def test_the_corrected_bay_answers_every_comment_on_the_first() -> None:
    first, corrected = review_of(job(BAY)), review_of(job(CORRECTED))
    assert first.comments
    assert [comment.rule for comment in corrected.comments if comment.variance is None] == []
    assert corrected.not_shown == ()
    assert corrected.questions == ()
    assert {comment.rule for comment in first.comments} <= {entry.rule for entry in corrected.met}


# every design, written out


@pytest.mark.long
@pytest.mark.parametrize("path", EVERY, ids=name_of)
def test_the_review_of_every_example_is_written_on_paper_80_columns_wide_and_as_json(path: Path) -> None:
    report = review_of(path)
    sheet = io.StringIO()
    put(terminal.sheet(report), sheet)
    lines = sheet.getvalue().splitlines()
    assert lines
    assert max(len(line) for line in lines) <= 80
    assert "\x1b" not in sheet.getvalue()
    written = json.loads(as_json(report))
    schema = json.loads((locate.folder("schemas") / "report.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator(schema).validate(written)
    assert len(written["comments"]) == len(report.comments)


# every design, damaged


def key_paths(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Every key and every item; of a pair of coordinates only the first."""
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, item in items:
        yield (*path, key)
        if isinstance(item, dict) or (isinstance(item, list) and len(item) > 2):
            yield from key_paths(item, (*path, key))
        elif isinstance(item, list):
            yield (*path, key, 0)


def edited(data: Any, path: tuple[Any, ...], new: str | None) -> Any:
    """A copy without the value at a path, or with another in its place; other parts are shared."""
    key, *rest = path
    copy = dict(data) if isinstance(data, dict) else list(data)
    if rest:
        copy[key] = edited(data[key], tuple(rest), new)
    elif new is None:
        del copy[key]
    else:
        copy[key] = new
    return copy


def at(data: Any, path: tuple[Any, ...]) -> Any:
    for key in path:
        data = data[key]
    return data


def sound(drawing: Drawing, what: str) -> Report | None:
    """The review of a damaged drawing, or None when it is refused; neither may hold a failure of the program."""
    try:
        report = reviewed(drawing)
    except UnreadableError as refused:
        assert refused.problems, what
        assert all(problem.place.file and problem.wrong for problem in refused.problems), what
        return None
    assert report.crashes == (), what
    assert not any("could not be looked through" in question.asks for question in report.questions), what
    return report


@pytest.mark.long
@pytest.mark.parametrize("path", EVERY, ids=name_of)
def test_any_part_of_a_design_may_be_missing(path: Path) -> None:
    """Every key and list item left out in turn; of a whole job every section, and thirty of the rest."""
    drawing = drawing_in(path)
    paths = list(key_paths(drawing.data))
    if path in JOBS:
        sections, rest = [one for one in paths if len(one) == 1], [one for one in paths if len(one) > 1]
        paths = sections + random.Random(path.name).sample(rest, 30)
    outcomes = [sound(Drawing(edited(drawing.data, gone, None), drawing.readings), f"without {gone}") for gone in paths]
    assert None in outcomes  # format, outline and thickness are needed
    assert any(outcome is not None for outcome in outcomes)  # others are not


@pytest.mark.long
@pytest.mark.parametrize("path", EVERY, ids=name_of)
def test_any_number_of_a_design_may_be_wrong(path: Path) -> None:
    """Ten values in turn become nothing, tiny, huge, negative, upside down, or words."""
    drawing, dice = drawing_in(path), random.Random(path.parent.name + path.name)
    leaves = [p for p in key_paths(drawing.data) if isinstance(at(drawing.data, p), str)]
    for chosen in dice.sample(leaves, min(10, len(leaves))):
        text = at(drawing.data, chosen)
        number = next((k for k, sign in enumerate(text) if sign.isdigit()), None)
        rest = "" if number is None else text[number:].lstrip("0123456789./")
        for new in dice.sample(
            [f"0{rest}", f"0.001{rest}", f"1000000{rest}", f"-3{rest}", f"7{rest}", "none", "", "~"], 2
        ):
            sound(Drawing(edited(drawing.data, chosen, new), drawing.readings), f"{chosen}: {new}")


def test_a_base_drawn_above_the_finish_is_told_and_stops_no_rule() -> None:
    """With heights a hundred feet out the mean depth is below zero: base-depth says so, and the others go on."""
    data = drawing_in(job(CORRECTED)).data
    low = sound(Drawing(edited(data, ("heights", "finish", "D"), "0.001"), {}), "D at nothing")
    assert low is not None
    assert "base-depth" in {comment.rule for comment in low.comments}
    assert all(comment.asked.si > 0 for comment in low.comments if comment.rule == "panel-spacing")


def test_a_height_left_empty_in_a_list_is_refused_with_one_to_write() -> None:
    data = drawing_in(job(CORRECTED)).data
    with pytest.raises(UnreadableError) as refused:
        reviewed(Drawing(edited(data, ("edges", 2, "ground", 1), ""), {}))
    (problem,) = refused.value.problems
    assert problem.wrong == "this entry is empty"
    assert problem.write == "99.30, or delete the entry"  # a whole height, not its first digit
