"""Layered limits: which of several amendments holds, what is looser, and what the rules then compare with."""

from __future__ import annotations

from typing import Any

import pytest
from changed import changed as replace
from checkout import ROOT
from slabwright.rulebook import limits, loading
from slabwright.rulebook.in_force import Cite, InForce, Limit, Weight
from slabwright.rulebook.limits import Amendment, Amendments
from slabwright.rulebook.sources import UnknownSourceError
from slabwright.source.alike import most_like
from slabwright.source.place import Place
from slabwright.units.quantity import Kind, QuantityError, length, read

FOOT = 0.3048
RULES = loading.load_rules(folder=ROOT / "tests" / "fake_rules")


def set_side(
    layer: Any,
    value: str | None,
    name: str = "",
    limit: str = "side_at_most",
    weight: Weight | None = None,
    rules: str = "short-panels",
) -> Amendments:
    amount = None if value is None else read(value, Kind.LENGTH)
    name = name or str(layer)
    one = Amendment(rules, limit, f"{name} handbook", amount, weight, "because", Place(f"{name}.yaml", 5, 5))
    return Amendments(layer, name, (one,))


def side(*amendments: Amendments) -> InForce:
    return limits.resolve(RULES, amendments)["short-panels"].side_at_most


def test_without_amendments_the_published_limits_hold() -> None:
    in_force = limits.resolve(RULES)
    assert set(in_force) == {"short-panels", "small-ponds"}
    limit = in_force["short-panels"].side_at_most
    assert (limit.value, limit.value.typed, limit.direction) == (length(15 * FOOT), "15 ft", "most")
    assert (limit.layer, limit.set_by, limit.weight, limit.meaning) == ("published", "published", "hold", "long side")
    assert (limit.citation, limit.known) == ("common practice", "practice")
    assert (limit.looser, limit.published, limit.published_weight, limit.replaced) == (False, None, None, None)
    assert limit.place is None


def test_an_amendment_lies_over_the_published_limit_and_says_who_set_it() -> None:
    limit = side(set_side("town", "13 ft"))
    assert limit.value.si == pytest.approx(13 * FOOT)
    assert (limit.layer, limit.set_by, limit.citation, limit.known) == ("town", "town", "town handbook", "stated")
    assert (limit.reason, limit.place) == ("because", Place("town.yaml", 5, 5))
    assert (limit.published, limit.published_weight) == (length(15 * FOOT), "hold")
    assert (limit.looser, limit.replaced, limit.weight) == (False, None, "hold")
    others = limits.resolve(RULES, [set_side("town", "13 ft")])
    assert others["short-panels"].wanted_side_at_most.layer == "published"
    assert others["small-ponds"].pond_at_most.layer == "published"


def test_a_narrower_layer_lies_over_a_wider_one_whichever_was_named_first() -> None:
    laid = [set_side("job", "10 ft"), set_side("region", "14 ft"), set_side("firm", "11 ft"), set_side("town", "13 ft")]
    for order in (laid, laid[::-1]):
        limit = side(*order)
        assert (limit.layer, limit.value.typed) == ("job", "10 ft")
        replaced = []
        while limit.replaced:
            limit = limit.replaced
            replaced.append((limit.layer, limit.value.typed))
        assert replaced == [("firm", "11 ft"), ("town", "13 ft"), ("region", "14 ft")]


def test_within_one_layer_the_later_file_holds_and_the_earlier_stays_visible() -> None:
    limit = side(set_side("town", "13 ft", "old"), set_side("town", "14 ft", "new"))
    assert (limit.set_by, limit.value.typed) == ("new", "14 ft")
    assert limit.replaced is not None
    assert (limit.replaced.set_by, limit.replaced.value.typed) == ("old", "13 ft")


@pytest.mark.parametrize(
    ("value", "looser"),
    [("15 ft", False), ("180 in", False), ("15.01 ft", True), ("14.99 ft", False), ("4.572 m", False)],
)
def test_a_greater_most_is_looser(value: str, looser: bool) -> None:
    assert side(set_side("firm", value)).looser is looser


def test_a_smaller_least_is_looser() -> None:
    limit = Limit("cover_at_least", "2 in", Kind.DEPTH, "hold", Cite("geometry"), ("1 in", "3 in"), "cover")
    published = limits.as_stated(limit, limits.published_sources())
    rule = replace(RULES[0], name="c", limits=(limit,), in_force={published.name: published})
    for value, looser in (("1 1/2 in", True), ("2 in", False), ("2 1/2 in", False)):
        one = Amendment("c", "cover_at_least", "page 2", read(value, Kind.DEPTH))
        in_force = limits.resolve([rule], [Amendments("firm", "Firm", (one,))])["c"].cover_at_least
        assert in_force.looser is looser


