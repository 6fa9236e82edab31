"""Remedies are applied and judged again: what is told to make a comment pass does, and brings nothing heavier."""

from __future__ import annotations

from pathlib import Path

import corpus
import pytest
from example_reviews import IN_FORCE, JOBS, RULES, bench_of, example
from slabwright.design.read import read_text
from slabwright.plan.grades import NewHeight
from slabwright.plan.plan import Plan
from slabwright.review import remedies, trials
from slabwright.review.concluding import conclude
from slabwright.review.one_height import heights_of, merged
from slabwright.review.report import Comment, Conclusions
from slabwright.review.trials import Bench, Outcome
from slabwright.rulebook.remedy import Append, set_heights, together, write
from slabwright.text.words import plain, words
from slabwright.units.quantity import Kind, read, share


def comments_of(rule: str) -> tuple[Bench, list[Comment]]:
    path = example(rule, "falls_short")
    bench, report = bench_of(path, path.read_text(encoding="utf-8"))
    return bench, [comment for comment in report.comments if comment.rule == rule]


@pytest.mark.long
@pytest.mark.parametrize("rule", [rule.name for rule in RULES])
def test_every_comment_of_an_example_has_a_remedy_that_holds_or_leaves_it_to_a_person(rule: str) -> None:
    bench, comments = comments_of(rule)
    assert comments
    for comment in comments:
        outcomes = [trials.tried(remedy, comment, bench).outcome for remedy in comment.remedies]
        assert Outcome.HOLDS in outcomes or comment.decide is not None, outcomes
        assert Outcome.UNTRIED not in outcomes


@pytest.mark.long
@pytest.mark.parametrize("rule", [rule.name for rule in RULES])
def test_what_is_told_to_make_a_comment_pass_does(rule: str) -> None:
    """Of all comments of an example: what stands under "to pass" as tried makes them go."""
    bench, comments = comments_of(rule)
    _, report = bench_of(bench.path, bench.text)
    for comment in remedies.advised(report._replace(comments=tuple(comments)), bench).comments:
        if comment.tried:
            (remedy,) = comment.remedies
            assert trials.tried(remedy, comment, bench).outcome is Outcome.HOLDS


@pytest.mark.long
@pytest.mark.parametrize("rule", [rule.name for rule in RULES])
def test_the_sentence_tells_the_numbers_that_its_edits_write(rule: str) -> None:
    """Of heights that all move alike it may tell by how much."""
    _, comments = comments_of(rule)
    for comment in comments:
        for remedy in comment.remedies:
            told = {round(value.si, 9) for value in remedy.says.values.values() if hasattr(value, "si")}
            written = [edit.value for edit in remedy.edits if hasattr(getattr(edit, "value", None), "si")]
            heights = len(written) > 1 and all(value.kind is Kind.HEIGHT for value in written)
            if heights and "to1" not in remedy.says.values:
                assert told
                continue
            assert all(round(value.si, 9) in told for value in written), remedy


def test_an_edit_that_does_not_fit_the_file_is_not_tried() -> None:
    bench, (comment, *_) = comments_of("freezing-air")
    stray = write("outline[9].air", share(0.06), words("order air"))
    assert trials.tried(stray, comment, bench).outcome is Outcome.UNTRIED


def test_a_remedy_that_leaves_its_comment_fails() -> None:
    bench, (comment, *_) = comments_of("freezing-air")
    less = write("mix.air", share(0.01), words("order {a} air", a=share(0.01)))
    assert trials.tried(less, comment, bench).outcome is Outcome.FAILS


def test_advice_is_what_holds_and_says_so() -> None:
    bench, (comment, *_) = comments_of("freezing-air")
    bad = write("mix.air", share(0.01), words("order {a} air", a=share(0.01)))
    _, report = bench_of(bench.path, bench.text)
    both = report._replace(comments=(comment._replace(remedies=(bad, *comment.remedies)),))
    (advised,) = remedies.advised(both, bench).comments
    assert advised.tried and advised.to_pass == comment.remedies[0].says


