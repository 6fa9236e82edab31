"""A proposed layout of joints as a sheet of text and as data."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist

import shapely

from slabwright.proposals.joints import HEAVY, Proposal
from slabwright.proposals.pours import Pour
from slabwright.review.report import LOCAL_CODE, Comment, Report
from slabwright.review.reviewing import only
from slabwright.rulebook.in_force import WEIGHTS
from slabwright.text.json_values import Data, amount_data
from slabwright.text.sheet import Line, Sheet
from slabwright.text.words import Words, plain
from slabwright.text.working import counted, sentence
from slabwright.units.quantity import Amount, System, depth, length, show, volume
from slabwright.writers import as_json, plan_picture, terminal
from slabwright.writers.sheet_words import asked_in_words, settled, verdict

ANSWERS = (
    "a thicker slab: its panels may be longer, and then fewer lines have to fit",
    "another kind of joint: a construction joint, or filler all through one, parts the slab where a cut cannot run",
    "another outline: an inside corner rounded or moved, an opening made round or turned onto a joint",
    "a variance. Steel through the joints permits wider spacing only where an engineer specified it, about 0.5 % of "
    "the section",
)
USED_UP = 0.08  # m3, a tenth of a yard: less is left in the chute
NO_PROOF = "The search tries many layouts and not all: it has not shown that none meets the rules."


def sheet(done: Proposal, before: Report, width: int = 80, encoding: str = "utf-8") -> list[Line]:
    """The layout as it is typed, its cutting, and the review of the design with it; or what is in the way."""
    page, system = Sheet(width, encoding), done.report.system
    page.rule(heavy=True)
    page.paragraph("JOINTS PROPOSED", tone="strong")
    page.rule()
    page.labeled("Job", before.job, indent=0)
    page.labeled("File", before.file, indent=0)
    page.labeled("Before", _layout_verdict(done.before), indent=0)
    page.labeled("Found", _found(done), indent=0)
    page.rule(heavy=True)
    if any(one.weight in HEAVY for one in done.left):
        _in_the_way(page, done)
    _pours(page, done)
    page.heading("LAYOUT" if done.found else "NEAREST LAYOUT, NOT WRITTEN")
    for row in done.typed.splitlines():
        page.whole(row)
    page.blank()
    page.picture(plan_picture.joints(done.bench.plan))
    if done.kept:
        page.labeled("stay", f"as they are: {', '.join(done.kept)}", indent=2)
    if len(thick := done.bench.plan.areas.thicknesses) > 1:
        thinnest = show(depth(thick[0]), system, both=False)
        told = f"bays as the thinnest part asks, {thinnest}, and cuts as the thickest does"
        page.labeled("parts", f"{told}; no joint is set for a change of thickness", indent=2)
    for label, told in besides(done):
        page.labeled(label, told, indent=2)
    page.heading("CUTTING")
    page.labeled("layout", _feet(done.cutting, system), indent=2)
    page.labeled("before", _feet(done.cutting_before, system), indent=2)
    page.labeled("a grid", f"{_feet(done.plain, system)}: equal bays both ways, whatever is in the way", indent=2)
    page.heading("REVIEW")
    page.labeled("joints", verdict(only(done.report, "joints")), indent=2)
    page.labeled("all", f"{verdict(done.report)} (before: {verdict(before)})", indent=2)
    for comment in done.own:
        says = sentence(plain(comment.says, system))
        page.labeled("stays", f"{says}: it is a corner of the slab itself, and no joint opens it", indent=2)
    for comment in only(done.report, "joints").comments:
        if comment.weight not in HEAVY and comment.variance is None:
            page.labeled("note", f"{sentence(plain(comment.told, system, both=False))} ({comment.rule})", indent=2)
    page.blank()
    page.lines += terminal.comments_only(_standing(done), width, encoding)
    page.blank()
    page.paragraph(LOCAL_CODE)
    return page.lines


def besides(done: Proposal) -> list[tuple[str, str]]:
    """What a layout of joints leaves to the person: channels that cuts cross, steps, days of the pour."""
    plan, found = done.bench.plan, []
    lines = [shapely.LineString(line) for line in done.lines]
    crossed = [one.name for one in plan.channels.all if any(shapely.LineString(one.line).crosses(cut) for cut in lines)]
    if crossed:
        found.append(("channels", f"cuts meet {' and '.join(crossed)}: each stops at the frame and goes on behind it"))
    if plan.flights.all:
        names = " and ".join(one.name for one in plan.flights.all)
        found.append(("steps", f"no joint is laid in {names}; a joint in the slab goes on in the risers at its end"))
    if len(plan.design.pours) > 1 and done.pours is None:
        days = counted(len(plan.design.pours), "pour", "pours")
        found.append(("pours", f"the {days} of the file end at its construction joints; --loads N lays such joints"))
    return found


def _pours(page: Sheet, done: Proposal) -> None:
    """Each pour: what it takes, the loads that bring it, and the joints at which it ends."""
    if done.pours is None:
        return
    page.heading("POURS")
    if isinstance(done.pours, Words):
        page.paragraph(sentence(plain(done.pours, done.report.system, both=False)), indent=2)
        return
    for number, one in enumerate(done.pours.pours, 1):
        page.numbered(f"{number}.", pour_words(one, done.report.system))
    ends = {name for one in done.pours.pours for name in one.ends}
    if ends and ends <= set(done.pours.own):
        page.paragraph("The file's own construction joints are enough; none is added.", indent=2)
    if done.pours.why is not None:
        why = sentence(plain(done.pours.why, done.report.system, both=False)).rstrip(".")
        page.paragraph(f"{why}. So pours end on lines of the layout, and loads are not used up.", indent=2)


def pour_words(pour: Pour, system: System) -> str:
    """One pour in words, with the joints at which it ends before a later one."""
    net, needed, over = (show(volume(si), system, both=False) for si in (pour.net, pour.needed, pour.left))
    trucks = counted(pour.loads, "load", "loads")
    told = f"{counted(len(pour.panels), 'panel', 'panels')}, {net} as drawn, {needed} with the allowance"
    named = " and ".join(filter(None, (", ".join(pour.ends[:-1]), *pour.ends[-1:])))
    joints = f"; it ends at {named}" if named else ""
    room = "used up" if pour.left < USED_UP else f"with room for {over} more"
    return f"{told}: {trucks}, {room}{joints}"


def _found(done: Proposal) -> str:
    if isinstance(done.pours, Words) and not any(one.weight in HEAVY for one in done.left):
        return "a layout that meets every rule on joints, and no pours of so many loads"
    if not done.found:
        return "no layout that meets every rule on joints"
    panels = counted(len(done.bench.plan.panels.all), "panel", "panels")
    return f"{counted(len(done.lines), 'joint', 'joints')}, {panels}; every rule on where joints lie is met"


def _layout_verdict(counts: tuple[int, int, int]) -> str:
    told = [counted(n, weight, f"{weight}s") for n, weight in zip(counts, WEIGHTS, strict=True) if n]
    return f"{', '.join(told)} about where joints lie" if told else "every rule on where joints lie is met"


def _in_the_way(page: Sheet, done: Proposal) -> None:
    page.heading("WHAT IS IN THE WAY")
    for number, comment in enumerate((one for one in done.left if one.weight in HEAVY), 1):
        page.numbered(f"{number}.", in_the_way(comment, done.report), mark_tone=comment.weight)
    page.paragraph(NO_PROOF, indent=2)
    page.heading("WHAT IS USUALLY DONE")
    for answer in ANSWERS:
        page.paragraph(f"- {answer}.", indent=2, hang=2)


def in_the_way(comment: Comment, report: Report) -> str:
    """The panel or place, the rule, and what is shown beside what is asked."""
    shown, asked, _ = settled(comment, report)
    limit = asked_in_words(asked, comment.asked, comment.limit, report.system)
    return f"{comment.at.name}, rule {comment.rule}: {shown} is shown, {limit}"


def _standing(done: Proposal) -> Report:
    """The review with its comments about joints, notes left to the review itself."""
    joints = only(done.report, "joints")
    return joints._replace(comments=tuple(one for one in joints.comments if one.weight in HEAVY and not one.variance))


def _feet(si: float, system: System) -> str:
    return show(_rounded(si, system), system, both=False)


def _rounded(si: float, system: System) -> Amount:
    """To the inch or the centimeter: nobody orders saw blades closer."""
    step = 0.0254 if system == "us" else 0.01
    return length(round(si / step) * step)


def as_data(done: Proposal, before: Report) -> Data:
    """The proposal as plain data for JSON; places in m."""
    system = done.report.system
    return {
        "job": before.job,
        "file": before.file,
        "found": done.found,
        "joints": [_joint(one, system) for one in done.joints],
        "kept": list(done.kept),
        "layout": done.typed,
        "cutting": amount_data(length(done.cutting), system),
        "cutting_before": amount_data(length(done.cutting_before), system),
        "plain_grid": amount_data(length(done.plain), system),
        "before": dict(zip(("holds", "cautions", "notes"), done.before, strict=True)),
        "in_the_way": [
            {"rule": one.rule, "at": one.at.name, "weight": one.weight, "says": in_the_way(one, done.report)}
            for one in done.left
        ],
        "picture": plan_picture.joints(done.bench.plan),
        "besides": [told for _, told in besides(done)],
        "usually_done": [] if done.found else list(ANSWERS),
        "pours": _pours_data(done),
        "review": as_json.as_data(only(done.report, "joints")),
    }


def _pours_data(done: Proposal) -> Data | None:
    """Where pours end, or why none do; null where nobody asked."""
    pours, system = done.pours, done.report.system
    if pours is None:
        return None
    if isinstance(pours, Words):
        return {"none": plain(pours, system, both=False), "on_lines_because": None, "pours": []}
    return {
        "none": None,
        "on_lines_because": None if pours.why is None else plain(pours.why, system, both=False),
        "pours": [
            {
                "panels": list(one.panels),
                "net": amount_data(volume(one.net), system),
                "needed": amount_data(volume(one.needed), system),
                "loads": one.loads,
                "room": amount_data(volume(one.left), system),
                "used_up": one.left < USED_UP,
                "ends_at": list(one.ends),
            }
            for one in pours.pours
        ],
    }


def _joint(joint: tuple[str, str, Amount | None, Sequence[tuple[float, float]]], system: System) -> Data:
    name, kind, deep, along = joint
    run = sum(dist(a, b) for a, b in pairwise(along))
    return {
        "name": name,
        "kind": kind,
        "depth": None if deep is None else amount_data(deep, system),
        "along": [list(point) for point in along],
        "length": amount_data(length(run), system),
    }
