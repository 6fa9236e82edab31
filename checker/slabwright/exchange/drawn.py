"""The plan in the open format that the name of a file asks for."""

from __future__ import annotations

from datetime import datetime

from slabwright.exchange.geojson import as_geojson
from slabwright.exchange.landxml import as_landxml
from slabwright.plan.plan import Plan


def drawn_as(plan: Plan, suffix: str) -> str:
    """The plan as GeoJSON, or its surfaces as LandXML.

    :raises UnreadableError: when the plan lacks what the format holds.
    """
    if suffix == ".geojson":
        return as_geojson(plan)
    return as_landxml(plan, datetime.now())