def test_of_ways_that_bring_something_the_one_that_brings_least_is_told() -> None:
    """Weak concrete where it freezes hard is one comment that comes, stiff concrete another: both are more than one."""
    bench, (comment, *_) = comments_of("freezing-air")
    _, report = bench_of(bench.path, bench.text)
    air = comment.remedies[0]
    weak = write("mix.strength", read("3000 psi", Kind.STRESS), words("order 3000 psi"))
    stiff = write("mix.slump", read("2 in", Kind.DEPTH), words("order 2 in"))
    both, one = (together(air, *more, says=words(says)) for more, says in (((weak, stiff), "both"), ((stiff,), "one")))
    burdens = [trials.tried(way, comment, bench).burden for way in (both, one)]
    assert burdens[0] > burdens[1] > (0, 0, 0)

    for order in ((both, one), (one, both)):
        asked = report._replace(comments=(comment._replace(remedies=order),))
        (advised,) = remedies.advised(asked, bench).comments
        assert advised.remedies == (one,)


HILL = """\
format: 1
job: {name: Hill drive}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [10, 0], C: [10, 50], D: [0, 50], L: [0, 10], R: [10, 10], M: [0, 40], N: [10, 40]}
outline: [A, B, R, N, C, D, M, L]
edges: [{run: [A, B], beside: street}, {rest: lawn, takes_water: true}]
heights:
  finish: {A: 100, B: 100, L: 100.7, R: 100.7, M: 107.9, N: 107.9, C: 108.6, D: 108.6}
  lines: [{kind: grade break, along: [L, R]}, {kind: grade break, along: [M, N]}]
thickness: {design: 5 in}
"""


def test_a_fall_that_is_only_handed_on_to_the_next_part_is_no_advice(tmp_path: Path) -> None:
    """7 %, 24 % and 7 %: with the middle brought to 15 % by its upper or its lower end a neighbor falls 34 %."""
    bench, report = bench_of(tmp_path / "hill.slab.yaml", HILL)
    (steep,) = (one for one in report.comments if one.limit.name == "driveway_at_most")
    assert steep.remedies
    assert {trials.tried(remedy, steep, bench).outcome for remedy in steep.remedies} <= {
        Outcome.TRADES,
        Outcome.FAILS,
    }
    told = next(one for one in remedies.advised(report, bench).comments if one.number == steep.number)
    assert plain(told.to_pass, "us").startswith("let the part between")


def test_filler_is_advised_where_it_makes_another_rule_needless(tmp_path: Path) -> None:
    """With filler at the old slab the joints need not line up with those of it."""
    path = corpus.sound()["lake_country_patio"].with_name("old.slab.yaml")
    text = (
        "format: 1\njob: {name: Old}\nunits: {plan: ft, height: ft}\nuse: patio\n"
        "points: {A: [0, 0], B: [12, 0], C: [12, 10], D: [0, 10]}\noutline: [A, B, C, D]\n"
        "edges:\n  - {run: [D, A], beside: existing slab, name: old patio, "
        "existing_joints: [[0, 5]], isolation: none}\n"
        "  - {rest: lawn, takes_water: true}\n"
        "thickness: {design: 4 in}\njoints: [{kind: saw cut, from: [0, 5], to: [12, 5], depth: 1 in}]\n"
    )
    bench, report = bench_of(path, text)
    (bare,) = (one for one in report.comments if one.rule == "isolation-full-depth")
    assert trials.tried(bare.remedies[0], bare, bench).outcome is Outcome.HOLDS


def test_a_finish_that_settles_what_another_rule_says_too_is_advised(tmp_path: Path) -> None:
    """A barn aisle was troweled with 6 % of air in it: broomed it is neither slick nor is its air too much."""
    path = corpus.sound()["barn_aisle_between_stalls"]
    text = path.read_text(encoding="utf-8").replace("finish: coarse broom", "finish: trowel")
    bench, report = bench_of(path, text)
    told = {one.rule: plain(one.to_pass, "us") for one in remedies.advised(report, bench).comments}
    assert set(told) == {"air-in-troweled-floor", "finish-on-slope"}
    assert told["finish-on-slope"] == "finish it with a broom"


