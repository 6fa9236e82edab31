"""Quick ways taken for small designs give what the thorough ones give."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import Any

import jsonschema_rs
import numpy as np
import pytest
import shapely
import shapely.affinity
from jsonschema import Draft202012Validator
from slabwright.design import schema_gate
from slabwright.design.read import read_design
from slabwright.design.schema_gate import schema_named
from slabwright.geometry.joints import ends, measure, panels
from slabwright.geometry.shape import outline, ring_faults
from slabwright.geometry.surface import surface
from slabwright.source.problem import UnreadableError

ROOT = Path(__file__).parents[1]


@pytest.fixture(scope="module")
def repository() -> ModuleType:
    """The benchmark's generator of designs."""
    spec = importlib.util.spec_from_file_location("repository", ROOT / "tests" / "benchmarks" / "repository.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def broken(text: str) -> Iterator[str]:
    """The text with one line left out, doubled in value or named otherwise, line by line."""
    lines = text.splitlines(keepends=True)
    for at, line in enumerate(lines):
        yield "".join(lines[:at] + lines[at + 1 :])
        yield "".join([*lines[:at], line.replace(": ", ": 7", 1), *lines[at + 1 :]])
        yield "".join([*lines[:at], line.replace(": ", "s: ", 1), *lines[at + 1 :]])


def test_the_quick_structure_check_agrees_with_the_thorough_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    seen: list[Any] = []
    real = schema_gate.schema_trouble.report

    def kept(plain: Any, *rest: Any) -> None:
        seen.append(plain)
        real(plain, *rest)

    monkeypatch.setattr(schema_gate.schema_trouble, "report", kept)
    path = tmp_path / "pad.slab.yaml"
    sound = (ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml").read_text(encoding="utf-8")
    for text in (sound, *broken(sound)):
        path.write_text(text, encoding="utf-8")
        try:
            read_design(path)
        except UnreadableError:
            continue
    schema = schema_named("design")
    quick, thorough = jsonschema_rs.Draft202012Validator(schema), Draft202012Validator(schema)
    answers = [(quick.is_valid(plain), thorough.is_valid(plain)) for plain in seen]
    assert {one for one, _ in answers} == {True, False}
    assert [at for at, (one, other) in enumerate(answers) if one != other] == []


def test_places_along_a_ring_are_those_shapely_finds(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(5)
    corners = [(0.0, 0.0), (8.0, 0.0), (8.0, 3.0), (3.0, 3.0), (3.0, 6.0), (0.0, 6.0)]
    ring = outline.build_ring([(corner, None) for corner in corners])
    points = np.concatenate([chance.uniform(-2, 10, (300, 2)), np.array(corners), [[np.nan, 1.0]]])
    along, offset = outline.locate(ring, points)
    line = shapely.LineString([*corners, corners[0]])
    assert np.allclose(offset[:-1], shapely.distance(shapely.points(points[:-1]), line), atol=1e-12)
    on_ring = shapely.line_interpolate_point(line, along[:-1])
    assert np.allclose(shapely.distance(on_ring, shapely.points(points[:-1])), offset[:-1], atol=1e-9)
    assert np.isnan(along[-1]) and np.isnan(offset[-1])
    assert along[300:306].tolist() == [0.0, 8.0, 11.0, 16.0, 19.0, 22.0]
    monkeypatch.setattr(outline, "_FEW", 0)
    by_tree = outline.locate(ring, points)
    assert np.allclose(along, by_tree[0], atol=1e-9, equal_nan=True)
    assert np.allclose(offset, by_tree[1], atol=1e-12, equal_nan=True)


def test_the_generated_repository_is_what_it_says(repository: ModuleType, tmp_path: Path) -> None:
    paths = repository.write_repository(tmp_path, designs=100, broken=0.05)
    lengths = [len(path.read_text(encoding="utf-8").splitlines()) for path in paths]
    assert min(lengths) >= 20 and max(lengths) <= 60
    unread = 0
    for path in paths:
        try:
            read_design(path)
        except UnreadableError:
            unread += 1
    assert unread == 5
    assert repository.reference(paths[:3]) > 0


@pytest.mark.parametrize("seed", range(40))
def test_joints_of_a_small_plan_are_cut_as_those_of_a_large_one(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(seed)
    outer = [(0.0, 0.0), (9.0, 0.0), (9.0, 4.0), (6.0, 4.0), (6.0, 8.0), (0.0, 8.0)]
    holes = [[(1.5, 1.5), (2.5, 1.5), (2.5, 2.5), (1.5, 2.5)]] if seed % 3 else []
    slab = shapely.Polygon(outer, holes)
    joints = [chance.uniform(-1, 10, (int(chance.integers(2, 4)), 2)) for _ in range(int(chance.integers(1, 6)))]
    joints += [np.array([[x, 0.0], [x, 8.0]]) for x in (3.0, 6.0)[: seed % 4]]  # one along a side of the outline
    joints += [np.array([[0.0, 4.0], [6.0, 4.0]]), np.array([[3.0, 2.0], [3.0, 4.0 + 0.02 * (seed % 3)]])]
    by_hand = panels.cut(slab, joints)
    monkeypatch.setattr(panels, "FEW", 0)
    monkeypatch.setattr(ends, "MOST_TRIED", 0)
    monkeypatch.setattr(measure, "MANY", 0)
    by_tree = panels.cut(slab, joints)
    assert by_hand.unused == by_tree.unused
    assert [pair[:2] for pair in by_hand.overlaps] == [pair[:2] for pair in by_tree.overlaps]
    assert len(by_hand.panels) == len(by_tree.panels) > 1
    for one, other in zip(by_hand.panels, by_tree.panels, strict=True):
        assert one.polygon.symmetric_difference(other.polygon).area < 1e-9
        assert (one.neighbours, one.joints) == (other.neighbours, other.joints)
        assert (one.long_side, one.short_side) == pytest.approx((other.long_side, other.short_side), abs=1e-6)
    for first, second in zip(by_hand.joints, by_tree.joints, strict=True):
        assert np.allclose(first.xy, second.xy, atol=1e-5)
        assert [(e.meets, e.other) for e in first.ends] == [(e.meets, e.other) for e in second.ends]


def test_the_smallest_rectangle_of_a_box_is_the_box() -> None:
    turns = np.radians(np.arange(0, 90, 7.0))
    boxes = [shapely.affinity.rotate(shapely.box(0, 0, 3, 2), angle, use_radians=True) for angle in turns]
    assert np.allclose(measure.smallest_rectangles(np.array(boxes)), (3.0, 2.0), atol=1e-12)


@pytest.mark.parametrize("seed", range(60))
def test_a_surface_over_few_points_is_that_over_many(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(seed)
    outer = np.array([(0.0, 0.0), (8.0, 0.0), (8.0, 5.0), (5.0, 5.0), (5.0, 9.0), (0.0, 9.0)][: 4 if seed % 2 else 6])
    if seed % 2:
        outer[2:] = [(8.0, 6.0), (0.0, 6.0)]
    turn = np.radians(chance.uniform(0, 90)) * (seed % 3 > 0)
    turned = np.array([[np.cos(turn), -np.sin(turn)], [np.sin(turn), np.cos(turn)]])
    hole = [(1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0)] @ turned.T if seed % 5 == 0 else None
    slab = shapely.Polygon(outer @ turned.T, [hole] if hole is not None else [])
    heights = chance.uniform(0, 0.3, len(outer))
    rim = np.column_stack([outer @ turned.T, heights])
    chains = [np.vstack([rim, rim[:1]])]
    low = np.column_stack([np.array([(4.0, 0.0), (3.0 + seed % 2, 3.0), (2.0, 5.5)]) @ turned.T, [0.0, 0.1, 0.05]])
    chains += [low] * (seed % 4 > 1)
    spots = np.column_stack([chance.uniform(0.5, 4.5, (seed % 6, 2)) @ turned.T, chance.uniform(0, 0.3, seed % 6)])
    few = surface.build_surface(slab, spots, chains)
    monkeypatch.setattr(surface, "FEW", 0)
    monkeypatch.setattr(surface, "MOST_TRIED", 0)
    many = surface.build_surface(slab, spots, chains)
    places = chance.uniform(0, 8, (200, 2)) @ turned.T
    assert np.allclose(few.height(places), many.height(places), atol=1e-6, equal_nan=True)
    assert few.areas.sum() == pytest.approx(slab.area) and many.areas.sum() == pytest.approx(slab.area)
    assert len(few.clashes) == len(many.clashes)
    assert np.array_equal(few.mesh.neighbours < 0, few.mesh.neighbours == -1)
    assert len(few.mesh.rim) == len(many.mesh.rim)


def test_few_points_are_worked_in_plain_arithmetic(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(surface, "node", None)  # the other way cannot be gone
    rim = np.array([(0, 0, 1.0), (4, 0, 1.0), (4, 3, 0.9), (0, 3, 0.9), (0, 0, 1.0)])
    flat = surface.build_surface(shapely.box(0, 0, 4, 3), np.empty((0, 3)), [rim])
    assert flat.height(np.array([[2.0, 1.5]]))[0] == pytest.approx(0.95)


def outlines() -> Iterator[list[tuple[float, float]]]:
    """Rings of few corners: sound ones, and such as touch, cross, double back or fold onto themselves."""
    chance = np.random.default_rng(3)
    for number in range(300):
        count = int(chance.integers(3, 9))
        corners = chance.integers(0, 5, (count, 2)) if number % 2 else chance.uniform(0, 5, (count, 2))
        yield [(float(x), float(y)) for x, y in corners]
    for turn in np.radians(np.arange(0, 360, 13.0)):
        star = [((1 + k % 2) * np.cos(turn + k), (1 + k % 2) * np.sin(turn + k)) for k in range(6)]
        yield [(float(x), float(y)) for x, y in star]


def test_a_quickly_accepted_outline_is_a_simple_polygon(monkeypatch: pytest.MonkeyPatch) -> None:
    rings = [outline.build_ring([(corner, None) for corner in corners]) for corners in outlines()]
    quick = [ring_faults._plainly_simple(ring) for ring in rings]
    monkeypatch.setattr(ring_faults, "PLAIN", 0)
    thorough = [not ring_faults.ring_faults(ring) for ring in rings]
    assert sum(quick) > 50
    assert [at for at, (one, other) in enumerate(zip(quick, thorough, strict=True)) if one and not other] == []
    assert [
        at for at, (one, ring) in enumerate(zip(quick, rings, strict=True)) if one and not ring.polygon.is_valid
    ] == []
    assert sum(thorough) - sum(quick) <= 3
