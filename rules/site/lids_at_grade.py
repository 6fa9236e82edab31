"""Lids of cleanouts, meters and valves come up to the finish, and not past it.

What is compared
    Compares the height of the lid of each cleanout, meter or valve box inside the concrete with the finish there. It
    may lie 1/4 in above or below; 1/2 in is a second limit.
Why it matters
    A cleanout that is poured over is found with a jackhammer, on the day the sewer backs up. A lid that stands proud
    trips people and stops the screed; one that lies low is a puddle.
When it does not apply
    Nothing of the kind stands inside the concrete.
How to put it right
    Ask for the height before the pour, cut or raise the riser, and set the lid with the screed, boxed out or sleeved.
Where sources differ
    The lips are those of the access standards, upright and beveled, which hold on public ways; elsewhere they are good
    practice.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "Lids come up to the finish"
LIMITS = (
    Limit("lip_at_most", "1/2 in", Kind.DEPTH, "hold", Cite("ada-1991", "4.5.2"), ("1/8 in", "2 in"),
          "how far a lid stands over or under the finish, beveled"),
    Limit("upright_lip_at_most", "1/4 in", Kind.DEPTH, "caution", Cite("ada-1991", "4.5.2"), ("0 in", "1 in"),
          "how far a lid stands over or under the finish"),
)  # fmt: skip
WORKED = ()
LIDS = ("cleanout", "meter", "valve")


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """Each lid whose height is written."""
    inside = [one for one in plan.fixtures.all if one.inside and one.fixture.kind in LIDS]
    if not inside:
        does_not_apply("no cleanout, meter or valve stands inside the concrete")
    if all(one.fixture.rim is None for one in inside):
        such = such_height(plan, "99.90", "100.000")
        names = ", ".join(one.name for one in inside[:6])
        not_shown(f"fixtures, rim: the height of the lid of {names}, such as {such}", place=inside[0].fixture.place)
    needs_heights(plan)
    for one in inside:
        rim, slab = one.fixture.rim, one.slab
        if rim is None or slab is None:
            continue
        lip, at, finish = depth(abs(rim.si - slab)), spot(one), height(slab)
        says = "{lid} lies {off} under the finish" if rim.si < slab else "{lid} stands {off} over the finish"
        yield compare(
            at, lip, limits.lip_at_most, limits.upright_lip_at_most,
            says=lambda: words(says, lid=at.name, off=lip),
            working=lambda: step("lip", "higher - lower",
                                 words("{h} - {l}", h=height(max(rim.si, slab)), l=height(min(rim.si, slab))), lip),
            remedy=lambda: write(f"{one.fixture.place.path}.rim", finish,
                                 words("set {lid} at {write}, with the finish", lid=at.name, write=finish)),
        )  # fmt: skip
