"""A firm's own settings: ``.slabwright.yaml`` in the folder of a design or in one above it.

It names local amendments, a folder with the firm's own rules, and whether cautions count. Paths in it are relative to
it. A design file can name none of these: rules are programs, and a design comes from anywhere.
"""

import json
import os
from pathlib import Path
from typing import NamedTuple

from slabwright.design import schema_gate
from slabwright.design.located import Group, Items
from slabwright.source import locate, yaml_tree
from slabwright.source.files import FIRM_FILE, is_folder, is_ordinary, read_text
from slabwright.source.place import Place
from slabwright.source.problem import Problems


class Firm(NamedTuple):
    """What a firm file says; ``file`` is empty when there is none.

    ``rules`` may be loaded once :func:`slabwright.review.trust.check` has let them.
    """

    amendments: tuple[Path, ...] = ()
    rules: Path | None = None
    strict: bool = False
    file: str = ""
    rules_at: Place = Place("")  # where the file names them


def find(design: Path) -> Path | None:
    """The firm file that holds for a design: that of its folder; of a link, that of the folder it leads to."""
    return above(Path(os.path.realpath(design)).parent)  # Path.resolve stops at links in a circle


def above(start: Path) -> Path | None:
    """The firm file in a folder, or in the nearest folder above it that has one; links are followed.

    Whatever has its name counts, and so does one of which nobody may know whether it is there: reading it tells.
    """
    real = Path(os.path.realpath(start))
    return next((folder / FIRM_FILE for folder in (real, *real.parents) if _may_be(folder / FIRM_FILE)), None)


def _may_be(path: Path) -> bool:
    try:
        path.lstat()
    except PermissionError:
        return True
    except OSError:
        return False
    return True


def read(path: Path) -> Firm:
    """Read a firm file.

    Raises :class:`UnreadableError` with all problems, a missing file it names among them.
    """
    problems = Problems()
    node = yaml_tree.load(read_text(path), str(path))
    schema = json.loads((locate.folder("schemas") / "firm.schema.json").read_text(encoding="utf-8"))
    data = schema_gate.gate(node, schema, problems)
    problems.raise_if_any()
    settings: Group = data
    listed = settings.get("amendments", Items(settings.place))
    amendments = tuple(path.parent / name for name in listed)
    for amendment, place in zip(amendments, listed.places, strict=True):
        if not is_ordinary(amendment):
            problems.add(place, f"there is no file {amendment}", "the path of an amendments file, from this folder")
    rules = path.parent / settings["rules"] if "rules" in settings else None
    if rules is not None and not is_folder(rules):
        problems.add(
            settings.places["rules"], f"there is no folder {rules}", "the path of a folder of rules, from this folder"
        )
    problems.raise_if_any()
    at = settings.places["rules"] if rules is not None else Place("")
    return Firm(amendments, rules, bool(settings.get("strict", False)), str(path), at)


def for_design(design: Path) -> Firm:
    """What the firm file that holds for a design says; an empty :class:`Firm` where there is none."""
    path = find(design)
    return read(path) if path else Firm()
