"""The report as JSON, by ``schemas/report.schema.json``: numbers in SI with their unit, and as people write them."""

from __future__ import annotations

from collections.abc import Sequence

from slabwright.plan.plan import Spot
from slabwright.review.report import LOCAL_CODE, Comment, Met, Report
from slabwright.rulebook.in_force import InForce
from slabwright.rulebook.remedy import Append, Drop, Edit, Write
from slabwright.source.problem import Problem
from slabwright.text.json_values import (
    Data,
    amount_data,
    clean_data,
    json_text,
    place_data,
    step_data,
    systems_of,
    untyped,
)
from slabwright.text.words import Value, plain, written
from slabwright.units.quantity import Amount, System, show, show_pair

VERSION = 1  # of the shape written here; it changes when a key changes its meaning or goes away


def as_json(report: Report) -> str:
    """The whole report as one JSON document in UTF-8, the same text for the same report, with a newline at the end."""
    return json_text(as_data(report))


def as_data(report: Report) -> Data:
    """The report as plain data, keys in the order of the schema."""
    return {
        "report": VERSION,
        "job": report.job,
        "file": report.file,
        "use": report.use,
        "pour": report.pour.isoformat() if report.pour else None,
        **({"pours": [day.isoformat() for day in report.pours]} if report.pours else {}),
        "system": report.system,
        "verdict": report.verdict,
        "counts": {
            "holds": report.holds,
            "cautions": report.counted("caution"),
            "notes": report.counted("note"),
            "accepted_by_variance": sum(comment.variance is not None for comment in report.comments),
            "met": len(report.met),
            "not_shown": len(report.not_shown),
            "does_not_apply": len(report.does_not_apply),
            "crashes": len(report.crashes),
        },
        "comments": [_comment(comment, report.system) for comment in report.comments],
        "not_shown": [
            {
                "rule": one.rule,
                "group": one.group,
                "title": one.title,
                "add": list(one.add),
                "place": place_data(one.place),
            }
            for one in report.not_shown
        ],
        "met": [_met(one, report.system) for one in report.met],
        "does_not_apply": [
            {"rule": one.rule, "group": one.group, "title": one.title, "reason": one.reason}
            for one in report.does_not_apply
        ],
        "crashes": [
            {"rule": one.rule, "group": one.group, "place": place_data(one.place), "what": one.what}
            for one in report.crashes
        ],
        "questions": [{"place": place_data(one.place), "asks": one.asks} for one in report.questions],
        "variance_troubles": [
            {"rule": one.rule, "place": place_data(one.place), "what": one.what} for one in report.variance_troubles
        ],
        "layers": list(report.layers),
        "looser": [{"rule": rule, "limit": _limit(limit, report.system)} for rule, limit in report.looser],
        "cautions": list(report.cautions),
        "local_code": LOCAL_CODE,
        "worked": clean_data(report.worked),
    }


def brief_data(report: Report) -> Data:
    """The comments that stand, each in a few words, by ``schemas/brief.schema.json``."""
    return {
        "brief": VERSION,
        "job": report.job,
        "file": report.file,
        "verdict": report.verdict,
        "holds": report.holds,
        "cautions": report.counted("caution"),
        "notes": report.counted("note"),
        "not_shown": len(report.not_shown),
        "comments": [
            {
                "number": one.number,
                "rule": one.rule,
                "weight": one.weight,
                "thing": one.at.name,
                "others": [other.at.name for other in one.others],
                "line": one.at.place.line,
                "says": plain(one.told, report.system),
                "to_pass": plain(one.to_pass, report.system),
            }
            for one in report.comments
            if one.variance is None
        ],
    }


def unread_data(file: str, problems: Sequence[Problem], verdict: str = "unreadable") -> Data:
    """What stands in place of a report where several files are reviewed and this one cannot be read."""
    listed = [{"place": place_data(one.place), "wrong": one.wrong, "write": one.write} for one in problems]
    return {"report": VERSION, "file": file, "verdict": verdict, "problems": listed}


