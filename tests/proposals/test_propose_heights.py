"""Proposed heights: cases worked by hand, linear programs against another solver, made-up sites judged by review."""

from __future__ import annotations

import json
import random
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from propose_sites import SHAPES, site
from scipy.optimize import linprog

pytest.importorskip("highspy")

from slabwright.cli import main as cli
from slabwright.proposals.heights import job as height_job
from slabwright.proposals.heights import other_folds, program
from slabwright.proposals.heights.earth import Earth, earth_of
from slabwright.proposals.heights.found import AS_DRAWN, ONE_PLANE
from slabwright.proposals.heights.job import Job, left, reviewed
from slabwright.proposals.heights.program import Row
from slabwright.proposals.heights.propose import Proposal, propose
from slabwright.proposals.put_right import put_right
from slabwright.review import reviewing
from slabwright.source.problem import UnreadableError

RULES, LIMITS = reviewing.in_force((), None)
FOOT = 0.3048


def job_of(text: str) -> Job:
    return height_job.job_of(Path("patio.slab.yaml"), text, RULES, LIMITS)


def patio(finish: str, size: str = "[20, 12]", more: str = "", edges: str = "") -> str:
    """A patio along the x axis with the house on A-B."""
    w, d = json.loads(size)
    return f"""format: 1
job: {{name: Made-up patio}}
units: {{plan: ft, height: ft}}
use: patio
points: {{A: [0, 0], B: [{w}, 0], C: [{w}, {d}], D: [0, {d}]}}
outline: [A, B, C, D]
edges:
  - {{run: [A, B], beside: building, name: house wall}}
{edges or "  - {rest: lawn, ground: 99.00, name: lawn}"}
heights:
  finish: {finish}  # as first drawn
{more}thickness: {{design: 4 in}}
"""


def proposed(done: Proposal, number: int = 0) -> dict[str, float]:
    """All heights of a proposal, ft."""
    spots = done.found[number].plan.design.heights.finish
    return {spot.at.name: round(spot.height.si / FOOT, 4) for spot in spots}


def test_a_patio_that_falls_to_the_house_is_turned_round_with_the_wall_side_kept() -> None:
    done = propose(job_of(patio("{A: 99.80, B: 99.80, C: 99.90, D: 99.90}")))
    # 2 % of 12 ft is 0.24 ft (the US dwelling code asks 2 % off the wall): 99.80 - 0.24 = 99.56
    assert proposed(done) == {"A": 99.80, "B": 99.80, "C": 99.56, "D": 99.56}
    assert done.clash is None
    assert {point.by for point in done.found[0].points} == {"2 % away from house wall"}
    assert done.found[0].least == pytest.approx(0.02, abs=1e-6)
    assert "# as first drawn" in done.found[0].text


LEG = patio("{A: 100, B: 100, C: 99.92, D: 99.92, E: 99.88, F: 99.88}", "[14, 10]").replace(
    "D: [0, 10]}\noutline: [A, B, C, D]", "D: [8, 10], E: [8, 14], F: [0, 14]}\noutline: [A, B, C, D, E, F]"
)


def test_a_slab_drawn_in_one_plane_stays_in_one() -> None:
    """The leg lies beyond the 10 ft that must fall 2 %, and one of its corners could stay: it would fold the leg."""
    done = propose(job_of(LEG))
    assert proposed(done) == {"A": 100, "B": 100, "C": 99.8, "D": 99.8, "E": 99.72, "F": 99.72}
    assert done.found[0].folds == ONE_PLANE


def test_of_two_ways_to_put_right_the_one_with_fewer_changes_is_taken() -> None:
    """The fall off the wall and the fall at all are two comments, and one set of heights settles both."""
    done = put_right(Path("leg.slab.yaml"), LEG, RULES, LIMITS, "us", ("heights",))
    assert not left(done.report)
    assert [len(change.paths) for change in done.changes] == [4, 1]  # the lawn a foot down is raised besides


def test_forty_feet_along_a_wall_fall_two_percent_over_twelve() -> None:
    done = propose(job_of(patio("{A: 99.90, B: 99.90, C: 99.90, D: 99.90}", "[40, 12]")))
    assert proposed(done) == {"A": 99.90, "B": 99.90, "C": 99.66, "D": 99.66}  # 12 x 0.02 = 0.24


