"""Layered limits: the published ones of the rules, with local amendments of a region, town, firm or job over them."""

from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple, cast

from slabwright.design import schema_gate
from slabwright.rulebook import sources
from slabwright.rulebook.in_force import LAYERS, TWENTIETH, WEIGHTS, InForce, Layer, Limit, Limits, Weight
from slabwright.rulebook.rule import Rule
from slabwright.rulebook.sources import Bibliography
from slabwright.source import files, yaml_tree
from slabwright.source.alike import most_like
from slabwright.source.node import Listing, Section, Text
from slabwright.source.place import Place
from slabwright.source.problem import Problems
from slabwright.text.words import written
from slabwright.units import quantity
from slabwright.units.quantity import Amount, System, alone, beside, with_comma


class Amendment(NamedTuple):
    """One limit of one rule, set locally."""

    rule: str
    limit: str
    citation: str  # where the local rule is written, as typed
    value: Amount | None = None  # None: as before
    weight: Weight | None = None  # None: as before
    reason: str = ""
    place: Place = Place("")


class Amendments(NamedTuple):
    """One file of local amendments."""

    layer: Layer
    name: str  # who sets them: "Town of Coldwater Ford"
    limits: tuple[Amendment, ...]
    metric_only: bool = False  # what is shown in metric is shown in nothing else


@cache
def published_sources() -> Bibliography:
    """The published bibliography, read once."""
    return sources.load()


OWN = "the firm's own rule"


def as_stated(limit: Limit, sources: Bibliography, own: bool = False) -> InForce:
    """A limit as its rule states it, a published one or a firm's ``own``, before any amendment.

    Raises :class:`QuantityError` when its value is not a quantity of its kind, and
    :class:`UnknownSourceError` when its source is not known.
    """
    source = sources.source(limit.cite.source)
    return InForce(
        name=limit.name,
        value=quantity.read(limit.value, limit.kind),
        direction=limit.direction,
        weight=limit.weight,
        meaning=limit.meaning,
        layer="own rule" if own else "published",
        set_by=OWN if own else "published",
        citation=source.citation(limit.cite.where),
        known=source.known,
        own=own,
    )


def resolve(rules: Sequence[Rule], amendments: Sequence[Amendments] = ()) -> Mapping[str, Limits]:
    """The limits in force for every rule, by rule name.

    A narrower layer lies over a wider one, whichever was named first: region, town, firm, job. Within one layer the
    later file lies over the earlier; :attr:`~slabwright.rulebook.in_force.InForce.replaced` keeps what it set.
    Where one of them is for readers who know nothing but metric, published sizes in feet and inches become round.
    """
    in_force = {rule.name: dict(rule.in_force) for rule in rules}
    for laid in sorted(amendments, key=lambda one: LAYERS.index(one.layer)):
        for amendment in laid.limits:
            by_name = in_force[amendment.rule]
            by_name[amendment.limit] = _amended(by_name[amendment.limit], amendment, laid)
    if any(laid.metric_only for laid in amendments):
        for by_name in in_force.values():
            by_name.update({name: limit.in_round_numbers for name, limit in by_name.items()})
    return {name: Limits(by_name) for name, by_name in in_force.items()}


def shown_in(
    asked: System | None, own: System, laid: Iterable[Amendments], both: bool = False, comma: bool = False
) -> System:
    """The system a design is shown in: the one asked for, else its own, with the other beside it for ``both``.

    ``comma`` is whether numbers have a decimal comma.
    Metric for readers who know nothing else where one of the amendments laid over it asks that.
    """
    system = own if asked in (None, own) else asked
    system = with_comma(system) if comma else system
    if system == "metric" and any(one.metric_only for one in laid):
        return alone(system)
    return beside(system) if both else system


