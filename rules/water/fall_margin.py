"""The fall is more than the waves that a screed leaves, so that no puddle stands in their troughs.

What is compared
    The slope straight downhill of each part of the finish surface with the steepest slope of a wave 1/4 in high, from
    trough to crest, and 5 ft long: 1.31 %. Where the slab falls less, the back of such a wave leans uphill and holds
    water. Parts under 1 % are left to `least-fall`.
Why it matters
    No slab is a plane. A straightedge laid on good work shows 1/4 in of light under it somewhere, and where the fall is
    a hair over 1 % that is a shallow puddle: a ring of dust in summer, a skin of ice in winter. The owner who was told
    that it drains counts them after the first rain.
When it does not apply
    No rain falls on it, or all of it falls under 1 %.
How to put it right
    Draw 1 1/2 %, or 2 % and be done with it. Where there is no height for that, tell the owner before, and ask more of
    the straightedge: 1/8 in in 5 ft wants half the fall.
Where sources differ
    A guide specification asks 1/4 in in 5 ft of walks. A wave of 3/8 in in 10 ft, as old flatwork has it, takes 0.98 %;
    both ends of 10 ft set 3/4 in out of height, which the tolerances allow, take 1.25 %. ACI sets no limit on
    puddles. Nothing here is anybody's duty, so it is a note.
"""

from __future__ import annotations

from collections.abc import Iterator

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.plan.plan import Plan
from slabwright.plan.things import FallPart
from slabwright.rulebook.kit import (
    APPLIES,
    Cite,
    Finding,
    Limit,
    Limits,
    Margin,
    Relevance,
    Spot,
    Worked,
    does_not_apply,
    heights_not_shown,
    step,
    write_heights,
)
from slabwright.text.words import words
from slabwright.units.quantity import Kind, depth, length, meets, slope

TITLE = "Fall to spare over the waves of a screed"
LIMITS = (
    Limit("wave_at_least", "1/4 in", Kind.DEPTH, "note", Cite("ufgs-03300n", "par. 3.8.3"), ("1/16 in", "1/2 in"),
          "height of a wave, {5 ft|1.5 m} long, that the fall still carries water over"),
)  # fmt: skip
LONG = 5 * FOOT  # m, length of the straightedge in `ufgs-03300n`
FALLS = 0.01  # slope from which a slab counts as falling: `pca-parking-guide`
WORKED = (
    Worked("a wave of 1/4 in in 5 ft", slope(0.0131), lambda: slopes.slope_of_wave(0.25 * INCH, LONG), 0.00005,
           Cite("geometry")),
    Worked("a wave of 3/8 in in 10 ft", slope(0.0098), lambda: slopes.slope_of_wave(0.375 * INCH, 10 * FOOT), 0.00005,
           Cite("geometry"), "wa-wave-3-8-in-10ft"),
    Worked("both ends of 10 ft out by 3/4 in", slope(0.0125), lambda: slopes.slope_lost(1.5 * INCH, 10 * FOOT), 5e-6,
           Cite("geometry"), "wa-height-error"),
)  # fmt: skip


def relevant(plan: Plan) -> Relevance:
    """Rain falls on it, every corner has a height, and some of it falls."""
    if not plan.outdoors:
        return does_not_apply("no rain falls on it")
    if not plan.finish.surface:
        return heights_not_shown(plan)
    if not _falls(float(plan.finish.surface.slopes.max())):  # a fold under 1 ft2 that falls is no part, and is met
        return does_not_apply("all of it falls under 1 %, which least-fall judges")
    return APPLIES


def judge(plan: Plan, limits: Limits) -> Iterator[Finding | Margin]:
    """Each part that falls, and not enough to spare."""
    asked = slope(slopes.slope_of_wave(limits.wave_at_least.value.si, LONG))
    for part in plan.falls.parts(lambda s: _falls(s) and not meets(s, asked.si, "least")):
        yield _judged(plan, limits, part)
    for part in plan.falls.parts(lambda s: _falls(s) and meets(s, asked.si, "least")):
        yield _judged(plan, limits, part)


def _falls(s: float) -> bool:
    return meets(s, FALLS, "least")


def _judged(plan: Plan, limits: Limits, part: FallPart) -> Finding | Margin:
    wave, long = limits.wave_at_least, length(LONG)
    asked, shown = slope(slopes.slope_of_wave(wave.value.si, LONG)), slope(part.least)
    at = Spot(part.name, plan.place("heights.finish"), part.outline)
    if meets(shown.si, asked.si, "least"):
        return Margin(at, shown, wave, asked)
    working = step("slope of the wave", "pi x height / length", words("pi x {h} / {l}", h=wave.value, l=long), asked)
    says = words("puddles stand in the waves of {part}: it falls too little to drain them", part=at.name)
    least = depth(slopes.fall(LONG, asked.si))
    raised = words("let {part} fall {least} in {run} at least", part=at.name, least=least, run=long)
    to_pass = write_heights(plan.grades.for_part(part, asked.si, least=True), raised)
    return Finding(at, says, shown, wave, (working,), to_pass, asked)
