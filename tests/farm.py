"""Hostile files by the thousand: ``python tests/farm.py SEED COUNT`` spoils designs and what lies beside them.

Each mutant is an example or a design of the corpus with one to four things changed: a value, a line, or bytes; or its
rod readings, amendments or firm file. Of each it is checked that no traceback and no rule that crashes comes of it,
that it is over within 3 s of processor time and the process stays under 500 MB, that the JSON is JSON without NaN, that
the panels' areas add up to the slab and the shares of its water to one, and that the same file gives the same output.
Every twentieth that reads is also drawn moved, turned and renamed, and has the same comments.

What is found is kept in ``--keep FOLDER`` and told with its number: ``--one NUMBER`` makes that mutant again.
"""

from __future__ import annotations

import argparse
import gc
import json
import random
import re
import resource
import shutil
import signal
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from types import FrameType
from typing import NamedTuple

from checkout import ROOT
from slabwright.cli.main import CYCLES_AFTER
from slabwright.review import reviewing
from slabwright.review.reviewing import Judged, Settings
from slabwright.source.locate import folder
from slabwright.source.problem import UnreadableError
from slabwright.writers.as_json import as_data, as_json
from turning import drawing_of, renamed, shifted, turned

SECONDS, MEGABYTES, EVERY = 3.0, 500, 20
EXAMPLES = folder("example_designs")
CORPUS = ROOT / "tests" / "corpus"
FIRM = "amendments: [town.yaml]\nstrict: true\n"
VALUES = (
    "", "~", "0", "-1", "1e400", ".nan", "-0", "1e-300", "3000000", "1e9 ft", "0 in", "-4 in", "none", "[]", "{}",
    "[[]]", "yes", "'", '"', "A", "[A, A, A]", "[0, 0]", "[[0, 0], [0, 0], [0, 0]]", "12'-6\"", "1/0 in", "½ in",
    "99,90", "#4", "100 %", "1:0", "10M", "1 in/ft", "1000000 psi", "*x", "&x *x", "!!python/object:os.system x",
    "<<: 1", "1_000", "0x1F", "\t", "a: b", "2026-02-30", "25:61", "\u202e", "🧱", "\x7f", "٣", "x" * 3000,
)  # fmt: skip
_VALUE = re.compile(r"(?<=[:\[,{ ])\s*([^\s:\[\]{},#][^\[\]{},#\n]*?)\s*(?=[,\]}\n])")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")


class Mutant(NamedTuple):
    """What a mutant consists of: files by name, ``pad.slab.yaml`` among them."""

    files: dict[str, bytes]


class Find(NamedTuple):
    """Something that must not be."""

    number: int
    sort: str
    says: str


class _TooLongError(BaseException):
    """A mutant takes too long; no handler of the program under test catches it."""


@cache
def sources() -> tuple[Path, ...]:
    """The designs that are spoilt."""
    return tuple(
        sorted(
            [*EXAMPLES.glob("rules/*/*.slab.yaml"), *EXAMPLES.glob("jobs/*.slab.yaml"), *CORPUS.rglob("*.slab.yaml")]
        )
    )


@cache
def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def mutant(seed: int, number: int) -> Mutant:
    """The mutant of a number: the same whenever it is made."""
    rng = random.Random(f"{seed} {number}")
    source = rng.choice(sources())
    files = {"pad.slab.yaml": _text(source).encode()}
    for beside in source.parent.glob("*.csv"):
        files[beside.name] = beside.read_bytes()
    if rng.random() < 0.1:
        towns = sorted((EXAMPLES / "amendments").glob("*.yaml"))
        files |= {"town.yaml": rng.choice(towns).read_bytes(), ".slabwright.yaml": FIRM.encode()}
    spoilt = rng.choice(sorted(files)) if rng.random() < 0.5 else "pad.slab.yaml"
    text = files[spoilt]
    for _ in range(rng.choice((1, 1, 1, 2, 4))):
        text = rng.choice((_value, _value, _number, _number, _line, _from_another, _bytes))(text, rng)
    files[spoilt] = text
    return Mutant(files)


def _value(text: bytes, rng: random.Random) -> bytes:
    """Another value in place of one."""
    said = text.decode("utf-8", "replace")
    found = list(_VALUE.finditer(said))
    if not found:
        return text
    at = rng.choice(found)
    value = rng.choice((rng.choice(VALUES), rng.choice(found)[1]))
    return (said[: at.start(1)] + value + said[at.end(1) :]).encode("utf-8", "replace")


