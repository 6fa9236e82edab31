"""The index of a folder of pages: one line a job, worst first, with a link to its page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from urllib.parse import quote

import markupsafe

from slabwright.review.report import LOCAL_CODE
from slabwright.source.clean import writable
from slabwright.text.templates import environment
from slabwright.text.working import counted
from slabwright.writers.page import hash_of
from slabwright.writers.summary import UNJUDGED, Row, in_words, worst_first


def page(rows: Sequence[Row], pages: Mapping[str, str]) -> str:
    """The whole page as HTML; ``pages`` has the path of each design's page, by its file. It loads nothing."""
    templates = environment("slabwright.writers")
    css = templates.get_template("index.css.j2").render()
    text = templates.get_template("index.html.j2").render(
        rows=[
            (row, quote(pages[row.file].encode("utf-8", "surrogateescape")) if row.file in pages else "")
            for row in worst_first(rows)
        ],
        unjudged=UNJUDGED,
        designs=counted(len(rows), "design", "designs"),
        words=in_words(rows),
        css=markupsafe.Markup(css),
        policy=f"default-src 'none'; style-src '{hash_of(css)}'; base-uri 'none'; form-action 'none'",
        local_code=LOCAL_CODE,
    )
    return writable(text)
