"""Layouts of joints: worked by hand, generated outlines, and the command."""

from __future__ import annotations

import json
import math
import sys
from itertools import combinations, pairwise
from pathlib import Path

import pytest
import yaml
from checkout import ROOT
from example_reviews import IN_FORCE, RULES
from slabwright.cli import main as cli
from slabwright.design.read import read_text
from slabwright.plan.plan import Plan
from slabwright.proposals.joints import Proposal, propose, weighed
from slabwright.proposals.pours import Load, Parted, lines_between, pours_of
from slabwright.proposals.put_right import put_right
from slabwright.proposals.stopping import stops_from
from slabwright.review import run
from slabwright.rulebook import limits
from slabwright.text.words import Words, plain

sys.path.insert(0, str(ROOT / "tests" / "benchmarks"))
from propose_joints import KINDS, generated, proposed

FOOT = 0.3048
GARAGE = """\
format: 1
job: {name: Two-car garage}
units: {plan: ft, height: ft}
use: garage floor
outline: [[0, 0], [24, 0], [24, 24], [0, 24]]
thickness: {design: 4 in}
mix: {aggregate: 3/4 in}
"""
L_PATIO = """\
format: 1
job: {name: Patio round a corner of the house}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [30, 0], C: [30, 10], D: [10, 10], E: [10, 30], F: [0, 30]}
outline: [A, B, C, D, E, F]
thickness: {design: 4 in}
mix: {aggregate: 3/4 in}
"""


def found(text: str) -> Proposal:
    """The layout proposed for a design."""
    done = propose(Path("a.slab.yaml"), text, RULES, IN_FORCE, "us")
    assert done is not None
    return done


def ends(done: Proposal) -> set[tuple[float, ...]]:
    """Ends of each cut, ft, to the hundredth."""
    return {tuple(round(v / FOOT, 2) for point in (line[0], line[-1]) for v in point) for line in done.lines}


# --- worked by hand ---


def test_a_garage_of_24_ft_at_4_in_has_three_by_three_bays_of_8_ft() -> None:
    """30 x 4 in = 10 ft; 24 / 10 = 2.4, so three bays each way; 24 / 3 = 8 ft; four cuts of 24 ft are 96 ft."""
    done = found(GARAGE)
    assert done.found and done.left == ()
    assert ends(done) == {(8, 0, 8, 24), (16, 0, 16, 24), (0, 8, 24, 8), (0, 16, 24, 16)}
    assert done.cutting == pytest.approx(96 * FOOT) and done.plain == pytest.approx(96 * FOOT)


def test_an_l_round_a_house_has_a_joint_through_the_inside_corner() -> None:
    """Legs 10 ft wide and 10 ft bays: five squares of 10 ft, four cuts of 10 ft, two of them at the corner D."""
    done = found(L_PATIO)
    assert done.found and done.left == ()
    assert ends(done) == {(10, 0, 10, 10), (20, 0, 20, 10), (0, 10, 10, 10), (0, 20, 10, 20)}
    assert [panel.aspect for panel in done.bench.plan.panels.all] == pytest.approx([1.0] * 5)
    assert done.bench.plan.panels.inside_corners[0].joint_distance == pytest.approx(0.0, abs=1e-9)


def test_the_example_of_the_page_on_deciding() -> None:
    """An L of 26 x 9 and 9 x 20 ft, worked in docs/deciding.md: three cuts of 9 ft, 27 ft in all."""
    corners = "{A: [0, 0], B: [26, 0], C: [26, 9], D: [9, 9], E: [9, 20], F: [0, 20]}"
    done = found(L_PATIO.replace("{A: [0, 0], B: [30, 0], C: [30, 10], D: [10, 10], E: [10, 30], F: [0, 30]}", corners))
    assert done.found
    assert ends(done) == {(9, 0, 9, 9), (17.5, 0, 17.5, 9), (0, 10, 9, 10)}
    assert done.cutting == pytest.approx(27 * FOOT)


def test_a_post_has_a_joint_through_it() -> None:
    """A patio of 18 x 12 ft at 4 in takes two bays of 9 ft; a post at 8 ft draws the line to it: 10 and 8 ft."""
    text = L_PATIO.replace("{A: [0, 0], B: [30, 0], C: [30, 10], D: [10, 10], E: [10, 30], F: [0, 30]}",
                           "{A: [0, 0], B: [18, 0], C: [18, 10], D: [0, 10]}").replace("[A, B, C, D, E, F]",
                           "[A, B, C, D]")  # fmt: skip
    post = "fixtures: [{kind: post, name: P, at: [8, 5], size: 6 in, isolation: {material: foam, depth: full}}]"
    assert ends(found(text)) == {(9, 0, 9, 10)}
    with_post = found(text + post + "\n")
    assert with_post.found
    ((x0, _, x1, _),) = ends(with_post)
    assert x0 == x1 and 8 <= x0 <= 9  # the rule is content with a joint within 1 ft


