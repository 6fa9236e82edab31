"""The finish and the base as surfaces of a LandXML 1.2 file, for machines and survey programs."""

from __future__ import annotations

from datetime import datetime
from xml.etree import ElementTree

from slabwright.geometry.surface.facets import Surface
from slabwright.plan.plan import Plan
from slabwright.source.problem import refuse

NAMESPACE = "http://www.landxml.org/schema/LandXML-1.2"
FOOT = 0.3048
_US = {"linearUnit": "foot", "areaUnit": "squareFoot", "volumeUnit": "cubicYard", "temperatureUnit": "fahrenheit",
       "pressureUnit": "inHG"}  # fmt: skip
_METRIC = {"linearUnit": "meter", "areaUnit": "squareMeter", "volumeUnit": "cubicMeter", "temperatureUnit": "celsius",
           "pressureUnit": "HPA"}  # fmt: skip


def as_landxml(plan: Plan, now: datetime) -> str:
    """The surfaces as triangulated networks: points as northing, easting and height, faces by their points.

    Without shots on the base it is left out: it is not known where it lies.

    :raises UnreadableError: when there is no finish surface, with what it lacks.
    """
    finish = plan.finish.surface
    if finish is None:
        lacks = ", ".join(plan.finish.missing[:6]) or "every corner"
        refuse(plan.design.file, "there is no finish surface to write", f"heights under heights: finish at {lacks}")
    root = ElementTree.Element(
        "LandXML",
        {
            "xmlns": NAMESPACE,
            "version": "1.2",
            "date": f"{now:%Y-%m-%d}",
            "time": f"{now:%H:%M:%S}",
            "language": "English",
            "readOnly": "false",
        },
    )
    units = ElementTree.SubElement(root, "Units")
    ElementTree.SubElement(units, "Imperial" if plan.home == "us" else "Metric", _US if plan.home == "us" else _METRIC)
    ElementTree.SubElement(root, "Project", {"name": plan.design.job.name})
    ElementTree.SubElement(root, "Application", {"name": "slabwright"})
    surfaces = ElementTree.SubElement(root, "Surfaces", {"name": plan.design.job.name})
    size = FOOT if plan.home == "us" else 1.0
    for name, surface in (("finish", finish), ("base", plan.concrete.shot_surface)):
        if surface is not None:
            _add(surfaces, name, surface, size)
    ElementTree.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ElementTree.tostring(root, encoding="unicode") + "\n"


def _add(within: ElementTree.Element, name: str, surface: Surface, size: float) -> None:
    own = ElementTree.SubElement(within, "Surface", {"name": name, "desc": f"{name} of the slab"})
    definition = ElementTree.SubElement(own, "Definition", {"surfType": "TIN"})
    points = ElementTree.SubElement(definition, "Pnts")
    for number, ((x, y), z) in enumerate(zip(surface.mesh.xy.tolist(), surface.z.tolist(), strict=True), 1):
        point = ElementTree.SubElement(points, "P", {"id": str(number)})
        point.text = " ".join(f"{value / size + 0.0:.6f}" for value in (y, x, z))
    faces = ElementTree.SubElement(definition, "Faces")
    for triangle in surface.mesh.triangles.tolist():
        ElementTree.SubElement(faces, "F").text = " ".join(str(corner + 1) for corner in triangle)
