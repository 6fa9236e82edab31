"""The rule `form-board`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from judged import ended, finding, judged
from slabs.thickness import design
from slabwright.formulas.units import INCH
from slabwright.plan.given import DoesNotApply
from slabwright.review.report import Report
from slabwright.text.words import plain


def form(thickness: str, board: str, dug: bool = False, more: str = "") -> Report:
    written = f"{{design: {thickness}, form_board: {board}, dug_below_form: {str(dug).lower()}}}"
    return review_by("form-board", design(written, more))


@pytest.mark.parametrize(
    ("thickness", "board", "found"),
    [
        # dressed sizes: 2x4 is 3-1/2 in, 2x6 5-1/2 in, 2x8 7-1/4 in (lumber sizes, common practice)
        ("3 1/2 in", "2x4", []),
        ("4 in", "2x4", [("note", "short_preferred_at_most")]),
        ("4 1/4 in", "2x4", [("note", "short_preferred_at_most")]),  # t - 3/4 in
        ("4 3/8 in", "2x4", [("hold", "short_at_most")]),
        ("5 in", "2x6", []),
        ("6 in", "2x6", [("note", "short_preferred_at_most")]),
        ("8 in", "2x8", [("note", "short_preferred_at_most")]),
        ("4 in", "4 in", []),
    ],
)
def test_form_board(thickness: str, board: str, found: list[tuple[str, str]]) -> None:
    assert weights(form(thickness, board)) == found


def test_form_board_tells_the_concrete_lost_and_the_next_board() -> None:
    comment = only(form("4 in", "2x4"))

    assert comment.shown.si == pytest.approx(0.5 * INCH)
    assert comment.working[1].result.si == pytest.approx(0.125)  # an eighth
    assert advice(comment) == "form with 2x6 or deeper"
    assert plain(comment.remedies[1].says, "us", both=False) == (
        "dig the base 1/2 in below the board and write dug_below_form: true"
    )
    assert advice(only(form("12 in", "2x12"))).startswith("dig the base 3/4 in below")
    assert (
        plain(only(form("4 in", "3 in")).says, "us", both=False)
        == "the form board is 3 in deep, and the slab is drawn 4 in"
    )


def test_form_board_is_met_where_the_base_is_dug_below_it() -> None:
    report = form("4 in", "2x4", dug=True)

    assert not report.comments
    assert [entry.rule for entry in report.met] == ["form-board"]


def test_form_board_asks_for_the_board_and_does_not_apply_between_walls() -> None:
    silent = review_by("form-board", design())
    assert silent.not_shown[0].add == (
        "thickness.form_board: the board the form is made of, by its trade size or its real depth, such as 2x6",
    )

    walls = form("4 in", "2x4", more="edges: [{rest: wall}]")
    assert walls.does_not_apply[0].reason == "walls or old slabs stand all round, so nothing is formed"


def test_a_board_that_is_dug_below_is_not_compared() -> None:
    def boards(said: str) -> str:
        text = pad("").replace("{design: 4 in}", f"{{design: 4 in, {said}}}")
        end = ended("form-board", text)
        return end.reason if isinstance(end, DoesNotApply) else f"{judged('form-board', text)[0].shown.si / INCH:g} in"

    assert boards("form_board: 2x4") == "0.5 in"
    assert boards("form_board: 2x4, dug_below_form: true") == "0 in"
    assert boards("dug_below_form: true") == "the base is dug below the form boards"


def test_metric_forms_are_as_deep_as_the_slab() -> None:
    text = pad("", unit="m").replace("{design: 4 in}", "{design: 120 mm, form_board: 100 mm}")
    one = finding("form-board", text)

    assert one.to_pass.values["deeper"].si == pytest.approx(0.120)  # type: ignore[union-attr]
    assert one.remedies[1].says.values["off"].si == pytest.approx(0.020)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("board", "found"),
    [
        ("", [("caution", "part_short_at_most")]),  # 3/4 in, common practice: nothing is said of its board
        (", form_board: 3 1/2 in", [("hold", "short_at_most")]),
        (", form_board: 6 in", []),
    ],
)
def test_a_thicker_part_that_names_no_board_is_a_caution(board: str, found: list[tuple[str, str]]) -> None:
    part = f"parts: [{{name: apron, corners: [[0, 0], [8, 0], [8, 2], [0, 2]], thickness: 6 in{board}}}]"
    report = review_by("form-board", pad(part, use="driveway", thick="{design: 4 in, form_board: 4 in}"))

    assert weights(report) == found
    if not board:
        assert plain(only(report).says, "us", both=False).endswith(
            "and the apron is drawn 6 in, with no board of its own"
        )
