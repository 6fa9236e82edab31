"""The page of the mutants is what the last run found, and each change it lists can still be made.

No mutant is run here: that takes an hour, ``python tests/mutants.py``.
"""

from __future__ import annotations

from pathlib import Path

import mutants_page
import pytest
from mutants_page import Kind, Lived, Result

FOUND = mutants_page.results()
KINDS = mutants_page.kinds()
LIVED = sorted({one for result in FOUND.values() for one in result.lived})


def test_the_page_is_what_was_found_and_why() -> None:
    expected = mutants_page.page(FOUND, KINDS)
    assert mutants_page.PAGE.read_text(encoding="utf-8") == expected, "run: python tests/mutants.py --page-only"


def test_at_least_nineteen_in_twenty_are_killed() -> None:
    *_, (_, mutants, killed) = mutants_page.rows(FOUND)
    assert killed >= 0.95 * mutants


@pytest.mark.parametrize("one", LIVED, ids=lambda one: f"{one.file}: {one.now}")
def test_what_lives_is_a_change_to_a_line_that_is_there(one: Lived) -> None:
    assert one.line is not None, f"the line is gone, run: python tests/mutants.py {one.file}"
    assert one.was != one.now


def test_what_lives_has_one_reason_and_no_reason_is_left_over() -> None:
    given = [one for kind in KINDS for one in kind.reasons]
    assert sorted(given) == LIVED
    assert all(because.endswith(".") for kind in KINDS for because in kind.reasons.values())


FILES = ("rules/joints/curl.py", "checker/slabwright/formulas/layout.py")


def test_a_page_by_hand() -> None:
    """Two files, by hand: 9 of 10 and 4 of 4 killed, which makes 13 of 14, 92.8 % (0.92857)."""
    (line, was) = next(
        (number, text)
        for number, text in enumerate((mutants_page.ROOT / FILES[0]).read_text(encoding="utf-8").splitlines(), 1)
        if text.startswith("from collections")
    )
    lived = Lived(FILES[0], was, "a | b")
    found = {FILES[0]: Result(10, (lived,)), FILES[1]: Result(4, ())}
    page = mutants_page.page(found, (Kind("Nothing differs", {lived: "It is an import."}),))
    assert "92.8 % of 14 are." in page
    assert (
        "\n| joints | 10 | 9 | 1 | 90.0 % |\n| formulas | 4 | 4 | 0 | 100.0 % |\n| all | 14 | 13 | 1 | 92.8 % |\n"
        in page
    )
    assert "### Nothing differs\n" in page
    assert f"\n| {FILES[0]} | {line} | `{was}` | `a \\| b` | It is an import. |\n" in page
    assert "A test is missing" not in page
    assert "### A test is missing" in mutants_page.page(found, ())


def test_results_come_back_as_they_were_kept(tmp_path: Path) -> None:
    kept = {FILES[0]: Result(3, (Lived(FILES[0], "a < b", "a <= b"),)), FILES[1]: Result(2, ())}
    mutants_page.keep(kept, tmp_path / "kept.json")
    assert mutants_page.results(tmp_path / "kept.json") == kept
    assert mutants_page.results(tmp_path / "none.json") == {}