def test_what_a_valley_saves_across_its_own_fall_takes_along() -> None:
    """12 by 40 ft along a wall at 2 %: one plane digs 0.24 ft at the far side, 0.12 on the mean: 2.13 yd3.

    A valley at mid-width digs half of it and saves 1.07 yd3. The whole section falling 1 % along it on level ground
    is 0.4 ft at the end, 0.2 on the mean: 0.2 x 480 / 27 = 3.56 yd3 more; at 2 % twice that, 7.11.
    """
    level = job_of(patio("{A: 99.90, B: 99.90, C: 99.90, D: 99.90}", "[40, 12]"))
    plane = job_of(patio("{A: 99.90, B: 99.90, C: 99.66, D: 99.66}", "[40, 12]")).plan

    def valley(fall: float) -> Earth:
        ends = f"A: 99.90, B: {99.90 - 40 * fall}, C: {99.90 - 40 * fall}, D: 99.90"
        low = f"V: 99.78, W: {99.78 - 40 * fall}"
        line = "  lines: [{name: new valley, kind: valley, along: [V, W]}]\n"
        text = patio(f"{{{ends}, {low}}}", "[40, 12]", line).replace("D: [0, 12]", "D: [0, 12], V: [0, 6], W: [40, 6]")
        return earth_of(level._replace(added=("V", "W")), job_of(text).plan)

    yard = (3 * FOOT) ** 3
    one, across = earth_of(level, plane), valley(0.0)
    assert one.dug / yard == pytest.approx(2.133, abs=1e-3) and one.filled == pytest.approx(0.0, abs=1e-9)
    assert (one.dug - across.dug) / yard == pytest.approx(1.07, abs=0.005)
    assert (valley(0.01).dug - across.dug) / yard == pytest.approx(3.56, abs=0.005)
    assert valley(0.01).own_fall / yard == pytest.approx(3.56, abs=0.005)
    assert valley(0.02).own_fall / yard == pytest.approx(7.11, abs=0.005)


def test_heights_that_pass_are_left_alone() -> None:
    done = propose(job_of(patio("{A: 99.80, B: 99.80, C: 99.56, D: 99.56}")))
    assert done.kept and done.clash is None and not done.found[0].points


CLASH = patio(
    "{A: 99.90, B: 99.90, C: 100.05, D: 100.05}",
    edges="  - {run: [C, D], beside: existing slab, name: garden walk, ground: 100.05, takes_water: true}\n"
    "  - {rest: property line, name: lot line, takes_water: false}",
    more="fixed:\n"
    "  - {name: house sill, kind: sill, along: [A, B], height: 100.00, slab: at least 1 in below}\n"
    "  - {name: garden walk height, kind: slab, along: [C, D], height: 100.05, slab: level}\n",
)


def test_a_clash_is_told_with_its_gap_and_the_cheapest_change() -> None:
    done = propose(job_of(CLASH))
    # slab at the wall: 100 ft - 1 in = 99.9167 at most; at the walk 100.05; 12 ft at 2 % fall 0.24 ft:
    # 100.05 + 0.24 - 99.9167 = 0.3733 ft = 4.48 in
    assert done.found == ()
    assert done.clash is not None
    assert set(done.clash.groups) == {"house sill", "garden walk height", "2 % away from house wall"}
    assert done.clash.short == pytest.approx((100.05 + 0.24 - 100 + 1 / 12) * FOOT, abs=1e-5)
    assert done.clash.proven
    assert done.clash.change is not None
    assert done.clash.change.name == "garden walk height"  # sooner than the sill
    assert done.clash.change.by == pytest.approx(-done.clash.short, abs=1e-4)
    # the walk lies higher than the slab at the wall may: the slab falls back to the house on any folds
    assert done.clash.on_any_folds


