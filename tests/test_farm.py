"""Some of the spoilt files of ``tests/farm.py``; ``docs/security.md`` tells how many were tried in all."""

from __future__ import annotations

import math
from pathlib import Path

import farm
import pytest
from slabwright.review import reviewing
from slabwright.review.report import Crash
from slabwright.source.place import Place


def test_spoilt_files_are_reviewed_or_refused_soundly() -> None:
    """Every twentieth is also drawn moved, turned and renamed; how long they take is for the farm itself to tell."""
    assert [one for one in farm.run(2026, range(25)).finds if one.sort not in ("slow", "memory")] == []


def test_a_mutant_is_the_same_whenever_it_is_made() -> None:
    assert [farm.mutant(3, number) for number in range(20)] == [farm.mutant(3, number) for number in range(20)]
    assert farm.mutant(3, 1) != farm.mutant(4, 1)


@pytest.mark.parametrize(
    ("sort", "spoil"),
    [
        ("rule crash", lambda one: one._replace(crashes=(Crash("r", "joints", Place("r.py"), "it failed"),))),
        ("figure crash", lambda one: one._replace(worked={"not_worked": {"area": "working it out failed: x"}})),
    ],
)  # fmt: skip
def test_what_must_not_be_is_found(sort: str, spoil: object, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    honest = reviewing.judge

    def spoilt(*asked: object, **options: object) -> reviewing.Judged:
        one = honest(*asked, **options)
        return reviewing.Judged(spoil(one.report), one.plan, one.strict)

    monkeypatch.setattr(reviewing, "judge", spoilt)
    sound = farm.Mutant({"pad.slab.yaml": farm.sources()[0].read_bytes()})

    assert sort in {find.sort for find in farm.tried(1, sound, tmp_path, invariance=False)}


def test_json_that_is_none_is_found(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(farm, "as_json", lambda report: '{"area": NaN}')
    monkeypatch.setattr(farm, "as_data", lambda report: {"area": math.nan})
    sound = farm.Mutant({"pad.slab.yaml": farm.sources()[0].read_bytes()})

    for number in (1, 5):  # on one line, and as it is printed
        assert [(one.sort, one.says) for one in farm.tried(number, sound, tmp_path, False)] == [("json", "NaN in JSON")]


def test_a_traceback_and_a_change_when_moved_are_found(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    honest = reviewing.judge
    sound = farm.Mutant({"pad.slab.yaml": (farm.EXAMPLES / "rules/panel-spacing/falls_short.slab.yaml").read_bytes()})

    def another_when_moved(path: Path, *asked: object, **options: object) -> reviewing.Judged:
        one = honest(path, *asked, **options)
        fewer = one.report._replace(comments=one.report.comments[1:]) if path.parent.name == "moved" else one.report
        return reviewing.Judged(fewer, one.plan, one.strict)

    monkeypatch.setattr(reviewing, "judge", another_when_moved)
    (found,) = farm.tried(1, sound, tmp_path, invariance=True)
    assert found.sort == "variant" and found.says.startswith("moved: ")

    monkeypatch.setattr(reviewing, "judge", lambda *asked, **options: 1 / 0)
    (found,) = farm.tried(2, sound, tmp_path, invariance=False)
    assert (found.number, found.sort) == (2, "traceback") and "ZeroDivisionError" in found.says
