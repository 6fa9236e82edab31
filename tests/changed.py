"""A record with some fields changed, whether it is a named tuple or a dataclass."""

from __future__ import annotations

import dataclasses
from typing import Any


def changed(record: Any, **fields: Any) -> Any:
    """The same record with new values for ``fields``."""
    return record._replace(**fields) if hasattr(record, "_replace") else dataclasses.replace(record, **fields)
