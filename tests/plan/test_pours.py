"""Pours over several days: what each covers, judges and prints, against hand arithmetic."""

from __future__ import annotations

import csv
import io
import json
import re
from pathlib import Path

import jsonschema
import pytest
from design_text import plan_of, review_by
from example_reviews import IN_FORCE, RULES, example
from judged import file_of
from slabwright.cli.main import main
from slabwright.plan import pours
from slabwright.plan.questions import ask
from slabwright.review import run
from slabwright.rulebook import loading
from slabwright.rulebook.rule import Rule
from slabwright.source import locate
from slabwright.source.problem import UnreadableError
from slabwright.text.words import plain

FOOT, YARD3 = 0.3048, 27 * 0.3048**3
TEXT = example("pours-meet", "meets").read_text(encoding="utf-8")  # 40 x 20 ft, 5 in, a bulkhead at 20 ft
GATE, FAR = "corners: [A, K, N, D]", "corners: [K, B, C, N]"


def changed(*changes: tuple[str, str], text: str = TEXT) -> str:
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def test_each_day_has_its_own_area_panels_joints_and_volume() -> None:
    """400 ft2 of 5 in each: 400 x 5 / 12 / 27 = 6.173 yd3; J1 and J4 the first day, J3 and J4 the second."""
    plan = plan_of(TEXT)
    gate, far = pours.days(plan)
    for day in (gate, far):
        assert day.plan.shape.area == pytest.approx(400 * FOOT**2)
        assert day.plan.concrete.quantities.net == pytest.approx(6.1728 * YARD3, rel=1e-4)
    assert [joint.name for joint in gate.plan.joints.all] == ["J1", "J4"]
    assert [joint.name for joint in far.plan.joints.all] == ["J3", "J4"]
    assert sum(joint.length for joint in far.plan.joints.all) == pytest.approx(40 * FOOT)  # 20 along, 20 across
    names = [panel.name for day in (gate, far) for panel in day.plan.panels.all]
    assert sorted(names) == sorted(panel.name for panel in plan.panels.all)
    for day in (gate, far):  # by the name on the drawing, and where that panel lies
        for panel in day.plan.panels.all:
            whole = next(one for one in plan.panels.all if one.name == panel.name)
            assert whole.polygon.equals(panel.polygon)


def test_volumes_between_surfaces_are_parted_where_the_joint_runs() -> None:
    """A wedge: base level at 99.5, finish level at 100 along x = 0 and at 100.4 at 40 ft: 0.5 to 0.9 ft.

    To 20 ft it is 0.6 ft deep on average, beyond 0.8 ft: 400 x 0.6 / 27 = 8.889 and 11.852 yd3 (a trapezoid's mean).
    """
    heights = "heights: {finish: {A: 100, D: 100, B: 100.4, C: 100.4}, base: {A: 99.5, B: 99.5, C: 99.5, D: 99.5}}\n"
    days = pours.days(plan_of(TEXT + heights))
    nets = [day.plan.concrete.quantities.net / YARD3 for day in days]
    assert nets == pytest.approx([400 * 0.6 / 27, 400 * 0.8 / 27])


def test_parts_of_another_thickness_count_on_their_own_day() -> None:
    """Panels beyond 30 ft are 7 in: 200 ft2 of 5 in and 200 of 7 in, 200 x 12 / 12 / 27 = 7.407 yd3 the second day."""
    parts = "parts: [{name: truck lane, corners: [[30, 0], B, C, [30, 20]], thickness: 7 in}]\n"
    near, far = pours.days(plan_of(TEXT + parts))
    assert near.plan.concrete.quantities.net / YARD3 == pytest.approx(400 * 5 / 12 / 27)
    assert far.plan.concrete.quantities.net / YARD3 == pytest.approx(200 * 12 / 12 / 27)
    assert [part.name for part in near.plan.design.parts] == []


def test_rules_judge_each_day_by_its_own_hours_and_order() -> None:
    text = changed(
        ("day: 2027-06-22, ", "day: 2027-06-22, crew: 4, finishing: 4 h, "),
        ("day: 2027-06-24, ", "day: 2027-06-24, crew: 1, finishing: 3 h, "),
        ("volume: 7.25 yd3", "volume: 6 yd3"),
    )
    (hands,) = review_by("hands-for-area", text).comments
    assert (hands.at.name, hands.at.place.path) == ("the crew, far side", "pour[1].crew")
    assert hands.shown.si == pytest.approx(400 / 3 * FOOT**2)  # 400 ft2 / 1 hand / 3 h
    assert [edit.path for edit in hands.remedies[0].edits] == ["pour[1].crew"]
    (short,) = review_by("ordered-volume", text).comments  # 6 yd3 for 6.17
    assert (short.weight, short.at.name) == ("hold", "the order, far side")
    assert [edit.path for edit in short.remedies[0].edits] == ["pour[1].volume"]


