"""Asking git about a repository that may come from anyone: it reads what is on this computer, and runs nothing."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Mapping, Sequence
from functools import lru_cache
from pathlib import Path

from slabwright.source.problem import refuse

# A repository may name programs to run: for its remotes, for what changed in its folders, before and after a step.
# None of them runs: nothing here needs one. The environment wins where a repository's own settings would.
_QUIET = (
    "--no-pager", "--literal-pathspecs", "--no-optional-locks", "-c", "safe.bareRepository=explicit",
    "-c", "protocol.allow=never", "-c", "core.fsmonitor=false", "-c", f"core.hooksPath={os.devnull}",
)  # fmt: skip
_NOTHING_FETCHED = {"GIT_NO_LAZY_FETCH": "1", "GIT_ALLOW_PROTOCOL": ":", "GIT_TERMINAL_PROMPT": "0"}


@lru_cache(maxsize=1)
def _tied() -> frozenset[str]:
    """The variables that tie git to one repository, such as that of a hook that runs this."""
    listed = _run(("git", "rev-parse", "--local-env-vars"), {**os.environ, **_NOTHING_FETCHED}) or b""
    return frozenset(listed.decode("ascii", "replace").split())


def ask(folder: Path, *command: str, given: bytes = b"") -> bytes | None:
    """What git prints, ``given`` some input; None when it refuses. It reads what is on this computer, and runs nothing.

    Raises :class:`UnreadableError` when there is no git.
    """
    kept = {name: value for name, value in os.environ.items() if name not in _tied()}
    return _run(("git", "-C", str(folder), *_QUIET, *command), {**kept, **_NOTHING_FETCHED}, given)


def _run(command: Sequence[str], environment: Mapping[str, str], given: bytes = b"") -> bytes | None:
    try:
        done = subprocess.run(command, env=environment, input=given, capture_output=True, check=False)
    except OSError:
        wrong = "this needs git, and there is none on this computer"
        refuse("", wrong, "without --hook, and --against another design")
    return done.stdout if done.returncode == 0 else None


def top(folder: Path) -> Path | None:
    """The folder that holds the whole repository ``folder`` is in; None where it is in none."""
    shown = ask(folder, "rev-parse", "--show-toplevel")
    return Path(os.fsdecode(shown).rstrip("\n")) if shown and shown.strip() else None


def listed(output: bytes | None) -> list[str]:
    """The names in what git prints with ``-z``; none where it refuses."""
    return [os.fsdecode(name) for name in (output or b"").split(b"\0") if name]
