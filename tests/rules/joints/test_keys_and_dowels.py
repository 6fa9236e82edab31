"""The rule `keys-and-dowels`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import advice, only, reason, weights
from design_text import pad, review_by
from judged import judged
from slabs.joints import box, cut_at, jointed_slab, joints, timed_cut
from slabwright.review.report import Report
from slabwright.rulebook.remedy import Write
from slabwright.units.quantity import System


def locked(
    by: str, thickness: str, dowels: str = "", use: str = "patio", kind: str = "construction joint", axle: str = ""
) -> Report:
    joint = f"name: day, from: [8, 0], to: [8, 8], kind: {kind}" + (f", locked_by: {by}" if by else "")
    joint += f", dowels: {{{dowels}}}" if dowels else ""
    load = f"loads: [{{vehicle: truck, axle: {axle}, wheels_per_axle: 2}}]" if axle else ""
    return review_by("keys-and-dowels", jointed_slab(joint, load, use=use, thickness=thickness))


@pytest.mark.parametrize(("inches", "tabled"), [(4.9, False), (5, True), (18, True)])
def test_keys_and_dowels_the_table_of_dowels_holds_from_five_inches(inches: float, tabled: bool) -> None:
    # UFC 3-260-02 Table 12-8 (read)
    dowels = ", locked_by: dowels, dowels: {diameter: 1 in, length: 20 in, spacing: 12 in}"
    design = pad(
        joints(cut_at(8, kind="saw cut", more=dowels)), "garage floor", outline=box(16, 8), thick=f"{inches} in"
    )

    assert len(judged("keys-and-dowels", design) if tabled else []) == (4 if tabled else 0)
    assert bool(review_by("keys-and-dowels", design).does_not_apply) != tabled


def test_keys_and_dowels_a_joint_that_nothing_locks_is_left_alone_beside_one_that_is_keyed() -> None:
    design = pad(
        joints(cut_at(4), cut_at(8, name="day", kind="construction joint", more=", locked_by: key")), outline=box(16, 8)
    )

    assert [one.at.name for one in judged("keys-and-dowels", design)] == ["joint day"]


@pytest.mark.parametrize(
    ("by", "thickness", "use", "found"),
    [
        ("key", "6 in", "patio", []),  # TI 809-02 ch. 5 (read)
        ("key", "5 3/4 in", "patio", [("caution", "keyed_at_least")]),
        ("key", "5 3/4 in", "garage floor", [("caution", "keyed_at_least")]),
        ("dowels", "4 in", "patio", []),  # a small addition kept flush
    ],
)
def test_keys_and_dowels_by_thickness(by: str, thickness: str, use: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked(by, thickness, use=use)) == found


@pytest.mark.parametrize(
    ("thickness", "use", "found"),
    [
        ("8 in", "patio", []),  # TM 5-809-12 par. 5 (read)
        ("7 in", "patio", [("caution", "doweled_at_least")]),  # ACI PRC-330-21 (quoted): none wanted
        ("7 in", "garage floor", []),  # building guides, recalled, dowel floors from 5 in on
    ],
)
def test_dowels_in_a_joint_that_is_cut(thickness: str, use: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked("dowels", thickness, use=use, kind="saw cut")) == found


@pytest.mark.parametrize(
    ("by", "thickness", "axle", "found"),
    [
        # a paving association and TM 5-809-12 par. 5 dowel construction joints (read); the gray band is a note
        ("", "8 in", "", [("caution", "locked_at_least")]),
        ("dowels", "8 in", "", []),
        ("tie bars", "8 in", "", []),
        ("", "7 7/8 in", "", []),
        ("", "7 7/8 in", "4001 lb", [("note", "locked_in_thinner_at_least")]),
        ("", "7 7/8 in", "4000 lb", []),
        ("", "5 in", "9000 lb", [("note", "locked_in_thinner_at_least")]),
        ("", "4 in", "9000 lb", []),
    ],
)
def test_construction_joints_under_wheels(by: str, thickness: str, axle: str, found: list[tuple[str, str]]) -> None:
    assert weights(locked(by, thickness, use="driveway", axle=axle)) == found


@pytest.mark.parametrize(
    ("thickness", "diameter", "length", "spacing"),
    [("6 in", "3/4 in", "16 in", "12 in"), ("14 in", "1 in", "20 in", "15 in"), ("18 in", "1 in", "20 in", "18 in")],
)
def test_dowels_of_the_published_table(thickness: str, diameter: str, length: str, spacing: str) -> None:
    # UFC 3-260-02 Table 12-8 (read); checks jt-dowel-table-6in, -14in, -18in
    good = f"diameter: {diameter}, length: {length}, spacing: {spacing}"

    assert locked("dowels", thickness, good, "garage floor").comments == ()
    for worse, limit in (
        (good.replace(f"diameter: {diameter}", "diameter: 5/8 in"), "diameter_at_least"),
        (good.replace(f"diameter: {diameter}", "diameter: 2 1/2 in"), "diameter_at_most"),
        (good.replace(f"length: {length}", "length: 13 in"), "length_at_least"),
        (good.replace(f"spacing: {spacing}", "spacing: 19 in"), "spacing_at_most"),
    ):
        assert weights(locked("dowels", thickness, worse, "garage floor")) == [("note", limit)]


def test_dowels_that_are_described_lock_a_joint_without_a_word_more() -> None:
    row = "diameter: 1 in, length: 16 in, spacing: 12 in"  # UFC 3-260-02 Table 12-8 (read)
    assert locked("", "8 in", row, "driveway").comments == ()
    (thin,) = locked("", "4 in", row, kind="saw cut").comments
    assert thin.limit.name == "doweled_at_least"
    assert [edit.path for edit in thin.remedies[0].edits] == ["joints[0].dowels"]  # what the file has, and no more


@pytest.mark.parametrize(
    ("unit", "thickness", "told", "entry"),
    [  # UFC 3-260-02 Table 12-8 (read): 8 to 11 in; 25.4, 406 and 305 mm are sold as 25, 400 and 300 mm
        ("ft", "8 in", "1 in thick and 16 in long, 12 in apart", "{diameter: 1 in, length: 16 in, spacing: 12 in}"),
        ("m", "205 mm", "25 mm thick and 400 mm long, 300 mm apart",
         "{diameter: 25 mm, length: 400 mm, spacing: 300 mm}"),
    ],
)  # fmt: skip
def test_a_joint_under_wheels_is_given_the_dowels_of_the_table(
    unit: str, thickness: str, told: str, entry: str
) -> None:
    day = "name: day, from: [4, 0], to: [4, 8], kind: construction joint"
    text = jointed_slab(day, use="driveway", thickness=thickness, unit=unit, size=(8, 8))
    comment = only(review_by("keys-and-dowels", text))
    system: System = "metric" if unit == "m" else "us"
    assert advice(comment, system) == f"dowel day with bars {told}; or thicken both edges there"
    assert [edit.value for edit in comment.remedies[0].edits if isinstance(edit, Write)] == ["dowels", entry]


def test_ties_and_plain_joints_are_left_alone() -> None:
    assert [
        reason(locked("tie bars", "4 in")),
        reason(review_by("keys-and-dowels", jointed_slab(timed_cut("6 h")))),
    ] == ["no joint has a key, or dowels that wheels need"] * 2
