"""``draw``: the plan of one design, or a section through it, as a drawing or in an open format."""

from __future__ import annotations

import argparse
from datetime import datetime
from pathlib import Path

from slabwright.cli.asked import begun
from slabwright.drawing import content, section
from slabwright.drawing.section import line_of
from slabwright.drawing.svg.pdf import NoPdfError, pdf
from slabwright.drawing.svg.plan_svg import plan_svg
from slabwright.drawing.svg.section_svg import section_svg
from slabwright.exchange.geojson import as_geojson
from slabwright.exchange.landxml import as_landxml
from slabwright.plan.plan import Plan
from slabwright.review import run
from slabwright.review.likewise import as_one
from slabwright.sheets.stake.staked import stakes
from slabwright.source.files import STANDARD
from slabwright.source.problem import refuse
from slabwright.text.outputs import keep, put_data, wrote

FINE = 0
OPEN_FORMATS = (".geojson", ".xml")


def draw(arguments: argparse.Namespace) -> int:
    """Draw the plan of one design, or a section through it, with the comments of its review."""
    out = Path(arguments.out) if arguments.out else None
    kind = out.suffix.lower() if out is not None and arguments.out != STANDARD else ".svg"
    if kind not in (".svg", ".pdf", *OPEN_FORMATS):
        wrong = "a drawing is an SVG or a PDF file, or GeoJSON, or LandXML (.xml)"
        refuse(str(out), wrong, f"--out {Path(arguments.out).with_suffix('.svg').name}")
    if kind in OPEN_FORMATS and arguments.section:
        refuse(str(out), "a section is drawn as SVG or PDF alone", "--out with the name of a .svg file")
    if arguments.section and (arguments.mark or arguments.pins):
        refuse("--section", "marks and pins are drawn on the plan", "--mark or --pins without --section")
    one = begun(arguments, for_people=kind not in OPEN_FORMATS)
    plan = one.plan
    if out is not None and kind in OPEN_FORMATS:
        keep(out, as_geojson(plan) if kind == ".geojson" else as_landxml(plan, datetime.now()), "--out")
        wrote(out)
        return FINE
    report = as_one(run.review(plan, *one.in_force(), one.questions), plan.design)
    report = content.drawn(report, plan)
    if arguments.section:
        along = line_of(plan.design, arguments.section)
        report = report._replace(drawing={**report.drawing, "section": section.section(plan, *along)})
        text = section_svg(report)
    else:
        text = plan_svg(report._replace(drawing={**report.drawing, **_marks(arguments, plan)}))
    if out is None:
        put_data(text)
        return FINE
    keep(out, _as_pdf(text, out) if kind == ".pdf" else text, "--out")
    wrote(out)
    return FINE


def _marks(arguments: argparse.Namespace, plan: Plan) -> dict[str, list[dict[str, object]]]:
    """What is drawn on the plan for other sheets: marks of sections, and pins of the stake sheet."""
    lines = [line_of(plan.design, words) for words in arguments.mark]
    pins = stakes(plan).pins if arguments.pins else ()
    return {
        "sections": [{"title": title, "line": [[*start], [*end]]} for start, end, title in lines],
        "pins": [{"number": pin.number, "at": [*pin.at]} for pin in pins],
    }


def _as_pdf(svg: str, out: Path) -> bytes:
    try:
        return pdf(svg)
    except NoPdfError as error:
        write = f"pip install 'slabwright[pdf]', or --out {out.with_suffix('.svg').name}"
        refuse(str(out), f"a PDF needs cairosvg and the library cairo: {error}", write)
