"""Rod readings from a CSV file, reduced to heights.

Height of instrument = known height + backsight; height of a point = height of instrument - foresight. A point read
from one setup may carry the next. Each foresight on a bench tells how the run closes.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from slabwright.design.heights import Closing, SpotHeight
from slabwright.design.located import Named
from slabwright.design.point import Point
from slabwright.design.rod_sheet import Row, Sheet
from slabwright.design.spelling import nearest
from slabwright.formulas.units import FOOT
from slabwright.source import files, yaml_tree
from slabwright.source.node import Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import PROBLEMS_AT_MOST, Problems, UnreadableError
from slabwright.units import quantity
from slabwright.units.quantity import Amount, Kind

SUFFIXES = (".csv", ".txt")
SURFACES = ("finish", "base", "existing")  # under heights, each may be read from a file

CLOSING_ASKED = 0.02 * FOOT  # common practice for a bench read again
CLOSING_REFUSED = 0.10 * FOOT
REPEAT_ASKED = 0.03 * FOOT  # common practice for a point read twice
MOVED = 0.01  # m, between a point's place in the two files


def read_shots(
    design: Path,
    name: Named,
    benches: Mapping[str, Amount],
    points: Mapping[str, Point],
    units: Mapping[str, str],
    problems: Problems,
    questions: Problems,
) -> tuple[tuple[SpotHeight, ...], tuple[Closing, ...]]:
    """Heights of the points read in the file ``name``, which stands in the folder of the design file or below it.

    ``units`` gives the unit of bare numbers, ``plan`` for x and y and ``height`` for readings. Problems and
    questions carry their line in the file.
    """
    if not name.lower().endswith(SUFFIXES):
        problems.add(
            name.place,
            f'"{name}" is not a file of rod readings',
            "heights at points, as in {A: 99.90}, or the name of a .csv file",
        )
        return (), ()
    path = _inside(design, name, problems)
    if path is None:
        return (), ()
    try:
        text = files.read_text(path)
    except UnreadableError as reason:
        for problem in reason.problems:
            first = problem.place == Place(str(path))
            problems.add(
                name.place if first else problem.place,
                f"{name}: {problem.wrong}" if first else problem.wrong,
                problem.write,
            )
        return (), ()
    sheet = Sheet(str(path), text, units, problems)
    if not sheet.columns:
        return (), ()
    run = _Run(benches, points, problems, questions)
    for row in sheet.rows():
        run.read(row)
        if len(problems) >= PROBLEMS_AT_MOST:
            break
    return run.finish(), tuple(run.closings)


def readings_of(design: Path, names: Sequence[str] = ()) -> list[Path]:
    """The files of rod readings that a design names, in its folder or below it; none where it cannot be read.

    With ``names``, a design in whose text none of them stands is not looked at further.
    """
    try:
        text = files.read_text(design)
        may = any(mark in text.lower() for mark in (*SUFFIXES, "\\")) and (
            not names or any(name in text for name in names)
        )
        root = yaml_tree.load(text, str(design)) if may else None
    except UnreadableError:
        return []
    heights = root.get("heights") if isinstance(root, Section) else None
    said = [heights.get(key) for key in SURFACES] if isinstance(heights, Section) else []
    named = [Named(one.text, one.place) for one in said if isinstance(one, Text)]
    inside = (_inside(design, name, Problems()) for name in named if name.lower().endswith(SUFFIXES))
    return [path for path in inside if path is not None]


def _inside(design: Path, name: Named, problems: Problems) -> Path | None:
    """The file ``name`` in the folder of the design or below it; None, with a problem, when it leads out of there."""
    write = "its name alone, with the file beside the design"
    if PurePosixPath(name).is_absolute() or "\\" in name or re.match(r"[A-Za-z]:", name) or name.startswith("~"):
        problems.add(name.place, f'"{name}" is not a file in the folder of this design', write)
        return None
    folder = design.parent
    try:
        inside = (folder / name).resolve().is_relative_to(folder.resolve())
    except (OSError, ValueError, RuntimeError):
        inside = False
    if not inside:
        problems.add(name.place, f'"{name}" leads out of the folder of this design', write)
        return None
    return folder / name


@dataclass(slots=True)
class _Seen:
    """A point read by foresight: its first height, and whether a larger spread was asked about."""

    height: float
    place: Place
    asked: bool = False


@dataclass(slots=True)
class _Run:
    """The leveling run: what is known so far."""

    benches: Mapping[str, Amount]
    points: Mapping[str, Point]
    problems: Problems
    questions: Problems
    instruments: dict[str, float | None] = field(default_factory=dict)  # height by setup; None: could not be worked
    setup: str = ""
    counted: int = 0
    seen: dict[str, _Seen] = field(default_factory=dict)
    carried: set[str] = field(default_factory=set)  # points that carried a setup
    placed: dict[str, tuple[tuple[float, float], Place]] = field(default_factory=dict)
    closings: list[Closing] = field(default_factory=list)

    def read(self, row: Row) -> None:
        """Take one line in."""
        if row.xy is not None:
            self.placed.setdefault(row.point, (row.xy, row.place))
        if row.setup is not None:
            if row.backsight is not None and row.foresight is not None:
                self.problems.add(
                    row.place,
                    f'"{row.point}" has a backsight and a foresight on one line, and they belong to two setups',
                    "two lines: the foresight in the old setup, the backsight in the new one",
                )
                self.carried.add(row.point)
                return
            self.setup = row.setup
        if row.foresight is not None:
            self.foresight(row, row.foresight)
        if row.backsight is not None:
            self.backsight(row, row.backsight)

    def name_of_setup(self) -> str:
        """The setup as messages call it."""
        return f"setup {self.setup}" if self.setup else "the instrument"

    def backsight(self, row: Row, reading: float) -> None:
        """A reading on something of known height: sets the instrument, or checks it."""
        if row.setup is None:
            self.setup = str(len(self.instruments) + 1)
        bench = self.benches.get(row.point)
        seen = self.seen.get(row.point)
        known = bench.si if bench is not None else seen.height if seen is not None else None
        if known is None:
            names = [*self.benches, *self.seen]
            write = nearest(row.point, names) or "give its height under heights: benches"
            self.problems.add(row.place, f'the height of "{row.point}" is not known yet', write)
            self.instruments.setdefault(self.setup, None)
            return
        if bench is None:
            self.carried.add(row.point)
        height = known + reading
        set_before = self.instruments.get(self.setup)
        if set_before is None:
            self.instruments[self.setup] = height
            self.counted += 1
            return
        apart = abs(height - set_before)
        if not quantity.meets(apart, CLOSING_ASKED, "most"):
            wrong = f"the backsights of {self.name_of_setup()} disagree by {_either(apart)}; the first is used"
            self.questions.add(row.place, wrong, "was the instrument moved, or a rod misread?")

    def foresight(self, row: Row, reading: float) -> None:
        """A reading on a point whose height is wanted, or on a bench to close."""
        if self.setup not in self.instruments:
            wrong = f"{self.name_of_setup()} has no backsight before this line"
            self.problems.add(row.place, wrong, "begin each setup with a backsight on a bench")
            self.instruments[self.setup] = None
            return
        instrument = self.instruments[self.setup]
        if instrument is None:
            return  # told where the setup failed
        height = instrument - reading
        bench = self.benches.get(row.point)
        if bench is not None:
            self.close(row, height - bench.si)
            return
        seen = self.seen.get(row.point)
        if seen is None:
            self.seen[row.point] = _Seen(height, row.place)
            return
        apart = abs(height - seen.height)
        if not seen.asked and not quantity.meets(apart, REPEAT_ASKED, "most"):
            seen.asked = True
            self.questions.add(
                row.place,
                f'"{row.point}" was read before on line {seen.place.line}, {_either(apart)} apart; the first is used',
                "was the instrument moved between the two?",
            )

    def close(self, row: Row, error: float) -> None:
        """The run comes back to a bench."""
        self.closings.append(Closing(row.point, error, self.counted, row.place))
        if not quantity.meets(abs(error), CLOSING_REFUSED, "most"):
            wrong = f'the run comes back to "{row.point}" {_show(abs(error))} {"high" if error > 0 else "low"}'
            self.problems.add(row.place, wrong, "find the misread rod or the moved instrument; 0.02 ft (6 mm) is usual")
        elif not quantity.meets(abs(error), CLOSING_ASKED, "most"):
            wrong = f'the run comes back to "{row.point}" {_either(abs(error))} {"high" if error > 0 else "low"}'
            self.questions.add(row.place, wrong, "was a rod misread? {0.02 ft|6 mm} is usual")

    def finish(self) -> tuple[SpotHeight, ...]:
        """The height of every point that has a place on the plan."""
        spots: list[SpotHeight] = []
        for name, seen in self.seen.items():
            if len(self.problems) >= PROBLEMS_AT_MOST:
                break
            point = self.points.get(name)
            here = self.placed.get(name)
            if point is not None and here is not None:
                (x, y), place = here
                if max(abs(point.x - x), abs(point.y - y)) > MOVED:
                    self.questions.add(
                        place,
                        f'"{name}" lies elsewhere here than under points; points is used',
                        "which of the two is right?",
                    )
            if point is None and here is not None:
                point = Point(here[0][0], here[0][1], name, here[1])
            if point is not None:
                spots.append(SpotHeight(point, Amount(seen.height, Kind.HEIGHT, "", seen.place), seen.place))
            elif name not in self.carried:
                write = nearest(name, self.points) or "name it under points, or give its x and y in two columns here"
                self.problems.add(seen.place, f'the plan has no point "{name}"', write)
        return tuple(spots)


def _show(meters: float) -> str:
    """A small difference in height, as a level book has it: ``0.04 ft (12 mm)``."""
    return f"{meters / FOOT:.3f} ft ({meters * 1000:.1f} mm)"


def _either(meters: float) -> str:
    """The same for a question, which the review puts in its own system."""
    return f"{{{meters / FOOT:.3f} ft|{meters * 1000:.1f} mm}}"
