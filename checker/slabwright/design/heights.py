"""The ``heights`` section: spot heights typed at points or reduced from files of rod readings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from slabwright.design.located import Group
from slabwright.design.model import Closing, HeightLine, Heights, SpotHeight, StatedFall
from slabwright.design.points import Points
from slabwright.source.problem import Problems
from slabwright.units.quantity import Amount


def read(
    path: Path, group: Group | None, points: Points, units: Group, problems: Problems, questions: Problems
) -> Heights:
    """The heights of the design file ``path``."""
    if group is None:
        return Heights()
    benches: dict[str, Amount] = dict(group.get("benches", {}))
    closings: list[Closing] = []
    surfaces: dict[str, tuple[SpotHeight, ...]] = {}
    for name in ("finish", "base", "existing"):
        said: Any = group.get(name)
        if isinstance(said, Group):
            surfaces[name] = tuple(
                SpotHeight(points.named[point], height, said.places[point]) for point, height in said.items()
            )
        elif said is not None:
            from slabwright.design.shots import read_shots  # most designs have no such file

            surfaces[name], closed = read_shots(path, said, benches, points.named, units, problems, questions)
            closings.extend(closed)
    return Heights(
        datum=str(group.get("datum", "")),
        lines=tuple(
            HeightLine(
                str(line.get("name", "")), line["kind"], tuple(points.spot(item) for item in line["along"]), line.place
            )
            for line in group.get("lines", ())
        ),
        falls=tuple(
            StatedFall((points.spot(fall["along"][0]), points.spot(fall["along"][1])), fall["fall"], fall.place)
            for fall in group.get("falls", ())
        ),
        benches=benches,
        closings=tuple(closings),
        place=group.place,
        **surfaces,
    )
