"""The rule `overhead-wires`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import weights
from design_text import pad, review_by
from slabwright.text.words import plain


def wire(y: float, height: str = "", more: str = "", path: str = "[[4, 60], [4, 12]]") -> str:
    hangs = f", height: {height}" if height else ""
    way = f"truck_path: {path}, " if path else ""
    return pad(f"site: {{{way}wires: [{{name: drop, along: [[-20, {y}], [30, {y}]]{hangs}}}]}}\n{more}")


@pytest.mark.parametrize(("height", "found"), [("14 ft", []), ("13.9 ft", [("caution", "over_truck_at_least")])])
def test_a_wire_over_the_truck(height: str, found: list[tuple[str, str]]) -> None:
    """A mixer stands some 14 ft tall: common practice."""
    assert weights(review_by("overhead-wires", wire(30, height))) == found


@pytest.mark.parametrize(
    ("y", "order", "found"),
    [
        # 20 ft from power lines: 29 CFR 1926.1408, recalled; the slab ends at 8 ft
        (28, "method: pump", []),
        (27.9, "method: pump", [("caution", "boom_clear_at_least")]),
        (4, "method: pump, hose: 4 in", [("caution", "boom_clear_at_least")]),
    ],
)
def test_a_wire_near_a_boom(y: float, order: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("overhead-wires", wire(y, "18 ft", f"order: {{{order}}}", path=""))) == found


def test_wires_that_nothing_comes_near() -> None:
    line_pump = wire(20, "18 ft", "order: {method: pump, hose: 2 1/2 in}", path="")

    assert review_by("overhead-wires", line_pump).does_not_apply  # its hose lies on the ground
    assert review_by("overhead-wires", wire(70, "18 ft")).does_not_apply
    assert review_by("overhead-wires", pad("")).does_not_apply
    assert "drop" in review_by("overhead-wires", wire(30)).not_shown[0].add[0]
    two = wire(30).replace("{name: drop, ", "{along: [[-20, 40], [30, 40]]}, {name: drop, ")
    assert "how high wire 1 hangs" in review_by("overhead-wires", two).not_shown[0].add[0]


def test_nobody_is_told_to_touch_a_wire() -> None:
    for comment in review_by("overhead-wires", wire(20, "12 ft", "order: {method: pump}")).comments:
        assert not comment.remedies
        assert "utility" in plain(comment.to_pass, "us")


@pytest.mark.parametrize(("off", "over"), [(4.2, True), (4.3, False)])
def test_a_wire_hangs_over_the_side_of_a_truck_that_drives_along_it(off: float, over: bool) -> None:
    """A mixer is 8 1/2 ft wide: common practice."""
    along = f"[[{4 + off}, 12], [{4 + off}, 60]]"
    text = pad(f"site: {{truck_path: [[4, 60], [4, 12]], wires: [{{name: drop, along: {along}, height: 12 ft}}]}}")
    assert bool(review_by("overhead-wires", text).comments) is over