def _amended(before: InForce, amendment: Amendment, laid: Amendments) -> InForce:
    """The limit with one amendment over it; what the amendment does not say stays."""
    published_value, published_weight = before.published or before.value, before.published_weight or before.weight
    value, weight = amendment.value or before.value, amendment.weight or before.weight
    round_number = laid.metric_only and abs(value.si - published_value.si) <= TWENTIETH * abs(published_value.si)
    return before._replace(
        value=value,
        weight=weight,
        layer=laid.layer,
        set_by=laid.name,
        citation=amendment.citation if amendment.value else f"{before.citation}; weight: {amendment.citation}",
        known="stated" if amendment.value else before.known,
        looser=(not round_number and not quantity.meets(value.si, published_value.si, before.direction))
        or WEIGHTS.index(weight) > WEIGHTS.index(published_weight),
        published=published_value,
        published_weight=published_weight,
        place=amendment.place,
        reason=amendment.reason,
        replaced=before if before.layer != "published" else None,
    )


def read_amendments(path: Path, rules: Sequence[Rule]) -> Amendments:
    """Read one file of local amendments to the limits of ``rules``.

    Raises :class:`UnreadableError` with all problems: unknown keys, rules and limits (with the
    nearest known name), values of another unit or outside the sane range of the limit, a limit set twice.
    """
    problems = Problems()
    root = yaml_tree.load(files.read_text(path), str(path))
    data: Mapping[str, Any] = schema_gate.gate(root, schema_gate.schema_named("amendments"), problems)
    entries = root.get("amendments") if isinstance(root, Section) else None
    by_name = {rule.name: rule for rule in rules}
    seen: dict[tuple[str, str], Amendment] = {}
    for node in entries.items if isinstance(entries, Listing) else ():
        amendment = _amendment(node, by_name, problems) if isinstance(node, Section) else None
        if amendment is None:
            continue
        first = seen.setdefault((amendment.rule, amendment.limit), amendment)
        if first is not amendment:
            problems.add(
                amendment.place,
                f"{amendment.limit} of {amendment.rule} is set twice; first on line {first.place.line}",
                "keep one of the two",
            )
    problems.raise_if_any()
    only = data.get("show") is not None
    return Amendments(data["layer"], data["name"], tuple(seen.values()), only)


def _amendment(node: Section, rules: Mapping[str, Rule], problems: Problems) -> Amendment | None:
    """One entry, or None with its problems noted; keys that are missing or misspelled are the schema's to refuse."""
    said = {key: value for key, value in node.entries.items() if isinstance(value, Text) and not value.empty}
    if "rule" not in said or "limit" not in said:
        return None
    rule_name, limit_name = said["rule"], said["limit"]
    rule = rules.get(rule_name.text)
    if rule is None:
        near = most_like(rule_name.text, rules)
        write = f"{near}?" if near else "a rule of the rulebook"
        problems.add(rule_name.place, f'there is no rule "{rule_name.text}"', write)
        return None
    limit = next((one for one in rule.limits if one.name == limit_name.text), None)
    if limit is None:
        names = [one.name for one in rule.limits]
        near = most_like(limit_name.text, names)
        write = f"{near}?" if near else f"one of: {', '.join(names)}"
        problems.add(limit_name.place, f'{rule.name} has no limit "{limit_name.text}"', write)
        return None
    value = None
    if "value" in said and (value := _value(said["value"], limit, problems)) is None:
        return None
    return Amendment(
        rule=rule.name,
        limit=limit.name,
        citation=said["citation"].text if "citation" in said else "",
        value=value,
        weight=cast(Weight, said["weight"].text) if "weight" in said else None,
        reason=said["reason"].text if "reason" in said else "",
        place=node.place,
    )


def _value(typed: Text, limit: Limit, problems: Problems) -> Amount | None:
    """The value of an amendment, if it is of the limit's kind and inside its sane range."""
    try:
        value = quantity.read(typed.text, limit.kind, typed.place)
    except quantity.QuantityError as error:
        problems.add(typed.place, error.wrong, error.write)
        return None
    least, most = (quantity.read(text, limit.kind) for text in limit.sane)
    if not (quantity.meets(value.si, least.si, "least") and quantity.meets(value.si, most.si, "most")):
        problems.add(
            typed.place,
            f"{typed.text} cannot be meant for {limit.name} ({written(limit.meaning, None)})",
            f"between {limit.sane[0]} and {limit.sane[1]}; published is {limit.value}",
        )
        return None
    return value
