"""Small designs for tests of whole repositories: sound, falling short, and not readable."""

from __future__ import annotations

import ctypes
import io
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import chdir, contextmanager, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import slabwright
from slabwright.cli import main

SOUND = """\
format: 1
job: {name: Bin store, pour: 2026-05-04}
units: {plan: ft, height: ft}
use: patio
points: {A: [0, 0], B: [8, 0], C: [8, 8], D: [0, 8]}
outline: [A, B, C, D]
thickness: {design: 4 in}
"""
# Panels 30 ft long and 4 in thick: over 36 thicknesses (ACI 302.1R-96 as the rule cites it), so a hold.
LONG = SOUND.replace("[8, 0], C: [8, 8]", "[30, 0], C: [30, 8]")
# 6 ft x 10 ft: 1.67 times as long as wide, between 1.5 (a caution) and 2 (a hold); 10 ft is 30 thicknesses.
OBLONG = SOUND.replace("B: [8, 0], C: [8, 8], D: [0, 8]", "B: [6, 0], C: [6, 10], D: [0, 10]")
BROKEN = SOUND.replace("design: 4 in", "design: 4")

OWN_RULE = '''\
"""Every slab is at least as thick as the firm pours.

What is compared: design thickness with the firm's least.
Why it matters: the firm answers for it.
When it does not apply: it always does.
How to put it right: thicken the slab.
"""

from slabwright.rulebook.kit import *

TITLE = "Thick enough for the firm"
LIMITS = (
    Limit(
        name="firm_thickness_at_least",
        value="5 in",
        kind=Kind.DEPTH,
        weight="hold",
        cite=Cite("common-practice"),
        sane=("3 in", "12 in"),
        meaning="least thickness the firm pours",
    ),
)
WORKED = ()


def judge(plan, limits):
    shown, limit = depth(plan.thickness.design), limits.firm_thickness_at_least
    yield compare(
        plan.spot("slab", "thickness.design"), shown, limit,
        says=lambda: words("the slab is {t} thick", t=shown),
        remedy=lambda: write("thickness.design", limit.value, words("pour {t}", t=limit.value)),
    )
'''

ENVIRONMENT = {**os.environ, "PYTHONPATH": str(Path(slabwright.__file__).parents[1]), "PYTHONUTF8": "1"}


def put(folder: Path, **texts: str) -> list[Path]:
    """Write designs into a folder, by name; returns their paths."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = [folder / f"{name}.slab.yaml" for name in texts]
    for path, text in zip(paths, texts.values(), strict=True):
        path.write_text(text, encoding="utf-8")
    return paths


def put_rule(folder: Path, mark: Path | None = None) -> Path:
    """Write a firm's own rules folder with one rule, which makes the file ``mark`` when it is loaded."""
    file = folder / "thickness" / "firm_thickness.py"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(OWN_RULE + (f"RAN = open({str(mark)!r}, 'w').close()\n" if mark else ""), encoding="utf-8")
    return folder


@dataclass(frozen=True)
class Done:
    """What a command wrote."""

    stdout: str
    stderr: str


def run(*arguments: str | Path, cwd: Path, code: int) -> Done:
    """The command in this process, in a folder, with the exit status it must have. No more than a few files."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True) for _ in range(2))
    with chdir(cwd), redirect_stdout(out), redirect_stderr(err):
        try:
            status = main.main([str(argument) for argument in arguments])
        except SystemExit as stop:
            status = int(stop.code or 0)
    done = Done(*(stream.buffer.getvalue().decode("utf-8") for stream in (out, err)))  # type: ignore[attr-defined]
    assert status == code, done.stdout + done.stderr
    return done


def run_apart(*arguments: str | Path, cwd: Path, code: int, **environment: str) -> Done:
    """The command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "slabwright", *map(str, arguments)],
        capture_output=True, text=True, encoding="utf-8", cwd=cwd, timeout=120, check=False,
        env={**ENVIRONMENT, **environment},
    )  # fmt: skip
    assert "Traceback" not in done.stderr
    assert done.returncode == code, done.stdout + done.stderr
    return Done(done.stdout, done.stderr)


@contextmanager
def nobody_special() -> Iterator[None]:
    """Without the rights that let an administrator enter every folder and open every file (capabilities(7))."""
    library, header = ctypes.CDLL(None, use_errno=True), (ctypes.c_uint32 * 2)(0x20080522, 0)
    held = (ctypes.c_uint32 * 6)()  # effective, permitted and inheritable, twice
    assert library.capget(header, held) == 0
    less = (ctypes.c_uint32 * 6)(*held)
    less[0] &= ~(1 << 1 | 1 << 2)  # CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH
    assert library.capset(header, less) == 0
    try:
        yield
    finally:
        assert library.capset(header, held) == 0


def git(folder: Path, *command: str) -> str:
    """Run git in a scratch repository, as somebody, whatever this computer is set to."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("GIT_")}
    env |= {"GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull}
    named = ["-c", "user.name=Plan desk", "-c", "user.email=desk@firm.example", "-c", "init.defaultBranch=main"]
    done = subprocess.run(["git", *named, *command], cwd=folder, env=env, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def members(group: int) -> list[int]:
    """Processes of a group that are still at work."""
    found = []
    for entry in Path("/proc").iterdir():
        try:
            fields = (entry / "stat").read_text().rpartition(")")[2].split() if entry.name.isdigit() else []
        except OSError:
            continue
        if fields and int(fields[2]) == group and fields[0] != "Z":
            found.append(int(entry.name))
    return found
