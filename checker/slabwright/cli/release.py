"""Which release of the program this is."""

from __future__ import annotations

from importlib.metadata import PackageNotFoundError, version


def release() -> str:
    """Its number; empty in a checkout that is not installed."""
    try:
        return version("slabwright")
    except PackageNotFoundError:
        return ""
