"""The report as JSON: by its schema, complete, deterministic, and readable by anything that reads JSON."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from datetime import date
from typing import Any

import jsonschema
import pytest
from changed import changed as replace
from slabwright.plan.plan import Spot
from slabwright.review.report import (
    LOCAL_CODE,
    Comment,
    Crash,
    Met,
    NotApplying,
    NotShownEntry,
    Question,
    Report,
    VarianceNote,
    VarianceTrouble,
)
from slabwright.rulebook.in_force import LAYERS, WEIGHTS, InForce
from slabwright.rulebook.rule import GROUPS
from slabwright.source import locate
from slabwright.source.place import Place
from slabwright.text.json_values import SI_UNITS
from slabwright.text.words import step, words
from slabwright.units.quantity import Amount, Kind, beside, depth, ratio, read, to_unit
from slabwright.writers.as_json import as_json

SCHEMA = json.loads((locate.folder("schemas") / "report.schema.json").read_text(encoding="utf-8"))
FILE = "bay.slab.yaml"

PUBLISHED = InForce(
    "depth_at_least",
    depth(0.03175),
    "least",
    "hold",
    "depth of cut",
    "published",
    "published",
    "TM 5-809-12, par. 5 (read)",
    "read",
)
COUNTY = replace(
    PUBLISHED,
    value=read("1 1/2 in", Kind.DEPTH),
    layer="region",
    set_by="County",
    citation="County 4.2",
    known="stated",
    published=PUBLISHED.value,
    published_weight="hold",
    place=Place("county.yaml", 6, 5, "amendments[0]"),
)
TOWN = replace(
    COUNTY,
    value=read("1 in", Kind.DEPTH),
    layer="town",
    set_by="Town of Coldwater Ford",
    citation="Standard 4.2 (2025)",
    looser=True,
    weight="caution",
    reason="soft stone",
    place=Place("town.yaml", 5, 5),
    replaced=COUNTY,
)

RING = ((0.0, 0.0), (3.0, 0.0), (3.0, 3.0), (0.0, 0.0))

COMMENT = Comment(
    number=1,
    rule="joint-depth",
    group="joints",
    title="joints are cut deep enough",
    weight="hold",
    at=Spot("joint J1", Place(FILE, 21, 3, "joints[0].depth"), RING),
    says=words("{joint} is {shown} deep", joint="J1", shown=depth(0.0254)),
    shown=Amount(0.0254, Kind.DEPTH, '1"', Place(FILE, 21, 3)),
    asked=depth(0.03175),
    limit=PUBLISHED,
    working=(step("least cut", "thickness / 4", words("{t} / 4", t=depth(0.127)), depth(0.03175)),),
    to_pass=words("cut {more} more", more=depth(0.0127)),
)

EMPTY = Report(
    job="Rowing club bay",
    file=FILE,
    use="vehicle pad",
    system="us",
    comments=(),
    met=(),
    not_shown=(),
    does_not_apply=(),
    crashes=(),
    questions=(),
    variance_troubles=(),
    looser=(),
    layers=(),
    cautions=(),
    worked={
        "area_m2": None,
        "perimeter_m": None,
        "design_thickness_m": 0.127,
        "net_volume_m3": None,
        "slab_volume_m3": None,
        "thickened_edges_volume_m3": None,
        "steps_volume_m3": None,
        "volume_from_heights": None,
        "panels": None,
        "fall": None,
        "ponds": None,
        "water_shares": None,
        "height_room": [{"name": "house sill", "up_m": None, "down_m": 0.0127}],
        "thickness": None,
        "not_worked": {"fall": "no heights"},
    },
)

NOTE = VarianceNote("door track", "owner", "2026-04-02", Place(FILE, 40, 3))

FULL = replace(
    EMPTY,
    comments=(
        COMMENT,
        replace(COMMENT, number=2, weight="caution", limit=TOWN, variance=NOTE, working=()),
        replace(COMMENT, number=3, weight="note", asked=depth(0.0254 + 1e-6)),
    ),
    met=(
        Met(
            "panel-aspect",
            "joints",
            "panels are square",
            Spot("panel P1", Place(FILE, 9)),
            ratio(1.2),
            ratio(1.5),
            replace(PUBLISHED, name="aspect_at_most", value=ratio(1.5), direction="most"),
            0.2,
        ),
        Met("dry-base", "base", "the base is dry"),
    ),
    not_shown=(NotShownEntry("air", "mix", "enough air", ("mix.air",), Place(FILE, 1)),),
    does_not_apply=(NotApplying("bars", "steel", "bars are held up", "there are no bars"),),
    crashes=(Crash("slump", "mix", Place("rules/mix/slump.py", 40), "ZeroDivisionError: division by zero"),),
    questions=(Question(Place(FILE, 3, 9), "5 ft thick: was 5 in meant?"),),
    variance_troubles=(VarianceTrouble("bars", Place(FILE, 41), "it ran until 2026-01-31"),),
    looser=(("joint-depth", TOWN),),
    layers=("County", "Town of Coldwater Ford"),
    cautions=("Wet concrete burns skin. [trade safety article (read)]",),
    pour=date(2026, 4, 14),
    worked={
        "area_m2": 72.0,
        "perimeter_m": 34.0,
        "design_thickness_m": 0.127,
        "net_volume_m3": 9.5,
        "slab_volume_m3": 9.0,
        "thickened_edges_volume_m3": 0.5,
        "steps_volume_m3": 0.0,
        "volume_from_heights": True,
        "panels": [
            {
                "name": "P1",
                "long_side_m": 3.6,
                "short_side_m": 3.0,
                "aspect": 1.2,
                "area_m2": 10.8,
                "thickness_m": 0.127,
                "volume_m3": 1.4,
            }
        ],
        "fall": {
            "least": 0.0,
            "least_at_m": [1.0, 2.0],
            "greatest": 0.02,
            "greatest_at_m": (1.0, 3.0),
            "level_area_m2": 0.0,
        },
        "ponds": [
            {
                "name": "low spot 1",
                "level_m": 30.0,
                "depth_m": 0.01,
                "area_m2": 1.0,
                "volume_m3": 0.005,
                "deepest_m": [1.0, 1.0],
                "against": ["workshop wall"],
            }
        ],
        "height_room": [],
        "water_shares": [{"to": "street", "kind": "edge", "beside": "street", "share": 1.0, "allowed": None}],
        "thickness": {
            "least_m": 0.1,
            "least_at_m": [0.0, 0.0],
            "mean_m": 0.127,
            "most_m": 0.15,
            "most_at_m": [1.0, 1.0],
            "covered": 1.0,
            "shots": 12,
        },
        "not_worked": {},
    },
)


def data(report: Report) -> dict[str, Any]:
    """The JSON of a report, read back strictly and held against the schema."""
    found: dict[str, Any] = json.loads(as_json(report), parse_constant=pytest.fail)
    jsonschema.Draft202012Validator(SCHEMA, format_checker=jsonschema.FormatChecker()).validate(found)
    return found


OPTIONAL = ("us", "pours", "changes", "untried")


def test_the_schema_is_one_and_explains_every_property() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    shapes = list(objects(SCHEMA))
    assert len(shapes) > 20
    for shape in shapes:
        assert shape["additionalProperties"] is False
        # feet and inches are left out where metric is shown alone, the days of several pours where there is one, and
        # changes and what was left untried where no copy was put right
        assert shape["required"] == [name for name in shape["properties"] if name not in OPTIONAL]
        for name, one in shape["properties"].items():
            assert one["title"], name
            assert one["description"].endswith("."), name


def objects(schema: Any) -> Iterator[dict[str, Any]]:
    if isinstance(schema, dict):
        if "properties" in schema and isinstance(schema["properties"], dict) and "type" in schema:
            yield schema
        for one in schema.values():
            yield from objects(one)
    elif isinstance(schema, list):
        for one in schema:
            yield from objects(one)


def test_the_schema_names_the_groups_layers_and_weights_of_the_program() -> None:
    comment = SCHEMA["$defs"]["comment"]["properties"]
    assert tuple(comment["group"]["enum"]) == GROUPS
    assert tuple(comment["weight"]["enum"]) == WEIGHTS
    assert tuple(SCHEMA["$defs"]["setting"]["properties"]["layer"]["enum"]) == LAYERS
    assert set(SCHEMA["$defs"]["amount"]["properties"]["unit"]["enum"]) == set(SI_UNITS.values())


@pytest.mark.parametrize("report", [EMPTY, FULL])
def test_reports_keep_to_the_schema_and_its_order(report: Report) -> None:
    found = data(report)
    assert list(found) == [name for name in SCHEMA["properties"] if name not in OPTIONAL[1:]]
    assert found["report"] == 1


def test_the_heading_and_the_counts() -> None:
    found = data(FULL)
    assert (found["job"], found["file"], found["use"]) == ("Rowing club bay", FILE, "vehicle pad")
    assert (found["pour"], found["system"], found["verdict"]) == ("2026-04-14", "us", "hold")
    assert found["counts"] == {
        "holds": 2,  # the comment and the rule that stopped
        "cautions": 0,  # accepted by variance
        "notes": 1,
        "accepted_by_variance": 1,
        "met": 2,
        "not_shown": 1,
        "does_not_apply": 1,
        "crashes": 1,
    }
    assert found["local_code"] == LOCAL_CODE
    assert data(EMPTY)["pour"] is None


def test_a_comment_says_where_what_how_and_what_would_make_it_pass() -> None:
    comment = data(FULL)["comments"][0]
    assert (comment["number"], comment["rule"], comment["group"], comment["weight"]) == (
        1, "joint-depth", "joints", "hold",
    )  # fmt: skip
    assert comment["place"] == {"file": FILE, "line": 21, "column": 3, "path": "joints[0].depth"}
    assert comment["thing"] == "joint J1"
    assert comment["shape_m"] == [[0.0, 0.0], [3.0, 0.0], [3.0, 3.0], [0.0, 0.0]]
    assert comment["says"] == "J1 is 1 in deep"
    assert comment["shown"] == {
        "si": 0.0254, "unit": "m", "kind": "depth", "us": "1 in", "metric": "25 mm", "typed": '1"',
    }  # fmt: skip
    assert (comment["asked"]["us"], comment["asked"]["typed"]) == ("1 1/4 in", None)
    (working,) = comment["working"]
    assert (working["what"], working["formula"]) == ("least cut", "thickness / 4")
    assert (working["numbers"], working["result"]["us"]) == ("5 in / 4", "1 1/4 in")
    assert comment["to_pass"] == "cut 1/2 in more"
    assert comment["variance"] is None


def test_a_metric_report_says_metric_and_both_only_when_asked() -> None:
    said = [data(replace(FULL, system=system))["comments"][0]["says"] for system in ("metric", beside("metric"))]
    assert said == ["J1 is 25 mm deep", "J1 is 25 mm (1 in) deep"]  # 1 in is 25.4 mm by definition


def test_a_limit_says_who_set_it_and_what_it_lies_over() -> None:
    published = data(FULL)["comments"][0]["limit"]
    assert (published["layer"], published["set_by"], published["known"]) == ("published", "published", "read")
    assert (published["source"], published["published"], published["replaced"]) == (
        "TM 5-809-12, par. 5 (read)",
        None,
        [],
    )
    assert (published["direction"], published["looser"], published["place"]) == ("least", False, None)
    (entry,) = data(FULL)["looser"]
    limit = entry["limit"]
    assert entry["rule"] == "joint-depth"
    assert (limit["layer"], limit["set_by"], limit["source"]) == (
        "town", "Town of Coldwater Ford", "Standard 4.2 (2025)",
    )  # fmt: skip
    assert (limit["value"]["typed"], limit["weight"], limit["looser"], limit["reason"]) == (
        "1 in", "caution", True, "soft stone",
    )  # fmt: skip
    assert (limit["published"]["us"], limit["published_weight"]) == ("1 1/4 in", "hold")
    assert [(one["set_by"], one["value"]["typed"], one["place"]["line"]) for one in limit["replaced"]] == [
        ("County", "1 1/2 in", 6)
    ]


def test_an_accepted_comment_carries_its_variance() -> None:
    assert data(FULL)["comments"][1]["variance"] == {
        "reason": "door track",
        "accepted_by": "owner",
        "date": "2026-04-02",
        "place": {"file": FILE, "line": 40, "column": 3, "path": ""},
    }


def test_two_different_numbers_are_never_written_alike() -> None:
    comment = data(FULL)["comments"][2]
    for system in ("us", "metric"):
        assert comment["shown"][system] != comment["asked"][system]


def test_met_rules_carry_their_tightest_comparison_if_they_compared_anything() -> None:
    tight, nothing = data(FULL)["met"]
    assert (tight["tightest"]["thing"], tight["tightest"]["slack"]) == ("panel P1", 0.2)
    assert (tight["tightest"]["shown"]["si"], tight["tightest"]["shown"]["unit"]) == (1.2, "1")
    assert nothing["tightest"] is None


def test_everything_else_is_there() -> None:
    found = data(FULL)
    assert found["not_shown"] == [
        {
            "rule": "air", "group": "mix", "title": "enough air", "add": ["mix.air"],
            "place": {"file": FILE, "line": 1, "column": 1, "path": ""},
        }
    ]  # fmt: skip
    assert found["does_not_apply"][0]["reason"] == "there are no bars"
    assert found["crashes"][0]["place"]["line"] == 40
    assert found["questions"][0]["asks"] == "5 ft thick: was 5 in meant?"
    assert found["variance_troubles"][0]["what"].startswith("it ran until")
    assert found["layers"] == ["County", "Town of Coldwater Ford"]
    assert found["cautions"] == list(FULL.cautions)
    assert found["worked"]["fall"]["greatest_at_m"] == [1.0, 3.0]


def test_the_same_report_gives_the_same_text() -> None:
    assert as_json(FULL) == as_json(replace(FULL))
    assert as_json(FULL).endswith("}\n")


def test_text_of_the_file_stays_text() -> None:
    odd = 'bay "A" \\ [red]\x1b[31m ½ ″ \u2028 \x00 </script>'
    found = data(replace(FULL, job=odd))
    assert found["job"] == odd
    assert "\x1b" not in as_json(replace(FULL, job=odd))
    assert "½ ″" in as_json(replace(FULL, job=odd))


def test_a_file_name_that_is_no_text_still_gives_utf_8() -> None:
    text = as_json(replace(FULL, file="bay\udcff.slab.yaml"))
    assert json.loads(text.encode("utf-8"))["file"] == "bay?.slab.yaml"


def test_numbers_without_end_in_the_worked_figures_are_null() -> None:
    worked = dict(FULL.worked) | {"area_m2": math.nan, "perimeter_m": math.inf}
    found = data(replace(FULL, worked=worked))["worked"]
    assert found["area_m2"] is found["perimeter_m"] is None


@pytest.mark.parametrize("kind", list(Kind))
def test_every_kind_has_its_unit_and_both_writings(kind: Kind) -> None:
    amount = Amount(7.25, kind)
    comment = replace(COMMENT, shown=amount, asked=replace(amount, si=8.5))
    shown = data(replace(EMPTY, comments=(comment,)))["comments"][0]["shown"]
    assert (shown["si"], shown["unit"], shown["kind"]) == (7.25, SI_UNITS[kind], kind.value)
    assert shown["us"]
    assert shown["metric"]


@pytest.mark.parametrize(
    ("kind", "typed"),
    [
        (Kind.LENGTH, "3 m"), (Kind.DEPTH, "3 m"), (Kind.HEIGHT, "3 m"), (Kind.AREA, "3 m2"), (Kind.VOLUME, "3 m3"),
        (Kind.STRESS, "3 Pa"), (Kind.FORCE, "3 N"), (Kind.MASS, "3 kg"), (Kind.UNIT_WEIGHT, "3 kg/m3"),
        (Kind.SPEED, "3 m/s"), (Kind.DURATION, "3 s"), (Kind.TEMPERATURE, "3 °C"),
    ],
)  # fmt: skip
def test_the_unit_written_is_the_unit_of_the_number(kind: Kind, typed: str) -> None:
    amount = read(typed, kind)
    assert amount.si == pytest.approx(3.0)
    assert to_unit(amount, SI_UNITS[kind].replace("degC", "°C")) == pytest.approx(3.0)
