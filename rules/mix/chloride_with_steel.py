"""Concrete with steel in it has no more chloride than the steel can bear.

What is compared
    Compares the chloride ion of the mix, as a share of the weight of cement, with 0.30 % where steel lies in damp
    concrete, with 0.15 % where salt comes on the slab as well, and with 1.00 % in floors that stay dry. Dowels, tie
    bars and steel fibers are steel as well.
Why it matters
    Chloride takes the skin off steel, and damp does the rest. Rust is thicker than steel: in five years there is a
    brown line over every bar, in ten the concrete over it lies loose.
When it does not apply
    There is no steel, or no chloride is written.
How to put it right
    Ask for an accelerator without chloride, or for warmer concrete. A slab without steel may have some, and comes out
    spotted.
Where sources differ
    ACI 318-14 and older count by the weight of cement, as here; ACI 318-19 by all that counts as cement (recalled).
    Flake of calcium chloride is about half chloride ion. Road trade pages allow 2 % of flake in plain concrete.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "No chloride on the steel"
LIMITS = (
    Limit("salted_at_most", "0.15 %", Kind.SHARE, "caution", Cite("aci-318-14-f1", "class C2"), ("0.05 %", "1 %"),
          "chloride ion, as a share of the cement, where there is steel and salt comes on the slab"),
    Limit("with_steel_at_most", "0.30 %", Kind.SHARE, "caution", Cite("aci-318-14-f1", "class C1"), ("0.05 %", "1 %"),
          "chloride ion, as a share of the cement, where there is steel in damp concrete"),
    Limit("dry_at_most", "1.00 %", Kind.SHARE, "caution", Cite("aci-318-14-f1", "class C0"), ("0.05 %", "2 %"),
          "chloride ion, as a share of the cement, where there is steel in a floor that stays dry"),
)  # fmt: skip
WORKED = ()
ACROSS = ("dowels", "tie bars")  # steel that runs across a joint


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The chloride of the mix."""
    chloride = plan.design.mix.chloride
    if not _has_steel(plan):
        does_not_apply("there is no steel")
    if chloride is None:
        does_not_apply("no chloride is written (mix.chloride), as an accelerator would bring")
    salted, dry = bool(plan.design.site.deicing_salt), not plan.outdoors and not plan.areas.used("garage floor")
    limit = limits.salted_at_most if salted else limits.dry_at_most if dry else limits.with_steel_at_most
    told = "{c} of chloride, and salt from above, rust the steel" if salted else "{c} of chloride rusts the steel"
    without = words("order it with {write} of chloride at most: an accelerator without any", write=limit.value)
    yield compare(
        plan.spot("the mix", "mix.chloride"), chloride, limit,
        says=lambda: words(told, c=chloride),
        remedy=lambda: write("mix.chloride", limit.value, without),
    )  # fmt: skip


def _has_steel(plan: Plan) -> bool:
    """Whether bars, mesh, dowels or steel fibers lie in the concrete."""
    in_beds = any(
        bed.steel.mats or bed.steel.corner_bars or (bed.steel.fiber and bed.steel.fiber.kind == "steel")
        for bed in plan.steel.beds
    )
    in_edges = any(edge.bars for edge in plan.design.thickness.thickened_edges)
    return in_beds or in_edges or any(joint.lock in ACROSS for joint in plan.design.joints)