def _number(text: bytes, rng: random.Random) -> bytes:
    """Another number in place of one: scaled, moved a hair, or with its sign changed."""
    said = text.decode("utf-8", "replace")
    found = list(_NUMBER.finditer(said))
    if not found:
        return text
    at = rng.choice(found)
    was = float(at[0])
    now = rng.choice(
        (was * 10, was / 10, was * 1000, -was, was + 1e-6, was + 0.001, was * 0.5, 0.0, was + 1, rng.choice(found)[0])
    )
    return (said[: at.start()] + (now if isinstance(now, str) else f"{now:.6g}") + said[at.end() :]).encode(
        "utf-8", "replace"
    )


def _line(text: bytes, rng: random.Random) -> bytes:
    """A line left out, twice, moved, or further in or out."""
    lines = text.split(b"\n")
    at = rng.randrange(len(lines))
    match rng.randrange(5):
        case 0:
            del lines[at]
        case 1:
            lines.insert(at, lines[at])
        case 2:
            lines.insert(rng.randrange(len(lines)), lines.pop(at))
        case 3:
            lines[at] = b"  " + lines[at]
        case _:
            lines[at] = lines[at][2:]
    return b"\n".join(lines)


def _from_another(text: bytes, rng: random.Random) -> bytes:
    """A section of another design at the end, or in place of its own."""
    sections = re.split(r"^(?=[a-z_]+:)", _text(rng.choice(sources())), flags=re.MULTILINE)[1:]
    taken = rng.choice(sections)
    key = taken.partition(":")[0]
    said = text.decode("utf-8", "replace")
    own = re.search(rf"^{key}:.*?(?=^[a-z_]+:|\Z)", said, re.MULTILINE | re.DOTALL)
    return (said[: own.start()] + taken + said[own.end() :] if own else f"{said}\n{taken}").encode("utf-8", "replace")


def _bytes(text: bytes, rng: random.Random) -> bytes:
    """Bytes flipped, put in, left out, repeated, or the end cut off."""
    if not text:
        return b"\x00"
    at, size = rng.randrange(len(text)), rng.choice((1, 1, 2, 8, 64))
    match rng.randrange(5):
        case 0:
            return text[:at] + bytes([text[at] ^ (1 << rng.randrange(8))]) + text[at + 1 :]
        case 1:
            return text[:at] + bytes(rng.randrange(256) for _ in range(size)) + text[at:]
        case 2:
            return text[:at] + text[at + size :]
        case 3:
            return text[:at] + text[at : at + size] * rng.choice((2, 50)) + text[at + size :]
        case _:
            return text[:at]


def tried(number: int, one: Mutant, work: Path, invariance: bool) -> Iterator[Find]:
    """What is wrong with the review of a mutant, written into the folder ``work``."""
    for name, content in one.files.items():
        (work / name).write_bytes(content)
    path = work / "pad.slab.yaml"
    first, took = _timed(path)
    if took > SECONDS and not isinstance(first, Find):  # a busy machine makes even processor time longer
        first, again = _timed(path)
        took = min(took, again)
    if isinstance(first, Find):
        yield first._replace(number=number)
        return
    if took > SECONDS:
        yield Find(number, "slow", f"{took:.1f} s")
    if isinstance(first, str):
        if not first:
            yield Find(number, "silent", "refused without a reason")
        return
    yield from (one._replace(number=number) for one in _sound(first, number % 5 == 0))
    if number % 5 == 0:
        again = _judged(path)
        if not isinstance(again, Judged) or as_json(again.report) != as_json(first.report):
            yield Find(number, "unsteady", "the same file gave another output")
    if invariance:
        yield from (one._replace(number=number) for one in _drawn_otherwise(path, first))


def _timed(path: Path) -> tuple[Judged | str | Find, float]:
    """The review, and the seconds of processor time that it took."""
    began = time.process_time()
    return _judged(path), time.process_time() - began


def _judged(path: Path) -> Judged | str | Find:
    """The review; the problems told as text; or what must not be."""

    def stop(signum: int, frame: FrameType | None) -> None:
        raise _TooLongError

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, 4 * SECONDS)
    try:
        return reviewing.judge(path, Settings(), advise=True)
    except UnreadableError as reason:
        return "\n".join(f"{one.wrong} {one.write}" for one in reason.problems)
    except _TooLongError:
        return Find(0, "slow", f"more than {4 * SECONDS:.0f} s")
    except Exception as error:
        frames = traceback.extract_tb(error.__traceback__)[-3:]
        where = " < ".join(f"{Path(frame.filename).name}:{frame.lineno}" for frame in reversed(frames))
        return Find(0, "traceback", f"{type(error).__name__}: {error} at {where}")
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def _sound(judged: Judged, printed: bool) -> Iterator[Find]:
    """What is wrong with a finished review; its JSON as ``printed`` takes ten times as long to write as on one line."""
    report, plan = judged.report, judged.plan
    yield from (Find(0, "rule crash", f"{crash.rule}: {crash.what}") for crash in report.crashes)
    failed = (f"{name}: {why}" for name, why in report.worked["not_worked"].items() if "failed" in why)
    yield from (Find(0, "figure crash", one) for one in failed)
    try:
        json.loads(as_json(report) if printed else json.dumps(as_data(report)), parse_constant=_refuse)
    except ValueError as error:
        yield Find(0, "json", str(error))
    if any("failed" in why for why in report.worked["not_worked"].values()):
        return
    panels = sum(panel.area for panel in plan.panels.all)
    if abs(panels - plan.shape.area) > 1e-6 * max(plan.shape.area, 1e-3):
        yield Find(0, "areas", f"panels have {panels:.9g} m2, the slab {plan.shape.area:.9g} m2")
    shares = plan.water.shares
    if shares and abs(sum(one.share for one in shares) - 1) > 1e-6:
        yield Find(0, "shares", f"shares of water add up to {sum(one.share for one in shares):.9g}")


