"""The pictures of the course: plans and sections of whole jobs, drawn by the program as ``slabwright draw`` does.

``python -m slabwright.teaching.pictures docs/`` writes them; a test compares.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from slabwright.design.read import read_design
from slabwright.drawing import content, section
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.drawing.svg.section_svg import section_svg
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.rulebook import limits, loading
from slabwright.teaching.faults import path_of

FOLDER = Path("teaching") / "pictures"
PICTURES = {  # name -> job, and the line of a section
    "plan": ("trailer_bay_corrected", ""),
    "wall_to_lane": ("trailer_bay_corrected", "18,0 to 18,40"),
    "thick_edge": ("trailer_bay_corrected", "18,33 to 18,40"),
    "garage_drain": ("garage_floor", "0,10 to 24,10"),
}


def pictures(names: Sequence[str] = tuple(PICTURES)) -> Iterator[tuple[str, str]]:
    """The file name of each picture, and its SVG text."""
    rules = loading.load_rules()
    in_force = limits.resolve(rules)
    for name in names:
        job, line = PICTURES[name]
        design, questions = read_design(path_of(job))
        plan = Plan(design)
        report = content.drawn(run.review(plan, rules, in_force, questions), plan)
        if line:
            along = section.line_of(design, line)
            report = report._replace(drawing={**report.drawing, "section": section.section(plan, *along)})
        yield f"{name}.svg", section_svg(report) if line else plan_svg(report)


def write(folder: Path) -> None:
    """Write every picture below a folder of pages."""
    (folder / FOLDER).mkdir(parents=True, exist_ok=True)
    for name, text in pictures():
        (folder / FOLDER / name).write_text(text, encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