def test_what_a_person_would_decide_is_told_in_heights_where_another_rule_has_them() -> None:
    """A stoop that falls 5 % before a door, 3 % at most: what brings it to 2.5 % as a patio settles the landing too."""
    fault = next(one for one in corpus.faults() if one.name == "stoop steep before the front door")
    bench, report = bench_of(corpus.sound()[fault.design], corpus.text_with(fault))
    landing, patio = remedies.advised(report, bench).comments[:2]
    assert (landing.rule, patio.rule, patio.settled_by) == ("door-landing", "greatest-fall", landing.number)
    told = {edit.path: edit.value.si / 0.3048 for edit in landing.remedies[0].edits}
    assert told == {f"heights.finish.{name}": pytest.approx(-0.25) for name in "CD"}  # 2.5 % of 5 ft are 1 1/2 in


def test_a_stall_beside_a_lane_is_made_flatter_from_its_far_side(tmp_path: Path) -> None:
    """The lane stands where it is: 3 % down to it over 18 ft, 0.54 ft, come down to 1.5 %, 0.27 ft, at the far edge."""
    text = (
        "format: 1\njob: {name: Lot}\nunits: {plan: ft, height: ft}\nuse: vehicle pad\n"
        "points: {A: [0, 0], B: [20, 0], C: [20, 18], D: [0, 18]}\noutline: [A, B, C, D]\n"
        "stalls: [{corners: [[0, 0], [8, 0], [8, 18], [0, 18]]}]\n"
        "edges: [{run: [A, B], beside: asphalt, name: lane, ground: 100}, {rest: lawn, takes_water: true}]\n"
        "heights: {finish: {A: 100, B: 100, C: 100.54, D: 100.54}}\nthickness: {design: 5 in}\n"
    )
    bench, report = bench_of(tmp_path / "lot.slab.yaml", text)
    told = next(one for one in remedies.advised(report, bench).comments if one.rule == "stall-slope")
    assert plain(told.to_pass, "us", both=False).replace("about ", "").startswith("lower C by 3 1/4 in, to 100.27 ft")


CURVED = """\
format: 1
job: {name: Walk round the pond, pour: 2026-05-12}
units: {plan: ft, height: ft}
use: walk
points: {A: [16, 0], B: [20, 0], C: [0, 20], D: [0, 16], M: [14.142136, 14.142136], N: [11.313708, 11.313708]}
outline: [A, B, {arc_to: C, through: M}, D, {arc_to: A, through: N}]
thickness: {design: 4 in}
"""


def test_a_curved_walk_is_cut_along_its_middle_and_its_faults_are_told_once(tmp_path: Path) -> None:
    """A quarter of a ring, 16 and 20 ft in radius: 28.27 ft along its middle, six bays of 4.71 ft (pi / 2 x 18 ft)."""
    bench, report = bench_of(tmp_path / "curved.slab.yaml", CURVED)
    comments = [one for one in remedies.advised(report, bench).comments if one.at.name == "panel P1"]
    first, *others = comments
    bays, bay = first.to_pass.values["n"], first.to_pass.values["bay"]
    assert (getattr(bays, "si", 0), getattr(bay, "si", 0)) == (6, pytest.approx(1.4363, abs=2e-3))
    assert {one.rule for one in comments} == {"panel-aspect", "panel-spacing", "walk-joints"}
    assert [one.settled_by for one in comments] == [None, *[first.number] * len(others)]
    trial = trials.tried(first.remedies[0], first, bench)
    for edit in first.remedies[0].edits:  # every cut runs along a radius
        (x0, y0), (x1, y1) = ((value[0].si, value[1].si) for key, value in edit.entry if key in ("from", "to"))
        assert x0 * y1 - y0 * x1 == pytest.approx(0, abs=0.02)
    assert (trial.outcome, trial.brings) == (Outcome.HOLDS, ())


