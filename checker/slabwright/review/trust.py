"""Whether a firm's own rules may run: rules are programs, and a firm file comes with whatever folder it is found in.

They run when a command names them (``--rules``), or when ``slabwright trust`` was said of the firm file as it is. What
was said is kept in the user's own configuration folder: the path of the firm file, and a digest of it and of all its
rule files. A change of any of them asks again.
"""

from __future__ import annotations

import json
import os
import re
import shlex
import stat
from collections.abc import Iterator
from pathlib import Path

from slabwright.review import firm
from slabwright.source.files import BYTES_AT_MOST, FIRM_FILE, is_folder, read_text
from slabwright.source.problem import Problem, UnreadableError, refuse
from slabwright.text.outputs import keep
from slabwright.text.screen import screen
from slabwright.text.sheet import Line, Sheet

WINDOWS = os.name == "nt"
FILE = "trusted.json"


def own_rules(asked: Path | None, house: firm.Firm) -> Path | None:
    """The folder of own rules that may run: the one a command names, else that of the firm file.

    Raises :class:`UnreadableError` when the firm's are not trusted as they are.
    """
    if asked is not None or house.rules is None:
        return asked
    check(house)
    return house.rules


def check(house: firm.Firm) -> None:
    """Refuse the rules that a firm file names, unless they are trusted as they are.

    Raises :class:`UnreadableError` at the line that names them, with what to write.
    """
    said = _kept().get(_name(house))
    if said is None:
        _ask(house, "rules are programs, and nobody has said on this computer that these may run")
    if said != _digest(house):
        _ask(house, "the firm file or its rules have changed since somebody said that they may run")


def trust(folder: Path) -> list[Line]:
    """Let the rules of the firm file that holds in a folder run as they are now; says which they are.

    Raises :class:`UnreadableError` when there are none, or they belong to another user.
    """
    house = _house(folder)
    _keep({**_kept(), _name(house): _digest(house)})
    files = [str(path) for path in _files(house)]
    return _told(f"trusted as they are now: {', '.join(files)}", "a change of any of them asks again")


def withdraw(folder: Path) -> list[Line]:
    """Let the rules of the firm file that holds in a folder run no longer.

    Raises :class:`UnreadableError` when they were not trusted.
    """
    house = _house(folder)
    kept = _kept()
    if kept.pop(_name(house), None) is None:
        refuse(house.file, "these rules are not trusted here", "nothing: they do not run")
    _keep(kept)
    return _told(f"no longer trusted: {house.file}", "its rules run when a command names them with --rules")


def _told(*sentences: str) -> list[Line]:
    page = Sheet(*screen())
    for sentence in sentences:
        page.paragraph(sentence, hang=2)
    return page.lines


def _house(folder: Path) -> firm.Firm:
    """The firm file that holds in a folder, if it names rules."""
    if not is_folder(folder):
        refuse(str(folder), "there is no such folder", "the folder of a firm file, or one below it")
    found = firm.above(folder)
    if found is None:
        refuse(str(folder), f"no firm file ({FIRM_FILE}) holds here", "the folder of a firm file, or one below it")
    house = firm.read(found)
    if house.rules is None:
        refuse(house.file, "this firm file names no rules, so nothing in it is run", "nothing: it holds as it is")
    return house


def _ask(house: firm.Firm, wrong: str) -> None:
    folder, rules = quoted(str(Path(house.file).parent)), quoted(str(house.rules))
    write = f"slabwright trust {folder}, once you have read them; or for this command --rules {rules}"
    raise UnreadableError((Problem(house.rules_at, wrong, write),))


def quoted(name: str) -> str:
    """A name as the shell of this system reads it as one."""
    if not WINDOWS:
        return shlex.quote(name)
    return f'"{name}"' if re.search(r"[\s&^%!;,=()']", name) else name


def _name(house: firm.Firm) -> str:
    """What a firm file is kept under."""
    return os.path.realpath(house.file)


def _files(house: firm.Firm) -> Iterator[Path]:
    """The firm file, and every file of its rules folder that a review loads; of links to folders, what they lead to."""
    assert house.rules is not None
    yield Path(house.file)
    groups = [house.rules, *(one for one in _listed(house.rules) if is_folder(one))]
    for folder in groups:
        yield from (one for one in _listed(folder) if one.suffix == ".py")
    if os.path.lexists(sources := house.rules / "sources.yaml"):
        yield sources


def _listed(folder: Path) -> list[Path]:
    _of_this_user(folder)
    try:
        return sorted(folder.iterdir())
    except OSError as error:
        refuse(str(folder), f"this folder may not be entered: {error.strerror}", "ask for leave to read it")


def _digest(house: firm.Firm) -> str:
    """One number for all the files by name and content.

    Raises :class:`UnreadableError` for a file of another user, and one that cannot be read.
    """
    import hashlib  # 3 ms, where no firm has rules of its own for nothing

    whole = hashlib.sha256()
    for path in _files(house):
        content = _content(path)
        name = os.fsencode(os.path.relpath(path, Path(house.file).parent))
        whole.update(b"%d %d " % (len(name), len(content)) + name + content)
    return whole.hexdigest()


def _content(path: Path) -> bytes:
    _of_this_user(path)
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            refuse(str(path), "this is not an ordinary file", "the text of a rule, or nothing of this name")
        with path.open("rb") as stream:
            content = stream.read(BYTES_AT_MOST + 1)
    except OSError as error:
        refuse(str(path), f"this file could not be opened: {error.strerror}", "ask for leave to read it")
    if len(content) > BYTES_AT_MOST:
        refuse(str(path), "this file holds more than 8 MB", "check that it is the right file")
    return content


def _of_this_user(path: Path) -> None:
    """Refuse what another user owns, and could change: the link, and what it leads to. Windows tells no owner here."""
    if not hasattr(os, "geteuid"):
        return
    try:
        owners = {path.lstat().st_uid, path.stat().st_uid}
    except OSError:  # reading it tells
        return
    if owners != {os.geteuid()}:
        write = "a copy of your own; or, once you have read them, --rules and the folder with each command"
        refuse(str(path), "this belongs to another user, and rules that others can change are not trusted", write)


def _store() -> Path | None:
    """Where it is kept what this user trusts; None where there is no home."""
    variable, usual = ("APPDATA", "AppData/Roaming") if WINDOWS else ("XDG_CONFIG_HOME", ".config")
    named = Path(os.environ.get(variable, ""))
    try:
        return (named if named.is_absolute() else Path.home() / usual) / "slabwright" / FILE
    except RuntimeError:
        return None


def _kept() -> dict[str, str]:
    """The digest said to be trusted of each firm file, by its path."""
    store = _store()
    if store is None or not os.path.lexists(store):
        return {}
    try:
        trusted = json.loads(read_text(store))["trusted"]
        return {str(name): str(digest) for name, digest in trusted.items()}
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
        refuse(str(store), "this is not what slabwright keeps there", "delete it, and say again what you trust")


def _keep(trusted: dict[str, str]) -> None:
    store = _store()
    if store is None:
        refuse("", "there is no home folder to keep it in", "XDG_CONFIG_HOME with the path of a folder of yours")
    try:
        store.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError as error:
        refuse(str(store.parent), f"this folder cannot be made: {error.strerror}", "a folder of yours in its place")
    text = json.dumps({"trusted": dict(sorted(trusted.items()))}, indent=1)
    keep(store, text + "\n", "a configuration folder")
