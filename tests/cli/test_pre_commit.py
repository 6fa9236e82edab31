"""A firm's own repository with the real pre-commit: a faulty design is kept back with its review, a sound one goes in.

The hook is installed from a scratch repository that holds what git tracks here, so pip needs the package registry.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from checkout import ROOT
from repositories import BROKEN, LONG, SOUND, git, put

HOOKS = ".pre-commit-hooks.yaml"
PACKED = (
    "checker/", "rules/", "schemas/", "example_designs/", "tests/corpus/", "docs/teaching/", "docs/changes", "README",
    "pyproject", HOOKS,
)  # fmt: skip


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """An environment in which git is nobody's own and pre-commit keeps what it installs in a scratch folder."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("GIT_", "PYTHON", "VIRTUAL_ENV"))}
    return {
        **kept,
        "PRE_COMMIT_HOME": str(tmp_path_factory.mktemp("pre_commit_home")),
        "GIT_CONFIG_GLOBAL": os.devnull,
        "GIT_CONFIG_SYSTEM": os.devnull,
        "PATH": f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}",
        "PYTHONUTF8": "1",
        "PIP_NO_COMPILE": "1",  # of what is installed, little is loaded
    }


@pytest.fixture(scope="module")
def checker(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A repository with the files of this one that go into the package, and its commit."""
    folder = tmp_path_factory.mktemp("checker")
    listed = subprocess.run(
        ["git", "ls-files", "-co", "--exclude-standard"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    for name in listed.stdout.splitlines():
        wanted = name.startswith(PACKED)
        if wanted and (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(ROOT / name, folder / name)
    git(folder, "init", "-q")
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "-m", "Checker")
    return folder, git(folder, "rev-parse", "HEAD").strip()


@pytest.fixture(scope="module")
def firm(tmp_path_factory: pytest.TempPathFactory, checker: tuple[Path, str], environment: dict[str, str]) -> Path:
    """A firm's repository with the hook installed and a firm file at its root."""
    folder = tmp_path_factory.mktemp("firm")
    source, commit = checker
    git(folder, "init", "-q")
    (folder / ".pre-commit-config.yaml").write_text(
        f"repos:\n  - repo: {source.as_uri()}\n    rev: {commit}\n    hooks:\n      - id: slabwright\n"
        "        args: [--only, joints]\n",
        encoding="utf-8",
    )
    (folder / ".slabwright.yaml").write_text("strict: true\n", encoding="utf-8")
    git(folder, "add", ".")
    installed = subprocess.run(
        ["pre-commit", "install", "--install-hooks"], cwd=folder, env=environment, capture_output=True, text=True
    )
    assert installed.returncode == 0, installed.stdout + installed.stderr
    return folder


def commit(folder: Path, environment: dict[str, str]) -> tuple[bool, str]:
    """Whether everything in the folder could be committed, and what was printed."""
    git(folder, "add", "-A")
    named = ["-c", "user.name=Plan desk", "-c", "user.email=desk@firm.example"]
    command = ["git", *named, "commit", "-m", "A job"]
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, timeout=300)
    return done.returncode == 0, done.stdout + done.stderr


def test_a_faulty_design_is_kept_back_and_a_sound_one_goes_in(firm: Path, environment: dict[str, str]) -> None:
    put(firm / "jobs" / "2026", pad=LONG)
    passed, out = commit(firm, environment)
    assert not passed
    assert "slab plan review" in out and "Failed" in out
    assert "jobs/2026/pad.slab.yaml: 2 holds" in out and "panel-spacing" in out
    assert "kept back: 1 design has a hold" in out
    put(firm / "jobs" / "2026", pad=SOUND, store=BROKEN)
    passed, out = commit(firm, environment)
    assert not passed
    assert 'jobs/2026/store.slab.yaml:7:21: "design: 4" has no unit' in out
    put(firm / "jobs" / "2026", store=SOUND.replace("Bin", "Paint"))
    passed, out = commit(firm, environment)
    assert passed, out
    assert "Passed" in out
    assert git(firm, "status", "--porcelain") == ""
    (firm / "readme.txt").write_text("Jobs of the firm.\n", encoding="utf-8")
    passed, out = commit(firm, environment)
    assert passed  # nothing to review
    (firm / ".slabwright.yaml").write_text("amendments: [town.yaml]\n", encoding="utf-8")
    passed, out = commit(firm, environment)
    assert not passed  # every design rests on the firm file
    assert ".slabwright.yaml:1:14: there is no file" in out
    assert "kept back: 2 files are not judged" in out
