"""A slab dries before its first frost: for a week, and for four weeks where salt comes on it.

What is compared
    Where salt comes on the slab, compares the days between the end of wet curing, or the pour where nothing keeps it
    wet, and the first frost with 28. Without salt it compares the days between the pour and the first frost with 7.
Why it matters
    New concrete is full of water. If that freezes, with salt on it, the skin is pushed off before it is a season old,
    however good the mix.
When it does not apply
    It does not freeze there, the slab lies indoors, or no salt comes on it and no first frost is written.
How to put it right
    Pour earlier, or wait for spring. Where it must be poured, keep it under blankets, and salt off it until spring:
    sand on the ice, and the car that drips parked elsewhere. A sealer after 30 days helps.
Where sources differ
    The 28 dry days are from a trade magazine, the week without salt is common practice. Leaflets of the ready-mixed
    trade ask for no salt in the first winter, and never for salts of ammonium (recalled), whatever the date.
"""

from __future__ import annotations

from datetime import timedelta

from slabwright.formulas.units import DAY
from slabwright.rulebook.kit import *

TITLE = "Dry before the first frost"
EACH_POUR = True
LIMITS = (
    Limit("dry_at_least", "28 days", Kind.DURATION, "caution", Cite("trade-qa-first-frost"), ("7 days", "90 days"),
          "dry time before the first frost, where salt comes on the slab"),
    Limit("young_at_least", "7 days", Kind.DURATION, "caution", Cite("common-practice"), ("3 days", "60 days"),
          "time from the pour to the first frost, where no salt comes on the slab"),
)  # fmt: skip
WORKED = ()
WET = ("wet cover", "sheeting", "sprinkling")
USUAL = 7 * DAY  # s of wet curing where the file gives none, `ufgs-03311`
LONGEST = 4000  # days back that a day of the pour is still named


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Days between the pour and the frost, dry ones where salt comes."""
    site, pour = plan.design.site, plan.design.pour
    if not plan.outdoors or site.freezing in (None, "none"):
        does_not_apply("it does not freeze while it is wet")
    if not site.deicing_salt and not (pour and pour.weather and pour.weather.first_frost):
        does_not_apply("no salt comes on it, and no first frost is written")
    day, frost = plan.all_given("job.pour", "pour.weather.first_frost")
    between, wet = duration((frost - day).days * DAY), duration(_wet(plan) if site.deicing_salt else 0.0)
    dry = duration(max(between.si - wet.si, 0.0))
    limit = limits.dry_at_least if site.deicing_salt else limits.young_at_least
    told = "it has {d} to dry before salt and frost find it" if site.deicing_salt else "frost finds it {d} old"
    salt = (
        "keep salt off it all through the first winter" if site.deicing_salt else "keep it under blankets till spring"
    )

    def remedies() -> list[Remedy]:
        room = timedelta(days=-(-(limit.value.si + wet.si) // DAY))
        if room.days >= LONGEST:
            return []
        by = (frost - room).isoformat()
        return [write("job.pour", by, words(f"pour by {{by}}; or {salt}", by=by))]

    yield compare(
        plan.spot("the first winter", "pour.weather.first_frost"), dry, limit,
        says=lambda: words(told, d=dry) if frost > day else words("the first frost comes before the pour"),
        working=lambda: step("dry", "days to the frost - wet curing", words("{b} - {w}", b=between, w=wet), dry),
        remedy=remedies,
        decide=lambda: words(salt),
    )  # fmt: skip


def _wet(plan: Plan) -> float:
    """Time in s that curing keeps it wet."""
    curing = plan.design.pour.curing if plan.design.pour else None
    if curing is None or curing.method not in WET:
        return 0.0
    return curing.days.si if curing.days else USUAL
