"""A mix that is ordered by a European frost class has the class of its site, and is what the class asks.

What is compared
    With XF1 to XF4 under `mix.exposure`, compares the class with that of the site where a flat slab in the open
    freezes: XF3, or XF4 where deicing salt comes on it. Where other European classes stand there and none of frost, the
    class counts as 0 on such a site. XF1 or XF2 where frost is moderate and nothing is salted is a note. Where the
    class is right, or only noted, it compares strength as a class, water over cement, and cement where the file gives
    it (`mix.cement`), with what the class asks; and air for all but XF1, also by the stone where it is named. C30/37 is
    30 MPa on cylinders, 37 MPa on cubes; the first number is the one compared. Of several classes the hardest XF is
    taken here; XC and XD have a rule of their own, `corrosion-class`.
Why it matters
    XF1 and XF2 are for walls and columns, which dry; a flat slab stays wet. XC is for the steel alone, and brings no
    air. The plant batches what the ticket says: where the class and the numbers disagree, one of the two is a slip, and
    the weaker one is what comes. Two winters later the skin of the slab is gone.
When it does not apply
    No European class is written, or none of frost where the slab does not freeze wet.
How to put it right
    Order the class of the site with its numbers. Get the slump by admixture.
Where sources differ
    The annex of EN 206-1 only recommends; each country that uses the standard sets its own, and amendments make the
    limits what your country has. Until they do, what falls short of the mildest figure read or quoted is a caution; the
    harder water of XF4, cement, and air by the stone are notes. EN 206-1 recommends C30/37 and 0.55 in XF1, C30/37 and
    0.50 in XF3, 0.45 in XF4, and the cement of each class. The German annex asks C25/30 and 0.60 in XF1, C25/30 and
    0.55 in XF3 with air, 0.50 in XF4, and the air by the stone. So none of them is a hold here. French practice,
    recalled and not checked, takes XF1 for a slab in moderate frost without salt, and XF3 for severe frost: so the
    annex of the country decides.
    American classes are judged by `exposure-class`.
"""

from __future__ import annotations

from slabwright.rulebook.kit import *

