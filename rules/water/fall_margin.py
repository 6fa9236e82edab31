"""The fall is more than the waves that a screed leaves, so that no puddle stands in their troughs.

What is compared
    A wave 1/4 in high, from trough to crest, and 5 ft long is at its steepest 1.31 %. The rule compares the slope
    straight downhill of each part of the finish surface with that: where the slab falls less, the back of such a wave
    leans uphill and holds water. Parts under 1 % are left to `least-fall`.
Why it matters
    No slab is a plane. A straightedge laid on good work shows 1/4 in of light under it somewhere, and where the fall is
    a hair over 1 % that is a shallow puddle: a ring of dust in summer, a skin of ice in winter. The owner who was told
    that it drains counts them after the first rain.
When it does not apply
    No rain falls on it, or all of it falls under 1 %. A sport court is left out: it falls 1 % and hardly more, so that
    the ball runs true, and the puddles it has are found with a hose and filled (common practice).
How to put it right
    Draw 1 1/2 %, or 2 % and be done with it. Where there is no height for that, tell the owner before, and ask more of
    the straightedge: 1/8 in in 5 ft wants half the fall.
Where sources differ
    A guide specification asks 1/4 in in 5 ft of walks. A wave of 3/8 in in 10 ft, as old flatwork has it, takes 0.98 %;
    both ends of 10 ft set 3/4 in out of height, which the tolerances allow, take 1.25 %. ACI sets no limit on puddles.
    Nobody requires any of this, so it is a note.
"""

from __future__ import annotations

from slabwright.formulas import slopes
from slabwright.formulas.units import FOOT, INCH
from slabwright.rulebook.kit import *

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
)  # fmt: skip


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each part that falls, and not enough to spare."""
    must_shed_rain(plan)
    needs_heights(plan)
    wave, long = limits.wave_at_least, length(1.5 if plan.home == "metric" else LONG)
    asked = slope(slopes.slope_of_wave(wave.value.si, long.si))
    areas = [area for area in plan.shedding if area.called != "sport court"]
    if not areas:
        does_not_apply("a sport court falls no more, so that the ball runs true")
    parts = plan.falls.parts(lambda s: _falls(s) and not meets(s, asked.si, "least"), areas)
    parts += plan.falls.parts(lambda s: _falls(s) and meets(s, asked.si, "least"), areas)
    if not parts:
        does_not_apply("all of it falls under 1 %, which least-fall judges")
    for part in parts:
        at = Spot(part.name, plan.place("heights.finish"), part.outline)
        least = on_tape(plan, slopes.fall(long.si, asked.si), up=True)
        yield compare(
            at, slope(part.least), wave, asked=asked, give=fall_give(plan, asked, part.run),
            says=lambda: words("puddles stand in the waves of {part}: it falls too little to drain them", part=at.name),
            working=lambda: step("slope of the wave", "pi x height / length",
                                 words("pi x {h} / {l}", h=wave.value, l=long), asked),
            remedy=lambda: lowered(plan, plan.grades.for_part(part, asked.si, least=True)),
            decide=lambda: words("let {part} fall {least} over {run} at least", part=at.name, least=least, run=long),
        )  # fmt: skip


def _falls(s: float) -> bool:
    return meets(s, FALLS, "least")