def test_a_joint_of_the_old_slab_goes_on() -> None:
    """Tied to a terrace whose joint comes at 7 ft: of 16 ft, in bays to 10 ft, the line lies at 7 and not at 8."""
    text = """\
format: 1
job: {name: Beside the terrace}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [16, 0], C: [16, 9], D: [0, 9]}
outline: [A, B, C, D]
edges:
  - {run: [A, B], beside: existing slab, name: terrace, tied: true, existing_joints: [[7, 0]]}
  - {rest: open ground}
thickness: {design: 4 in}
mix: {aggregate: 3/4 in}
"""
    assert ends(found(text)) == {(7, 0, 7, 9)}


SHED = """\
format: 1
job: {name: Long shed floor}
units: {plan: ft, height: ft}
use: shop floor
outline: [[0, 0], [60, 0], [60, 30], [0, 30]]
thickness: {design: 6 in}
mix: {aggregate: 3/4 in}
order: {truck: 10 yd3, allowance: 5 %}
"""
YARD3 = 0.9144**3


def poured(text: str, loads: int) -> Proposal:
    """The layout proposed for a design with pours of so many loads at most."""
    done = propose(Path("a.slab.yaml"), text, RULES, IN_FORCE, "us", loads)
    assert done is not None
    return done


@pytest.mark.parametrize(
    ("loads", "pours", "lines"),
    [(1, 4, {17.14, 34.28, 51.42}), (2, 2, {34.28}), (3, 2, {17.14, 34.28, 51.42}), (4, 1, set())],
)
def test_pours_end_where_whole_loads_are_used_up(loads: int, pours: int, lines: set[float]) -> None:
    """60 x 30 ft x 6 in are 33.33 yd3, 35 with 5 %: four loads of 10 yd3, the last of them half full.

    A load reaches 10 / 1.05 x 27 / (30 x 0.5) = 17.14 ft, two reach 34.28 ft; lines lie up to 2 in before, and three
    one after the other up to 3 in. The pour with the load that is not used up may be any of them, so lines are measured
    from the one end or the other.
    """
    done = poured(SHED, loads)
    assert done.found and isinstance(done.pours, Parted)
    needed = [one.needed / YARD3 for one in done.pours.pours]
    assert len(needed) == pours and sum(needed) == pytest.approx(35)
    assert sum(one.loads for one in done.pours.pours) == 4 and all(one.loads <= loads for one in done.pours.pours)
    assert sum(one.left / YARD3 < 0.11 for one in done.pours.pours) == pours - 1
    assert sum(one.left / YARD3 for one in done.pours.pours) == pytest.approx(5)
    ended = {name for one in done.pours.pours for name in one.ends}
    made = [one for one in done.bench.plan.design.joints if one.kind == "construction joint"]
    assert {one.name for one in made} == ended and all(
        one.depth and one.depth.si == pytest.approx(0.1524) for one in made
    )
    reach = [one.along[0].x / FOOT for one in made]
    assert all(any(0 <= at - one < 0.26 for at in lines for one in (x, 60 - x)) for x in reach)
    assert len(done.bench.plan.concrete.sections) == pours


def test_new_construction_joints_are_locked_as_those_of_the_file() -> None:
    dowels = "{diameter: 3/4 in, length: 16 in, spacing: 12 in}"
    own = "{name: K, kind: construction joint, from: [34, 0], to: [34, 30], depth: 6 in, dowels: " + dowels + "}"
    done = poured(SHED + f"joints: [{own}]\n", 1)
    made = [one for one in done.bench.plan.design.joints if one.kind == "construction joint" and one.name != "K"]
    assert made and all(one.dowels and one.dowels.spacing.typed == "12 in" for one in made)
    assert done.typed.count(f"dowels: {dowels}") == len(made) + 1


def test_where_no_whole_load_fits_pours_end_on_lines_of_the_layout() -> None:
    """Bays no longer than 8 ft leave no good place at a whole load.

    40 x 8 ft x 4 in with 5 % are 4.15 yd3: a load of 2 yd3 reaches 19 ft 3 in, so three pours leave a strip of 18 in.
    """
    sliver = SHED.replace("[60, 0], [60, 30], [0, 30]", "[40, 0], [40, 8], [0, 8]").replace("10 yd3", "2 yd3")
    strip = poured(sliver.replace("6 in}", "4 in}"), 1)
    assert strip.found and isinstance(strip.pours, Parted) and strip.pours.why is not None
    assert "keeps every rule on joints" in plain(strip.pours.why, "us")
    assert not any(name.startswith("C") for one in strip.pours.pours for name in one.ends)


