"""Starter designs: every use in both unit systems reads, and a review of it finds nothing to settle."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from slabwright.design import starter
from slabwright.design.model import Design, Use
from slabwright.design.read import read_design
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.report import Report
from slabwright.rulebook import limits, loading
from slabwright.source.problem import Problem, UnreadableError

FOOT = 0.3048  # m, exactly

# A usual size for each use, in feet and in meters.
SIZES = {
    "patio": ("12 ft x 16 ft", "4 m x 5 m"),
    "walk": ("4 ft x 30 ft", "1.2 m x 9 m"),
    "driveway": ("20 ft x 40 ft", "6 m x 12 m"),
    "vehicle pad": ("14 ft x 40 ft", "4.2 m x 12 m"),
    "garage floor": ("24 ft x 24 ft", "7.2 m x 7.2 m"),
    "shop floor": ("40 ft x 60 ft", "12 m x 18 m"),
    "equipment pad": ("10 ft x 10 ft", "3 m x 3 m"),
}
EVERY = [(use, size) for use, sizes in SIZES.items() for size in sizes]


def test_every_use_is_tried() -> None:
    assert set(SIZES) == set(get_args(Use)) == set(starter.USES)


def read(folder: Path, text: str) -> tuple[Design, tuple[Problem, ...]]:
    path = folder / "starter.slab.yaml"
    path.write_text(text, encoding="utf-8")
    design, questions = read_design(path)
    return design, tuple(questions)


def reviewed(design: Design) -> Report:
    rules = loading.load_rules()
    plan = Plan(design)
    return run.review(plan, rules, limits.resolve(rules))


@pytest.mark.parametrize(("use", "size"), EVERY)
def test_a_starter_reads_without_a_question(use: str, size: str, tmp_path: Path) -> None:
    design, questions = read(tmp_path, starter.starter(use, size))
    wanted = starter.read_size(size)
    assert questions == ()
    assert design.use == use
    assert design.system == wanted.system
    assert Plan(design).shape.area == pytest.approx(wanted.width * wanted.depth)


@pytest.mark.parametrize(("use", "size"), EVERY)
def test_a_starter_has_nothing_to_settle(use: str, size: str, tmp_path: Path) -> None:
    design, _ = read(tmp_path, starter.starter(use, size))
    report = reviewed(design)
    assert [(c.rule, c.weight, c.at.name) for c in report.comments if c.weight != "note"] == []
    assert report.crashes == ()
    assert report.questions == ()
    assert len(report.met) >= 3


@pytest.mark.parametrize(("use", "size"), EVERY)
def test_a_starter_orders_what_it_needs_and_no_more_than_a_quarter_yard_over(
    use: str, size: str, tmp_path: Path
) -> None:
    design, _ = read(tmp_path, starter.starter(use, size))
    assert design.order is not None
    assert design.order.volume is not None
    need = Plan(design).concrete.quantities.net * 1.08  # the starter's allowance
    assert need - 1e-9 <= design.order.volume.si <= need + 0.25 * 0.9144**3


@pytest.mark.parametrize("use", list(SIZES))
def test_odd_sizes_read_too(use: str, tmp_path: Path) -> None:
    for size in ("3'-7 1/2\" x 33'-5\"", "0.6 m x 60 m", "200 ft x 200 ft", "7.35 m by 4.05 m", "2500 mm x 3000 mm"):
        design, _ = read(tmp_path, starter.starter(use, size))
        wanted = starter.read_size(size)
        assert Plan(design).shape.area == pytest.approx(wanted.width * wanted.depth, rel=1e-3)


@pytest.mark.parametrize(
    ("text", "width", "depth", "system"),
    [
        ("20 ft x 40 ft", 20 * FOOT, 40 * FOOT, "us"),
        ("20 x 40 ft", 20 * FOOT, 40 * FOOT, "us"),
        ("12'-6\" x 16'", 12.5 * FOOT, 16 * FOOT, "us"),
        ("6 m x 12 m", 6.0, 12.0, "metric"),
        ("6m×12m", 6.0, 12.0, "metric"),
        ("2500 mm by 3 m", 2.5, 3.0, "metric"),
        ("120 in x 240 in", 10 * FOOT, 20 * FOOT, "us"),
    ],
)
def test_sizes_are_read_as_crews_write_them(text: str, width: float, depth: float, system: str) -> None:
    size = starter.read_size(text)
    assert (size.width, size.depth) == pytest.approx((width, depth))
    assert size.system == system


@pytest.mark.parametrize(
    "text", ["", "20 ft", "20 x 40", "20 ft x 40 ft x 4 in", "-4 ft x 10 ft", "1 ft x 10 ft", "10 ft x 300 ft", "a x b",
             "nan ft x 4 ft", "1e9 ft x 4 ft", "20 psi x 40 psi", "x", "20 ft x"],
)  # fmt: skip
def test_sizes_that_make_no_slab_are_refused_with_a_remedy(text: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        starter.starter("patio", text)
    assert all(problem.wrong and problem.write for problem in refused.value.problems)


def test_unknown_use_names_the_nearest() -> None:
    with pytest.raises(UnreadableError) as refused:
        starter.starter("drivway", "20 ft x 40 ft")
    assert refused.value.problems[0].write == "driveway"
    with pytest.raises(UnreadableError) as refused:
        starter.starter("qqq", "20 ft x 40 ft")
    assert "equipment pad" in refused.value.problems[0].write


@given(width=st.floats(0.6, 60), depth=st.floats(0.6, 60), longest=st.floats(1.8, 4.5))
def test_grid_keeps_panels_short_and_near_square(width: float, depth: float, longest: float) -> None:
    across, along = starter.grid(width, depth, longest)
    sides = sorted((width / across, depth / along))
    assert sides[1] <= longest * (1 + 1e-6)
    assert sides[1] / sides[0] <= 1.25 * (1 + 1e-6)


@pytest.mark.parametrize(
    ("width", "depth", "longest", "expected"), [(6, 12, 3, (2, 4)), (1.2, 9, 2.4, (1, 6)), (2, 2, 3, (1, 1))]
)
def test_grid_by_hand(width: float, depth: float, longest: float, expected: tuple[int, int]) -> None:
    # 9 m in bays of at most 1.25 x 1.2 m = 1.5 m: six
    assert starter.grid(width, depth, longest) == expected


def test_every_line_of_a_starter_fits_an_editor() -> None:
    for use, size in EVERY:
        assert max(map(len, starter.starter(use, size).splitlines())) <= 120
