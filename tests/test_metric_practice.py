"""The metric practice layer: what it sets, and that a metric job reads metric with it in every form the program gives.

What counts as a word of the United States stands in ``us_words``. The same search over a job in feet must find some in
every form, so that a search that finds nothing cannot pass for a clean page.
"""

from __future__ import annotations

import ast
import re
import tempfile
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from example_reviews import DESIGNS, FOLDER, IN_FORCE, JOBS, RULES, TODAY, drawing_in, name_of
from slabwright.cli import main
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import cautions, run
from slabwright.rulebook import limits
from slabwright.rulebook.in_force import InForce
from slabwright.sheets import as_text
from slabwright.sheets.card import card
from slabwright.sheets.order import order
from slabwright.sheets.stake import stake
from slabwright.sheets.stake.staked import stakes
from slabwright.source import locate
from slabwright.text.sheet import plain
from slabwright.text.words import either, written
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind, QuantityError, alone, show
from slabwright.writers import as_json, sarif, terminal
from turning import other_units
from us_words import US_ONLY, csv_texts, json_texts, page_texts, us_words

LAYER = FOLDER / "amendments" / "metric_practice.yaml"
METRIC_JOBS = ("bakery_yard", "garden_patio")
BENCH = {"bakery_yard": "sill of the roller door", "garden_patio": "kitchen sill", "trailer_bay": "workshop sill"}


@cache
def in_force() -> dict[tuple[str, str], InForce]:
    found = limits.resolve(RULES, [limits.read_amendments(LAYER, RULES)])
    return {(rule, name): limit for rule, by_name in found.items() for name, limit in by_name.items()}


# what it sets

# Round numbers of the trade: common practice. Classes and air: EN 206 Table F.1; spacing: EN 1992-1-1 9.3.1.1;
# 30 °C: EN 13670; these recalled, not checked. SI units.
SETS = {
    ("freezing-strength", "moderate_at_least"): 25e6,
    ("freezing-strength", "mild_at_least"): 20e6,
    ("steel-position", "cover_outdoors_at_least"): 0.040,
    ("steel-position", "cover_thick_bars_at_least"): 0.050,
    ("steel-position", "cover_indoors_at_least"): 0.020,
    ("bar-spacing", "apart_at_most"): 0.400,
    ("fiber-claims", "dose_at_least"): 0.6,
    ("steel-laps", "mesh_at_least"): 0.200,
    ("base-shots", "area_of_a_shot_at_most"): 20.0,
    ("steel-held-up", "mesh_supports_at_most"): 0.900,
    ("steel-held-up", "bar_supports_at_most"): 1.2,
    ("walk-joints", "public_side_at_most"): 1.5,
    ("walk-joints", "side_at_most"): 1.5,
    ("filler-thickness", "drive_to_walk_at_least"): 0.020,
    ("vapor-retarder", "sheet_at_least"): 0.0002,
    ("vapor-retarder", "newer_sheet_at_least"): 0.0003,
    ("standing-water", "depth_at_most"): 0.006,
    ("standing-water", "shallow_depth_at_most"): 0.003,
    ("cold-weather", "air_at_least"): 5.0,
    ("hot-weather", "concrete_preferred_at_most"): 30.0,
    ("evaporation", "act_at_most"): 1 / 3600,
    ("evaporation", "watch_at_most"): 0.5 / 3600,
    ("curing", "coverage_at_most"): 5000.0,
}


def test_the_layer_sets_metric_numbers_and_says_how_each_is_known() -> None:
    changed = {key: limit for key, limit in in_force().items() if limit.layer == "region"}
    assert {key: limit.value.si for key, limit in changed.items()} == pytest.approx(SETS, rel=1e-9)
    for key, limit in changed.items():
        assert limit.citation == "common practice" or limit.citation.endswith("(recalled, not checked)"), key
        assert not us_words([limit.value.typed, limit.citation, limit.reason]), key
        # close to the published number, or the class that stands for it: nobody meets a surprise by a factor
        published = limit.published or limit.value
        assert 0.4 <= (limit.value.si or 1) / (published.si or 1) <= 2, key


