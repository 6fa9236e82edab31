"""The plan as one SVG drawing to scale: a sheet a foreman can pin to the form, or a page can hold.

The file refers to nothing outside itself and holds no script. Its parts are groups with an id and a
``data-layer`` of the same name, so that a page can show and hide them.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from slabwright.drawing.svg import callouts, column, heights, lines, marks, names, steel
from slabwright.drawing.svg.column import Entry
from slabwright.drawing.svg.dimensions import dimensions
from slabwright.drawing.svg.labels import Lettering
from slabwright.drawing.svg.place import Room
from slabwright.drawing.svg.sheet import Sheet, View, fit, on_sheet, patterns
from slabwright.review.report import Report

Data = Mapping[str, Any]

LAYERS = (
    "concrete", "water", "heights", "steel", "joints", "edges", "fixtures", "dimensions", "names", "sections", "pins",
    "callouts", "sheet",
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


IDS = "plan"  # begins every id of a sheet by itself


def plan_svg(report: Report) -> str:
    """The plan of a reviewed design on a sheet by itself.

    Every callout is a ``<g class="callout" data-comment="N">`` with the shape of what the comment speaks of.
    """
    drawn = plan_drawn(report, IDS)
    beside = "".join(column.column(report, drawn.view, drawn.legend, drawn.notes, "slab plan"))
    layers = {**drawn.groups, "sheet": drawn.groups["sheet"] + beside}
    return on_sheet(drawn.view, IDS, column.described(report), patterns(IDS), layers)


def sheet_for(report: Report, sheets: Sequence[Sheet] | None = None) -> View:
    """The sheet and the scale a plan is drawn on: one of ``sheets``, or of the standard ones."""
    drawing = report.drawing
    shape = shapely.LineString(drawing["outline"])
    x0, y0, x1, y1 = shape.bounds
    things = sum(len(drawing[part]) for part in ("panels", "spots", "joints", "fixtures")) + len(report.comments)
    area = float(shapely.Polygon(drawing["outline"]).area)
    return fit((x0, y0), (x1, y1), report.system, things, area, sheets)


def plan_drawn(report: Report, ids: str, sheet: Sheet | None = None) -> Drawn:
    """Every layer drawn, words after lines so that they keep clear of them; on ``sheet``, or on a standard one.

    ``ids`` begins every id, for pages with several drawings.
    """
    view = sheet_for(report, (sheet,) if sheet else None)
    drawing, room = report.drawing, view.room()
    layers: dict[str, list[str]] = {name: [] for name in LAYERS}
    layers["sheet"] += column.north_arrow(report, view, room)
    layers["concrete"] += [*lines.concrete(drawing, view), *lines.panels(drawing, view)]
    layers["concrete"] += lines.stalls(drawing, view, ids)
    layers["edges"] += lines.edges(drawing, view, room, ids)
    layers["edges"] += lines.outline(drawing, view, room)
    layers["edges"] += [*lines.isolation(drawing, view, room), *lines.thickened(drawing, view, room)]
    layers["edges"] += lines.areas(drawing, view, room)
    layers["edges"] += lines.pours(drawing, view, room)
    layers["joints"] += lines.joints(drawing, view, room)
    layers["water"] += [*lines.water(drawing, view, ids), *lines.trails(drawing, view, room)]
    layers["heights"] += lines.contours(drawing, view, room)
    layers["fixtures"] += [*lines.steps(drawing, view, room), *lines.fixtures(drawing, view, room)]
    dimensioned, missing = dimensions(drawing, view, room, report.system)
    layers["dimensions"] += dimensioned
    on = Lettering(drawing, view, room, report.system)
    if missing:
        on.left_out["dimensions"] = missing
    layers["sections"] += marks.section_marks(on)
    layers["pins"] += marks.pins(on)
    layers["heights"] += heights.spot_heights(on)
    layers["heights"] += heights.falls(on)
    layers["steel"] += steel.steel(drawing, view, room)
    layers["joints"] += names.joint_names(on)
    layers["names"] += [*names.opening_names(on), *names.stall_names(on), *names.area_names(on)]
    layers["names"] += names.pour_names(on)
    layers["callouts"] += callouts.callouts(on, report.comments)
    layers["heights"] += heights.fixed_heights(on)
    layers["fixtures"] += [*names.fixture_names(on), *names.steps_names(on)]
    layers["names"] += names.edge_names(on)
    layers["water"] += names.pond_names(on)
    layers["names"] += names.panel_names(on)
    layers["heights"] += [*heights.fold_names(on), *heights.contour_heights(on)]
    groups = {name: "".join(layers[name]) for name in LAYERS}
    return Drawn(view, room, groups, tuple(column.legend(report, ids)), tuple(_notes(report, on)))


def _notes(report: Report, on: Lettering) -> list[str]:
    """Notes under the legend: steel, and what found no room."""
    steel = report.drawing["steel"]
    words = names.steel_note(steel, report.system) if steel else ""
    own = any(area["steel"] for area in report.drawing["areas"])
    not_drawn = ", ".join(report.drawing["not_drawn"])
    off = ", ".join(str(comment.number) for comment in report.comments if not comment.at.shape)
    return [
        note
        for note in (
            f"Steel{' of what is no part with its own' if own else ''}: {words}." if words else "",
            f"Comments with no place on the plan: {off}." if off else "",
            column.note_of(on.left_out),
            f"Could not be drawn: {not_drawn}." if not_drawn else "",
        )
        if note
    ]
