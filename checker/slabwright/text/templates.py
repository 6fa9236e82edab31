"""HTML from templates: everything put into one is escaped, and freed of control and direction marks before that.

Loading it costs 40 ms: only where a page is wanted.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import jinja2

from slabwright.text.letters import visible


@cache
def environment(package: str) -> jinja2.Environment:
    """The templates in the folder ``templates`` of a package."""

    def shown(value: Any) -> Any:
        return visible(value) if isinstance(value, str) and not hasattr(value, "__html__") else value

    return jinja2.Environment(
        loader=jinja2.PackageLoader(package, "templates"),
        autoescape=True,
        finalize=shown,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
