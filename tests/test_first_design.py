"""docs/first-design.md: each block typed leads to the output below it, and the file at its end is sound and short."""

from __future__ import annotations

from pathlib import Path

import pytest
from first_design import PAGE, made
from slabwright.cli.main import main


def test_each_step_says_what_the_page_shows_and_the_end_is_sound(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, end = made()
    assert page == PAGE.read_text(encoding="utf-8"), "run `python tests/first_design.py`"
    assert len(end.splitlines()) <= 27
    path = tmp_path / "patio.slab.yaml"
    path.write_text(end, encoding="utf-8")
    assert main(["review", str(path), "--strict"]) == 0
    assert "no comments" in capsys.readouterr().out