def _refuse(constant: str) -> None:
    raise ValueError(f"{constant} in JSON")


def _drawn_otherwise(path: Path, judged: Judged) -> Iterator[Find]:
    """Comments that change when the slab is moved, turned and renamed."""
    try:
        drawing = drawing_of(path.read_text(encoding="utf-8"), path.parent)
        drawings = {"moved": shifted(drawing, 17.3, -55.1), "turned": turned(drawing, 37), "renamed": renamed(drawing)}
    except Exception:  # the tool that draws anew knows sound designs only
        return
    was = sorted((one.rule, one.weight, one.limit.name) for one in judged.report.comments)
    for way, other in drawings.items():
        inner = path.parent / way
        inner.mkdir()
        if (path.parent / ".slabwright.yaml").exists():
            for name in (".slabwright.yaml", "town.yaml"):
                shutil.copy(path.parent / name, inner / name)
        again = _judged(other.write(inner))
        if isinstance(again, Judged):
            now = sorted((one.rule, one.weight, one.limit.name) for one in again.report.comments)
            if now != was:
                more = [one for one in now if one not in was] + [one for one in was if one not in now]
                yield Find(0, "variant", f"{way}: {more[:3]}")
        elif isinstance(again, Find):
            yield again
        else:
            yield Find(0, "variant", f"{way}: refused: {again[:200]}")


class Told(NamedTuple):
    """What a run came to."""

    tried: int
    finds: list[Find]


def run(seed: int, numbers: range, every: int = EVERY, say: Callable[[Find], None] = lambda one: None) -> Told:
    """Try the mutants of some numbers; ``say`` hears of each find at once. Ctrl-C ends it with what was tried."""
    finds: list[Find] = []
    done = 0
    for number in numbers:
        work = Path(tempfile.mkdtemp(prefix="farm-"))
        try:
            here = list(tried(number, mutant(seed, number), work, every > 0 and number % every == 0))
        except KeyboardInterrupt:
            break
        finally:
            shutil.rmtree(work, ignore_errors=True)
        used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000
        if used > MEGABYTES and not any(one.sort == "memory" for one in finds):
            here.append(Find(number, "memory", f"{used:.0f} MB"))
        for one in here:
            say(one)
        finds += here
        done += 1
    return Told(done, finds)


def main() -> int:
    """Run the command; 0 when nothing was found."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n\n")[0])
    parser.add_argument("seed", type=int)
    parser.add_argument("count", type=int)
    parser.add_argument("--from", dest="first", type=int, default=0, help="the number of the first mutant")
    parser.add_argument("--one", type=int, metavar="NUMBER", help="write this mutant alone into --keep, and try it")
    parser.add_argument("--keep", type=Path, metavar="FOLDER", help="where mutants with a find are written")
    asked = parser.parse_args()
    numbers = range(asked.first, asked.first + asked.count) if asked.one is None else range(asked.one, asked.one + 1)

    def say(find: Find) -> None:
        print(f"{find.number}: {find.sort}: {find.says}", flush=True)
        if asked.keep:
            keep(asked.keep / str(find.number), mutant(asked.seed, find.number))

    if asked.one is not None and asked.keep:
        keep(asked.keep / str(asked.one), mutant(asked.seed, asked.one))
    gc.set_threshold(CYCLES_AFTER, 20, 50)
    told = run(asked.seed, numbers, say=say)
    sorts = Counter(one.sort for one in told.finds)
    print(f"{told.tried:,} mutants of seed {asked.seed}: {len(told.finds)} finds {dict(sorts) or ''}".rstrip())
    return 1 if told.finds else 0


def keep(where: Path, one: Mutant) -> None:
    """Write the files of a mutant into a folder."""
    where.mkdir(parents=True, exist_ok=True)
    for name, content in one.files.items():
        (where / name).write_bytes(content)


if __name__ == "__main__":
    sys.exit(main())
