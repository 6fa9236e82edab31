"""The course: its lessons on a terminal and as a page, its pictures and its drills.

The pictures are plans and sections of whole jobs, drawn as ``slabwright draw`` does. ``python -m
slabwright.teaching.course docs/`` writes pictures and the numbers of drills anew; tests compare.
"""

from __future__ import annotations

import html
import re
import sys
import textwrap
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from slabwright.design.read import read_design
from slabwright.drawing import content, section
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.drawing.svg.section_svg import section_svg
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.likewise import as_one
from slabwright.rulebook import limits, loading
from slabwright.rulebook.in_force import Limits
from slabwright.rulebook.rule import Rule
from slabwright.source import locate
from slabwright.source.files import read_text
from slabwright.teaching.exercise import exercise, file_name
from slabwright.teaching.faults import path_of
from slabwright.text.sheet import Line, Sheet

FOLDER = Path("teaching") / "pictures"
ANSWERS = "## Answers\n"
_LINK = re.compile(r"\[([^\]]+)\]\([^)]+\)")
_IMAGE = re.compile(r"!\[([^\]]+)\]\(([^)]+)\)")
_RULE = re.compile(r"rulebook\.md#([\w-]+)")
_DRILL = re.compile(r"(## Drill\n\n[^\n]+\n\n)(?:    slabwright teach .*\n)+")
_STYLE = """\
body { font: 12pt/1.45 Georgia, serif; max-width: 46rem; margin: 2rem auto; padding: 0 1rem }
body { color: #111; background: #fff }
h1, h2 { font-family: Arial, sans-serif; line-height: 1.2; margin: 1.6em 0 .4em }
h1 { font-size: 1.7rem } h2 { font-size: 1.15rem }
figure { margin: 1rem 0 } figure svg { width: 100%; height: auto } figcaption { font-size: .9em }
pre { white-space: pre-wrap; background: #f3f3f3; padding: .6rem } code { white-space: nowrap } li { margin: .3em 0 }
@media print { body { margin: 0; max-width: none } .answers { break-before: page } h2 { break-after: avoid } }
"""
_PAGE = """\
<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
{style}</style>
</head>
<body>
<main>
{body}
</main>
</body>
</html>
"""
PICTURES = {  # name -> job, and the line of a section
    "plan": ("trailer_bay_corrected", ""),
    "wall_to_lane": ("trailer_bay_corrected", "18,0 to 18,40"),
    "thick_edge": ("trailer_bay_corrected", "18,33 to 18,40"),
    "garage_drain": ("garage_floor", "0,10 to 24,10"),
    "sill": ("trailer_bay_corrected", "18,0 to 18,5"),
    "saw_cut": ("trailer_bay_corrected", "18,8 to 18,14"),
    "filler": ("trailer_bay_corrected", "6,0 to 6,4"),
    "bars": ("trailer_bay_corrected", "14,13 to 14,19"),
    "finish_to_base": ("trailer_bay_corrected", "0,16 to 24,16"),
}


def pictures() -> Iterator[tuple[str, str]]:
    """The file name of each picture, and its SVG text."""
    rules = loading.load_rules()
    in_force = limits.resolve(rules)
    for name, (job, line) in PICTURES.items():
        design, questions = read_design(path_of(job))
        plan = Plan(design)
        report = content.drawn(as_one(run.review(plan, rules, in_force, questions), design), plan)
        if line:
            along = section.line_of(design, line)
            report = report._replace(drawing={**report.drawing, "section": section.section(plan, *along)})
        yield f"{name}.svg", section_svg(report) if line else plan_svg(report)


def lessons() -> tuple[Path, ...]:
    """The pages of the course in their order; the number of a lesson is its place, from 0."""
    return tuple(sorted(locate.folder("lessons").glob("[0-9]*.md")))


def title(text: str) -> str:
    """The heading of a lesson, its number in front."""
    return text.partition("\n")[0].removeprefix("# ")


def lesson_page(number: int, answers: bool, width: int, encoding: str) -> list[Line]:
    """A lesson in columns without its answers, or these alone; of its picture the name, for letters draw badly."""
    page = Sheet(width, encoding)
    text = read_text(lessons()[number])
    page.rule(heavy=True)
    page.paragraph(title(text), tone="strong")
    page.rule(heavy=True)
    before, _, rest = text.partition(ANSWERS)
    told, _, after = rest.partition("\n## ")
    shown = f"#\n\n{ANSWERS}{told}" if answers else f"{before}{_elsewhere(number)}\n\n## {after}"
    for block in shown.strip().split("\n\n")[1:]:
        words = _LINK.sub(r"\1", " ".join(block.split())).replace("`", "").replace("**", "")
        if block.startswith("## "):
            page.heading(words.removeprefix("## "))
            continue
        page.blank()
        if block.startswith("!["):
            alone = f"slabwright teach --lesson {number} --out DIR"
            page.paragraph(f"Picture: {_caption(block)}. With it, as a page: {alone}")
        elif block.startswith("    "):
            for line in block.splitlines():
                page.whole(line)
        else:
            for item in _items(block):
                page.paragraph(
                    _LINK.sub(r"\1", item).replace("`", "").replace("**", ""),
                    hang=3 if item[:1].isdigit() else 2 if item.startswith("- ") else 0,
                )
    return page.lines


