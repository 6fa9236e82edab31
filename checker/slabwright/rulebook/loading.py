"""Finding the rule files, and refusing those that are incomplete, with the place of everything that is missing.

A rule is one file, ``<group>/<rule_name>.py``, in the published ``rules`` folder or in a firm's own. It is loaded
by its path and never becomes an importable module: a published one with Python's ordinary bytecode cache, a firm's own
from its source text alone. Every start checks the loaded rule; the checks that need the source text (:func:`examine`)
are for tests and for a firm's own rules, and there they come before anything of it runs.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import module_from_spec
from pathlib import Path
from types import ModuleType

from slabwright.rulebook import sources as bibliography
from slabwright.rulebook.checking import Check, page_of
from slabwright.rulebook.limits import published_sources
from slabwright.rulebook.rule import GROUPS, Rule
from slabwright.rulebook.sources import Bibliography
from slabwright.source import locate
from slabwright.source.files import is_folder, is_ordinary
from slabwright.source.place import Place
from slabwright.source.problem import Problems, UnreadableError


def load_rules(own: Path | None = None, folder: Path | None = None) -> tuple[Rule, ...]:
    """Every rule, in the order of :data:`GROUPS`, then by name.

    ``own`` is a firm's own rules folder, laid out like the published one; its rules are examined in full and marked
    ``own``, and none may take the name of a published rule. ``folder`` stands in for the published one.

    Raises :class:`UnreadableError` with all problems of all files.
    """
    problems = Problems()
    sources = published_sources()
    own_sources = _with_own(own, problems)
    rules: dict[str, Rule] = {}
    folders = [(folder or locate.folder("rules"), False)] + ([(own, True)] if own else [])
    for place, is_own in folders:
        for path in _rule_files(place, problems):
            rule = _load(path, is_own, own_sources if is_own else sources, problems)
            if rule is None:
                continue
            earlier = rules.setdefault(rule.name, rule)
            if earlier is not rule:
                problems.add(
                    Place(rule.file),
                    f"a rule named {rule.name} is there already: {earlier.file}",
                    "give the file another name; to change a published limit, write local amendments instead",
                )
    problems.raise_if_any()
    return tuple(sorted(rules.values(), key=lambda rule: (GROUPS.index(rule.group), rule.name)))


def examine(path: Path) -> Rule:
    """Load one rule file and check all of it, its source text and the sane range of its limits included.

    Raises :class:`UnreadableError` with all problems, each with its line.
    """
    problems = Problems()
    rule = _load(path, False, published_sources(), problems, in_full=True)
    problems.raise_if_any()
    assert rule is not None
    return rule


def _with_own(own: Path | None, problems: Problems) -> Bibliography:
    published = published_sources()
    if own is None or not is_ordinary(own / "sources.yaml"):
        return published
    try:
        added = bibliography.load(own / "sources.yaml")
    except UnreadableError as error:
        for problem in error.problems:
            problems.add(problem.place, problem.wrong, problem.write)
        return published
    for key in added:
        if key in published:
            problems.add(added[key].place, f"{key} is a published source already", "another key")
    return Bibliography({**added, **published})


def _rule_files(folder: Path, problems: Problems) -> Iterator[Path]:
    groups = f"one of: {', '.join(GROUPS)}"
    if not is_folder(folder):
        problems.add(Place(str(folder)), "no rules folder is here", "a folder that holds <group>/<rule_name>.py")
        return
    for entry in _entries(folder, problems):
        if entry.suffix == ".py" and entry.name != "__init__.py":
            problems.add(Place(str(entry)), "a rule file outside a group folder", f"move it into {groups}")
        elif entry.suffix or entry.name == "__pycache__":
            continue
        elif files := [
            path for path in _entries(entry, problems) if path.suffix == ".py" and path.name != "__init__.py"
        ]:
            if entry.name in GROUPS:
                yield from files
            else:
                problems.add(Place(str(files[0])), f"there is no group {entry.name!r}", groups)


def _entries(folder: Path, problems: Problems) -> list[Path]:
    """What is in a folder, by name; of a file, nothing."""
    try:
        return sorted(folder.iterdir()) if is_folder(folder) else []
    except OSError as error:
        wrong = f"this folder may not be entered: {(error.strerror or str(error)).lower()}"
        problems.add(Place(str(folder)), wrong, "ask for leave to read it")
        return []


def _published_name(path: Path) -> str:
    """How a report names a published rule file, wherever the program is installed."""
    return f"rules/{path.parent.name}/{path.name}"


def _load(path: Path, own: bool, sources: Bibliography, problems: Problems, in_full: bool = False) -> Rule | None:
    """The rule in ``path``; None, with the problems noted, when it is refused."""
    file = str(path) if own else _published_name(path)
    check = Check(path, file, problems)
    before = len(problems)
    module = _examined(path, check) if own or in_full else _execute(path, check)
    if module is None:
        return None
    page = page_of(module.__doc__ or "")
    check.names(page)
    in_force = check.contents(module, sources, own)
    if own or in_full:
        check.compared(limit.name for limit in in_force)
        for limit, read_limit in zip(module.LIMITS, in_force, strict=True) if len(problems) == before else ():
            check.sane(limit, read_limit)
    if len(problems) > before:
        return None
    summary = (module.__doc__ or "").strip().partition("\n")[0].strip()
    return Rule(
        name=path.stem.replace("_", "-"),
        group=path.parent.name,
        title=module.TITLE,
        page=page,
        summary=summary,
        limits=module.LIMITS,
        worked=module.WORKED,
        judge=module.judge,
        file=file,
        own=own,
        each_pour=getattr(module, "EACH_POUR", False) is True,
        in_force={limit.name: limit for limit in in_force},
    )


def _examined(path: Path, check: Check) -> ModuleType | None:
    """The module in ``path`` once its text has been examined; what runs is that text, and no bytecode beside it."""
    before = len(check.problems)
    try:
        if not is_ordinary(path):
            check.note(1, "this is not an ordinary file", "the text of a rule")
        else:
            check.text()
    except SyntaxError as error:
        check.note(error.lineno or 1, f"not Python: {error.msg}", "mend the line", error.offset or 1)
    except (OSError, ValueError, RecursionError, MemoryError) as error:
        check.note(1, f"this file cannot be read: {error}", "the text of a rule")
    return _execute(path, check, check.source.tree) if len(check.problems) == before else None


def _execute(path: Path, check: Check, text: ast.Module | None = None) -> ModuleType | None:
    """The module in ``path``, run once and left out of ``sys.modules``: rules are reached through the catalogue."""
    name = f"rule file {path.parent.name}/{path.name}"
    loader = SourceFileLoader(name, str(path))
    module = module_from_spec(ModuleSpec(name, loader, origin=str(path)))
    try:
        if text is None:
            loader.exec_module(module)
        else:
            exec(compile(text, str(path), "exec", dont_inherit=True), vars(module))
    except SyntaxError as error:
        check.note(error.lineno or 1, f"not Python: {error.msg}", "mend the line", error.offset or 1)
    except (Exception, SystemExit) as error:
        import traceback  # 1 ms

        lines = [frame.lineno for frame in traceback.extract_tb(error.__traceback__) if frame.filename == str(path)]
        told = f"{type(error).__name__}: {error}"
        check.note((lines or [1])[-1] or 1, f"the file stops while it is loaded: {told}", "mend the line")
    else:
        return module
    return None