def test_what_one_day_does_not_say_is_asked_for_by_its_path() -> None:
    text = changed((", volume: 7.25 yd3", ""))
    (silent,) = review_by("ordered-volume", text).not_shown
    assert [add.partition(":")[0] for add in silent.add] == ["pour[1].volume"]


def test_what_is_the_same_on_every_day_is_told_once() -> None:
    """No fall and a troweled finish in the open: once, and not for each pour."""
    site = "site: {freezing: severe, outdoors: true}\nmix: {strength: 3000 psi, air: 6 %}\n"
    found = review_by("freezing-strength", changed(("volume:", "finish: broom, volume:")) + site).comments
    assert len(found) == 1 and "side" not in found[0].at.name


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ((), []),
        ((("kind: construction joint", "kind: saw cut"),), [("caution", "on_other_joint_at_most", 20.0)]),
        ((("kind: construction joint", "isolation: {material: foam, depth: full}, kind: saw cut"),), []),
        (
            ((GATE, "corners: [A, [18, 0], [18, 20], D]"), (FAR, "corners: [[18, 0], B, C, [18, 20]]")),
            [("hold", "without_joint_at_most", 20.0)],
        ),
        (  # over to the right under the middle joint alone: 10 ft along J2, 10 ft in panel P2 no joint at 16 ft
            (
                (GATE, "corners: [A, K, [20, 10], [16, 10], [16, 20], D]"),
                (FAR, "corners: [K, B, C, [16, 20], [16, 10], [20, 10]]"),
            ),
            [("hold", "without_joint_at_most", 10.0), ("caution", "on_other_joint_at_most", 4.0)],
        ),
    ],
)
def test_where_two_pours_meet(changes: tuple[tuple[str, str], ...], expected: list[tuple[str, str, float]]) -> None:
    found = review_by("pours-meet", changed(*changes)).comments
    shown = [(one.weight, one.limit.name, round(one.shown.si / FOOT, 2)) for one in found]
    assert shown == expected


@pytest.mark.parametrize(("off", "said"), [(0.3, []), (1, ["holds"]), (-1, ["holds"])])
def test_corners_a_foot_off_the_bulkhead_are_told_by_its_name(off: float, said: list[str]) -> None:
    """A corner some inches off is a slip of the drawing; a foot is more than the pencil (common practice)."""
    text = changed((GATE, f"corners: [A, [{20 + off}, 0], [{20 + off}, 20], D]"),
                   (FAR, f"corners: [[{20 + off}, 0], B, C, [{20 + off}, 20]]"))  # fmt: skip
    found = [one for one in review_by("pours-meet", text).comments if one.limit.name == "without_joint_at_most"]
    assert bool(found) == bool(said)
    for one in found:
        assert plain(one.to_pass, "us").endswith("onto joint J2")


def test_the_joint_that_is_drawn_where_a_pour_ends_makes_it_pass(tmp_path: Path) -> None:
    path, right = tmp_path / "yard.slab.yaml", tmp_path / "right.slab.yaml"
    text = example("pours-meet", "falls_short").read_text(encoding="utf-8")
    path.write_text(text.replace("[18, ", "[15, "), encoding="utf-8")  # nearer the joint, strips would be left
    main(["review", str(path), "--put-right", str(right), "--joints"])
    assert re.search(r"\[15, (0|20)\], to: \[15, (20|0)\]", right.read_text(encoding="utf-8"))
    report = review_by("pours-meet", right.read_text(encoding="utf-8"))
    assert [one.limit.name for one in report.comments if one.weight == "hold"] == []


@pytest.mark.parametrize(
    ("changes", "asked"),
    [
        ((), []),
        (((FAR, "corners: [[30, 0], B, C, [30, 20]]"),), ["panels P3, P7 lie in no pour"]),
        (((FAR, "corners: [[10, 0], B, C, [10, 20]]"),), ["panels P2, P6 lie in gate side and far side at once"]),
        (
            ((FAR, "corners: [[60, 0], [80, 0], [80, 20], [60, 20]]"),),
            ["panels P3, P4, P7, P8 lie in no pour", "far side covers no panel of the slab"],
        ),
        (
            (
                (GATE, "corners: [A, [10, 0], [10, 10], [30, 10], [30, 0], B, C, D]"),
                (FAR, "corners: [[10, 0], [30, 0], [30, 10], [10, 10]]"),
            ),
            [],
        ),
        (
            ((GATE, "corners: [A, [10, 0], [10, 20], D]"), (FAR, "corners: [[10, 0], B, C, [10, 20]]")),
            [],
        ),
    ],
)
def test_panels_of_no_pour_or_of_two_are_asked_about(changes: tuple[tuple[str, str], ...], asked: list[str]) -> None:
    plan = plan_of(changed(*changes))
    told = [one.wrong for one in ask(plan)]
    assert not run.review(plan, RULES, IN_FORCE).crashes
    assert [one for one in told if "pour" in one or "side" in one] == asked


