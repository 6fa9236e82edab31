"""Measure the speed of a review and write ``docs/speed.md``.

Run ``python tests/benchmarks/measure.py`` (about three minutes). Figures are ratios or totals taken in one run on one
machine; nothing here passes or fails. Seconds are those of the processor, user and system together, which others at the
machine disturb least.
"""

from __future__ import annotations

import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from floors import write_floor
from repository import DESIGNS, write_repository

ROOT = Path(__file__).resolve().parents[2]
BAY = ROOT / "example_designs" / "jobs" / "trailer_bay.slab.yaml"
LIBRARIES = "import yaml, jsonschema_rs, shapely, numpy"
RUNS = 10

# The checks that every plan needs before any other; the rest of the rulebook may not make a review much slower.
FIRST = {
    "water": "fall_from_building ground_dams_edge least_fall standing_water valley_fall water_ends_where_it_may",
    "heights": "door_step greatest_fall slab_below_fixed stated_fall trip_at_existing_slab",
    "thickness": "base_depth form_board least_thickness wheel_load",
    "joints": "inside_corner_joint joint_depth joint_ends panel_aspect panel_corners panel_spacing",
    "isolation": "fixtures_isolated isolation_full_depth opposite_faces",
    "steel": "bar_spacing steel_at_joints steel_held_up steel_position stone_between_bars",
    "mix": "freezing_air freezing_strength stone_for_thickness",
    "order": "ordered_volume",
}
WITH_FIRST = """
import sys
from pathlib import Path
from slabwright.cli import main as cli
from slabwright.source import locate
folder, whole = Path(sys.argv.pop(1)), locate.folder
locate.folder = lambda name: folder if name == "rules" else whole(name)
sys.exit(cli.main(sys.argv[1:]))
"""


def timed(command: list[str]) -> tuple[float, float]:
    """Seconds of the processor and peak memory (MB) of one run of a command, its workers included."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
    _, _, usage = os.wait4(process.pid, 0)
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def start_up() -> tuple[float, float, float, float]:
    """Median seconds of the libraries alone, of a brief and of a whole review, in turn, and the peak memory (MB)."""
    alone, brief, review, memory = [], [], [], 0.0
    command = [sys.executable, "-m", "slabwright", "review", str(BAY)]
    timed(command)
    for _ in range(RUNS):
        alone.append(timed([sys.executable, "-c", LIBRARIES])[0])
        brief.append(timed([*command, "--brief"])[0])
        seconds, peak = timed(command)
        review.append(seconds)
        memory = max(memory, peak)
    return statistics.median(alone), statistics.median(brief), statistics.median(review), memory


def rulebook() -> tuple[int, float, int, float]:
    """How many first rules and all rules there are, and the median seconds of a review with each, taken in turn."""
    few, every = [], []
    rules = ROOT / "rules"
    with tempfile.TemporaryDirectory() as place:
        for group, names in FIRST.items():
            (Path(place) / group).mkdir()
            for name in names.split():
                shutil.copy(rules / group / f"{name}.py", Path(place) / group)
        shutil.copy(rules / "sources.yaml", place)
        first = [sys.executable, "-c", WITH_FIRST, place, "review", str(BAY)]
        whole = [sys.executable, "-c", WITH_FIRST, str(rules), "review", str(BAY)]
        for command in (first, whole):
            timed(command)
        for _ in range(RUNS):
            few.append(timed(first)[0])
            every.append(timed(whole)[0])
    count = sum(len(names.split()) for names in FIRST.values())
    return count, statistics.median(few), len(list(rules.glob("*/[!_]*.py"))), statistics.median(every)


def floors() -> list[tuple[int, int, float, float]]:
    """Panels, shots, seconds and peak memory (MB) of floors of three sizes."""
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for panels, shots in ((500, 20_000), (5_000, 20_000), (25_000, 20_000)):
            path = write_floor(Path(folder), panels, shots)
            seconds, memory = timed([sys.executable, "-m", "slabwright", "review", "--json", str(path)])
            rows.append((panels, shots, seconds, memory))
    return rows


def repository() -> dict[str, tuple[float, float]]:
    """Median seconds and peak memory (MB) on a generated repository, taken in turn: the yardstick, one core, two."""
    taken: dict[str, list[tuple[float, float]]] = {"reference": [], "brief": [], "one": [], "two": []}
    with tempfile.TemporaryDirectory() as folder:
        write_repository(Path(folder))
        yardstick = [sys.executable, str(Path(__file__).with_name("repository.py")), folder]
        review = [sys.executable, "-m", "slabwright", "review", folder, "--jobs"]
        for _ in range(3):
            taken["reference"].append(timed(on_cores(1, yardstick)))
            taken["brief"].append(timed(on_cores(1, [*review, "1", "--brief"])))
            taken["one"].append(timed(on_cores(1, [*review, "1"])))
            taken["two"].append(timed(on_cores(2, [*review, "2"])))
    return {
        name: (statistics.median(seconds for seconds, _ in runs), max(memory for _, memory in runs))
        for name, runs in taken.items()
    }


def on_cores(count: int, command: list[str]) -> list[str]:
    """The command kept to so many cores."""
    cores = ",".join(str(core) for core in sorted(os.sched_getaffinity(0))[:count])
    return ["taskset", "--cpu-list", cores, *command]


def page() -> str:
    """The page, measured now."""
    alone, brief, review, memory = start_up()
    few, with_few, every, with_every = rulebook()
    rows = floors()
    jobs = repository()
    (yardstick, memory_alone), (one, memory_one), (two, memory_two) = jobs["reference"], jobs["one"], jobs["two"]
    lines, memory_lines = jobs["brief"]
    growth = rows[2][2] / rows[1][2]
    table = "\n".join(f"| {p:,} | {s:,} | {t:.1f} s | {m:.0f} MB |" for p, s, t, m in rows)
    return f"""# Speed

