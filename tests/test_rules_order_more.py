"""More rules about the order: every branch, every limit, and what they say when the plan does not."""

from __future__ import annotations

import math

import pytest
from comments import only, weights
from design_text import pad, plan_of, review_by
from judged import judged
from slabwright.text.words import plain

FOOT, INCH, YARD3 = 0.3048, 0.0254, 0.9144**3


def yard(more: str, thick: str = "4 in") -> str:
    """680 ft2, the pad of the trade's own example."""
    return pad(more, outline="[[0, 0], [34, 0], [34, 20], [0, 20]]", thick=thick)


# last-load


@pytest.mark.parametrize(
    ("order", "found"),
    [
        # suppliers charge more below 3 to 10 yd3: practice
        ("volume: 13 yd3, truck: 10 yd3", []),
        ("volume: 12.9 yd3, truck: 10 yd3", [("note", "last_load_at_least")]),
        ("volume: 12.9 yd3, truck: 10 yd3, short_load: 2 yd3", []),
        ("volume: 13 yd3, truck: 10 yd3, short_load: 4 yd3", [("note", "last_load_at_least")]),
        ("volume: 20 yd3, truck: 10 yd3", []),  # both are full
        # 10 % on top of 11.8 yd3 comes to 12.98
        ("volume: 11.8 yd3, truck: 10 yd3, allowance: 10 %", [("note", "last_load_at_least")]),
        ("volume: 11.9 yd3, truck: 10 yd3, allowance: 10 %", []),
        ("volume: 12.9 yd3, truck: 10 yd3, allowance: 10 %, allowance_inside: true", [("note", "last_load_at_least")]),
    ],
)
def test_last_load(order: str, found: list[tuple[str, str]]) -> None:
    assert weights(review_by("last-load", yard(f"order: {{{order}}}"))) == found


@pytest.mark.parametrize("order", ["volume: 9 yd3, truck: 10 yd3", "volume: 9 yd3", "truck: 10 yd3"])
def test_last_load_of_one_truck_or_of_none(order: str) -> None:
    assert review_by("last-load", yard(f"order: {{{order}}}")).does_not_apply
    assert review_by("last-load", yard("")).does_not_apply


# room-before-truck


def test_room_before_truck_of_the_trade_example() -> None:
    """680 ft2 of 4 in are 8.40 yd3; a truck of 9 yd3 leaves 0.29 in (arithmetic, 324 x (9 - 8.395)/680)."""
    order = "order: {volume: 8.75 yd3, truck: 9 yd3, allowance: 5 %, allowance_inside: true}"
    comment = only(review_by("room-before-truck", yard(order)))

    assert (comment.weight, comment.limit.name) == ("note", "room_at_least")
    assert comment.shown.si / INCH == pytest.approx(324 * (9 - 680 * 4 / 324) / 680, rel=1e-9)
    assert comment.shown.si / INCH == pytest.approx(0.29, abs=0.005)


@pytest.mark.parametrize(
    ("order", "holds"),
    [
        # closed form: full trucks - stays behind - net, over the area
        ("volume: 9.25 yd3, truck: 11 yd3, allowance: 8 %, allowance_inside: true", 11),
        ("volume: 9.25 yd3, truck: 10 yd3", 10),
        ("volume: 9.25 yd3, truck: 10 yd3, allowance: 9 %", 20),  # 9 % on top come to 10.08: two trucks
        # a quarter yard in the hopper (pump trade text, practice); 100 ft of 4 in line hold 0.323 yd3
        ("volume: 9.25 yd3, truck: 10 yd3, allowance: 8 %, allowance_inside: true, method: pump", 9.75),
        (
            "volume: 9.5 yd3, truck: 10 yd3, allowance: 5 %, allowance_inside: true, method: pump, hose: 4 in, "
            "hose_length: 100 ft, left_in_hopper: 0.1 yd3",
            9.9 - math.pi / 4 * (4 / 36) ** 2 * 100 / 3,
        ),
    ],
)
def test_room_before_truck_by_what_stays_behind(order: str, holds: float) -> None:
    hold, room = judged("room-before-truck", yard(f"order: {{{order}}}"))

    assert (hold.limit.name, room.limit.name) == ("trucks_hold_at_least", "room_at_least")
    assert room.shown.si / INCH == pytest.approx(324 * (holds - 680 * 4 / 324) / 680, rel=1e-6)


