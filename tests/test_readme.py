"""The README: its commands are the ones that work, its pasted review is what the program prints."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from readme import ROOT, pasted

README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"```sh\n(.*?)\n```", README, re.DOTALL)


def test_pasted_review_is_what_the_program_prints(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    assert "<!-- review: " in README
    assert pasted(README) == README, "run `python tests/readme.py`"


def test_two_set_up_commands_of_one_line_each() -> None:
    assert len(COMMANDS) == 2
    for command in COMMANDS:
        assert "\n" not in command
        assert "-m venv .venv" in command and ".venv/bin/pip install" in command


def test_first_command_runs_the_main_job_on_a_file_that_is_there() -> None:
    name = re.search(r"slabwright review (\S+)", COMMANDS[0])
    assert name is not None
    assert (ROOT / name[1]).is_file()


def test_every_link_leads_somewhere() -> None:
    links = re.findall(r"\]\((?!http)([^)#]+)", README)
    assert links
    assert [link for link in links if not (ROOT / Path(link)).exists()] == []
