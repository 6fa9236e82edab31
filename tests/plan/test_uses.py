"""Uses by the names that people write, and asphalt beside a slab."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from design_text import plan_of
from example_reviews import IN_FORCE, RULES
from slabwright.cli.main import main
from slabwright.design.schema_gate import schema_named
from slabwright.design.uses import COUNTS_AS
from slabwright.drawing import content
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.text.words import plain
from sloped import RECTANGLE, design, plane
from snippets import refused, saved

# Twelve by twenty feet that falls 2 % from A-B to C-D.
HEIGHTS = plane(RECTANGLE, 0.0, -0.02)


def reviewed(plan: Plan) -> Report:
    return run.review(plan, RULES, IN_FORCE)


def paved(edges: str, use: str = "driveway", more: str = "") -> str:
    return design(RECTANGLE, HEIGHTS, edges, use=use, more=more)


@pytest.mark.parametrize("called", [called for called, use in COUNTS_AS.items() if called != use])
def test_a_use_takes_the_limits_of_the_one_it_counts_as_and_keeps_its_name(called: str) -> None:
    """Word for word the same comments, but for the name, and for the fall of a pool deck: it has a limit of its own."""
    steep = plane(RECTANGLE, 0.0, 0.20)
    own, other = (
        reviewed(plan_of(design(RECTANGLE, steep, "rest: lawn, ground: 97", use=use)))
        for use in (called, COUNTS_AS[called])  # type: ignore[index]
    )
    assert (own.use, other.use) == (called, COUNTS_AS[called])  # type: ignore[index]
    mine, theirs = ([(one.rule, one.limit.name, one.weight) for one in report.comments] for report in (own, other))
    if called == "pool deck":
        theirs = [(rule, name.replace("patio_at_most", "pool_deck_at_most"), how) for rule, name, how in theirs]
    assert mine == theirs
    assert ("greatest-fall", "caution") in [(rule, weight) for rule, _, weight in mine]
    (fall,) = [one for one in own.comments if one.rule == "greatest-fall"]
    assert called in plain(fall.says, "us")


def test_a_part_is_called_by_its_use_too() -> None:
    """A drive with a bin store on its right: 10 % is steep for the one, as for a patio, and not for the other."""
    store = "parts: [{name: store, corners: [[10, 0], B, C, [10, 12]], use: bin store, thickness: 4 in}]"
    text = design(RECTANGLE, plane(RECTANGLE, 0.0, 0.10), "rest: lawn, ground: 97", use="driveway") + "\n" + store
    report = reviewed(plan_of(text))
    assert report.use == "driveway and bin store"
    steep = [(one.weight, one.limit.name) for one in report.comments if one.rule == "greatest-fall"]
    assert steep == [("caution", "patio_at_most")]


def test_the_name_of_the_use_is_printed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(tmp_path, use="pool deck")
    main(["review", "--full", str(path)])
    assert "pool deck, 120 ft2" in capsys.readouterr().out
    main(["order", "--json", str(path)])
    assert json.loads(capsys.readouterr().out)["use"] == "pool deck"


def test_near_words_of_a_use_are_answered_with_what_to_write(tmp_path: Path) -> None:
    instead = schema_named("design")["properties"]["use"]["instead"]
    for word, right in instead.items():
        ((_, _, wrong, write),) = refused(saved(tmp_path, use=word))
        assert (wrong, write) == (f'"use: {word}" is not known here', right), word
        assert any(called in right for called in COUNTS_AS), word


# asphalt


def test_water_and_wheels_go_over_asphalt_and_it_wants_no_filler() -> None:
    asphalt, walls = "run: [C, D], beside: asphalt, name: old lot, ground: 99.76", "\nrest: curb, ground: 99.5"
    plan = plan_of(paved(asphalt + walls))
    (piece,) = [one for one in plan.edges.pieces if one.beside == "asphalt"]
    assert (piece.takes_water, piece.wheels_cross, piece.fixed_face, piece.dams) == (True, True, False, False)
    held = plan_of(paved(asphalt + ", takes_water: false, wheels_cross: false" + walls))
    (piece,) = [one for one in held.edges.pieces if one.beside == "asphalt"]
    assert (piece.takes_water, piece.wheels_cross) == (False, False)
    report = reviewed(plan)
    against = [one.at.name for one in report.comments if one.rule == "isolation-full-depth"]
    assert "old lot" not in against
    assert not [one for one in report.comments if one.at.name == "old lot"]  # flush: the water leaves, nobody trips


@pytest.mark.parametrize(
    ("use", "lip", "expected"),
    [  # 1/2 in where people walk (ABA 303.3, read), 3/4 in where wheels cross alone (common practice)
        ("patio", 0.6, [("caution", "private_lip_at_most")]),
        ("driveway", 0.6, []),
        ("driveway", 0.85, [("note", "wheel_lip_at_most")]),
    ],
)
def test_a_lip_at_asphalt(use: str, lip: float, expected: list[tuple[str, str]]) -> None:
    edges = f"run: [C, D], beside: asphalt, ground: {99.76 - lip / 12:.6f}\nrest: lawn, ground: 99"
    report = reviewed(plan_of(paved(edges, use)))
    lips = [one for one in report.comments if one.rule == "trip-at-existing-slab"]
    assert [(one.weight, one.limit.name) for one in lips] == expected
    assert all("above the asphalt" in plain(one.says, "us") for one in lips)


def test_asphalt_above_the_slab_dams_it_and_the_slab_is_raised() -> None:
    edges = "run: [C, D], beside: asphalt, ground: 99.81\nrest: curb"
    report = reviewed(plan_of(paved(edges)))
    (dam,) = [one for one in report.comments if one.rule == "ground-dams-edge"]
    assert (dam.weight, "the asphalt stands above" in plain(dam.says, "us")) == ("hold", True)


def test_asphalt_is_drawn_with_a_hatch_of_its_own() -> None:
    plan = plan_of(paved("run: [C, D], beside: asphalt\nrest: existing slab"))
    text = plan_svg(content.drawn(reviewed(plan), plan))
    assert text.count("-asphalt)") == 2  # along the edge and in the legend
    assert ">asphalt<" in text
