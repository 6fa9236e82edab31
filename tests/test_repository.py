"""The repository itself: what stands at the top, what the wheel holds, which way imports go, what every key says."""

from __future__ import annotations

import email
import json
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from checkout import ROOT

TOP = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "checker", "rules", "schemas", "tests", "example_designs", "docs",
}  # fmt: skip
KEPT = {".py", ".yaml", ".json", ".csv", ".txt", ".j2", ".typed", ".css", ".js", ".svg", ".html", ".md"}


def tracked() -> list[str]:
    out = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return out.splitlines()


def test_top_level_holds_what_it_should_and_nothing_else() -> None:
    top = {name.split("/")[0] for name in tracked()}
    assert {name for name in top if not name.startswith(".")} == TOP


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from what git tracks."""
    folder = tmp_path_factory.mktemp("wheel")
    source = folder / "source"
    for name in tracked():
        folders = ("checker/", "rules/", "schemas/", "example_designs/", "tests/corpus/", "docs/teaching/")
        if name.startswith((*folders, "docs/changes.md", "README", "pyproject")):
            target = source / name
            target.parent.mkdir(parents=True, exist_ok=True)
            if (ROOT / name).is_file():
                target.write_bytes((ROOT / name).read_bytes())
    build = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(folder), str(source)]
    subprocess.run(build, check=True, capture_output=True)
    return next(folder.glob("*.whl"))


def test_wheel_holds_exactly_the_tree(wheel: Path) -> None:
    inside = {n for n in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in n}
    changes = "slabwright-0.1.0.data/data/share/doc/slabwright/changes.md"
    wanted = {changes}
    assert zipfile.ZipFile(wheel).read(changes) == (ROOT / "docs" / "changes.md").read_bytes()
    for name in tracked():
        path = Path(name)
        if not (ROOT / name).is_file() or path.suffix not in KEPT:
            continue
        if name.startswith("checker/slabwright/"):
            wanted.add(name.removeprefix("checker/"))
        elif path.parts[0] in ("rules", "schemas", "example_designs"):
            wanted.add(f"slabwright/{name}")
        elif path.parent.as_posix() in ("tests/corpus/sound", "tests/corpus/faults"):
            wanted.add(name.replace("tests", "slabwright", 1))
        elif name.startswith("docs/teaching/"):
            wanted.add(name.replace("docs/teaching", "slabwright/lessons", 1))
    assert inside == wanted


def test_the_package_is_typed_and_claims_no_license_owner_or_address(wheel: Path) -> None:
    name = next(n for n in zipfile.ZipFile(wheel).namelist() if n.endswith(".dist-info/METADATA"))
    head = email.message_from_bytes(zipfile.ZipFile(wheel).read(name))
    told = head.get_all("Classifier") or []
    assert "Typing :: Typed" in told
    assert {f"Programming Language :: Python :: 3.{minor}" for minor in (11, 12, 13)} <= set(told)
    assert not [one for one in told if one.startswith("License")]
    for key in ("License", "License-Expression", "Author", "Author-email", "Maintainer", "Home-page", "Project-URL"):
        assert head[key] is None, key


def test_works_from_a_wheel_beside_others_named_rules_and_schemas(wheel: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    zipfile.ZipFile(wheel).extractall(site)
    for name in ("rules", "schemas", "example_designs"):
        (site / name).mkdir()
        (site / name / "__init__.py").write_text("raise RuntimeError('the wrong package was imported')\n")
    example = site / "slabwright" / "example_designs" / "rules" / "joint-depth" / "falls_short.slab.yaml"
    code = (
        f"import sys; sys.path.insert(0, {str(site)!r}); import slabwright; "
        f"assert slabwright.__file__.startswith({str(site)!r}); from slabwright.cli.main import main; "
        f"sys.exit(main(['review', {str(example)!r}]))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=tmp_path)
    assert run.returncode == 1, run.stderr
    assert "joint-depth" in run.stdout


def test_imports_go_one_way() -> None:
    tool = Path(sys.executable).with_name("lint-imports")
    run = subprocess.run([str(tool), "--no-cache"], cwd=ROOT, capture_output=True, text=True)
    assert run.returncode == 0, run.stdout


def properties(schema: object, path: str = "") -> Iterator[tuple[str, dict[str, object]]]:
    if isinstance(schema, dict):
        for name, inner in schema.get("properties", {}).items():
            yield f"{path}.{name}", inner
        for key, inner in schema.items():
            yield from properties(inner, f"{path}/{key}")
    elif isinstance(schema, list):
        for number, inner in enumerate(schema):
            yield from properties(inner, f"{path}[{number}]")


@pytest.mark.parametrize("name", ["design", "amendments", "firm"])
def test_every_key_explains_itself(name: str) -> None:
    schema = json.loads((ROOT / "schemas" / f"{name}.schema.json").read_text(encoding="utf-8"))
    found = list(properties(schema))
    assert len(found) > 2
    bare = [
        path
        for path, inner in found
        if "const" not in inner and not (inner.get("title") and inner.get("description") and inner.get("examples"))
    ]
    assert bare == []


def test_nothing_is_left_open_in_the_code() -> None:
    left = re.compile(r"\b(TODO|FIXME|XXX|NotImplementedError)\b|pytest\.(skip|xfail)|mark\.(skip|xfail)")
    found = [
        f"{name}: {line.strip()}"
        for name in tracked()
        if name.endswith(".py") and name != "tests/test_repository.py" and (ROOT / name).is_file()
        for line in (ROOT / name).read_text(encoding="utf-8").splitlines()
        if left.search(line)
    ]
    assert found == []