def test_other_folds_are_tried_only_where_they_might_do_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The walk at 99.85 ft, 9 ft out: from 99.917 ft at most by the wall that leaves 0.067 ft, 0.74 % off the wall."""
    tried: list[str] = []
    searched = other_folds._searched
    monkeypatch.setattr(other_folds, "_searched", lambda job, kind: tried.append(kind) or searched(job, kind))
    done = propose(job_of(CLASH.replace("100.05", "99.85").replace(", 12]", ", 9]")))
    assert done.clash is not None and not done.clash.on_any_folds and tried == ["valley"]
    tried.clear()
    propose(job_of(CLASH))
    assert tried == []


def test_the_clash_in_words(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design = tmp_path / "patio.slab.yaml"
    design.write_text(CLASH, encoding="utf-8")
    assert cli.main(["propose", "heights", str(design)]) == 1
    told = " ".join(capsys.readouterr().out.split())
    assert "cannot all hold: short by 4 1/2 in" in told
    assert "bring garden walk height down by 4 1/2 in" in told
    assert cli.main(["propose", "heights", str(design), "--json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["clash"]["proven"] is True and data["proposals"] == []


def test_room_left_at_a_sill() -> None:
    more = "fixed:\n  - {name: house sill, kind: sill, along: [A, B], height: 100.00, slab: at least 1 in below}\n"
    edges = (
        "  - {run: [C, D], beside: street, name: lane, ground: 99.30}\n  - {rest: property line, takes_water: false}"
    )
    done = propose(job_of(patio("{A: 99.90, B: 99.90, C: 99.90, D: 99.90}", more=more, edges=edges)))
    rooms = {room.name: room for room in done.found[0].rooms}
    # the slab at the wall stands 2 % of 12 ft above the lane (99.54) at least, which keeps street water out too: the
    # sill 1 in above that, 99.6233, so it could come down by 0.3767 ft
    assert rooms["house sill"].down == pytest.approx((100 - 1 / 12 - 99.54) * FOOT, abs=2e-4)
    assert rooms["house sill"].up == pytest.approx(program.FAR)


def test_the_command_writes_a_copy_that_passes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    design, out = tmp_path / "patio.slab.yaml", tmp_path / "patio_2.slab.yaml"
    design.write_text(patio("{A: 99.80, B: 99.80, C: 99.90, D: 99.90}"), encoding="utf-8")
    assert cli.main(["propose", "heights", str(design), "--out", str(out)]) == 0
    assert "99.56 ft" in capsys.readouterr().out
    assert cli.main(["propose", "heights", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["nothing_has_to_move"] is True
    assert cli.main(["propose", "heights", str(design), "--out", str(out)]) == 2  # nothing is overwritten
    assert cli.main(["propose", "heights", str(tmp_path / "none.slab.yaml")]) == 2


def test_without_the_solver_it_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    import sys

    program.solver.cache_clear()
    monkeypatch.setitem(sys.modules, "highspy", None)
    with pytest.raises(UnreadableError, match=r"highspy") as caught:
        propose(job_of(CLASH))
    assert caught.value.problems[0].write == "pip install 'slabwright[propose]'"
    program.solver.cache_clear()


def test_corners_without_heights_are_asked_for() -> None:
    with pytest.raises(UnreadableError, match="no height is given at D"):
        propose(job_of(patio("{A: 99.80, B: 99.80, C: 99.90}")))


def test_heights_are_written_in_the_step_of_the_file() -> None:
    metric = patio("{A: 30.000, B: 30.000, C: 30.005, D: 30.005}").replace("plan: ft, height: ft", "plan: m, height: m")
    metric = metric.replace("99.00", "29.000").replace("[20, 0]", "[6, 0]").replace("[20, 12]", "[6, 3.6]")
    metric = metric.replace("[0, 12]", "[0, 3.6]")
    done = propose(job_of(metric))
    new = [spot.height.si for spot in done.found[0].plan.design.heights.finish]
    assert done.step == 0.005
    assert new == pytest.approx([round(z / 0.005) * 0.005 for z in new], abs=1e-9)
    assert done.found[0].least >= 1 / 80 * 0.95  # 1:80 where no code is named, less the twentieth that the rule gives


def differences(rng: random.Random, points: int, count: int) -> list[Row]:
    """Random rows z[i] - z[j] >= least, a few of each group."""
    rows = []
    for number in range(count):
        i, j = rng.sample(range(points), 2)
        terms = np.zeros(points)
        terms[i], terms[j] = 1.0, -1.0
        rows.append(Row(f"group {number % 6}", "asked", terms, round(rng.uniform(-0.4, 0.3), 3)))
    return rows


def feasible(rows: list[Row], points: int) -> bool:
    """The other opinion: scipy's linear programming."""
    matrix, least = -np.array([row.terms for row in rows]), -np.array([row.least for row in rows])
    free = [(None, None)] * points
    return bool(linprog(np.zeros(points), A_ub=matrix, b_ub=least, bounds=free).status == 0) if rows else True


def test_two_solvers_agree_on_what_is_feasible() -> None:
    rng = random.Random(7)
    seen = set()
    for _ in range(200):
        points = rng.randint(3, 8)
        rows = differences(rng, points, rng.randint(3, 14))
        expected = feasible(rows, points)
        assert program.feasible(rows, np.zeros(points)) is expected
        seen.add(expected)
    assert seen == {True, False}