Measured by `python tests/benchmarks/measure.py`, each table in one run (Python {platform.python_version()},
{os.cpu_count()} cores).
Seconds are those of the processor, user and system together. They depend on the machine and its day; the ratios less.
Where other work keeps the cores busy the ratios come out higher, by up to a sixth: 2.5 to 2.9 for one and the same
brief review.

## One job

`slabwright review example_designs/jobs/trailer_bay.slab.yaml` against
`python -c "{LIBRARIES}"`, the libraries that a plain review loads, in the same environment,
medians of {RUNS}, run in turn. With `--brief` no remedy is tried; the whole review applies each of its
remedies and judges again:

| | processor | against the libraries | peak memory |
| --- | --- | --- | --- |
| libraries alone | {alone:.3f} s | 1 | |
| review with `--brief` | {brief:.3f} s | {brief / alone:.2f} | |
| whole review | {review:.3f} s | {review / alone:.2f} | {memory:.0f} MB |

The same review with the {few} rules that every plan needs first, and with all {every}, medians of {RUNS}, run in
turn:

| {few} rules | {every} rules | ratio |
| --- | --- | --- |
| {with_few:.3f} s | {with_every:.3f} s | {with_every / with_few:.2f} |

## Large floors

Generated shop floors (`tests/benchmarks/floors.py`), reviewed with `--json`:

| panels | base shots | time | peak memory |
| --- | --- | --- | --- |
{table}

Five times the panels (5,000 to 25,000) take {growth:.1f} times the time.

## A repository of {DESIGNS:,} designs

Generated designs of 20 to 60 lines (`tests/benchmarks/repository.py`), one in twenty not readable, reviewed in one
run with every sheet printed and every remedy tried, and with `--brief`, which tries none. The yardstick is a program
that parses the same files with PyYAML's C loader and validates them with jsonschema, in one process on one core; all
are timed from start to end, medians of 3, run in turn:

| what | processor | against the yardstick | peak memory of a process |
| --- | --- | --- | --- |
| parsing and validating alone, one core | {yardstick:.2f} s | 1 | {memory_alone:.0f} MB |
| review with `--brief`, one core | {lines:.2f} s | {lines / yardstick:.2f} | {memory_lines:.0f} MB |
| whole review, one core | {one:.2f} s | {one / yardstick:.2f} | {memory_one:.0f} MB |
| whole review, two cores together | {two:.2f} s | {two / yardstick:.2f} | {memory_two:.0f} MB |

Two workers share nothing, and take {two / one:.2f} times the work of one: two free cores are {2 * one / two:.1f} times
as fast.

## What was aimed at

| | aim | reached |
| --- | --- | --- |
| review with `--brief`, against the libraries | 2.5 | {brief / alone:.2f} |
| whole review, against that with `--brief` | 1.5, where heights move 2 | {review / brief:.2f} |
| 1,000 designs with `--brief` on one core, against the yardstick | 3.2 | {lines / yardstick:.2f} |

Of a brief review Python and the libraries take two fifths, loading code a quarter, the rules' files a tenth, reading
the design a twentieth, and judging a sixth. Two hundred classes of records and as many modules are what the loading
goes to; records of our own would cost less, but those of the standard library are what everyone knows, and stay.

The whole review writes each of its remedies into the file, reads it and judges again what looked at a section that
changed: of 128 rules 57 where a height moves, 45 where an edge does, 38 where a joint does, 14 where the mix does.
Sections are told apart whole, but for what a part of the plan asks nothing of: joints and panels of a slab without
steps lie the same at any height. A trial on a small design takes two fifths of its time to write and read the file, and
the rest to judge. Nearly every first remedy holds, so that no order of trying would spare one; at last all of them are
tried together, on top of the one that most rules looked at again.

1,000 designs stay far from the aim, and it cannot be reached without harm. A small design takes a sixth of its time to
be read and checked, two thirds to be laid out and judged, a tenth to be printed, and no function takes more than a
thirtieth by itself. Its geometry has a handful of points, for which a call of numpy or shapely costs more than what it
works out. A second geometry for small slabs, written out beside the one that serves floors of thousands of panels,
would save perhaps a fifth of the time; it would have to be proved and kept equal to the first for ever, for some
milliseconds a design.

A height that looks misread is asked about once the design was judged with it put right, for up to ten heights and a few
ways to read each. The rules that had something to say judge these first, and most designs end there: to put a report
together takes 8 ms on the slips of the corpus, and took 13 with all rules asked. On the page of a floor with 1,200
comments a leader is looked for only where its callout has room: the page takes 4 s, and took 12 to 16.
"""


if __name__ == "__main__":
    (ROOT / "docs" / "speed.md").write_text(page(), encoding="utf-8")
    print((ROOT / "docs" / "speed.md").read_text(encoding="utf-8"))
