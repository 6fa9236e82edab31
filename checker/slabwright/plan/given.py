"""What a rule asks of the design, and how a rule ends where it has nothing to judge.

Both endings are exceptions below ``BaseException``: a rule cannot catch them by accident, and only the engine does.
"""

from __future__ import annotations

from functools import cache
from typing import Any, NoReturn

from slabwright.design.model import Design
from slabwright.design.schema_gate import schema_named
from slabwright.source.place import Place


def not_shown(*add: str, place: Place | None = None) -> NoReturn:
    """End the rule: the file lacks what it needs; name each thing to add as ``"key: what it is, such as value"``."""
    raise NotShown(tuple(add), place or Place(""))


class RuleEnds(BaseException):
    """A rule has nothing to judge."""


class DoesNotApply(RuleEnds):
    """Nothing on this plan for the rule to judge, and why."""

    def __init__(self, reason: str) -> None:
        super().__init__(reason)
        self.reason = reason


class NotShown(RuleEnds):
    """The file does not say enough; ``add`` names what to write, ``place`` where it belongs."""

    def __init__(self, add: tuple[str, ...], place: Place) -> None:
        super().__init__(*add)
        self.add, self.place = add, place


def does_not_apply(reason: str) -> NoReturn:
    """End the rule: there is nothing to judge; ``reason`` is a clause ("no joints are drawn")."""
    raise DoesNotApply(reason)


def value_at(design: Design, path: str) -> Any:
    """The value of a design at a key path such as ``mix.aggregate``; None where the file does not give it."""
    value: Any = design
    for key in path.split("."):
        value = getattr(value, key) if value is not None else None
    return value


@cache
def asked_for(path: str) -> str:
    """How the schema describes the value at a key path, with an example in each unit system.

    >>> asked_for("mix.aggregate")
    'mix.aggregate: size of the largest stone, such as {3/4 in|20 mm}'

    Raises KeyError for a path that no design has.
    """
    schema: Any = schema_named("design")
    root, node = schema, schema
    for key in path.split("."):
        node = _with_keys(root, node)["properties"][key]
    node = {**_followed(root, node), **{k: v for k, v in node.items() if k != "$ref"}}
    first = str(node["description"]).partition(". ")[0].rstrip(".")
    asks = str(node.get("asked", first[:1].lower() + first[1:]))
    return f"{path}: {asks}, such as {_example(node)}"


def _with_keys(root: Any, node: Any) -> Any:
    """A section: of several forms it may have, such as steel or none, the one with keys."""
    node = _followed(root, node)
    return next((one for one in (_followed(root, one) for one in node.get("anyOf", ())) if "properties" in one), node)


def _followed(root: Any, node: Any) -> Any:
    while "$ref" in node:
        target = root
        for step in node["$ref"].removeprefix("#/").split("/"):
            target = target[step]
        node = target
    return node


def _example(node: Any) -> str:
    """The examples of a value: one for each system where there are two of them with units."""
    examples = [str(one).lower() if isinstance(one, bool) else str(one) for one in node["examples"]]
    if len(examples) > 1 and (node.get("quantity") or node.get("grammar") == "board"):
        return f"{{{examples[0]}|{examples[1]}}}"
    return examples[0]