ACROSS = "{name: S1, kind: construction joint, from: [30, 0], to: [30, 60], depth: 6 in}"
ALONG = "{name: S2, kind: construction joint, from: [0, 30], to: [60, 30], depth: 6 in}"
STOP = "{name: stop, kind: construction joint, from: [15, 0], to: [15, 30], depth: 6 in}"


@pytest.mark.parametrize(
    ("deep", "joints", "loads", "pours", "added"),
    [
        (30, STOP, 3, [(8.75, 1), (26.25, 3)], 0),
        (30, STOP, 2, [(6.32, 1), (8.75, 1), (19.93, 2)], 1),
        (60, f"{ACROSS}, {ALONG}", 2, [(17.5, 2)] * 4, 0),
    ],
)
def test_the_files_own_construction_joints_end_pours(
    deep: int, joints: str, loads: int, pours: list[tuple[float, int]], added: int
) -> None:
    """Lines are added only where what lies between them takes more loads than a day brings.

    A foot of 30 ft x 6 in takes 0.5833 yd3 with 5 %: 15 ft take 8.75 yd3 and 45 ft 26.25. Two loads reach 34 ft 2 in of
    these, 19.93 yd3, and 10 ft 10 in are left, 6.32. Of 60 x 60 ft in quarters each takes 17.5 yd3.
    """
    done = poured(SHED.replace("30]", f"{deep}]") + f"joints: [{joints}]\n", loads)
    assert done.found and isinstance(done.pours, Parted) and done.pours.why is None
    found = sorted((one.needed / YARD3, one.loads) for one in done.pours.pours)
    assert [loads for _, loads in found] == [loads for _, loads in pours]
    assert [needed for needed, _ in found] == pytest.approx([needed for needed, _ in pours], abs=0.006)
    new = [one for one in done.bench.plan.design.joints if one.kind == "construction joint" and one.name[0] == "C"]
    assert len(new) == added and set(done.pours.own) <= {"stop", "S1", "S2"}
    panels = [name for one in done.pours.pours for name in one.panels]
    assert sorted(panels) == sorted(panel.name for panel in done.bench.plan.panels.all)


def test_lines_in_two_areas_go_on_in_each_other() -> None:
    """Of 40 x 40 ft in quarters each takes 7.78 yd3; 5 yd3 reach 12 ft 9 in of 20, 4.96 yd3, and 2.82 are left."""
    across, along = (one.replace("60", "40").replace("30", "20") for one in (ACROSS, ALONG))
    text = SHED.replace("[60, 0], [60, 30], [0, 30]", "[40, 0], [40, 40], [0, 40]").replace("10 yd3", "5 yd3")
    done = poured(text + f"joints: [{across}, {along}]\n", 1)
    assert done.found and isinstance(done.pours, Parted) and done.pours.why is None
    needed = sorted(one.needed / YARD3 for one in done.pours.pours)
    assert needed == pytest.approx([2.82] * 4 + [4.96] * 4, abs=0.01)
    assert not [one for one in done.report.comments if one.rule == "joint-ends"]


def test_a_pour_names_the_joints_at_which_a_later_one_goes_on() -> None:
    """In quarters the upper left ends at both joints, the next two at one each, the last at none."""
    done = poured(SHED.replace("30]", "60]") + f"joints: [{ACROSS}, {ALONG}]\n", 2)
    assert isinstance(done.pours, Parted)
    assert [one.ends for one in done.pours.pours] == [("S1", "S2"), ("S2",), ("S1",), ()]


