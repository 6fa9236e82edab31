"""The rule `even-ground`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, weights
from design_text import pad, review_by
from judged import judged
from slabs.base import ground, hill
from slabwright.rulebook.conclusion import Finding
from slabwright.units.quantity import Amount

INCH = 0.0254
UNDERSIDE = 100 - 8 / 12  # ft, of a base of 4 in under a slab of 4 in at 100 ft
CUTS = "joints: [{from: [2, 0], to: [2, 8], kind: saw cut}, {from: [5, 0], to: [5, 8], kind: saw cut}]"


def sloping(cut: float, fill: float, **more: str) -> str:
    """Ground that is dug by ``cut`` along A-B and filled by ``fill`` along C-D, in."""
    high, low = round(UNDERSIDE + cut / 12, 8), round(UNDERSIDE - fill / 12, 8)
    return ground(f"A: {high}, B: {high}, C: {low}, D: {low}", **more)


@pytest.mark.parametrize(
    ("high", "fill", "found"),
    [
        (100, 3, []),  # 3 in of fill beside a cut: common practice
        (100, 4, [("caution", "fill_beside_cut_at_most")]),
        (99.3, 6, []),  # filled all over: no cut beside it
    ],
)
def test_even_ground_minds_fill_only_beside_a_cut(high: float, fill: float, found: list[tuple[str, str]]) -> None:
    report = review_by("even-ground", hill(high, 100 - (8 + fill) / 12))

    assert weights(report) == found


def test_even_ground_counts_panels_apart() -> None:
    joints = "joints: [{from: [0, 4], to: [8, 4], kind: saw cut, depth: 1 in}]"
    report = review_by("even-ground", hill(100, 98.67) + joints)  # the upper half is dug, the lower half filled

    assert not report.comments  # ground crosses the underside at the joint: 8 in up and 8 in down


def test_even_ground_names_the_panels_over_a_loose_trench() -> None:
    trench = "site: {trenches: [{along: [[4, -4], [4, 12]], depth: 3 ft}]}"
    loose = only(review_by("even-ground", pad(trench)))

    assert loose.at.name == "trench 1"
    assert loose.says.values["panels"] == "panel P1"
    assert loose.shown.si == pytest.approx(3 * 0.3048)
    assert not review_by("even-ground", pad(trench.replace("3 ft", "3 ft, compacted: true"))).comments
    assert review_by("even-ground", pad(trench.replace("[4, -4], [4, 12]", "[9, -4], [9, 12]"))).does_not_apply


@pytest.mark.parametrize(
    ("cut", "found"),
    [
        (0.9, []),  # under an inch of cut a panel lies on fill, if on little at that end: the rule's own
        (1.1, [("caution", "fill_beside_cut_at_most")]),
    ],
)
def test_even_ground_counts_a_panel_as_dug_from_an_inch(cut: float, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("even-ground", sloping(cut, 4))) == found


@pytest.mark.parametrize(
    ("left", "right", "joints", "panel", "more"),
    [
        # fill along the low side, in inches, from D to C; the joints run downhill, 2 and 5 ft from D
        (4, 4, "", "P1", ""),
        (8, 4, CUTS, "P1", "do 2 more"),  # 8 to 7, to 5.5, to 4
        (8, 2, CUTS, "P1", "do 2 more"),  # 8 to 6.5, to 4.25, to 2
        (7, 0.2, CUTS, "P1", "does one more"),  # 7 to 5.3, to 2.75, to 0.2
        (1, 8, CUTS, "P3", "does one more"),  # 1 to 2.75, to 5.4, to 8
        (1, 4, CUTS, "P3", ""),  # 1 to 1.75, to 2.9, to 4
    ],
)
def test_even_ground_tells_the_worst_panel_and_counts_the_others(
    left: float, right: float, joints: str, panel: str, more: str
) -> None:
    high = round(UNDERSIDE + 0.5, 8)
    low = [round(UNDERSIDE - deep / 12, 8) for deep in (right, left)]
    text = ground(f"A: {high}, B: {high}, C: {low[0]}, D: {low[1]}", joints)
    comment = only(review_by("even-ground", text))
    assert comment.at.name == f"panel {panel}"
    assert comment.shown.si == pytest.approx(max(left, right) * INCH)
    assert [words in comment.says.template for words in ("one more", "2 more")] == [
        words in more for words in ("one more", "2 more")
    ]
    assert ("more" in comment.says.template) is bool(more)


@pytest.mark.parametrize(
    ("base", "fill", "thick"),
    [
        ("4 in", 3.95, 5.0),  # 0.95 in more, in whole eighths 1 in
        ("4 in", 3.85, 4.875),
        ("4 in", 3.3, 4.375),
        ("", 7.9, 5.0),  # none is written: the fill begins under the slab
    ],
)
def test_even_ground_asks_for_so_much_more_base(base: str, fill: float, thick: float) -> None:
    below = fill - (0 if base else 4)
    text = sloping(8, below, base=base)
    comment = only(review_by("even-ground", text))
    values = [comment.to_pass.values[slot] for slot in ("thick", "off")]
    was = 4.0 if base else 0.0
    assert [one.si / INCH for one in values if isinstance(one, Amount)] == pytest.approx([thick, thick - was])
    deeper = sloping(8, below, base=f"{thick} in")
    assert not review_by("even-ground", deeper).comments


def test_even_ground_needs_three_heights_of_the_ground() -> None:
    two = ground("A: 99, B: 99", finish="A: 100")
    assert review_by("even-ground", two).does_not_apply
    assert review_by("fill-depth", two).does_not_apply
    three = ground("A: 99, B: 99, C: 99", finish="A: 100")
    assert review_by("even-ground", three).not_shown
    assert review_by("fill-depth", three).not_shown


def test_even_ground_numbers_trenches_as_they_are_listed() -> None:
    beside, under = "{along: [[20, 0], [20, 8]], depth: 3 ft}", "{along: [[4, 0], [4, 8]], depth: 30 in}"
    compacted = under.replace("in}", "in, compacted: true}")
    text = pad(f"site: {{trenches: [{beside}, {under}, {compacted}]}}")
    loose, filled = judged("even-ground", text)
    assert (loose.at.name, filled.at.name) == ("trench 2", "trench 3")
    assert (loose.shown.si, filled.shown.si) == (pytest.approx(30 * INCH), 0.0)
    assert isinstance(loose, Finding)
    lift = loose.to_pass.values["lift"]
    assert isinstance(lift, Amount)
    assert lift.si == pytest.approx(6 * INCH, rel=0.02)  # layers of 6 in, as the soils report asks


def test_even_ground_tells_layers_of_150_mm_on_a_metric_job() -> None:
    """Common practice, as 6 in are."""
    loose = only(review_by("even-ground", pad("site: {trenches: [{along: [[4, -4], [4, 12]], depth: 1 m}]}", unit="m")))
    assert advice(loose, "metric").startswith("fill trench 1 back in layers of 150 mm")
