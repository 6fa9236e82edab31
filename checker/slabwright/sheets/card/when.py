"""The hours of the day and the days after it, for the pour-day card."""

from __future__ import annotations

from datetime import datetime, timedelta

from slabwright.design.pouring import Pour
from slabwright.formulas import ticket, weather
from slabwright.formulas.units import DAY, HOUR
from slabwright.plan.plan import Plan
from slabwright.sheets.card import on_ticket
from slabwright.sheets.card.hours import DRY_BEFORE_FROST, Hours, clock, together
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.sheet import Cell, Column, Section, Table
from slabwright.text.words import Words, words
from slabwright.text.working import counted
from slabwright.units.quantity import Amount, area, count, duration, length, volume


def about(seconds: float, to: int = 5) -> str:
    """A time to five minutes, or to so many: ``2 h 15 min``."""
    hours, minutes = divmod(max(1, round(seconds / (60 * to))) * to, 60)
    return " ".join(part for part in (f"{hours} h" if hours else "", f"{minutes} min" if minutes else "") if part)


def when(plan: Plan, order: Concrete, found: Hours) -> Section:
    """Placing, finishing, sawing, curing and first use, each with its hour or day and why."""
    said = plan.design.pour or Pour()
    rows: list[tuple[Cell, ...]] = [("place", _placing(found), _placing_why(plan, order, found, said))]
    if found.setting is not None:
        text = "last pass {set} after placing, by the file; finish: {finish}"
        if said.finishing is None:
            text = "sets in about {set} (4 h at {70 °F|21 °C}, half for each {20 °F|11 °C} more); finish: {finish}"
        why = words(text, set=about(found.setting), finish=_finish(said))
        rows.append(("finish", f"about {clock(found.finished, found.start)}" if found.finished else "", why))
    else:
        rows.append(("finish", "", words("when the bleed water is gone; finish: {finish}", finish=_finish(said))))
    if found.until is not None:
        rows.append(("booked", f"until {clock(found.until, found.start)}", _booked(found)))
    rows += _saw(plan, found)
    rows += [
        ("cure", _until(found, found.cured), _curing(plan, said)),
        *_kept_warm(found, said),
        ("feet", _from(found, found.feet), _feet(found, said)),
        ("cars", _from(found, found.cars), _cars(found, said)),
        ("heavy", _from(found, found.heavy), _after(found.heavy)),
    ]
    if plan.design.site.deicing_salt and plan.outdoors:
        rows.append(_frost(found, said))
    columns = (Column("what", "", right=False), Column("when", "when", right=False), Column("why", "", right=False))
    return Section(
        "when",
        "When",
        tables=(Table("when", "When", columns, tuple(rows)),),
        notes=(words("Times of setting are a rule of thumb; the slab decides. Days count from the day of the pour."),),
        add=_missing(plan, said),
    )


def _booked(found: Hours) -> Words:
    if found.late is None:
        return words("crew, pump and plant")
    if found.late:
        return words("about {late} too short", late=about(found.late))
    return words("long enough")


def _finish(said: Pour) -> str:
    if said.finish is None:
        return "not said"
    if said.broom_direction and said.finish in ("broom", "coarse broom", "grooved"):
        return f"{said.finish}, {said.broom_direction} the fall"
    return str(said.finish)


def _placing(found: Hours) -> str:
    if found.start is None:
        return ""
    return together(found.start, found.placed, found.start)


def _placing_why(plan: Plan, order: Concrete, found: Hours, said: Pour) -> Words:
    if said.rate is None or found.placing is None:
        return words("{ordered}", ordered=volume(order.ordered))
    text = "{ordered} at {rate} takes {time}"
    values: dict[str, Amount | str] = {
        "ordered": volume(order.ordered), "rate": said.rate, "time": about(found.placing, to=1)
    }  # fmt: skip
    if said.crew:
        text += "; {crew} hands, {each} each"
        values |= {"crew": count(said.crew), "each": area(plan.shape.area / said.crew)}
    return Words(text, values)


def _saw(plan: Plan, found: Hours) -> list[tuple[Cell, ...]]:
    cuts = [joint for joint in plan.joints.all if joint.joint.kind in ("saw cut", "early saw cut")]
    if not cuts:
        return []
    total = sum(joint.length for joint in cuts)
    window = ticket.EARLY_SAW_WINDOW if found.early_saw else ticket.SAW_WINDOW
    first, last = found.saw
    when = ""
    if first and last:
        when = f"{clock(first, found.start)} to {clock(last, found.start)}"
    elif last:
        when = f"by {clock(last, found.start)}"
    kind = "early-entry" if found.early_saw else "conventional"
    text = "{feet} of cuts; {kind} saws {low} to {high} after finishing (ACI, quoted); when edges no longer ravel"
    values: dict[str, Amount | str] = {
        "feet": length(total), "kind": kind, "low": duration(window[0]), "high": duration(window[1])
    }  # fmt: skip
    if found.saw_after is not None:
        text += ", {after} by the file"
        values["after"] = duration(found.saw_after)
    return [("saw by", when, Words(text, values))]


