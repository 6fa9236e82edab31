"""What a shell offers after Tab, and that it costs a start without Tab nothing."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from checkout import ROOT
from repositories import ENVIRONMENT
from slabwright.rulebook import loading
from slabwright.rulebook.rule import GROUPS
from slabwright.source import locate

BIN = Path(sys.executable).parent
USES = json.loads((locate.folder("schemas") / "design.schema.json").read_text("utf-8"))["properties"]["use"]["enum"]


def offered(line: str, tmp_path: Path) -> list[str]:
    """What the program offers at the end of a line, asked as the shells' own functions ask it."""
    answer = tmp_path / "answer"
    asked = {
        "_ARGCOMPLETE": "1",
        "_ARGCOMPLETE_IFS": "\n",
        "_ARGCOMPLETE_STDOUT_FILENAME": str(answer),
        "COMP_LINE": line,
        "COMP_POINT": str(len(line)),
        "COMP_TYPE": "9",
    }
    command = [sys.executable, "-m", "slabwright"]
    subprocess.run(command, env={**ENVIRONMENT, **asked}, cwd=tmp_path, capture_output=True, timeout=60, check=True)
    return [one.replace("\\", "").strip() for one in answer.read_text(encoding="utf-8").split("\n")]


def test_commands(tmp_path: Path) -> None:
    assert {"review", "order", "stake", "card", "draw", "teach", "rulebook", "begin", "trust"} <= set(
        offered("slabwright ", tmp_path)
    )
    assert "joints" in offered("slabwright propose ", tmp_path)
    assert {"--out", "--json", "--amendments"} <= set(offered("slabwright propose joints --", tmp_path))
    assert "--withdraw" in offered("slabwright trust --", tmp_path)
    assert offered("slabwright rev", tmp_path) == ["review"]


def test_options(tmp_path: Path) -> None:
    assert offered("slabwright review --a", tmp_path) == ["--amendments", "--against", "--as-built"]
    assert {"--sheet", "--sarif", "--strict", "--jobs", "--watch"} <= set(offered("slabwright review --", tmp_path))


def test_rule_names(tmp_path: Path) -> None:
    names = [rule.name for rule in loading.load_rules()]
    assert offered("slabwright teach ", tmp_path)[-len(names) :] == sorted(names)
    assert offered("slabwright teach panel-", tmp_path) == ["panel-aspect", "panel-corners", "panel-spacing"]


def test_uses(tmp_path: Path) -> None:
    assert offered("slabwright begin --use ", tmp_path) == USES
    assert offered("slabwright begin --use vehicle", tmp_path) == ["vehicle pad"]


def test_groups(tmp_path: Path) -> None:
    groups = offered("slabwright review pad.slab.yaml --only ", tmp_path)
    assert set(groups) <= set(GROUPS)
    assert {"water", "joints", "mix"} <= set(groups)
    assert offered("slabwright rulebook --group iso", tmp_path) == ["isolation"]


def test_files(tmp_path: Path) -> None:
    (tmp_path / "pad.slab.yaml").write_text("", encoding="utf-8")
    assert offered("slabwright review pa", tmp_path) == ["pad.slab.yaml"]


@pytest.mark.parametrize(
    ("shell", "holds"),
    [("bash", "complete -o nospace"), ("zsh", "#compdef slabwright"), ("fish", "complete --command")],
)
def test_each_shell_has_its_code(shell: str, holds: str) -> None:
    command = [str(BIN / "register-python-argcomplete"), "--shell", shell, "slabwright"]
    code = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    assert holds in code
    assert "slabwright" in code


def test_the_line_for_bash_works_in_bash(tmp_path: Path) -> None:
    guide = (ROOT / "docs" / "repositories.md").read_text(encoding="utf-8")
    (line,) = [row.split("|")[2].strip().strip("`") for row in guide.splitlines() if row.startswith("| bash |")]
    script = f"""
        export PATH="{BIN}:$PATH"
        {line}
        COMP_LINE='slabwright teach joint-d' COMP_POINT=24 COMP_TYPE=9 COMP_WORDBREAKS=$' \\t\\n'
        COMP_WORDS=(slabwright teach joint-d) COMP_CWORD=2
        "$(complete -p slabwright | sed 's/.* -F \\([^ ]*\\) .*/\\1/')" slabwright joint-d teach
        printf '%s\\n' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run(
        ["bash", "--norc", "-c", script], env=ENVIRONMENT, cwd=tmp_path, capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["joint-depth"]


def test_a_start_without_tab_loads_nothing_of_it() -> None:
    code = (
        "import sys; from slabwright.cli import main as cli\n"
        "try: cli.main(['review', '-h'])\n"
        "except SystemExit: pass\n"
        "print('loaded:', sorted({'argcomplete', 'slabwright.cli.completing'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, env=ENVIRONMENT, check=True)
    assert done.stdout.splitlines()[-1] == "loaded: []"