def test_looser_is_told_against_the_published_limit_and_not_the_layer_below() -> None:
    assert side(set_side("region", "10 ft"), set_side("firm", "14 ft")).looser is False
    assert side(set_side("region", "20 ft"), set_side("firm", "16 ft")).looser is True


def test_a_lighter_weight_is_looser_and_a_heavier_is_not() -> None:
    lighter, heavier = (
        side(set_side("firm", None, weight="note")),
        limits.resolve(RULES, [set_side("firm", "12 ft", limit="wanted_side_at_most", weight="hold")])["short-panels"],
    )
    assert (lighter.weight, lighter.looser, lighter.published_weight) == ("note", True, "hold")
    assert lighter.value.typed == "15 ft"  # an amendment of the weight alone leaves the value and its source
    assert (lighter.citation, lighter.known) == ("common practice; weight: firm handbook", "practice")
    assert (heavier.wanted_side_at_most.weight, heavier.wanted_side_at_most.looser) == ("hold", False)


def test_a_value_alone_leaves_the_weight_of_the_layer_below() -> None:
    limit = side(set_side("town", None, weight="caution"), set_side("job", "14 ft"))
    assert (limit.weight, limit.value.typed, limit.looser) == ("caution", "14 ft", True)


def test_broken_names_the_heaviest_limit_that_is_not_kept() -> None:
    in_force = limits.resolve(RULES)["short-panels"]
    names = ("side_at_most", "wanted_side_at_most")
    found = [in_force.broken(length(feet * FOOT), *names) for feet in (16, 14, 12)]
    assert [limit.name if limit else None for limit in found] == ["side_at_most", "wanted_side_at_most", None]


def test_broken_goes_by_the_weights_in_force() -> None:
    laid = [
        set_side("town", None, "one", weight="note"),
        set_side("town", None, "two", "wanted_side_at_most", weight="hold"),
    ]
    in_force = limits.resolve(RULES, laid)["short-panels"]
    limit = in_force.broken(length(16 * FOOT), "side_at_most", "wanted_side_at_most")
    assert limit is in_force.wanted_side_at_most


def test_limits_are_reached_by_name_either_way() -> None:
    in_force = limits.resolve(RULES)["short-panels"]
    assert in_force["side_at_most"] is in_force.side_at_most
    assert (len(in_force), list(in_force)) == (2, ["side_at_most", "wanted_side_at_most"])
    with pytest.raises(AttributeError, match="no limit named 'side_at_least'"):
        _ = in_force.side_at_least
    with pytest.raises(KeyError):
        in_force["side_at_least"]


def test_a_published_limit_with_a_wrong_unit_or_an_unknown_source_is_refused() -> None:
    sources = limits.published_sources()
    limit = Limit("a_at_most", "5 psi", Kind.DEPTH, "hold", Cite("geometry"), ("1 in", "3 in"), "depth")
    with pytest.raises(QuantityError):
        limits.as_stated(limit, sources)
    limit = Limit("a_at_most", "5 in", Kind.DEPTH, "hold", Cite("geometri"), ("1 in", "3 in"), "depth")
    with pytest.raises(UnknownSourceError, match="geometry"):
        limits.as_stated(limit, sources)


def test_a_published_limit_prints_its_section_and_how_it_is_known() -> None:
    cite = Cite("osha-1926.651", "par. (k)")
    limit = Limit("a_at_most", "5 ft", Kind.DEPTH, "hold", cite, ("1 ft", "9 ft"), "depth")
    published = limits.as_stated(limit, limits.published_sources())
    assert published.citation == "29 CFR 1926.651 and .652, par. (k) (quoted, via contractors' association page)"
    assert published.known == "quoted"


def test_nearest_names_are_near() -> None:
    names = ["panel-aspect", "joint-depth"]
    assert most_like("panel-aspct", names) == "panel-aspect"
    assert most_like("xyz", names) == ""


@pytest.mark.parametrize(
    ("typed", "round_number"),
    [  # the nearest size that is set or sold in metric, common practice
        ("4 ft", "1.2 m"),
        ("10 ft", "3 m"),
        ("18 ft", "5.5 m"),
        ("14 ft", "4.3 m"),
        ("36 in", "900 mm"),
        ("4 in", "100 mm"),
        ("3/8 in", "10 mm"),
        ("1/4 in", "1/4 in"),  # whole millimeters are round enough
        ("1.2 m", "1.2 m"),
    ],
)
def test_a_job_in_metric_is_held_to_round_sizes(typed: str, round_number: str) -> None:
    limit = limits.resolve(RULES)["short-panels"].side_at_most
    kind = Kind.DEPTH if "in" in typed else Kind.LENGTH
    published = replace(limit, value=read(typed, kind))
    assert published.in_round_numbers.value.si == pytest.approx(read(round_number, kind).si)
    assert replace(published, layer="town").in_round_numbers.value.si == read(typed, kind).si  # as the town wrote it
