"""Limits: as rules declare them, and as they are in force after all layers."""

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Literal, NamedTuple

from slabwright.formulas.mix import whole_megapascals
from slabwright.source.place import Place
from slabwright.units.quantity import Amount, Kind, System, meets, roundest

Weight = Literal["hold", "caution", "note"]
Layer = Literal["published", "own rule", "region", "town", "firm", "job"]
Direction = Literal["least", "most"]
WEIGHTS: tuple[Weight, ...] = ("hold", "caution", "note")
LAYERS: tuple[Layer, ...] = ("published", "own rule", "region", "town", "firm", "job")  # each lies over those before
SIZES = (Kind.LENGTH, Kind.DEPTH, Kind.AREA, Kind.VOLUME)
FINEST, FINE = 0.001, 0.008  # m, m2, m3: between them whole millimeters are round enough
NEAR = 0.02  # an inch is 25 mm to metric trades, within 1.6 %
HARDLY = 0.01  # as a least, a rounded limit asks for no more than this beyond: 89 mm meet 3 1/2 in
SMALL = 0.022  # m: 3/8 in is 10 mm to them, and 3/4 in 20 mm
TWENTIETH = 0.05  # no round number is further off


class Cite(NamedTuple):
    """A source by its key in ``rules/sources.yaml``, and where in it."""

    source: str
    where: str = ""


class Limit(NamedTuple):
    """A number a rule compares with: value, unit, direction, sane range, weight and source in one declaration.

    ``name`` ends in ``_at_least`` or ``_at_most``; ``value`` and both ends of ``sane`` are written
    as the trade writes them (``"1/4 in/ft"``, ``"30"`` for a ratio). ``meaning`` says in a few words what it is.
    """

    name: str
    value: str
    kind: Kind
    weight: Weight
    cite: Cite
    sane: tuple[str, str]
    meaning: str

    @property
    def direction(self) -> Direction:
        """``"least"`` or ``"most"``, from the name."""
        return "least" if self.name.endswith("_at_least") else "most"


class InForce(NamedTuple):
    """A limit after all layers: what rules compare with and what writers print beside it."""

    name: str
    value: Amount
    direction: Direction
    weight: Weight
    meaning: str
    layer: Layer
    set_by: str  # "published", the firm's own rule, or the name of the amendments
    citation: str  # printed source, with how it is known
    known: str  # read | quoted | recalled | practice | derived | stated (by amendments)
    looser: bool = False  # asks less than the published limit, or weighs less
    published: Amount | None = None  # the published value, where another layer changed it
    place: Place | None = None  # in the amendments file
    published_weight: Weight | None = None  # the published weight, where another layer changed it
    reason: str = ""  # as the amendments give it
    replaced: "InForce | None" = None  # what other amendments, or a firm's own rule, had set before these
    own: bool = False  # of a firm's own rule, which nobody published

    def slack(self, shown: Amount, asked: Amount) -> float:
        """How far inside ``asked`` a value lies, as a share of it (of the span 1 where it is 0); below zero outside."""
        gap = shown.si - asked.si if self.direction == "least" else asked.si - shown.si
        return gap / abs(asked.si) if asked.si else gap

    @property
    def amended(self) -> bool:
        """Whether local amendments set it, and not the rule itself."""
        return self.layer not in ("published", "own rule")

    @property
    def in_round_numbers(self) -> "InForce":
        """A published limit of feet or inches in the round metric number next to it: 18 ft becomes 5.5 m.

        No form is set, and nothing is bought, to 1.219 m. As a least, it asks for hardly more. A strength becomes the
        whole megapascals in it.
        """
        if self.layer != "published" or not self.value.si:
            return self
        if self.value.kind is Kind.STRESS and self.direction == "least":
            whole = whole_megapascals(self.value.si)
            return self if meets(whole, self.value.si, "least") else self._replace(value=Amount(whole, Kind.STRESS))
        if self.value.kind not in SIZES or FINEST < self.value.si < FINE:
            return self
        near = TWENTIETH if self.value.kind is Kind.DEPTH and self.value.si < SMALL else NEAR
        size = roundest(self.value.si, near)
        if self.direction == "least" and size > self.value.si:
            size = roundest(self.value.si, HARDLY)
        return self._replace(value=Amount(size, self.value.kind))

    @property
    def stated(self) -> str:
        """What the value is called that the rule itself states."""
        return "own rule" if self.own else "published"

    def met(self, value: Amount | float) -> bool:
        """Whether ``value`` (SI) keeps the limit, within the one shared tolerance."""
        si = value.si if isinstance(value, Amount) else value
        return meets(si, self.value.si, self.direction)


class Limits(Mapping[str, InForce]):
    """The limits in force for one rule, by name; ``limits.aspect_at_most`` reads as well as ``limits["..."]``."""

    def __init__(self, by_name: Mapping[str, InForce]) -> None:
        self._by_name = dict(by_name)
        self.__dict__.update(self._by_name)  # found at once, without asking __getattr__
        self.amended = tuple(limit for limit in self._by_name.values() if limit.amended)

    def __getitem__(self, name: str) -> InForce:
        return self._by_name[name]

    def __getattr__(self, name: str) -> InForce:
        raise AttributeError(f"no limit named {name!r}")

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_name)

    def __len__(self) -> int:
        return len(self._by_name)

    def held_to(self, home: System) -> "Limits":
        """These limits as a job drawn in a system is held to them: in metric, published sizes become round."""
        return self._in_round_numbers if home == "metric" else self

    @cached_property
    def _in_round_numbers(self) -> "Limits":
        return Limits({name: limit.in_round_numbers for name, limit in self._by_name.items()})

    def includes(self, limit: InForce) -> bool:
        """Whether ``limit`` is one of these, and not only like one."""
        return self._by_name.get(limit.name) is limit

    def broken(self, value: Amount | float, *names: str) -> InForce | None:
        """The heaviest of ``names`` that ``value`` does not keep (the first named of equals), or None if it keeps all.

        Weights are those in force: amendments may have changed which of two limits weighs more.
        """
        not_kept = [limit for limit in map(self._by_name.__getitem__, names) if not limit.met(value)]
        return min(not_kept, key=lambda limit: WEIGHTS.index(limit.weight)) if not_kept else None
