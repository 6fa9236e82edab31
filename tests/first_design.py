"""Work docs/first-design.md anew: ``python tests/first_design.py``; ``test_first_design.py`` keeps it true.

Its YAML is typed into a file as a reader would, block by block, and what the program then says is pasted below.
"""

from __future__ import annotations

import io
import re
import shlex
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory

from checkout import ROOT

PAGE = ROOT / "docs" / "first-design.md"
NAME = "patio.slab.yaml"
_STEP = re.compile(
    r"<!-- (?P<how>add|change|try)(?:: (?P<what>\S+))? -->\n```yaml\n(?P<yaml>.*?)```\n"
    r"|(?P<head><!-- run: (?P<command>.+?) -->\n)(?:```text\n.*?```\n)?(?P<end><!-- end -->)",
    re.DOTALL,
)


def said(command: str) -> str:
    """What a command prints, piped; with `` | KEY`` only that section of it."""
    from slabwright.cli.main import main

    words, _, section = command.partition(" | ")
    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(out):
        main(shlex.split(words))
    text = out.getvalue()
    if section:
        found = re.search(rf"^{section}:.*\n(?: .*\n)+", text, re.MULTILINE)
        assert found is not None, f"{command} prints no {section}"
        text = found[0]
    return text.rstrip() + "\n"


def worked(page: str) -> tuple[str, str]:
    """The page with every output made anew, and the file that stands at its end. Runs in the working folder."""
    path, kept = Path(NAME), ""

    def step(found: re.Match[str]) -> str:
        nonlocal kept
        if found["command"]:
            text = found["head"] + f"```text\n{said(found['command'])}```\n" + found["end"]
            path.write_text(kept, encoding="utf-8")  # what was only tried is taken back
            return text
        if found["how"] == "add":
            tried = kept = kept + found["yaml"]
        else:
            tried, count = re.subn(rf"^.*\b{found['what']}\b.*\n", lambda _: found["yaml"], kept, flags=re.MULTILINE)
            assert count == 1, f"{count} lines hold {found['what']}"
            kept = tried if found["how"] == "change" else kept
        path.write_text(tried, encoding="utf-8")
        return found[0]

    return _STEP.sub(step, page), kept


def made() -> Iterator[str]:
    """The page worked anew, then the file at its end."""
    page = PAGE.read_text(encoding="utf-8")
    with TemporaryDirectory() as folder, chdir(folder):
        yield from worked(page)


if __name__ == "__main__":
    PAGE.write_text(next(made()), encoding="utf-8")
