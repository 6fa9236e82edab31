"""Somebody is booked until the last joint can be cut.

What is compared
    The hour of the last cut with the end of the booked hours. The last cut comes after placing (the order over the
    rate), finishing, and the wait that the file writes for the joint. Where finishing is not given it is taken from
    the temperature: 4 h at 70 °F, half of that for each 20 °F more.
Why it matters
    The saw is loaded, the crew is tired, and the slab is still too soft. Everybody goes home to cut in the morning.
    On a warm day the morning finds one panel cut in two, and not by the saw.
When it does not apply
    Nothing is cut with a saw, or the file does not tell enough of the day: start, until and rate under pour.
How to put it right
    Start earlier, book one man and a light for the evening, or change to tooled joints or the early-entry saw.
Where sources differ
    No document speaks of booked hours; this is common practice. Past them is a caution, and in heat, at 80 °F and
    over, a hold: there the window closes in the night.
"""

from __future__ import annotations

from slabwright.formulas import weather
from slabwright.formulas.units import DAY, HOUR, celsius
from slabwright.rulebook.kit import *

TITLE = "Somebody there for the last cut"
LIMITS = (
    Limit("late_in_heat_at_most", "0 h", Kind.DURATION, "hold", Cite("common-practice"), ("0 h", "24 h"),
          "how long after the booked hours the last cut comes, at {80 °F|26.7 °C} and over"),
    Limit("late_at_most", "0 h", Kind.DURATION, "caution", Cite("common-practice"), ("0 h", "24 h"),
          "how long after the booked hours the last cut comes"),
)  # fmt: skip
HOT = celsius(80)  # deg C, `aci-305.1-14`
WORKED = (
    Worked("set at 90 °F, where it is 4 h at 70 °F", duration(2 * HOUR),
           lambda: weather.finishing_time(celsius(90)), 1e-6, Cite("setting-rule")),
)  # fmt: skip
SAWN = ("saw cut", "early saw cut")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The hour of the last cut."""
    if not any(one.kind in SAWN for one in plan.design.joints):
        does_not_apply("no joint is cut with a saw")
    pour, order = plan.design.pour, plan.design.order
    if pour is None or pour.start is None or pour.rate is None:
        does_not_apply("the hours of the pour are not written (pour.start, pour.rate)")
    waits = [one.cut_after for one in plan.design.joints if one.kind in SAWN and one.cut_after]
    finishing = plan.finishing
    if pour.until is None or not waits or finishing is None:
        not_shown(
            *([] if pour.until else ['pour.until: the hour until which the crew is booked, such as "17:00"']),
            *([] if waits else ["joints, cut_after: how long after finishing each is cut, such as 8 h"]),
            *([] if finishing else ["pour.finishing: how long finishing takes, such as 3 h"]),
            place=plan.place("pour.until", "pour"),
        )
    air = pour.weather.air if pour.weather else None
    hot = air is not None and meets(air.si, HOT, "least")
    concrete = order.volume.si if order and order.volume else plan.concrete.quantities.net
    placing, wait = duration(concrete / pour.rate.si), max(waits, key=lambda one: one.si)
    start, until = (60.0 * (60 * clock.hour + clock.minute) for clock in (pour.start, pour.until))
    last, until = start + placing.si + finishing.si + wait.si, until + (DAY if until < start else 0)
    yield compare(
        plan.spot("the last cut", "pour.until", "pour"), duration(max(0.0, last - until)),
        limits.late_in_heat_at_most if hot else limits.late_at_most,
        says=lambda: words("the crew is gone before the last joint can be cut"),
        working=lambda: step("after the start", "placing + finishing + wait", words(
            "{p} + {f} + {w}", p=placing, f=finishing, w=wait), duration(last - start)),
        remedy=lambda: _booked(start, last)[0],
        decide=lambda: _booked(start, last)[1],
    )  # fmt: skip


def _booked(start: float, last: float) -> tuple[list[Remedy], Words]:
    """Somebody booked until the last cut, which a file can say only within a day of the start."""
    days, minutes = divmod(round(round_up(duration(last), 0.25 * HOUR).si / 60), 24 * 60)
    clock = f"{minutes // 60:02}:{minutes % 60:02}"
    later = f" {days} days later" if days > 1 else " the next day" if days and start <= minutes * 60 else ""
    says = words("book somebody for the saw until {until}", until=clock + later)
    return ([] if later else [write("pour.until", f'"{clock}"', says)]), says
