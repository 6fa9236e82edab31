"""Where the folders that travel with the program stand: in a checkout, an editable install, or a wheel."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

Folder = Literal["rules", "schemas", "example_designs", "corpus", "lessons"]

_PACKAGE = Path(__file__).parent.parent
_ELSEWHERE = {"corpus": "tests/corpus", "lessons": "docs/teaching"}  # in a checkout


def folder(name: Folder) -> Path:
    """The folder ``name``: inside the installed package, or in a checkout, beside ``checker/`` or further in.

    Raises FileNotFoundError, with both places, when it stands in neither.

    >>> folder("rules").name
    'rules'
    """
    installed, checkout = _PACKAGE / name, _PACKAGE.parent.parent / _ELSEWHERE.get(name, name)
    for place in (installed, checkout):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the folder {name} stands neither at {installed} nor at {checkout}; install again")
