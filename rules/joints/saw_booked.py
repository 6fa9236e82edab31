"""Somebody is booked until the last joint can be cut.

What is compared
    Compares how long after the booked hours the last cut comes with half an hour: no day is reckoned closer. The cut
    comes after placing (the order over the rate), finishing, and the wait that the file writes for the joint. Where
    finishing is not given it is taken from the temperature: 4 h at 70 °F, and half of that for each 20 °F more, between
    35 and 100 °F. Beyond these, where nobody has times for it, that of the nearer end is taken, and without a
    temperature 4 h; without a rate placing is taken as nothing. Where finishing is not given an hour is let
    pass and more is a note, unless a wait of less than a day is too long even from the end of placing. Where the cut
    comes in the booked hours of a later day it is a note as well.
Why it matters
    The saw is loaded, the crew is tired, and the slab is still too soft. Everybody goes home to cut in the morning.
    On a warm day the morning finds one panel cut in two, and not by the saw.
When it does not apply
    Nothing is cut with a saw, or the file does not tell the hours of the day: start and until under pour.
How to put it right
    Start earlier, book one man and a light for the evening, or change to tooled joints or the early-entry saw,
    which is told first where the cut would come at night.
Where sources differ
    No document speaks of booked hours; this is common practice. Crews count the wait from the last load as often as
    from the last pass, and the saw may go on a few hours before it must: without a time for finishing only what is late
    by both is a caution. In cool weather many pour late in the day on purpose and saw when the crew is back: whether
    the slab waits so long, `saw-window` says.
"""

from __future__ import annotations

from slabwright.formulas import weather
from slabwright.formulas.units import DAY, HOUR, celsius
from slabwright.rulebook.kit import *

TITLE = "Somebody there for the last cut"
EACH_POUR = True
LIMITS = (
    Limit("late_at_most", "30 min", Kind.DURATION, "caution", Cite("common-practice"), ("0 h", "24 h"),
          "how long after the booked hours the last cut comes"),
    Limit("late_after_finishing_at_most", "1 h", Kind.DURATION, "note", Cite("common-practice"), ("0 h", "24 h"),
          "how long after the booked hours the last cut comes, where finishing that is not written makes it late"),
    Limit("back_next_day_at_most", "30 min", Kind.DURATION, "note", Cite("common-practice"), ("0 h", "24 h"),
          "how long after the booked hours the last cut comes, where it falls in the same hours of a later day"),
)  # fmt: skip
KNOWN = (celsius(35), celsius(100))  # °C, `setting-rule`: between these the times for finishing are known
USUAL = 4 * HOUR  # s from placing to the last pass at 70 °F, `setting-rule`
WORKED = (
    Worked("set at 90 °F, where it is 4 h at 70 °F", duration(2 * HOUR),
           lambda: weather.finishing_time(celsius(90)), 1e-6, Cite("setting-rule")),
)  # fmt: skip
MORNING, EVENING = 6 * HOUR, 21 * HOUR  # s from midnight: between these nobody minds a saw, `common-practice`
SAWN = ("saw cut", "early saw cut")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The hour of the last cut."""
    if not any(one.kind in SAWN for one in plan.design.joints):
        does_not_apply("no joint is cut with a saw")
    pour, order = plan.design.pour, plan.design.order
    if pour is None or pour.start is None or (pour.until is None and pour.rate is None):
        does_not_apply("the hours of the pour are not written (pour.start, pour.until)")
    waits = [one.cut_after for one in plan.design.joints if one.kind in SAWN and one.cut_after]
    if pour.until is None or not waits:
        not_shown(
            *([] if pour.until else ['pour.until: the hour until which the crew is booked, such as "17:00"']),
            *([] if waits else ["joints, cut_after: how long after finishing each is cut, such as 8 h"]),
            place=plan.place("pour.until", "pour"),
        )
    concrete = order.volume.si if order and order.volume else plan.concrete.quantities.net
    placing = duration(concrete / pour.rate.si if pour.rate else 0.0)
    finishing, wait = plan.finishing, max(waits, key=lambda one: one.si)
    start, until = (60.0 * (60 * clock.hour + clock.minute) for clock in (pour.start, pour.until))
    known, beyond = finishing or duration(USUAL), _beyond(plan)
    last, until = start + placing.si + known.si + wait.si, until + (DAY if until < start else 0)
    too_late_anyway = wait.si < DAY and not limits.late_at_most.met(last - known.si - until)
    limit = limits.late_at_most if pour.finishing or too_late_anyway else limits.late_after_finishing_at_most
    if last >= start + DAY and start <= last % DAY <= until:
        limit = limits.back_next_day_at_most
    yield compare(
        plan.spot("the last cut", "pour.until", "pour"), duration(max(0.0, last - until)), limit,
        says=lambda: words("the crew is gone before the last joint can be cut") if beyond is None else words(
            "the crew is gone before the last joint can be cut: at {t} the finish is taken as at {end}",
            t=beyond[0], end=beyond[1]),
        working=lambda: step("after the start", "placing + finishing + wait", words(
            "{p} + {f} + {w}", p=placing, f=known, w=wait), duration(last - start)),
        remedy=lambda: _booked(start, last)[0],
        decide=lambda: _booked(start, last)[1],
    )  # fmt: skip


def _beyond(plan: Plan) -> tuple[Amount, Amount] | None:
    """The temperature and the end that is taken for it, where nobody has times for the finish at such a temperature."""
    pour, (coldest, warmest) = plan.design.pour, KNOWN
    weather = pour.weather if pour and not pour.finishing else None
    known = (weather.concrete or weather.air) if weather else None
    if known is None:
        return None
    end = temperature(min(max(known.si, coldest), warmest))
    return None if end.si == known.si else (known, end)


def _booked(start: float, last: float) -> tuple[list[Remedy], Words]:
    """Somebody booked until the last cut, which a file can say only within a day of the start."""
    days, minutes = divmod(round(round_up(duration(last), 0.25 * HOUR).si / 60), 24 * 60)
    clock = f"{minutes // 60:02}:{minutes % 60:02}"
    later = f" {days} days later" if days > 1 else " the next day" if days and start <= minutes * 60 else ""
    early = "cut with an early-entry saw, or " if not MORNING <= minutes * 60 <= EVENING else ""
    says = words(f"{early}book somebody for the saw until {{until}}", until=clock + later)
    return ([] if later else [write("pour.until", f'"{clock}"', says)]), says
