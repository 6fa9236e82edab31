"""Paste the real review into the README: ``python tests/readme.py``; ``test_readme.py`` keeps it true."""

from __future__ import annotations

import io
import re
from contextlib import redirect_stdout

from checkout import ROOT

_PART = re.compile(r"(<!-- review: (\S+), to comment (\d+) -->\n).*?(<!-- end -->)", re.DOTALL)


def reviewed(path: str) -> str:
    """What ``slabwright review PATH`` prints when piped, 80 columns, run from the top of the project."""
    from slabwright.cli.main import main

    out = io.StringIO()
    with redirect_stdout(out):
        main(["review", path, "--width", "80"])
    return out.getvalue()


def begun(review: str, last: int) -> str:
    """The review as far as the comment numbered ``last``, and how many comments follow."""
    top, heading, comments = review.partition("\nHOLDS (")  # what stops it first stands above, by the same numbers
    head, _, rest = comments.partition(f"\n{last + 1:2}. ")
    more = len(re.findall(r"^[ \d]\d\. ", rest, re.MULTILINE)) + 1
    return f"{(top + heading + head).rstrip()}\n\n... and {more} more comments"


def pasted(readme: str) -> str:
    """The README with every marked review replaced by the beginning of a fresh one."""
    return _PART.sub(lambda part: f"{part[1]}```text\n{begun(reviewed(part[2]), int(part[3]))}\n```\n{part[4]}", readme)


if __name__ == "__main__":
    path = ROOT / "README.md"
    path.write_text(pasted(path.read_text(encoding="utf-8")), encoding="utf-8")