def test_room_before_truck_says_when_the_trucks_are_too_few() -> None:
    order = "order: {volume: 5 yd3, truck: 5 yd3, allowance: 5 %, allowance_inside: true}"
    comment = only(review_by("room-before-truck", yard(order)))

    assert plain(comment.says, "us", both=False) == "one truck of 5 yd3 does not hold what the slab takes"


def test_room_before_truck_needs_volume_truck_and_a_slab() -> None:
    points = "points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}\n"
    over = "heights: {finish: {A: 1, B: 1, C: 1, D: 1}, base: {A: 2, B: 2, C: 2, D: 2}}\n"
    upside_down = pad(points + over + "order: {volume: 1 yd3, truck: 5 yd3}", outline="[A, B, C, D]")

    assert review_by("room-before-truck", yard("order: {volume: 9 yd3}")).does_not_apply
    assert review_by("room-before-truck", yard("")).does_not_apply
    assert review_by("room-before-truck", upside_down).does_not_apply


# load-age


@pytest.mark.parametrize(
    ("pour", "order", "minutes"),
    [
        # closed form: haul + (n - 1) x (discharge - apart) + discharge
        ("haul: 25 min, rate: 20 yd3/h", "volume: 10 yd3, truck: 10 yd3", 25 + 30),
        ("haul: 25 min, rate: 10 yd3/h", "volume: 5 yd3, truck: 10 yd3", 25 + 30),  # a truck half full
        ("haul: 30 min, rate: 20 yd3/h, trucks_apart: 20 min", "volume: 30 yd3, truck: 10 yd3", 30 + 20 + 30),
        ("haul: 30 min, rate: 20 yd3/h, trucks_apart: 30 min", "volume: 30 yd3, truck: 10 yd3", 30 + 30),
        # the second brings 3 yd3: it waits 30 and is out in 18 min, while the first took 60
        ("haul: 25 min, rate: 10 yd3/h, trucks_apart: 30 min", "volume: 13 yd3, truck: 10 yd3", 25 + 60),
    ],
)
def test_load_age_is_that_of_the_oldest(pour: str, order: str, minutes: float) -> None:
    report = review_by("load-age", yard(f"pour: {{{pour}}}\norder: {{{order}}}"))
    met = [entry for entry in report.met if entry.shown]

    assert not report.comments
    # the tightest margin may be that of the gap; the age is worked in every case
    tight = review_by("load-age", yard(f"pour: {{{pour.replace('haul: ', 'haul: 1')}}}\norder: {{{order}}}"))
    aged = [comment for comment in tight.comments if comment.limit.name == "age_at_most"]
    assert met
    assert [comment.shown.si / 60 for comment in aged] == [pytest.approx(minutes + 100)]


@pytest.mark.parametrize(
    ("haul", "weight"),
    [(60, None), (61, "caution")],  # ASTM C94 sec. 10.7, quoted: 90 min
)
def test_load_age_cautions_past_ninety_minutes(haul: int, weight: str | None) -> None:
    text = f"pour: {{haul: {haul} min, rate: 20 yd3/h}}\norder: {{volume: 10 yd3, truck: 10 yd3}}"

    assert [comment.weight for comment in review_by("load-age", yard(text)).comments] == ([weight] if weight else [])


