"""The plan in the open format that the name of a file asks for."""

from __future__ import annotations

from datetime import datetime

from slabwright.plan.plan import Plan


def drawn_as(plan: Plan, suffix: str) -> str:
    """The plan as GeoJSON, its surfaces as LandXML, or its stake points as CSV that says its unit.

    :raises UnreadableError: when the plan lacks what the format holds.
    """
    if suffix == ".geojson":
        from slabwright.exchange.geojson import as_geojson

        return as_geojson(plan)
    if suffix == ".xml":
        from slabwright.exchange.landxml import as_landxml

        return as_landxml(plan, datetime.now())
    from slabwright.sheets.stake import stake

    unit = "ft" if plan.system == "us" else "m"
    heading = f"point,northing ({unit}),easting ({unit}),height ({unit}),description\n"
    return heading + stake.point_rows(stake.stakes(plan))
