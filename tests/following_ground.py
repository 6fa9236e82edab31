"""Doing what the rules on base, dig, mix, order, pour and site say; see :mod:`following`."""

from __future__ import annotations

from typing import Any

import numpy as np
from following import Data, Follower, Said, _named, _unit, _xy, write_at
from slabwright.review.report import Comment


def by_limit(**ways: Follower) -> Follower:
    """The follower for the limit that is broken."""

    def follow(data: Data, comment: Comment, said: Said) -> None:
        ways[comment.limit.name](data, comment, said)

    return follow


def thicker_base(data: Data, comment: Comment, said: Said) -> None:
    """Make the base as thick as is said, in place of fill."""
    data["site"]["base"]["thickness"] = said.text("thick")


def tamped(data: Data, comment: Comment, said: Said) -> None:
    """Fill a trench back in layers, and write so."""
    assert "compacted: true" in comment.to_pass.template
    _named(data["site"]["trenches"], said.text("name"))["compacted"] = "true"


def mixed(data: Data, comment: Comment, said: Said) -> None:
    """Order another strength, more air or cement, or less water to the cement."""
    keys = [key for key in ("strength", "air", "cement") if f"_{key}_" in comment.limit.name]
    data["mix"][keys[0] if keys else "water_cement"] = said.text("write")


def earlier(data: Data, comment: Comment, said: Said) -> None:
    """Pour by the day said."""
    data["job"]["pour"] = said.text("by")


def another_spot(data: Data, comment: Comment, said: Said) -> None:
    """Let the truck stand at the place it did not reach."""
    data["order"]["truck_spots"].append(data["points"][said.text("name")])


def more_shots(data: Data, comment: Comment, said: Said) -> None:
    """Shoot as many more spots of the base, at heights between those there are."""
    shots = data["heights"]["base"]
    between = str(np.mean([float(one) for one in shots.values()]))
    corners = np.array([[float(v) for v in data["points"][name]] for name in shots])
    for k in range(round(said.si("more"))):
        name = f"new {k}"
        weights = np.array([1.0 + k, 2.0, 3.0])
        data["points"][name] = [str(v) for v in weights @ corners / weights.sum()]
        shots[name] = between


def other_weights(data: Data, comment: Comment, said: Said) -> None:
    """Write the weight in the bank, or a swell inside the range."""
    if "bank" in said.values:
        data["site"]["soil"]["bank_weight"] = said.text("bank")
    else:
        data["site"]["soil"]["swell"] = said.text("low")


def calmer(data: Data, comment: Comment, said: Said) -> None:
    """Break the wind, or mist the air."""
    weather = data["pour"]["weather"]
    if "wind" in said.values:
        weather["wind"] = said.text("wind")
    else:
        weather["humidity"] = said.text("humidity")


def booked_or_begun(data: Data, comment: Comment, said: Said) -> None:
    """Book until the hour said, or start at the hour said."""
    key = "until" if "until" in said.values else "start"
    data["pour"][key] = said.text(key)


def lid_set(data: Data, comment: Comment, said: Said) -> None:
    """Set a lid at the height said."""
    _named(data["fixtures"], said.text("lid"))["rim"] = _unit(data, "height", said.si("write"))


def line_lowered_or_sleeved(data: Data, comment: Comment, said: Said) -> None:
    """Lower a line, or run lines in sleeves."""
    if "write" in said.values:
        _named(data["site"]["buried"], said.text("name"))["depth"] = said.text("write")
        return
    for name in said.text("names").split(", "):
        _named(data["site"]["buried"], name)["sleeve"] = "true"


def _shifted(data: Data, run: list[Any], off: np.ndarray) -> list[list[str]]:
    return [[_unit(data, "plan", float(v)) for v in np.array(_xy(data, spot)) + off] for spot in run]


def _middle(data: Data) -> np.ndarray:
    return np.mean([_xy(data, corner) for corner in data["outline"]], axis=0)


def tree_farther(data: Data, comment: Comment, said: Said) -> None:
    """Draw the slab back from a tree: the same as the tree moved away."""
    tree = _named(data["site"]["trees"], said.text("tree"))
    out = np.array(_xy(data, tree["at"])) - _middle(data)
    assert min(abs(out)) < 1e-9  # straight beside the slab, so that all of the way counts
    (tree["at"],) = _shifted(data, [tree["at"]], out / np.hypot(*out) * said.si("off"))