def test_pours_are_the_fewest_by_brute_force() -> None:
    """Every row of lines one behind the other on a floor of 90 ft, in strips of unlike volume, thick at one end."""
    text = SHED.replace("60, ", "90, ").replace(
        "thickness: {design: 6 in}",
        "points: {A: [90, 0], B: [90, 30]}\nthickness: {design: 6 in, thickened_edges: "
        "[{run: [A, B], depth: 14 in, width: 8 ft, taper: 2 ft}]}",
    )
    plan = poured(text, 100).bench.plan
    every = frozenset(panel.name for panel in plan.panels.all)
    volumes = dict(zip((panel.name for panel in plan.panels.all), plan.concrete.panel_volumes, strict=True))
    sides = sorted((stop.before for stop in stops_from(plan, (0.0, 0.0))), key=len)
    rows = [
        (frozenset[str](), *some, every)
        for size in range(len(sides) + 1)
        for some in combinations(sides, size)
        if all(one < other for one, other in pairwise((*some, every)))
    ]
    assert len(rows) > 32
    for most in (1, 2, 3, 5):
        worth = []
        for row in rows:
            needed = [1.05 * sum(volumes[name] for name in after - before) for before, after in pairwise(row)]
            trucks = [math.ceil(one / (10 * YARD3) - 1e-6) for one in needed]
            if max(trucks) <= most:
                over = max(n * 10 * YARD3 - one for n, one in zip(trucks, needed, strict=True))
                worth.append((len(needed), sum(trucks), round(over, 6)))
        load = Load(0.05, 10 * YARD3, most)
        found = lines_between(plan, load)
        if not worth:
            assert isinstance(found, Words)
            continue
        assert not isinstance(found, Words)
        made = [one._replace(kind="construction joint") if one.name in found else one for one in plan.design.joints]
        pours = pours_of(plan.edited(plan.design._replace(joints=tuple(made)), {"joints"}), load)
        assert (len(pours), sum(one.loads for one in pours), round(max(one.left for one in pours), 6)) == min(worth)


def test_pours_that_cannot_be_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A panel of 15 x 15 ft x 6 in takes 4.375 yd3 with its allowance, and a load of 2 brings it in no one load.

    Nor do whole loads: of 2 yd3 each reaches 3 ft 5 in of 30, and of 4 yd3 6 ft 10 in, round which a layout is found.
    """
    small = poured(SHED.replace("10 yd3", "2 yd3"), 1)
    assert not small.found and isinstance(small.pours, Words)
    assert plain(small.pours, "us", both=False) == (
        "panel P1 alone takes 4.38 yd3, more than one load of 2.00 yd3: no joint of the layout ends a pour soon "
        "enough; a larger truck or more loads a day do"
    )
    none = poured(SHED.replace("order: {truck: 10 yd3, allowance: 5 %}\n", ""), 2)
    assert isinstance(none.pours, Words) and "the file names no truck" in plain(none.pours, "us", both=False)
    path = tmp_path / "shed.slab.yaml"
    path.write_text(SHED)
    assert cli.main(["propose", "joints", str(path), "--loads", "2"]) == 0
    told_text = " ".join(capsys.readouterr().out.split())
    assert "19.93 yd3 with the allowance: 2 loads, used up" in told_text and "it ends at C1" in told_text
    assert cli.main(["propose", "joints", str(path), "--loads", "2", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)["pours"]
    assert [one["loads"] for one in told["pours"]] == [2, 2] and told["none"] is None
    assert sorted(one["used_up"] for one in told["pours"]) == [False, True] and told["on_lines_because"] is None
    with pytest.raises(SystemExit):
        cli.main(["propose", "joints", str(path), "--loads", "0"])


def test_limits_come_from_the_rules_in_force(tmp_path: Path) -> None:
    """A town that asks 20 thicknesses, 6 ft 8 in: 24 ft then takes four bays of 6 ft."""
    town = tmp_path / "town.yaml"
    town.write_text(
        "format: 1\nlayer: town\nname: Town of Larch Bend\namendments:\n"
        "  - {rule: panel-spacing, limit: preferred_thicknesses_at_most, value: '20', citation: sec. 4}\n",
        encoding="utf-8",
    )
    laid = limits.resolve(RULES, [limits.read_amendments(town, RULES)])
    done = propose(Path("a.slab.yaml"), GARAGE, RULES, laid, "us")
    assert done is not None and done.found
    assert {one[0] for one in ends_x(done)} == {6, 12, 18}


def ends_x(done: Proposal) -> set[tuple[float, ...]]:
    """Cuts that run across x."""
    return {one for one in ends(done) if one[0] == one[2]}


def test_construction_joints_and_pattern_lines_stay() -> None:
    drawn = """\
joints:
  - {name: K, kind: construction joint, from: [12, 0], to: [12, 24]}   # day two starts here
  - {name: J1, kind: tooled groove, from: [0, 11], to: [24, 11], depth: 1 in}
  - {name: looks, kind: pattern, from: [0, 5], to: [24, 5], depth: 3/8 in}