@pytest.mark.parametrize(
    ("pour", "volume", "says"),
    [
        ("haul: 60 min, rate: 6 yd3/h", 6, "bring 3.00 yd3 at a time, or place faster"),
        ("haul: 30 min, rate: 12 yd3/h, trucks_apart: 30 min", 30, "have trucks come 50 min apart"),
        ("haul: 88 min, rate: 6 yd3/h", 6, "find a plant that is nearer, or have setting retarded and the time waived"),
        ("haul: 95 min, rate: 6 yd3/h", 6, "find a plant that is nearer, or have setting retarded and the time waived"),
    ],
)
def test_load_age_says_what_helps(pour: str, volume: int, says: str) -> None:
    text = f"pour: {{{pour}}}\norder: {{volume: {volume} yd3, truck: 10 yd3}}"
    aged = [one for one in review_by("load-age", yard(text)).comments if one.limit.name == "age_at_most"]

    assert [plain(one.to_pass, "us", both=False) for one in aged] == [says]


def test_load_age_asks_for_the_rest_of_the_day() -> None:
    asked = review_by("load-age", yard("pour: {haul: 25 min}")).not_shown[0].add
    other = review_by(
        "load-age", yard("pour: {trucks_apart: 25 min, rate: 20 yd3/h}\norder: {volume: 9 yd3, truck: 9 yd3}")
    )

    assert [one.split(":")[0] for one in asked] == ["pour.rate", "order.volume", "order.truck"]
    assert other.met  # the gap alone is judged
    assert review_by("load-age", yard("pour: {finish: broom}")).does_not_apply
    assert review_by("load-age", yard("")).does_not_apply


# truck-reach


@pytest.mark.parametrize(
    ("spots", "found"),
    [
        # chutes 10 to 14 ft, about 18 ft from the bumper: common practice; the far corners of 8 ft by 8 ft
        ("[[0, 8], [8, 8]]", []),  # 8 ft and less
        ("[[4, 17]]", [("note", "easy_reach_at_most")]),  # root(4^2 + 17^2) = 17.5
        ("[[4, 18]]", [("note", "easy_reach_at_most")]),  # 18.4: no truck stops within half a foot
        ("[[4, 21]]", [("caution", "reach_at_most")]),
        ("[[0, 18]]", [("caution", "reach_at_most")]),
    ],
)
def test_truck_reach_by_distance(spots: str, found: list[tuple[str, str]]) -> None:
    report = review_by("truck-reach", pad(f"order: {{method: chute, truck_spots: {spots}}}"))
    if spots == "[[4, 17]]":
        assert only(report).shown.si == pytest.approx(math.hypot(4, 17) * FOOT, abs=FOOT / 24)  # to the inch

    assert weights(report) == found


def test_truck_reach_takes_the_nearest_of_several_spots_exactly() -> None:
    """A square of 8 ft with trucks at two opposite corners: the two others are farthest, 8 ft from either."""
    distance, at = plan_of(pad("order: {truck_spots: [[0, 0], [8, 8]]}")).site.farthest(
        plan_of(pad("order: {truck_spots: [[0, 0], [8, 8]]}")).design.order.truck_spots  # type: ignore[union-attr]
    )

    assert distance == pytest.approx(8 * FOOT)
    assert (round(at[0] / FOOT, 6), round(at[1] / FOOT, 6)) in {(0.0, 8.0), (8.0, 0.0)}


@pytest.mark.parametrize("seed", range(5))
def test_the_farthest_place_is_no_nearer_than_any_of_a_grid(seed: int) -> None:
    """Independent reference: a grid of 80 by 80 places on an L-shaped slab, each to the nearest of three spots."""
    import numpy as np
    import shapely
    from slabwright.geometry.shape.reach import farthest_from

    slab = shapely.Polygon([(0, 0), (6, 0), (6, 3), (3, 3), (3, 6), (0, 6)])
    spots = [tuple(spot) for spot in np.random.default_rng(seed).uniform(-2, 8, (3, 2)).tolist()]
    distance, at = farthest_from(slab, spots)  # type: ignore[arg-type]
    x, y = (grid.ravel() for grid in np.meshgrid(np.linspace(0, 6, 80), np.linspace(0, 6, 80)))
    inside = shapely.intersects_xy(slab, x, y)
    off = np.min([np.hypot(x[inside] - a, y[inside] - b) for a, b in spots], axis=0)

    assert distance >= off.max() - 1e-9
    assert distance <= off.max() + 0.12  # the grid's own cells are 0.076 m wide
    assert min(np.hypot(at[0] - a, at[1] - b) for a, b in spots) == pytest.approx(distance)


