"""Paste the real review into the README: ``python tests/readme.py``; ``test_readme.py`` keeps it true."""

from __future__ import annotations

import io
import re
from contextlib import redirect_stdout
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
_PART = re.compile(r"(<!-- review: (\S+) -->\n).*?(<!-- end -->)", re.DOTALL)


def reviewed(path: str) -> str:
    """What ``slabwright review PATH`` prints when piped, 80 columns, run from the top of the project."""
    from slabwright.cli.main import main

    out = io.StringIO()
    with redirect_stdout(out):
        main(["review", path, "--width", "80"])
    return out.getvalue()


def pasted(readme: str) -> str:
    """The README with every marked review replaced by a fresh one."""
    return _PART.sub(lambda part: f"{part[1]}```text\n{reviewed(part[2]).rstrip()}\n```\n{part[3]}", readme)


if __name__ == "__main__":
    path = ROOT / "README.md"
    path.write_text(pasted(path.read_text(encoding="utf-8")), encoding="utf-8")