TITLE = "The frost class of the site, and a mix as it asks"
TABLE, GERMAN = Cite("en-206-1"), Cite("din-1045-2")
MPAS, RATIOS, AIRS, DOSES = ("10 MPa", "60 MPa"), ("0.35", "0.7"), ("2 %", "8 %"), ("200 kg/m3", "500 kg/m3")
LIMITS = (
    Limit("salted_class_at_least", "4", Kind.COUNT, "caution", TABLE, ("1", "4"),
          "number of the class XF of a flat slab that freezes with salt on it"),
    Limit("wet_class_at_least", "3", Kind.COUNT, "caution", TABLE, ("1", "4"),
          "number of the class XF of a flat slab that freezes"),
    Limit("moderate_class_at_least", "3", Kind.COUNT, "note", TABLE, ("1", "4"),
          "number of the class XF of a flat slab in moderate frost"),
    Limit("xf1_strength_at_least", "C25/30", Kind.STRESS, "caution", GERMAN, MPAS, "strength in class XF1"),
    Limit("xf1_water_at_most", "0.60", Kind.RATIO, "caution", GERMAN, RATIOS, "water over cement in class XF1"),
    Limit("xf1_cement_at_least", "300 kg/m3", Kind.UNIT_WEIGHT, "note", TABLE, DOSES, "cement in class XF1"),
    Limit("xf2_strength_at_least", "C25/30", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF2"),
    Limit("xf2_water_at_most", "0.55", Kind.RATIO, "caution", TABLE, RATIOS, "water over cement in class XF2"),
    Limit("xf2_cement_at_least", "300 kg/m3", Kind.UNIT_WEIGHT, "note", TABLE, DOSES, "cement in class XF2"),
    Limit("xf2_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF2"),
    Limit("xf3_strength_at_least", "C25/30", Kind.STRESS, "caution", GERMAN, MPAS, "strength in class XF3"),
    Limit("xf3_water_at_most", "0.55", Kind.RATIO, "caution", GERMAN, RATIOS, "water over cement in class XF3"),
    Limit("xf3_cement_at_least", "320 kg/m3", Kind.UNIT_WEIGHT, "note", TABLE, DOSES, "cement in class XF3"),
    Limit("xf3_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF3"),
    Limit("xf4_strength_at_least", "C30/37", Kind.STRESS, "caution", TABLE, MPAS, "strength on cylinders in class XF4"),
    Limit("xf4_water_at_most", "0.50", Kind.RATIO, "caution", GERMAN, RATIOS, "water over cement in class XF4"),
    Limit("xf4_recommended_water_at_most", "0.45", Kind.RATIO, "note", TABLE, RATIOS,
          "water over cement in class XF4, as EN 206-1 recommends"),
    Limit("xf4_cement_at_least", "340 kg/m3", Kind.UNIT_WEIGHT, "note", TABLE, DOSES, "cement in class XF4"),
    Limit("xf4_air_at_least", "4 %", Kind.SHARE, "caution", TABLE, AIRS, "air in class XF4"),
    Limit("air_stone_8_at_least", "5.5 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone under 14 mm"),
    Limit("air_stone_14_at_least", "5.5 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone of 14 mm"),
    Limit("air_stone_16_at_least", "4.5 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone of 16 mm"),
    Limit("air_stone_20_at_least", "4.5 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone of 20 to 25 mm"),
    Limit("air_stone_32_at_least", "4 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone of 32 mm"),
    Limit("air_stone_40_at_least", "4 %", Kind.SHARE, "note", GERMAN, AIRS, "air with stone of 40 mm and over"),
    Limit("flowing_air_beyond_at_least", "1 %", Kind.SHARE, "note", GERMAN, ("0 %", "2 %"),
          "air beyond that of class and stone where the concrete flows, F4 to F6"),
)  # fmt: skip
WORKED = ()
FLOWING = ("F4", "F5", "F6")
STONES = (40, 32, 20, 16, 14)  # mm, as nominal sizes; what is smaller goes with the smallest
KINDS = {"strength": stress, "air": share, "cement": unit_weight, "water": ratio}
KEYS = {"water": "water_cement"}  # where the key has another name


def judge(plan: Plan, limits: Limits) -> Conclusions:
    """The class against the site, else each number that the class asks; one that lacks is asked for if none fails."""
    exposure = plan.design.mix.exposure or ""
    written = int(exposure[2:]) if exposure.startswith("XF") else 0
    wet = _of_site(plan, limits, written)
    if not written:
        if wet is None or not plan.design.mix.classes:
            does_not_apply("no frost class from XF1 to XF4 is written (mix.exposure)")
        yield _right(plan, limits, 0, wet)
        return
    found = list(_found(plan, limits, written, wet))
    if not any(isinstance(one, Finding) for one in found):
        plan.all_given("mix.strength", "mix.water_cement", *([] if written == 1 else ["mix.air"]))
    yield from found


def _of_site(plan: Plan, limits: Limits, written: int) -> InForce | None:
    """The class that a flat slab wants here; None where it does not freeze wet."""
    site = plan.design.site
    if not plan.outdoors or site.freezing not in ("moderate", "severe"):
        return None
    if site.deicing_salt:
        return limits.salted_class_at_least
    moderate = written and site.freezing == "moderate"
    return limits.moderate_class_at_least if moderate else limits.wet_class_at_least


def _right(plan: Plan, limits: Limits, written: int, of_site: InForce) -> Finding | Margin:
    """The class that is written, 0 for none, against that of the site."""
    in_most = " in most countries, and your country's annex decides" if of_site.weight == "note" else ""
    where = "that freezes with salt on it" if of_site.name == "salted_class_at_least" else "that freezes wet"
    told = (
        f"XF{written} is not the class of a flat slab {where}{in_most}"
        if written
        else (f"no class of frost stands with {' and '.join(plan.design.mix.classes)}, and this is a flat slab {where}")
    )
    return compare(
        plan.spot("the frost class", "mix.exposure"), count(written), of_site,
        says=lambda: words(told),
        remedy=lambda: _ordered(plan, limits, round(of_site.value.si)),
    )  # fmt: skip


def _found(plan: Plan, limits: Limits, written: int, of_site: InForce | None) -> Conclusions:
    if of_site is not None:
        of_class = _right(plan, limits, written, of_site)
        yield of_class
        if isinstance(of_class, Finding) and of_class.limit.weight != "note":
            return  # the numbers are those of another class
    for what, every in _limits(plan, limits, written).items():
        shown = _given(plan, what)
        if shown:
            falls = (one for one in every if not meets(shown.si, _asked(plan, limits, one).si, one.direction))
            yield _number(plan, limits, shown, next(falls, every[-1]), what, written)


def _limits(plan: Plan, limits: Limits, number: int) -> dict[str, list[InForce]]:
    """The limits of a class, by what they limit, those that weigh most first; that of the stone is one of the air."""
    found: dict[str, list[InForce]] = {}
    for one in limits.values():
        if one.name.startswith(f"xf{number}_"):
            found.setdefault(one.name.split("_")[-3], []).append(one)
    if "air" in found:
        stone = plan.design.mix.aggregate
        size = next((one for one in STONES if stone is None or meets(stone.si, one / 1000, "least")), 8)
        found["air"].append(limits[f"air_stone_{size}_at_least"])
    return found


def _given(plan: Plan, what: str) -> Amount | None:
    mix = plan.design.mix
    return {"strength": mix.strength, "water": mix.water_cement, "cement": mix.cement, "air": mix.air}[what]


def _asked(plan: Plan, limits: Limits, limit: InForce) -> Amount:
    """What a limit comes to: more air by the stone where the concrete flows, as the German annex has it."""
    if not limit.name.startswith("air_stone") or plan.design.mix.consistence not in FLOWING:
        return limit.value
    return share(limit.value.si + limits.flowing_air_beyond_at_least.value.si)


def _hardest(plan: Plan, limits: Limits, number: int) -> dict[str, Amount]:
    """What is ordered for a class: the hardest of its limits, which every annex takes."""
    return {what: (min if what == "water" else max)((_asked(plan, limits, one) for one in every), key=lambda it: it.si)
            for what, every in _limits(plan, limits, number).items()}  # fmt: skip


def _ordered(plan: Plan, limits: Limits, number: int) -> Remedy:
    """Another class, with what it asks and the mix lacks."""
    others = [one for one in plan.design.mix.classes if not one.startswith("XF")]
    remedies = [write("mix.exposure", ", ".join([*others, f"XF{number}"]), words(f"order XF{number}"))]
    for what, asked in _hardest(plan, limits, number).items():
        shown = _given(plan, what)
        if shown and not meets(shown.si, asked.si, "most" if what == "water" else "least"):
            remedies.append(_order(what, asked))
    return together(*remedies, *_lacking(plan, limits, number))


def _order(what: str, asked: Amount) -> Remedy:
    told = {"strength": "{write}", "water": "water over cement of {write} or less", "air": "{write} of air",
            "cement": "{write} of cement"}[what]  # fmt: skip
    return write(f"mix.{KEYS.get(what, what)}", asked, words(f"order {told}", write=asked))


def _lacking(plan: Plan, limits: Limits, number: int) -> list[Remedy]:
    """What the class asks besides and the file does not say: an order names it too."""
    asked = _hardest(plan, limits, number)
    return [_order(what, least) for what, least in asked.items() if what != "cement" and not _given(plan, what)]


def _number(plan: Plan, limits: Limits, shown: Amount, limit: InForce, what: str, number: int) -> Finding | Margin:
    told = {
        "strength": "{shown} is weak for class {name}",
        "water": "water over cement of {shown} is more than class {name} takes",
        "air": "{shown} of air is little for class {name}",
        "cement": "{shown} of cement is little for class {name}",
    }
    in_some = " in some countries" if limit.weight == "note" else ""
    asked = _asked(plan, limits, limit)
    less, more = ("water - most", "{b} - {a}") if what == "water" else (f"{what} asked - {what}", "{a} - {b}")
    return compare(
        plan.spot("the mix", f"mix.{KEYS.get(what, what)}"), shown, limit, asked=asked,
        says=lambda: words(told[what] + in_some, shown=shown, name=f"XF{number}"),
        working=lambda: step("over by" if what == "water" else "short by", less, words(more, a=asked, b=shown),
                             KINDS[what](abs(asked.si - shown.si))),
        remedy=lambda: together(_order(what, _hardest(plan, limits, number)[what]), *_lacking(plan, limits, number)),
    )  # fmt: skip
