"""What is phoned in to the plant, as one block: the mix, how much, in which loads, how it is placed, and when."""

from __future__ import annotations

from slabwright.design.model import Order
from slabwright.design.pouring import Pour
from slabwright.plan.plan import Plan
from slabwright.sheets.card.hours import hours
from slabwright.sheets.card.when import about
from slabwright.sheets.order.concrete import Concrete
from slabwright.sheets.sheet import Figure, Section
from slabwright.text.words import Value, Words, words
from slabwright.units.quantity import Amount, depth, length, volume

_ASK = "not in the file: settle it before the call"
_SUCH = {
    "mix.strength": "{4000 psi|25 MPa}",
    "mix.slump": "{4 in|100 mm}",
    "mix.air": "6 %",
    "mix.aggregate": "{3/4 in|20 mm}",
    "pour.start": "07:00",
    "pour.trucks_apart": "45 min",
    "order.method": "chute",
}
_NO_AIR = "2 %, which is none entrained"


def phone_section(plan: Plan, worked: Concrete) -> Section:
    """The block that is read out to the plant; what the file does not say is named in its place."""
    mix, said, order = plan.design.mix, plan.design.pour or Pour(), plan.design.order or Order()
    add: list[str] = []

    def asked(key: str, label: str, title: str, value: Amount | None) -> Figure:
        if value is None:
            such = _NO_AIR if key == "mix.air" and _without_air(plan) else _SUCH[key]
            add.append(f"{key}: such as {such}")
        return Figure(label, title, value, words(_ASK) if value is None else None)

    figures = [
        asked("mix.strength", "phone_strength", "Strength", mix.strength),
        Figure("phone_consistence", "Consistence", None, words(mix.consistence)) if mix.consistence
        else asked("mix.slump", "phone_slump", "Slump", mix.slump),
        asked("mix.air", "phone_air", "Air", mix.air),
        asked("mix.aggregate", "phone_stone", "Largest stone", mix.aggregate),
    ]  # fmt: skip
    if besides := _besides(plan):
        figures.append(Figure("phone_besides", "Besides", None, besides))
    figures += [
        Figure("phone_volume", "Concrete", volume(worked.ordered)),
        Figure("phone_loads", "Loads", worked.trucks, _sizes(worked)),
    ]
    if worked.trucks > 1:
        figures.append(Figure("phone_spacing", "Trucks apart", None, _apart(plan, worked, add)))
    figures.append(Figure("phone_method", "Placed by", None, _method(order, add)))
    figures.append(Figure("phone_time", "First truck", None, _time(plan, said, add)))
    if plan.design.permit and plan.design.permit.address:
        figures.append(Figure("phone_address", "Deliver to", plan.design.permit.address))
    return Section("phone", "To phone in", tuple(figures), add=tuple(add))


def _without_air(plan: Plan) -> bool:
    """Whether nothing freezes wet there: indoors, or by classes of EN 206 that ask for no air."""
    classes = (plan.design.mix.exposure or "").upper()
    return not plan.outdoors or (classes.startswith("X") and not any(f"XF{n}" in classes for n in (2, 3, 4)))


def _besides(plan: Plan) -> Words | None:
    """What else of the mix the file asks for, in one line."""
    mix = plan.design.mix
    fiber = plan.design.reinforcement.fiber if plan.design.reinforcement else None
    parts: list[str] = []
    values: dict[str, Value] = {}

    def add(text: str, **amounts: Value) -> None:
        parts.append(text)
        values.update(amounts)

    if mix.water_cement:
        add("water to cement {ratio}", ratio=mix.water_cement)
    if mix.cement:
        add("cement {cement} at least", cement=mix.cement)
    if mix.cement_type:
        add("cement type {type}", type=mix.cement_type)
    if mix.exposure:
        add("exposure {exposure}", exposure=" ".join(mix.classes) or mix.exposure)
    if mix.water_reducer and mix.water_reducer != "none":
        add("{reducer} water reducer", reducer=mix.water_reducer)
    if fiber:
        add("{dose} of {kind} fiber", dose=fiber.dose, kind=fiber.kind)
    return words("; ".join(parts), **values) if parts else None


def _sizes(worked: Concrete) -> Words | None:
    """``10.00 yd3 each``, or the full ones and the last; nothing for a single load."""
    first, last, full = worked.loads[0], worked.loads[-1], worked.trucks - 1
    if not full:
        return None
    if abs(first - last) < 1e-9:
        return words("{v} each", v=volume(first))
    return words("{n}{v} and the last {last}", n=f"{full} of " if full > 1 else "", v=volume(first), last=volume(last))


def _apart(plan: Plan, worked: Concrete, add: list[str]) -> Words:
    found = hours(plan, worked)
    said = plan.design.pour.trucks_apart if plan.design.pour else None
    if said is not None:
        return words("{apart}", apart=said)
    add.append(f"pour.trucks_apart: such as {_SUCH['pour.trucks_apart']}")
    if found.needed_spacing is not None:
        return words("{apart}, as the crew empties one", apart=about(found.needed_spacing))
    return words(_ASK)


def _method(order: Order, add: list[str]) -> Words:
    if order.method is None:
        add.append(f"order.method: such as {_SUCH['order.method']}")
        return words(_ASK)
    if order.method != "pump":
        return words("{method}", method=order.method)
    text, values = "pump", dict[str, Value]()
    if order.hose:
        text, values = text + ", hose of {hose}", {"hose": depth(order.hose.si)}
    if order.hose_length:
        text, values = text + ", {run} of line", {**values, "run": length(order.hose_length.si)}
    return words(text + "; tell the plant, for the mix must go through it", **values)


def _time(plan: Plan, said: Pour, add: list[str]) -> Words:
    day = plan.design.job.pour
    if said.start is None:
        add.append(f"pour.start: such as {_SUCH['pour.start']}")
    if said.start is None and day is None:
        return words(_ASK)
    on = f"on {day:%A}, {day.isoformat()}" if day else "the day is not in the file"
    return words("{at}", at=f"{said.start:%H:%M} {on}" if said.start else f"{on}, at what time is not in the file")
