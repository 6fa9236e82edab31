"""The card for the morning of the pour: hours, weather, ticket, trucks, where to stop, what to look at, cautions."""

from __future__ import annotations

from slabwright.formulas import weather
from slabwright.plan import pours
from slabwright.plan.plan import Plan
from slabwright.proposals.placing import placing
from slabwright.review import cautions
from slabwright.sheets import by_day
from slabwright.sheets.card import checklist, forecast, on_ticket
from slabwright.sheets.card.hours import Hours, hours, together
from slabwright.sheets.card.supply import order_of_panels, saws, stop, trucks
from slabwright.sheets.card.when import about, when
from slabwright.sheets.order.concrete import Concrete, concrete
from slabwright.sheets.sheet import Sheet, sheet_of
from slabwright.text.words import Words, words
from slabwright.text.working import counted
from slabwright.units.quantity import volume


def card(plan: Plan, holds: int | None = None) -> Sheet:
    """The whole card of a plan, or of each of its days; ``holds`` is how many its review found, if it was reviewed."""
    days = pours.days(plan)
    if days:
        return by_day.together(days, [_card(day.plan, holds) for day in days])
    return _card(plan, holds)


def _card(plan: Plan, holds: int | None) -> Sheet:
    order = concrete(plan)
    found = hours(plan, order)
    known = placing(plan)
    sections = (
        when(plan, order, found),
        forecast.section(plan),
        on_ticket.section(plan, order),
        trucks(order, found),
        order_of_panels(found, known),
        stop(known, found, order.lost),
        checklist.section(plan),
        saws(plan),
    )
    taken = [words("{text}", text=text) for text in cautions.cautions(plan.design)]
    return sheet_of(plan, "card", "Pour-day card", _says(plan, order, found, holds), sections, taken, ("when",))


def _says(plan: Plan, order: Concrete, found: Hours, holds: int | None) -> list[Words]:
    said = []
    if holds:
        standing = counted(holds, "hold stands on the plan; settle it", "holds stand on the plan; settle them")
        said.append(words("not ready: {standing} before concrete is ordered", standing=standing))
    loads = counted(order.trucks, "load", "loads")
    said += [words("{ordered} in {loads}", ordered=volume(order.ordered), loads=loads)]
    if found.placed is not None:
        said.append(words("place {when}", when=together(found.start, found.placed, found.start)))
    if found.late:
        said.append(
            words(
                "finishing runs about {late} past the hours booked: start earlier, or book longer",
                late=about(found.late),
            )
        )
    rates = forecast.rates(plan, forecast.over_slab(plan))
    if rates is not None and max(rates) >= weather.ACT_AT * (1 - 1e-6):
        said.append(words("it dries too fast for plain finishing: protect it, or pick another hour"))
    return said
