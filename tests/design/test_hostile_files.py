"""Files that want to hurt: each is refused with place and help, within 3 s and 500 MB, and never with a traceback."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from slabwright.design.read import read_design
from slabwright.source.problem import UnreadableError
from snippets import SECTIONS, refused, saved, text_of

SECONDS, MEGABYTES = 3, 500

# Reads every file that it is given, each in a process of its own under limits of time and memory, and prints as JSON
# what was told, one problem a line, and what it took.
RUN = """
import json, os, resource, sys
from pathlib import Path
import jsonschema, numpy, pint, yaml
from slabwright.source.problem import UnreadableError
from slabwright.design.read import read_design

def read(path):
    resource.setrlimit(resource.RLIMIT_CPU, ({seconds} + 1, {seconds} + 1))
    try:
        read_design(Path(path))
        told = ["read"]
    except UnreadableError as reason:
        told = [f"{{one.place.line}}:{{one.place.column}}: {{one.wrong}} | {{one.write}}" for one in reason.problems]
    used = sum(resource.getrusage(resource.RUSAGE_SELF)[:2])  # of a process that began with this file
    status = dict(line.split(":", 1) for line in Path("/proc/self/status").read_text().splitlines())
    print(json.dumps([told, used, int(status["VmHWM"].split()[0]) / 1000]), flush=True)

for line in sys.stdin:
    if not (child := os.fork()):
        read(line.rstrip("\\n"))
        os._exit(0)
    if os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]):
        print("[[], 1e9, 1e9]", flush=True)
"""


@pytest.fixture(scope="module")
def reader() -> Iterator[subprocess.Popen[str]]:
    """A process that reads files when they are named to it."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "OPENBLAS_NUM_THREADS": "1"}
    command = [sys.executable, "-c", RUN.format(seconds=SECONDS)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True, env=environment) as process:
        yield process


def limited(path: Path, reader: subprocess.Popen[str], tries: int = 3) -> list[str]:
    """The lines told about a file by a process of its own; fails when it takes too long or too much.

    A file that took too long is read again: a busy machine makes even processor time longer.
    """
    assert reader.stdin is not None and reader.stdout is not None
    reader.stdin.write(f"{path}\n")
    reader.stdin.flush()
    told, seconds, megabytes = json.loads(reader.stdout.readline())
    if seconds > SECONDS and tries > 1:
        return limited(path, reader, tries - 1)
    assert seconds <= SECONDS
    assert megabytes <= MEGABYTES
    return list(told)


def bomb(levels: int, wide: int) -> str:
    lines = ["a0: &a0 [" + ", ".join("x" for _ in range(wide)) + "]"]
    lines += [f"a{n}: &a{n} [" + ", ".join(f"*a{n - 1}" for _ in range(wide)) + "]" for n in range(1, levels)]
    return "\n".join(lines) + "\n"


HOSTILE: list[tuple[str, Callable[[], bytes], list[str]]] = [
    (
        "one value of 50 MB",
        lambda: b"format: 1\nname: " + b"x" * 50_000_000,
        ["1:1: this file holds 50 MB; at most 8 MB is read | check that it is the right file"],
    ),
    (
        "one value of 7 MB",
        lambda: b"format: 1\nname: " + b"x" * 7_000_000,
        ["2:7: this text is longer than 2,000 characters | shorten it"],
    ),
    (
        "one quoted value of 7 MB over many lines",
        lambda: b'format: 1\nname: "' + b"word word\n  " * 580_000 + b'"\n',
        ["2:7: this text is longer than 2,000 characters | shorten it"],
    ),
    (
        "lists nested 10,000 deep on one line",
        lambda: b"format: 1\noutline: " + b"[" * 10_000 + b"]" * 10_000 + b"\n",
        ["2:1009: lists and sections are nested more than 40 deep | bring this level out"],
    ),
    (
        "sections nested 2,000 deep by indentation",
        lambda: "".join(" " * n + "a:\n" for n in range(2_000)).encode(),
        ["41:41: lists and sections are nested more than 40 deep | bring this level out"],
    ),
    (
        "aliases of aliases",
        lambda: bomb(30, 10).encode(),
        ["4:45: * marks repeat more than 10,000 values | the values themselves"],
    ),
    (
        "an alias of a large list, many times",
        lambda: ("a: &a [" + "1, " * 6_000 + "1]\nb: [" + "*a, " * 5_000 + "1]\n").encode(),
        ["2:9: * marks repeat more than 10,000 values | the values themselves"],
    ),
    (
        "a million values",
        lambda: b"a: [" + b"1," * 1_000_000 + b"1]\n",
        ["1:799999: this file holds more than 400,000 values | check that it is the right file"],
    ),
    (
        "a hundred thousand keys nobody knows",
        lambda: text_of().encode() + b"".join(b"k%d: 1\n" % n for n in range(100_000)),
        [
            f'{line}:1: "k{line - 8}" is not a key known here | the keys here are format, job, units, use, site, '
            "points, outline, openings, parts, edges, heights, fixed, fixtures, channels, embedded, measured, "
            "thickness, joints, reinforcement, loads, line_loads, stalls, mix, order, dig, prices, pour, permit, "
            "variances"
            for line in range(8, 208)
        ],
    ),
    (
        "a hundred thousand heights at points nobody named",
        lambda: (text_of(heights="") + "  finish:\n").encode() + b"".join(b"    Q%d: 9\n" % n for n in range(100_000)),
        [f'{line}:5: there is no point called "Q{line - 10}" | the points are A, B, C, D' for line in range(10, 210)],
    ),
    (
        "a hundred thousand bad heights at named points",
        lambda: (
            text_of(points="\n" + "".join(f"  P{n}: [{n}, 0]\n" for n in range(30_000)), outline="[P0, P1, [1, 1]]")
            + "heights:\n  finish:\n" + "".join(f"    P{n}: high\n" for n in range(30_000))
        ).encode(),
        [
            f'{line}:{8 + len(str(line - 30_011))}: "high" cannot be read as a height '
            "| a height such as 99.90 ft or 30.450 m"
            for line in range(30_011, 30_211)
        ],
    ),
    (
        "a hundred thousand quotes, and one key again and again",
        lambda: b"a: '\n" * 100_000,
        [f'{line}:1: "a" is written twice; first on line 1 | keep one of the two' for line in range(3, 403, 2)],
    ),
    (
        "noughts and nothing else",
        lambda: b"\0" * 1_000_000,
        ["1:1: this file is not plain text, or is saved as UTF-16 or UTF-32 | save it again as UTF-8"],
    ),
    (
        "all bytes there are",
        lambda: bytes(range(1, 256)) * 40,
        ["2:118: a letter here is not UTF-8 | save the file again as UTF-8"],
    ),
    ("nothing", lambda: b"", ["1:1: this file is empty | format: 1 first, then the job"]),
    ("blanks", lambda: b" \n\n  \n", ["1:1: this file is empty | format: 1 first, then the job"]),
]  # fmt: skip


