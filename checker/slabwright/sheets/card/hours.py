"""The hours of a pour: trucks, placing, finishing, sawing, curing, and when feet, cars and heavy vehicles may come.

Set and finishing go by the rule of thumb that setting takes 4 h at 70 °F and half for each 20 °F more; it is a guide
for the day, and the slab itself decides.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from slabwright.design.pouring import Pour
from slabwright.formulas import OutOfRangeError, ticket, weather
from slabwright.formulas.units import DAY, HOUR, celsius
from slabwright.plan.plan import Plan
from slabwright.sheets.order.concrete import Concrete
from slabwright.units.quantity import Amount, same

USUAL_SET = (4 * HOUR, celsius(70))  # s at deg C, `setting-rule`
CURED = 7 * DAY  # s, moist cure of exterior slabs, `ufgs-03311`
DRY_BEFORE_FROST = 28 * DAY  # s, `trade-qa-first-frost`
NO_DAY = date(2000, 1, 3)  # stands in where the file gives no date; only times of day are printed then


@dataclass(frozen=True, slots=True)
class Load:
    """One truck: what it brings, and when; times are None where start, haul or spacing is not known."""

    number: int
    volume: float
    brought: float  # with all trucks before it, m3
    leaves: datetime | None
    arrives: datetime | None
    discharged_by: datetime | None


@dataclass(frozen=True, slots=True)
class Hours:
    """Everything about time; None where the file does not say enough. Stretches of time are in s."""

    day: date | None
    start: datetime | None
    placed: datetime | None  # the last concrete is down
    finished: datetime | None  # about when finishing is over
    until: datetime | None
    setting: float | None
    placing: float | None
    spacing: float | None  # between trucks: as ordered, else as the crew needs them
    needed_spacing: float | None  # between trucks, for the crew never to wait and the truck never either
    loads: tuple[Load, ...]
    saw: tuple[datetime | None, datetime | None]  # first cut, last cut at the latest
    saw_after: float | None  # s after finishing, as the file says
    early_saw: bool
    cured: float
    feet: float
    cars: float
    heavy: float

    @property
    def late(self) -> float | None:
        """How far finishing runs past the booked hours, s; zero when it does not, None when not known."""
        if self.finished is None or self.until is None:
            return None
        return max(0.0, (self.finished - self.until).total_seconds())

    def after(self, seconds: float) -> date | None:
        """The day so long after the day of the pour; None without a date."""
        return None if self.day is None else (datetime.combine(self.day, time()) + timedelta(seconds=seconds)).date()


def hours(plan: Plan, order: Concrete) -> Hours:
    """The hours of a plan's pour, from its ``pour`` section and its order."""
    said = plan.design.pour or Pour()
    day = plan.design.job.pour
    start = datetime.combine(day or NO_DAY, said.start) if said.start else None
    until = datetime.combine(day or NO_DAY, said.until) if said.until else None
    if start and until and until < start:
        until += timedelta(days=1)
    rate = said.rate.si if said.rate else None
    needed = order.loads[0] / rate if rate else None
    spacing = said.trucks_apart.si if said.trucks_apart else needed
    placing = None
    if rate:
        waiting = (order.trucks - 1) * spacing + order.loads[-1] / rate if spacing else 0.0
        placing = max(order.ordered / rate, waiting)
    setting = _setting(said)
    placed = start + timedelta(seconds=placing) if start and placing is not None else None
    finished = placed + timedelta(seconds=setting) if placed and setting is not None else None
    cuts = [joint for joint in plan.design.joints if joint.kind in ("saw cut", "early saw cut")]
    after = [joint.cut_after.si for joint in cuts if joint.cut_after]
    early = any(joint.kind == "early saw cut" for joint in cuts)
    use = said.first_use
    return Hours(
        day=day,
        start=start,
        placed=placed,
        finished=finished,
        until=until,
        setting=setting,
        placing=placing,
        spacing=spacing,
        needed_spacing=needed,
        loads=_loads(order, start, spacing, said.haul),
        saw=_saw(start, finished, setting, min(after, default=None), early) if cuts else (None, None),
        saw_after=min(after, default=None),
        early_saw=early,
        cured=said.curing.days.si if said.curing and said.curing.days else CURED,
        feet=use.feet.si if use and use.feet else weather.FOOT_TRAFFIC[0],
        cars=use.cars.si if use and use.cars else weather.CAR_TRAFFIC,
        heavy=use.heavy.si if use and use.heavy else weather.HEAVY_TRAFFIC,
    )


def _setting(said: Pour) -> float | None:
    """Placing to last pass, s: as the file says, else setting at the temperature known; None without one."""
    if said.finishing is not None:
        return said.finishing.si
    forecast = said.weather
    known = (forecast.concrete or forecast.air) if forecast else None
    if known is None:
        return None
    try:
        return weather.setting_time(*USUAL_SET, known.si)
    except OutOfRangeError:
        return None


def _saw(
    start: datetime | None, finished: datetime | None, setting: float | None, after: float | None, early: bool
) -> tuple[datetime | None, datetime | None]:
    """First cut: what was placed first, finished, and left as long as the file says; last: the end of the window."""
    window = ticket.EARLY_SAW_WINDOW if early else ticket.SAW_WINDOW
    first = None
    if start and setting is not None and after is not None:
        first = start + timedelta(seconds=setting + after)
    return first, finished + timedelta(seconds=window[1]) if finished else None


def _loads(order: Concrete, start: datetime | None, spacing: float | None, haul: Amount | None) -> tuple[Load, ...]:
    found, brought = [], 0.0
    for number, load in enumerate(order.loads, 1):
        brought += load
        arrives = leaves = by = None
        if start and (spacing is not None or number == 1):
            arrives = start + timedelta(seconds=(number - 1) * (spacing or 0.0))
        if arrives and haul:
            leaves = arrives - timedelta(seconds=haul.si)
            by = leaves + timedelta(seconds=ticket.DISCHARGE_WITHIN)
        found.append(Load(number, load, brought, leaves, arrives, by))
    return tuple(found)


def clock(moment: datetime | None, start: datetime | None) -> str:
    """``07:40``, with ``next day`` or the number of days later behind it."""
    if moment is None:
        return ""
    nearest = (moment + timedelta(seconds=30)).replace(second=0, microsecond=0)
    days = (nearest.date() - start.date()).days if start else 0
    later = "" if days == 0 else " next day" if days == 1 else f" {days} days later" if days > 0 else " the day before"
    return f"{nearest:%H:%M}{later}"


def together(first: datetime | None, last: datetime | None, start: datetime | None) -> str:
    """``07:00 to 07:40``."""
    return " to ".join(text for text in (clock(first, start), clock(last, start)) if text)


def waits(found: Hours) -> float | None:
    """How long the crew waits between trucks (s, positive) or a truck for the crew (negative); None if not known."""
    if found.spacing is None or found.needed_spacing is None or len(found.loads) < 2:
        return None
    return 0.0 if same(found.spacing, found.needed_spacing) else found.spacing - found.needed_spacing
