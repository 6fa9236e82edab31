"""Parts of the order sheet on concrete: volume and loads, headroom, the risk of running short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from slabwright.formulas import ordering
from slabwright.formulas.units import FOOT
from slabwright.plan.plan import Plan
from slabwright.proposals.placing import placing
from slabwright.sheets.order.concrete import DEEPER, EIGHTH, FIVE, MILLIMETER, QUARTER, Concrete, floored
from slabwright.sheets.order.risk import LIKELY, SEED, Risk
from slabwright.sheets.sheet import Cell, Column, Figure, Section, Table
from slabwright.text.words import Value, Words, step, words
from slabwright.units.quantity import (
    Amount,
    System,
    area,
    depth,
    in_both,
    length,
    mass,
    share,
    show,
    volume,
)

_ENDS = 4  # loads whose end is told
_FAR = 0.1  # m: no slab runs so much deeper by mistake


def order_in_words(worked: Concrete) -> Words:
    """How much to order, in how many loads."""
    loads = "1 load" if worked.trucks == 1 else f"{worked.trucks:,} loads"
    if worked.typed:
        return words("order {v}, in {loads}, as the file says", v=volume(worked.ordered), loads=loads)
    return words("order {v}, in {loads}", v=volume(worked.ordered), loads=loads)


def headroom_in_words(worked: Concrete, system: System) -> Words:
    """How much deeper the slab may run before another truck."""
    if worked.headroom < 0:
        return words("so many trucks do not bring what is needed: order another")
    if worked.headroom > _FAR:
        more = volume(worked.brought - worked.ordered)
        return words("another truck is far off: those that come could bring {more} more than is ordered", more=more)
    texts = [_only(floored(worked.headroom, EIGHTH), "us"), _only(floored(worked.headroom, MILLIMETER), "metric")]
    first, other = texts if system == "us" else texts[::-1]
    if not in_both(system):
        return words("it may run {first} deeper on average before another truck is needed", first=first)
    sentence = "it may run {first} ({other}) deeper on average before another truck is needed"
    return words(sentence, first=first, other=other)


def _only(meters: float, system: System) -> str:
    """A depth in one system."""
    return show(depth(meters), system, both=False)


def concrete_section(plan: Plan, worked: Concrete) -> Section:
    """Net volume by panel, edges and steps; allowance, losses, order, loads and truck weights."""
    figures = [
        Figure("net", "Net volume", volume(worked.net), _net_from(plan)),
        Figure("allowance", "Allowance", share(worked.allowance), worked.allowance_reason),
        Figure("allowance_volume", "Allowance, volume", volume(worked.allowance_volume)),
    ]
    if worked.losses:
        figures.append(Figure("lost", "Stays in the pump", volume(worked.lost)))
    figures += [
        Figure("needed", "Needed", volume(worked.needed)),
        Figure("ordered", "To order", volume(worked.ordered), _ordered_by(worked)),
    ]  # fmt: skip
    panels, openings = _panel_table(plan), _opening_table(plan)
    by_part = [_part_table(plan)] if plan.areas.several else []
    tables = [*by_part, panels, *([openings] if openings else []), _load_table(worked)]
    notes = [*worked.assumed]
    if worked.last_is_short:
        notes.append(words("the last load is under {v}, and may cost more", v=volume(worked.short_load)))
    notes += _ends(plan, worked)
    return Section(
        "concrete", "Concrete", tuple(figures), tuple(tables), worked.working, tuple(notes), worked.add
    )  # fmt: skip


def _ends(plan: Plan, worked: Concrete) -> list[Words]:
    """In which panel each load ends, and the last joint to stop at before; the card of the day says the same."""
    if worked.trucks < 2 or len(plan.panels.all) < 2:
        return []
    order = placing(plan)
    notes, comes = [], -worked.lost
    for number, load in enumerate(worked.loads[:-1][:_ENDS], 1):
        comes += load
        turn = next((one for one in order.turns if one.placed > comes), order.turns[-1])
        stop = order.last_before(comes)
        values: dict[str, Value] = {"number": number, "panel": turn.panel}
        told = "load {number} ends in {panel}, as the card orders the panels; no joint to stop at comes before"
        if stop is not None:
            told = (
                "load {number} ends in {panel}, as the card orders the panels; the joint to stop at before is {joint}, "
            )
            told += "with {placed} placed"
            values |= {"joint": " and ".join(stop.joints), "placed": volume(stop.placed)}
        notes.append(words(told, **values))
    return notes


def _ordered_by(worked: Concrete) -> Words:
    if not worked.typed:
        return words("rounded up to steps of {s}", s=volume(worked.step))
    if not worked.on_top:
        return words("as the file says")
    said = volume(worked.ordered / (1 + worked.on_top))
    return words("{v} as the file says, and its allowance of {a} on top", v=said, a=share(worked.on_top))


def _net_from(plan: Plan) -> Words:
    if not plan.concrete.quantities.from_surfaces:
        if plan.areas.several:
            return words("areas times the design thickness of each: no base is shot")
        return words("area times design thickness: no base is shot")
    covered = plan.concrete.depths.covered if plan.concrete.depths else 1.0
    if covered < 0.999:
        return words("between finish and base where it is shot, {c} of the slab; the rest at design thickness",
                     c=share(covered))  # fmt: skip
    return words("between finish and base")


def _panel_table(plan: Plan) -> Table:
    """Panels with their slab, and steps and channels as rows of their own: the rows add up to the net volume."""
    columns = (
        Column("part", "Part", right=False),
        Column("area", "Area"),
        Column("thickness", "Mean thickness"),
        Column("slab", "Slab"),
        Column("edges", "Thickened edges"),
        Column("volume", "Volume"),
    )
    rows: list[tuple[Cell, ...]] = []
    for panel, all_of_it, edge in zip(plan.panels.all, plan.concrete.panel_volumes, _edge_parts(plan), strict=True):
        slab = float(all_of_it) - edge
        thicker = volume(edge) if edge > 1e-9 else None
        rows.append(
            (panel.name, area(panel.area), depth(slab / panel.area), volume(slab), thicker, volume(slab + edge))
        )
    rows += [(name, None, None, None, None, added) for name, added in _steps_and_channels(plan)]
    quantities = plan.concrete.quantities
    total: tuple[Cell, ...] = (
        "net", area(plan.shape.area), depth(quantities.slab / plan.shape.area), volume(quantities.slab),
        volume(quantities.thickened_edges), volume(quantities.net),
    )  # fmt: skip
    if not plan.design.thickness.thickened_edges:
        keep = (0, 1, 2, 5)
        columns = tuple(columns[at] for at in keep)  # type: ignore[assignment]
        rows = [tuple(row[at] for at in keep) for row in rows]
        total = tuple(total[at] for at in keep)
    return Table("parts", "By panel", columns, tuple(rows), total)


def _part_table(plan: Plan) -> Table:
    """Parts of different use or thickness: the rows, with steps and channels, add up to the net volume."""
    columns = (
        Column("part", "Part", right=False),
        Column("use", "Use", right=False),
        Column("thickness", "Thickness"),
        Column("area", "Area"),
        Column("volume", "Volume"),
    )
    rows: list[tuple[Cell, ...]] = [
        (one.name.removeprefix("the "), one.use, one.thickness, area(one.polygon.area), volume(filled))
        for one, filled in zip(plan.areas.all, plan.concrete.area_volumes, strict=True)
    ]
    rows += [(name, None, None, None, added) for name, added in _steps_and_channels(plan)]
    total: tuple[Cell, ...] = ("net", None, None, area(plan.shape.area), volume(plan.concrete.quantities.net))
    return Table("by_part", "By part, thickened edges and tapers in it", columns, tuple(rows), total)


def _steps_and_channels(plan: Plan) -> Iterator[tuple[str, Amount]]:
    """What flights of steps take, and channels where they take any, by their names."""
    for flight in plan.flights.all:
        yield flight.name, volume(flight.volume)
    for channel in plan.channels.all:
        if added := channel.volume(plan.thickness.at(channel.middle)):
            yield channel.name, volume(added)


def _edge_parts(plan: Plan) -> list[float]:
    """Volume of thickened edges in each panel, m3."""
    slabs = sum(float(one) for one in plan.concrete.panel_volumes) - plan.concrete.quantities.slab
    if slabs < 1e-12:
        return [0.0] * len(plan.panels.all)
    return [float(one) for one in plan.concrete.panel_edge_volumes]


def _beside(plan: Plan, ring: Sequence[Sequence[float]]) -> float:
    """The design thickness of the slab round an opening, m; where it changes there, the greater."""
    return plan.areas.thickest([(x, y) for x, y in ring]).thickness.si


def _opening_table(plan: Plan) -> Table | None:
    if not plan.design.openings:
        return None
    columns = (
        Column("opening", "Opening", right=False),
        Column("area", "Area left out"),
        Column("volume", "Not poured"),
    )
    rows = tuple(
        (
            opening.name,
            area(ring.polygon.area),
            volume(ordering.slab_volume(ring.polygon.area, _beside(plan, ring.xy.tolist()))),
        )
        for opening, ring in zip(plan.design.openings, plan.shape.opening_rings, strict=True)
    )
    return Table("openings", "Openings, already left out of the panels", columns, rows)


def _load_table(worked: Concrete) -> Table:
    """Loads alike in one row: how many, how big, what each truck weighs."""
    columns = (
        Column("loads", "Loads", right=False),
        Column("volume", "Each"),
        Column("concrete", "Concrete weighs"),
        Column("truck", "Truck and load weigh"),
    )
    rows: list[tuple[Cell, ...]] = []
    for first, size in _alike(worked.loads):
        low, high = ordering.loaded_truck(size)
        name = f"{first} (short)" if size < worked.short_load * (1 - 1e-6) else first
        weighs = words("{low} to {high}", low=mass(low), high=mass(high))
        rows.append((name, volume(size), mass(ordering.load_mass(size)), weighs))
    total = ("all", volume(worked.ordered), mass(ordering.load_mass(worked.ordered)), None)
    return Table("loads", "Loads", columns, tuple(rows), total)


def _alike(loads: tuple[float, ...]) -> list[tuple[str, float]]:
    """Loads of one size together: ``1 to 3``, ``4``."""
    found: list[tuple[int, int, float]] = []
    for number, size in enumerate(loads, 1):
        if found and abs(found[-1][2] - size) < 1e-9:
            found[-1] = (found[-1][0], number, size)
        else:
            found.append((number, number, size))
    return [(str(first) if first == last else f"{first} to {last}", size) for first, last, size in found]


_SAID_ELSEWHERE: dict[System, tuple[str, str]] = {
    "us": ("before_truck_millimeters", "five_millimeters"),
    "metric": ("before_truck_eighths", "quarter_inch"),
}


def headroom_section(plan: Plan, worked: Concrete) -> Section:
    """How deep the slab may run before the order, and before the trucks, are used up."""
    room, of_order = worked.headroom, worked.order_headroom
    figures: tuple[Figure, ...] = (
        Figure("before_truck", "Before another truck", depth(room)),
        Figure("before_truck_eighths", "  cut to eighths", _only(floored(room, EIGHTH), "us")),
        Figure("before_truck_millimeters", "  cut to millimeters", _only(floored(room, MILLIMETER), "metric")),
        Figure("before_short", "Before the order is short", depth(of_order), words("its allowance used up as well")),
        Figure("quarter_inch", "Each 1/4 in more takes", volume(worked.extra(QUARTER)), words("with its allowance")),
        Figure("five_millimeters", "Each 5 mm more takes", volume(worked.extra(FIVE)), words("with its allowance")),
    )
    if not in_both(plan.system):
        figures = tuple(one for one in figures if one.key not in _SAID_ELSEWHERE[plan.system])
    columns = (Column("deeper", "If it runs deeper by", right=False, both=True), Column("needed", "Needed", both=True),
               Column("loads", "Loads"))  # fmt: skip
    rows = []
    for by in DEEPER[plan.system]:
        needed, loads = worked.deeper(by)
        rows.append((depth(by), volume(needed), loads))
    numbers = words(
        "({b} - {n}) / (1 + {w}) / {a}",
        b=volume(worked.brought), n=volume(worked.needed), w=share(worked.allowance), a=area(worked.area),
    )  # fmt: skip
    working = (step("headroom", "(trucks full - needed) / (1 + allowance) / area", numbers, depth(room)),)
    return Section("headroom", "Headroom", figures, (Table("deeper", "", columns, tuple(rows)),), working)


def risk_section(plan: Plan, found: Risk) -> Section:
    """How far the volume may be off, and what that means for the order."""
    columns = (
        Column("by", "By", right=False),
        Column("scatter", "Scatter"),
        Column("low", "Likely least"),
        Column("high", "Likely most"),
        Column("short", "Order falls short"),
        Column("one_more", "One more truck"),
    )
    names = {"shots": "the shots", "least": "cores, least scatter", "most": "cores, most scatter"}
    rows = tuple(
        (names[one.name], depth(one.scatter), volume(one.low), volume(one.high), _chance(one.short),
         _chance(one.one_more))
        for one in found.spreads
    )  # fmt: skip
    likely = words("likely means {p} of the volumes drawn; what is spilled comes on top", p=share(LIKELY))
    notes = (*(_by_shots(plan, found) if found.from_shots else _by_cores(found)), likely)
    return Section("risk", "Risk of running short", (), (Table("spread", "", columns, rows),), (), notes)


def _by_shots(plan: Plan, found: Risk) -> list[Words]:
    """How the scatter is read off the shots of the base."""
    unit = FOOT if plan.system == "us" else 0.1
    notes = [
        words(
            "{n} shots, each standing for a square of about {s}; how far the depth at each lies off the plane "
            "through its neighbors gives the scatter ({t} could be compared)",
            n=found.shots,
            s=length(round(found.spacing / unit) * unit),
            t=found.tried,
        ),
        words(
            "every shot is off on its own: {d} volumes drawn with seed {seed} (JCGM 101:2008, recalled, not checked)",
            d=f"{found.draws:,}",
            seed=SEED,
        ),
    ]
    if found.floored:
        notes.append(words("the shots agree better than a rod reads: the rounding of {0.01 ft|3 mm} is taken instead"))
    if found.covered < 0.999:
        notes.append(words("{c} of the slab lies between shots; the rest goes by published scatter",
                           c=share(found.covered)))  # fmt: skip
    return notes


def _by_cores(found: Risk) -> list[Words]:
    """What stands in for shots of the base: how cores of other slabs scatter."""
    return [
        words("the base is not shot, so this is no measure of this job: thickness of real slabs scatters by "
              "{a} to {b} (Gustaferro 1989, quoted)", a=depth(found.spreads[0].scatter),
              b=depth(found.spreads[-1].scatter)),
        words("each {10 ft by 10 ft|3 m by 3 m} is taken to be off as one (common practice); {d} volumes "
              "drawn with seed {seed}", d=f"{found.draws:,}", seed=SEED),
    ]  # fmt: skip


def _chance(part: float) -> Cell:
    """A chance; one too small for the draws says so."""
    if part < 0.001:
        return words("under 0.1 %")
    if part > 0.999:
        return words("over 99.9 %")
    return share(round(part, 3))
