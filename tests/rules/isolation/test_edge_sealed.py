"""The rule `edge-sealed`: every branch, its limits just met and just not, and what it says."""

from __future__ import annotations

import pytest
from comments import added, advice, only, reason, value
from design_text import review_by
from judged import findings, margins
from slabs.isolation import filled, slab
from slabs.joints import jointed_slab
from slabwright.review.report import Report
from slabwright.text.words import plain

FOOT = 0.3048


def housed(sealed: str, site: str = "site: {freezing: severe}", use: str = "patio", beside: str = "building") -> Report:
    filler = f"{{material: foam, depth: full{f', sealed: {sealed}' if sealed else ''}}}"
    edges = f"edges: [{{run: [A, B], beside: {beside}, name: house, isolation: {filler}}}, {{rest: lawn}}]"
    return review_by("edge-sealed", jointed_slab(more=f"{site}\n{edges}", use=use))


def test_edge_sealed_filler_that_is_open_at_two_faces_is_pointed_at_in_the_first() -> None:
    sealed = filled("AB", "depth: full, sealed: true", name="house")
    wing, shed = (
        filled(run, "depth: full, sealed: false", name=name) for run, name in (("BCD", "wing"), ("DA", "shed"))
    )
    (finding,) = findings("edge-sealed", slab(f"{sealed}, {wing}, {shed}"))

    assert (finding.shown.si, finding.to_pass.values["names"]) == (2, "wing, shed")
    assert value(finding, "run") == pytest.approx(32 * FOOT)  # 10 and 12 ft of the wing, 10 ft of the shed
    assert finding.at.place.path == "edges[1]"
    assert finding.at.shape == (pytest.approx((12 * FOOT, 0)), pytest.approx((12 * FOOT, 10 * FOOT)))


def test_edge_sealed_filler_that_is_sealed_everywhere_is_pointed_at_in_the_first() -> None:
    faces = [filled(run, "depth: full, sealed: true") for run in ("AB", "CD")]
    (margin,) = margins("edge-sealed", slab(", ".join(faces)))

    assert (margin.shown.si, margin.at.place.path) == (0, "edges[0]")
    assert margin.at.shape[-1] == pytest.approx((12 * FOOT, 0))


def test_filler_at_a_house_in_the_frost_is_sealed() -> None:
    assert housed("true").comments == ()
    comment = only(housed("false"))
    assert (comment.weight, comment.shown.si) == ("note", 1)
    assert advice(comment) == "seal the filler at house: 16'-0\" of it"


POOL = "openings: [{{name: pool, holds: {holds}, corners: [[4, 2], [10, 2], [10, 6], [4, 6]], isolation: {filler}}}]"


@pytest.mark.parametrize(
    ("holds", "filler", "weight"),
    [
        ("pool", "{material: foam, depth: full, sealed: true}", []),
        ("pool", "{material: foam, depth: full, sealed: false}", ["note"]),
        ("pool", "none", []),  # `isolation-full-depth` asks for filler there
        ("planter", "{material: foam, depth: full, sealed: false}", []),
    ],
)
@pytest.mark.parametrize("freezing", ["none", "severe"])
def test_filler_at_a_coping_is_sealed_wherever_it_is(holds: str, filler: str, weight: list[str], freezing: str) -> None:
    text = f"site: {{freezing: {freezing}, outdoors: true}}\n{POOL.format(holds=holds, filler=filler)}"
    report = review_by("edge-sealed", jointed_slab(more=text))
    assert [one.weight for one in report.comments] == weight
    for comment in report.comments:  # 6 by 4 ft
        assert advice(comment) == "seal the filler at pool: 20'-0\" of it"
        assert [edit.path for edit in comment.remedies[0].edits] == ["openings[0].isolation.sealed"]
        assert (len(comment.at.shape), comment.at.shape[0]) == (5, comment.at.shape[-1])  # all round


def test_an_edge_beside_a_pool_is_sealed_too_and_told_with_the_house() -> None:
    faces = [filled("AB", "depth: full, sealed: false", name="house"), filled("CD", "depth: full", name="coping")]
    faces[1] = faces[1].replace("beside: building", "beside: pool")
    (finding,) = findings("edge-sealed", slab(", ".join(faces)))
    assert (finding.shown.si, finding.to_pass.values["names"]) == (2, "house, coping")


def test_whether_a_coping_is_sealed_is_asked() -> None:
    pool = POOL.format(holds="pool", filler="{material: foam, depth: full}")
    assert added(review_by("edge-sealed", jointed_slab(more=pool))) == (
        "openings, isolation, sealed: whether a sealant is laid over the filler at the pool, such as true",
    )


def test_two_sides_of_a_house_are_sealed_alike() -> None:
    one, two = (f"isolation: {{material: foam, depth: full, sealed: {said}}}" for said in ("true", "false"))
    edges = f"edges: [{{run: [A, B], beside: building, {one}}}, {{run: [B, C], beside: building, name: wing, {two}}}]"

    assert (
        plain(only(review_by("edge-sealed", jointed_slab(more=edges))).says, "us")
        == "water runs down the open filler at wing"
    )


def test_where_nothing_needs_sealing() -> None:
    assert reason(housed("", "site: {freezing: none}")) == "it does not freeze there"
    assert reason(housed("", use="garage floor")) == "the slab lies indoors"
    assert reason(housed("", beside="wall")) == "no filler is drawn at a building"
    assert added(housed("")) == (
        "edges, isolation, sealed: whether a sealant is laid over the filler at the building, such as true",
    )