def _comment(comment: Comment, system: System) -> Data:
    shown, asked = _amounts(comment.shown, comment.asked, system)
    variance = comment.variance
    return {
        "number": comment.number,
        "rule": comment.rule,
        "group": comment.group,
        "title": comment.title,
        "weight": comment.weight,
        **_spot(comment.at),
        "others": [_other(one, system) for one in comment.others],
        "says": plain(comment.told, system),
        "shown": shown,
        "asked": asked,
        "limit": _limit(comment.limit, system),
        "working": [step_data(one, system) for one in comment.working],
        "to_pass": plain(comment.to_pass, system),
        "tried": comment.tried,
        "rests_on": comment.rests_on,
        "settled_by": comment.settled_by,
        "remedies": [
            {"says": plain(one.says, system), "edits": [_edit(edit, system) for edit in one.edits]}
            for one in comment.remedies
        ],
        "variance": variance
        and {
            "reason": variance.reason,
            "accepted_by": variance.accepted_by,
            "date": variance.date,
            "place": place_data(variance.place),
        },
    }


def _other(comment: Comment, system: System) -> Data:
    """Another place of which a comment says the same."""
    shown, asked = _amounts(comment.shown, comment.asked, system)
    return {**_spot(comment.at), "shown": shown, "asked": asked}


def _edit(edit: Edit, system: System) -> Data:
    match edit:
        case Write():
            return {"do": "write", "path": edit.path, "value": _typed(edit.value, system)}
        case Append():
            entry = ", ".join(f"{key}: {_typed(value, system)}" for key, value in edit.entry)
            return {"do": "append", "path": edit.path, "value": f"{{{entry}}}"}
        case Drop():
            return {"do": "drop", "path": edit.path, "value": None}


def _typed(value: Value | tuple[Value, ...], system: System) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_typed(one, system) for one in value)}]"
    return show(value, system, both=False) if isinstance(value, Amount) else str(value)


def _met(met: Met, system: System) -> Data:
    data: Data = {"rule": met.rule, "group": met.group, "title": met.title, "tightest": None}
    if met.at and met.shown and met.asked and met.limit:
        shown, asked = _amounts(met.shown, met.asked, system)
        limit = _limit(met.limit, system)
        data["tightest"] = {**_spot(met.at), "shown": shown, "asked": asked, "limit": limit, "slack": met.slack}
    return data


def _limit(limit: InForce, system: System) -> Data:
    return {
        "name": limit.name,
        "meaning": written(limit.meaning, system),
        "direction": limit.direction,
        **_setting(limit, system),
        "looser": limit.looser,
        "published": amount_data(limit.published, system) if limit.published and not limit.own else None,
        "published_weight": None if limit.own else limit.published_weight,
        "replaced": [_setting(one, system) for one in _replaced(limit)],
    }


def _setting(limit: InForce, system: System) -> Data:
    """What one layer set, and where that is written."""
    return {
        "value": amount_data(limit.value, system),
        "weight": limit.weight,
        "layer": limit.layer,
        "set_by": limit.set_by,
        "source": limit.citation,
        "known": limit.known,
        "reason": limit.reason,
        "place": place_data(limit.place) if limit.place else None,
    }


def _replaced(limit: InForce) -> list[InForce]:
    """What other amendments, or a firm's own rule, had set, the latest first."""
    return [limit.replaced, *_replaced(limit.replaced)] if limit.replaced else []


def _spot(spot: Spot) -> Data:
    return {"thing": spot.name, "place": place_data(spot.place), "shape_m": [list(point) for point in spot.shape]}


def _amounts(shown: Amount, asked: Amount, system: System) -> tuple[Data, Data]:
    """Two amounts whose writing tells them apart in every system they are written in."""
    pairs = {by: show_pair(untyped(shown), untyped(asked), by, both=False) for by in systems_of(system)}
    one, two = ({by: pair[place] for by, pair in pairs.items()} for place in (0, 1))
    return amount_data(shown, system) | one, amount_data(asked, system) | two
