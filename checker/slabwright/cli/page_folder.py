"""``review --page DIR``: a page for every design of a folder, and an index of them, worst first."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path, PurePath

from slabwright.cli.many_files import SUFFIX
from slabwright.source.problem import refuse
from slabwright.text.outputs import keep
from slabwright.writers import page_index
from slabwright.writers.summary import Row

INDEX = "index.html"


class PageFolder:
    """The pages of one review, as they come; nothing is written outside the folder."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._pages: dict[str, str] = {}  # by the file of the design, the page's path in the folder
        self._taken = {INDEX}
        self.index_file = folder / INDEX

    def add(self, file: str, text: str) -> None:
        """Write the page of one design."""
        name = page_name(PurePath(file))
        stem, number = name.removesuffix(".html"), 1
        while name.lower() in self._taken:
            number += 1
            name = f"{stem}_{number}.html"
        self._taken.add(name.lower())
        self._keep(self._folder / name, text)
        self._pages[file] = name

    def index(self, rows: Sequence[Row]) -> None:
        """Write the index of all designs."""
        self._keep(self.index_file, page_index.page(rows, self._pages))

    def _keep(self, path: Path, text: str) -> None:
        for one in (path.parent, *path.parent.parents):
            if one.is_symlink() and one.is_relative_to(self._folder):
                refuse(str(path), f"{one} is a link, and nothing is written through one", "--page with another folder")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            refuse(str(path.parent), f"this folder cannot be made: {error.strerror}", "--page with another folder")
        keep(path, text, "--page")


def page_name(file: PurePath) -> str:
    """Where in the folder the page of a design stands: the path of the design, kept below the folder.

    >>> from pathlib import PurePosixPath, PureWindowsPath
    >>> page_name(PurePosixPath("jobs/2026/pad.slab.yaml")), page_name(PurePosixPath("../else/pad.slab.yaml"))
    ('jobs/2026/pad.html', 'up/else/pad.html')
    >>> page_name(PureWindowsPath("D:/jobs/pad.slab.yaml"))
    'jobs/pad.html'
    """
    parts = ["up" if part == ".." else part for part in file.relative_to(file.anchor).parts]
    return "/".join([*parts[:-1], f"{parts[-1].removesuffix(SUFFIX)}.html"])