@pytest.mark.parametrize(("content", "told"), [entry[1:] for entry in HOSTILE], ids=[entry[0] for entry in HOSTILE])
def test_hostile_files_are_refused_within_time_and_memory(
    tmp_path: Path, content: Callable[[], bytes], told: list[str], reader: subprocess.Popen[str]
) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes(content())
    assert limited(path, reader) == told


def test_large_designs_are_read_in_near_linear_time(tmp_path: Path) -> None:
    def design(count: int) -> Path:
        points = "".join(f"\n  P{n}: [{n % 100}, {n // 100}]" for n in range(count))
        finish = "".join(f"\n    P{n}: {99 + n % 97 / 100:.2f}" for n in range(count))
        outline = "[[0, 0], [99, 0], [99, 199], [0, 199]]"
        return saved(tmp_path, points=points, outline=outline, heights=f"\n  finish:{finish}")

    def seconds(count: int) -> float:
        path = design(count)
        taken = []
        for _ in range(2):
            before = os.times()
            found, _ = read_design(path)
            after = os.times()
            taken.append(after.user - before.user + after.system - before.system)
            assert len(found.heights.finish) == count
        return min(taken)

    few, many = seconds(2_500), seconds(20_000)
    assert many < 8 * few * 2.5 + 0.2  # eight times as many; 2.5 for a busy machine
    assert many < 6.0  # about 1.2 s on an idle machine


def test_pipes_and_devices_are_not_opened(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.slab.yaml")
    for path in (tmp_path / "pipe.slab.yaml", Path("/dev/zero")):
        told: list[list[tuple[int, int, str, str]]] = []
        reader = threading.Thread(target=lambda path=path, told=told: told.append(refused(path)), daemon=True)
        reader.start()
        reader.join(5)
        assert told == [[(1, 1, "this is not an ordinary file", "give the name of a file")]]


def test_names_no_file_can_have(tmp_path: Path) -> None:
    for name in ("a\0b", "x" * 5000):
        (told,) = refused(tmp_path / name)
        assert told[2].startswith("this file could not be opened")


def test_a_link_that_leads_to_itself(tmp_path: Path) -> None:
    path = tmp_path / "loop.slab.yaml"
    path.symlink_to(path)
    (told,) = refused(path)
    assert told[2].startswith("this file could not be opened")


# Pieces that break readers, put in place of any value of a sound design.
PIECES = st.sampled_from(
    ["", "~", "[]", "{}", "[[]]", "{a: }", "- a", "&x *x", "*x", "!!python/object:os.system x", "<<: 1", "? a", "'",
     '"', "#4", "99,90", "1e400", "-0", ".nan", "0x", "\t", "a: b: c", "[A, B", "{A: 1}", "yes",
     "null", "''", "|", ">", "%",
     "@", "`", "1:48", "½", "٣ in", "12'-6\"", "\u00a0", "🧱", "A", "[A, A, A]", "[1, 2]",
     "[[0, 0], [0, 0], [0, 0]]", "\n  - A\n  - B",
     "\n  design: 4 in", "\n\tx", "{design: [4 in]}", "{design: {a: 4 in}}", "{kind: saw cut}",
     "[{kind: saw cut}]", "[~]", "[{}]"]
)  # fmt: skip


@settings(deadline=None, max_examples=300, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.dictionaries(
        st.sampled_from(
            [
                *SECTIONS,
                "site",
                "edges",
                "heights",
                "fixed",
                "fixtures",
                "joints",
                "reinforcement",
                "order",
                "dig",
                "prices",
            ]
        ),
        PIECES | st.text(max_size=12),
        min_size=1,
        max_size=3,
    )
)
def test_whatever_stands_in_a_section_is_read_or_refused(tmp_path: Path, changes: dict[str, str]) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes(text_of(**changes).encode("utf-8", "surrogatepass"))
    try:
        design, _ = read_design(path)
    except UnreadableError as reason:
        lines = len(path.read_bytes().splitlines()) + 1
        assert reason.problems
        for problem in reason.problems:
            assert problem.wrong and problem.write, problem
            assert 1 <= problem.place.line <= lines, problem
    else:
        assert design.outline


@settings(deadline=None, max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200))
def test_any_bytes_are_read_or_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "pad.slab.yaml"
    path.write_bytes(content)
    with pytest.raises(UnreadableError) as caught:
        read_design(path)
    assert caught.value.problems