def _until(found: Hours, seconds: float) -> str:
    day = found.after(seconds)
    return f"until {day.isoformat()}" if day else f"{_days(seconds)} long"


def _from(found: Hours, seconds: float) -> str:
    if seconds < DAY * 2 and found.placed is not None:
        moment = found.placed + timedelta(seconds=seconds)
        text = clock(moment, found.start)
        return f"from {text.partition(' ')[0]}, {_day_of(found, moment)}"
    day = found.after(seconds)
    return f"from {day.isoformat()}" if day else f"after {_days(seconds)}"


def _day_of(found: Hours, moment: datetime) -> str:
    """The date of a moment, or how many days after the pour it is where no date is given."""
    if found.day is not None or found.start is None:
        return moment.date().isoformat()
    days = (moment.date() - found.start.date()).days
    return "the day of the pour" if days == 0 else "the next day" if days == 1 else f"{days} days later"


def _days(seconds: float) -> str:
    return f"{seconds / DAY:g} days" if seconds >= 2 * DAY else f"{seconds / HOUR:g} h"


def _after(seconds: float) -> Words:
    return words("{time} after placing", time=duration(seconds))


def _curing(plan: Plan, said: Pour) -> Words:
    curing = said.curing
    if curing is None:
        return words("{time} damp (UFGS); how is not said", time=duration(7 * DAY))
    if curing.method != "compound":
        return words("{method}, {time}, no dry spot", method=curing.method, time=curing.days or duration(7 * DAY))
    rate = curing.rate.si if curing.rate else weather.COMPOUND[plan.home]
    rough = said.finish in ("broom", "coarse broom", "grooved", "exposed aggregate")
    low, high = weather.BROOM_FACTORS if rough else (1.0, 1.0)
    least, most = (weather.curing_compound(plan.shape.area, rate, factor) for factor in (low, high))
    amount = on_ticket.liquid(least, plan.system)
    if most > least * 1.001:
        amount = f"{on_ticket.liquid(least, plan.system)} to {on_ticket.liquid(most, plan.system)}"
    text = "compound as soon as the sheen is gone, {amount} for {area}; no traffic on it for {off}"
    values: dict[str, Amount | str] = {"amount": amount, "area": area(plan.shape.area), "off": duration(3 * DAY)}
    if curing.quantity is not None:
        text += "; {bought} bought"
        values["bought"] = on_ticket.liquid(curing.quantity.si, plan.system)
    return Words(text, values)


def _feet(found: Hours, said: Pour) -> Words:
    if said.curing is not None and said.curing.method == "compound" and found.feet < 3 * DAY:
        return words("{time} after placing; the compound wants {off} without any (UFGS)", time=duration(found.feet),
                     off=duration(3 * DAY))  # fmt: skip
    return _after(found.feet)


def _kept_warm(found: Hours, said: Pour) -> list[tuple[Cell, ...]]:
    cover = said.protection
    if cover is None:
        return []
    return [("keep warm", _until(found, cover.days.si) if cover.days else "", words("{method}", method=cover.method))]


def _cars(found: Hours, said: Pour) -> Words:
    if said.first_use and said.first_use.tested:
        return words("{time} after placing; cylinders at {tested} by then",
                     time=duration(found.cars), tested=said.first_use.tested)  # fmt: skip
    return _after(found.cars)


def _frost(found: Hours, said: Pour) -> tuple[Cell, ...]:
    dry = DRY_BEFORE_FROST
    day = found.after(found.cured + dry)
    frost = said.weather.first_frost if said.weather else None
    text = "salt wants about {dry} dry days between curing and the first frost"
    if day and frost:
        short = (day - frost).days
        if short > 0:
            return ("dry by", day.isoformat(), words(text + ": {short} short of {frost}, so no salt this winter",
                    dry=28, short=counted(short, "day", "days"), frost=frost.isoformat()))  # fmt: skip
        return "dry by", day.isoformat(), words(text + ": in time for {frost}", dry=28, frost=frost.isoformat())
    return "dry by", day.isoformat() if day else "", words(text, dry=28)


def _missing(plan: Plan, said: Pour) -> tuple[str, ...]:
    us = plan.system == "us"
    lacking = []
    if plan.design.job.pour is None:
        lacking.append("job.pour: the date, such as 2026-04-14")
    for key, such in (
        ("start", '"07:00"'),
        ("rate", "20 yd3/h" if us else "15 m3/h"),
        ("until", '"15:30"'),
        ("finish", "broom"),
        ("haul", "25 min"),
    ):
        if getattr(said, key) is None:
            lacking.append(f"pour.{key}: such as {such}")
    return tuple(lacking)