def test_truck_reach_asks_only_where_a_chute_is_used() -> None:
    assert "order.truck_spots" in review_by("truck-reach", pad("order: {method: chute}")).not_shown[0].add[0]
    assert review_by("truck-reach", pad("order: {method: buggy}")).does_not_apply[0].reason == "it comes by buggy"
    assert review_by("truck-reach", pad("order: {volume: 1 yd3}")).does_not_apply
    assert review_by("truck-reach", pad("")).does_not_apply


# base-shots


@pytest.mark.parametrize(
    ("shots", "found"),
    [(4, []), (3, [("note", "usual_area_at_most")])],  # 400 ft2; 1 shot per 100 ft2: common practice
)
def test_base_shots_per_area(shots: int, found: list[tuple[str, str]]) -> None:
    names = dict(zip("ABCD", ("[0, 0]", "[20, 0]", "[20, 20]", "[0, 20]"), strict=True))
    points = "points: {" + ", ".join(f"{name}: {at}" for name, at in names.items()) + "}\n"
    base = "heights: {base: {" + ", ".join(f"{name}: 99" for name in "ABCD"[:shots]) + "}}\n"
    site = "site: {base: {shot_after_compaction: true}}\n"

    assert weights(review_by("base-shots", pad(points + base + site, outline="[A, B, C, D]"))) == found


def test_base_shots_too_few_are_a_caution() -> None:
    """900 ft2 and three shots: 300 ft2 each, over the 200 of common practice."""
    points = "points: {A: [0, 0], B: [30, 0], C: [30, 30], D: [0, 30]}\n"
    site = "site: {base: {shot_after_compaction: true}}\nheights: {base: {A: 99, B: 99, C: 99}}\n"
    assert weights(review_by("base-shots", pad(points + site, outline="[A, B, C, D]"))) == [
        ("caution", "area_of_a_shot_at_most")
    ]


def test_base_shots_only_where_the_order_rests_on_them() -> None:
    site = "site: {base: {shot_after_compaction: true}}"

    assert "heights.base" in review_by("base-shots", pad(site, side="20")).not_shown[0].add[0]
    assert review_by("base-shots", pad(site.replace("true", "false"), side="20")).does_not_apply
    assert review_by("base-shots", pad(site)).does_not_apply  # 64 ft2 at 4 in: less than a yard
    assert review_by("base-shots", pad("")).does_not_apply


@pytest.mark.parametrize(("x", "found"), [(8, []), (7.9, [("note", "to_a_corner_at_most")])])
def test_a_corner_far_from_every_shot_is_named(x: float, found: list[tuple[str, str]]) -> None:
    """20 by 20 ft, six shots, the last of them x ft along: 12 ft from the far corners (common practice)."""
    shots = "[0, 0]", "[0, 20]", "[0, 10]", "[4, 10]", f"[{x}, 0]", f"[{x}, 20]"
    names = dict(zip("PQRSTU", shots, strict=True))
    points = ", ".join(f"{name}: {at}" for name, at in {**names, "V": "[20, 0]", "W": "[20, 20]"}.items())
    base = f"base: {{{', '.join(f'{name}: 99.6' for name in names)}}}"
    text = pad(
        f"points: {{{points}}}\nheights: {{finish: {{P: 100, V: 100, W: 100, Q: 100}}, {base}}}\n"
        "site: {base: {material: crushed stone, thickness: 4 in, shot_after_compaction: true}}",
        outline="[P, V, W, Q]",
    )
    assert weights(review_by("base-shots", text)) == found
