"""Safety cautions a review carries, chosen by what the design holds, each with its source."""

from __future__ import annotations

from slabwright.design.heights import Heights
from slabwright.design.model import Design
from slabwright.formulas.ordering import loaded_truck
from slabwright.rulebook.limits import published_sources
from slabwright.text.words import told
from slabwright.units.quantity import System, in_both, is_alone

_SKIN = (
    "Wet concrete burns skin (pH 12 to 13): waterproof boots, gloves and eye protection; change soaked clothes.",
    "trade-safety-article",
)
_WASHOUT = (
    "Wash out into a lined, signed containment of the right size, nothing to drains, street or ground; empty it "
    "when it is three quarters full.",
    "denver-mm-3",
)
_SILICA = (
    "Sawing makes silica dust: water feed on every saw; with a hand-held saw outdoors a mask after 4 hours a shift, "
    "indoors always.",
    "osha-1926.1153",
)
_BARS = ("Guard every bar and stake that someone could fall on, at any height and pointing any way.", "osha-1926.701")
_LOCATE = (
    "Have buried lines located 2 to 3 business days before digging, and dig by hand within "
    "{18 to 24 in|460 to 610 mm} of the marks.",
    "one-call-laws",
)
_PRIVATE_LINES = (
    "The free locate does not mark private lines: ask for irrigation, yard gas, pool and septic lines.",
    "common-practice",
)
_DEEP = (
    "A cut of {5 ft|1.5 m} or more needs protection against caving in, and from {4 ft|1.2 m} a ladder; "
    "keep spoil {2 ft|0.6 m} back.",
    "osha-1926.651",
)
_TRUCK = (
    "A full mixer of {10 yd3|7.6 m3} weighs about {67,500 to 70,500 lb|30.6 to 32.0 t}: keep "
    "it off septic tanks, walks and slabs not made for it.",
    "common-practice",
)

# What to look up in place of a rule that holds in one country only, by its key among the sources.
YOURS = {
    "osha-1926.1153": "your safety authority's silica rule",
    "osha-1926.701": "your safety authority's rule on bar ends",
    "osha-1926.651": "your safety authority's rule on excavations",
    "one-call-laws": "your law on buried lines",
}

DEEP_CUT = 1.2  # m; where the source asks for a ladder


def cautions(design: Design) -> tuple[str, ...]:
    """The cautions for a design, one sentence or two each, the source in square brackets at the end."""
    chosen = [_SKIN, _WASHOUT]
    if any(joint.kind in ("saw cut", "early saw cut") for joint in design.joints):
        chosen.append(_SILICA)
    every = (design.reinforcement, *(part.reinforcement for part in design.parts))
    if any(steel is not None and (steel.bars or steel.corner_bars) for steel in every):
        chosen.append(_BARS)
    if design.heights.existing or design.site.base is not None or design.thickness.thickened_edges:
        chosen += [_LOCATE, _PRIVATE_LINES]
    if _deepest_cut(design.heights) >= DEEP_CUT:
        chosen.append(_DEEP)
    if design.order is not None:
        chosen.append(_truck(design))
    system = None if in_both(design.system) else design.system
    return tuple(f"{told(text, system)} [{source(key, design.system)}]" for text, key in chosen)


def _truck(design: Design) -> tuple[str, str]:
    """What a full mixer weighs: the one of the file on a metric job, else the usual one."""
    own = design.order.truck if design.order else None
    if own is None or "us" in (design.system, design.home):
        return _TRUCK
    low, high = (kilograms / 1000 for kilograms in loaded_truck(own.si))
    weighs = f"A full mixer of {own.typed} weighs about {low:.0f} to {high:.0f} t"
    return f"{weighs}: keep it off septic tanks, walks and slabs not made for it.", _TRUCK[1]


def source(key: str, system: System) -> str:
    """The source of a caution; where metric is shown alone, a rule of one country is not told by its number.

    What it asks stays as it stands in the rule it was read in, and the reader is sent to the one that governs.
    """
    sources = published_sources()
    if is_alone(system) and key in YOURS:
        return f"another country's rule ({sources.source(key).known}); {YOURS[key]} governs"
    return sources.cite(key)


def _deepest_cut(heights: Heights) -> float:
    """Greatest drop from existing ground to the prepared base where both were shot at the same point, m."""
    base = {(spot.at.x, spot.at.y): spot.height.si for spot in heights.base}
    cuts = [spot.height.si - base[at] for spot in heights.existing if (at := (spot.at.x, spot.at.y)) in base]
    return max(cuts, default=0.0)