"""
    done = found(GARAGE + drawn)
    assert done.found and done.kept == ("K", "looks")
    after = yaml.safe_load(done.bench.text)["joints"]
    assert [one["name"] for one in after][:2] == ["K", "looks"]
    assert {one["kind"] for one in after[2:]} == {"tooled groove"}
    assert "# day two starts here" in done.bench.text
    assert {one[0] for one in ends_x(done)} == {6, 18}  # two halves of 12 ft, each of two bays


def test_a_slab_that_needs_no_joint_gets_none() -> None:
    done = found(GARAGE.replace("24", "9"))
    assert done.found and done.lines == () and done.typed == "joints: []"


# --- generated outlines ---


@pytest.mark.long
@pytest.mark.parametrize("number", range(12))
def test_generated_outlines_meet_every_rule_on_joints(number: int) -> None:
    """Each kind at least once; the verdict is that of the program's own review of the text that was written."""
    made = generated(number, seed=11)
    done, _ = proposed(made)
    assert done is not None and done.found, made
    design, questions = read_text(Path("a.slab.yaml"), done.bench.text)
    report = run.review(Plan(design), RULES, IN_FORCE, questions)
    heavy = [one for one in report.comments if one.group == "joints" and one.weight in ("hold", "caution")]
    assert heavy == []
    assert weighed(done.left) <= done.before
    ends_met = {end.meets for joint in done.bench.plan.joints.all for end in joint.ends}
    assert ends_met <= {"edge", "opening"}
    assert len(KINDS) <= 12


# --- the command ---


def test_the_command_writes_the_design_with_the_layout(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "g.slab.yaml", tmp_path / "g2.slab.yaml"
    path.write_text(GARAGE, encoding="utf-8")
    assert cli.main(["propose", "joints", str(path), "--out", str(out)]) == 0
    said = capsys.readouterr().out
    assert "joints:\n  - {name: J1, from: [8, 0], to: [8, 24], kind: saw cut, depth: 1 in}" in said
    assert "96'-0\"" in said and f"wrote {out}" in said
    assert out.read_text(encoding="utf-8").startswith(GARAGE)
    assert cli.main(["propose", "joints", str(path), "--out", str(out)]) == 2  # nothing is overwritten
    assert "there is a file of this name already" in capsys.readouterr().err


def test_the_command_as_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "g.slab.yaml"
    path.write_text(GARAGE, encoding="utf-8")
    assert cli.main(["propose", "joints", str(path), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["found"] and [one["name"] for one in data["joints"]] == ["J1", "J2", "J3", "J4"]
    assert data["before"] == {"holds": 1, "cautions": 0, "notes": 0}
    assert data["review"]["counts"]["holds"] == 0


def test_where_nothing_is_found_the_panel_and_the_rule_are_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A wedge 1 1/2 ft wide at one end, pointed at the other: panels there are slivers however it is cut."""
    path, out = tmp_path / "strip.slab.yaml", tmp_path / "out.slab.yaml"
    path.write_text(GARAGE.replace("[[0, 0], [24, 0], [24, 24], [0, 24]]", "[[0, 0], [1.5, 0], [12, 40]]"), "utf-8")
    assert cli.main(["propose", "joints", str(path), "--out", str(out)]) == 1
    said = " ".join(capsys.readouterr().out.split())
    assert "WHAT IS IN THE WAY" in said and "panel P" in said and "rule panel-" in said
    assert "a thicker slab" in said and "only where an engineer" in said
    assert not out.exists()


@pytest.mark.parametrize(
    ("arguments", "wrong"),
    [(["none.slab.yaml"], "none.slab.yaml"), (["g.slab.yaml", "--out", "g.yaml"], "ends in .slab.yaml")],
)
def test_what_cannot_be_read_or_written_is_2(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    arguments: list[str],
    wrong: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("g.slab.yaml").write_text(GARAGE, encoding="utf-8")
    assert cli.main(["propose", "joints", *arguments]) == 2
    assert wrong in capsys.readouterr().err


# --- put right ---


def test_put_right_takes_the_layout_where_remedies_leave_more() -> None:
    """A T of two joints and a long strip: the layout leaves none, and without --joints no line is touched."""
    bad = (
        L_PATIO
        + """\
joints:
  - {name: J1, kind: saw cut, from: [10, 0], to: [10, 3], depth: 1 in}
  - {name: J2, kind: saw cut, from: [0, 3], to: [30, 3], depth: 1 in}
  - {name: J3, kind: saw cut, from: [8, 3], to: [8, 30], depth: 1 in}
"""
    )
    path = Path("a.slab.yaml")
    done = put_right(path, bad, RULES, IN_FORCE, "us", ["joints"])
    left = [one for one in done.report.comments if one.group == "joints" and one.weight != "note"]
    assert left == []
    assert any(change.paths == ("joints",) for change in done.changes)
    untouched = put_right(path, bad, RULES, IN_FORCE, "us")
    assert yaml.safe_load(untouched.text)["joints"][2]["from"] == [8, 3]