# An inch is 25 mm to metric trades and a foot 0.3 m, 3/8 in is 10 mm and 3/4 in 20 mm: common practice. Meters.
ROUND = {
    ("truck-reach", "reach_at_most"): 5.5,
    ("truck-reach", "easy_reach_at_most"): 4.3,
    ("trees", "small_tree_at_least"): 2.4,
    ("corner-bars", "length_at_least"): 1.2,
    ("heaving-soil", "over_swelling_at_least"): 0.6,
    ("vapor-retarder", "lap_at_least"): 0.15,
    ("joint-ends", "short_of_edge_at_most"): 0.05,
    ("trip-at-existing-slab", "wheel_lip_at_most"): 0.02,
    ("trip-at-existing-slab", "lip_at_most"): 0.013,
    ("base-depth", "mean_short_at_most"): 0.01,
}


def test_a_published_number_made_round_is_not_called_looser() -> None:
    """1 kg/m2/h is 0.2 lb/ft2/h, 0.976, made round; one shot for 20 m2 in place of 18.6, 200 ft2, is another number."""
    looser = {key for key, limit in in_force().items() if limit.looser}
    assert looser == {("fiber-claims", "dose_at_least"), ("base-shots", "area_of_a_shot_at_most")}


def test_published_feet_and_inches_are_round_and_stay_published() -> None:
    for key, value in ROUND.items():
        limit = in_force()[key]
        assert limit.value.si == pytest.approx(value, rel=1e-12), key
        assert (limit.layer, limit.looser) == ("published", False), key
    for key, limit in in_force().items():
        if limit.layer == "published":
            assert limit.value.si == pytest.approx(IN_FORCE[key[0]][key[1]].value.si, rel=0.05), key


def test_a_round_number_of_metric_practice_is_not_called_looser() -> None:
    """0.2 lb/ft2/h are 0.976 kg/m2/h (NIST SP 811); 1 kg/m2/h is what metric texts print, within a twentieth."""
    assert [in_force()["evaporation", name].looser for name in ("act_at_most", "watch_at_most")] == [False, False]
    assert in_force()["base-shots", "area_of_a_shot_at_most"].looser  # 20 m2 in place of 18.58


def test_what_a_country_writes_lies_over_metric_practice_without_a_question() -> None:
    files = [limits.read_amendments(path, RULES) for path in (LAYER, LAYER.with_name("australia.yaml"))]
    design, _ = read_design(FOLDER / "jobs" / "bakery_yard.slab.yaml")
    report = run.review(Plan(design), RULES, limits.resolve(RULES, files), (), TODAY)
    assert report.layers == ("Metric practice", "Australian practice")
    assert not [one for one in report.questions if "Which governs" in one.asks or "May it be" in one.asks]
    assert ("steel-position", 0.03) in [(rule, limit.value.si) for rule, limit in report.looser]  # AS 3600, recalled


@pytest.mark.parametrize("job", METRIC_JOBS)
def test_a_sound_metric_job_is_sound_with_the_layer(job: str) -> None:
    design, questions = read_design(FOLDER / "jobs" / f"{job}.slab.yaml")
    found = limits.resolve(RULES, [limits.read_amendments(LAYER, RULES)])
    report = run.review(Plan(design._replace(system=alone("metric"))), RULES, found, questions, TODAY)
    assert [one.rule for one in report.comments if one.variance is None] == []
    assert report.layers == ("Metric practice",)


# no word of the United States

Texts = Callable[[str], Iterable[str]]


def whole(text: str) -> list[str]:
    return [text]


FORMS: dict[str, tuple[tuple[str, ...], Texts]] = {
    "review": (("review", "{file}"), whole),
    "review wide": (("review", "{file}", "--width", "200"), whole),
    "review --json": (("review", "{file}", "--json"), json_texts),
    "review --sheet": (("review", "{file}", "--sheet", "{out}"), whole),
    "review --page": (("review", "{file}", "--page", "{out}"), page_texts),
    "review --sarif": (("review", "{file}", "--sarif", "{out}", "--passes"), json_texts),
    "order": (("order", "{file}"), whole),
    "order --json": (("order", "{file}", "--json"), json_texts),
    "order --csv": (("order", "{file}", "--csv"), csv_texts),
    "order --page": (("order", "{file}", "--page", "{out}"), page_texts),
    "stake": (("stake", "{file}", "--bench", "{bench}", "--backsight", "1.3"), whole),
    "stake --json": (("stake", "{file}", "--json"), json_texts),
    "stake --page": (("stake", "{file}", "--page", "{out}"), page_texts),
    "card": (("card", "{file}"), whole),
    "card --json": (("card", "{file}", "--json"), json_texts),
    "card --csv": (("card", "{file}", "--csv"), csv_texts),
    "card --page": (("card", "{file}", "--page", "{out}"), page_texts),
    "draw": (("draw", "{file}"), page_texts),
    "draw --section": (("draw", "{file}", "--section", "A-C"), page_texts),
}  # fmt: skip


