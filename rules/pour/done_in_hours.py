"""The slab is placed and finished while people and light are there for it.

What is compared
    Compares the time when the last pass of the finish is made with the hour that the crew is booked until, and with
    20:00, 20 h after midnight, when it gets dark. Placing takes the volume over the rate of the crew; finishing ends as
    written, or 4 h after placing at 70 °F of the concrete (of the air, where only that is written), half for each 20 °F
    more. Where no rate is written, a day is too short that would be so however fast it is placed. A crew that is booked
    until an hour before the start is booked until the next day. The saw is judged by `saw-booked`.
Why it matters
    Nobody sees in the dark that water still stands on it; it is worked in and scales off. And the last passes are those
    that count: a crew that must be gone by four gives the slab its finish at three, ready or not.
When it does not apply
    It applies wherever concrete fits over the base.
How to put it right
    Start earlier, have more hands, or pour it in two days. In the cold, warm concrete saves hours.
Where sources differ
    The hours are common practice, setting and temperature a rule of thumb. Dusk is local: amendments set it by season.
"""

from __future__ import annotations

import math
from datetime import time

from slabwright.formulas.units import DAY, HOUR, celsius
from slabwright.formulas.weather import finishing_time
from slabwright.rulebook.kit import *

TITLE = "Done while people and light are there"
EACH_POUR = True
LIMITS = (
    Limit("late_at_most", "0 h", Kind.DURATION, "caution", Cite("common-practice"), ("0 h", "12 h"),
          "how long past the booked hour the last pass comes"),
    Limit("finished_at_most", "20 h", Kind.DURATION, "note", Cite("common-practice"), ("15 h", "24 h"),
          "hours after midnight when finishing ends"),
)  # fmt: skip
MILD = celsius(70)  # deg C where no temperature is written
WORKED = (
    Worked("set in 4 h at 70 °F, at 90 °F", duration(2 * HOUR), lambda: finishing_time(celsius(90)), 1e-6,
           Cite("setting-rule"), "we-setting"),
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The end of the day against the booked hour, and of the finish against dusk."""
    pour, order = plan.design.pour, plan.design.order
    if pour is None:
        hours = 'pour: the hours of the day: {start: "07:00", until: "16:00", rate: {15 yd3/h|12 m3/h}, finish: broom}'
        not_shown(hours, place=plan.place("order", "mix", "use"))
    if not plan.concrete.quantities.net > 0:
        does_not_apply("no concrete fits over the base as it is drawn")
    passes = plan.finishing or duration(finishing_time(MILD))
    at_once = pour.rate is None and pour.start is not None and _too_late(pour.start, pour.until, passes)
    start, rate = (pour.start, None) if at_once else plan.all_given("pour.start", "pour.rate")
    net = order.volume if order and order.volume else volume(plan.concrete.quantities.net)
    begin, places = _after_midnight(start), duration(net.si / rate.si if rate else 0.0)
    finished = duration(begin.si + places.si + passes.si)
    working: tuple[Step, ...]
    if rate:
        given = words("{b} + {p} + {f}", b=begin, p=places, f=passes)
        working = (step("placing", "volume / rate", words("{v} / {r}", v=net, r=rate), places),
                   step("finished, after midnight", "start + placing + finishing", given, finished))  # fmt: skip
    else:
        given = words("{b} + {f}", b=begin, f=passes)
        working = (step("finished, after midnight", "start + finishing", given, finished),)
    if pour.until:
        booked = duration(_after_midnight(pour.until).si + (DAY if pour.until <= start else 0.0))
        late = duration(max(finished.si - booked.si, 0.0))
        over = step("past the booked hour", "finished - booked", words("{f} - {b}", f=finished, b=booked), late)
        yield compare(
            Spot("the day", pour.place), late, limits.late_at_most,
            says=lambda: words("the last pass comes {late} after the crew is gone", late=late),
            working=lambda: (*working, over),
            remedy=lambda: [*_booked(finished.si, begin.si), *_begun(begin.si - late.si)],
            decide=lambda: words("start {late} earlier, or pour it in two days", late=late),
        )  # fmt: skip
    if rate is None:
        return
    early = finished.si - limits.finished_at_most.value.si
    yield compare(
        Spot("dusk", pour.place), finished, limits.finished_at_most,
        says=lambda: words("it is dark before the last pass"),
        working=lambda: working,
        remedy=lambda: _begun(begin.si - early),
        decide=lambda: words("bring lights, or pour it in two days"),
    )  # fmt: skip


def _too_late(start: time, until: time | None, passes: Amount) -> bool:
    """Whether the last pass comes after the booked hour however fast the concrete is placed."""
    if until is None:
        return False
    hours = _after_midnight(until).si - _after_midnight(start).si + (DAY if until <= start else 0.0)
    return passes.si > hours


def _after_midnight(clock: time) -> Amount:
    return duration((clock.hour * 60.0 + clock.minute) * 60.0)


def _booked(seconds: float, start: float) -> list[Remedy]:
    """The crew booked until the quarter of an hour at or after, which a file can say only within a day of the start."""
    next_day = seconds > DAY - 900
    until = _quarter(math.ceil((seconds - (DAY if next_day else 0.0)) / 900 - 1e-9))
    if until is None or seconds >= start + DAY - 900:
        return []
    told = "book the crew until {until} the next day" if next_day else "book the crew until {until}"
    return [write("pour.until", until, words(told, until=until))]


def _begun(seconds: float) -> list[Remedy]:
    """A start at the quarter of an hour at or before."""
    start = _quarter(math.floor(seconds / 900 + 1e-9))
    return [write("pour.start", start, words("start at {start}", start=start))] if start else []


def _quarter(quarters: int) -> str | None:
    """The hour as it is written; None outside the day."""
    return f"{quarters // 4:02d}:{quarters % 4 * 15:02d}" if 0 <= quarters < 96 else None