def _elsewhere(number: int) -> str:
    return f"The answers: slabwright teach --lesson {number} --answer"


def lesson_html(number: int) -> str:
    """A lesson as one page for a browser and a printer, its picture in it and the answers on a sheet of their own."""
    text = read_text(lessons()[number])
    body = "\n".join(_html(block) for block in text.strip().split("\n\n"))
    return _PAGE.format(title=html.escape(title(text)), style=_STYLE, body=body)


def _items(block: str) -> Iterator[str]:
    """The items of a list, or the one paragraph that a block is."""
    for item in re.split(r"\n(?=\d+\. |- )", block):
        yield " ".join(item.split())


def _html(block: str) -> str:
    if block.startswith("!["):
        picture = locate.folder("lessons") / _IMAGE.sub(r"\2", block)
        drawn = _svg(read_text(picture))
        return f"<figure>{drawn}<figcaption>{_inline(_caption(block))}</figcaption></figure>"
    if block.startswith("#"):
        level, _, words = block.partition(" ")
        place = ' class="answers"' if words == "Answers" else ""
        return f"<h{len(level)}{place}>{_inline(words)}</h{len(level)}>"
    if block.startswith("    "):
        return f"<pre>{html.escape(textwrap.dedent(block))}</pre>"
    items = list(_items(block))
    if items[0].startswith("- "):
        return "<ul>" + "".join(f"<li>{_inline(item[2:])}</li>" for item in items) + "</ul>"
    if items[0].startswith("1. "):
        return "<ol>" + "".join(f"<li>{_inline(item.partition('. ')[2])}</li>" for item in items) + "</ol>"
    return f"<p>{_inline(items[0])}</p>"


def _caption(block: str) -> str:
    return _IMAGE.sub(r"\1", block)


def _inline(words: str) -> str:
    """Emphasis and sums; of a link its words, for the page stands alone."""
    words = html.escape(_LINK.sub(r"\1", words), quote=False)
    words = re.sub(r"\*\*([^*]+)\*\*", r"<strong>\1</strong>", words)
    words = re.sub(r"(?<!\w)\*([^*]+)\*", r"<em>\1</em>", words)
    return re.sub(r"`([^`]+)`", r"<code>\1</code>", words)


def _svg(text: str) -> str:
    """A drawing without the line that only a file of its own needs."""
    return text[text.index("<svg") :]


def drill(text: str, rules: Sequence[Rule], in_force: Mapping[str, Limits], taken: set[str]) -> tuple[int, str]:
    """Number and group of an exercise whose slip one of the rules speaks of that a lesson names.

    ``taken`` names the slips of other lessons, which this one does not take; its own is added.
    """
    named = set(_RULE.findall(text))
    groups = dict.fromkeys(rule.group for name in _RULE.findall(text) for rule in rules if rule.name == name)
    for group in groups:
        for number in range(200, 300):
            one = exercise(number, group, rules, in_force)
            if one is None:
                break
            if set(one.slips[0].rules) <= named and one.slips[0].name not in taken:
                taken.add(one.slips[0].name)
                return number, group
    raise ValueError(f"no exercise of level 2 is about {', '.join(sorted(named))}")


def with_drill(text: str, place: int, number: int, group: str) -> str:
    """A lesson with the commands of its drill written anew."""
    name, of_group = file_name(number), f"--exercise {number} --group {group}"
    lines = (f"{of_group} --out lesson_{place}", f"--check lesson_{place}/{name} {of_group}", f"{of_group} --answer")
    commands = "".join(f"    slabwright teach {line}\n" for line in lines)
    return _DRILL.sub(lambda found: found[1] + commands, text)


def write(folder: Path) -> None:
    """Write every picture, and every drill whose exercise is no longer of its lesson's subject."""
    (folder / FOLDER).mkdir(parents=True, exist_ok=True)
    for name, text in pictures():
        (folder / FOLDER / name).write_text(text, encoding="utf-8")
    rules = loading.load_rules()
    in_force = limits.resolve(rules)
    taken: set[str] = set()
    for place, path in enumerate(sorted((folder / "teaching").glob("[0-9]*.md"))):
        text = read_text(path)
        path.write_text(with_drill(text, place, *drill(text, rules, in_force, taken)), encoding="utf-8")


if __name__ == "__main__":
    write(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