def texts_of(
    form: str, job: str, capsys: pytest.CaptureFixture[str], folder: Path, *more: str | Path
) -> tuple[str, list[str]]:
    """What a form says of a job: the whole text, and the parts to search."""
    arguments, read = FORMS[form]
    out = folder / ("out.html" if "--page" in arguments else "out.txt")
    fill = {"file": str(FOLDER / "jobs" / f"{job}.slab.yaml"), "out": str(out), "bench": BENCH.get(job, "")}
    assert main.main([*(one.format(**fill) for one in arguments), *map(str, more)]) in (0, 1)
    printed = capsys.readouterr().out
    text = out.read_text(encoding="utf-8") if "{out}" in arguments else printed
    return text, list(read(text))


@pytest.mark.long
@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("job", METRIC_JOBS)
def test_a_metric_job_reads_metric(job: str, form: str, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, texts = texts_of(form, job, capsys, tmp_path, "--amendments", LAYER)
    assert us_words(texts) == []
    assert any(re.search(r"\d.(?:mm|m|m3|MPa)\b", text) for text in texts) or "csv" in form  # something was said


@pytest.mark.long
@pytest.mark.parametrize("form", FORMS)
def test_the_search_finds_the_words_in_a_job_in_feet(
    form: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert us_words(texts_of(form, "trailer_bay", capsys, tmp_path)[1])


@pytest.mark.parametrize("form", ["review", "order", "card", "stake"])
@pytest.mark.parametrize("asked", [(), ("--both",)], ids=["alone", "both"])
def test_without_the_layer_too_the_other_system_comes_only_where_it_is_asked_for(
    form: str, asked: tuple[str, ...], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    found = us_words(texts_of(form, "bakery_yard", capsys, tmp_path, *asked)[1])
    assert bool([one for one in found if "CFR" not in one]) is bool(asked)  # a federal rule keeps its name


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("at least 5 in (127 mm)", True),
        ("5 in", True),
        ("18 to 24 in of the marks", True),
        ("12'-6 1/2\"", True),
        ('a cut of 3/4" or so', True),
        ("200 psi for a gallon", True),
        ("a #4 bar", True),
        ("2x6 boards", True),
        ("29 CFR 1926", True),
        ("at 70 °F", True),
        ("finish ft", True),
        ("cut to eighths", True),
        ("1 in 40", False),
        ("8.20 m3 in 1 load", False),
        ('such as "07:00"', False),
        ("from 09:02 feet may walk on it", False),
        ("yard gas, pool and septic lines", False),
        ("ACI 302.1R-15, IRC 2021 R506.2.3", False),
        ("12 mm at 300 mm, C30/37", False),
    ],
)
def test_what_counts_as_a_word_of_the_united_states(said: str, found: bool) -> None:
    assert bool(us_words([said])) is found


# every example, turned into metric

METRIC_SIZES = {"#3": "10 mm", "#4": "12 mm", "#5": "16 mm", "#6": "20 mm", "2x4": "89 mm", "2x6": "140 mm",
                "2x8": "184 mm", "2x10": "235 mm", "2x12": "286 mm"}  # fmt: skip
_MESH = re.compile(r"\dx\d W[\d.]+")


def in_metric(value: Any) -> Any:
    """Bars, boards and mesh by metric names: those keep their names when units are turned."""
    if isinstance(value, dict):
        return {key: in_metric(one) for key, one in value.items()}
    if isinstance(value, list):
        return [in_metric(one) for one in value]
    return METRIC_SIZES.get(value, _MESH.sub("SL72", value)) if isinstance(value, str) else value


@pytest.mark.long
@pytest.mark.parametrize("path", [*DESIGNS, *JOBS], ids=name_of)
def test_every_example_turned_into_metric_reads_metric(path: Path) -> None:
    drawing = drawing_in(path)
    if drawing.data["units"]["plan"] in ("ft", "in"):
        drawing = other_units(drawing)
    units = {**drawing.data["units"], "show": "metric"}
    drawing = replace(drawing, data=in_metric({**drawing.data, "units": units}))
    with tempfile.TemporaryDirectory() as folder:
        design, questions = read_design(drawing.write(Path(folder)))
    plan = Plan(design._replace(system=alone("metric")))
    report = run.review(plan, RULES, IN_FORCE, questions, TODAY)
    texts = [plain(terminal.sheet(report, level="full")), *json_texts(as_json.as_json(report))]
    texts += [result["message"]["text"] for result in sarif.results_of(report, passes=True)]
    for sheet in (order.order_sheet(plan, None, None), stake.sheet(stakes(plan)), card.card(plan)):
        texts.append(plain(as_text.lines(sheet)))
    assert us_words(texts) == []


# fixed texts, also those that no example brings up

WORDED = (
    *sorted(locate.folder("rules").glob("*/*.py")),
    *sorted(locate.folder("rules").parent.glob("checker/slabwright/sheets/**/*.py")),
    Path(cautions.__file__),
)
TURNED_ELSEWHERE = {  # said of feet and inches alone; a metric sheet leaves them out
    "stake.py": {"Feet with tenths are not feet and inches: 4.33 ft is 4 ft and 0.33 of 12 in. Read one scale."},
    "concrete_parts.py": {"  cut to eighths", "Each 1/4 in more takes"},
    "forecast.py": {"(Tc^2.5 - r Ta^2.5)(1 + 0.4 V) 10^-6, °F and mph"},
}


def fixed_texts(path: Path) -> Iterator[str]:
    """The texts of three words and more in a module; not those that explain it, nor published numbers it cites."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    silent: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef) and ast.get_docstring(node) is not None:
            silent.add(id(node.body[0].value))  # type: ignore[attr-defined]
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ("Worked", "Cite"):
            silent |= {id(one) for one in ast.walk(node)}
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Limit":  # its meaning is the last one
            silent |= {id(one) for argument in node.args[:6] for one in ast.walk(argument)}
        if isinstance(node, ast.JoinedStr) and id(node) not in silent:
            joined = "".join(part.value if isinstance(part, ast.Constant) else "0" for part in node.values)
            if len(joined.split()) >= 3:
                yield joined
            silent |= {id(one) for one in ast.walk(node)}
    for node in ast.walk(tree):
        value = node.value if isinstance(node, ast.Constant) and id(node) not in silent else None
        if isinstance(value, str) and len(value.split()) >= 3:
            yield value


@pytest.mark.parametrize("path", WORDED, ids=lambda path: path.stem)
def test_a_fixed_text_says_feet_and_inches_only_beside_meters(path: Path) -> None:
    for text in fixed_texts(path):
        if text not in TURNED_ELSEWHERE.get(path.name, ()):
            assert US_ONLY.search(written(text, "metric")) is None, text


def test_the_fixed_texts_left_out_are_there() -> None:
    for name, texts in TURNED_ELSEWHERE.items():
        (path,) = [one for one in WORDED if one.name == name]
        assert texts <= set(fixed_texts(path)), name


def numbers_of(text: str) -> tuple[float, Kind] | None:
    """A quantity of any kind that has units, SI; None where the text is none."""
    for kind in (Kind.LENGTH, Kind.STRESS, Kind.VOLUME, Kind.UNIT_WEIGHT, Kind.TEMPERATURE, Kind.FORCE, Kind.SUBGRADE,
                 Kind.PRESSURE, Kind.PLACING_RATE, Kind.SPEED, Kind.AREA, Kind.COVERAGE, Kind.MASS):  # fmt: skip
        try:
            return quantity.read(text.replace(",", ""), kind).si, kind
        except QuantityError:
            continue
    return None


def test_both_sides_of_a_text_say_one_number() -> None:
    """Limits agree to two percent; "such as" is an example, and may be the round number of the trade."""
    compared = 0
    for path in WORDED:
        for text in fixed_texts(path):
            for us, metric in either(text):
                one, other = numbers_of(us), numbers_of(metric)
                if one is None or other is None or one[1] != other[1]:
                    continue
                example = any(said in text for said in ("such as", "as in", "lifts of", "the hours of the day:"))
                near = 0.35 if example or text.startswith("{") else 0.02  # an example may stand in a line of its own
                if one[1] is Kind.TEMPERATURE and "{20 °F" not in text:
                    assert other[0] == pytest.approx(one[0], abs=1 if near > 0.1 or "70 °F" in text else 0.06), text
                elif one[1] is not Kind.TEMPERATURE:
                    assert other[0] == pytest.approx(one[0], rel=near), text
                compared += 1
    assert compared > 60


# one system alone


def test_what_is_shown_alone() -> None:
    metric = alone("metric")
    assert show(Amount(0.127, Kind.DEPTH), metric) == "127 mm"
    assert show(Amount(0.025, Kind.SLOPE), metric) == "2.5 % (1:40)"  # both are metric ways to say it
    assert show(Amount(0.127, Kind.DEPTH, "5 in"), metric) == "127 mm"  # a published limit: nobody here typed it
    typed = quantity.read("5 in", Kind.DEPTH, read_design(JOBS[0])[0].places["thickness"])
    assert show(typed, metric) == "127 mm"  # typed in the file in inches: it is told in metric
    assert show(quantity.read("C30/37", Kind.STRESS), metric) == "C30/37"
    assert show(Amount(0.127, Kind.DEPTH), alone("us")) == "5 in"


@pytest.mark.parametrize(
    ("option", "said"),
    [((), "8.20 m3 in"), (("--metric", "--both"), "8.20 m3 in"), (("--us",), "10.73 yd3 in"),
     (("--us", "--both"), "10.73 yd3 (8.20 m3) in")],
)  # fmt: skip
def test_who_asks_for_feet_and_inches_gets_them(
    option: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text, _ = texts_of("card", "bakery_yard", capsys, tmp_path, "--amendments", LAYER, *option)
    assert said in text


def test_a_job_in_feet_is_shown_as_it_was(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    text, _ = texts_of("card", "trailer_bay_corrected", capsys, tmp_path, "--amendments", LAYER, "--both")
    assert "13.00 yd3 (9.94 m3)" in text


def test_a_firm_names_the_layer_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    for form in ("review", "order", "stake", "card"):
        job = tmp_path / "yard.slab.yaml"
        job.write_text((FOLDER / "jobs" / "bakery_yard.slab.yaml").read_text(encoding="utf-8"), encoding="utf-8")
        (tmp_path / "metric_practice.yaml").write_text(LAYER.read_text(encoding="utf-8"), encoding="utf-8")
        (tmp_path / ".slabwright.yaml").write_text("amendments: [metric_practice.yaml]\n", encoding="utf-8")
        assert main.main([form, str(job)]) == 0
        assert us_words([capsys.readouterr().out]) == []


def test_a_rule_of_one_country_is_not_told_by_its_number_alone() -> None:
    assert cautions.source("osha-1926.1153", "metric") == "29 CFR 1926.1153 Table 1 (read)"
    told = cautions.source("osha-1926.1153", alone("metric"))
    assert told == "another country's rule (read); your safety authority's silica rule governs"
    assert cautions.source("common-practice", alone("metric")) == "common practice"


@pytest.mark.parametrize("use", ["patio", "walk", "driveway", "vehicle pad", "garage floor", "shop floor"])
def test_a_starter_in_meters_is_metric_and_is_reviewed_so(
    use: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    job = tmp_path / "start.slab.yaml"
    assert main.main(["begin", "--use", use, "--size", "4.5 m x 6 m", "--out", str(job)]) == 0
    started = job.read_text(encoding="utf-8")
    assert us_words([started]) == []
    capsys.readouterr()
    assert main.main(["review", str(job), "--amendments", str(LAYER)]) == 0
    assert us_words([capsys.readouterr().out]) == []
