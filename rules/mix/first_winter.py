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

from datetime import timedelta

from slabwright.formulas.units import DAY
from slabwright.rulebook.kit import *

TITLE = "Dry before the first frost"
LIMITS = (
    Limit("dry_at_least", "28 days", Kind.DURATION, "caution", Cite("trade-qa-first-frost"), ("7 days", "90 days"),
          "dry time before the first frost, where salt comes on the slab"),
)  # fmt: skip
WORKED = ()
WET = ("wet cover", "sheeting", "sprinkling")
USUAL = 7 * DAY  # s of wet curing where the file gives none, `ufgs-03311`
LONGEST = 4000  # days back that a day of the pour is still named


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Dry days between the pour and the frost."""
    site, pour = plan.design.site, plan.design.pour
    if not plan.outdoors or site.freezing in (None, "none") or not site.deicing_salt:
        does_not_apply("frost and deicing salt do not come on it together")
    day, frost = plan.all_given("job.pour", "pour.weather.first_frost")
    limit, curing, wet = limits.dry_at_least, pour.curing if pour else None, duration(0.0)
    if curing and curing.method in WET:
        wet = duration(curing.days.si if curing.days else USUAL)
    between = duration((frost - day).days * DAY)
    dry = duration(max(between.si - wet.si, 0.0))
    told = "it has {d} to dry before salt and frost find it"

    def remedies() -> list[Remedy]:
        room = timedelta(days=-(-(max(limit.value.si, 0.0) + wet.si) // DAY))
        if room.days >= LONGEST:
            return []
        by = (frost - room).isoformat()
        return [write("job.pour", by, words("pour by {by}; or keep salt off it all through the first winter", by=by))]

    yield compare(
        plan.spot("the first winter", "pour.weather.first_frost"), dry, limit,
        says=lambda: words(told, d=dry) if frost > day else words(
            "the first frost comes before the pour, and salt comes with it"),
        working=lambda: step("dry", "days to the frost - wet curing", words("{b} - {w}", b=between, w=wet), dry),
        remedy=remedies,
        decide=lambda: words("keep salt off it all through the first winter"),
    )  # fmt: skip
