"""A slab that salt comes on dries for four weeks before its first frost.

What is compared
    The days between the end of wet curing, or the pour where nothing keeps it wet, and the first frost, with 28.
Why it matters
    New concrete is full of water. If that freezes, with salt on it, the skin is pushed off before it is a season old,
    however good the mix.
When it does not apply
    It does not freeze there, no salt comes on it, or the slab lies indoors.
How to put it right
    Pour earlier, or keep salt off until spring: sand on the ice, and the car that drips parked elsewhere. A sealer
    after 30 days helps.
Where sources differ
    The 28 dry days are from a trade magazine. Leaflets of the ready-mixed trade ask for no salt in the first winter,
    and never for salts of ammonium (recalled), whatever the date.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from slabwright.formulas.units import DAY
from slabwright.plan.plan import Plan
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    compared,
    does_not_apply,
    not_shown,
    step,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, duration

TITLE = "Dry before the first frost"
LIMITS = (
    Limit("dry_at_least", "28 days", Kind.DURATION, "caution", Cite("trade-qa-first-frost"), ("7 days", "90 days"),
          "dry time before the first frost, where salt comes on the slab"),
)  # fmt: skip
WORKED = ()
WET = ("wet cover", "sheeting", "sprinkling")
USUAL = 7 * DAY  # s of wet curing where the file gives none, `ufgs-03311`


def relevant(plan: Plan) -> Relevance:
    """Salt and frost come on it, and both days are known."""
    site, job, pour = plan.design.site, plan.design.job, plan.design.pour
    if not plan.outdoors or site.freezing in (None, "none") or not site.deicing_salt:
        return does_not_apply("frost and deicing salt do not come on it together")
    add = [] if job.pour else ["job.pour: the day of the pour, such as 2026-09-14"]
    if pour is None or pour.weather is None or pour.weather.first_frost is None:
        add.append("pour.weather.first_frost: the day the first frost is expected, such as 2026-11-10")
    return not_shown(*add, place=plan.place(add[0].split(":")[0])) if add else APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Dry days between the pour and the frost."""
    day, pour, limit = plan.design.job.pour, plan.design.pour, limits.dry_at_least
    if day is None or pour is None or pour.weather is None or pour.weather.first_frost is None:
        return
    frost, curing, wet = pour.weather.first_frost, pour.curing, duration(0.0)
    if curing and curing.method in WET:
        wet = duration(curing.days.si if curing.days else USUAL)
    between = duration((frost - day).days * DAY)
    dry = duration(max(between.si - wet.si, 0.0))
    working = step("dry", "days to the frost - wet curing", words("{b} - {w}", b=between, w=wet), dry)
    room = timedelta(days=-(-(max(limit.value.si, 0.0) + wet.si) // DAY))
    says = words("it has {d} to dry before salt and frost find it", d=dry)
    if frost <= day:
        says = words("the first frost comes before the pour, and salt comes with it")
    latest = (frost - room).isoformat() if room.days < 4000 else "an earlier day"
    to_pass = words("pour by {by}; or keep salt off it all through the first winter", by=latest)
    at = Spot("the first winter", plan.place("pour.weather.first_frost", "pour.weather"))
    yield compared(limits, ("dry_at_least",), at, dry, says, to_pass, (working,))