def path_moved(data: Data, comment: Comment, said: Said) -> None:
    """Move the path of the truck away from a place."""
    site = data["site"]
    zone = np.mean([_xy(data, corner) for corner in _named(site["keep_off"], said.text("zone"))["corners"]], axis=0)
    one, two = (np.array(_xy(data, spot)) for spot in site["truck_path"])
    across = np.array([-(two - one)[1], (two - one)[0]]) / np.hypot(*(two - one))
    away = across if (one - zone) @ across > 0 else -across
    site["truck_path"] = _shifted(data, site["truck_path"], away * said.si("off"))


def line_off(data: Data, comment: Comment, said: Said) -> None:
    """Draw the slab back behind a lot line: the same as the line moved away."""
    line = _named(data["site"]["lot"]["lines"], said.text("line"))
    one, two = (np.array(_xy(data, spot)) for spot in line["along"])
    across = np.array([-(two - one)[1], (two - one)[0]]) / np.hypot(*(two - one))
    away = across if (one - _middle(data)) @ across > 0 else -across
    slot = "back" if "back" in said.values else "off"
    line["along"] = _shifted(data, line["along"], away * said.si(slot))


def less_paving(data: Data, comment: Comment, said: Said) -> None:
    """Leave paving out elsewhere on the lot."""
    lot = data["site"]["lot"]
    lot["covered"] = f"{float(lot['covered'].removesuffix(' ft2')) - said.si('less') / 0.3048**2:.6f} ft2"


def on_the_sheet(data: Data, comment: Comment, said: Said) -> None:
    """Add what is missing to the permit sheet."""
    for name in said.text("names").split(", "):
        section, _, key = name.partition(".")
        data[section][key] = "as the counter asks"


def rarer_use(data: Data, comment: Comment, said: Said) -> None:
    """Open it to somebody later."""
    data["pour"]["first_use"][said.text("what").split()[0]] = said.text("write")


FOLLOWERS: dict[str, tuple[Follower, ...]] = {
    "barrows-keep-up": (write_at("pour", "crew", slot="needed"),),
    "base-thickness": (write_at("site", "base", "thickness", slot="asked"),),
    "even-ground": (by_limit(fill_beside_cut_at_most=thicker_base, loose_trench_at_most=tamped),),
    "fill-depth": (
        by_limit(
            earth_at_most=thicker_base,
            granular_at_most=thicker_base,
            lift_at_most=write_at("site", "fill", "lift", slot="a"),
        ),
    ),
    "vapour-retarder": (
        by_limit(
            sheet_at_least=write_at("order", "retarder", "thickness"),
            newer_sheet_at_least=write_at("order", "retarder", "thickness"),
            lap_at_least=write_at("order", "retarder", "lap", slot="asked"),
        ),
    ),
    "air-in-trowelled-floor": (write_at("mix", "air"),),
    "chloride-with-steel": (write_at("mix", "chloride"),),
    "exposure-class": (mixed,),
    "frost-class": (mixed,),
    "first-winter": (earlier,),
    "slump-for-placing": (write_at("mix", "slump"),),
    "stone-through-hose": (write_at("mix", "aggregate"), write_at("order", "hose", slot="wider")),
    "sulfate-in-soil": (mixed,),
    "water-on-site": (write_at("mix", "slump"),),
    "base-shots": (more_shots,),
    "last-load": (write_at("order", "volume"),),
    "load-age": (by_limit(age_at_most=write_at("order", "truck", slot="load")),),
    "room-before-truck": (write_at("order", "volume"),),
    "truck-reach": (another_spot,),
    "base-ordered": (write_at("order", "base"),),
    "full-box": (write_at("dig", "box", slot="load"),),
    "soil-weights": (other_weights,),
    "cold-weather": (
        by_limit(
            air_at_least=write_at("pour", "weather", "low"),
            concrete_at_least=write_at("pour", "weather", "concrete"),
        ),
    ),
    "curing": (
        by_limit(
            coverage_at_most=write_at("pour", "curing", "rate"),
            bought_at_least=write_at("pour", "curing", "quantity"),
        ),
    ),
    "done-in-hours": (booked_or_begun,),
    "evaporation": (calmer,),
    "finish-on-slope": (
        by_limit(
            plain_broom_at_most=lambda data, comment, said: data["pour"].update(finish="coarse broom"),
            along_at_most=lambda data, comment, said: data["pour"].update(broom_direction="across"),
        ),
    ),
    "first-use": (rarer_use,),
    "hot-weather": (write_at("pour", "weather", "concrete"),),
    "buried-lines": (line_lowered_or_sleeved,),
    "lids-at-grade": (lid_set,),
    "locate-ticket": (write_at("site", "locate", "digging", slot="first"),),
    "lot-cover": (less_paving,),
    "lot-setback": (line_off,),
    "permit-sheet": (on_the_sheet,),
    "trees": (tree_farther,),
    "truck-path": (path_moved,),
}