def test_the_smallest_clash_is_the_smallest_by_brute_force() -> None:
    rng, clashes = random.Random(11), 0
    for _ in range(20):
        points = rng.randint(3, 5)
        rows = differences(rng, points, 12)
        found = program.smallest_clash(rows, np.zeros(points))
        names = sorted({row.group for row in rows})
        sizes = [
            size
            for size in range(1, len(names) + 1)
            if any(not feasible(program.of_groups(rows, one), points) for one in combinations(names, size))
        ]
        assert len(found) == min(sizes, default=0)
        if found:
            clashes += 1
            assert not feasible(program.of_groups(rows, found), points)
    assert clashes > 8


def test_the_least_movement_is_that_of_another_solver() -> None:
    rng = random.Random(3)
    compared = 0
    for _ in range(40):
        points = rng.randint(3, 7)
        rows = differences(rng, points, 8)
        if not feasible(rows, points):
            continue
        drawn = np.array([rng.uniform(-0.2, 0.2) for _ in range(points)])
        ours = program.least_moved(rows, drawn, program.Costs(np.ones(points), np.ones(points)), elastic=False)
        assert ours is not None
        matrix = np.array([row.terms for row in rows])
        least = np.array([row.least for row in rows]) - matrix @ drawn
        theirs = linprog(np.ones(2 * points), A_ub=-np.hstack([matrix, -matrix]), b_ub=-least)
        assert np.abs(ours.z - drawn).sum() == pytest.approx(theirs.fun, abs=1e-6)
        compared += 1
    assert compared > 5


@pytest.mark.long
@pytest.mark.parametrize("seed", range(len(SHAPES)))
def test_made_up_sites_get_heights_that_the_review_passes(seed: int) -> None:
    hidden = job_of(site(seed, noise=0.0).text)
    assert left(reviewed(hidden, hidden.plan)) == ()  # there is a surface to be found
    done = propose(job_of(site(seed).text))
    again = job_of(done.found[0].text)
    assert done.found[0].folds == AS_DRAWN
    assert left(reviewed(again, again.plan)) == ()


def test_put_right_takes_proposed_heights_where_remedies_leave_more() -> None:
    text = site(27).text  # a bowl with one side too high: no remedy turns a whole slab
    before = left(reviewed(job_of(text), job_of(text).plan))
    done = put_right(Path("bowl.slab.yaml"), text, RULES, LIMITS, "us", ["heights"])
    assert before and not left(done.report)
    assert any("heights.finish.R" in change.paths for change in done.changes)
    alone = put_right(Path("bowl.slab.yaml"), text, RULES, LIMITS, "us", [])
    places = [place for n in left(alone.report) for place in alone.report.comments[n - 1].places]
    assert len(places) == len(before)  # heights are moved only where they are asked for


def test_a_court_drawn_without_a_valley_gets_one() -> None:
    text = patio(
        "{A: 99.80, B: 99.80, C: 99.40, D: 99.40}",
        "[14, 16]",
        edges="  - {run: [B, C], beside: building, name: right wing}\n"
        "  - {run: [D, A], beside: building, name: left wing}\n"
        "  - {rest: lawn, name: lawn, ground: 98.70}",
    )
    done = propose(job_of(text))
    assert done.clash is not None and not done.clash.proven  # on the folds drawn; a person may draw others
    best = done.found[0]
    assert best.folds.startswith("a valley from")
    (line,) = best.plan.design.heights.lines
    # 2 % off both wings: the valley in the middle of 14 ft lies at least 0.14 ft under both at its low end
    low = line.along[-1]
    ends = {spot.at.name: spot.height.si / FOOT for spot in best.plan.design.heights.finish}
    assert ends[low.name] <= min(ends["C"], ends["D"]) - 0.02 * min(low.x, 14 * FOOT - low.x) / FOOT * 0.95
    assert left(best.report) == ()


@pytest.mark.parametrize("seed", [0, 4, 9])
def test_heights_fold_one_way_where_they_can(seed: int) -> None:
    """Each piece between four corners lies within 1/4 in of a plane, so the two ways to fold it are one."""
    done = propose(job_of(site(seed).text))
    plan = done.found[0].plan
    assert plan.finish.folds
    for fold in plan.finish.folds:
        assert abs(fold.height - fold.other_height) <= 0.25 * 0.0254 + 1e-9
    assert not any(one.rule == "four-corner-warp" for one in done.found[0].report.comments)
