"""The plan as one SVG drawing to scale: a sheet a foreman can pin to the form, or a page can hold.

The file refers to nothing outside itself and holds no script. Its parts are groups with an id and a
``data-layer`` of the same name, so that a page can show and hide them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import shapely

from slabwright.report import Report
from slabwright.writers import svg_callouts, svg_column, svg_heights, svg_lines, svg_names, svg_steel
from slabwright.writers.svg_column import Entry
from slabwright.writers.svg_dimensions import dimensions
from slabwright.writers.svg_labels import Lettering
from slabwright.writers.svg_place import Room
from slabwright.writers.svg_sheet import View, fit, patterns, style
from slabwright.writers.svg_text import number

Data = Mapping[str, Any]

LAYERS = (
    "concrete", "water", "heights", "steel", "joints", "edges", "fixtures", "dimensions", "names", "callouts", "sheet",
)  # fmt: skip
"""Groups of the drawing from below to above; the id of each is ``<ids>-<layer>``."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A plan before it is put on a sheet; the group ``sheet`` holds the north arrow only, where there is one."""

    view: View
    room: Room
    groups: Mapping[str, str]  # by layer, from below to above
    legend: tuple[Entry, ...]
    notes: tuple[str, ...]


def plan_svg(report: Report, ids: str = "plan") -> str:
    """The plan of a reviewed design; ``ids`` begins every id, for pages with several drawings.

    Every callout is a ``<g class="callout" data-comment="N">`` with the shape of what the comment speaks of.
    """
    drawn = plan_drawn(report, ids)
    view = drawn.view
    column = "".join(svg_column.column(report, view, drawn.legend, drawn.notes, "slab plan"))
    layers = {**drawn.groups, "sheet": drawn.groups["sheet"] + column}
    width, tall = number(view.sheet.width), number(view.sheet.height)
    groups = (f'<g id="{ids}-{name}" data-layer="{name}">{inner}</g>' for name, inner in layers.items())
    scope = f"#{ids}"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id="{ids}" class="slab-plan" role="img" '
        f'width="{width}mm" height="{tall}mm" viewBox="0 0 {width} {tall}" data-scale="{view.denominator}">'
        f"<title>{svg_column.described(report)}</title><style>{style(scope)}</style><defs>{patterns(ids)}</defs>"
        f'<rect class="paper" width="{width}" height="{tall}"/>' + "\n".join(groups) + "</svg>\n"
    )


def sheet_for(report: Report) -> View:
    """The sheet and the scale a plan is drawn on."""
    drawing = report.drawing
    shape = shapely.LineString(drawing["outline"])
    x0, y0, x1, y1 = shape.bounds
    things = sum(len(drawing[part]) for part in ("panels", "spots", "joints", "fixtures")) + len(report.comments)
    area = float(shapely.Polygon(drawing["outline"]).area)
    return fit((x0, y0), (x1, y1), report.system, things, area)


def plan_drawn(report: Report, ids: str) -> Drawn:
    """Every layer drawn, words after lines so that they keep clear of them."""
    view = sheet_for(report)
    drawing, room = report.drawing, view.room()
    layers: dict[str, list[str]] = {name: [] for name in LAYERS}
    layers["sheet"] += svg_column.north_arrow(report, view, room)
    layers["concrete"] += [*svg_lines.concrete(drawing, view), *svg_lines.panels(drawing, view)]
    layers["edges"] += svg_lines.edges(drawing, view, room, ids)
    layers["edges"] += svg_lines.outline(drawing, view, room)
    layers["edges"] += [*svg_lines.isolation(drawing, view, room), *svg_lines.thickened(drawing, view, room)]
    layers["joints"] += svg_lines.joints(drawing, view, room)
    layers["water"] += [*svg_lines.water(drawing, view, ids), *svg_lines.trails(drawing, view, room)]
    layers["heights"] += svg_lines.contours(drawing, view, room)
    layers["fixtures"] += svg_lines.fixtures(drawing, view, room)
    dimensioned, missing = dimensions(drawing, view, room, report.system)
    layers["dimensions"] += dimensioned
    on = Lettering(drawing, view, room, report.system)
    if missing:
        on.left_out["dimensions"] = missing
    layers["heights"] += svg_heights.spot_heights(on)
    layers["heights"] += svg_heights.falls(on)
    layers["steel"] += svg_steel.steel(drawing, view, room)
    layers["joints"] += svg_names.joint_names(on)
    layers["names"] += svg_names.opening_names(on)
    layers["callouts"] += svg_callouts.callouts(on, report.comments)
    layers["heights"] += svg_heights.fixed_heights(on)
    layers["fixtures"] += svg_names.fixture_names(on)
    layers["names"] += svg_names.edge_names(on)
    layers["water"] += svg_names.pond_names(on)
    layers["names"] += svg_names.panel_names(on)
    layers["heights"] += [*svg_heights.fold_names(on), *svg_heights.contour_heights(on)]
    groups = {name: "".join(layers[name]) for name in LAYERS}
    return Drawn(view, room, groups, tuple(svg_column.legend(report, ids, on.left_out)), tuple(_notes(report, on)))


def _notes(report: Report, on: Lettering) -> list[str]:
    """Notes under the legend: steel, and what found no room."""
    steel = report.drawing["steel"]
    words = svg_names.steel_note(steel, report.system) if steel else ""
    not_drawn = ", ".join(report.drawing["not_drawn"])
    off = ", ".join(str(comment.number) for comment in report.comments if not comment.at.shape)
    return [
        note
        for note in (
            f"Steel: {words}." if words else "",
            f"Comments with no place on the plan: {off}." if off else "",
            svg_column.note_of(on.left_out),
            f"Could not be drawn: {not_drawn}." if not_drawn else "",
        )
        if note
    ]