@pytest.mark.parametrize(
    "text", ["1 1/4 in", "12 ft 6 in", "6 %", "4000 psi", "0.45", "10 yd3", "55 °F", "7 days", "150 pci", "1:48"]
)
def test_a_written_value_reads_back_as_it_was(text: str) -> None:
    bench, _ = comments_of("freezing-air")
    kinds = {
        "1 1/4 in": Kind.DEPTH, "12 ft 6 in": Kind.LENGTH, "6 %": Kind.SHARE, "4000 psi": Kind.STRESS,
        "0.45": Kind.RATIO, "10 yd3": Kind.VOLUME, "55 °F": Kind.TEMPERATURE, "7 days": Kind.DURATION,
        "150 pci": Kind.SUBGRADE, "1:48": Kind.SLOPE,
    }  # fmt: skip
    value = read(text, kinds[text])
    written = trials.as_written(value, bench.plan.design).strip("'")
    assert read(written, kinds[text]).si == pytest.approx(value.si, rel=1e-3)


def test_wheels_that_are_too_heavy_are_one_thing_to_settle() -> None:
    """The way that lasts leads, with what has to be ordered for it."""
    drive = """format: 1
job: {name: Bin drive}
units: {plan: ft, height: ft}
use: driveway
points: {A: [0, 0], B: [24, 0], C: [24, 12], D: [0, 12]}
outline: [A, B, C, D]
edges: [{run: [B, C], beside: street, wheels_cross: true}, {rest: lawn}]
heights: {finish: {A: 100.0, D: 100.0, B: 99.5, C: 99.5}}
thickness: {design: 4 in}
joints: [{name: J1, kind: saw cut, from: [12, 0], to: [12, 12], depth: 1 in}]
loads: [{vehicle: refuse truck, axle: 20000 lb, wheels_per_axle: 4, tire_pressure: 100 psi}]
mix: {strength: 4000 psi}
"""
    for order in ("", "order: {volume: 4 yd3}\n"):
        bench, report = bench_of(Path("drive.slab.yaml"), drive + order)
        told = {one.rule: one for one in remedies.advised(report, bench).comments}
        wheels, thin, edge = (told[one] for one in ("wheel-load", "least-thickness", "thickened-edge-under-wheels"))

        assert (thin.settled_by, edge.settled_by, wheels.settled_by) == (wheels.number, wheels.number, None)
        assert wheels.tried
        assert ("ordered" in wheels.to_pass.values) is bool(order)


@pytest.mark.parametrize(
    ("order", "settled", "told"),
    [
        # 400 ft2: 4.32 yd3 at 3 1/2 in and 4.94 at 4, with 5 % 5.19; 1.2 times 4.94 is 5.93 (common practice)
        ("5.75 yd3", True, ""),
        ("6.5 yd3", False, "with number 1 done, order 5.25 yd3, or say what the rest is for"),
        ("4.75 yd3", False, ""),
    ],
)
def test_no_less_is_ordered_for_a_slab_that_has_to_be_thicker(order: str, settled: bool, told: str) -> None:
    text = (
        "format: 1\njob: {name: Drive}\nunits: {plan: ft, height: ft}\nuse: driveway\n"
        "points: {A: [0, 0], B: [20, 0], C: [20, 20], D: [0, 20]}\noutline: [A, B, C, D]\n"
        f"thickness: {{design: 3 1/2 in}}\norder: {{volume: {order}}}\n"
    )
    bench, report = bench_of(Path("drive.slab.yaml"), text)
    comments = {one.rule: one for one in remedies.advised(report, bench).comments}
    thin, much = comments["least-thickness"], comments.get("ordered-volume")
    assert (thin.number, thin.settled_by) == (1, None)
    if not settled and not told:
        assert much is None
        return
    assert much is not None
    assert (much.settled_by == 1) is settled
    if told:
        assert plain(much.to_pass, "us", both=False) == told


