"""The known name that a mistyped one is most like."""

from __future__ import annotations

from collections.abc import Iterable


def most_like(typed: str, known: Iterable[str], alike: float = 0.6) -> str:
    """The known name most like ``typed``, or an empty string when none is like it by this share of their letters.

    >>> most_like("panel-aspekt", ["panel-aspect", "joint-depth"])
    'panel-aspect'
    """
    from difflib import get_close_matches  # 1 ms: most files hold no slip

    return next(iter(get_close_matches(typed, list(known), 1, alike)), "")
