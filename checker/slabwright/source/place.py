"""Where something stands in a file."""

from typing import NamedTuple


class Place(NamedTuple):
    """A spot in a text file.

    ``line`` and ``column`` count from 1, as editors do; ``path`` is the key path inside the
    document (``"joints[2].depth"``), empty for the whole file.

    >>> print(Place("pad.slab.yaml", 12, 5, "joints[0].depth"))
    pad.slab.yaml:12:5
    """

    file: str
    line: int = 1
    column: int = 1
    path: str = ""

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Place("")