def test_what_only_makes_the_order_short_tells_what_to_order() -> None:
    """20 x 12 x 0.5 ft are 4.44 yd3; a quarter more of 6 in along 20 ft, back over 3 ft, is a wedge of 0.14 yd3.

    With 5 % that is 4.81 yd3, rounded up to the next quarter: 5 yd3.
    """
    text = (
        "format: 1\njob: {name: Yard}\nunits: {plan: ft, height: ft}\nuse: vehicle pad\n"
        "points: {A: [0, 0], B: [20, 0], C: [20, 12], D: [0, 12]}\noutline: [A, B, C, D]\n"
        "edges: [{run: [A, B], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]\n"
        "thickness: {design: 6 in}\norder: {volume: 4.65 yd3}\n"
        "loads: [{vehicle: van, axle: 4500 lb, wheels_per_axle: 2, tire_pressure: 65 psi, near_edge: true}]\n"
    )
    bench, report = bench_of(Path("yard.slab.yaml"), text)
    (told,) = [one for one in remedies.advised(report, bench).comments if one.rule == "thickened-edge-under-wheels"]
    assert plain(told.to_pass, "us", both=False) == (
        "make this slab 7 1/2 in deep along lane, brought back to 6 in over 3 ft, and order 5.00 yd3"
    )
    assert told.tried


@pytest.mark.parametrize("slab", ["6 in", "7 1/2 in"])  # a quarter more of the slab is less, and more, than wheels ask
def test_an_edge_that_heavy_wheels_cross_is_told_one_depth(slab: str) -> None:
    text = (
        "format: 1\njob: {name: Yard}\nunits: {plan: ft, height: ft}\nuse: vehicle pad\n"
        "points: {A: [0, 0], B: [20, 0], C: [20, 10], D: [0, 10]}\noutline: [A, B, C, D]\n"
        "edges: [{run: [A, B], beside: gravel, name: lane, wheels_cross: true}, {rest: lawn}]\n"
        f"thickness: {{design: {slab}}}\nmix: {{strength: 4000 psi}}\n"
        "loads: [{vehicle: truck, axle: 16000 lb, wheels_per_axle: 4, tire_pressure: 90 psi, near_edge: true}]\n"
    )
    bench, report = bench_of(Path("yard.slab.yaml"), text)
    told = {one.rule: one for one in remedies.advised(report, bench).comments if one.group == "thickness"}
    deep = {
        str(dict(edit.entry)["depth"])
        for one in told.values()
        for edit in (one.remedies[0].edits if one.settled_by is None else ())
        if isinstance(edit, Append)
    }
    assert set(told) >= {"thickened-edge-under-wheels", "wheel-load"}
    assert len(deep) == 1


@pytest.mark.parametrize(
    ("slip", "waits"),
    [  # the later waits for the first, since each moves a point its own way
        ("top of the drive runs back to the door", ["grade-break"]),
        ("walk through the approach tilts", ["trip-at-existing-slab", "trip-at-existing-slab"]),
    ],
)
def test_no_point_is_given_two_heights(slip: str, waits: list[str]) -> None:
    fault = next(one for one in corpus.faults() if one.name == slip)
    bench, report = bench_of(corpus.sound()[fault.design], corpus.text_with(fault))
    told = remedies.advised(report, bench).comments
    given: dict[str, set[float]] = {}
    for one in told:
        for name, height in heights_of(one).items():
            given.setdefault(name, set()).add(round(height.si, 6))
    assert given and all(len(heights) == 1 for heights in given.values())
    assert [one.rule for one in told if one.to_pass.template.startswith("do first what number")] == waits


def test_heights_that_move_one_way_are_one_remedy() -> None:
    """The farther of two heights clears both comments; a point that one raises and the other lowers has no height."""
    path = corpus.sound()["nook_patio"]
    design, _ = read_text(path, path.read_text(encoding="utf-8"))
    (a, z_a), (b, z_b) = ((spot.at.name, spot.height.si) for spot in design.heights.finish[:2])
    low = set_heights([NewHeight(a, z_a, z_a - 0.02)])[0]
    lower = set_heights([NewHeight(a, z_a, z_a - 0.05), NewHeight(b, z_b, z_b + 0.01)])[0]
    both = merged(low, lower, design)
    assert both is not None and both.edits == lower.edits
    assert merged(lower, low, design) == both
    assert merged(set_heights([NewHeight(a, z_a, z_a + 0.02)])[0], lower, design) is None


