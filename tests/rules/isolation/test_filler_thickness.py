"""The rule `filler-thickness`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, reason, weights
from design_text import pad, review_by
from slabs.joints import jointed_slab
from slabwright.review.report import Report


def filled(
    thickness: str, beside: str = "building", use: str = "driveway", site: str = "", unit: str = "ft", of: str = "foam"
) -> Report:
    filler = f"{{material: {of}, depth: full{f', thickness: {thickness}' if thickness else ''}}}"
    edges = f"edges: [{{run: [A, B], beside: {beside}, name: face, isolation: {filler}}}, {{rest: lawn}}]"
    return review_by("filler-thickness", jointed_slab(more=f"{edges}\n{site}", use=use, unit=unit))


@pytest.mark.parametrize(
    ("thickness", "unit", "found"),
    [
        ("1/2 in", "ft", []),  # UFGS 03300N, a state profile and a town code (read): 1/2 in
        ("3/8 in", "ft", [("note", "filler_at_least")]),  # sold and set all over: common practice
        ("1/4 in", "ft", [("note", "filler_at_least")]),  # the other side is free: the slab grows that way
        ("12 mm", "m", []),
        ("10 mm", "m", []),  # as it is sold in millimeters
        ("8 mm", "m", [("caution", "metric_filler_at_least")]),
    ],
)
def test_filler_of_half_an_inch(thickness: str, unit: str, found: list[tuple[str, str]]) -> None:
    assert weights(filled(thickness, unit=unit)) == found


@pytest.mark.parametrize(
    ("thickness", "beside", "site", "found"),
    [
        # West Dundee IL (read): 3/4 in between drive and walk, and approach and curb
        ("1/2 in", "existing slab", "site: {right_of_way: true}", [("note", "drive_to_walk_at_least")]),
        ("1/2 in", "curb", "site: {right_of_way: true}", [("note", "drive_to_walk_at_least")]),
        ("3/4 in", "existing slab", "site: {right_of_way: true}", []),
        ("1/2 in", "existing slab", "", []),
        ("1/2 in", "building", "site: {right_of_way: true}", []),
        ("1/4 in", "curb", "site: {right_of_way: true}", [("note", "filler_at_least")]),
    ],
)
def test_filler_in_the_right_of_way(thickness: str, beside: str, site: str, found: list[tuple[str, str]]) -> None:
    assert weights(filled(thickness, beside, site=site)) == found


def test_filler_that_is_not_asked_to_be_thick() -> None:
    assert reason(filled("1/4 in", use="garage floor")) == "the slab lies indoors, where thin filler will do"
    assert reason(review_by("filler-thickness", jointed_slab())) == "no filler is drawn at an edge"
    assert added(filled("")) == ("edges, isolation, thickness: how thick the filler is, such as 1/2 in",)


def test_felt_outdoors_is_held_to_what_is_written_of_it() -> None:
    assert weights(filled("2 mm", unit="m", of="felt")) == [("caution", "metric_filler_at_least")]
    assert weights(filled("1/8 in", of="felt")) == [("note", "filler_at_least")]
    assert reason(filled("", of="felt")) == "no filler is drawn at an edge"


@pytest.mark.parametrize(
    ("thickness", "wall", "site", "found"),
    [  # between two fixed faces the slab has nowhere to go; less than a foot of face makes no side (common practice)
        ("1/4 in", "[[7, 8], [6, 8]]", "", [("caution", "thin_filler_at_least")]),
        ("1/4 in", "[[7, 8], [6.1, 8]]", "", [("note", "filler_at_least")]),
        ("3/8 in", "[[12, 8], [4, 8]]", "", [("note", "filler_at_least")]),
        ("3/8 in", "[[12, 8], [4, 8]]", "site: {right_of_way: true}", [("note", "filler_at_least")]),
        ("1/2 in", "[[12, 8], [4, 8]]", "site: {right_of_way: true}", [("note", "drive_to_walk_at_least")]),
    ],
)
def test_filler_thickness_between_two_fixed_faces(
    thickness: str, wall: str, site: str, found: list[tuple[str, str]]
) -> None:
    edges = (
        f"edges: [{{run: [A, B], beside: curb, name: face, isolation: {{material: foam, thickness: {thickness}}}}}, "
        f"{{run: {wall}, beside: building, name: wall}}, {{rest: lawn}}]"
    )

    assert weights(review_by("filler-thickness", jointed_slab(more=f"{edges}\n{site}", use="driveway"))) == found


@pytest.mark.parametrize(
    ("face", "found"), [("A, B", []), ("B, Q", []), ("Q, C", [("note", "drive_to_walk_at_least")])]
)
def test_of_a_drive_in_parts_only_filler_at_the_street_lies_in_the_right_of_way(
    face: str, found: list[tuple[str, str]]
) -> None:
    """A drive of 20 ft with an approach of 6 ft at the street; 1/2 in of foam at an old slab."""
    filler = "{material: foam, thickness: 1/2 in, depth: full}"
    text = pad(
        "points: {A: [0, 0], B: [10, 0], Q: [10, 20], C: [10, 26], D: [0, 26], P: [0, 20]}\n"
        "parts: [{name: approach, corners: [P, Q, C, D], thickness: 6 in}]\nsite: {right_of_way: true}\n"
        f"edges: [{{run: [C, D], beside: street}}, {{run: [{face}], beside: existing slab, isolation: {filler}}}, "
        "{rest: lawn}]",
        "driveway", outline="[A, B, Q, C, D, P]", thick="5 in",
    )  # fmt: skip
    assert weights(review_by("filler-thickness", text)) == found
