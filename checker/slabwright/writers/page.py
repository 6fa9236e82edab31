"""The review as one self-contained page: the plan with its callouts, and beside it every comment with its working.

The page loads nothing and says so in its content security policy: one script and one style sheet are let run, both
in the page itself and named there by their hash. Without the script it still reads, prints and leads from a comment
to its place; with it the way back, the layers and the size of the plan can be chosen.
"""

from __future__ import annotations

import base64
import hashlib

import markupsafe

from slabwright.drawing.svg.column import facts
from slabwright.drawing.svg.plan_svg import plan_drawn
from slabwright.drawing.svg.sheet import PAGE, style
from slabwright.named_tuple import NamedTuple
from slabwright.review.report import LOCAL_CODE, Report
from slabwright.source.clean import clean, writable
from slabwright.text.templates import environment
from slabwright.writers import page_parts
from slabwright.writers.page_plan import HAND, PLAN, for_hand, legend_samples, plan_element, plan_sizes
from slabwright.writers.sheet_words import besides, in_numbers, verdict

LAYERS = {
    "heights": "heights and falls",
    "water": "water",
    "joints": "joints",
    "steel": "steel",
    "dimensions": "dimensions",
    "names": "names",
    "callouts": "comments",
}
"""What can be hidden on the plan, and how the page calls it."""


class Built(NamedTuple):
    """What is told of a slab built within its tolerance: a map as SVG, rows with their labels, and a remark."""

    map: str
    rows: tuple[tuple[str, str], ...]
    remark: str


def page(report: Report, only: str = "", built: Built | None = None) -> str:
    """The whole page as HTML; ``only`` names the one group of rules that was looked at, if it was one.
    ``built`` adds what rain does on the slab built within its tolerance.

    ``report.drawing`` must be there. Everything from the design file is escaped.
    """
    templates = environment("slabwright.writers")
    drawn = plan_drawn(report, PLAN, PAGE)
    hand = for_hand(report, drawn)
    css = (
        style(f"#{PLAN}")
        + templates.get_template("review.css.j2").render(job=markupsafe.Markup(_in_css(report.job)))
        + plan_sizes(report, drawn, hand)
    )
    script = templates.get_template("review.js.j2").render()
    text = templates.get_template("review.html.j2").render(
        report=report,
        file=report.file.replace("\\", "/").rpartition("/")[2],
        only=only,
        job=report.drawing["job"] or {},
        verdict=verdict(report),
        besides=besides(report),
        in_numbers=in_numbers(report),
        facts=[(label, words) for label, words in facts(report, drawn.view) if words],
        parts=page_parts.parts(report),
        layers={name: called for name, called in LAYERS.items() if drawn.groups[name]},
        plan=markupsafe.Markup(plan_element(report, drawn) + (plan_element(report, hand, HAND) if hand else "")),
        built=built and {"map": markupsafe.Markup(built.map), "rows": built.rows, "remark": built.remark},
        legend=[(markupsafe.Markup(sample), words) for sample, words in legend_samples(drawn)],
        notes=drawn.notes,
        css=markupsafe.Markup(css),
        script=markupsafe.Markup(script),
        policy=f"default-src 'none'; script-src '{hash_of(script)}'; style-src '{hash_of(css)}'; img-src data:; "
        "base-uri 'none'; form-action 'none'",
        local_code=LOCAL_CODE,
    )
    return writable(text)


def _in_css(text: str) -> str:
    """Words as they stand in a quoted string of a style sheet: letters, figures and spaces as they are."""
    plain = (letter if letter.isalnum() or letter == " " else f"\\{ord(letter):06x}" for letter in clean(text))
    return "".join(plain)


def hash_of(text: str) -> str:
    """How a content security policy names a script or a style sheet by what is in it.

    >>> hash_of("")  # SHA-256 of nothing, FIPS 180-4
    'sha256-47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU='
    """
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