def told_of(seen: Conclusions) -> list[object]:
    """What is concluded, wherever in the file it stands."""
    found = [(rule.name, at.name, shown.si, limit.name, limit.weight)
             for rule, (at, _, shown, limit, *_) in seen.found]  # fmt: skip
    met = [(one.rule, one.at and one.at.name, one.shown and one.shown.si, one.slack) for one in seen.met]
    return [found, met, [(one.rule, one.add) for one in seen.not_shown], seen.does_not_apply, seen.crashes]


def test_a_remedy_is_judged_as_a_design_that_nobody_has_seen_before() -> None:
    """Rules that looked at nothing an edit changes are not asked again; here they are, on the whole plan made anew.

    Of all remedies of one long job and of slips in sound designs, one of each set of sections that remedies change; the
    same on top of the design with the one before in it.
    """
    trailer_bay = next(path for path in JOBS if path.name.startswith("trailer_bay."))
    texts = [(trailer_bay, trailer_bay.read_text(encoding="utf-8"))]
    texts += [(corpus.sound()[one.design], corpus.text_with(one)) for one in corpus.faults()[::40]]
    seen: set[tuple[Path, frozenset[str]]] = set()
    for path, text in texts:
        bench, report = bench_of(path, text)
        near = bench
        for remedy in (one for comment in report.comments for one in comment.remedies if one.edits):
            if (path, remedy.sections) in seen or (applied := trials.apply(remedy, bench)).now is None:
                continue
            seen.add((path, remedy.sections))
            assert applied.text is not None
            anew = Conclusions()
            conclude([(Plan(read_text(path, applied.text)[0]), anew)], RULES, IN_FORCE)
            assert told_of(applied.now) == told_of(anew), remedy.says
            on_top = trials.apply(remedy, bench, near).now
            assert on_top is not None and told_of(on_top) == told_of(anew), remedy.says
            near = trials.with_it(bench, applied)
    assert len({sections for _, sections in seen}) >= 9


def test_two_edits_in_the_same_words_are_told_once() -> None:
    """A corner between two lawns: the ground of both is cut down, and told of the corner."""
    says = words("cut the lawn at C down to {low}", low=share(0.5))
    both = together(write("edges[1].ground[1]", "9.8", says), write("edges[2].ground[0]", "9.8", says))

    assert (len(both.edits), both.says.template) == (2, "cut the lawn at C down to {low_1}")


def test_a_slab_that_is_too_high_at_the_house_comes_down_there_and_falls_from_where_it_is_then() -> None:
    """Wood stands 2 in over a slab (IRC R317.1): 100.15 ft less 2 in, 99.98 ft; 2 % over 12 ft is 0.24 ft: 99.74 ft."""
    text = (
        "format: 1\njob: {name: High patio}\nunits: {plan: ft, height: ft}\nuse: patio\n"
        "points: {A: [0, 0], B: [12, 0], C: [12, 12], D: [0, 12]}\noutline: [A, B, C, D]\n"
        "edges: [{run: [A, B], beside: building, name: house}, {rest: lawn, takes_water: true}]\n"
        "heights: {finish: {A: 100.10, B: 100.10, C: 100.05, D: 100.05}}\n"
        "fixed: [{name: siding, kind: siding, material: wood, along: [A, B], height: 100.15}]\n"
        "thickness: {design: 4 in}\n"
    )
    bench, report = bench_of(Path("high.slab.yaml"), text)
    comments = remedies.advised(report, bench).comments
    fall, siding = (
        next(one for one in comments if one.rule == rule) for rule in ("fall-from-building", "slab-below-fixed")
    )
    given = {name: round(height.si / 0.3048, 3) for name, height in heights_of(fall).items()}
    assert given == {"A": 99.98, "B": 99.98, "C": 99.74, "D": 99.74}
    assert siding.settled_by == fall.number
