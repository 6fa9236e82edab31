"""Whether a file has the structure that its schema asks for."""

from __future__ import annotations

from typing import Any

import jsonschema_rs

from slabwright.design.schema_shape import Schema
from slabwright.source.node import Node
from slabwright.source.problem import Problems

_QUICK: dict[int, tuple[Schema, jsonschema_rs.Draft202012Validator]] = {}


def check(plain: Any, node: Node, schema: Schema, problems: Problems, most: int) -> None:
    """Add a problem for everything ``schema`` refuses in ``plain``, up to ``most`` problems in all."""
    quick = _QUICK.get(id(schema))
    if quick is None or quick[0] is not schema:
        quick = _QUICK[id(schema)] = (schema, jsonschema_rs.Draft202012Validator(dict(schema)))
    if quick[1].is_valid(plain):  # a hundred times as fast as finding out what is wrong
        return
    from jsonschema import Draft202012Validator  # 50 ms: only where something is refused

    from slabwright.design.schema_trouble import Teller  # 3 ms

    teller = Teller(node, schema, problems, most)
    for error in Draft202012Validator(schema).iter_errors(plain):
        teller.tell(error)
        if len(problems) >= most:
            return