def test_the_sheets_print_each_day(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "yard.slab.yaml"
    path.write_text(TEXT, encoding="utf-8")
    schema = json.loads((locate.folder("schemas") / "sheet.schema.json").read_text(encoding="utf-8"))
    sheets = {}
    for kind in ("order", "card"):
        main([kind, str(path), "--json"])
        sheets[kind] = json.loads(capsys.readouterr().out)
        jsonschema.validate(sheets[kind], schema)
        assert sheets[kind]["pours"] == ["2027-06-22", "2027-06-24"]
    order = sheets["order"]["sections"]
    assert order["concrete_1"]["figures"]["net_1"]["value"]["us"] == "6.17 yd3"
    assert order["phone_2"]["title"] == "To phone in, far side, 2027-06-24"
    bought = {row["item"]: row["quantity"] for row in order["list"]["tables"]["list"]["rows"]}
    assert bought["concrete"]["us"] == "13.75 yd3"  # 6.5 and 7.25
    assert bought["loads"] == 2
    main(["card", str(path), "--csv"])
    rows = list(csv.DictReader(io.StringIO(capsys.readouterr().out)))
    assert [row["table"] for row in rows if row["what"] == "place"] == ["when_1", "when_2"]
    main(["review", str(path), "--full"])
    assert "2027-06-22, 2027-06-24" in capsys.readouterr().out


def test_a_list_of_one_pour_is_that_pour(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Word for word: a section, and the same section as the only entry of a list."""
    one = example("hands-for-area", "meets").read_text(encoding="utf-8")
    head, _, own = one.partition("pour:\n")
    listed = f"{head}pour:\n  - {own.lstrip()}".replace("\n  finishing", "\n    finishing")
    said = []
    for text in (one, listed):
        path = tmp_path / "pad.slab.yaml"
        path.write_text(text, encoding="utf-8")
        main(["card", str(path)])
        said.append(capsys.readouterr().out)
    assert said[0] == said[1] and "When" in said[0]


@pytest.mark.parametrize(
    ("changes", "wrong"),
    [
        ((("day: 2027-06-24, ", ""),), "far side does not say its day"),
        (((f"{FAR}, ", ""),), "far side does not say its corners"),
        ((("order: {", "order: {volume: 12 yd3, "),), '"order.volume" is of one pour, and there are 2'),
        ((("yard}", "yard, pour: 2027-06-22}"),), '"job.pour" is of one pour, and there are 2'),
        ((("far side", "Gate Side"),), 'a second pour is called "Gate Side"; the first is on line 16'),
    ],
)
def test_a_pour_that_does_not_say_enough_is_refused(changes: tuple[tuple[str, str], ...], wrong: str) -> None:
    with pytest.raises(UnreadableError) as told:
        plan_of(changed(*changes))
    assert [one.wrong for one in told.value.problems] == [wrong]


@pytest.mark.parametrize(
    ("more", "write"),
    [((), "delete it: each pour has its volume"), (((", volume: 7.25 yd3", ""),), "volume in each entry of pour")],
)
def test_what_is_written_of_one_pour_is_deleted_where_each_has_its_own(
    more: tuple[tuple[str, str], ...], write: str
) -> None:
    text = changed(*((old, new) for old, new in more))
    with pytest.raises(UnreadableError) as told:
        plan_of(changed(("order: {", "order: {volume: 12 yd3, "), text=text))
    assert [one.write for one in told.value.problems] == [write]


def reads_the_pour(rule: Rule) -> bool:
    text = file_of(rule).read_text(encoding="utf-8")
    return re.search(r'design\.pour\b|"pour\.|job\.pour|"order\.volume|EACH_POUR', text) is not None


@pytest.mark.parametrize("rule", [rule for rule in RULES if reads_the_pour(rule)], ids=lambda rule: rule.name)
def test_a_rule_that_reads_the_pour_judges_each(rule: Rule) -> None:
    """A rule that asks for the day of the pour finds none on the plan of a job that has several."""
    assert loading.examine(file_of(rule)).each_pour


def test_no_rule_fails_on_several_pours() -> None:
    report = run.review(plan_of(TEXT), RULES, IN_FORCE)
    assert report.crashes == ()
