"""A rule file, loaded."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from slabwright.rulebook.conclusion import Finding, Margin
from slabwright.rulebook.in_force import Cite, InForce, Limit
from slabwright.units.quantity import Amount

GROUPS: tuple[str, ...] = (
    "water", "heights", "thickness", "joints", "isolation", "steel", "base", "mix", "order", "dig", "pour", "site",
    "drawing",
)  # fmt: skip


class Worked(NamedTuple):
    """A published number this rule's arithmetic must reproduce.

    ``check`` is the id of an entry in ``tests/data/checks.yaml`` where there is one; ``ours``
    computes the value (SI) with the same formula the rule uses, ``printed`` is what the source prints.
    """

    what: str
    printed: Amount
    ours: Callable[[], float]
    within: float  # absolute, SI
    cite: Cite
    check: str = ""


class Rule(NamedTuple):
    """A rule file, loaded; made by the catalogue from the module and its path."""

    name: str
    group: str
    title: str
    page: Mapping[str, str]  # heading -> text of the docstring
    summary: str  # first line of the docstring
    limits: tuple[Limit, ...]
    worked: tuple[Worked, ...]
    judge: Callable[..., Iterator[Finding | Margin]]
    file: str
    own: bool = False  # from a firm's own rules folder
    each_pour: bool = False  # of several pours it judges each by its own day and area
    in_force: Mapping[str, InForce] = MappingProxyType({})  # the published limits, read and cited
