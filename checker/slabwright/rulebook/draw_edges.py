"""Remedies that make edges of the slab deeper."""

from __future__ import annotations

from collections.abc import Sequence

from slabwright.geometry.xy import XY
from slabwright.plan.edges import EdgePiece
from slabwright.plan.plan import Plan
from slabwright.rulebook.remedy import Remedy, Write, append
from slabwright.text.words import Value, Words
from slabwright.units.quantity import Amount


def thicken_edge(
    plan: Plan, pieces: Sequence[EdgePiece], deep: Amount, taper: Amount, says: Words, width: Amount | None = None
) -> Remedy:
    """Make an edge, its ``pieces`` in order, ``deep``, as wide as ``width``, and bring it back over ``taper``.

    A thickened edge of the file that lies along it is made deeper, with a taper no shorter than it has; where there is
    none, one is added.
    """
    run = pieces[0].edge.run if pieces[0].edge else ()
    for there in plan.design.thickness.thickened_edges:
        if there.run in (run, run[::-1]):
            path = there.place.path
            back = () if there.taper.si >= taper.si else (Write(f"{path}.taper", taper),)
            across = (Write(f"{path}.width", width),) if width else ()
            return Remedy(says, (Write(f"{path}.depth", deep), *across, *back))
    ends = tuple(_corner(plan, end) for end in (pieces[0].line[0], *(piece.line[-1] for piece in pieces)))
    wide: dict[str, Value] = {"width": width} if width else {}
    return append("thickness.thickened_edges", {"run": ends, "depth": deep, **wide, "taper": taper}, says)


def _corner(plan: Plan, at: XY) -> str:
    """A point of a run: its name, or its numbers in the unit of the plan."""
    name = plan.shape.name_at(at)
    if name in plan.design.points:
        return name
    size = {"ft": 0.3048, "in": 0.0254, "m": 1.0, "cm": 0.01, "mm": 0.001}[plan.design.plan_unit]
    return f"[{at[0] / size:.4f}, {at[1] / size:.4f}]"
